"""A roof that other parts stand on, as the boat they are fitted to."""

from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256
from math import tan

import numpy as np

from hullchange.geometry.developable import Cone
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.host import Host


def roof_z(roof: Cone, x: FloatArray, y: FloatArray) -> FloatArray:
    """Height (n,) [m] at which upright lines meet the top of a roof; carried on beyond it.

    Args:
        roof: its axis lies in the centreplane.
        x: (n,) [m].
        y: (n,) [m].
    """
    foot = roof.origin - roof.radius * roof.out
    along, up = float(roof.axis[0]), float(roof.axis[2])
    ahead, growth = np.asarray(x, float) - foot[0], tan(roof.half_angle)
    share = 1.0 + growth**2
    square = 1.0 - share * up**2
    linear = -2.0 * up * (share * ahead * along + roof.radius * growth)
    rest = ahead**2 + np.asarray(y, float) ** 2 - share * (ahead * along) ** 2
    rest = rest - roof.radius**2 - 2.0 * roof.radius * growth * ahead * along
    inside = np.maximum(linear**2 - 4.0 * square * rest, 0.0)
    return np.asarray(foot[2] + (np.sqrt(inside) - linear) / (2.0 * square))


@dataclass(frozen=True, eq=False)
class RoofHost:
    """A boat whose deck is a roof: what stands on it is fitted to it and rises with it.

    Beyond its edges the roof is carried on; its sheer is its edge, and it runs from where it is
    a whole arch to its after end. Below it is the boat.

    Attributes:
        host: the boat under the roof.
        roof: its outer face.
        edge: [rad] azimuth of its starboard edge.
        stem_x: x [m] of its forward end.
        transom_x: x [m] of its after end.
    """

    host: Host
    roof: Cone
    edge: float
    stem_x: float
    transom_x: float

    @cached_property
    def key(self) -> str:
        """Hash of everything the answers depend on."""
        roof = self.roof
        shape = (roof.origin.tolist(), roof.axis.tolist(), roof.radius, roof.half_angle)
        ends = (self.edge, self.stem_x, self.transom_x)
        return sha256(repr((self.host.key, shape, ends)).encode()).hexdigest()

    @property
    def fore_x(self) -> float:
        """x [m] of the foremost point of the canoe body."""
        return self.host.fore_x

    def deck_z(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """Height (n,) [m] of the roof at (x, y)."""
        return roof_z(self.roof, x, y)

    def sheer(self, x: FloatArray) -> FloatArray:
        """(n, 3) points [m] of the roof's starboard edge at stations x (n,)."""
        feet, ways = self.roof.rulings(np.array([self.edge]))
        run = (np.asarray(x, float) - feet[0, 0]) / ways[0, 0]
        return np.asarray(feet + run[:, None] * ways)

    def bottom_z(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """Height (n,) [m] of the canoe body's bottom at (x, y)."""
        return self.host.bottom_z(x, y)

    def lines_up(self) -> tuple[str, ...]:
        """Names of the measured lines."""
        return self.host.lines_up()

    def line(self, name: str, x: FloatArray) -> FloatArray:
        """(n, 3) points [m] of a measured line at stations x (n,).

        Raises:
            ModelError: ``line-missing``, ``station-off-hull``.
        """
        return self.host.line(name, x)

    def sections(self, x: FloatArray) -> FloatArray:
        """(n, m, 2) half sections [m] of the hull's outside at stations x (n,)."""
        return self.host.sections(x)

    def bottom_thickness(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """Thickness (n,) [m] of the bottom plating at (x, y)."""
        return self.host.bottom_thickness(x, y)

    def transom_outline(self) -> FloatArray:
        """(n, 3) after ends [m] of the lines, starboard."""
        return self.host.transom_outline()
