"""What stands in a document for what is not measured yet: the paths it lists as ``assumed``.

A value that somebody sets is hers from then on, by the same edit. Of a group that is assumed
what was not set stays so, each of its entries by its own path: of the points of a line those
that are still the guessed ones. A point is one thing, whichever of its numbers was set.
"""

from collections.abc import Iterable, Iterator, Mapping

from pydantic import JsonValue

from hullchange.document.grammar import DocumentPlace, root
from hullchange.document.matching import PlainDocument, Steps
from hullchange.document.paths import steps_of, written_at
from hullchange.errors import Fault, ModelError

KEY = "assumed"
OF_A_FIGURE = "plus_minus"
"""How keys begin that say how well another figure is known: they go with it."""


def is_assumed(path: str, assumed: Iterable[str]) -> bool:
    """Whether a value lies at or under an assumed path."""
    return any(path == one or path.startswith(f"{one}.") for one in assumed)


def holds_assumed(path: str, assumed: Iterable[str]) -> bool:
    """Whether a value is assumed, or something in it is."""
    return any(is_assumed(path, (one,)) or one.startswith(f"{path}.") for one in assumed)


def outside(assumed: tuple[str, ...], sections: Iterable[str]) -> tuple[str, ...]:
    """The assumed paths that lie outside some sections of the document."""
    return tuple(path for path in assumed if path.split(".")[0] not in sections)


def path_faults(document: PlainDocument) -> Iterator[Fault]:
    """Each assumed path that the grammar does not know; a value that is gone is no fault."""
    paths = document.get(KEY)
    for index, path in enumerate(paths if isinstance(paths, list) else ()):
        if not isinstance(path, str):
            continue  # the grammar asks for texts
        spot: DocumentPlace = root(document)
        for step in path.split("."):
            if spot.value is None and not (spot.is_section or spot.is_named or spot.is_list):
                break  # of no known kind, and gone
            try:
                spot = spot.next(step)
            except ModelError as error:
                sentence = f"{path} is not the path of a value: {error.sentence}"
                yield Fault("unknown-name", f"{KEY}.{index}", sentence)
                break


def with_own_value(
    before: Mapping[str, JsonValue], after: PlainDocument, path: str
) -> PlainDocument:
    """The document after an edit, without what the edit has set among what is assumed.

    Args:
        before: the edit.
        after: the edit, the list of what is assumed still as it was.
        path: of the value that was set or taken away.
    """
    paths = after.get(KEY)
    steps = steps_of(before, path) if paths else ()
    if not isinstance(paths, list) or not steps or steps[0] == KEY:
        return after
    above, now = written_at(dict(before), steps[:-1]), written_at(after, steps[:-1])
    if isinstance(above, list) and isinstance(now, list) and len(now) < len(above):
        steps = steps[:-1]  # the entries behind it have moved up
    places = [steps_of(before, one) for one in paths if isinstance(one, str)]
    rows = _rows_left(before, after, steps, places)
    left = [".".join(one) for place in places for one in _left(after, place, steps)]
    left = list(dict.fromkeys([*left, *rows]))
    if left == paths:
        return after
    others: PlainDocument = {key: value for key, value in after.items() if key != KEY}
    kept: PlainDocument = {KEY: [*left]} if left else {}
    return {**others, **kept}


def assumed_by_both(
    base: PlainDocument, ours: PlainDocument, theirs: PlainDocument
) -> tuple[str, ...]:
    """What is assumed after two edits of one base: set by neither, or added by one."""
    of_base, of_ours, of_theirs = map(_listed, (base, ours, theirs))
    kept = [
        path
        for own, other in ((of_theirs, of_ours), (of_ours, of_theirs))
        for path in own
        if is_assumed(path, other) or not is_assumed(path, of_base)
    ]
    return tuple(dict.fromkeys(kept))


def _listed(document: PlainDocument) -> list[str]:
    paths = document.get(KEY)
    return [path for path in paths if isinstance(path, str)] if isinstance(paths, list) else []


def _left(document: PlainDocument, place: Steps, edited: Steps) -> Iterator[Steps]:
    """What is still assumed of a place when something at, below or above it was set."""
    if place[: len(edited)] == edited:
        return
    if edited[: len(place)] != place:
        yield place
        return
    group = written_at(document, place)
    for key, inner in _entries(group):
        below = (*place, key)
        if edited[: len(below)] == below:
            yield from _left(document, below, edited)
        elif has_number(inner) and not key.startswith(OF_A_FIGURE):
            yield below


def _rows_left(
    before: Mapping[str, JsonValue], after: PlainDocument, edited: Steps, places: list[Steps]
) -> list[str]:
    """Paths of the points of a list set whole that are the same as one that was assumed."""
    old, new = written_at(dict(before), edited), written_at(after, edited)
    path = ".".join(edited)
    assumed = [".".join(place) for place in places]
    known = [row for key, row in _entries(old) if is_assumed(f"{path}.{key}", assumed)]
    if not isinstance(old, list) or not isinstance(new, list):
        return []
    left = [f"{path}.{key}" for key, row in _entries(new) if row in known]
    return [path] if new and len(left) == len(new) else left


def _entries(group: JsonValue) -> Iterator[tuple[str, JsonValue]]:
    """What a group is made of: entries by key, points by number; of a point nothing."""
    if isinstance(group, dict):
        yield from group.items()
    elif isinstance(group, list) and all(isinstance(row, list | dict) for row in group):
        yield from ((str(index), row) for index, row in enumerate(group))


def has_number(value: JsonValue) -> bool:
    """Whether a value is a number or holds one."""
    if isinstance(value, dict):
        return any(map(has_number, value.values()))
    if isinstance(value, list):
        return any(map(has_number, value))
    return isinstance(value, int | float) and not isinstance(value, bool)
