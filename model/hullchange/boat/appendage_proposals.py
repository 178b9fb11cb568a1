"""Keels, skegs and rudders to begin from, as a document would have them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import count

from hullchange.boat.hull import hull_from, hull_input
from hullchange.document.below import DocumentAppendage
from hullchange.document.document import Document
from hullchange.hull.appendages import AppendageInput
from hullchange.proposals.appendages import APPENDAGE_KINDS, proposed_appendage


@dataclass(frozen=True)
class AppendageStart:
    """What a kind of appendage can be begun from.

    Attributes:
        kind: a key of `APPENDAGE_KINDS`.
        title: what it is called.
        appendages: by names that the document does not have.
        sentence: how it was chosen, or why it has no place.
        fits: whether it can be put in.
    """

    kind: str
    title: str
    appendages: Mapping[str, DocumentAppendage]
    sentence: str
    fits: bool


def proposed_appendages(
    document: Document, kinds: Iterable[str] = tuple(APPENDAGE_KINDS)
) -> tuple[AppendageStart, ...]:
    """What is proposed under a hull beside what she has, one answer for each kind.

    Args:
        document: the refit.
        kinds: of appendage.

    Raises:
        ModelError: ``unknown-kind``; as ``hull_from``.
    """
    hull, beside = hull_from(document).bare, hull_input(document.hull).appendages
    found = []
    for kind in kinds:
        one = proposed_appendage(kind, hull, beside)
        laid = {_free(new.name, document): _written(new) for new in one.given}
        title = APPENDAGE_KINDS[kind][0]
        found.append(AppendageStart(kind, title, laid, one.sentence, one.fits))
    return tuple(found)


def _free(word: str, document: Document) -> str:
    names = (word if number == 1 else f"{word}-{number}" for number in count(1))
    return next(name for name in names if name not in document.hull.appendages)


def _written(new: AppendageInput) -> DocumentAppendage:
    return DocumentAppendage(
        outline_m=new.outline,
        half_thickness_m=new.half_thickness,
        nose=new.nose,
        at_y_m=new.at_y,
        cant_deg=new.cant,
        pair=new.pair,
    )
