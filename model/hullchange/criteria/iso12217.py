"""ISO 12217-2 for sailing boats: the index and the minima, all of them to be confirmed.

The standard's text was not read.  The arithmetic of the index reproduces a published sheet;
the minima are from memory.
"""

from hullchange.criteria.criterion import (
    BOUGHT_TEXT,
    Criterion,
    Evaluated,
    Publication,
    Quantity,
    Rule,
    Sense,
)
from hullchange.criteria.definitions import (
    ISO_OPENINGS,
    Definition,
    counted_openings,
    downflooding_by,
)
from hullchange.criteria.facts import Absent, DesignCategory, LeverFacts
from hullchange.criteria.general import (
    flooding_quantity,
    flooding_remarks,
    in_degrees,
    opening_in_words,
)
from hullchange.criteria.openings import TIED
from hullchange.criteria.stix import SLOPE, SLOPE_OF_SHEET, Stix, StixInputs, stix, stix_inputs
from hullchange.findings import Grade
from hullchange.units import deg_of_rad

ISO_12217_2 = Publication(
    "ISO 12217-2, sailing boats of hull length 6 m and more",
    "formulas in the form of 2002 to 2015; later editions not checked",
    "new recreational craft of 6 to 24 m, in the standard's own loading conditions",
    BOUGHT_TEXT,
)
MEMORY = "from memory"
A, B, C, D = DesignCategory.A, DesignCategory.B, DesignCategory.C, DesignCategory.D
STIX_LIMIT = {A: 32.0, B: 23.0, C: 14.0, D: 5.0}
FLOODING_LIMIT_DEG = {A: 40.0, B: 40.0, C: 35.0, D: 30.0}
MASS_LIMIT = {A: 3000.0, B: 1500.0}
HEIGHT_BOUNDS = {A: (0.5, 1.41), B: (0.4, 1.41), C: (0.3, 0.75), D: (0.2, 0.4)}
HEIGHT_PART = {A: 17.0, B: 17.0, C: 17.0, D: 20.0}
OWN_CONDITIONS = (
    "The standard requires this in its minimum operating and loaded conditions, whichever is "
    "worse."
)


def _minimum(
    code: str,
    title: str,
    asks: tuple[str, str, str],
    flooding: Definition | None = None,
) -> Criterion:
    """A record from memory; ``asks`` is formula, limit and unit."""
    formula, limit, unit = asks
    return Criterion(
        id=f"iso12217-{code}",
        title=title,
        document=ISO_12217_2,
        clause="clause for monohulls, number not seen",
        formula=formula,
        limit=limit,
        sense=Sense.AT_LEAST,
        unit=unit,
        grade=Grade.C,
        seen=MEMORY,
        clause_read=False,
        flooding=flooding,
    )


STIX = Criterion(
    id="iso12217-stix",
    title="Stability index",
    document=ISO_12217_2,
    clause="stability index, clause number not seen",
    formula="(7 + 2.25 LBS) (FDS FIR FKR FDL FBD FWM FDF)^0.5 + delta",
    limit="more than 32 (A), 23 (B), 14 (C), 5 (D)",
    sense=Sense.MORE_THAN,
    unit="",
    grade=Grade.A,
    seen="formula and limits quoted elsewhere, a published sheet reproduced; clause not read",
    clause_read=False,
    flooding=ISO_OPENINGS,
)
VANISHING = _minimum(
    "vanishing-angle",
    "Angle of vanishing stability",
    (
        "A: 130 - 0.002 m, at least 100; B: 130 - 0.005 m, at least 95; C: 90; D: 75 (m in kg)",
        "at least 130 - 0.002 m and 100 (A), 130 - 0.005 m and 95 (B), 90 (C), 75° (D)",
        "deg",
    ),
)
FLOODING = _minimum(
    "downflooding-angle",
    "Downflooding angle",
    (
        "heel at which openings of more than 1.2 LH BH FM cm² in total (lengths in m) are "
        "under water",
        "at least 40 (A, B), 35 (C), 30° (D)",
        "deg",
    ),
    ISO_OPENINGS,
)
HEIGHT = _minimum(
    "downflooding-height",
    "Height of the lowest opening, upright",
    (
        "A, B, C: LH / 17; D: LH / 20; within 0.5 to 1.41 (A), 0.4 to 1.41 (B), 0.3 to 0.75 "
        "(C), 0.2 to 0.4 m (D)",
        "at least LH / 17 (A, B, C) or LH / 20 (D), within bounds; may belong to part 1",
        "m",
    ),
    ISO_OPENINGS,
)
MASS = _minimum(
    "minimum-mass",
    "Mass in the minimum operating condition",
    (
        "displacement",
        "at least 3000 (A), 1500 kg (B)",
        "kg",
    ),
)


def vanishing_limit(category: DesignCategory, displacement: float) -> float:
    """[deg] Least vanishing angle of a category at a displacement [kg], from memory."""
    if category is A:
        return max(100.0, 130.0 - 0.002 * displacement)
    if category is B:
        return max(95.0, 130.0 - 0.005 * displacement)
    return 90.0 if category is C else 75.0


def height_limit(category: DesignCategory, hull_length: float) -> float:
    """[m] Least height of an opening above the water, from memory."""
    low, high = HEIGHT_BOUNDS[category]
    return max(low, min(high, hull_length / HEIGHT_PART[category]))


def _mass(facts: LeverFacts) -> Quantity:
    return Quantity("displacement", facts.displacement, "kg")


def stix_rule(slope: float = SLOPE) -> Rule:
    """The rule on the index, with the slope of its knockdown factor chosen.

    Args:
        slope: ``SLOPE`` or ``SLOPE_OF_SHEET`` [-]; the remarks say what the other would give.
    """
    return Rule(STIX, lambda facts: _stix(facts, slope))


def _stix(facts: LeverFacts, slope: float) -> Evaluated | Absent:
    category, given = facts.boat.category, stix_inputs(facts)
    if isinstance(category, Absent):
        return category
    if isinstance(given, Absent):
        return given
    other_slope = SLOPE_OF_SHEET if slope == SLOPE else SLOPE
    made, other = stix(given, slope), stix(given, other_slope)
    choice = (
        f"Sources differ on the slope of the knockdown factor: {slope} is used; "
        f"{other_slope} would give {other.value:.2f} ({other.value - made.value:+.2f})."
    )
    inputs = (*_of_index(given, made), Quantity("slope of FKR", slope, ""))
    found = downflooding_by(facts, ISO_OPENINGS)
    remarks = (choice, OWN_CONDITIONS, *flooding_remarks(facts, found))
    return Evaluated(made.value, STIX_LIMIT[category], inputs, remarks, found)


def _of_index(given: StixInputs, made: Stix) -> tuple[Quantity, ...]:
    factors = (
        Quantity("LBS", made.base_length, "m"),
        Quantity("FDS", made.fds, ""),
        Quantity("FIR", made.fir, ""),
        Quantity("FKR", made.fkr, ""),
        Quantity("FDL", made.fdl, ""),
        Quantity("FBD", made.fbd, ""),
        Quantity("FWM", made.fwm, ""),
        Quantity("FDF", made.fdf, ""),
        Quantity("delta", made.delta, ""),
    )
    given_to_it = (
        Quantity("LH", given.hull_length, "m"),
        Quantity("LWL", given.waterline_length, "m"),
        Quantity("BH", given.hull_beam, "m"),
        Quantity("BWL", given.waterline_beam, "m"),
        Quantity("mass", given.mass, "kg"),
        Quantity("sail area", given.sails.area, "m2"),
        Quantity("hCE", given.sails.centre_height, "m"),
        Quantity("hLP", given.sails.lateral_depth, "m"),
        Quantity("angle of vanishing stability", deg_of_rad(given.vanishing), "deg"),
        Quantity("downflooding angle", deg_of_rad(given.flooding), "deg"),
        Quantity("GZ at downflooding", given.gz_flooding, "m"),
        Quantity("GZ at 90°", given.gz_90, "m"),
        Quantity("area under GZ", deg_of_rad(given.area), "m deg"),
    )
    return factors + given_to_it


def _vanishing(facts: LeverFacts) -> Evaluated | Absent:
    category, vanishing = facts.boat.category, facts.levers.vanishing
    if isinstance(category, Absent):
        return category
    inputs = (_mass(facts), in_degrees("angle of vanishing stability", vanishing))
    limit = vanishing_limit(category, facts.displacement)
    return Evaluated(deg_of_rad(vanishing.heel), limit, inputs, (OWN_CONDITIONS,))


def _flooding(facts: LeverFacts) -> Evaluated | Absent:
    category = facts.boat.category
    if isinstance(category, Absent):
        return category
    found = downflooding_by(facts, ISO_OPENINGS)
    value, limit = deg_of_rad(found.angle.heel), FLOODING_LIMIT_DEG[category]
    return Evaluated(
        value, limit, (flooding_quantity(found),), flooding_remarks(facts, found), found
    )


def _height(facts: LeverFacts) -> Evaluated | Absent:
    category = facts.boat.category
    if isinstance(category, Absent):
        return category
    openings, _ = counted_openings(facts, ISO_OPENINGS)
    if not openings:
        return Absent("No opening is entered whose height above the water is known.")
    lowest = min(openings, key=lambda o: round(o.freeboard, TIED))
    inputs = (
        Quantity(f"height of {opening_in_words(lowest.id)}", lowest.freeboard, "m"),
        Quantity("LH", facts.boat.hull_length, "m"),
    )
    limit = height_limit(category, facts.boat.hull_length)
    found = downflooding_by(facts, ISO_OPENINGS)
    return Evaluated(lowest.freeboard, limit, inputs, flooding=found)


def _least_mass(facts: LeverFacts) -> Evaluated | Absent:
    category = facts.boat.category
    if isinstance(category, Absent):
        return category
    if category not in MASS_LIMIT:
        return Absent("The least mass for categories C and D is not known here.")
    return Evaluated(facts.displacement, MASS_LIMIT[category], (_mass(facts),))


RULES = (
    stix_rule(),
    Rule(VANISHING, _vanishing),
    Rule(FLOODING, _flooding, by_levers=False),
    Rule(HEIGHT, _height, by_levers=False),
    Rule(MASS, _least_mass, by_levers=False),
)
"""The index first, then the minima."""
