"""Dotted paths: any value of the document by its place, read, set and taken away.

A path names keys and, in a list, x, y, z or a number: ``changes.bow.adds.anchor.at_m.x``; a
number may stand in brackets.  The plain document is never changed in place: every answer is a
new one that shares what stayed.
"""

import re
from collections.abc import Iterable, Mapping
from typing import cast

from pydantic import JsonValue

from hullchange.document.grammar import DocumentPlace, root, unknown_step
from hullchange.document.matching import PlainDocument
from hullchange.document.quantities import index_of
from hullchange.document.yaml_text import parsed_value
from hullchange.errors import DocumentError, ModelError

_STEPS = re.compile(r"[^.\[\]]+")


def value_at(document: Mapping[str, JsonValue], path: str) -> JsonValue:
    """The plain value at a path; the default that holds where the document gives none.

    Raises:
        ModelError: unknown-path, naming the nearest known key; no-value, where the grammar
            knows the path but nothing is there.
    """
    value = _spot_at(document, path, path).value
    if value is None:
        raise ModelError("no-value", f"There is no value at {path}: give it one.", path)
    return value


def with_value(document: Mapping[str, JsonValue], path: str, value: JsonValue) -> PlainDocument:
    """The document with one value set; groups the grammar knows are made where missing.

    A value of None takes away what is there.

    Raises:
        ModelError: unknown-path, naming the nearest known key.
    """
    if value is None:
        return without_value(document, path)
    return cast("PlainDocument", _set(root(document), _steps(path), value, path))


def without_value(document: Mapping[str, JsonValue], path: str) -> PlainDocument:
    """The document without what is at a path.

    Raises:
        ModelError: unknown-path, where nothing is.
    """
    *higher, last = _steps(path)
    above = ".".join(higher)
    spot = _spot_at(document, above, path)
    match spot.value:
        case dict() as group if last in group:
            left: JsonValue = {key: inner for key, inner in group.items() if key != last}
        case list() as items if 0 <= index_of(last) < len(items):
            index = index_of(last)
            left = items[:index] + items[index + 1 :]
        case dict() as group:
            raise _placed(unknown_step(last, tuple(group)), path)
        case _:
            raise _placed(unknown_step(last, spot.keys), path)
    return with_value(document, above, left) if above else cast("PlainDocument", left)


def steps_of(document: Mapping[str, JsonValue], path: str) -> tuple[str, ...]:
    """The steps of a path; entries of a list by number, so that x and 0 are the same.

    >>> steps_of({}, "survey.vcg.z_m")
    ('survey', 'vcg', 'z_m')
    """
    spot: DocumentPlace | None = root(document)
    steps = []
    for step in _STEPS.findall(path):
        is_counted = spot is not None and spot.is_list and spot.leads_on(step)
        steps.append(str(index_of(step)) if is_counted else step)
        spot = spot.next(step) if spot is not None and spot.leads_on(step) else None
    return tuple(steps)


def written_at(document: JsonValue, steps: Iterable[str]) -> JsonValue:
    """What is written at the steps of a path, None where nothing is; no default is asked."""
    value = document
    for step in steps:
        match value:
            case dict():
                value = value.get(step)
            case list() as items if 0 <= index_of(step) < len(items):
                value = items[index_of(step)]
            case _:
                return None
    return value


def assignment(text: str) -> tuple[str, JsonValue]:
    """The path and the value of ``PATH=VALUE``, the value read as YAML.

    >>> assignment("changes.bow.adds.anchor.mass_kg=25")
    ('changes.bow.adds.anchor.mass_kg', 25)

    Raises:
        ModelError: not-an-assignment.
    """
    path, equals, written = text.partition("=")
    path = path.strip()
    if not equals or not path or not all(path.split(".")):
        raise ModelError(
            "not-an-assignment",
            f"{text!r} sets nothing: write PATH=VALUE, such as survey.vcg.z_m=0.12.",
        )
    try:
        return path, parsed_value(written.strip())
    except DocumentError as error:
        raise ModelError(
            "not-an-assignment", f"The value of {path} cannot be read. {error.sentence}", path
        ) from error


def _steps(path: str) -> list[str]:
    """The steps of a path that leads somewhere."""
    steps = _STEPS.findall(path)
    if not steps:
        sentence = f"{path!r} names no value: write a path such as survey.vcg.z_m."
        raise ModelError("unknown-path", sentence)
    return steps


def _spot_at(document: Mapping[str, JsonValue], path: str, place: str) -> DocumentPlace:
    """What stands at a path, or the default that holds there; names must be there."""
    spot = root(document)
    for step in _STEPS.findall(path):
        above, spot = spot, _next(spot, step, place).or_default()
        if spot.value is None and not above.is_section:
            raise _placed(unknown_step(step, above.keys), place)
    return spot


def _next(spot: DocumentPlace, step: str, place: str) -> DocumentPlace:
    if spot.value is not None and not isinstance(spot.value, dict | list):
        sentence = f"The value there is {spot.value!r}, which has no {step}: set it as a whole."
        raise ModelError("unknown-path", sentence, place)
    try:
        return spot.next(step)
    except ModelError as error:
        raise _placed(error, place) from error


def _set(spot: DocumentPlace, steps: list[str], value: JsonValue, path: str) -> JsonValue:
    step, *rest = steps
    inner = _next(spot, step, path)
    if spot.is_list:
        items = list(spot.value) if isinstance(spot.value, list) else []
        index = index_of(step)
        if index >= len(items):
            raise _placed(unknown_step(step, spot.keys), path)
        items[index] = _set(inner, rest, value, path) if rest else value
        return items
    holder = spot.value if isinstance(spot.value, dict) else {}
    if rest and spot.is_named and inner.value is None:
        raise _placed(unknown_step(step, spot.keys), path)
    below = (
        _set(inner.or_default() if inner.is_list else inner, rest, value, path)
        if rest
        else value
    )
    return {**holder, step: below}


def _placed(error: ModelError, path: str) -> ModelError:
    return ModelError(error.code, error.sentence, path)
