"""The canoe body as triangles: sides, deck, stem and transom, closed by construction."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hullchange.geometry.frame import FloatArray, Indices
from hullchange.geometry.surface import Surface
from hullchange.hull.deck import Deck
from hullchange.hull.lines import Lines

FINE = 8000  # triangles above which every strip is divided more finely across
COARSE = (2, 3)  # divisions across, from line to line and over the deck's half
LEAST_LENGTHWISE = 8


@dataclass(frozen=True, eq=False)
class SymmetricBody:
    """A closed surface about the centreline, made of a grid and its mirror image.

    Attributes:
        surface: the triangles.
        starboard: (n, m) vertex of each point of the grid.
        port: (n, m) vertex of its mirror image; the same one on the centreline.
    """

    surface: Surface
    starboard: Indices
    port: Indices


@dataclass(frozen=True, eq=False)
class HullMesh:
    """The canoe body's triangles, and how its vertices follow from the lines.

    Attributes:
        body: the closed surface; its grid is (fractions, rows).
        fractions: (n,) fractions of the lines' lengths.
        rows: (m, k, 3, 3) factors of the point (x, y, z) of each line, at the same fraction,
            that add up to a vertex: sides first, then the deck.
    """

    body: SymmetricBody
    fractions: FloatArray
    rows: FloatArray


def hull_mesh(lines: Lines, deck: Deck, triangles: int) -> HullMesh:
    """The canoe body in about a number of triangles.

    Args:
        lines: the hull's lines.
        deck: the cambered deck.
        triangles: wanted number; lengthwise division follows from it.
    """
    across, over_deck = (3, 6) if triangles >= FINE else COARSE
    rows = _rows(len(lines.lines), across, over_deck, deck.slope)
    return _meshed(lines, rows, triangles // (4 * (len(rows) - 1)))


def coarse_mesh(lines: Lines, deck: Deck, lengthwise: int) -> HullMesh:
    """The canoe body divided lengthwise so often, coarsely across."""
    return _meshed(lines, _rows(len(lines.lines), *COARSE, deck.slope), lengthwise)


def _meshed(lines: Lines, rows: FloatArray, lengthwise: int) -> HullMesh:
    fractions = _fractions(lengthwise, lines.knuckle_fractions)
    grid = np.einsum("rkcd,kud->urc", rows, lines.at_fractions(fractions))
    return HullMesh(symmetric_body(grid), fractions, rows)


def symmetric_body(grid: FloatArray) -> SymmetricBody:
    """The body between a grid and its mirror image, its four edges bridged straight across.

    Diagonals alternate, so that a twisted quadrangle's deviation from its ruled surface is
    made good by its neighbour. Where the grid meets the centreline both sides share the
    vertex, and a diagonal never joins two of them: the edge would belong to four faces.
    Where it only touches it, as by errors of readings beside a stem, each side has its own.

    Args:
        grid: (n, m, 3) [m] of the starboard side, y >= 0; first index aft, second index up.
    """
    n, m, _ = grid.shape
    points = grid.reshape(-1, 3)
    middle = _meets_the_middle(grid[..., 1] <= 0.0).ravel()
    starboard = np.arange(n * m)
    port = np.where(middle, starboard, n * m + np.cumsum(~middle) - 1)
    corners = _grid_triangles(starboard.reshape(n, m), middle)
    ring = _ring(starboard.reshape(n, m))
    after = np.roll(ring, -1)
    bridge = np.concatenate(
        [
            np.column_stack([ring, after, port[after]]),
            np.column_stack([ring, port[after], port[ring]]),
        ]
    )
    repeats = (bridge == np.roll(bridge, 1, axis=1)).any(axis=1)
    faces = np.concatenate([corners, port[corners][:, ::-1], bridge[~repeats]])
    vertices = np.concatenate([points, points[~middle] * np.array([1.0, -1.0, 1.0])])
    surface = Surface.unchecked(vertices, faces.astype(np.int32))
    return SymmetricBody(surface, starboard.reshape(n, m), port.reshape(n, m))


def _meets_the_middle(touches: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """(n, m) where both sides are joined: along keel and deck, and on from there."""
    flat = touches[:-1, :-1] & touches[1:, :-1] & touches[:-1, 1:] & touches[1:, 1:]
    joined = np.zeros_like(touches)
    joined[:, (0, -1)] = True
    for corner in (np.s_[:-1, :-1], np.s_[1:, :-1], np.s_[:-1, 1:], np.s_[1:, 1:]):
        joined[corner] |= flat
    for end in (0, -1):  # up and down the stem, and the stern
        joined[end] |= np.logical_and.accumulate(touches[end])
        joined[end] |= np.logical_and.accumulate(touches[end, ::-1])[::-1]
    return joined & touches


def _grid_triangles(index: Indices, middle: NDArray[np.bool_]) -> Indices:
    a, b = index[:-1, :-1].ravel(), index[1:, :-1].ravel()
    d, c = index[:-1, 1:].ravel(), index[1:, 1:].ravel()
    flat = middle[a] & middle[b] & middle[c] & middle[d]
    i, j = np.indices((index.shape[0] - 1, index.shape[1] - 1))
    odd = ((i + j) % 2 == 1).ravel()
    flip = ((middle[a] & middle[c]) | (odd & ~(middle[b] & middle[d]))) & ~flat
    keep = ~flip & ~flat
    return np.concatenate(
        [
            np.column_stack([a, c, b])[keep],
            np.column_stack([a, d, c])[keep],
            np.column_stack([a, d, b])[flip],
            np.column_stack([d, c, b])[flip],
        ]
    )


def _ring(index: Indices) -> Indices:
    """The grid's border, against the sense in which its own faces use it."""
    return np.concatenate([index[:-1, 0], index[-1, :-1], index[:0:-1, -1], index[0, :0:-1]])


def _rows(count: int, across: int, over_deck: int, slope: float) -> FloatArray:
    """(m, k, 3, 3) rows of a column of vertices: straight across, then the deck's parabola."""
    side = np.zeros(((count - 1) * across + 1, count, 3, 3))
    for row in range(len(side)):
        strip = min(row // across, count - 2)
        share = row / across - strip
        side[row, strip] = np.eye(3) * (1.0 - share)
        side[row, strip + 1] = np.eye(3) * share
    deck = np.zeros((over_deck, count, 3, 3))
    for row in range(over_deck):
        out = 1.0 - (row + 1) / over_deck
        deck[row, -1] = np.diag([1.0, out, 1.0])
        deck[row, -1, 2, 1] = slope * (1.0 - out * out)
    return np.concatenate([side, deck])


def _fractions(count: int, knuckles: FloatArray) -> FloatArray:
    """(n,) fractions, closer towards the ends, with every knuckle among them."""
    even = np.linspace(0.0, 1.0, max(count, LEAST_LENGTHWISE) + 1)
    spaced = 0.5 * (even + 0.5 * (1.0 - np.cos(np.pi * even)))
    return np.unique(np.concatenate([spaced, knuckles]))
