"""Lines of points."""

import numpy as np

from hullchange.geometry.frame import FloatArray


def thinned(points: FloatArray, finest: float) -> FloatArray:
    """The points (n, d) that matter: those further than so much [m] from the line of the rest.

    >>> thinned(np.array([[0.0, 0.0], [1.0, 1e-4], [2.0, 0.0]]), 1e-3).tolist()
    [[0.0, 0.0], [2.0, 0.0]]
    """
    if len(points) < 3:
        return points
    start, away = points[0], points - points[0]
    along = away[-1]
    length = float(np.linalg.norm(along))
    if length >= finest:
        along = along / length
        away = away - np.outer(away @ along, along)
    off = np.linalg.norm(away, axis=1)
    worst = int(np.argmax(off))
    if off[worst] <= finest:
        return np.array([start, points[-1]])
    before = thinned(points[: worst + 1], finest)
    return np.concatenate([before[:-1], thinned(points[worst:], finest)])
