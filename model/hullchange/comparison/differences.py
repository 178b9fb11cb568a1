"""What differs between two documents, value by value, and one made of two people's edits."""

from collections.abc import Iterator
from dataclasses import dataclass

from pydantic import JsonValue

from hullchange.document.assumed import KEY, assumed_by_both
from hullchange.document.matching import PlainDocument, Steps
from hullchange.document.options import MERGED_GROUPS
from hullchange.errors import ModelError
from hullchange.plain_words import id_in_words
from hullchange.unit_suffixes import without_unit

NAMED_IN_WORDS = 4
UNNAMED = ("changes", "existing", *MERGED_GROUPS)
"""Steps of a path that its words do without."""


@dataclass(frozen=True)
class ValueChange:
    """One value that is not the same; None where there is none.

    Attributes:
        steps: keys that lead to it.
        before: the value in the first document, a whole group where a named thing went.
        after: the value in the second, a whole group where a named thing came.
    """

    steps: Steps
    before: JsonValue
    after: JsonValue

    @property
    def path(self) -> str:
        """Dotted path."""
        return ".".join(self.steps)


def differences(before: PlainDocument, after: PlainDocument) -> tuple[ValueChange, ...]:
    """Every value that differs, in the order of the second document, what went last.

    What is assumed follows from the values that were set: it is told where it alone differs.

    >>> [(d.path, d.before, d.after) for d in differences({"a": {"b": 1}}, {"a": {"b": 2}})]
    [('a.b', 1, 2)]
    """
    found = tuple(_differences((), before, after))
    values = tuple(change for change in found if change.steps != (KEY,))
    return values or found


def merged(base: PlainDocument, ours: PlainDocument, theirs: PlainDocument) -> PlainDocument:
    """The document that holds both edits of one base.

    >>> merged({"a": 1, "b": 1}, {"a": 2, "b": 1}, {"a": 1, "b": 3})
    {'a': 2, 'b': 3}

    Raises:
        ModelError: ``edited-on-both-sides``, naming what both changed.
    """
    three = [{**document, KEY: None} for document in (base, ours, theirs)]
    mine, other = differences(three[0], three[1]), differences(three[0], three[2])
    theirs_by_steps = {change.steps: change for change in other}
    met = [one for one in mine if _meets(one, theirs_by_steps, other)]
    if met:
        sentence = f"Both sides changed {in_words(met)}, differently."
        raise ModelError("edited-on-both-sides", sentence)
    document = theirs
    for change in mine:
        if change.steps not in theirs_by_steps:
            document = _with(document, change.steps, change.after)
    return _with(document, (KEY,), [*assumed_by_both(base, ours, theirs)] or None)


def in_words(changes: list[ValueChange]) -> str:
    """What some changes concern, the first few by name."""
    named = ", ".join(_path_in_words(change.path) for change in changes[:NAMED_IN_WORDS])
    more = len(changes) - NAMED_IN_WORDS
    return f"{named} and {more} more" if more > 0 else named


def _path_in_words(path: str) -> str:
    """A dotted path of the document in words, as it reads in a sentence.

    >>> _path_in_words("changes.electric-drive.adds.battery.mass_kg")
    'electric drive battery mass'
    >>> _path_in_words("survey.vcg.z_m")
    'survey vcg z'
    """
    steps = [step for step in path.split(".") if step not in UNNAMED]
    return " ".join(id_in_words(without_unit(step) or step) for step in steps or [path])


def _differences(
    steps: Steps, before: PlainDocument, after: PlainDocument
) -> Iterator[ValueChange]:
    for key, value in after.items():
        old = before.get(key)
        if isinstance(old, dict) and isinstance(value, dict):
            yield from _differences((*steps, key), old, value)
        elif old != value or isinstance(old, bool) != isinstance(value, bool):
            yield ValueChange((*steps, key), old, value)
    for key, old in before.items():
        if key not in after:
            yield ValueChange((*steps, key), old, None)


def _meets(
    one: ValueChange, same: dict[Steps, ValueChange], others: tuple[ValueChange, ...]
) -> bool:
    """Whether another change is made to the same value, or to one above or below it."""
    twin = same.get(one.steps)
    if twin is not None:
        return twin.after != one.after
    return any(
        one.steps[: len(other.steps)] == other.steps
        or other.steps[: len(one.steps)] == one.steps
        for other in others
    )


def _with(document: PlainDocument, steps: Steps, value: JsonValue) -> PlainDocument:
    key, *rest = steps
    if rest:
        inner = document.get(key)
        return {
            **document,
            key: _with(inner if isinstance(inner, dict) else {}, tuple(rest), value),
        }
    if value is None:
        return {name: kept for name, kept in document.items() if name != key}
    return {**document, key: value}
