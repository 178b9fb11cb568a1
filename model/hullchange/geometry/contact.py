"""Clear distance between the edges of one plate and another plate, thicknesses included.

Both plates are cut square to the edge at every station. The first becomes a rectangle that
starts at its edge, the second a rectangle along its mid-surface that ends at its outline. The
distance of two rectangles in a plane is exact, so it is known whether steel meets steel. A
curved second plate is taken as flat near the edge.
"""

from dataclasses import dataclass

import numpy as np

from hullchange.geometry.edges import EdgeStations, steel_spans
from hullchange.geometry.frame import BoolArray, FloatArray, IntArray

NEAR = 0.040  # [m] what is farther apart is not meant to meet
DEPTH = 0.060  # [m] of the second plate that counts beside the edge
BENT = 0.015  # [m] the same where it is curved
_ALONG = 0.985  # sine beyond which an edge pierces a surface


@dataclass(frozen=True, eq=False)
class Meeting:
    """Stations of one plate's edges near another plate.

    Attributes:
        rows: (k,) numbers of the stations.
        foot: (k, 3) on the other's mid-surface, in the plane square to the edge [m].
        normal: (k, 3) unit normals [-] of the other plate there.
        gap: (k,) clear distance from steel to steel [m], negative where they overlap.
        to_rim: (k,) distance [m] from the foot along the other plate to its own edge.
        steep: (k,) sine [-] of the angle between the edge and the other's surface.
        ahead: (k,) True where the other's nearest edge lies outside the first plate.
    """

    rows: IntArray
    foot: FloatArray
    normal: FloatArray
    gap: FloatArray
    to_rim: FloatArray
    steep: FloatArray
    ahead: BoolArray

    def only(self, kept: BoolArray) -> "Meeting":
        """The same for some of the stations (k,)."""
        return Meeting(
            self.rows[kept],
            self.foot[kept],
            self.normal[kept],
            self.gap[kept],
            self.to_rim[kept],
            self.steep[kept],
            self.ahead[kept],
        )


def meeting(one: EdgeStations, other: EdgeStations) -> Meeting | None:
    """Stations of one plate's edges within ``NEAR`` of the other plate; None without any."""
    reach = NEAR + one.half + other.half
    near = ((one.at > other.low - reach) & (one.at < other.high + reach)).all(axis=1)
    rows = np.nonzero(near)[0]
    if not len(rows):
        return None
    place = other.plate.map
    flat = place.to_flat(one.at[rows])
    foot, normal = place.to_boat(flat), place.normals(flat)
    away = ((one.at[rows] - foot) * normal).sum(axis=1)
    box = other.rings.min(axis=(0, 1)) - reach, other.rings.max(axis=(0, 1)) + reach
    steep = np.abs((one.way[rows] * normal).sum(axis=1))
    over = ((flat > box[0]) & (flat < box[1])).all(axis=1)
    kept = (np.abs(away) < reach) & over & (steep < _ALONG)
    if not kept.any():
        return None
    return _cut(one, other, (rows[kept], normal[kept], away[kept], steep[kept]))


def _cut(
    one: EdgeStations,
    other: EdgeStations,
    found: tuple[IntArray, FloatArray, FloatArray, FloatArray],
) -> Meeting | None:
    """The same stations, both plates cut square to the edge."""
    rows, normal, away, steep = found
    at, way = one.at[rows], one.way[rows]
    along = _unit(np.cross(normal, way))  # square to the edge, in the other's surface
    square = np.cross(way, along)
    # in the plane square to the edge, which is not the nearest where the edge is steep
    foot = at - (away / (square * normal).sum(axis=1))[:, None] * square
    place = other.plate.map
    flat = place.to_flat(foot)
    ends, _ = steel_spans(flat, _unit(place.to_flat(foot + 1e-4 * along) - flat), other.rings)
    good = (ends[:, 0] < NEAR + DEPTH) & (ends[:, 1] > -NEAR - DEPTH)
    if not good.any():
        return None
    rows, normal, steep = rows[good], normal[good], steep[good]
    foot, along, square, ends = foot[good], along[good], square[good], ends[good]
    gap = _distance(one, other, rows, (foot, along, square, ends))
    rim = np.where(np.abs(ends[:, 0]) < np.abs(ends[:, 1]), ends[:, 0], ends[:, 1])
    ahead = rim * (along * one.out[rows]).sum(axis=1) > 0.0
    whole = Meeting(rows, foot, normal, gap, np.abs(rim), steep, ahead)
    return whole.only(gap < NEAR)


def _distance(
    one: EdgeStations,
    other: EdgeStations,
    rows: IntArray,
    there: tuple[FloatArray, FloatArray, FloatArray, FloatArray],
) -> FloatArray:
    """Clear distance (k,) of the two rectangles in the plane square to the edge."""
    foot, along, square, ends = there
    inward, up = -one.out[rows], one.normal[rows]

    def drawn(ways: FloatArray) -> FloatArray:
        return np.stack([(ways * inward).sum(axis=1), (ways * up).sum(axis=1)], axis=1)

    count = len(rows)
    look = DEPTH if other.is_flat else BENT
    ends = np.clip(ends, -look, look)
    own = np.stack([np.zeros(count), np.full(count, -one.half)], axis=1)
    axes = np.tile([1.0, 0.0], (count, 1)), np.tile([0.0, 1.0], (count, 1))
    mine = _rectangles(own, axes, (one.deep[rows], np.full(count, 2.0 * one.half)))
    sides = drawn(along), drawn(square)
    start = drawn(foot - one.at[rows]) + sides[0] * ends[:, :1] - sides[1] * other.half
    yours = _rectangles(
        start, sides, (ends[:, 1] - ends[:, 0], np.full(count, 2.0 * other.half))
    )
    return rectangle_gaps(mine, yours)


def _rectangles(
    corner: FloatArray,
    sides: tuple[FloatArray, FloatArray],
    size: tuple[FloatArray, FloatArray],
) -> FloatArray:
    """(k, 4, 2) corners in order, of rectangles by a corner, unit sides (k, 2) and sizes."""
    u, v = sides[0] * size[0][:, None], sides[1] * size[1][:, None]
    return np.stack([corner, corner + u, corner + u + v, corner + v], axis=1)


def rectangle_gaps(one: FloatArray, other: FloatArray) -> FloatArray:
    """(k,) distance [m] of rectangles (k, 4, 2) [m], negative by the depth of an overlap."""
    depth = np.full(len(one), -np.inf)
    for r in (one, other):
        for j in (1, 3):
            axis = _unit(r[:, j] - r[:, 0])
            p, q = (np.einsum("kcd,kd->kc", x, axis) for x in (one, other))
            clear = np.maximum(q.min(axis=1) - p.max(axis=1), p.min(axis=1) - q.max(axis=1))
            depth = np.maximum(depth, clear)
    free = depth > 0
    if free.any():
        pairs = ((one[free], other[free]), (other[free], one[free]))
        depth[free] = np.min([_to_corners(r, s) for r, s in pairs], axis=0)
    return depth


def _to_corners(r: FloatArray, s: FloatArray) -> FloatArray:
    """(k,) from rectangles r to the nearest corner of rectangles s."""
    out = []
    for side in (r[:, 1] - r[:, 0], r[:, 3] - r[:, 0]):
        length = np.maximum(np.linalg.norm(side, axis=1), 1e-12)[:, None]
        at = np.einsum("kcd,kd->kc", s - r[:, :1], side / length)
        out.append(np.maximum(np.maximum(-at, at - length), 0.0))
    return np.asarray(np.hypot(*out).min(axis=1))


def _unit(rows: FloatArray) -> FloatArray:
    length = np.linalg.norm(rows, axis=1)[:, None]
    return np.asarray(rows / np.maximum(length, 1e-12))
