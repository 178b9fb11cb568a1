"""Not-a-knot cubic splines through a few points, in numpy alone.

Importing the library that has them takes longer than every spline that is needed here.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from hullchange.geometry.frame import FloatArray


def not_a_knot(x: FloatArray) -> FloatArray:
    """(n, n) matrix [-] that turns values at x (n,), rising, into their derivatives there.

    The first two pieces are one cubic, and so are the last two. Through three points it is a
    parabola, through two a straight line.

    Args:
        x: (n,) in any unit; the derivatives are per that unit.

    >>> rates = not_a_knot(np.array([0.0, 1.0, 3.0, 4.0]))
    >>> (rates @ np.array([0.0, 1.0, 27.0, 64.0])).round(9).tolist()
    [0.0, 3.0, 27.0, 48.0]
    """
    count, width = len(x), np.diff(x)
    if count <= 3:
        # the rates of the polynomial through all of them
        powers = np.arange(count)
        rates = powers * x[:, None] ** np.maximum(powers - 1, 0)
        return np.asarray(rates @ np.linalg.inv(x[:, None] ** powers))
    left, slope = np.zeros((count, count)), np.diff(np.eye(count), axis=0) / width[:, None]
    right = np.zeros((count, count))
    before, after, inner = width[:-1], width[1:], np.arange(1, count - 1)
    left[inner, inner - 1] = after
    left[inner, inner] = 2.0 * (before + after)
    left[inner, inner + 1] = before
    right[1:-1] = 3.0 * (after[:, None] * slope[:-1] + before[:, None] * slope[1:])
    for end, step in ((0, 1), (count - 1, -1)):
        near, next_to = (0, 1) if step == 1 else (count - 2, count - 3)
        first, second = width[near], width[next_to]
        whole = first + second
        left[end, end], left[end, end + step] = second, whole
        own = (first + 2.0 * whole) * second * slope[near] + first**2 * slope[next_to]
        right[end] = own / whole
    return np.asarray(np.linalg.solve(left, right))


@dataclass(frozen=True, eq=False)
class Cubics:
    """Values that follow x by cubics, and straight lines beyond both ends.

    Attributes:
        x: (n,) rising, [m] or any other unit.
        powers: (4, n + 1, m) coefficients by rising power of the distance from the point
            before; the first and the last piece are straight.
    """

    x: FloatArray
    powers: FloatArray

    @classmethod
    def through(
        cls, x: FloatArray, values: FloatArray, corners: tuple[int, ...] = ()
    ) -> "Cubics":
        """The cubics through values at x, with corners at some points.

        Args:
            x: (n,) rising, [m] or any other unit.
            values: (n, m) in any unit [-].
            corners: numbers of points where one cubic ends and the next begins.
        """
        pieces = [
            _powers(x[a : b + 1], values[a : b + 1])
            for a, b in pairwise([0, *corners, len(x) - 1])
        ]
        inside = np.concatenate(pieces, axis=1)
        width = x[-1] - x[-2]
        fore, aft = np.zeros((2, 4, 1, values.shape[1]))
        fore[:2, 0] = inside[:2, 0]
        aft[0, 0] = values[-1]
        aft[1, 0] = inside[1, -1] + width * (2.0 * inside[2, -1] + 3.0 * width * inside[3, -1])
        return cls(x, np.concatenate([fore, inside, aft], axis=1))

    def __call__(self, x: FloatArray) -> FloatArray:
        """(..., m) values at x (...,)."""
        after = np.searchsorted(self.x, x, "right")
        way = (x - self.x[np.maximum(after - 1, 0)])[..., None]
        a, b, c, d = self.powers[:, after]
        return np.asarray(a + way * (b + way * (c + way * d)))


def _powers(x: FloatArray, values: FloatArray) -> FloatArray:
    """(4, n - 1, m) coefficients between points that one smooth line joins."""
    width, rates = np.diff(x)[:, None], not_a_knot(x) @ values
    slope = np.diff(values, axis=0) / width
    first, last = rates[:-1], rates[1:]
    second = (3.0 * slope - 2.0 * first - last) / width
    return np.stack([values[:-1], first, second, (first + last - 2.0 * slope) / width**2])
