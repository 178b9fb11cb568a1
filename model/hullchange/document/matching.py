"""Everything in a plain document that a pattern of a path fits."""

from collections.abc import Iterable, Iterator

from pydantic import JsonValue

PlainDocument = dict[str, JsonValue]
"""A document as YAML or JSON gives it, not yet validated."""

Steps = tuple[str, ...]
"""The keys of a dotted path."""

Match = tuple[str, JsonValue]


def matches(document: JsonValue, pattern: str) -> Iterator[Match]:
    """Path and value of everything a pattern fits; ``*`` stands for any one step.

    >>> list(matches({"a": {"b": {"c": 1}, "d": {"c": 2}}}, "a.*.c"))
    [('a.b.c', 1), ('a.d.c', 2)]
    """
    found: list[Match] = [("", document)]
    for step in pattern.split("."):
        if step == "*":
            found = [
                (f"{path}.{key}" if path else str(key), inner)
                for path, value in found
                for key, inner in _entries(value)
            ]
        else:
            found = [
                (f"{path}.{step}" if path else step, value[step])
                for path, value in found
                if isinstance(value, dict) and step in value
            ]
    yield from found


def names_at(document: JsonValue, pattern: str) -> list[str]:
    """Names of everything below a pattern."""
    return [last_step(path) for path, _ in matches(document, f"{pattern}.*")]


def numbers_at(document: JsonValue, pattern: str) -> Iterator[tuple[str, float]]:
    """Path and value, in the unit of its key, of every number that a pattern matches."""
    for path, value in matches(document, pattern):
        if isinstance(value, int | float) and not isinstance(value, bool):
            yield path, value


def words_at(document: JsonValue, pattern: str) -> Iterator[tuple[str, str]]:
    """Path and value of every text a pattern fits."""
    for path, value in matches(document, pattern):
        if isinstance(value, str):
            yield path, value


def last_step(path: str) -> str:
    """The last step of a path."""
    return path.rsplit(".", 1)[-1]


def _entries(value: JsonValue) -> Iterable[tuple[str | int, JsonValue]]:
    if isinstance(value, dict):
        return value.items()
    return enumerate(value) if isinstance(value, list) else ()
