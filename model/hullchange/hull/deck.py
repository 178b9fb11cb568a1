"""The cambered deck."""

from dataclasses import dataclass

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.hull.lines import HullLine


@dataclass(frozen=True, eq=False)
class Deck:
    """A parabola across at every station, its height in proportion to the half-breadth there.

    Attributes:
        sheer: the deck's edge.
        camber: [m] rise of the middle above the edge where the half-breadth is
            ``at_half_breadth``.
        at_half_breadth: [m].
    """

    sheer: HullLine
    camber: float
    at_half_breadth: float

    @property
    def slope(self) -> float:
        """Rise of the middle as a share of the half-breadth."""
        return self.camber / self.at_half_breadth

    def z(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """Height [m] at (x, y).

        Beyond the sheer it is carried on straight in the slope it has at the edge.
        """
        edge = self.sheer.at(x)
        breadth = edge[..., 0]
        out = np.abs(y)
        within = np.minimum(out, breadth)
        bulge = breadth - within * within / np.maximum(breadth, np.finfo(np.float64).tiny)
        return np.asarray(edge[..., 1] + self.slope * (bulge - 2.0 * (out - within)))
