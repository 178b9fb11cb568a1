"""Side view of an appendage: a forward edge and an after edge that rise from its bottom."""

import itertools
from dataclasses import dataclass

import numpy as np

from hullchange.errors import Fault
from hullchange.geometry.frame import FloatArray
from hullchange.plain_words import id_in_words

SAME_HEIGHT = 1e-6  # [m] below which two points of an outline are level


@dataclass(frozen=True, eq=False)
class AppendageOutline:
    """The side view of an appendage, closed by a level line at its top.

    Attributes:
        fore: (n, 2) x and z [m] of the forward edge, from the bottom up to the top.
        aft: (m, 2) x and z [m] of the after edge, from the bottom up to the top.
    """

    fore: FloatArray
    aft: FloatArray

    @property
    def top(self) -> float:
        """z [m] of the level top."""
        return float(self.fore[-1, 1])

    def bands(self) -> tuple[tuple[FloatArray, FloatArray], ...]:
        """Lower and upper end (3,) of each band between two corners: fore x, aft x, z [m].

        A level step in an edge makes one band end where the next one does not start.
        """
        z = np.unique(np.concatenate([self.fore[:, 1], self.aft[:, 1]]))
        z = z[np.r_[True, np.diff(z) > SAME_HEIGHT]]
        found = []
        for low, high in itertools.pairwise(z):
            edges = [_edge_between(chain, low, high) for chain in (self.fore, self.aft)]
            found.append(
                (
                    np.array([edges[0][0], edges[1][0], low]),
                    np.array([edges[0][1], edges[1][1], high]),
                )
            )
        return tuple(found)

    def path(self, samples: int) -> FloatArray:
        """(n, 2) points [m] from the top of the forward edge to that of the after edge."""
        corners = np.concatenate([self.fore[::-1], self.aft])
        share = np.linspace(0.0, 1.0, samples)[:-1, None]
        legs = [a + share * (b - a) for a, b in itertools.pairwise(corners)]
        return np.concatenate([*legs, corners[-1:]])


def outline_of(points: FloatArray, top: float) -> AppendageOutline:
    """The outline with both ends carried straight up, or cut off, at a height.

    Args:
        points: (n, 2) [m] without faults, from either end.
        top: z [m].
    """
    ordered = points if points[0, 0] <= points[-1, 0] else points[::-1]
    low = np.flatnonzero(ordered[:, 1] - ordered[:, 1].min() <= SAME_HEIGHT)
    fore, aft = ordered[low[0] :: -1], ordered[low[-1] :]
    return AppendageOutline(_to_height(fore, top), _to_height(aft, top))


def outline_faults(name: str, outline: tuple[tuple[float, float], ...]) -> list[Fault]:
    """Faults of an outline of corners (x, z) [m], whatever hull it is on."""
    place = outline_place(name)
    points = np.array(outline, dtype=np.float64).reshape(-1, 2)
    if len(points) < 2 or np.ptp(points[:, 0]) <= SAME_HEIGHT:
        sentence = (
            f"The outline of {id_in_words(name)} needs at least two points, one aft of "
            "the other."
        )
        return [Fault("outline-too-short", place, sentence)]
    if _crosses_itself(points):
        return [crossing_fault(name)]
    if points[0, 0] > points[-1, 0]:
        points = points[::-1]
    low = np.flatnonzero(points[:, 1] - points[:, 1].min() <= SAME_HEIGHT)
    fore, aft = points[low[0] :: -1, 1], points[low[-1] :, 1]
    level = bool(np.all(np.diff(low) == 1))
    if not level or np.any(np.diff(fore) < 0.0) or np.any(np.diff(aft) < 0.0):
        sentence = (
            f"The outline of {id_in_words(name)} goes down, up and down again: give it from "
            "one end down to the lowest point and up to the other end, and make a second body "
            "an appendage of its own."
        )
        return [Fault("outline-doubles-back", place, sentence)]
    return []


def outline_place(name: str) -> str:
    """Path of an appendage's outline, below the hull."""
    return f"appendages.{name}.outline_m"


def crossing_fault(name: str) -> Fault:
    """The refusal of an outline that crosses itself."""
    sentence = (
        f"The outline of {id_in_words(name)} crosses itself: list its points in order "
        "around it."
    )
    return Fault("outline-crosses-itself", outline_place(name), sentence)


def _crosses_itself(points: FloatArray) -> bool:
    def turn(p: FloatArray, q: FloatArray, r: FloatArray) -> float:
        return float((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]))

    for i in range(len(points) - 1):
        for j in range(i + 2, len(points) - 1):
            a, b, c, d = points[i], points[i + 1], points[j], points[j + 1]
            if _apart(a, b, c, d):
                continue  # in one line, as above and below an aperture
            if turn(a, b, c) * turn(a, b, d) <= 0.0 and turn(c, d, a) * turn(c, d, b) <= 0.0:
                return True
    return False


def _apart(a: FloatArray, b: FloatArray, c: FloatArray, d: FloatArray) -> bool:
    """Whether the boxes round two sides of an outline have nothing in common."""
    low, high = np.minimum(a, b), np.maximum(a, b)
    return bool((np.minimum(c, d) > high).any() or (np.maximum(c, d) < low).any())


def _to_height(chain: FloatArray, top: float) -> FloatArray:
    """A rising chain, ended at a height: cut off there, or carried straight up to it."""
    below = chain[chain[:, 1] < top - SAME_HEIGHT]
    if len(below) == len(chain):
        end = [chain[-1, 0], top]
    else:
        end = [np.interp(top, chain[len(below) - 1 :, 1], chain[len(below) - 1 :, 0]), top]
    return np.vstack([below, end])


def _edge_between(chain: FloatArray, low: float, high: float) -> tuple[float, float]:
    """x of a rising chain at two heights, approached from between them."""
    middle = 0.5 * (low + high)
    leg = int(np.searchsorted(chain[:, 1], middle)) - 1
    (x0, z0), (x1, z1) = chain[leg], chain[leg + 1]
    slope = (x1 - x0) / (z1 - z0)
    return float(x0 + slope * (low - z0)), float(x0 + slope * (high - z0))
