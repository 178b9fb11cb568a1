"""Lines of a hull: measured points from bow to stern, splined lengthwise."""

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from hullchange.geometry.cubics import Cubics
from hullchange.geometry.frame import FloatArray

LineKind = Literal["fair", "chine", "sheer"]
READING_SD = (
    0.005  # [m] of a half-breadth or height taken off ashore; common practice, no source
)


@dataclass(frozen=True)
class Exactness:
    """How well the points of a hull's lines are known.

    Attributes:
        plus_minus: [m] one standard deviation of a half-breadth or height.
        runs_along: whether an error runs along a line, as where lines are guessed, traced or
            scanned; otherwise every reading errs by itself.
    """

    plus_minus: float = READING_SD
    runs_along: bool = False


AS_MEASURED = Exactness()
"""Of points taken off ashore."""


@dataclass(frozen=True)
class LineInput:
    """A line as the owner gives it: points in either direction, not yet examined.

    Attributes:
        name: key in the document.
        kind: ``fair``, ``chine`` or ``sheer``.
        points: (x, half-breadth, z) [m].
        knuckles: x [m] of measured points where the line turns a corner.
    """

    name: str
    kind: LineKind
    points: tuple[tuple[float, float, float], ...]
    knuckles: tuple[float, ...] = ()


@dataclass(frozen=True, eq=False)
class HullLine:
    """One line, bow to stern.

    Attributes:
        name: key in the document.
        kind: ``fair``, ``chine`` or ``sheer``.
        points: (n, 3) [m] x, half-breadth, z; x rises.
        knuckles: x [m] of points where the spline is split.
        backwards: whether the points were given stern to bow.
    """

    name: str
    kind: LineKind
    points: FloatArray
    knuckles: tuple[float, ...] = ()
    backwards: bool = False

    @property
    def fore_x(self) -> float:
        """x [m] of its point on the stem."""
        return float(self.points[0, 0])

    @property
    def aft_x(self) -> float:
        """x [m] of its point on the transom."""
        return float(self.points[-1, 0])

    @cached_property
    def spline(self) -> Cubics:
        """Half-breadth and height over x."""
        return splined(self.points, self.knuckles)

    def at(self, x: FloatArray) -> FloatArray:
        """Half-breadth and height (..., 2) [m] at x, carried on straight beyond the ends."""
        found = self.spline(x)
        np.maximum(found[..., 0], 0.0, out=found[..., 0])
        return np.asarray(found)

    def at_fraction(self, fraction: FloatArray) -> FloatArray:
        """Points (n, 3) [m] at fractions (n,) of its own length in x, from the bow."""
        x = self.fore_x + np.asarray(fraction) * (self.aft_x - self.fore_x)
        return np.column_stack([x, self.at(x)])

    @property
    def plain_name(self) -> str:
        """As sentences say it: "lower chine"."""
        return self.name.replace("-", " ").replace("_", " ")

    def place(self, index: int) -> str:
        """Where point ``index``, counted from the bow, stands in the document."""
        typed = len(self.points) - 1 - index if self.backwards else index
        return point_place(self.name, typed)


@dataclass(frozen=True, eq=False)
class Lines:
    """The lines of a hull, centreline first, sheer last; straight across between neighbours.

    The rulings between two lines join equal fractions of their lengths in x, so that stem and
    transom, where lines end at different x, are met exactly.
    """

    lines: tuple[HullLine, ...]

    @property
    def centreline(self) -> HullLine:
        """The canoe body's profile."""
        return self.lines[0]

    @property
    def sheer(self) -> HullLine:
        """The edge of the deck."""
        return self.lines[-1]

    @cached_property
    def fore_x(self) -> FloatArray:
        """(k,) x [m] of the fore ends."""
        return np.array([line.fore_x for line in self.lines])

    @cached_property
    def aft_x(self) -> FloatArray:
        """(k,) x [m] of the after ends."""
        return np.array([line.aft_x for line in self.lines])

    @cached_property
    def knuckle_fractions(self) -> FloatArray:
        """(n,) fractions of length at which any line has a knuckle."""
        found = [
            (x - line.fore_x) / (line.aft_x - line.fore_x)
            for line in self.lines
            for x in line.knuckles
        ]
        return np.array(found)

    def at_fractions(self, fraction: FloatArray) -> FloatArray:
        """Points (k, n, 3) [m] of every line at fractions (n,) of length."""
        return np.stack([line.at_fraction(fraction) for line in self.lines])


def point_place(name: str, index: int) -> str:
    """Path of a point of a line, below the hull."""
    return f"lines.{name}.points_m[{index}]"


def splined(points: FloatArray, knuckles: tuple[float, ...]) -> Cubics:
    """Half-breadth, height and whatever follows x: cubic (not-a-knot), split at the knuckles.

    Three points give a parabola, two a straight line; beyond the ends it runs straight on.

    Args:
        points: (n, 1 + m) [m], x rising, then the m values that follow it.
        knuckles: x [m] of points of the line.
    """
    x = points[:, 0]
    inner = sorted({int(np.argmin(np.abs(x - k))) for k in knuckles} - {0, len(x) - 1})
    return Cubics.through(x, points[:, 1:], tuple(inner))
