"""Curves in which planes cut a surface that is straight across between lines."""

from collections.abc import Iterator

import numpy as np

from hullchange.geometry.frame import FloatArray

GridSide = tuple[int, int, int]
"""Of a grid: 0 along a line or 1 across to the next, number of the line, number along it."""


def level_curves(grid: FloatArray, axis: int, level: float) -> tuple[FloatArray, ...]:
    """Curves (m, 3) [m] on which one coordinate has a value, each in order.

    Between two neighbouring lines the surface is straight, so that points there are exact;
    on the lines themselves they are as exact as the steps along them are short.

    Args:
        grid: (k, n, 3) [m] points of neighbouring lines, n along each.
        axis: 0, 1 or 2.
        level: of that coordinate [m].
    """
    away = grid[..., axis] - level
    after: dict[GridSide, list[GridSide]] = {}
    for one, other in _pieces(away):
        after.setdefault(one, []).append(other)
        after.setdefault(other, []).append(one)
    return tuple(
        np.array([_crossing(grid, away, side) for side in chain]) for chain in _chains(after)
    )


def _pieces(away: FloatArray) -> Iterator[tuple[GridSide, GridSide]]:
    """Pairs of sides of one cell that a curve enters and leaves by."""
    up = away >= 0.0
    corners = np.stack([up[:-1, :-1], up[:-1, 1:], up[1:, 1:], up[1:, :-1]])
    mixed = corners.any(axis=0) & ~corners.all(axis=0)
    for k, i in np.argwhere(mixed).tolist():
        sides: tuple[GridSide, ...] = ((0, k, i), (1, k, i + 1), (0, k + 1, i), (1, k, i))
        ring = corners[:, k, i].tolist()
        turned = (*ring[1:], ring[0])
        met = [side for side, a, b in zip(sides, ring, turned, strict=True) if a != b]
        if len(met) == 4 and (away[k : k + 2, i : i + 2].sum() >= 0.0) != ring[0]:
            met = [met[3], *met[:3]]  # the first and the third corner are cut off
        yield from zip(met[::2], met[1::2], strict=True)


def _chains(after: dict[GridSide, list[GridSide]]) -> Iterator[list[GridSide]]:
    """Sides in order, open chains first; a ring ends where it began."""
    ends = [side for side, others in after.items() if len(others) == 1]
    for start in (*ends, *list(after)):
        if not after.get(start):
            continue
        chain = [start]
        while after[chain[-1]]:
            onwards = after[chain[-1]].pop()
            after[onwards].remove(chain[-1])
            chain.append(onwards)
        yield chain


def _crossing(grid: FloatArray, away: FloatArray, side: GridSide) -> FloatArray:
    """(3,) where a side meets the plane."""
    across, k, i = side
    other = (k + 1, i) if across else (k, i + 1)
    share = away[k, i] / (away[k, i] - away[other])
    return np.asarray(grid[k, i] + share * (grid[other] - grid[k, i]))
