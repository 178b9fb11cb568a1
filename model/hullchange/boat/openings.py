"""Openings of a boat: where their edges are."""

from collections.abc import Iterator, Mapping

import numpy as np

from hullchange.answer.wire import Stage
from hullchange.boat.proposals import ground_under
from hullchange.boat.values import number_at
from hullchange.document.document import Document
from hullchange.document.items import DocumentOpening
from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.parts.house_shape import SIDE_HEIGHTS, side_height
from hullchange.parts.parameters import Deckhouse


def edges_of(document: Document, stage: Stage) -> Iterator[tuple[str, FloatArray]]:
    """Name and edge (n, 3) [m] of each opening that a boat has."""
    for name, opening in document.openings.items():
        if opening.boat in (None, stage):
            yield name, opening_edge(document, opening, stage)


def opening_today(
    document: Document, opening: DocumentOpening, old: Mapping[str, str]
) -> DocumentOpening:
    """An opening of the boat as found, with nothing about it that is planned.

    Args:
        document: of the refit.
        opening: of it.
        old: path of the part that is there today, by the name of the one that takes its place.
    """
    own = opening.model_copy(update={"side": "one"})
    edge = opening_edge(document, own, "as_found").tolist()
    leads_to = old.get(opening.leads_to.rsplit(".", 1)[-1], opening.leads_to)
    today = {"edge_m": tuple(map(tuple, edge)), "rises_with": None, "leads_to": leads_to}
    return opening.model_copy(update=today)


def opening_edge(document: Document, opening: DocumentOpening, stage: Stage) -> FloatArray:
    """(n, 3) points of an opening's edge [m] on a boat, both sides where it is mirrored."""
    edge = np.array(opening.edge_m, dtype=float)
    if opening.rises_with is not None:
        rises = opening.rises_with
        edge[:, 2] += _height(document, rises.path, stage) - rises.from_m
    return np.vstack([edge, edge * [1.0, -1.0, 1.0]]) if opening.side == "both" else edge


def _height(document: Document, path: str, stage: Stage) -> float:
    """The length at a path, on the boat as found that of the part which stands there.

    Raises:
        ModelError: ``unknown-path`` where there is none.
    """
    there = _on_boat(document, path, stage)
    _, name, *below = there.split(".")
    old = document.existing.get(name) if there != path else None
    if isinstance(old, Deckhouse) and below[0] in SIDE_HEIGHTS:
        return side_height(old, below[0], ground_under(document, name))
    try:
        return number_at(document, there)
    except ModelError as error:
        if there == path:
            raise
        sentence = (
            f"The height {path} is not known before the refit, since {there}, which it "
            "replaces, is not given: give it there, or name another height."
        )
        raise ModelError(error.code, sentence, there) from error


def _on_boat(document: Document, path: str, stage: Stage) -> str:
    """The path of a length on a boat: as found, a part's is that of the one it will replace."""
    steps = path.split(".")
    if stage == "refit" or steps[0] != "changes" or steps[2:3] != ["parts"]:
        return path
    replaces = document.changes[steps[1]].replaces
    if replaces is None:
        return path
    old = document.existing[replaces.removeprefix("existing.")]
    new = document.changes[steps[1]].parts[steps[3]]
    return ".".join([replaces, *steps[4:]]) if type(old) is type(new) else path
