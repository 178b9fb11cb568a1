"""Weights that lie off the boat, or are heavier or better known than such weights are."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import chain

import numpy as np

from hullchange.answer.cautions import COMMON_PRACTICE
from hullchange.boat.boat import Boat
from hullchange.boat.built import PARTS_HELD, BuiltPart
from hullchange.boat.values import number_at
from hullchange.cache import cached
from hullchange.document import items
from hullchange.document.document import Change
from hullchange.document.quantities import DocumentPoint
from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import BoolArray, FloatArray
from hullchange.units import mm_of_m

# common practice, no source; of forty boats drawn at random and the demo none is asked
BEYOND_ENDS = 1.0  # [m] dinghy in davits, anchor on its roller
BESIDE = 0.3  # [m] fenders, a leeboard
BELOW = 0.1  # [m]
ABOVE_DECK = 2.5  # [m] an arch, a radar on a pole; what belongs to the rig stands higher
RIG = (
    *("mast", "mizzen", "rig", "boom", "spar", "sail", "gaff"),
    *("radar", "aerial", "antenna", "light"),
)
LARGE_SHARE = 0.12  # of the boat, for a single weight
BALLAST_SHARE = 0.75
PERSON_KG = 120.0  # with what one brings aboard
DOUBTFUL = 0.5  # plus/minus as a share of the mass
TOO_SURE = {"weighed": 0.0, "catalogue": 0.0025, "drawn": 0.01, "guessed": 0.015}
"""Share of the mass below which a plus/minus belies where the figure is from."""
FAR_M = 0.6  # [m] plus/minus of a place
ROUND = 0.01  # [m] how far an outline's chords may be off
RISE = 0.5  # [m] more than a part grows by a refit


@dataclass(frozen=True)
class Placed:
    """A place of the document with what lies there.

    Attributes:
        path: of the weight.
        key: of its place.
        at: where [m].
        is_tied: whether its height follows that of a part.
    """

    path: str
    key: str
    at: DocumentPoint
    is_tied: bool = False

    @property
    def name(self) -> str:
        """What it is called, in words."""
        return path_name(self.path)

    @property
    def is_of_the_rig(self) -> bool:
        """Whether it may stand as high as a mast."""
        own = self.path.rsplit(".", 1)[-1]
        return self.is_tied or any(word in own for word in RIG)


def path_name(path: str) -> str:
    """The name at the end of a path, in words."""
    return path.rsplit(".", 1)[-1].replace("-", " ").capitalize()


def weight_findings(boat: Boat, mass: float) -> Iterator[Finding]:
    """What is doubtful about weights and their places.

    Args:
        boat: everything built.
        mass: what she weighed as surveyed [kg].
    """
    weights = dict(_weights(boat))
    places = [*_places(weights), *_tank_places(boat)]
    yield from _off_the_boat(boat, places)
    for path, weight in weights.items():
        yield from _heavy(boat, path, weight, mass)
        yield from _known(path, weight)
        yield from _tied(boat, path, weight)
        yield from _reach(boat, path, weight)
    for name, opening in boat.document.openings.items():
        yield from _tied(boat, f"openings.{name}", opening)
    yield from _replaced(boat)


AnyWeight = items.DocumentWeight | items.Load


def _weights(boat: Boat) -> Iterator[tuple[str, AnyWeight]]:
    """Every weight by its path."""
    document = boat.document
    groups: list[tuple[str, Mapping[str, object]]] = [
        ("weights", document.weights),
        ("survey.aboard", document.survey.aboard),
    ]
    groups += [(f"conditions.{n}.loads", c.loads) for n, c in document.conditions.items()]
    changes: Iterator[tuple[str, Change]] = chain(
        ((f"changes.{name}", change) for name, change in document.changes.items()),
        (
            (f"options.{option}.adds.{name}", change)
            for option, plan in document.options.items()
            for name, change in plan.adds.items()
        ),
    )
    for path, change in changes:
        for key in ("removes", "adds", "moves"):
            groups.append((f"{path}.{key}", getattr(change, key)))
    for path, group in groups:
        for name, one in group.items():
            if isinstance(one, items.DocumentWeight | items.Load):
                yield f"{path}.{name}", one


def _places(weights: Mapping[str, AnyWeight]) -> Iterator[Placed]:
    for path, weight in weights.items():
        is_tied = getattr(weight, "rises_with", None) is not None
        for key in ("at_m", "to_m"):
            at: DocumentPoint | None = getattr(weight, key, None)
            if at is not None:
                yield Placed(path, key, at, is_tied)


def _tank_places(boat: Boat) -> Iterator[Placed]:
    for name, tank in boat.document.tanks.items():
        if tank.at_m is not None:
            yield Placed(f"tanks.{name}", "at_m", tank.at_m)


def _off_the_boat(boat: Boat, places: list[Placed]) -> Iterator[Finding]:
    if not places:
        return
    at = np.array([placed.at for placed in places])
    for placed, away in zip(places, _away(boat, at).tolist(), strict=True):
        ways = dict(zip(ALLOWED, away, strict=True))
        for where, metres in ways.items():
            free = where == "above the deck" and placed.is_of_the_rig
            if metres > ALLOWED[where] and not free:
                sentence = (
                    f"{placed.name} lies {mm_of_m(metres):,.0f} mm {where}: is the place right?"
                )
                place = f"{placed.path}.{placed.key}"
                yield Finding("off-the-boat", Severity.WARN, place, sentence, COMMON_PRACTICE)
                break


ALLOWED = {
    "ahead of the boat": BEYOND_ENDS,
    "astern of the boat": BEYOND_ENDS,
    "outside the hull": BESIDE,
    "below the hull": BELOW,
    "above the deck": ABOVE_DECK,
}


def _away(boat: Boat, at: FloatArray) -> FloatArray:
    """(n, 5) [m] each place lies ahead of, astern of, beside, below and above the boat."""
    hull, (x, y, z) = boat.hull, at.T
    built = (*boat.existing.values(), *boat.parts.values())
    boxes = np.array([_box(part) for part in built if part.part.plates]).reshape(-1, 2, 3)
    keels = np.array([part.surface.bounds for part in hull.appendages.values()])
    keels = keels.reshape(-1, 2, 3)
    low, high = hull.surface.bounds
    fore = min(low[0], *boxes[:, 0, 0]) if len(boxes) else low[0]
    aft = max(high[0], *boxes[:, 1, 0]) if len(boxes) else high[0]
    there = np.clip(x, hull.stem_x, hull.transom_x)
    within = np.clip(y, *(hull.sheer(there)[:, 1] * np.array([[-1.0], [1.0]])))
    beside = np.abs(y - within)
    floor, roof = hull.bottom_z(there, within), hull.deck_z(there, within)
    floor = np.where(x == there, floor, low[2])  # an outboard hangs astern, below the counter
    over = _over(boxes, x, y)  # on a part it lies on the boat
    beside = np.where(over.any(axis=0), 0.0, beside)
    roof = _reaching(np.maximum, roof, over, boxes[:, 1, 2])
    floor = _reaching(np.minimum, floor, over, boxes[:, 0, 2])
    floor = _reaching(np.minimum, floor, _over(keels, x, y), keels[:, 0, 2])
    return np.column_stack([fore - x, x - aft, beside, floor - z, z - roof])


def _over(boxes: FloatArray, x: FloatArray, y: FloatArray) -> BoolArray:
    """(k, n) whether places lie above or below boxes (k, 2, 3)."""
    (fore, port, _), (aft, starboard, _) = np.moveaxis(boxes, 0, -1)[..., None]
    return np.asarray((fore <= x) & (x <= aft) & (port <= y) & (y <= starboard))


def _reaching(
    farther: np.ufunc, heights: FloatArray, over: BoolArray, ends: FloatArray
) -> FloatArray:
    """(n,) heights, or the ends (k,) of the boxes over them where these lie farther."""
    reached = np.where(over, farther(heights, ends[:, None]), heights)
    return np.asarray(farther.reduce([heights, *reached], axis=0))


@cached(PARTS_HELD)
def _box(part: BuiltPart) -> FloatArray:
    """(2, 3) lowest and highest corner of the outlines of a part's plates."""
    rims = [plate.map.to_boat(plate.outer.polyline(ROUND)) for plate in part.part.plates]
    points = np.concatenate(rims)
    return np.array([points.min(axis=0), points.max(axis=0)])


def _heavy(boat: Boat, path: str, weight: AnyWeight, mass: float) -> Iterator[Finding]:
    own = weight.mass_kg or 0.0
    is_ballast = path.startswith("weights.") or "ballast" in path
    if getattr(weight, "replaced_by", None):  # the weight of its steel comes from the old part
        return
    most = (BALLAST_SHARE if is_ballast else LARGE_SHARE) * mass
    if path.startswith("conditions."):
        most = max(most, PERSON_KG * (boat.document.boat.persons or 0))
    if own > most:
        sentence = (
            f"{path_name(path)} weighs {own:,.0f} kg, {100.0 * own / mass:.0f} % of the boat: "
            "is the mass right?"
        )
        yield Finding("heavy", Severity.WARN, f"{path}.mass_kg", sentence, COMMON_PRACTICE)


def _known(path: str, weight: AnyWeight) -> Iterator[Finding]:
    """A plus/minus that goes with neither the mass nor where the figure is from."""
    own, spread, place = weight.mass_kg, weight.plus_minus_kg, weight.plus_minus_m
    if own and spread:
        share = spread / own
        origin = weight.from_ or "guessed"
        if not TOO_SURE[origin] <= share <= DOUBTFUL:
            sentence = (
                f"{path_name(path)}, {origin}, weighs {own:g} ± {spread:g} kg, or "
                f"{100.0 * share:.2g} %: is the ± right?"
            )
            where = f"{path}.plus_minus_kg"
            yield Finding("odd-plus-minus", Severity.WARN, where, sentence, COMMON_PRACTICE)
    if place and max(place) > FAR_M:
        sentence = (
            f"The place of {path_name(path)} is known to ± {mm_of_m(max(place)):,.0f} mm: is "
            "that right?"
        )
        where = f"{path}.plus_minus_m"
        yield Finding("odd-plus-minus", Severity.WARN, where, sentence, COMMON_PRACTICE)


def _tied(boat: Boat, path: str, one: object) -> Iterator[Finding]:
    """What rises with a part by more than a part grows."""
    tie: items.RisesWith | None = getattr(one, "rises_with", None)
    if tie is None:
        return
    try:
        rise = number_at(boat.document, tie.path) - tie.from_m
    except ModelError:  # of an option that is not built here
        return
    if abs(rise) > RISE:
        way = "rises" if rise > 0.0 else "comes down"
        sentence = (
            f"{path_name(path)} {way} {mm_of_m(abs(rise)):,.0f} mm with {path_name(tie.path)}, "
            f"which was {tie.from_m:g} m: is that right?"
        )
        where = f"{path}.rises_with.from_m"
        yield Finding("rises-far", Severity.WARN, where, sentence, COMMON_PRACTICE)


def _reach(boat: Boat, path: str, weight: AnyWeight) -> Iterator[Finding]:
    """A weight that lies where it may not, or may lie off the boat."""
    reach = getattr(weight, "may_lie_m", None)
    at = getattr(weight, "to_m", None) or weight.at_m
    if reach is None or at is None:
        return
    fore, aft = boat.hull.stem_x - BEYOND_ENDS, boat.hull.transom_x + BEYOND_ENDS
    if reach.x is not None and not fore <= reach.x[0] <= reach.x[1] <= aft:
        sentence = (
            f"{path_name(path)} may be placed from {reach.x[0]:g} to {reach.x[1]:g} m aft, "
            "partly off the boat: is that right?"
        )
        yield Finding("lies-elsewhere", Severity.WARN, f"{path}.may_lie_m.x", sentence)
    for axis, place in zip("xyz", at, strict=True):
        ends = getattr(reach, axis)
        if ends is not None and not ends[0] <= place <= ends[1]:
            sentence = (
                f"{path_name(path)} lies at {axis} {place:g} m, outside the range from "
                f"{ends[0]:g} to {ends[1]:g} m it may be placed in: move it, or widen the "
                "range."
            )
            where = f"{path}.may_lie_m.{axis}"
            yield Finding("lies-elsewhere", Severity.WARN, where, sentence)


def _replaced(boat: Boat) -> Iterator[Finding]:
    """Old steel that is taken off far from its part, or weighs another order of magnitude."""
    for name, change in boat.document.changes.items():
        if change.replaces is None:
            continue
        old = boat.existing[change.replaces.removeprefix("existing.")]
        off = {
            key: one
            for key, one in change.removes.items()
            if isinstance(one, items.Removed) and one.replaced_by
        }
        if not off or not old.part.plates:
            continue
        total = sum(one.mass_kg for one in off.values())
        yield from _steel_off(f"changes.{name}.removes", old, total)
        low, high = _box(old)
        for key, one in off.items():
            away = float(
                np.linalg.norm(np.maximum(np.maximum(low - one.at_m, one.at_m - high), 0))
            )
            if away > BEYOND_ENDS:
                sentence = (
                    f"{path_name(key)} is removed {mm_of_m(away):,.0f} mm away from "
                    f"{path_name(old.path)}, which is replaced: is the place right?"
                )
                where = f"changes.{name}.removes.{key}.at_m"
                yield Finding("off-its-part", Severity.WARN, where, sentence, COMMON_PRACTICE)


def _steel_off(place: str, old: BuiltPart, total: float) -> Iterator[Finding]:
    plates = old.steel.mass
    if total and not plates / 3.0 <= total <= plates * 3.0:
        sentence = (
            f"The old steel removed weighs {total:,.0f} kg, but {path_name(old.path)} weighs "
            f"{plates:,.0f} kg by its dimensions: is the mass right?"
        )
        yield Finding("old-steel", Severity.WARN, place, sentence, COMMON_PRACTICE)
