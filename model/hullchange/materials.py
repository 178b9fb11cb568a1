"""Densities and what a figure is worth by where it is from."""

from dataclasses import dataclass

STEEL_DENSITY = 7850.0
"""[kg/m^3] EN 10025 mass convention, 7.85 kg/m^2 per mm (from memory; EN 1991-1-1 agrees)."""

SEA_WATER_DENSITY = 1025.0
"""[kg/m^3] handbook value (Tupper, p. 84); TEOS-10 gives 1025.98 for SA 35.17 at 15 deg C."""

FRESH_WATER_DENSITY = 1000.0
"""[kg/m^3] handbook value (Tupper, p. 84)."""


@dataclass(frozen=True)
class Provenance:
    """Standard deviations that go with where a figure is from (common practice, no source)."""

    mass_fraction: float
    sd_along: float
    sd_across: float
    sd_up: float


PROVENANCE = {
    "weighed": Provenance(0.01, 0.020, 0.020, 0.010),
    "drawn": Provenance(0.05, 0.020, 0.020, 0.010),
    "catalogue": Provenance(0.05, 0.050, 0.050, 0.050),
    "guessed": Provenance(0.15, 0.050, 0.050, 0.050),
}
"""Common practice, no source: fraction of the mass, and place along, across and up [m].

Each figure's own error; what one scale or one datum is off comes on top, for all alike.
"""

ONE_SCALE_PERCENT = 0.5
"""Of every mass that is weighed: the scale's calibration (common practice, no source)."""

ONE_DATUM_MM = 5.0
"""Of every place, along and up: the mark tapes are held to (common practice, no source)."""
