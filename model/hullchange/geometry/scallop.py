"""Scallops: rounded cut-outs in the corners of webs, knees and brackets, where welds cross.

A weld runs through the scallop without a stop, and no three welds meet in a point.
"""

from math import atan2, cos, hypot, pi, sin

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.geometry.outline import FlatOutline
from hullchange.geometry.segments import Arc, FlatPoint, Line, Segment, Spline, flat_points

SCALLOP = "scallop"
"""Tag of the arcs."""

LEAST_LEFT = 2.0 / 3.0
"""Share of the shorter side at a corner that a scallop leaves standing."""

_AT = 1e-6  # [m] how near a corner is named
_COARSE = 64  # points on a segment that must be kept clear of
_FINE = 400  # points on which a curved side is cut


def scalloped(
    outer: FlatOutline, corner: FlatPoint, radius: float, thickness: float
) -> FlatOutline:
    """The outline with an arc about one of its corners cut away.

    Args:
        outer: the outline, run either way.
        corner: where two of its segments meet [m].
        radius: [m]; reduced where a side is too short or another edge too near. There is no
            scallop where it would be smaller than the plate is thick.
        thickness: of the plate [m].
    """
    pieces = outer.segments
    ends = [hypot(s.end[0] - corner[0], s.end[1] - corner[1]) for s in pieces]
    k = int(np.argmin(ends))
    assert ends[k] < _AT, "a scallop must be at a corner of the outline"
    after = (k + 1) % len(pieces)
    sides = pieces[k], pieces[after]
    room = (1.0 - LEAST_LEFT) * min(side.length for side in sides)
    radius = min(radius, room, LEAST_LEFT * _to_others(pieces, {k, after}, corner))
    if radius < max(thickness, _AT):
        return outer
    into, out = _trimmed(sides[0].reversed(), radius).reversed(), _trimmed(sides[1], radius)
    arc = _about(corner, radius, (into.end, out.start), outer.runs_left)
    kept = {k: (into, arc), after: (out,)}
    return FlatOutline(
        tuple(s for n, piece in enumerate(pieces) for s in kept.get(n, (piece,)))
    )


def _to_others(pieces: tuple[Segment, ...], beside: set[int], corner: FlatPoint) -> float:
    """Distance [m] from a corner to the nearest segment that does not begin or end there."""
    points = [p.spread(_COARSE) for n, p in enumerate(pieces) if n not in beside]
    away = (np.hypot(*(row - corner).T).min() for row in points)
    return float(min(away, default=np.inf))


def _trimmed(side: Segment, radius: float) -> Segment:
    """A side without what lies nearer than the radius to its start."""
    assert isinstance(side, Line | Spline), "scallops stand at straight sides and splines"
    points = side.spread(_FINE if isinstance(side, Spline) else 1)
    away = np.hypot(*(points - points[0]).T)
    first = int(np.argmax(away > radius))
    share = (radius - away[first - 1]) / (away[first] - away[first - 1])
    start = points[first - 1] + share * (points[first] - points[first - 1])
    start = points[0] + (start - points[0]) * radius / np.hypot(*(start - points[0]))
    kept = np.concatenate([start[None], points[first:]])
    if isinstance(side, Line):
        first_point, last_point = flat_points(kept)
        return Line(first_point, last_point, side.tag)
    return Spline(flat_points(_evenly(kept, len(side.points))), side.tag)


def _evenly(points: FloatArray, count: int) -> FloatArray:
    run = np.r_[0.0, np.cumsum(np.hypot(*np.diff(points, axis=0).T))]
    places = np.linspace(0.0, run[-1], count)
    return np.stack([np.interp(places, run, points[:, k]) for k in (0, 1)], axis=1)


def _about(
    corner: FlatPoint, radius: float, ends: tuple[FlatPoint, FlatPoint], runs_left: bool
) -> Arc:
    """The arc about the corner, on the side where the steel is."""
    first, last = (atan2(y - corner[1], x - corner[0]) for x, y in ends)
    turn = (first - last) % (2.0 * pi) if runs_left else -((last - first) % (2.0 * pi))
    middle = last + turn / 2.0
    through = corner[0] + radius * cos(middle), corner[1] + radius * sin(middle)
    return Arc(ends[0], through, ends[1], SCALLOP)
