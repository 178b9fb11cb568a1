"""Closed outlines in flat coordinates, and the checks that a plate can be cut to them.

The only module of this room that imports shapely.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import acos, hypot, sin, tan
from typing import Any, Literal

import numpy as np
import shapely

from hullchange.cache import cached
from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray, IntArray
from hullchange.geometry.segments import (
    Arc,
    Circle,
    FlatPoint,
    Line,
    Segment,
    Spline,
    flat_points,
)

__all__ = [
    "Arc",
    "Circle",
    "FlatOutline",
    "FlatPoint",
    "Line",
    "Segment",
    "Spline",
    "flat_points",
]

CHORD_TOLERANCE = 0.4e-3
"""[m] how far the straight pieces of a mesh may leave the true outline."""

ONE_PLACE = 1e-6
"""[m] corners nearer than this are one corner: the CAD kernel makes no edge so short."""

_JOINT_GAP = 1e-7


@dataclass(frozen=True)
class FlatOutline:
    """A closed loop of segments, each starting where the one before it ends.

    Raises:
        ModelError: ``outline-open`` where it does not close.
    """

    segments: tuple[Segment, ...]

    def __post_init__(self) -> None:
        before = self.segments[-1].end
        for segment in self.segments:
            gap = hypot(segment.start[0] - before[0], segment.start[1] - before[1])
            if gap > _JOINT_GAP:
                sentence = f"An outline does not close: there is a gap of {gap * 1e3:.3f} mm."
                raise ModelError("outline-open", sentence)
            before = segment.end

    @classmethod
    def polygon(cls, corners: Sequence[FlatPoint], tag: str = "") -> "FlatOutline":
        """Straight lines from corner to corner [m]; a corner given twice counts once."""
        ends = (*corners[1:], corners[0])
        sides = [Line(a, b, tag) for a, b in zip(corners, ends, strict=True)]
        long = [side for side in sides if side.length > ONE_PLACE]
        if len(long) < len(sides) and len(long) > 2:
            return cls.polygon([side.start for side in long], tag)
        return cls(tuple(sides))

    @classmethod
    def rectangle(cls, low: FlatPoint, high: FlatPoint, radius: float = 0.0) -> "FlatOutline":
        """An upright rectangle between two corners [m], rounded by a radius [m].

        >>> round(FlatOutline.rectangle((0.0, 0.0), (2.0, 1.0), 0.1).area, 4)
        1.9914
        """
        (left, under), (right, over) = low, high
        return cls.rounded(
            ((left, under), (right, under), (right, over), (left, over)), (radius,) * 4
        )

    @classmethod
    def rounded(cls, corners: Sequence[FlatPoint], radii: Sequence[float]) -> "FlatOutline":
        """Straight lines from corner to corner [m], each corner rounded.

        Args:
            corners: [m] in order.
            radii: [m] of each corner; zero leaves it sharp.
        """
        ways = zip((corners[-1], *corners), corners, (*corners[1:], corners[0]), radii)  # noqa: B905
        cuts = [_rounding(*way) for way in ways]
        pieces: list[Segment] = []
        for cut, following in zip(cuts, cuts[1:] + cuts[:1], strict=True):
            if len(cut) == 3:
                pieces.append(Arc(*cut))
            if hypot(following[0][0] - cut[-1][0], following[0][1] - cut[-1][1]) > _JOINT_GAP:
                pieces.append(Line(cut[-1], following[0]))
        return cls(tuple(pieces))

    @classmethod
    def circle(cls, centre: FlatPoint, radius: float) -> "FlatOutline":
        """A circle by its centre [m] and radius [m]."""
        return cls((Circle(centre, radius),))

    @cached_property
    def _is_polygon(self) -> bool:
        return all(isinstance(segment, Line) for segment in self.segments)

    @cached_property
    def _moments(self) -> tuple[float, float, float]:
        shares = [segment.moments for segment in self.segments]
        area, along, up = (sum(share[k] for share in shares) for k in range(3))
        return area, along, up

    @property
    def area(self) -> float:
        """Enclosed area [m^2], exact for its segments, whichever way the loop runs."""
        return abs(self._moments[0])

    @property
    def runs_left(self) -> bool:
        """Whether the loop runs counter-clockwise."""
        return self._moments[0] > 0.0

    @property
    def centroid(self) -> FlatPoint:
        """Centroid of the enclosed area [m]."""
        area, along, up = self._moments
        return along / area, up / area

    @cached_property
    def perimeter(self) -> float:
        """Length of the loop [m]."""
        return sum(segment.length for segment in self.segments)

    def polyline(self, tolerance: float = CHORD_TOLERANCE) -> FloatArray:
        """(n, 2) points [m] around the loop, counter-clockwise, the first not repeated.

        Args:
            tolerance: [m] how far straight pieces may leave the outline.
        """
        if self._is_polygon:
            points = np.array([segment.start for segment in self.segments])
        else:
            points = np.concatenate([s.samples(tolerance) for s in self.segments])
        return points if _turns_left(points) else points[::-1]

    def tagged(self, tag: str) -> tuple[Segment, ...]:
        """The segments that carry a tag."""
        return tuple(segment for segment in self.segments if segment.tag == tag)


def _rounding(
    before: FlatPoint, corner: FlatPoint, after: FlatPoint, radius: float
) -> tuple[FlatPoint, ...]:
    """Start, middle and end of the arc that rounds a corner; the corner alone without one."""
    into, out = _way(corner, before), _way(corner, after)
    between = into[0] + out[0], into[1] + out[1]
    if radius <= 0.0 or between == (0.0, 0.0):
        return (corner,)
    halving = _way((0.0, 0.0), between)
    half = acos(max(-1.0, min(1.0, into[0] * out[0] + into[1] * out[1]))) / 2.0
    run = radius / tan(half)
    if run <= _JOINT_GAP:  # too small an arc for floating point
        return (corner,)
    steps = ((into, run), (halving, radius / sin(half) - radius), (out, run))
    return tuple((corner[0] + x * far, corner[1] + y * far) for (x, y), far in steps)


def _way(start: FlatPoint, end: FlatPoint) -> FlatPoint:
    """Unit vector from one point towards another."""
    x, y = end[0] - start[0], end[1] - start[1]
    size = hypot(x, y)
    return x / size, y / size


Rings = tuple[FloatArray, ...]
"""Outer loop and holes as points (n, 2) each, the steel to their left, ends not repeated."""


@cached(4096)
def sound_rings(outer: FlatOutline, holes: tuple[FlatOutline, ...]) -> Rings:
    """The loops as points, where a plate can be cut to them.

    Raises:
        ModelError: ``outline-crosses-itself``, ``hole-outside-outline`` or ``holes-overlap``.
    """
    rings = (outer.polyline(), *(hole.polyline()[::-1] for hole in holes))
    if not holes and is_convex(rings[0]):
        return rings
    plate, *cut = loops = shapely.polygons(_loops(rings))
    if not (shapely.is_valid(loops) & (shapely.area(loops) > 0.0)).all():
        sentence = "An outline crosses itself: give its corners in order."
        raise ModelError("outline-crosses-itself", sentence)
    if not holes:
        return rings
    if not shapely.contains_properly(plate, cut).all():
        sentence = "A hole runs over the edge of its plate: make it smaller or move it."
        raise ModelError("hole-outside-outline", sentence)
    if any(shapely.intersects(hole, cut[:k]).any() for k, hole in enumerate(cut)):
        sentence = (
            "Two holes of a plate overlap: make them smaller or fewer, or move them apart."
        )
        raise ModelError("holes-overlap", sentence)
    return rings


LoopKind = Literal["sound", "flat", "crossed"]
LEAST_AREA = 1e-6
"""[m^2] a loop of less encloses nothing."""


def loop_kind(corners: Sequence[FlatPoint]) -> LoopKind:
    """Whether straight lines from corner to corner [m] go once round a region.

    >>> loop_kind([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)])
    'crossed'
    """
    region = shapely.Polygon(corners)
    if shapely.convex_hull(region).area < LEAST_AREA:
        return "flat"
    if not region.is_valid:
        return "crossed"
    return "sound" if region.area >= LEAST_AREA else "flat"


def _loops(rings: Rings) -> Any:  # noqa: ANN401 - shapely ships no types
    """shapely's closed rings, all made in one call."""
    owner = np.repeat(np.arange(len(rings)), [len(ring) for ring in rings])
    return shapely.linearrings(np.concatenate(rings), indices=owner)


def lies_within(outer: FlatOutline, inner: FlatOutline) -> bool:
    """Whether the inner outline lies wholly inside the outer one."""
    return bool(
        shapely.Polygon(outer.polyline()).contains_properly(shapely.Polygon(inner.polyline()))
    )


def strip_triangles(rings: Rings, rulings: FloatArray) -> IntArray:
    """(m, 3) triangles that cross no ruling, over the stacked points of the rings.

    Args:
        rings: loops (n, 2) [m] that have a point wherever a ruling crosses them.
        rulings: (k, 2, 2) [m] the pieces of the rulings inside the region, between such points.
    """
    sides = [np.stack([ring, np.roll(ring, -1, axis=0)], axis=1) for ring in rings]
    pieces = shapely.polygonize(shapely.linestrings(np.concatenate([*sides, rulings])).tolist())
    outer, *holes = _loops(rings)
    region = shapely.polygons(outer, holes=holes or None)
    shapely.prepare(region)
    parts = shapely.get_parts(pieces)
    kept = parts[shapely.contains(region, shapely.point_on_surface(parts))]
    return _indexed(shapely.constrained_delaunay_triangles(kept), np.concatenate(rings))


def _indexed(triangulation: object, points: FloatArray) -> IntArray:
    """Corner numbers of shapely's triangles, counter-clockwise."""
    corners = shapely.get_coordinates(triangulation).reshape(-1, 4, 2)[:, :3]
    names = points[:, 0] + 1j * points[:, 1]
    order = np.argsort(names)
    asked = corners[..., 0] + 1j * corners[..., 1]
    faces = order[np.searchsorted(names[order], asked)].astype(np.int32)
    a, b, c = (corners[:, k] for k in range(3))
    turn = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
    return np.asarray(np.where(turn[:, None] < 0.0, faces[:, ::-1], faces), np.int32)


def _turns_left(ring: FloatArray) -> bool:
    """Whether the loop runs counter-clockwise."""
    x, y = (ring - ring[0]).T
    return float(x[:-1] @ y[1:] - x[1:] @ y[:-1]) > 0.0


def is_convex(ring: FloatArray) -> bool:
    """Whether a loop (n, 2) [m] turns left at every corner, and once round in all."""
    if len(ring) == 4:  # most are, and so few numbers are quicker one by one
        return _all_turn_left(ring.tolist())
    sides = np.diff(np.concatenate([ring, ring[:2]]), axis=0)
    x, y = sides.T
    turns = x[:-1] * y[1:] - y[:-1] * x[1:]
    if not (turns > 0.0).all():
        return False
    return float(np.arctan2(turns, x[:-1] * x[1:] + y[:-1] * y[1:]).sum()) < 3.0 * np.pi


def _all_turn_left(corners: list[list[float]]) -> bool:
    around = zip(corners[-2:] + corners[:-2], corners[-1:] + corners[:-1], corners, strict=True)
    return all(
        (bx - ax) * (cy - by) > (by - ay) * (cx - bx) for (ax, ay), (bx, by), (cx, cy) in around
    )
