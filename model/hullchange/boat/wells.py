"""Wells that fill with water: to the lowest point of their rim in the attitude reached."""

from dataclasses import dataclass, replace

import numpy as np

from hullchange.answer.wire import Stage
from hullchange.boat.boat import Boat
from hullchange.boat.built import BuiltPart
from hullchange.boat.conditions import LoadingCondition
from hullchange.boat.openings import edges_of
from hullchange.boat.variants import Variant
from hullchange.cache import cached
from hullchange.floating.equilibrium import Tank
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import FloatArray, WaterPlane
from hullchange.geometry.surface import Surface, box, intersection, union
from hullchange.parts.parameters import Cockpit

NO_LID = 0.05  # [m] above the coaming: free about rest, where further over it would spill
NEAR_RIM = 0.05  # [m] an opening this close to the well's side spills out of it


@dataclass(frozen=True, eq=False)
class Well:
    """A well and where it spills.

    Attributes:
        name: of its part.
        inside: closed volume up to the coaming top.
        open: the same with its walls carried on a little, so that no lid is where she rests.
        spills: (n, 3) points of its rim over which water runs out [m].
    """

    name: str
    inside: Surface
    open: Surface
    spills: FloatArray


def wells_of(boat: Boat, variant: Variant, condition: LoadingCondition) -> tuple[Well, ...]:
    """The wells of a boat that a condition floods.

    A name in the condition is a part, an existing part, or the part whose change replaces the
    existing one: each boat floods the well that it has.
    """
    has = {piece.id for piece in variant.bodies}
    aliases = boat.stands_for
    wells = []
    for name in condition.floods:
        same = {name} | {old for old, new in aliases.items() if name in new}
        same |= aliases.get(name, frozenset())
        for part in (*boat.existing.values(), *boat.parts.values()):
            if part.id in same and part.id in has and isinstance(part.dimensions, Cockpit):
                shut = condition.boards_in
                wells.append(
                    _well(boat, part, part.dimensions, None if shut else variant.stage)
                )
    return tuple(wells)


def filled_to_spill(well: Well, sea: WaterPlane, density: float) -> Tank:
    """The well as a tank, filled to its lowest spill point with the boat at an attitude.

    Where the sea stands above that point, it stands in the well as high.

    Args:
        well: what fills.
        sea: the water's surface.
        density: of the water in it [kg/m^3].
    """
    surface = WaterPlane(sea.up, max(sea.offset, _lowest(well, sea)))
    below = integrals_below(well.inside, surface).volume
    # upside down it holds nothing
    volume = max(0.0, min(below, well.inside.volume))
    return Tank(well.inside, volume, density, well.name)


def held_water(well: Well, sea: WaterPlane, density: float) -> Tank:
    """The same water while she tilts a little and none of it spills: no lid is on it.

    Args:
        well: what fills.
        sea: the water's surface in the attitude it was filled in.
        density: of the water in it [kg/m^3].
    """
    water = filled_to_spill(well, sea, density)
    return water if sea.offset > _lowest(well, sea) else replace(water, surface=well.open)


def _lowest(well: Well, sea: WaterPlane) -> float:
    return float((well.spills @ sea.up).min())


def _well(boat: Boat, part: BuiltPart, dimensions: Cockpit, open_on: Stage | None) -> Well:
    """A well; its sills spill on the boat whose boards are out, on none where they are in."""
    # boards out: a companionway in the well's forward end is the lowest point of its rim
    sills = [] if open_on is None else _sills(boat, dimensions, open_on)
    spills = np.array([*coaming_corners(dimensions), *sills])
    inside = _inside(part, dimensions.coaming_top_z_m)
    return Well(part.id, inside, _carried_on(inside, dimensions), spills)


@cached(32)
def _inside(part: BuiltPart, top: float) -> Surface:
    raw = next(body.surface for body in part.part.bodies if not body.adds)
    low, high = raw.bounds
    lid = box(low - 1.0, np.array([high[0] + 1.0, high[1] + 1.0, top]))
    return intersection(raw, lid)


@cached(32)
def _carried_on(inside: Surface, dimensions: Cockpit) -> Surface:
    length, width, depth = dimensions.seat_well_m
    forward, half = dimensions.x_forward_m, width / 2.0
    low = np.array([forward, -half, dimensions.deck_z_m - depth])
    high = np.array([forward + length, half, dimensions.coaming_top_z_m + NO_LID])
    return union(inside, box(low, high))


def coaming_corners(dimensions: Cockpit) -> list[tuple[float, float, float]]:
    """The corners of a coaming's top [m]."""
    length, width, _ = dimensions.seat_well_m
    ends = (dimensions.x_forward_m, dimensions.x_forward_m + length)
    top = dimensions.coaming_top_z_m
    return [(x, side * width / 2.0, top) for x in ends for side in (-1.0, 1.0)]


def _sills(boat: Boat, dimensions: Cockpit, stage: Stage) -> list[list[float]]:
    return [
        point
        for _, edge in edges_of(boat.document, stage)
        for point in edge.tolist()
        if abs(point[0] - dimensions.x_forward_m) <= NEAR_RIM
        and abs(point[1]) <= dimensions.seat_well_m[1] / 2.0
    ]
