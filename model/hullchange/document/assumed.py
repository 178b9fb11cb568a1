"""What stands in a document for what is not measured yet: the paths it lists as ``assumed``.

A value that somebody sets is hers from then on, by the same edit. Of a group that is assumed
what was not set stays so, each of its entries by its own path: of the points of a line those
that are still the guessed ones. A point is one thing, whichever of its numbers was set.
"""

from collections.abc import Iterable, Iterator, Mapping

from pydantic import BaseModel, JsonValue

from hullchange.document.document import Document
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
                sentence = f"{path} is no path of a document: {error.sentence}"
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
    if isinstance(written_at(before, steps[:-1]), list) and written_at(after, steps) is None:
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
        elif _has_number(inner) and not key.startswith(OF_A_FIGURE):
            yield below


def _rows_left(
    before: Mapping[str, JsonValue], after: PlainDocument, edited: Steps, places: list[Steps]
) -> list[str]:
    """Paths of the points of a list set whole that are the same as one that was assumed."""
    old, new = written_at(before, edited), written_at(after, edited)
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


def _has_number(value: JsonValue) -> bool:
    if isinstance(value, dict):
        return any(map(_has_number, value.values()))
    if isinstance(value, list):
        return any(map(_has_number, value))
    return isinstance(value, int | float) and not isinstance(value, bool)


def still_there(document: Document) -> tuple[str, ...]:
    """The assumed paths at which something stands."""
    if not document.assumed:
        return ()
    plain = _given(document)
    return tuple(path for path in document.assumed if _stands(plain, path))


def _stands(plain: PlainDocument, path: str) -> bool:
    return written_at(plain, path.split(".")) not in (None, {}, [])


def figures_of(document: Document) -> tuple[str, ...]:
    """Paths of every figure of the boat as she is, each a number somebody has to measure.

    These count: the waterline's length; of the hull's lines the half-breadth (unless it is
    nought, on the centreline) and the height of every point; all numbers of deck, appendages,
    existing parts, tanks and openings; of the survey the marks, and the height of the centre of
    gravity or the readings of an inclining. Deviations do not count, nor what the file leaves
    out, nor the refit and its conditions: they are plans, not measurements.
    """
    hull = _given(document.hull)
    lines = {
        f"{name}.points_m.{index}.{axis}": point[axis]
        for name, line in document.hull.lines.items()
        for index, point in enumerate(line.points_m)
        for axis in (1, 2)
    }
    survey = {"marks": _given(document.survey)["marks"]}
    if document.survey.vcg is not None:
        survey["vcg"] = {"z_m": document.survey.vcg.z_m}
    elif document.survey.inclining is not None:
        survey["inclining"] = {"readings": _given(document.survey.inclining)["readings"]}
    counted: PlainDocument = {
        "hull": {
            "length_waterline_m": document.hull.length_waterline_m,
            "lines": {key: value for key, value in lines.items() if value or key[-1] == "2"},
            **{key: hull[key] for key in ("deck", "appendages") if key in hull},
        },
        "survey": survey,
        **{
            name: {key: _given(one) for key, one in getattr(document, name).items()}
            for name in ("existing", "tanks", "openings")
        },
    }
    return tuple(_numbers("", counted))


def _given(section: BaseModel) -> PlainDocument:
    """What the file gives of a section, as plain values."""
    return section.model_dump(mode="json", by_alias=True, exclude_unset=True, exclude_none=True)


def _numbers(path: str, value: JsonValue) -> Iterator[str]:
    """Paths of the numbers of a value."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if not key.startswith(OF_A_FIGURE):
                yield from _numbers(f"{path}.{key}" if path else key, inner)
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _numbers(f"{path}.{index}", inner)
    elif _has_number(value):
        yield path
