"""Closed loops of lines and arcs, as a cutting machine takes them."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import ceil, cos, hypot, pi, sin, tan

import numpy as np
import shapely

from hullchange.geometry.frame import FloatArray
from hullchange.geometry.outline import Arc, Circle, FlatOutline, Line, Segment, Spline

FIT_TOLERANCE = 0.1e-3
"""[m] how far an arc may leave the spline it replaces."""

WIDEST_ARC = 50.0
"""[m] radius beyond which machines and readers of files fail: there short chords stand."""

_FINE = 4e-6  # [m] how far the dense points of a spline lie off it
_CHORD = 10e-6  # [m] the same for the chords of an arc, where areas and gaps are checked
_WIDEST = 2.0 * pi / 3.0  # [rad] a fitted arc turns at most


@dataclass(frozen=True, eq=False)
class Contour:
    """A closed loop, counter-clockwise.

    Attributes:
        nodes: (n, 3) x and y [m] of each corner, and the bulge of the piece that starts there:
            the tangent of a quarter of the angle it turns, zero where it is straight, positive
            to the left.
    """

    nodes: FloatArray

    @cached_property
    def _chords(self) -> FloatArray:
        """(n, 2) from each node to the next."""
        at = self.nodes[:, :2]
        return np.asarray(np.roll(at, -1, axis=0) - at)

    @cached_property
    def turns(self) -> FloatArray:
        """(n,) angle [rad] each piece turns, signed."""
        return np.asarray(4.0 * np.arctan(self.nodes[:, 2]))

    @cached_property
    def radii(self) -> FloatArray:
        """(n,) radius [m] of each piece, infinite where it is straight."""
        half = np.abs(np.sin(self.turns / 2.0))
        length = np.hypot(*self._chords.T)
        return np.asarray(
            np.where(half > 0.0, length / np.where(half > 0.0, 2 * half, 1), np.inf)
        )

    @cached_property
    def area(self) -> float:
        """Enclosed area [m^2], exact; negative where the loop runs clockwise."""
        x, y = self.nodes[:, :2].T - self.nodes[0, :2, None]
        straight = float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0
        round_, turns = np.isfinite(self.radii), self.turns
        caps = self.radii[round_] ** 2 * (turns[round_] - np.sin(turns[round_])) / 2.0
        return straight + float(caps.sum())

    @cached_property
    def perimeter(self) -> float:
        """Length [m] of the loop."""
        straight = np.hypot(*self._chords.T)
        round_ = np.isfinite(self.radii)
        arcs = self.radii[round_] * np.abs(self.turns[round_])
        return float(straight[~round_].sum() + arcs.sum())

    @cached_property
    def points(self) -> FloatArray:
        """(m, 2) dense points [m] around the loop, the first not repeated."""
        rows = []
        for (x, y, _), chord, turn, radius in zip(
            self.nodes, self._chords, self.turns, self.radii, strict=True
        ):
            rows.append(np.array([[x, y]]))
            if turn != 0.0:
                rows.append(_along_arc(np.array([x, y]), chord, float(turn), float(radius)))
        return np.concatenate(rows)

    def placed(self, angle: float, shift: FloatArray, over: bool = False) -> "Contour":
        """The loop mirrored (y to -y) if asked, turned by an angle [rad], shifted (2,) [m]."""
        nodes = self.nodes.copy()
        if over:  # run the other way round, so that it stays counter-clockwise
            bulges = np.roll(nodes[:, 2], 1)[::-1]
            nodes = nodes[::-1] * np.array([1.0, -1.0, 1.0])
            nodes[:, 2] = bulges
        nodes[:, :2] = nodes[:, :2] @ turned(angle) + shift
        return Contour(nodes)


def turned(angle: float) -> FloatArray:
    """(2, 2) matrix that turns rows of points by an angle [rad]."""
    return np.array([[cos(angle), sin(angle)], [-sin(angle), cos(angle)]])


def polygon_of(rings: tuple[Contour, ...]) -> shapely.Polygon:
    """The steel between an outer loop and its holes, arcs as fine chords."""
    outer, *holes = (ring.points for ring in rings)
    return shapely.Polygon(outer, holes)


def enclosed(rings: Sequence[Contour]) -> float:
    """Area [m^2] between an outer loop and its holes, exact."""
    outer, *holes = (ring.area for ring in rings)
    return outer - sum(holes)


def contour_of(outline: FlatOutline, tolerance: float = FIT_TOLERANCE) -> Contour:
    """The loop a machine cuts: lines and arcs as drawn, splines as arcs.

    Args:
        outline: of a plate.
        tolerance: [m] how far an arc may leave a spline.
    """
    rows = [row for segment in outline.segments for row in _pieces(segment, tolerance)]
    contour = Contour(np.array(rows))
    return contour if contour.area > 0.0 else _run_back(contour)


def _run_back(contour: Contour) -> Contour:
    nodes = contour.nodes[::-1].copy()
    nodes[:, 2] = -np.roll(contour.nodes[:, 2], 1)[::-1]
    return Contour(nodes)


def _pieces(segment: Segment, tolerance: float) -> list[tuple[float, float, float]]:
    """Nodes of one segment, its end left to the next."""
    match segment:
        case Line():
            return [(*segment.start, 0.0)]
        case Arc():
            return [(*segment.start, tan(segment.angles[1] / 4.0))]
        case Circle():
            x, y = segment.centre
            return [(x + segment.radius, y, 1.0), (x - segment.radius, y, 1.0)]
        case Spline():
            return _fitted(_dense(segment), tolerance)


def _dense(spline: Spline) -> FloatArray:
    """Points so close that the chords between them hardly leave the spline."""
    return np.concatenate([spline.samples(_FINE), [spline.end]])


def _fitted(points: FloatArray, tolerance: float) -> list[tuple[float, float, float]]:
    """Few arcs along dense points (n, 2): each as long as it may be, ends on the points."""
    rows: list[tuple[float, float, float]] = []
    start, last = 0, len(points) - 1
    while start < last:
        good, reach = start + 1, 2
        while start + reach <= last and _holds(points[start : start + reach + 1], tolerance):
            good, reach = start + reach, 2 * reach
        low, high = good, min(start + reach, last + 1)
        while high - low > 1:
            middle = (low + high) // 2
            if _holds(points[start : middle + 1], tolerance):
                low = middle
            else:
                high = middle
        rows.append((*points[start].tolist(), _bulge(points[start : low + 1], tolerance)))
        start = low
    return rows


def _bulge(points: FloatArray, tolerance: float) -> float:
    """Of the arc through first, middle and last point; zero where the chord does as well."""
    if _sag(points) <= tolerance / 2.0:
        return 0.0
    (ax, ay), (bx, by) = points[len(points) // 2] - points[0], points[-1] - points[0]
    # the angle seen from the middle point is the half turn's supplement
    cx, cy = bx - ax, by - ay
    half_turn = np.arctan2(ax * cy - ay * cx, ax * cx + ay * cy)
    return float(np.tan(half_turn / 2.0))


def _sag(points: FloatArray) -> float:
    chord = points[-1] - points[0]
    away = points - points[0]
    length = hypot(*chord.tolist())
    return float(np.abs(away[:, 0] * chord[1] - away[:, 1] * chord[0]).max()) / length


def _holds(points: FloatArray, tolerance: float) -> bool:
    """True where one arc, or the chord, stays within the tolerance of all points."""
    if len(points) < 3 or _sag(points) <= tolerance / 2.0:
        return True
    bulge = _bulge(points, tolerance)
    turn = 4.0 * np.arctan(bulge)
    if not 1e-9 < abs(turn) <= _WIDEST:
        return False
    chord = points[-1] - points[0]
    across = np.array([-chord[1], chord[0]])
    centre = points[0] + chord / 2.0 + across / (2.0 * np.tan(turn / 2.0))
    radius = np.hypot(*(points[0] - centre))
    away = np.hypot(*(points - centre).T) - radius
    ordered = np.diff((points - points[0]) @ chord).min() > 0.0 or abs(turn) > pi / 2.0
    return bool(np.abs(away).max() <= tolerance and ordered and radius <= WIDEST_ARC)


def _along_arc(start: FloatArray, chord: FloatArray, turn: float, radius: float) -> FloatArray:
    """Points (k, 2) inside an arc, both ends left out."""
    step = 2.0 * np.arccos(max(0.0, 1.0 - _CHORD / radius))
    count = max(2, ceil(abs(turn) / step))
    across = np.array([-chord[1], chord[0]])
    centre = (
        start + chord / 2.0 + across / (2.0 * tan(turn / 2.0))
        if abs(turn) < pi
        else (start + chord / 2.0)
    )
    first = np.arctan2(*(start - centre)[::-1])
    angles = first + turn / count * np.arange(1, count)
    return np.asarray(centre + radius * np.stack([np.cos(angles), np.sin(angles)], axis=1))
