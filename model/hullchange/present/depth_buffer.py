"""Faces and lines drawn in a depth buffer: the loops over pixels, compiled.

A place on the sheet is (x, y) [px] from its upper left corner, and its nearness to the eye [m].
Importing this imports the compiler: it is imported at first use.
"""

from math import ceil, floor, hypot

import numpy as np
from numpy.typing import NDArray

from hullchange.compiled import compiled
from hullchange.geometry.frame import FloatArray


def _narrowed(low: float, slope: float, first: int, last: int) -> tuple[int, int]:
    """Of columns first to last, those about where ``low + slope * x`` is not negative."""
    if slope > 0.0:
        return int(max(float(first), floor(-low / slope))), last
    if slope < 0.0:
        return first, int(min(float(last), ceil(-low / slope)))
    return first, last


narrowed = compiled(_narrowed)


def _fill(
    corners: FloatArray,
    numbers: NDArray[np.int32],
    near: NDArray[np.float32],
    seen: NDArray[np.int32],
) -> None:
    """Puts the number of the nearest face into ``seen``, and how near it is into ``near``.

    Args:
        corners: (n, 3, 3) on the sheet.
        numbers: (n,) of the faces.
        near: (h, w) -inf where nothing is seen yet.
        seen: (h, w).
    """
    height, width = near.shape
    for face in range(corners.shape[0]):
        ax, ay, az = corners[face, 0]
        bx, by, bz = corners[face, 1]
        cx, cy, cz = corners[face, 2]
        twice = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
        if abs(twice) < 1e-9:
            continue
        left = max(0, floor(min(ax, bx, cx) - 0.5))
        right = min(width, ceil(max(ax, bx, cx) + 0.5))
        to_u, to_v = (cy - ay) / twice, (ay - by) / twice  # for each column
        low = max(0, floor(min(ay, by, cy) - 0.5))
        for row in range(low, min(height, ceil(max(ay, by, cy) + 0.5))):
            y = row + 0.5 - ay
            u0 = (ax - cx) * y / twice + (0.5 - ax) * to_u
            v0 = (bx - ax) * y / twice + (0.5 - ax) * to_v
            first, last = narrowed(u0, to_u, left, right)
            first, last = narrowed(v0, to_v, first, last)
            first, last = narrowed(1.0 - u0 - v0, -to_u - to_v, first, last)
            for column in range(first, min(right, last + 1)):
                u, v = u0 + to_u * column, v0 + to_v * column
                depth = az + u * (bz - az) + v * (cz - az)
                if min(u, v, 1.0 - u - v) >= 0.0 and depth > near[row, column]:
                    near[row, column] = depth
                    seen[row, column] = numbers[face]


def _draw_lines(
    segments: FloatArray, pen: FloatArray, near: NDArray[np.float32], inked: NDArray[np.float32]
) -> None:
    """Draws lines that nothing hides: the share of each pixel that they cover.

    Args:
        segments: (n, 2, 3) ends on the sheet.
        pen: half its width [px], by how much lines are taken as nearer [m], length of a dash
            and of a dash with its gap, across the sheet [px]; inf for a full line.
        near: (h, w) how near the faces are.
        inked: (h, w) the share covered, 0 to 1.
    """
    height, width = near.shape
    half, nearer, dash, period = pen
    reach = half + 1.0
    for k in range(segments.shape[0]):
        ax, ay, az = segments[k, 0]
        bx, by, bz = segments[k, 1]
        square = max((bx - ax) ** 2 + (by - ay) ** 2, 1e-12)
        left, right = max(0, floor(min(ax, bx) - reach)), ceil(max(ax, bx) + reach)
        low, high = max(0, floor(min(ay, by) - reach)), ceil(max(ay, by) + reach)
        for row in range(low, min(height, high)):
            for column in range(left, min(width, right)):
                x, y = column + 0.5 - ax, row + 0.5 - ay
                t = min(1.0, max(0.0, (x * (bx - ax) + y * (by - ay)) / square))
                away = hypot(x - t * (bx - ax), y - t * (by - ay))
                is_drawn = column % period < dash if dash < np.inf else True
                if is_drawn and az + t * (bz - az) + nearer >= near[row, column]:
                    share = min(1.0, half + 0.5 - away)
                    inked[row, column] = max(inked[row, column], share)


fill = compiled(_fill)
draw_lines = compiled(_draw_lines)
