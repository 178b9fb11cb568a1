"""UK MGN 280, 11.8, and the UK sailing code, 11.1: sailing monohulls, as transcribed."""

from math import cos

from hullchange.criteria.criterion import (
    Criterion,
    Evaluated,
    Publication,
    Quantity,
    Rule,
    Sense,
)
from hullchange.criteria.definitions import (
    MGN_280_OPENINGS,
    SAILING_CODE_OPENINGS,
    Definition,
    downflooding_by,
)
from hullchange.criteria.facts import LeverFacts
from hullchange.criteria.general import flooding_quantity, flooding_remarks, in_degrees
from hullchange.criteria.levers import Beyond, SideLevers
from hullchange.findings import Grade
from hullchange.units import deg_of_rad, rad_of_deg

MGN_280 = Publication(
    "UK MGN 280, Small Vessels in Commercial Use, alternative construction standards",
    "as published in 2024",
    "UK small commercial vessels under 24 m; conditions: departure 100 %, arrival 10 %, a "
    "growth margin of up to 5 % of light weight at the upper deck amidships at the "
    "authority's discretion",
)
UK_CODE = Publication(
    "UK Code of Practice for small commercial sailing vessels",
    "as transcribed",
    "UK small commercial sailing vessels under 24 m, in departure with all stores aboard",
)
SEEN = "text opened"
FIXTURES = (
    "The volume of fixtures on mast, rigging or superstructure must not be counted in the "
    "range (11.8.1, note 2)."
)
LAST_FLOODING = rad_of_deg(60.0)
RIGHT_ROUND = rad_of_deg(179.9)
POWER = 1.3

RANGE_FLOOR = Criterion(
    id="mgn280-range-90",
    title="Range of positive stability, the least for any boat",
    document=MGN_280,
    clause="11.8.2",
    formula="angle of vanishing stability, against the minimum of 90°; the table of 11.9.5 "
    "may require more",
    limit="at least 90°",
    sense=Sense.AT_LEAST,
    unit="deg",
    grade=Grade.B,
    seen=SEEN,
)
RANGE_TABLE = Criterion(
    id="mgn280-range-table",
    title="Range of positive stability by length",
    document=MGN_280,
    clause="11.8.2 with table 11.9.5",
    formula="angle of vanishing stability, against 90 + 60 (24 - length) / 17, by area of "
    "operation",
    limit="at least 90 + 60 (24 - length) / 17 degrees and 90° (less in restricted areas)",
    sense=Sense.AT_LEAST,
    unit="deg",
    grade=Grade.C,
    seen="clause opened, table from memory",
)


def _steady(code: str, document: Publication, clause: str, flooding: Definition) -> Criterion:
    return Criterion(
        id=f"{code}-steady-heel",
        title="Steady heel from which a gust does not flood her",
        document=document,
        clause=clause,
        formula="heel at which GZ meets 0.5 WLO cos^1.3(heel), WLO = GZf / cos^1.3(f), f the "
        "downflooding angle by aggregate area, or 60° if that is less",
        limit="more than 15°",
        sense=Sense.MORE_THAN,
        unit="deg",
        grade=Grade.B,
        seen=SEEN,
        flooding=flooding,
    )


STEADY_HEEL = _steady("mgn280", MGN_280, "11.8.3", MGN_280_OPENINGS)
STEADY_HEEL_UK = _steady("uk-sailing", UK_CODE, "11.1.1.3", SAILING_CODE_OPENINGS)


def wind_lever_upright(levers: SideLevers, floods_at: float) -> tuple[float, float]:
    """WLO [m], the upright lever of a gust that heels her till she floods, and that heel [rad].

    She is taken to flood at the downflooding angle or 60 degrees, whichever is less.
    """
    flooded = min(floods_at, LAST_FLOODING)
    return levers.at(flooded) / cos(flooded) ** POWER, flooded


def _steady_heel(facts: LeverFacts, by: Definition) -> Evaluated:
    found = downflooding_by(facts, by)
    upright, flooded = wind_lever_upright(facts.levers, found.angle.heel)
    remarks = flooding_remarks(facts, found)
    inputs = (
        Quantity("f", deg_of_rad(flooded), "deg"),
        Quantity("GZf", facts.levers.at(flooded), "m"),
        Quantity("WLO", upright, "m"),
        flooding_quantity(found),
    )
    if upright <= 0.0:
        none = (
            "No righting lever is left at the flooding angle: no steady heel is safe from "
            "a gust."
        )
        return Evaluated(0.0, 15.0, inputs, (none, *remarks), found)
    # beyond the flooding angle the curves need not be compared: they meet before it
    meets = facts.levers.meets(lambda heel: 0.5 * upright * cos(min(heel, flooded)) ** POWER)
    return Evaluated(deg_of_rad(meets.heel), 15.0, inputs, remarks, found)


def _range(facts: LeverFacts, limit_deg: float, *more: Quantity) -> Evaluated:
    vanishing = facts.levers.vanishing
    whole = isinstance(vanishing, Beyond) and vanishing.heel > RIGHT_ROUND
    remarks = ("She rights herself from any heel.",) if whole else ()
    inputs = (in_degrees("angle of vanishing stability", vanishing), *more)
    return Evaluated(deg_of_rad(vanishing.heel), limit_deg, inputs, (*remarks, FIXTURES))


def _range_by_length(facts: LeverFacts) -> Evaluated:
    length = facts.boat.hull_length
    asked = max(90.0, 90.0 + 60.0 * (24.0 - length) / 17.0)
    return _range(facts, asked, Quantity("length", length, "m"))


RULES = (
    Rule(RANGE_FLOOR, lambda f: _range(f, 90.0)),
    Rule(RANGE_TABLE, _range_by_length),
    Rule(STEADY_HEEL, lambda f: _steady_heel(f, MGN_280_OPENINGS)),
    Rule(STEADY_HEEL_UK, lambda f: _steady_heel(f, SAILING_CODE_OPENINGS)),
)
"""In the order of the clauses; the older code's, whose openings were read, last."""
