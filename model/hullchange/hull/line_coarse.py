"""Where the readings of a line lie too far apart for the shape between them to be known.

A foot of a stem with one reading on it, a sheer of five points: every curve through the others
misses the true shape there by hundreds of millimetres, and a slip of the tape looks the same.
What reasonable curves through the others disagree by says how much that may be.
"""

import numpy as np
from scipy.interpolate import CubicSpline, PchipInterpolator

from hullchange.geometry.frame import FloatArray
from hullchange.hull.line_process import run_along
from hullchange.hull.lines import HullLine

CLOSE, FAR = 0.27, 0.31
"""Between a reading's neighbours, along the line with y and z stretched [share of the length]:
up to the first the curves are believed, from the second their disagreement counts in full; of
readings inside lines of 10 to 16 stations 80 % lie closer than the first, 99.5 % the second
(own trial)."""
INSIDE, AT_ENDS = 0.75, 2.0  # sd of the shape for a disagreement of 1 [m/m]; two at each end


def unknown_shape(line: HullLine, span: float) -> FloatArray:
    """(n, 2) sd [m] of y and z by which the true shape may miss a curve through the others.

    Args:
        line: five points or more.
        span: [m] length of all lines.
    """
    share = np.clip((_gaps(line.points) / span - CLOSE) / (FAR - CLOSE), 0.0, 1.0)
    found = np.zeros((len(line.points), 2))
    for n in np.flatnonzero(share):
        counted = AT_ENDS if min(n, len(share) - 1 - n) < 2 else INSIDE
        found[n] = counted * share[n] * _disagreement(line.points, int(n))
    return found


def _gaps(points: FloatArray) -> FloatArray:
    """(n,) length [m] from neighbour to neighbour, or twice what an end is carried on by."""
    last, found = len(points) - 1, np.zeros(len(points))
    for n in range(1, last):
        run = run_along(np.delete(points, n, axis=0))
        found[n] = run[n] - run[n - 1]
    run = run_along(points)
    found[0] = 2.0 * max(run[2] - run[1], points[1, 0] - points[0, 0])
    found[last] = 2.0 * max(run[-2] - run[-3], points[last, 0] - points[last - 1, 0])
    return found


def _disagreement(points: FloatArray, n: int) -> FloatArray:
    """(2,) [m] of y and z between curves through the other points, at the place of one."""
    x, rest = points[n, 0], np.delete(points, n, axis=0)
    along, values = rest[:, 0], rest[:, 1:]
    second = min(max(n, 1), len(along) - 1)
    share = (x - along[second - 1]) / (along[second] - along[second - 1])
    curves = (
        values[second - 1] * (1.0 - share) + values[second] * share,
        PchipInterpolator(along, values)(x),
        CubicSpline(along, values, bc_type="natural")(x),
        CubicSpline(along, values)(x),
    )
    return np.asarray(np.ptp(np.stack(curves), axis=0))
