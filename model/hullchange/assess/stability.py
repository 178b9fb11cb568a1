"""A float heeled round, as the answer has it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import pi
from typing import Any

import numpy as np

from hullchange.afloat.at_rest import NO_REST
from hullchange.afloat.floats_in_conditions import Answered, FloatInCondition
from hullchange.afloat.heeled_uncertainty import (
    GREATEST,
    VANISHING,
    HeeledSpread,
    heeled_spread,
)
from hullchange.afloat.stability import (
    SIDES,
    Stability,
    deck_edge,
    reached_deg,
    stability_of,
    vanishing_deg,
)
from hullchange.afloat.uncertainty_shares import largest
from hullchange.answer.assessment import ConditionAnswer, ConditionResult, UnansweredResult
from hullchange.answer.heeled import OpeningResult, RestResult, RightingLevers, SideAngles
from hullchange.answer.wire import Side
from hullchange.assess.criteria import criteria_of
from hullchange.assess.flooding import by_rule, critical_of, headline, heels_of
from hullchange.assess.liquids import free_surface, wells_full
from hullchange.boat.boat import Boat
from hullchange.criteria.definitions import SAILING_CODE_OPENINGS, downflooding_by
from hullchange.criteria.facts import Absent, LeverFacts
from hullchange.criteria.levers import Angle, AtHeel
from hullchange.criteria.roll import roll_period
from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.units import deg_of_rad, mm_of_m

NO_LEVERS = NO_REST | {"levers-incomplete"}
UP_TO_DEG = (30.0, 40.0, 90.0)


@dataclass(frozen=True, eq=False)
class HeeledAnswer:
    """The answer for a float heeled round, and what it was read from.

    Attributes:
        answer: with levers, openings and criteria.
        row: the float.
        stability: it heeled round.
        spread: what is not known of that.
    """

    answer: ConditionResult
    row: FloatInCondition
    stability: Stability
    spread: HeeledSpread


def with_stability(
    boat: Boat, row: FloatInCondition, answer: ConditionResult, beam: tuple[float, float]
) -> HeeledAnswer:
    """The answer for a float, with levers, openings and criteria.

    Args:
        boat: everything built.
        row: the float.
        answer: what was answered for it upright.
        beam: greatest, and on the waterline [m].
    """
    heeled = stability_of(boat, row, beam)
    read = answer.model_copy(update=_angles(boat, heeled) | _flooded(row, heeled))
    ends = [read.vanishing_angle_deg, read.downflooding_angle_deg]
    read = read.model_copy(update={"range_deg": min(end for end in ends if end is not None)})
    spread, bodies = heeled_spread(row.spread, heeled, read), boat.hull.guessed
    full = read.model_copy(
        update={
            "righting_levers": _levers(heeled, spread.lever_sd()),
            "heeled_plus_minus": spread.plus_minus,
            "shares": read.shares.model_copy(
                update={
                    "vanishing_angle_deg": largest(
                        row.causes, spread.slopes[VANISHING], guessed=bodies
                    ),
                    "greatest_gz_m": largest(
                        row.causes, spread.slopes[GREATEST], guessed=bodies
                    ),
                }
            ),
            "sampled": spread.sampled,
            "wells_full": wells_full(boat, row),
            "free_surface": free_surface(row, heeled.worse),
            "worse_side": heeled.worse,
            "downflooding_by_rule": by_rule(heeled.facts),
            "rests": tuple(
                RestResult(
                    heel_deg=deg_of_rad(rest.heel), stable=rest.stable, inverted=rest.inverted
                )
                for rest in heeled.counted.equilibria
            ),
            "criteria": criteria_of(boat, heeled, spread, read),
            "not_followed": heeled.facts.why if isinstance(heeled.facts, Absent) else "",
            "roll_period_s": _roll(row, beam[1]),
        }
    )
    return HeeledAnswer(full, row, heeled, spread)


CHANGED = (
    *("vanishing_angle_port_deg", "vanishing_angle_starboard_deg", "coaming_angle_deg"),
    *("vanishing_angle_without_house_deg", "deck_edge_angle_deg", "greatest_gz_at_deg"),
    *("downflooding_angle_in_use_deg", "downflooding_angle_all_open_deg"),
    "downflooding_by_area_deg",
)


def changed_angles(before: ConditionResult, after: ConditionResult) -> dict[str, Any]:
    """What has changed of what is read off the levers without a plus/minus of its own."""

    def less(now: float | None, was: float | None) -> float | None:
        return None if now is None or was is None else now - was

    old, new = before.area_under_gz or {}, after.area_under_gz or {}
    wells, rolls = zip(*map(_of_both, (after, before)), strict=True)
    return {
        **{name: less(getattr(after, name), getattr(before, name)) for name in CHANGED},
        "vanishing_angle_wells_full_deg": less(*wells),
        "roll_period_s": less(*rolls),
        "area_under_gz": {name: new[name] - old[name] for name in new if name in old} or None,
    }


def _of_both(answer: ConditionResult) -> tuple[float | None, float | None]:
    """Vanishing angle with the wells full, and roll period; None where there is none."""
    wells, rolls = answer.wells_full, answer.roll_period_s
    return None if wells is None else wells.vanishing_angle_deg, rolls[0] if rolls else None


def heeled_or_upright(
    one: Answered | UnansweredResult,
    heel: Callable[[FloatInCondition, ConditionResult], HeeledAnswer],
) -> HeeledAnswer | ConditionAnswer:
    """A boat heeled round; where she cannot be followed, upright alone and why.

    Args:
        one: answered upright, or not at all.
        heel: how she is heeled round.
    """
    if isinstance(one, UnansweredResult):
        return one
    try:
        return heel(one.row, one.answer)
    except ModelError as error:
        if error.code not in NO_LEVERS:
            raise
        return one.answer.model_copy(update={"not_followed": error.sentence})


def _levers(heeled: Stability, sd: FloatArray) -> RightingLevers:
    heels = heeled.counted.heels
    return RightingLevers(
        heel_deg=_rounded(np.degrees(heels), 3),
        gz_m=_rounded(heeled.counted.gz, 5),
        gz_plus_minus_m=_rounded(sd, 5),
        gz_well_dry_m=_rounded(np.asarray(heeled.dry.gz_at(heels)), 5),
        gz_without_house_m=_rounded(np.asarray(heeled.bare.gz_at(heels)), 5),
        trim_deg=_rounded(np.degrees(heeled.counted.trims), 3),
        water_offset_m=_rounded(heeled.counted.offsets, 4),
    )


def _rounded(values: FloatArray, digits: int) -> tuple[float, ...]:
    return tuple(np.round(values, digits).tolist())


def _angles(boat: Boat, heeled: Stability) -> dict[str, Any]:
    """Vanishing and downflooding angles, range, areas, greatest lever, deck edge."""
    curve = heeled.counted
    port, starboard = (vanishing_deg(curve, side) for side in SIDES)
    vanishing = min(port, starboard)
    sides = {
        side: _to(heeled, side, boat, vanishes)
        for side, vanishes in zip(SIDES, (port, starboard), strict=True)
    }
    angles = {name: _smaller(sides, name) for name in SideAngles.model_fields}
    top = curve.maximum(heeled.worse)
    return {
        "vanishing_angle_deg": vanishing,
        "vanishing_angle_without_house_deg": min(vanishing_deg(heeled.bare, s) for s in SIDES),
        "vanishing_angle_port_deg": port,
        "vanishing_angle_starboard_deg": starboard,
        "greatest_gz_m": top.gz,
        "greatest_gz_at_deg": abs(deg_of_rad(top.heel)),
        **angles,
        "sides": sides,
        "area_under_gz": _areas(_of_worse(heeled), vanishing, curve.energy_gap),
    }


def _to(heeled: Stability, side: Side, boat: Boat, vanishes: float) -> SideAngles:
    """What goes under at which heel to one side, and how far she rights to it."""
    curve, facts, found = heeled.counted, heeled.facts, heels_of(heeled.openings[side])
    by_area = None
    if not isinstance(facts, Absent):
        own = next(one for one in facts if one.side == side)
        by_area = _degrees(downflooding_by(own, SAILING_CODE_OPENINGS).angle)
    return SideAngles(
        range_deg=vanishes if found.unclosed is None else min(vanishes, found.unclosed),
        downflooding_angle_deg=found.unclosed,
        downflooding_angle_in_use_deg=found.in_use,
        downflooding_angle_all_open_deg=found.any,
        downflooding_by_area_deg=by_area,
        deck_edge_angle_deg=reached_deg(curve.immersion_angle(deck_edge(boat), side)),
        coaming_angle_deg=reached_deg(heeled.coaming[side]),
    )


def _flooded(row: FloatInCondition, heeled: Stability) -> dict[str, Any]:
    """Openings, and the first of them that nothing closes."""
    openings = tuple(_opening(row, heeled, k) for k in range(len(heeled.edges)))
    critical = critical_of(openings)
    return {
        "openings": openings,
        "critical_opening": None if critical is None else critical.id,
        "critical_side": None if critical is None else critical.side,
        "flooding_sentence": headline(openings),
    }


def _smaller(sides: Mapping[Side, SideAngles], name: str) -> float | None:
    known = [getattr(one, name) for one in sides.values()]
    return min((angle for angle in known if angle is not None), default=None)


def _degrees(angle: Angle) -> float | None:
    return deg_of_rad(angle.heel) if isinstance(angle, AtHeel) else None


def _of_worse(heeled: Stability) -> LeverFacts | Absent:
    """The facts of the side with the smaller area."""
    if isinstance(heeled.facts, Absent):
        return heeled.facts
    return next(one for one in heeled.facts if one.side == heeled.worse)


def _areas(facts: LeverFacts | Absent, vanishing: float, gap: float) -> dict[str, float] | None:
    """Areas to the worse side [m rad], each name carrying its bounds and unit."""
    if isinstance(facts, Absent):
        return None
    areas = {
        f"from_0_to_{up_to:.0f}_deg_m_rad": facts.levers.area(0.0, up_to * pi / 180.0)
        for up_to in UP_TO_DEG
    }
    areas["from_30_to_40_deg_m_rad"] = facts.levers.area(pi / 6.0, 40.0 * pi / 180.0)
    # energy over weight rises by the same areas: how far the two methods differ anywhere
    areas["energy_gap_m_rad"] = gap
    areas["from_0_to_vanishing_m_rad"] = facts.levers.area(0.0, vanishing * pi / 180.0)
    return areas


def _opening(row: FloatInCondition, heeled: Stability, number: int) -> OpeningResult:
    edge = heeled.edges[number]
    found = {side: _degrees(heeled.openings[side][number].immersion) for side in SIDES}
    wet = {side: angle for side, angle in found.items() if angle is not None}
    first = min(wet.items(), key=lambda item: item[1], default=None)
    return OpeningResult(
        id=edge.id,
        side=edge.side,
        immersion_angle_deg=None if first is None else first[1],
        heeled_to=None if first is None else first[0],
        immersion_angles_deg=found,
        height_mm=mm_of_m(float(row.rest.plane.height_above(edge.points).min())),
        edge_m=tuple((x, y, z) for x, y, z in edge.points.tolist()),
        area_m2=edge.opening.area_m2,
        closing=edge.opening.closing,
        stands_open=edge.stands_open,
        into_hull=edge.into_hull,
        regular=edge.opening.regular,
        progressive=edge.opening.progressive,
        tank_air_pipe=edge.opening.tank_air_pipe,
    )


def _roll(row: FloatInCondition, beam: float) -> tuple[float, float, float] | None:
    if row.rest.capsized:
        return None
    period = roll_period(row.rest.upright.gm_transverse, beam)
    return None if isinstance(period, Absent) else (period.value, period.low, period.high)
