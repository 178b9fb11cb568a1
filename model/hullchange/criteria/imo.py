"""General criteria of the 2008 Intact Stability Code, part A, 2.2."""

from hullchange.criteria.criterion import (
    Criterion,
    Evaluated,
    Publication,
    Quantity,
    Rule,
    Sense,
)
from hullchange.criteria.definitions import IS_CODE_OPENINGS
from hullchange.criteria.facts import LeverFacts
from hullchange.criteria.general import TO_30, TO_40, area, heel_of_peak, lever_from_30
from hullchange.findings import Grade

IS_CODE = Publication(
    "IMO 2008 Intact Stability Code (MSC.267(85)), part A",
    "2008, as in UK MGN 280 11.3.6",
    "cargo and passenger ships of 24 m and more; MGN 280 repeats it for small motor vessels",
)
SEEN = "text opened in MGN 280 11.3.6, limits quoted alike in two other places"
CUT = "; cut short at downflooding (part B, 3.6.2.8)"
CLAUSE_AREAS, CLAUSE_LEVER, CLAUSE_PEAK, CLAUSE_GM = "2.2.1", "2.2.2", "2.2.3", "2.2.4"


def _areas(code: str, title: str, formula: str, limit: str) -> Criterion:
    return Criterion(
        id=f"imo-{code}",
        title=title,
        document=IS_CODE,
        clause=CLAUSE_AREAS,
        formula=formula + CUT,
        limit=limit,
        sense=Sense.AT_LEAST,
        unit="m rad",
        grade=Grade.A,
        seen=SEEN,
        flooding=IS_CODE_OPENINGS,
    )


AREA_TO_30 = _areas(
    "area-to-30",
    "Energy to heel her to 30 degrees",
    "area under GZ from 0 to 30°",
    "at least 0.055 m·rad",
)
AREA_TO_40 = _areas(
    "area-to-40",
    "Energy to heel her to 40 degrees",
    "area under GZ from 0 to 40°, or to downflooding if that comes first",
    "at least 0.090 m·rad",
)
AREA_30_TO_40 = _areas(
    "area-30-to-40",
    "Energy to heel her from 30 to 40 degrees",
    "area under GZ from 30 to 40°, or to downflooding if that comes first",
    "at least 0.030 m·rad",
)
LEVER_FROM_30 = Criterion(
    id="imo-lever-from-30",
    title="Righting lever at 30 degrees or more",
    document=IS_CODE,
    clause=CLAUSE_LEVER,
    formula="largest GZ at 30° of heel or more" + CUT,
    limit="at least 0.20 m",
    sense=Sense.AT_LEAST,
    unit="m",
    grade=Grade.A,
    seen=SEEN,
    flooding=IS_CODE_OPENINGS,
)
HEEL_OF_PEAK = Criterion(
    id="imo-heel-of-largest-lever",
    title="Heel at which the righting lever is largest",
    document=IS_CODE,
    clause=CLAUSE_PEAK,
    formula="heel of the largest GZ" + CUT,
    limit="at least 25° (older text: preferably more than 30°)",
    sense=Sense.AT_LEAST,
    unit="deg",
    grade=Grade.A,
    seen=SEEN,
    flooding=IS_CODE_OPENINGS,
)
INITIAL_GM = Criterion(
    id="imo-initial-gm",
    title="Initial stability",
    document=IS_CODE,
    clause=CLAUSE_GM,
    formula="GM0, the slope of the righting levers upright, with liquids free to move",
    limit="at least 0.15 m",
    sense=Sense.AT_LEAST,
    unit="m",
    grade=Grade.A,
    seen=SEEN,
)


def _gm(facts: LeverFacts) -> Evaluated:
    mass = Quantity("displacement", facts.displacement, "kg")
    return Evaluated(facts.gm, 0.15, (mass,))


OPEN = IS_CODE_OPENINGS
RULES = (
    Rule(AREA_TO_30, lambda f: area(f, OPEN, 0.0, TO_30, 0.055)),
    Rule(AREA_TO_40, lambda f: area(f, OPEN, 0.0, TO_40, 0.090)),
    Rule(AREA_30_TO_40, lambda f: area(f, OPEN, TO_30, TO_40, 0.030)),
    Rule(LEVER_FROM_30, lambda f: lever_from_30(f, OPEN, 0.20)),
    Rule(HEEL_OF_PEAK, lambda f: heel_of_peak(f, OPEN, 25.0)),
    Rule(INITIAL_GM, _gm),
)
"""In the order of the Code."""
