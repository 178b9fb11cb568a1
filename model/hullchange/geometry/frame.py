"""The water plane in the boat's frame with its angles, and flat working planes."""

from dataclasses import dataclass
from functools import cached_property
from math import asin, atan2, cos, sin

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int32]
BoolArray = NDArray[np.bool_]
Indices = NDArray[np.int64]


def up_vector(trim: float, heel: float) -> FloatArray:
    """Unit vector (3,) that points up, in the boat's frame.

    Args:
        trim: [rad] positive by the stern.
        heel: [rad] positive to starboard.

    >>> up_vector(0.0, 0.0).tolist()
    [0.0, 0.0, 1.0]
    """
    return np.array([-sin(trim), -cos(trim) * sin(heel), cos(trim) * cos(heel)]) + 0.0


def cross(a: FloatArray, b: FloatArray) -> FloatArray:
    """Cross products (k, 3) of vectors (k, 3), in the product of their units [-].

    It takes a third of the time of ``numpy.cross``.
    """
    (ax, ay, az), (bx, by, bz) = a.T, b.T
    return np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], axis=1)


@dataclass(frozen=True, eq=False)
class WaterPlane:
    """The water's surface ``up . x = offset`` in the boat's frame.

    Attributes:
        up: (3,) unit vector, straight up.
        offset: [m] of the surface above the origin, along ``up``.
    """

    up: FloatArray
    offset: float

    @classmethod
    def at(cls, sinkage: float, trim: float, heel: float, amidships_x: float) -> "WaterPlane":
        """The plane for a sinkage [m] at ``amidships_x`` [m], and angles [rad]."""
        up = up_vector(trim, heel)
        return cls(up, float(up @ np.array([amidships_x, 0.0, sinkage])))

    @property
    def trim(self) -> float:
        """Trim [rad], positive by the stern."""
        return -asin(float(np.clip(self.up[0], -1.0, 1.0)))

    @property
    def heel(self) -> float:
        """Heel [rad], positive to starboard, -pi to pi."""
        return atan2(-float(self.up[1]), float(self.up[2])) + 0.0

    def water_height(self, x: float) -> float:
        """Height z [m] of the water on the centreline; the boat not on her side."""
        return float((self.offset - self.up[0] * x) / self.up[2])

    def sinkage(self, amidships_x: float) -> float:
        """Sinkage [m], positive down, at ``amidships_x`` on the centreline."""
        return self.water_height(amidships_x)

    def trim_between_perpendiculars(self, length: float) -> float:
        """Trim [m], positive by the stern, over the length [m] between perpendiculars."""
        return self.water_height(length) - self.water_height(0.0)

    def height_above(self, points: FloatArray) -> FloatArray:
        """Height (n,) [m] of points (n, 3) above the water, along the vertical."""
        return np.asarray(points, dtype=np.float64) @ self.up - self.offset


@dataclass(frozen=True, eq=False)
class Frame:
    """A flat working plane in space: origin, two unit axes in it, and their normal.

    Attributes:
        origin: (3,) [m].
        u: (3,) unit vector.
        v: (3,) unit vector, square to u.
    """

    origin: FloatArray
    u: FloatArray
    v: FloatArray

    @classmethod
    def of(cls, origin: FloatArray, along: FloatArray, towards: FloatArray) -> "Frame":
        """The frame at a point, with u along one direction and v on the side of another.

        Args:
            origin: (3,) [m].
            along: (3,) direction of u, of any length [-].
            towards: (3,) direction of any length [-] that v is on the side of.
        """
        u = np.asarray(along, float) / np.linalg.norm(along)
        v = np.asarray(towards, float) - u * float(u @ np.asarray(towards, float))
        return cls(np.asarray(origin, float), u, v / np.linalg.norm(v))

    @cached_property
    def normal(self) -> FloatArray:
        """(3,) unit vector u x v."""
        (a, b, c), (d, e, f) = self.u.tolist(), self.v.tolist()
        return np.array([b * f - c * e, c * d - a * f, a * e - b * d])

    def to_boat(self, flat: FloatArray) -> FloatArray:
        """Points (n, 3) [m] in the boat's frame, of flat points (n, 2) [m]."""
        return self.origin + flat[:, :1] * self.u + flat[:, 1:2] * self.v

    def to_flat(self, points: FloatArray) -> FloatArray:
        """Flat points (n, 2) [m] of points (n, 3) [m], projected square on to the plane."""
        away = points - self.origin
        return np.stack([away @ self.u, away @ self.v], axis=1)
