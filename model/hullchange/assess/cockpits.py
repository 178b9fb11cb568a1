"""Each cockpit full to its coamings: what it holds, how high its sole lies, how it drains."""

from collections.abc import Callable
from dataclasses import replace
from math import pi

import numpy as np

from hullchange.answer.heeled import CockpitResult
from hullchange.answer.wire import Stage
from hullchange.assess.criteria import criterion_result
from hullchange.boat.boat import Boat
from hullchange.boat.built import BuiltPart
from hullchange.boat.openings import edges_of
from hullchange.criteria.cockpit import (
    Emptied,
    Recess,
    RecessLayer,
    drain_time,
    drainage,
    sill_height,
    standing_water,
)
from hullchange.criteria.criterion import CriterionAnswer, CriterionOutcome
from hullchange.criteria.facts import Absent
from hullchange.floating.equilibrium import Equilibrium
from hullchange.geometry.frame import FloatArray
from hullchange.parts.parameters import Cockpit
from hullchange.units import m_of_mm, mm_of_m

NEAR_END = 0.05  # [m] an opening this close to the forward end is the companionway
CM2_PER_M2 = 1e4


HeightSd = Callable[[FloatArray], float]
"""One standard deviation [m] of the height of a place (3,) above the water."""


def cockpits_of(
    boat: Boat, stage: Stage, rest: Equilibrium, height_sd: HeightSd | None
) -> tuple[CockpitResult, ...]:
    """The cockpits of a boat.

    Args:
        boat: everything built.
        stage: which boat.
        rest: she afloat in the reference condition.
        height_sd: its uncertainty; without it there is no plus/minus.
    """
    floats = {piece.id for piece in rest.envelope.pieces}
    built = boat.existing if stage == "as_found" else {**boat.existing, **boat.parts}
    return tuple(
        _cockpit(boat, (stage, rest), part, part.dimensions, height_sd)
        for part in built.values()
        if isinstance(part.dimensions, Cockpit) and part.id in floats
    )


def _cockpit(
    boat: Boat,
    afloat: tuple[Stage, Equilibrium],
    part: BuiltPart,
    given: Cockpit,
    height_sd: HeightSd | None,
) -> CockpitResult:
    stage, rest = afloat
    foot_length, foot_width, foot_depth = given.foot_well_m
    seat_length, seat_width, seat_depth = given.seat_well_m
    sole_z = given.deck_z_m - seat_depth - foot_depth
    coaming = max(0.0, given.coaming_top_z_m - given.deck_z_m)
    fore, half = given.foot_well_forward_m, foot_width / 2.0
    ends, sides = (fore, fore + foot_length), (-half, half)
    corners = np.array([(x, y, sole_z) for x in ends for y in sides])
    heights = rest.plane.height_above(corners)
    above_sea, lowest = float(heights.min()), corners[int(np.argmin(heights))]
    recess = Recess(
        (
            RecessLayer(foot_length * foot_width, foot_depth),
            *(RecessLayer(seat_length * seat_width, z) for z in (seat_depth, coaming)),
        ),
        seat_length,
        above_sea,
    )
    area = _drain_area(given)
    emptied = None if isinstance(area, Absent) else drain_time(recess, area)
    sd = None if height_sd is None else height_sd(lowest)
    asked = [drainage(recess, area, boat.hull.length), _left_standing(recess, area, sd)]
    asked += [sill_height(sill - sole_z) for sill in _sills(boat, stage, given)]
    return CockpitResult(
        id=part.path,
        stage=stage,
        volume_m3=recess.volume,
        water_kg=recess.volume * rest.water_density,
        sole_above_sea_mm=mm_of_m(above_sea),
        drain_area_cm2=None if isinstance(area, Absent) else area * CM2_PER_M2,
        drain_time_s=emptied.seconds if isinstance(emptied, Emptied) else None,
        criteria=tuple(criterion_result(answer) for answer in asked),
    )


def _left_standing(recess: Recess, area: float | Absent, sd: float | None) -> CriterionAnswer:
    """The rule on standing water, with what the doubt of the sole's height makes of it."""
    found = standing_water(recess, area)
    if sd is None or not isinstance(found, CriterionOutcome):
        return found
    ends = [
        standing_water(replace(recess, sole_above_sea=recess.sole_above_sea + by), area)
        for by in (-sd, sd)
    ]
    values = [one.value for one in ends if isinstance(one, CriterionOutcome)]
    return replace(found, plus_minus=abs(values[1] - values[0]) / 2.0)


def _drain_area(given: Cockpit) -> float | Absent:
    """[m^2] of all drains; a well without any in the document may have some."""
    if given.drains is None:
        return Absent("No drains are listed for it: give their number and diameter.")
    return given.drains.count * pi / 4.0 * m_of_mm(given.drains.diameter_mm) ** 2


def _sills(boat: Boat, stage: Stage, given: Cockpit) -> list[float]:
    """Heights [m] of the companionway sills in the forward end of a well."""
    return [
        float(edge[:, 2].min())
        for _, edge in edges_of(boat.document, stage)
        if np.abs(edge[:, 0] - given.x_forward_m).max() <= NEAR_END
        and np.abs(edge[:, 1]).max() <= given.seat_well_m[1] / 2.0
    ]
