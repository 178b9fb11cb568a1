"""Where chains of inputs end that do not end in the document."""

from collections.abc import Mapping
from dataclasses import dataclass

from hullchange.criteria.cockpit import DISCHARGE
from hullchange.criteria.definitions import SAILING_CODE_OPENINGS
from hullchange.criteria.openings import KG_PER_M2
from hullchange.criteria.roll import FACTOR, FACTOR_SPREAD, SOURCE
from hullchange.document.items import LIQUIDS
from hullchange.materials import FRESH_WATER_DENSITY, SEA_WATER_DENSITY, STEEL_DENSITY
from hullchange.units import STANDARD_GRAVITY


@dataclass(frozen=True)
class Constant:
    """A figure with its unit, the same for every boat; grade A, B or C as of a rule."""

    name: str
    value: float
    unit: str
    source: str
    grade: str


PRACTICE = "Common practice, no source."
CONSTANTS: Mapping[str, Constant] = {
    "steel_density": Constant(
        *("density of steel", STEEL_DENSITY, "kg/m3"),
        *("EN 10025, 7.85 kg/m² per mm of thickness (from memory; EN 1991-1-1 agrees).", "B"),
    ),
    "sea_water_density": Constant(
        *("density of salt water", SEA_WATER_DENSITY, "kg/m3"),
        *("Handbook value (Tupper, p. 84); TEOS-10 gives 1025.98 at 15 °C.", "A"),
    ),
    "fresh_water_density": Constant(
        *("density of fresh water", FRESH_WATER_DENSITY, "kg/m3"),
        *("Handbook value (Tupper, p. 84).", "A"),
    ),
    "diesel_density": Constant(
        *("density of diesel", LIQUIDS["diesel"], "kg/m3", PRACTICE, "C"),
    ),
    "gravity": Constant(
        *("standard gravity", STANDARD_GRAVITY, "m/s2", "CGPM 1901.", "A"),
    ),
    "roll_factor": Constant(
        *("factor of the roll period", FACTOR, "", SOURCE, "B"),
    ),
    "roll_factor_spread": Constant(
        *("spread of the factor of the roll period", FACTOR_SPREAD, "", SOURCE, "B"),
    ),
    "discharge": Constant(
        *("discharge coefficient of a drain", DISCHARGE, "", PRACTICE, "C"),
    ),
    "kg_per_m2_of_opening": Constant(
        *("displacement to a square metre of opening", KG_PER_M2, "kg/m2"),
        *(SAILING_CODE_OPENINGS.source, SAILING_CODE_OPENINGS.grade.value),
    ),
}
LIQUID_CONSTANTS: Mapping[str, str] = {
    "salt": "sea_water_density",
    "fresh": "fresh_water_density",
    "diesel": "diesel_density",
}
"""Name of the constant of a liquid that the document names."""


def water_constant(density: float) -> str:
    """Name of the constant a water's density [kg/m3] is, or empty."""
    waters = (LIQUID_CONSTANTS["salt"], LIQUID_CONSTANTS["fresh"])
    return next((name for name in waters if CONSTANTS[name].value == density), "")
