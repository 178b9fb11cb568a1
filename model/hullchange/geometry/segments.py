"""The pieces of an outline in flat coordinates [m]: line, arc, circle, spline.

Each knows its exact share of the area and of its first moments by Green's theorem, its length,
and points along it within a chord tolerance.
"""

from dataclasses import dataclass
from functools import cached_property
from math import acos, atan2, ceil, cos, hypot, pi, sin, sqrt

import numpy as np
from scipy.interpolate import BSpline, make_interp_spline

from hullchange.geometry.frame import FloatArray

FlatPoint = tuple[float, float]
Moments = tuple[float, float, float]
"""Signed area [m^2] and its first moments in both directions [m^3]."""

_MOMENT_NODES = np.polynomial.legendre.leggauss(5)  # exact to degree 9; a cubic needs 8
_LENGTH_NODES = np.polynomial.legendre.leggauss(8)


def flat_points(points: FloatArray) -> tuple[FlatPoint, ...]:
    """The rows of an (n, 2) array as hashable points."""
    return tuple((x, y) for x, y in points.tolist())


def _turn_within(radius: float, tolerance: float) -> float:
    """Largest angle [rad] of a chord that stays within the tolerance, an eighth at most."""
    return min(2.0 * acos(max(0.0, 1.0 - tolerance / radius)), pi / 4.0)


def _below_chord(start: FlatPoint, end: FlatPoint) -> Moments:
    cross = start[0] * end[1] - end[0] * start[1]
    return (
        cross / 2.0,
        (start[0] + end[0]) * cross / 6.0,
        (start[1] + end[1]) * cross / 6.0,
    )


@dataclass(frozen=True)
class Line:
    """Straight from start to end."""

    start: FlatPoint
    end: FlatPoint
    tag: str = ""

    @property
    def moments(self) -> Moments:
        """Its share of area and first moments."""
        return _below_chord(self.start, self.end)

    @property
    def length(self) -> float:
        """Length [m]."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    def samples(self, tolerance: float) -> FloatArray:  # noqa: ARG002 - as its siblings
        """(1, 2) its start: the end belongs to the next piece."""
        return np.array([self.start])

    def reversed(self) -> "Line":
        """The same, run backwards."""
        return Line(self.end, self.start, self.tag)


@dataclass(frozen=True)
class Arc:
    """Circular from start through a third point to end."""

    start: FlatPoint
    through: FlatPoint
    end: FlatPoint
    tag: str = ""

    @cached_property
    def centre(self) -> FlatPoint:
        """Centre of the circle."""
        (x, y), (ax, ay) = self.start, self.through
        bx, by = self.end[0] - x, self.end[1] - y
        ax, ay = ax - x, ay - y
        twice = 2.0 * (ax * by - ay * bx)
        a, b = ax * ax + ay * ay, bx * bx + by * by
        return x + (by * a - ay * b) / twice, y + (ax * b - bx * a) / twice

    @property
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
        """Its share of area and first moments: the chord's, and the circular segment's."""
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
        """(n, 2) points from the start on, without the end."""
        first, sweep = self.angles
        count = max(2, ceil(abs(sweep) / _turn_within(self.radius, tolerance)))
        angle = first + sweep * np.arange(count) / count
        points = np.stack([np.cos(angle), np.sin(angle)], axis=1) * self.radius + self.centre
        points[0] = self.start
        return points

    def reversed(self) -> "Arc":
        """The same, run backwards."""
        return Arc(self.end, self.through, self.start, self.tag)


@dataclass(frozen=True)
class Circle:
    """A whole circle, counter-clockwise: an outline on its own."""

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
        """Its area and first moments."""
        area = pi * self.radius**2
        return area, area * self.centre[0], area * self.centre[1]

    @property
    def length(self) -> float:
        """Circumference [m]."""
        return 2.0 * pi * self.radius

    def samples(self, tolerance: float) -> FloatArray:
        """(n, 2) corners of the regular polygon of the circle's own area.

        A polygon inscribed in a tube's two circles would lose a per mille of its section.
        """
        count = max(12, ceil(2.0 * pi / _turn_within(self.radius, tolerance)))
        turn = 2.0 * pi / count
        angle = turn * np.arange(count)
        radius = self.radius * sqrt(turn / sin(turn))
        return np.stack([np.cos(angle), np.sin(angle)], axis=1) * radius + self.centre

    def reversed(self) -> "Circle":
        """The same: a circle has no direction of its own."""
        return self


@dataclass(frozen=True)
class Spline:
    """Cubic through given points, by chord length, not-a-knot at its ends."""

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
    def curve(self) -> BSpline:
        """The B-spline over the chord length [m]; of lower degree for two or three points."""
        points = np.array(self.points)
        chords = np.hypot(*np.diff(points, axis=0).T)
        run = np.concatenate([[0.0], np.cumsum(chords)])
        return make_interp_spline(run, points, k=min(3, len(points) - 1))

    def _at_gauss_nodes(
        self, nodes: tuple[FloatArray, FloatArray]
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Points, derivatives and weights at the Gauss nodes of every polynomial piece."""
        knots = np.unique(self.curve.t)
        half = np.diff(knots)[:, None] / 2.0
        run = ((knots[:-1] + knots[1:])[:, None] / 2.0 + half * nodes[0]).ravel()
        return self.curve(run), self.curve(run, 1), (half * nodes[1]).ravel()

    @cached_property
    def moments(self) -> Moments:
        """Its share of area and first moments, exact for its cubics."""
        at, rate, weight = self._at_gauss_nodes(_MOMENT_NODES)
        (x, y), (dx, dy) = at.T, rate.T
        swept = weight * (x * dy - y * dx)
        return float(swept.sum()) / 2.0, float(swept @ x) / 3.0, float(swept @ y) / 3.0

    @cached_property
    def length(self) -> float:
        """Length [m] by Gauss's rule on every piece."""
        _, rate, weight = self._at_gauss_nodes(_LENGTH_NODES)
        return float(weight @ np.hypot(rate[:, 0], rate[:, 1]))

    def samples(self, tolerance: float) -> FloatArray:
        """(n, 2) points from the start on, without the end."""
        curve = self.curve
        end = float(curve.t[-1])
        bend = float(np.abs(curve(np.linspace(0.0, end, len(self.points)), 2)).max())
        count = max(1, ceil(end * sqrt(bend * sqrt(2.0) / (8.0 * tolerance))))
        at: FloatArray = curve(np.linspace(0.0, end, count + 1)[:-1])
        at[0] = self.points[0]
        return at

    def reversed(self) -> "Spline":
        """The same, run backwards."""
        return Spline(self.points[::-1], self.tag)


Segment = Line | Arc | Circle | Spline
