"""Keels and rudders by proportions: side views in shares, laid under a canoe body.

The shares are common practice, no source.
"""

from dataclasses import dataclass
from math import pi

import numpy as np

from hullchange.geometry.frame import FloatArray

FOIL = ((0.0, 0.0), (0.3, 1.0), (0.6, 0.75), (1.0, 0.12))
"""Share of the chord, and share of the greatest half thickness; the nose is an ellipse."""
FOIL_FULLNESS = 0.3 * pi / 4.0 + 0.3 * 0.875 + 0.4 * 0.435
"""Mean of those half thicknesses over the chord."""
RUDDER_THICKNESS = 0.04  # half thickness, as a share of its chord

SideOutline = tuple[tuple[float, float], ...]
"""(x, z) [m], or shares of them, of a side view."""


@dataclass(frozen=True)
class KeelShares:
    """Side view of a keel and rudder, in shares of the waterline and of the keel's depth.

    Attributes:
        outline: (share of the waterline, share of the way from the hull to the draught).
        half_thickness: greatest, as a share of the waterline.
        rudder: fore and after end, as shares of the waterline.
        rudder_depth: share of the draught.
        at_breadth: of a pair, how far each stands off the centreline, as a share of the beam.
    """

    outline: SideOutline
    half_thickness: float
    rudder: tuple[float, float]
    rudder_depth: float
    at_breadth: float = 0.0

    @property
    def count(self) -> int:
        """How many keels there are."""
        return 2 if self.at_breadth else 1


KEELS: dict[str, KeelShares] = {
    "fin": KeelShares(
        ((0.36, 0.0), (0.42, 1.0), (0.64, 1.0), (0.66, 0.0)), 0.013, (0.90, 0.98), 0.75
    ),
    "long": KeelShares(
        ((0.20, 0.0), (0.42, 0.8), (0.55, 1.0), (0.86, 1.0), (0.88, 0.0)),
        0.014,
        (0.885, 0.96),
        0.95,
    ),
    "twin": KeelShares(
        ((0.38, 0.0), (0.43, 1.0), (0.63, 1.0), (0.65, 0.0)), 0.008, (0.90, 0.98), 0.75, 0.2
    ),
}


@dataclass(frozen=True, eq=False)
class UnderBody:
    """What an appendage is laid under.

    Attributes:
        fore: x [m] where the waterline begins.
        length: [m] of the waterline.
        x: (n,) stations [m], rising.
        z: (n,) height [m] of the bottom there, where the appendage stands.
    """

    fore: float
    length: float
    x: FloatArray
    z: FloatArray

    def at(self, share: float) -> float:
        """x [m] at a share of the waterline."""
        return self.fore + share * self.length

    def bottom(self, x: float) -> float:
        """Height [m] of the bottom at x."""
        return float(np.interp(x, self.x, self.z))

    def laid(self, outline: SideOutline, draught: float) -> SideOutline:
        """(x, z) [m] of a side view in shares, from the bottom down to a draught [m]."""
        return tuple(self.down(self.at(at), draught, share) for at, share in outline)

    def down(self, x: float, draught: float, share: float) -> tuple[float, float]:
        """x and z [m] at a share of the way from the bottom to a draught [m]."""
        bottom = self.bottom(x)
        return round(x, 2), round(bottom - share * (draught + bottom), 3)
