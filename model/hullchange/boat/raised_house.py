"""The old house raised by different amounts at both ends: the edit that does it."""

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import count

from pydantic import JsonValue

from hullchange.boat.proposals import OLD, surroundings_of
from hullchange.document.document import Document
from hullchange.document.items import RisesWith
from hullchange.errors import ModelError
from hullchange.parts.house_shape import SIDE_HEIGHTS, side_height
from hullchange.parts.parameters import Deckhouse
from hullchange.proposals.deckhouse import raised_ends
from hullchange.proposals.proposing import proposal
from hullchange.proposals.surroundings import Surroundings

LEAST_SIDE = 0.05  # [m] as of its dimensions
MIDDLE, FORWARD, AFT = SIDE_HEIGHTS


@dataclass(frozen=True)
class RaisedHouse:
    """What the press does.

    Attributes:
        values: by path, in the order they are set; None takes away what is there.
        sentence: what comes of it.
    """

    values: tuple[tuple[str, JsonValue], ...]
    sentence: str


def raised_house(document: Document, old: str, forward: float, aft: float) -> RaisedHouse:
    """An existing house raised: in the change that replaces it, or in a new one.

    A new house that is planned in its place keeps all but the heights of its sides, and what
    rises with the one height it had rises with that of the nearer end.

    Args:
        document: the refit.
        old: path of the existing house.
        forward: at the station of its front, up from the old house [m].
        aft: at its after end likewise [m].

    Raises:
        ModelError: ``replaces-nothing``, ``not-a-house``, ``side-too-low``; why the house
            cannot be built.
    """
    house = _old_house(document, old)
    around = replace(surroundings_of(document, old), raised=(forward, aft))
    ends = raised_ends(house, around.old_ground or around.host, (forward, aft))
    _require_sides(ends)
    plan = next((n for n, c in document.changes.items() if c.replaces == old), None)
    parts = document.changes[plan].parts if plan else {}
    houses = (n for n, part in parts.items() if isinstance(part, Deckhouse))
    planned = next((n for n in houses if parts[n].stand not in parts), None)
    if plan is None or planned is None:
        return _put_in(document, around, old, plan)
    path = f"changes.{plan}.parts.{planned}"
    given = parts[planned]
    heights = [
        (f"{path}.{key}", value)
        for key, value in ends.items()
        if value is not None or getattr(given, key) is not None
    ]
    ties = tuple(_ties(document, path, house, around))
    sentence = (
        f"{planned.replace('-', ' ').capitalize()}: sides {ends[FORWARD]:.2f} m forward and "
        f"{ends[AFT]:.2f} m aft, from {old.removeprefix(OLD).replace('-', ' ')}."
    )
    return RaisedHouse((*heights, *ties), sentence)


def _require_sides(ends: Mapping[str, float | None]) -> None:
    for key, height in ends.items():
        if height is not None and height < LEAST_SIDE:
            sentence = (
                f"That would leave less than {LEAST_SIDE:.2f} m of its side at one end: lower "
                "it by less."
            )
            raise ModelError("side-too-low", sentence, key)


def _old_house(document: Document, old: str) -> Deckhouse:
    house = document.existing.get(old.removeprefix(OLD)) if old.startswith(OLD) else None
    if house is None:
        sentence = f"This boat has no existing part {old}: name one of those under existing."
        raise ModelError("replaces-nothing", sentence, "replaces")
    if not isinstance(house, Deckhouse):
        sentence = f"{old} is not a deckhouse, and only a deckhouse can be raised."
        raise ModelError("not-a-house", sentence, "replaces")
    return house


def _put_in(
    document: Document, around: Surroundings, old: str, plan: str | None
) -> RaisedHouse:
    """A new house like the old one, in the change that replaces it or in a new change."""
    found = proposal("deckhouse", around)
    given = found.dimensions.model_dump(mode="json", exclude_none=True)
    taken = {*document.existing, *(n for c in document.changes.values() for n in c.parts)}
    name = _free("house", taken)
    if plan is not None:
        return RaisedHouse(((f"changes.{plan}.parts.{name}", given),), found.sentence)
    change: JsonValue = {"stage": "proposed", "replaces": old, "parts": {name: given}}
    free = _free("raised-house", document.changes)
    return RaisedHouse(((f"changes.{free}", change),), found.sentence)


def _free(word: str, taken: Container[str]) -> str:
    names = (word if number == 1 else f"{word}-{number}" for number in count(1))
    return next(name for name in names if name not in taken)


def _ties(
    document: Document, house: str, old: Deckhouse, around: Surroundings
) -> Iterator[tuple[str, JsonValue]]:
    """What rises with the house's one height, tied to that of the nearer end instead."""
    middle, ground = (old.x_forward_m + old.x_aft_m) / 2.0, around.old_ground or around.host
    for path, x, tie in _tied(document):
        if tie.path == f"{house}.{MIDDLE}":
            end = FORWARD if x < middle else AFT
            moved = side_height(old, end, ground) - side_height(old, MIDDLE, ground)
            value: JsonValue = {
                "path": f"{house}.{end}",
                "from_m": round(tie.from_m + moved, 4),
            }
            yield f"{path}.rises_with", value


def _tied(document: Document) -> Iterator[tuple[str, float, RisesWith]]:
    """Path, x [m] and tie of everything that rises with a length of the document."""
    for change, plan in document.changes.items():
        for group in ("adds", "moves"):
            for name, item in getattr(plan, group).items():
                if item.rises_with is not None:
                    path = f"changes.{change}.{group}.{name}"
                    yield path, item.at_m[0], item.rises_with
    for name, opening in document.openings.items():
        if opening.rises_with is not None:
            x = sum(point[0] for point in opening.edge_m) / len(opening.edge_m)
            yield f"openings.{name}", x, opening.rises_with
