"""The map by facets from the flat pattern of a plate bent between two edges into space."""

from dataclasses import dataclass
from functools import cached_property
from math import radians

import numpy as np

from hullchange.geometry.frame import FloatArray, IntArray
from hullchange.geometry.ruled_plate import Ruled

MARK_TURN, MARK_RUN = radians(10.0), 0.300
"""[rad] of bend and [m] along the plate between two rulings that are marked."""

_OTHER_SIDE = np.array([1.0, -1.0, 1.0])
_SAME = 1e-6  # [m] nearer points of an edge are one
_STRAIGHT = 1e4  # [m]


@dataclass(frozen=True, eq=False)
class Bend:
    """A ruling to roll along: its ends in the flat (2, 2) [m], and the radius at each [m]."""

    ends: FloatArray
    radii: tuple[float, float]


@dataclass(frozen=True, eq=False)
class Strip:
    """The surface of a plate between two edges; beyond them the nearest facet is extended."""

    ruled: Ruled

    @cached_property
    def ring(self) -> tuple[FloatArray, IntArray]:
        """The flat outline (m, 2) [m], and the numbers (n, 2) in it of both ends of rulings."""
        flat = self.ruled.flat
        loop = np.concatenate([flat[:, 0], flat[::-1, 1]])
        new = np.hypot(*(loop - np.roll(loop, 1, axis=0)).T) > _SAME
        number = np.maximum(np.cumsum(new) - 1, 0).astype(np.int32)
        count = len(flat)
        return loop[new], np.stack([number[:count], number[count:][::-1]], axis=1)

    @cached_property
    def facets(self) -> IntArray:
        """(k, 3) triangles between rulings, by number in the ring, counter-clockwise flat."""
        points, at = self.ring
        first = np.stack([at[:-1, 0], at[:-1, 1], at[1:, 1]], axis=1)
        second = np.stack([at[:-1, 0], at[1:, 1], at[1:, 0]], axis=1)
        rows = np.stack([first, second], axis=1).reshape(-1, 3)
        area = _cross(
            points[rows[:, 1]] - points[rows[:, 0]], points[rows[:, 2]] - points[rows[:, 0]]
        )
        kept = area != 0.0  # in a fan a facet has a corner twice
        turned = np.where((area < 0.0)[:, None], rows[:, ::-1], rows)
        return np.asarray(turned[kept])

    @cached_property
    def nodes(self) -> FloatArray:
        """(m, 3) the ring in space [m]."""
        points, at = self.ring
        found = np.zeros((len(points), 3))
        found[at.ravel()] = self.ruled.ends.reshape(-1, 3)
        return found

    @cached_property
    def node_normals(self) -> FloatArray:
        """(m, 3) unit normals [-] at the ring: those of the facets, weighted by area."""
        a, b, c = (self.nodes[self.facets[:, k]] for k in range(3))
        across = np.cross(b - a, c - a)
        total = np.zeros_like(self.nodes)
        for k in range(3):
            np.add.at(total, self.facets[:, k], across)
        return np.asarray(total / np.linalg.norm(total, axis=1)[:, None])

    def to_boat(self, flat: FloatArray) -> FloatArray:
        """Points (n, 3) [m] in the boat's frame, of flat points (n, 2) [m]."""
        facet, shares = self._placed(flat)
        return np.asarray(np.einsum("nk,nkd->nd", shares, self.nodes[self.facets[facet]]))

    def normals(self, flat: FloatArray) -> FloatArray:
        """Unit normals (n, 3) [-] at flat points (n, 2) [m]: first flat direction x second."""
        facet, shares = self._placed(flat)
        found = np.einsum("nk,nkd->nd", shares, self.node_normals[self.facets[facet]])
        return np.asarray(found / np.linalg.norm(found, axis=1)[:, None])

    def to_flat(self, points: FloatArray) -> FloatArray:
        """Flat points (n, 2) [m] of points (n, 3) [m] on or near the surface."""
        a, b, c = (self.nodes[self.facets[:, k]] for k in range(3))
        shares = np.stack([_solved(b - a, c - a, point - a) for point in points])
        whole = np.concatenate([1.0 - shares.sum(axis=2, keepdims=True), shares], axis=2)
        corners = np.stack([a, b, c], axis=1)
        inside = np.clip(whole, 0.0, None)
        near = np.einsum("nfk,fkd->nfd", inside / inside.sum(axis=2, keepdims=True), corners)
        facet = np.linalg.norm(near - points[:, None], axis=2).argmin(axis=1)
        own = whole[np.arange(len(points)), facet]
        return np.asarray(np.einsum("nk,nkd->nd", own, self.ring[0][self.facets[facet]]))

    def mirrored(self) -> "Strip":
        """The map of the twin on the other side of the centreline."""
        return Strip(Ruled(self.ruled.ends * _OTHER_SIDE, self.ruled.flat, self.ruled.twist))

    @cached_property
    def bends(self) -> tuple[Bend, ...]:
        """Rulings to roll along, without those of fans: the corner of a fan has no radius."""
        ends, flat = self.ruled.ends[1:-1], self.ruled.flat[1:-1]
        radii = self.ruled.bend_radii()
        steps = np.linalg.norm(np.diff(self.ruled.ends, axis=0), axis=2)
        whole = (steps[1:] > 1e-6).all(axis=1) & (steps[:-1] > 1e-6).all(axis=1)
        run = np.linalg.norm(np.diff(ends.mean(axis=1), axis=0), axis=1)
        turn = np.r_[0.0, run / np.minimum(radii.mean(axis=1), _STRAIGHT)[1:]]
        due = np.maximum(np.cumsum(turn) / MARK_TURN, np.r_[0.0, np.cumsum(run)] / MARK_RUN)
        rows, last = [], -1.0
        for k in np.nonzero(whole)[0].tolist():
            if due[k] - last >= 1.0 and radii[k].min() < _STRAIGHT:
                rows.append(Bend(flat[k], (float(radii[k, 0]), float(radii[k, 1]))))
                last = float(due[k])
        return tuple(rows)

    @property
    def hollow(self) -> FloatArray:
        """(3,) [m] towards the hollow side: from the middle of the edges to their chord."""
        edge = self.ruled.ends.mean(axis=1)
        middle = edge[len(edge) // 2]
        return np.asarray((edge[0] + edge[-1]) / 2.0 - middle)

    def _placed(self, flat: FloatArray) -> tuple[IntArray, FloatArray]:
        """The facet (n,) that each flat point lies in or is nearest to, and shares (n, 3)."""
        a, b, c = (self.ring[0][self.facets[:, k]] for k in range(3))
        away = flat[:, None] - a
        size = _cross(b - a, c - a)
        second = _cross(away, np.broadcast_to(c - a, away.shape)) / size
        third = _cross(np.broadcast_to(b - a, away.shape), away) / size
        shares = np.stack([1.0 - second - third, second, third], axis=2)
        # by area, so that a sliver does not win from far away
        facet = (shares.min(axis=2) * np.minimum(size, size.mean())).argmax(axis=1)
        return facet, shares[np.arange(len(flat)), facet]


def _cross(a: FloatArray, b: FloatArray) -> FloatArray:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def _solved(u: FloatArray, v: FloatArray, w: FloatArray) -> FloatArray:
    """(k, 2) shares of u and v in w, all (k, 3), by least squares."""
    uu, uv, vv = ((p * q).sum(axis=1) for p, q in ((u, u), (u, v), (v, v)))
    uw, vw = ((p * w).sum(axis=1) for p in (u, v))
    size = uu * vv - uv * uv
    return np.stack([(vv * uw - uv * vw) / size, (uu * vw - uv * uw) / size], axis=1)
