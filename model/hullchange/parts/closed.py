"""Closed volumes put together from strips and fans of triangles over shared points."""

from itertools import pairwise

import numpy as np

from hullchange.geometry.frame import FloatArray, IntArray
from hullchange.geometry.surface import Surface


def triangle_strip(first: IntArray, second: IntArray) -> IntArray:
    """Triangles (2 (n - 1), 3) between two rows of n points; outside is step x across."""
    a, b, c, d = first[:-1], first[1:], second[1:], second[:-1]
    return np.concatenate([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1)])


def triangle_fan(loop: IntArray) -> IntArray:
    """Triangles (n - 2, 3) of a flat loop all of which is seen from its first point."""
    first = np.full(len(loop) - 2, loop[0])
    return np.stack([first, loop[1:-1], loop[2:]], axis=1)


def lofted(section: IntArray, loops: tuple[FloatArray, ...]) -> Surface:
    """A body of straight lines from loop to loop.

    Args:
        section: (m, 3) triangles of the first loop as corner numbers, facing out of the body.
        loops: (n, 3) points [m] each, in matching order, running against the triangles.
    """
    count = len(loops[0])
    rows = [np.append(np.arange(count), 0) + k * count for k in range(len(loops))]
    last = section[:, ::-1] + rows[-1][0]
    sides = [triangle_strip(a, b) for a, b in pairwise(rows)]
    return Surface.unchecked(np.concatenate(loops), np.concatenate([section, last, *sides]))
