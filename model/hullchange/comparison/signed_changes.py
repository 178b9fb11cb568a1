"""What a signed document and the present one differ in, where it matters to the signature."""

from hullchange.comparison.differences import ValueChange, differences
from hullchange.document.document import Document
from hullchange.document.matching import PlainDocument

FEEDS_ALL_PARTS = ("hull", "allowances")
FEEDS_NOTHING = "stage"
"""Of a change: how far the work is, from which no figure follows."""
SHOWS_ONLY = ("photographs",)
"""Sections that no figure depends on."""


def normalized_document(document: Document) -> PlainDocument:
    """The values of a document, whatever its comments, order and spelling of numbers."""
    return document.model_dump(mode="json", by_alias=True, exclude_none=True)


def what_changed(signed: Document, now: Document, part: str = "") -> tuple[ValueChange, ...]:
    """Every value that feeds a signature and is no longer as it was signed.

    Args:
        signed: the document that was reviewed.
        now: the document that the signature is held against.
        part: name of the part that was signed; the whole refit where empty.
    """
    changes = tuple(
        c
        for c in differences(normalized_document(signed), normalized_document(now))
        if c.steps[0] not in SHOWS_ONLY and not _is_stage(c)
    )
    if not part:
        return changes
    feeds = {*_feeds(signed, part), *_feeds(now, part)}
    return tuple(c for c in changes if any(_touches(c.steps, feed) for feed in feeds))


def _is_stage(change: ValueChange) -> bool:
    return len(change.steps) == 3 and (change.steps[0], change.steps[2]) == (
        "changes",
        FEEDS_NOTHING,
    )


def _feeds(document: Document, part: str) -> set[tuple[str, ...]]:
    """Where everything stands that a part is built from: itself, its stand, the hull."""
    found: set[tuple[str, ...]] = {(name,) for name in FEEDS_ALL_PARTS}
    places: dict[str, tuple[str, ...]] = {n: ("existing", n) for n in document.existing}
    dimensions = dict(document.existing)
    for change, plan in document.changes.items():
        places |= {name: ("changes", change, "parts", name) for name in plan.parts}
        dimensions |= plan.parts
    name: str | None = part
    while name is not None and name in places and places[name] not in found:
        found.add(places[name])
        name = dimensions[name].stand
    return found


def _touches(steps: tuple[str, ...], feed: tuple[str, ...]) -> bool:
    shorter = min(len(steps), len(feed))
    return steps[:shorter] == feed[:shorter]
