"""EU rules for inland waterways, article 15bis.03: passenger vessels under sail."""

import numpy as np

from hullchange.criteria.criterion import (
    Criterion,
    Evaluated,
    Publication,
    Quantity,
    Question,
    Rule,
    Sense,
)
from hullchange.criteria.definitions import INLAND_OPENINGS, counted_openings, downflooding_by
from hullchange.criteria.facts import Absent, LeverFacts, Sails
from hullchange.criteria.general import (
    TO_30,
    TO_40,
    area,
    flooding_remarks,
    heel_of_peak,
    in_degrees,
    lever_from_30,
)
from hullchange.criteria.levers import Angle, Beyond
from hullchange.criteria.openings import lowest_height
from hullchange.findings import Grade
from hullchange.units import STANDARD_GRAVITY, deg_of_rad

ARTICLE = Publication(
    "EU technical rules for inland waterway vessels, article 15bis.03",
    "French order of 30 December 2008, chapter 15 bis",
    "passenger vessels under sail on EU inland waterways, in every loading condition",
)
WIND_PRESSURE = 70.0  # [Pa]
NO_OPENING = Absent("No opening is entered whose height above the water is known.")
LAID_FLAT = "At no heel is the righting lever enough against this wind: she is laid flat."
UNDER_WIND = (
    "under a steady 0.07 kN/m² on the standard sails, with the same lever at every heel"
)


def _record(
    code: str, title: str, ask: tuple[str, str, Sense, str], *, floods: bool = False
) -> Criterion:
    """A record of the article; ``ask`` is formula, limit, sense and unit."""
    formula, limit, sense, unit = ask
    return Criterion(
        id=f"inland-{code}",
        title=title,
        document=ARTICLE,
        clause="paragraphs 2 to 4",
        formula=formula,
        limit=limit,
        sense=sense,
        unit=unit,
        grade=Grade.B,
        seen="text opened in part",
        flooding=INLAND_OPENINGS if floods else None,
    )


def wind_lever(facts: LeverFacts, sails: Sails) -> float:
    """[m] Heeling lever of the article's wind on the sails."""
    arm = sails.centre_height + sails.lateral_depth
    return WIND_PRESSURE * sails.area * arm / (facts.displacement * STANDARD_GRAVITY)


def _blown(facts: LeverFacts) -> tuple[Angle, tuple[Quantity, ...]] | Absent:
    """The heel under wind, and its inputs."""
    sails = facts.boat.sails
    if isinstance(sails, Absent):
        return sails
    lever = wind_lever(facts, sails)
    inputs = (
        Quantity("sail area", sails.area, "m2"),
        Quantity("centre of sails above water", sails.centre_height, "m"),
        Quantity("centre of lateral area below water", sails.lateral_depth, "m"),
        Quantity("displacement", facts.displacement, "kg"),
        Quantity("wind lever", lever, "m"),
    )
    return facts.levers.meets(lambda _: lever), inputs


def _wind_heel(facts: LeverFacts) -> Evaluated | Absent:
    blown = _blown(facts)
    if isinstance(blown, Absent):
        return blown
    angle, inputs = blown
    remarks = (LAID_FLAT,) if isinstance(angle, Beyond) else ()
    return Evaluated(deg_of_rad(angle.heel), 20.0, inputs, remarks)


def _freeboard(facts: LeverFacts) -> Evaluated | Absent:
    blown = _blown(facts)
    if isinstance(blown, Absent):
        return blown
    angle, inputs = blown
    left = float(np.interp(angle.heel, facts.levers.heel, facts.deck_edge))
    return Evaluated(left, 0.0, (in_degrees("heel under wind", angle), *inputs))


def _safety_distance(facts: LeverFacts) -> Evaluated | Absent:
    blown = _blown(facts)
    if isinstance(blown, Absent):
        return blown
    openings, _ = counted_openings(facts, INLAND_OPENINGS)
    if not openings:
        return NO_OPENING
    angle, inputs = blown
    left = lowest_height(openings, facts.levers.heel, angle.heel)
    found = downflooding_by(facts, INLAND_OPENINGS)
    remarks = flooding_remarks(facts, found)
    return Evaluated(left, 0.1, (in_degrees("heel under wind", angle), *inputs), remarks, found)


def _range(facts: LeverFacts) -> Evaluated:
    vanishing = facts.levers.vanishing
    return Evaluated(
        deg_of_rad(vanishing.heel),
        60.0,
        (in_degrees("angle of vanishing stability", vanishing),),
    )


def _area(title: str, start: float, end: float, limit: float) -> Rule:
    low, high = round(deg_of_rad(start)), round(deg_of_rad(end))
    ask = (
        f"area under GZ from {low} to {high}°, or to downflooding if that comes first",
        f"at least {limit:.3f} m·rad",
        Sense.AT_LEAST,
        "m rad",
    )
    question: Question = lambda f: area(f, INLAND_OPENINGS, start, end, limit)  # noqa: E731
    return Rule(_record(f"area-{low}-to-{high}", title, ask, floods=True), question)


WIND_HEEL = _record(
    "wind-heel",
    "Heel under sail in a fresh breeze",
    (f"heel {UNDER_WIND}", "at most 20°", Sense.AT_MOST, "deg"),
)
FREEBOARD = _record(
    "residual-freeboard",
    "Freeboard left under sail in a fresh breeze",
    (f"least height of the deck edge {UNDER_WIND}", "at least 0 m", Sense.AT_LEAST, "m"),
)
SAFETY_DISTANCE = _record(
    "safety-distance",
    "Height of the lowest opening under sail in a fresh breeze",
    (f"least height of an opening {UNDER_WIND}", "at least 0.100 m", Sense.AT_LEAST, "m"),
    floods=True,
)
HEEL_OF_PEAK = _record(
    "heel-of-largest-lever",
    "Heel at which the righting lever is largest",
    ("heel of the largest GZ", "at least 25°", Sense.AT_LEAST, "deg"),
    floods=True,
)
LEVER_FROM_30 = _record(
    "lever-from-30",
    "Righting lever at 30 degrees or more",
    ("largest GZ at 30° of heel or more", "at least 0.20 m", Sense.AT_LEAST, "m"),
    floods=True,
)
RANGE = _record(
    "range",
    "Range of positive stability",
    ("angle of vanishing stability", "more than 60°", Sense.MORE_THAN, "deg"),
)

RULES = (
    Rule(WIND_HEEL, _wind_heel),
    Rule(FREEBOARD, _freeboard),
    Rule(SAFETY_DISTANCE, _safety_distance),
    Rule(HEEL_OF_PEAK, lambda f: heel_of_peak(f, INLAND_OPENINGS, 25.0)),
    Rule(LEVER_FROM_30, lambda f: lever_from_30(f, INLAND_OPENINGS, 0.20)),
    Rule(RANGE, _range),
    _area("Energy to heel her to 30 degrees", 0.0, TO_30, 0.055),
    _area("Energy to heel her to 40 degrees", 0.0, TO_40, 0.090),
    _area("Energy to heel her from 30 to 40 degrees", TO_30, TO_40, 0.030),
)
"""In the order of the article."""
