"""Plates between two edges in space, developed along the rulings that twist least.

A strip between two curves is developable where the tangent planes at both ends of every ruling
agree. The pairing of the edges is found by dynamic programming over the angle between those
planes. Where one edge begins or ends too early for that, the plate begins or ends in a fan: a
cone with its point in the corner, which bends but does not stretch. The ends of the plate are
straight from corner to corner.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline

from hullchange.compiled import compiled
from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.ruled_plate import YIELD_STRAIN, Ruled, unit_vectors
from hullchange.units import deg_of_rad

_AT_A_FAN = 10.0  # of both edges: what the ruling next to a fan weighs
_HALVED = 40
_STEPS = 8  # grid points one edge may gain on the other at a time
_SAME = 1e-9  # [m]
_LEAST = 1e-4  # [rad^2 m] cost of an advance, so that even rulings are spread evenly


def ruled(first: FloatArray, second: FloatArray, count: int = 200) -> Ruled:
    """The plate between two edges, by the pairing that twists least.

    Args:
        first: (k, 3) points of one edge [m], splined through.
        second: (l, 3) points of the other edge [m], in the same order.
        count: number of points on each edge that are tried.

    Raises:
        ModelError: ``plate-twisted`` where flat plate cannot be bent to the shape.
    """
    edges = _Edge.through(first), _Edge.through(second)
    places = [np.linspace(0.0, edge.length, count) for edge in edges]
    at = [edge.at(p) for edge, p in zip(edges, places, strict=True)]
    ways = [edge.way(p) for edge, p in zip(edges, places, strict=True)]
    cost = _twist(at[0][:, None], ways[0][:, None], at[1][None], ways[1][None]) ** 2
    path = _cheapest(cost, places[0], places[1])
    u = places[0][path[:, 0]]
    v = _refined(edges, u, places[1][path[:, 1]])
    lead, u, v = _with_fans(places, u, v)
    ends = np.stack([edges[0].at(u), edges[1].at(v)], axis=1)
    twist = np.zeros(len(u))
    strip = slice(lead, lead + len(path))
    whole = _twist(ends[:, 0], edges[0].way(u), ends[:, 1], edges[1].way(v))
    twist[strip] = whole[strip]
    plate = Ruled(ends, _unrolled(ends), twist)
    if plate.strain > YIELD_STRAIN:
        worst = deg_of_rad(float(twist.max()))
        sentence = (
            f"The plate between these edges twists by {worst:.1f}°: flat plate would stretch "
            f"by {100.0 * plate.strain:.2f} %, and steel yields at {100.0 * YIELD_STRAIN:.2f} "
            "%: divide it by a seam or change the edges."
        )
        raise ModelError("plate-twisted", sentence)
    return plate


@dataclass(frozen=True, eq=False)
class _Edge:
    """A curve by its length."""

    curve: CubicSpline
    length: float

    @classmethod
    def through(cls, points: FloatArray) -> "_Edge":
        run = np.concatenate(
            [[0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))]
        )
        bound = "not-a-knot" if len(points) > 3 else "natural"
        return cls(CubicSpline(run, points, bc_type=bound), float(run[-1]))

    def at(self, place: FloatArray) -> FloatArray:
        return np.asarray(self.curve(place))

    def way(self, place: FloatArray) -> FloatArray:
        return unit_vectors(self.curve(place, 1))


def _twist(a: FloatArray, way_a: FloatArray, b: FloatArray, way_b: FloatArray) -> FloatArray:
    """Angle [rad] between the tangent planes at both ends of rulings."""
    ruling = b - a
    first, second = unit_vectors(np.cross(way_a, ruling)), unit_vectors(np.cross(way_b, ruling))
    sine = np.linalg.norm(np.cross(first, second), axis=-1)
    return np.asarray(np.arctan2(sine, (first * second).sum(axis=-1)))


def _cheapest(cost: FloatArray, a: FloatArray, b: FloatArray) -> NDArray[np.int64]:
    """(n, 2) pairing of grid points, from where a fan ends to where another begins."""
    total, before = _totals(cost, a, b, float(a[-1] + b[-1]) * _AT_A_FAN)
    last = np.full(total.shape, np.inf)
    last[-1], last[:, -1] = total[-1], total[:, -1]
    last += cost * (float(a[-1] + b[-1]) * _AT_A_FAN)
    path = [int(np.argmin(last))]
    while before.flat[path[-1]] >= 0:
        path.append(int(before.flat[path[-1]]))
    return np.stack(np.unravel_index(path[::-1], total.shape), axis=1)


@compiled
def _totals(
    cost: FloatArray, a: FloatArray, b: FloatArray, at_a_fan: float
) -> tuple[FloatArray, NDArray[np.int64]]:
    """Least cost of reaching each pair, and the pair before it, -1 at a start."""
    rows, columns = cost.shape
    total = np.full((rows, columns), np.inf)
    before = np.full((rows, columns), -1)
    for i in range(rows):
        for j in range(columns):
            if i == 0 or j == 0:  # a fan before it costs its advance alone
                total[i, j] = cost[i, j] * at_a_fan + _LEAST * (a[i] + b[j])
            for di in range(_STEPS):
                for dj in range(_STEPS):
                    k, m = i - di, j - dj
                    if (di == 0 and dj == 0) or (di > 1 and dj > 1) or k < 0 or m < 0:
                        continue
                    advance = a[i] - a[k] + b[j] - b[m]
                    reached = total[k, m] + (cost[i, j] + cost[k, m] + _LEAST) * advance
                    if reached < total[i, j]:
                        total[i, j] = reached
                        before[i, j] = k * columns + m
    return total, before


def _with_fans(
    places: list[FloatArray], u: FloatArray, v: FloatArray
) -> tuple[int, FloatArray, FloatArray]:
    """Number of leading rulings, and the pairing from corner to corner."""
    before = [p[p < first - _SAME] for p, first in zip(places, (u[0], v[0]), strict=True)]
    after = [p[p > last + _SAME] for p, last in zip(places, (u[-1], v[-1]), strict=True)]
    rows = []
    for (mine, others), (start, end), edge in zip(
        ((0, 1), (1, 0)), ((u[0], u[-1]), (v[0], v[-1])), (u, v), strict=True
    ):
        rows.append(
            np.concatenate(
                [
                    before[mine],
                    np.full(len(before[others]), start),
                    edge,
                    after[mine],
                    np.full(len(after[others]), end),
                ]
            )
        )
    return len(before[0]) + len(before[1]), rows[0], rows[1]


def _refined(edges: tuple[_Edge, _Edge], u: FloatArray, v: FloatArray) -> FloatArray:
    """Places on the second edge moved, between their neighbours, to where nothing twists."""
    first, second = edges
    a, way = first.at(u[1:-1]), first.way(u[1:-1])

    def turn(place: FloatArray) -> FloatArray:
        across = np.cross(way, second.way(place))
        return np.asarray((across * (second.at(place) - a)).sum(axis=1))

    low, high = v[:-2] + 1e-9, v[2:] - 1e-9
    sign = np.sign(turn(low))
    crossed = (high > low) & (sign * np.sign(turn(high)) < 0.0)
    for _ in range(_HALVED):
        middle = (low + high) / 2.0
        before = np.sign(turn(middle)) == sign
        low, high = np.where(before, middle, low), np.where(before, high, middle)
    moved = v.copy()
    moved[1:-1] = np.where(crossed, (low + high) / 2.0, v[1:-1])
    return np.maximum.accumulate(moved)


def _unrolled(ends: FloatArray) -> FloatArray:
    """(n, 2, 2) the rulings laid flat, triangle by triangle, every edge its own length."""
    flat = np.zeros((len(ends), 2, 2))
    flat[0, 1] = 0.0, np.linalg.norm(ends[0, 1] - ends[0, 0])
    for k in range(len(ends) - 1):
        (a, b), (c, d) = ends[k], ends[k + 1]
        if np.linalg.norm(c - b) <= np.linalg.norm(d - a):
            flat[k + 1, 0] = _third(flat[k, 0], flat[k, 1], c - a, c - b)
            flat[k + 1, 1] = _third(flat[k + 1, 0], flat[k, 1], d - c, d - b)
        else:
            flat[k + 1, 1] = _third(flat[k, 0], flat[k, 1], d - a, d - b)
            flat[k + 1, 0] = _third(flat[k, 0], flat[k + 1, 1], c - a, c - d)
    return flat


def _third(p: FloatArray, q: FloatArray, to_p: FloatArray, to_q: FloatArray) -> FloatArray:
    """The flat corner to the right of p to q, by its distances from both."""
    base = q - p
    length = float(np.hypot(*base))
    x = float(to_p @ to_p - to_q @ to_q + length**2) / (2.0 * length)
    y = sqrt(max(float(to_p @ to_p) - x * x, 0.0))
    along = base / length
    return np.asarray(p + along * x + np.array([along[1], -along[0]]) * y)
