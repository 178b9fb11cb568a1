"""Every figure of an answer by its dotted path: found, and walked through.

What stands in a list is named by what tells it apart: ``conditions.departure.refit.gm_m``,
``parts.house.plates.roof.mass_kg``.  Names may hold dots themselves, so a path is followed
along what is there, never split.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from pydantic import BaseModel

from hullchange.answer.assessment import Assessment
from hullchange.document.quantities import AXES

ANY = "*"
"""Step of a pattern in the place of a name or a number."""
KEYS: Mapping[str, tuple[str, ...]] = {
    "ConditionResult": ("id", "stage"),
    "UnansweredResult": ("id", "stage"),
    "CockpitResult": ("id", "stage"),
    "FreeboardResult": ("mark", "side"),
    "MarkFreeboard": ("mark",),
    "ResidualResult": ("mark", "side"),
    "PointOffResult": ("place",),
    "OpeningResult": ("id", "side"),
    "ShareResult": ("cause",),
    "AssumedResult": ("path",),
    "WaterfallStep": ("change",),
    "ItemResult": ("path",),
    "LoadedResult": ("path",),
    "HeadroomResult": ("id", "stage"),
    "SightResult": ("id", "stage", "posture"),
    "HiddenSector": ("id", "stage", "posture"),
    "QuantityResult": ("name",),
    "MoveResult": ("path",),
    "UsualTarget": ("condition", "result"),
}
"""The field that distinguishes members of a list, where it is not their ``id``."""
PLACES = (".at_m", ".to_m", ".centroid_m", ".centre_of_gravity_m")
"""Ends of the patterns of what has an x, a y and a z."""
FIRST_BOAT = "refit"


@dataclass(frozen=True)
class AnswerPlace:
    """Something that stands in an answer.

    Attributes:
        path: dotted.
        pattern: the same with every name and number left open.
        names: what stood where the pattern is open.
        value: what stands there.
        owner: the group it is a value of.
    """

    path: str
    pattern: str
    names: tuple[str, ...]
    value: object
    owner: object

    @property
    def number(self) -> float | None:
        """The figure here, in the unit of its key; None where there is none."""
        is_number = isinstance(self.value, int | float) and not isinstance(self.value, bool)
        return float(self.value) if is_number else None  # type: ignore[arg-type]


def figures(answer: Assessment) -> Iterator[AnswerPlace]:
    """Every number of an answer."""
    return _figures(_root(answer))


def spot_at(answer: Assessment, path: str) -> AnswerPlace | None:
    """What stands at a path; None where nothing does.

    Of a condition that names no boat the refit is meant, or the only boat it is run for.
    """
    return _followed(_root(answer), path)


def _root(answer: Assessment) -> AnswerPlace:
    return AnswerPlace("", "", (), answer, None)


def _figures(spot: AnswerPlace) -> Iterator[AnswerPlace]:
    if spot.number is not None:
        yield spot
    for step in _steps(spot):
        yield from _figures(_taken(spot, step))


def _followed(spot: AnswerPlace, rest: str) -> AnswerPlace | None:
    if not rest:
        return spot
    for step in _steps_towards(spot, rest):
        name = ".".join(step.names)
        if rest == name or rest.startswith(f"{name}."):
            deeper = _followed(_taken(spot, step), rest[len(name) + 1 :])
            if deeper is not None:
                return deeper
    return _only_boat(spot, rest) if spot.pattern == "conditions" else None


def _only_boat(conditions: AnswerPlace, rest: str) -> AnswerPlace | None:
    """The figure of the refit, or of the only boat, where a path names none."""
    condition, _, figure = rest.partition(".")
    boats = [step for step in _steps(conditions) if step.names[0] == condition]
    boats.sort(key=lambda step: step.names[1] != FIRST_BOAT)
    return _followed(_taken(conditions, boats[0]), figure) if boats and figure else None


class _Step(NamedTuple):
    """One step down: what it is called, what is there, whether the pattern leaves it open."""

    names: tuple[str, ...]
    value: object
    is_open: bool = True


def _steps(spot: AnswerPlace) -> Iterator[_Step]:
    value = spot.value
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield _Step((name,), getattr(value, name), is_open=False)
    elif isinstance(value, Mapping):
        for name, inner in value.items():
            yield _Step((str(name),), inner)
    elif isinstance(value, tuple):
        is_place = spot.pattern.endswith(PLACES)
        for index, inner in enumerate(value):
            if is_place and isinstance(inner, float):
                yield _Step((AXES[index],), inner, is_open=False)
            else:
                yield _Step(_names_of(inner, index), inner)


def _steps_towards(spot: AnswerPlace, rest: str) -> Iterator[_Step]:
    """The steps that may lead on: of a group, whose keys hold no dots, the only one."""
    if not isinstance(spot.value, BaseModel):
        yield from _steps(spot)
        return
    name = rest.split(".", 1)[0]
    if name in type(spot.value).model_fields:
        yield _Step((name,), getattr(spot.value, name), is_open=False)
    elif name in (spot.value.model_extra or {}):
        # of a boat that has no results every figure is there, and none is
        yield _Step((rest,), None, is_open=False)


def _names_of(member: object, index: int) -> tuple[str, ...]:
    if not isinstance(member, BaseModel):
        return (str(index),)
    keys = KEYS.get(type(member).__name__, ("id",))
    return tuple(str(getattr(member, key, index)) for key in keys)


def _taken(spot: AnswerPlace, step: _Step) -> AnswerPlace:
    steps = step.names
    pattern = (ANY,) * len(steps) if step.is_open else steps
    return AnswerPlace(
        ".".join((spot.path, *steps) if spot.path else steps),
        ".".join((spot.pattern, *pattern) if spot.pattern else pattern),
        (*spot.names, *steps) if step.is_open else spot.names,
        step.value,
        spot.value if isinstance(spot.value, BaseModel) else spot.owner,
    )
