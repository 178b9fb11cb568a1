"""Where a half section meets a level, and a breadth."""

import numpy as np

from hullchange.geometry.frame import FloatArray


def widest_at(section: FloatArray, level: float) -> float | None:
    """Outermost half-breadth [m] of a half section at a height; None where it is not met.

    Args:
        section: (n, 2) half-breadth and height [m].
        level: [m].

    >>> widest_at(np.array([[0.0, -1.0], [2.0, 0.0], [2.5, 1.0]]), 0.5)
    2.25
    """
    met = _met(section[:, ::-1], level)
    return float(met.max()) if len(met) else None


def lowest_height(section: FloatArray, breadth: float) -> float | None:
    """Lowest height [m] of a half section at a half-breadth; None where it is not met.

    Args:
        section: (n, 2) half-breadth and height [m].
        breadth: [m].

    >>> lowest_height(np.array([[0.0, -1.0], [2.0, 0.0], [2.5, 1.0]]), 1.0)
    -0.5
    """
    met = _met(section, breadth)
    return float(met.min()) if len(met) else None


def _met(points: FloatArray, value: float) -> FloatArray:
    """Second coordinates where the first one has a value."""
    (a, b), (c, d) = points[:-1].T, points[1:].T
    spans = (np.minimum(a, c) <= value) & (value <= np.maximum(a, c))
    level = spans & (a == c)
    share = np.divide(value - a, c - a, out=np.zeros(len(a)), where=a != c)
    return np.concatenate([(b + share * (d - b))[spans], d[level]])
