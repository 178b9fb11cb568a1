"""The mesh of a plate: triangles in the flat, mapped into space and closed at the edges.

Both faces are offset from the same flat nodes, so the thickness is right everywhere. Faces of a
thin curved plate that are triangulated separately enclose a wrong volume.
"""

from dataclasses import dataclass

import numpy as np

from hullchange.cache import cached
from hullchange.geometry.developable import Cone, DevelopableMap, Planar
from hullchange.geometry.frame import FloatArray, IntArray
from hullchange.geometry.outline import (
    FlatOutline,
    Rings,
    is_convex,
    sound_rings,
    strip_triangles,
)
from hullchange.geometry.strip import Strip
from hullchange.geometry.surface import Surface, flat_triangles

_AT_A_NODE = 1e-9


@dataclass(frozen=True, eq=False)
class Layout:
    """A plate's nodes in the flat, and the faces of its closed surface over twice as many.

    Attributes:
        flat: (n, 2) [m] points of all rings.
        lengths: how many points each ring has, the outer one first.
        faces: (m, 3) over the nodes on one face, then the same on the other.
    """

    flat: FloatArray
    lengths: tuple[int, ...]
    faces: IntArray


def layout(outer: FlatOutline, holes: tuple[FlatOutline, ...], place: DevelopableMap) -> Layout:
    """How a plate is divided into triangles; where it bends, along its rulings.

    Raises:
        ModelError: as ``sound_rings``.
    """
    match place:
        case Planar():
            return _planar_layout(outer, holes)
        case Cone():
            return _cone_layout(sound_rings(outer, holes), place)
        case Strip():
            points, _ = place.ring
            if holes:
                return _strip_layout(sound_rings(outer, holes)[1:], place)
            return _layout((points,), place.facets)


def solid_surface(laid: Layout, thickness: float, place: DevelopableMap) -> Surface:
    """Closed surface of a plate, half its thickness [m] on either side of the mid-surface."""
    mid = place.to_boat(laid.flat)
    half = place.normals(laid.flat) * (thickness / 2.0)
    return Surface.unchecked(np.concatenate([mid + half, mid - half]), laid.faces)


@cached(4096)
def _planar_layout(outer: FlatOutline, holes: tuple[FlatOutline, ...]) -> Layout:
    rings = sound_rings(outer, holes)
    if not holes and is_convex(rings[0]):
        return Layout(rings[0], (len(rings[0]),), _convex_faces(len(rings[0])))
    return _layout(rings, flat_triangles(rings))


def _layout(rings: Rings, faces: IntArray) -> Layout:
    lengths = tuple(len(ring) for ring in rings)
    return Layout(np.concatenate(rings), lengths, _closed_faces(faces, lengths))


@cached(1024)
def _convex_faces(count: int) -> IntArray:
    """Faces of a plate of convex outline, whose triangles all start at its first corner."""
    second = np.arange(1, count - 1, dtype=np.int32)
    fan = np.stack([np.zeros(count - 2, np.int32), second, second + 1], axis=1)
    return _closed_faces(fan, (count,))


def _closed_faces(flat: IntArray, lengths: tuple[int, ...]) -> IntArray:
    """The flat triangles on one face, turned over on the other, and the cut edges."""
    return np.concatenate([flat, flat[:, ::-1] + sum(lengths), _walls(lengths)])


def _cone_layout(rings: Rings, cone: Cone) -> Layout:
    """The rings with a point wherever a ruling crosses, and triangles between rulings."""
    azimuths = [cone.azimuth(ring) for ring in rings]
    rulings = cone.strips(float(azimuths[0].min()), float(azimuths[0].max()))
    crossed = [
        _with_crossings(ring, azimuth, rulings, cone)
        for ring, azimuth in zip(rings, azimuths, strict=True)
    ]
    marked = np.concatenate([points for points, _ in crossed])
    number = np.concatenate([on for _, on in crossed])
    rows = [marked[number == k] for k in range(len(rulings))]
    sorted_rows = [row[np.argsort(cone.along(row))] for row in rows]
    inside = [row.reshape(-1, 2, 2) for row in sorted_rows]
    full = tuple(points for points, _ in crossed)
    if not inside:
        return _layout(full, flat_triangles(full))
    return _layout(full, strip_triangles(full, np.concatenate(inside)))


def _strip_layout(holes: Rings, strip: Strip) -> Layout:
    """Rings with a point wherever a ruling crosses a hole, and triangles between rulings."""
    ring, at = strip.ring
    rulings = ring[at[1:-1]]
    rulings = rulings[np.hypot(*(rulings[:, 1] - rulings[:, 0]).T) > _AT_A_NODE]
    crossed = [_with_ruling_crossings(hole, rulings) for hole in holes]
    inside = []
    for k, (start, end) in enumerate(rulings):
        on = np.concatenate([start[None], *(p[n == k] for p, n in crossed), end[None]])
        inside.append(on[np.argsort((on - start) @ (end - start))].reshape(-1, 2, 2))
    full = (ring, *(points for points, _ in crossed))
    return _layout(full, strip_triangles(full, np.concatenate(inside)))


def _with_ruling_crossings(
    ring: FloatArray, rulings: FloatArray
) -> tuple[FloatArray, IntArray]:
    """A ring with its crossings put in, and for each point its ruling's number or -1."""
    foot, way = rulings[:, :1], rulings[:, 1:] - rulings[:, :1]
    away = ring[None] - foot
    beside = way[..., 0] * away[..., 1] - way[..., 1] * away[..., 0]
    after = np.roll(beside, -1, axis=1)
    ruling, side = np.nonzero((beside > 0.0) != (after > 0.0))
    before = beside[ruling, side]
    share = np.clip(before / (before - after[ruling, side]), 0.0, 1.0)
    start = ring[side]
    at = start + share[:, None] * (np.roll(ring, -1, axis=0)[side] - start)
    place = np.concatenate([np.arange(len(ring), dtype=float), side + share])
    on = np.concatenate([np.full(len(ring), -1), ruling])
    points = np.concatenate([ring, at])
    order = np.argsort(place, kind="stable")
    return _merged(points[order], on[order])


def _with_crossings(
    ring: FloatArray, azimuth: FloatArray, rulings: FloatArray, cone: Cone
) -> tuple[FloatArray, IntArray]:
    """A ring with its crossings put in, and for each point its ruling's number or -1."""
    after = np.roll(azimuth, -1)
    beyond = azimuth[None, :] > rulings[:, None]
    ruling, side = np.nonzero(beyond != (after[None, :] > rulings[:, None]))
    start, end = ring[side], np.roll(ring, -1, axis=0)[side]
    share = _share_of_side(start, end, rulings[ruling], cone)
    at = start + share[:, None] * (end - start)
    place = np.concatenate([np.arange(len(ring), dtype=float), side + share])
    on = np.concatenate([np.full(len(ring), -1), ruling])
    points = np.concatenate([ring, at])
    order = np.argsort(place, kind="stable")
    return _merged(points[order], on[order])


def _share_of_side(
    start: FloatArray, end: FloatArray, ruling: FloatArray, cone: Cone
) -> FloatArray:
    """Where the rulings, straight in the flat, cut the sides: 0 at the start, 1 at the end."""
    foot = cone.flat_of(ruling, np.zeros(len(ruling)))
    way = cone.flat_of(ruling, np.ones(len(ruling))) - foot
    from_start, from_end = (
        way[:, 0] * (p - foot)[:, 1] - way[:, 1] * (p - foot)[:, 0] for p in (start, end)
    )
    return np.asarray(np.clip(from_start / (from_start - from_end), 0.0, 1.0))


def _merged(points: FloatArray, on: IntArray) -> tuple[FloatArray, IntArray]:
    """Points that lie on one another made one, keeping the ruling's number."""
    step = np.abs(points - np.roll(points, 1, axis=0)).max(axis=1)
    kept = step > _AT_A_NODE
    owner = np.cumsum(kept) - 1
    number = np.full(int(kept.sum()), -1)
    np.maximum.at(number, owner, on)
    return points[kept], number


@cached(1024)
def ring_nodes(lengths: tuple[int, ...]) -> IntArray:
    """(k, 2) nodes that the rings join, on one face and on the other."""
    pairs = _around(lengths)
    return np.concatenate([pairs, pairs + sum(lengths)])


def _around(lengths: tuple[int, ...]) -> IntArray:
    """(n, 2) numbers of each point and of the next one on its ring."""
    ends = np.cumsum(lengths)
    after = np.arange(1, ends[-1] + 1, dtype=np.int32)
    after[ends - 1] = ends - lengths
    return np.stack([np.arange(ends[-1], dtype=np.int32), after], axis=1)


def _walls(lengths: tuple[int, ...]) -> IntArray:
    """Triangles of the cut edges, between the points of rings and their partners below."""
    (a, b), count = _around(lengths).T, sum(lengths)
    return np.concatenate(
        [np.stack([b, a, a + count], axis=1), np.stack([b, a + count, b + count], axis=1)]
    )
