"""Vectors of three, and the two angles by which a boat is turned."""

import numpy as np

from hullchange.floating.kernel.compiled import entry, inner
from hullchange.floating.kernel.shapes import Vector
from hullchange.geometry.frame import FloatArray

VERTICAL = 1e-6
"""Where the bow points up or down more steeply than that, heel has no axis of its own."""


@inner
def dot(a: Vector, b: Vector) -> float:
    """a . b [in the product of their units]."""
    return float(a[0] * b[0] + a[1] * b[1] + a[2] * b[2])


@inner
def cross(a: Vector, b: Vector) -> Vector:
    """a x b."""
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


@inner
def minus(a: Vector, b: Vector) -> Vector:
    """a - b."""
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


@inner
def times(factor: float, a: Vector) -> Vector:
    """A vector made longer by a factor [-]."""
    return a[0] * factor, a[1] * factor, a[2] * factor


@inner
def product(matrix: FloatArray, vector: Vector) -> Vector:
    """A matrix (3, 3) [of any unit] times a vector."""
    out = matrix @ np.array(vector)
    return out[0], out[1], out[2]


@inner
def up_at(heel: float, trim: float) -> Vector:
    """Up, seen from a boat at a heel and a trim [rad]."""
    across = np.cos(trim)
    return -np.sin(trim), -across * np.sin(heel), across * np.cos(heel)


@entry
def tilts(up: Vector) -> tuple[Vector, Vector]:
    """Unit vectors square to up: where heel to starboard and trim by the stern take it."""
    x, y, z = up
    across = np.sqrt(y * y + z * z)
    hy, hz = (-z / across, y / across) if across > VERTICAL else (-1.0, 0.0)
    return (0.0, hy, hz), (hy * z - hz * y, hz * x, -hy * x)


@entry
def turned(up: Vector, heel: float, trim: float) -> Vector:
    """Up turned by both angles [rad] at once, along the great circle that sets out by them."""
    to_starboard, aft = tilts(up)
    angle = np.sqrt(heel * heel + trim * trim)
    cosine = np.cos(angle)
    share = np.sin(angle) / angle if angle > 0.0 else 1.0
    x = up[0] * cosine + (to_starboard[0] * heel + aft[0] * trim) * share
    y = up[1] * cosine + (to_starboard[1] * heel + aft[1] * trim) * share
    z = up[2] * cosine + (to_starboard[2] * heel + aft[2] * trim) * share
    length = np.sqrt(dot((x, y, z), (x, y, z)))
    return x / length, y / length, z / length
