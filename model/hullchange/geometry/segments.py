"""The pieces of an outline in flat coordinates [m]: line, arc, circle, spline.

Each knows its exact share of the area and of its first moments by Green's theorem, its length,
and points along it within a chord tolerance.
"""

from dataclasses import dataclass
from functools import cached_property
from math import acos, atan2, ceil, cos, hypot, pi, sin, sqrt

import numpy as np

from hullchange.cache import cached
from hullchange.geometry.cubics import not_a_knot
from hullchange.geometry.frame import FloatArray

FlatPoint = tuple[float, float]
Moments = tuple[float, float, float]
"""Signed area [m^2] and its first moments in both directions [m^3]."""


def _hermite(t: FloatArray) -> FloatArray:
    """(k, 4) shares of both ends and of both rates in a cubic at k places from 0 to 1."""
    u = 1.0 - t
    return np.stack([u * u * (1 + 2 * t), t * t * (1 + 2 * u), t * u * u, -t * t * u], axis=1)


@cached(256)
def _even_shares(count: int) -> FloatArray:
    """The same at evenly spread places, the end left out."""
    return _hermite(np.arange(count) / count)


def _hermite_rate(t: FloatArray) -> FloatArray:
    """(k, 4) the same of its derivative."""
    u = 1.0 - t
    return np.stack([-6 * t * u, 6 * t * u, u * (1 - 3 * t), t * (3 * t - 2)], axis=1)


def _gauss(count: int) -> tuple[FloatArray, FloatArray]:
    """Places from 0 to 1 and weights of Gauss's rule, exact to degree 2 count - 1."""
    places, weights = np.polynomial.legendre.leggauss(count)
    return (places + 1.0) / 2.0, weights / 2.0


_MOMENT_NODES = _gauss(5)  # first moments of a cubic are of degree 8
_MOMENT_BASIS = _hermite(_MOMENT_NODES[0]), _hermite_rate(_MOMENT_NODES[0])
_LENGTH_NODES = _gauss(8)
_LENGTH_BASIS = _hermite_rate(_LENGTH_NODES[0])
_BEND = np.array([[-6.0, 6.0, -4.0, -2.0], [6.0, -6.0, 2.0, 4.0]])  # second derivative, at ends


def flat_points(points: FloatArray) -> tuple[FlatPoint, ...]:
    """The rows of an array (n, 2) [m] as hashable points."""
    return tuple((x, y) for x, y in points.tolist())


def _turn_within(radius: float, tolerance: float) -> float:
    """Largest angle [rad] of a chord that stays within the tolerance, an eighth at most."""
    return min(2.0 * acos(max(0.0, 1.0 - tolerance / radius)), pi / 4.0)


def _round(centre: FlatPoint, radius: float, angle: FloatArray) -> FloatArray:
    at: FloatArray = np.stack([np.cos(angle), np.sin(angle)], axis=1) * radius + centre
    return at


def _standing_out(count: int, turn: float) -> float:
    """Share of the radius on which the inner corners of a sector's polygon keep its area.

    Seen from the centre the two outer triangles keep one corner on the circle, so the share q
    solves (n - 2) q^2 + 2 q = n turn / sin(turn).
    """
    whole = count * turn / sin(turn)
    if count == 2:
        return whole / 2.0
    return (sqrt(1.0 + (count - 2) * whole) - 1.0) / (count - 2)


def _below_chord(start: FlatPoint, end: FlatPoint) -> Moments:
    cross = start[0] * end[1] - end[0] * start[1]
    return (
        cross / 2.0,
        (start[0] + end[0]) * cross / 6.0,
        (start[1] + end[1]) * cross / 6.0,
    )


@dataclass(frozen=True)
class Line:
    """A straight line from start to end [m]."""

    start: FlatPoint
    end: FlatPoint
    tag: str = ""

    @property
    def moments(self) -> Moments:
        """Its share of area [m^2] and first moments [m^3]."""
        return _below_chord(self.start, self.end)

    @property
    def length(self) -> float:
        """Length [m]."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    def samples(self, tolerance: float) -> FloatArray:  # noqa: ARG002 - as its siblings
        """(1, 2) its start [m], at any tolerance [m]: the end belongs to the next piece."""
        return np.array([self.start])

    def spread(self, count: int) -> FloatArray:
        """(count + 1, 2) evenly spaced points [m] from start to end."""
        return np.linspace(self.start, self.end, count + 1)

    def reversed(self) -> "Line":
        """The same segment from end to start."""
        return Line(self.end, self.start, self.tag)


@dataclass(frozen=True)
class Arc:
    """A circular arc from start through a third point to end [m]."""

    start: FlatPoint
    through: FlatPoint
    end: FlatPoint
    tag: str = ""

    @cached_property
    def centre(self) -> FlatPoint:
        """Centre of the circle [m]."""
        (x, y), (ax, ay) = self.start, self.through
        bx, by = self.end[0] - x, self.end[1] - y
        ax, ay = ax - x, ay - y
        twice = 2.0 * (ax * by - ay * bx)
        a, b = ax * ax + ay * ay, bx * bx + by * by
        return x + (by * a - ay * b) / twice, y + (ax * b - bx * a) / twice

    @cached_property
    def radius(self) -> float:
        """Radius [m]."""
        return hypot(self.start[0] - self.centre[0], self.start[1] - self.centre[1])

    @cached_property
    def angles(self) -> tuple[float, float]:
        """Angle [rad] at the start, and swept angle, positive counter-clockwise."""
        first, middle, last = (
            atan2(y - self.centre[1], x - self.centre[0])
            for x, y in (self.start, self.through, self.end)
        )
        sweep = (last - first) % (2.0 * pi)
        if (middle - first) % (2.0 * pi) > sweep:
            sweep -= 2.0 * pi
        return first, sweep

    @property
    def moments(self) -> Moments:
        """Its share of area [m^2] and first moments [m^3]: of chord and circular segment."""
        area, along, up = _below_chord(self.start, self.end)
        first, sweep = self.angles
        radius, middle = self.radius, first + sweep / 2.0
        segment = radius**2 * (sweep - sin(sweep)) / 2.0
        lever = 2.0 / 3.0 * (radius * sin(sweep / 2.0)) ** 3
        return (
            area + segment,
            along + segment * self.centre[0] + lever * cos(middle),
            up + segment * self.centre[1] + lever * sin(middle),
        )

    @property
    def length(self) -> float:
        """Length [m]."""
        return self.radius * abs(self.angles[1])

    def samples(self, tolerance: float) -> FloatArray:
        """(n, 2) points [m] from the start on, without the end.

        They lie slightly outside the arc, so that the straight pieces enclose its area.

        Args:
            tolerance: [m] how far the straight pieces may leave the arc.
        """
        sweep = abs(self.angles[1])
        count = max(2, ceil(sweep / _turn_within(self.radius, tolerance)))
        points = self.spread(count)[:-1]
        out = _standing_out(count, sweep / count)
        points[1:] = self.centre + out * (points[1:] - self.centre)
        return points

    def spread(self, count: int) -> FloatArray:
        """(count + 1, 2) evenly spaced points [m] from start to end."""
        first, sweep = self.angles
        points = _round(
            self.centre, self.radius, first + sweep / count * np.arange(count + 1.0)
        )
        points[[0, -1]] = self.start, self.end
        return points

    def reversed(self) -> "Arc":
        """The same segment from end to start."""
        return Arc(self.end, self.through, self.start, self.tag)


@dataclass(frozen=True)
class Circle:
    """A whole circle, counter-clockwise, by centre [m] and radius [m]: an outline by itself."""

    centre: FlatPoint
    radius: float
    tag: str = ""

    @property
    def start(self) -> FlatPoint:
        """Where it starts."""
        return self.centre[0] + self.radius, self.centre[1]

    @property
    def end(self) -> FlatPoint:
        """Where it ends: at its start."""
        return self.start

    @property
    def moments(self) -> Moments:
        """Its area [m^2] and first moments [m^3]."""
        area = pi * self.radius**2
        return area, area * self.centre[0], area * self.centre[1]

    @property
    def length(self) -> float:
        """Circumference [m]."""
        return 2.0 * pi * self.radius

    def samples(self, tolerance: float) -> FloatArray:
        """(n, 2) corners [m] of the regular polygon with the area of the circle.

        Polygons inscribed in the two circles of a tube would lose a thousandth of its section.

        Args:
            tolerance: [m] how far the straight pieces may leave the circle.
        """
        count = max(12, ceil(2.0 * pi / _turn_within(self.radius, tolerance)))
        turn = 2.0 * pi / count
        radius = self.radius * sqrt(turn / sin(turn))
        return _round(self.centre, radius, turn * np.arange(float(count)))

    def spread(self, count: int) -> FloatArray:
        """(count + 1, 2) evenly spaced points [m] once round."""
        return _round(self.centre, self.radius, 2.0 * pi / count * np.arange(count + 1.0))

    def reversed(self) -> "Circle":
        """The same circle: it has no direction."""
        return self


@cached(64)
def _rates(count: int) -> FloatArray:
    """(n, n) derivatives at evenly numbered points of the cubic through them."""
    return not_a_knot(np.arange(float(count)))


@dataclass(frozen=True)
class Spline:
    """A cubic through given points [m], not-a-knot at its ends.

    Its parameter counts the points, so they should be evenly spaced.
    """

    points: tuple[FlatPoint, ...]
    tag: str = ""

    @property
    def start(self) -> FlatPoint:
        """First point."""
        return self.points[0]

    @property
    def end(self) -> FlatPoint:
        """Last point."""
        return self.points[-1]

    @cached_property
    def _pieces(self) -> FloatArray:
        """(n - 1, 4, 2) both ends of each piece, and the derivatives there."""
        points = np.array(self.points)
        rates = _rates(len(points)) @ points
        return np.stack([points[:-1], points[1:], rates[:-1], rates[1:]], axis=1)

    @cached_property
    def moments(self) -> Moments:
        """Its share of area [m^2] and first moments [m^3], exact for its cubics."""
        at, rate = (basis @ self._pieces for basis in _MOMENT_BASIS)
        swept = _MOMENT_NODES[1] * (at[..., 0] * rate[..., 1] - at[..., 1] * rate[..., 0])
        along, up = np.einsum("nq,nqd->d", swept, at).tolist()
        return float(swept.sum()) / 2.0, along / 3.0, up / 3.0

    @cached_property
    def length(self) -> float:
        """Length [m] by Gauss's rule on every piece."""
        rate = _LENGTH_BASIS @ self._pieces
        return float((np.hypot(rate[..., 0], rate[..., 1]) @ _LENGTH_NODES[1]).sum())

    def samples(self, tolerance: float) -> FloatArray:
        """(n, 2) points [m] from the start on, without the end; the given ones are among them.

        Args:
            tolerance: [m] how far the straight pieces may leave the curve.
        """
        bend = float(np.abs(_BEND @ self._pieces).max()) * sqrt(2.0)
        return self._within(max(1, ceil(sqrt(bend / (8.0 * tolerance)))))

    def spread(self, count: int) -> FloatArray:
        """(n, 2) evenly spaced points [m] from start to end, n - 1 at least ``count``."""
        inner = self._within(ceil(count / (len(self.points) - 1)))
        return np.concatenate([inner, [self.end]])

    def _within(self, count: int) -> FloatArray:
        """(n, 2) ``count`` points [m] on each piece, from the first on, without the last."""
        return (_even_shares(count) @ self._pieces).reshape(-1, 2)

    def reversed(self) -> "Spline":
        """The same segment from end to start."""
        return Spline(self.points[::-1], self.tag)


Segment = Line | Arc | Circle | Spline
