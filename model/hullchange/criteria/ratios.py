"""Trade ratios, old boat beside new: comparisons between boats, not measures of safety."""

from collections.abc import Callable
from dataclasses import dataclass
from math import sqrt

from hullchange.criteria.facts import Absent, Sails
from hullchange.findings import Grade

KG_PER_LB = 0.45359237
M_PER_FT = 0.3048
LB_PER_LONG_TON = 2240.0
LB_PER_FT3 = 64.0
"""Sea water as the ratios have it: 1025.2 kg/m^3."""

POUNDS_AND_FEET = "lb, ft and long tons of 2240 lb, as the figures usually quoted"
NO_UNIT = "a pure number"
COMPARISON = "A comparison between boats, not a measure of safety."


@dataclass(frozen=True)
class Proportions:
    """What the ratios are made from.

    Attributes:
        displacement: [kg].
        waterline_length: [m].
        hull_length: [m].
        beam: [m] largest.
        sails: as counted, mainsail and foretriangle as a rule.
        ballast: [kg].
    """

    displacement: float
    waterline_length: float
    hull_length: float
    beam: float
    sails: Sails | Absent
    ballast: float | Absent


@dataclass(frozen=True)
class Ratio:
    """A trade ratio with its formula.

    Attributes:
        id: stable, lower case with hyphens.
        title: in the trade's words.
        value: the figure in its own units, or why there is none.
        formula: as text.
        units: the system of units it is made in.
        grade: how well it is known.
        seen: where its text was seen.
        usual: usual range of the figure, as hearsay.
    """

    id: str
    title: str
    value: float | Absent
    formula: str
    units: str
    grade: Grade
    seen: str
    usual: str = COMPARISON


@dataclass(frozen=True)
class RatioChange:
    """A ratio of the boat as found beside that of the refit."""

    old: Ratio
    new: Ratio


@dataclass(frozen=True)
class Formula:
    """How a ratio is made: as :class:`Ratio`, but for any boat."""

    id: str
    title: str
    value: Callable[[Proportions], float | Absent]
    text: str
    units: str = POUNDS_AND_FEET
    grade: Grade = Grade.A
    seen: str = "opened, a published figure reproduced"
    usual: str = COMPARISON

    def of(self, boat: Proportions) -> Ratio:
        """The ratio of a boat."""
        value = self.value(boat)
        return Ratio(
            self.id, self.title, value, self.text, self.units, self.grade, self.seen, self.usual
        )


def trade_ratios(boat: Proportions) -> tuple[Ratio, ...]:
    """The ratios owners quote.

    Source:
        Pages on yacht ratios and a formula library (opened), with published figures that are
        reproduced; the comfort ratio from memory, held against one figure of a forum's sheet.
    """
    return tuple(formula.of(boat) for formula in FORMULAS)


def ratio_changes(old: Proportions, new: Proportions) -> tuple[RatioChange, ...]:
    """Every ratio of the boat as found beside that of the refit."""
    pairs = zip(trade_ratios(old), trade_ratios(new), strict=True)
    return tuple(RatioChange(before, after) for before, after in pairs)


def _pounds(boat: Proportions) -> float:
    return boat.displacement / KG_PER_LB


def _cube_side(boat: Proportions) -> float:
    """[ft] side of the cube of sea she displaces."""
    return float((_pounds(boat) / LB_PER_FT3) ** (1.0 / 3.0))


def _displacement_length(boat: Proportions) -> float:
    feet = boat.waterline_length / M_PER_FT
    return _pounds(boat) / LB_PER_LONG_TON / (0.01 * feet) ** 3


def _sail_area(boat: Proportions) -> float | Absent:
    sails = boat.sails
    if isinstance(sails, Absent):
        return sails
    return sails.area / M_PER_FT**2 / _cube_side(boat) ** 2


def _ballast(boat: Proportions) -> float | Absent:
    ballast = boat.ballast
    return ballast if isinstance(ballast, Absent) else ballast / boat.displacement


def _capsize(boat: Proportions) -> float:
    return boat.beam / M_PER_FT / _cube_side(boat)


def _comfort(boat: Proportions) -> float:
    length = (0.7 * boat.waterline_length + 0.3 * boat.hull_length) / M_PER_FT
    return float(_pounds(boat) / (0.65 * length * (boat.beam / M_PER_FT) ** (4.0 / 3.0)))


def _hull_speed(boat: Proportions) -> float:
    return 1.34 * sqrt(boat.waterline_length / M_PER_FT)


FORMULAS = (
    Formula(
        "displacement-length",
        "Displacement to length",
        _displacement_length,
        "(displacement [lb] / 2240) / (0.01 LWL [ft])^3",
    ),
    Formula(
        "sail-area-displacement",
        "Sail area to displacement",
        _sail_area,
        "sail area [ft²] / (displacement [lb] / 64)^(2/3)",
    ),
    Formula(
        "ballast-ratio",
        "Ballast to displacement",
        _ballast,
        "ballast / displacement",
        units=NO_UNIT,
    ),
    Formula(
        "capsize-screening",
        "Capsize screening",
        _capsize,
        "beam [ft] / (displacement [lb] / 64)^(1/3)",
        usual="Said to be better below 2; takes no account of the height of her weight. "
        f"{COMPARISON}",
    ),
    Formula(
        "motion-comfort",
        "Motion comfort",
        _comfort,
        "displacement [lb] / (0.65 (0.7 LWL + 0.3 LOA) beam^(4/3)) [ft]",
        grade=Grade.B,
        seen="from memory; one figure of a forum's sheet is met within 0.1 %",
    ),
    Formula(
        "hull-speed",
        "Hull speed",
        _hull_speed,
        "1.34 sqrt(LWL [ft]) = 2.43 sqrt(LWL [m])",
        units="knots",
    ),
)
"""In the order they are quoted."""
