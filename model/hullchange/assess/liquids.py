"""Levers and liquids: wells that refill at each heel, and the virtual rise of G."""

from math import radians

import numpy as np

from hullchange.afloat.floats_in_conditions import FloatInCondition
from hullchange.afloat.stability import SIDES, vanishing_deg
from hullchange.afloat.whole_circle import COARSE_CIRCLE
from hullchange.answer.heeled import FreeSurfaceResult, WellsFullResult
from hullchange.answer.wire import Side
from hullchange.boat.boat import Boat
from hullchange.boat.variants import as_found, refit
from hullchange.boat.wells import Well, filled_to_spill, wells_of
from hullchange.cache import cached
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, Tank
from hullchange.floating.levers import flooded_levers, righting_levers, with_virtual_rise
from hullchange.geometry.frame import WaterPlane
from hullchange.geometry.surface import difference
from hullchange.hull.hull import Hull
from hullchange.units import mm_of_m

COMPARED_AT_DEG = 30.0


def wells_full(boat: Boat, row: FloatInCondition) -> WellsFullResult | None:
    """Levers with every flooded well filled to its lowest spill point at each heel.

    The wells of `FloatInCondition.rest` hold what they hold at rest, whatever she heels to;
    these spill and fill. None where the condition floods no well.
    """
    variant = as_found(boat) if row.stage == "as_found" else refit(boat)
    wells = wells_of(boat, variant, row.condition)
    if not wells:
        return None
    density, weights = row.condition.water_density, row.afloat.weights
    solid = weights.account
    dry = Loading(solid.mass, np.array(solid.centre), weights.tanks)

    def water_in(plane: WaterPlane) -> tuple[Tank, ...]:
        return tuple(filled_to_spill(well, plane, density) for well in wells)

    envelope, start = _with_coamings(boat.hull, row.rest.envelope, wells), row.rest.plane
    curve = flooded_levers(envelope, dry, density, COARSE_CIRCLE, water_in, start)
    water = [sum(tank.mass for tank in water_in(plane)) for plane in curve.planes]
    return WellsFullResult(
        heel_deg=tuple(np.round(np.degrees(curve.heels), 3).tolist()),
        gz_m=tuple(np.round(curve.gz, 5).tolist()),
        water_kg=tuple(np.round(water, 1).tolist()),
        vanishing_angle_deg=min(vanishing_deg(curve, side) for side in SIDES),
    )


@cached(32)
def _with_coamings(hull: Hull, shell: Envelope, wells: tuple[Well, ...]) -> Envelope:
    """What keeps the sea out of a full well, and what of it stands above the deck.

    There the sea holds up the water in the well once it has come over the deck outside.
    """
    above = (Piece(difference(w.inside, hull.surface), True, w.name) for w in wells)
    return Envelope((*shell.pieces, *(p for p in above if len(p.surface.faces))))


def free_surface(row: FloatInCondition, worse: Side) -> FreeSurfaceResult:
    """The lever at 30 degrees by two methods: liquids that move, and G raised by them.

    Args:
        row: the float.
        worse: side to heel her to.
    """
    rest, heel = (
        row.rest.upright,
        radians(COMPARED_AT_DEG) * (1.0 if worse == "starboard" else -1.0),
    )
    rise = rest.gm_transverse_solid - rest.gm_transverse
    true = _lever(row, rest.loading, heel)
    virtual = _lever(row, with_virtual_rise(rest), heel) if rise > 0.0 else true
    return FreeSurfaceResult(
        heel_deg=COMPARED_AT_DEG,
        rise_mm=mm_of_m(rise),
        gz_m=true,
        gz_virtual_m=virtual,
        difference_mm=mm_of_m(virtual - true),
    )


def _lever(row: FloatInCondition, loading: Loading, heel: float) -> float:
    rest = row.rest
    curve = righting_levers(
        rest.envelope, loading, rest.water_density, np.array([heel]), rest.plane
    )
    return float(curve.gz[0])
