"""Findings on a float that does not stay upright, or hardly does."""

from collections.abc import Iterator

import numpy as np

from hullchange.afloat.floats_in_conditions import FloatInCondition
from hullchange.afloat.uncertainty import GM, PERCENTILES
from hullchange.answer.assessment import ConditionResult
from hullchange.answer.wire import Side
from hullchange.findings import Finding, Severity
from hullchange.plain_words import gm_in_words, in_condition

STANDS_TO_DEG = 20.0
"""A gust on the rig or the crew at one rail heels a yacht so far: an own choice."""
WORTH_A_DOUBT = 0.01
REMEDY = "Take weight off high up, or put it low down."
OF_AS_FOUND = (
    "If in fact she lies afloat and upright, correct the height of her centre of gravity "
    "(survey.vcg) or what is aboard."
)


def upright_findings(
    row: FloatInCondition, answer: ConditionResult, boat_name: str
) -> Iterator[Finding]:
    """Findings on a float that does not stay upright, hardly does, or may not.

    Args:
        row: the float.
        answer: what was answered for it; without levers, how far she rights is not judged.
        boat_name: as it stands in a sentence.
    """
    does = _falls(row, answer)
    if does:
        remedy = OF_AS_FOUND if answer.stage == "as_found" else REMEDY
        sentence = f"The {boat_name} {does} {remedy}"
        yield Finding("unstable-upright", Severity.FAIL, _place(row), sentence)
    else:
        yield from _may_not_stay_upright(row, boat_name)


def _falls(row: FloatInCondition, answer: ConditionResult) -> str:
    """What she does instead of staying upright; nothing where she stays."""
    rest, where = row.rest, in_condition(row.condition.id)
    heel = float(np.degrees(rest.plane.heel))
    gm = rest.upright.gm_transverse
    if rest.capsized:
        starts = "unstable upright" if gm <= 0.0 else "not stable enough to stay upright"
        return (
            f"is {starts} {where} (GM upright {gm_in_words(gm)} m): let go, she capsizes and "
            f"comes to rest upside down, at {abs(heel):.0f}°."
        )
    if gm <= 0.0:
        return (
            f"is unstable upright {where} (GM upright {gm_in_words(gm)} m): she lolls to "
            f"{abs(heel):.1f}°."
        )
    vanishes = {
        side: angle
        for side, angle in (
            ("port", answer.vanishing_angle_port_deg),
            ("starboard", answer.vanishing_angle_starboard_deg),
        )
        if angle is not None and angle < STANDS_TO_DEG
    }
    if not vanishes:
        return ""
    side: Side = (
        "port"
        if vanishes.get("port", 180.0) < vanishes.get("starboard", 180.0)
        else "starboard"
    )
    return (
        f"barely stays upright {where} (GM upright {gm_in_words(gm)} m): to {side} she "
        f"rights herself only up to {vanishes[side]:.0f}°; a push beyond that "
        f"{_on_to(answer, side)}."
    )


def _on_to(answer: ConditionResult, side: Side) -> str:
    """Where a push past the vanishing angle of a side leads."""
    way = 1.0 if side == "starboard" else -1.0
    gone = answer.vanishing_angle_starboard_deg if way > 0 else answer.vanishing_angle_port_deg
    beyond = (way * r.heel_deg for r in answer.rests if r.stable and not r.inverted)
    lies = min((heel for heel in beyond if heel > (gone or 0.0)), default=None)
    return "capsizes her" if lies is None else f"lays her over to {lies:.0f}°"


def _may_not_stay_upright(row: FloatInCondition, boat_name: str) -> Iterator[Finding]:
    """Where the draws show it."""
    spread = row.spread
    if not (spread.doubtful and spread.unstable_share >= WORTH_A_DOUBT):
        return
    low, _, high = np.percentile(spread.drawn[:, GM], PERCENTILES)
    share, over = 100.0 * spread.unstable_share, 100.0 * spread.capsized_share
    falls = "capsizes" if share - over < 0.5 else "does not stay upright"
    yield Finding(
        "may-be-unstable",
        Severity.WARN,
        _place(row),
        f"In {share:.0f} % of the sampled weight combinations the {boat_name} {falls} "
        f"{in_condition(row.condition.id)}: GM upright is between {gm_in_words(low)} and "
        f"{gm_in_words(high)} m (5 to 95 %). Put weight low down, or incline her "
        "to know her weight and its height better.",
    )


def _place(row: FloatInCondition) -> str:
    return f"conditions.{row.condition.id}"
