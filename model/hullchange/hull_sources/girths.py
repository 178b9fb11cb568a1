"""Lines at equal girth, from sections and stems, whatever those come from."""

import numpy as np

from hullchange.geometry.frame import FloatArray

NO_STEM = 0.01  # [m] ahead of the first station within which the lines end there
STEM_SHARE = 0.6  # of the way from there to the stem's head, beyond which the lines end


def nearest_polygon(curve: FloatArray, strips: int) -> FloatArray:
    """(strips + 1, 2) [m] corners, at equal girth, of the line nearest to a curve (n, 2).

    A line through points of the curve would cut off what is round outside it; the nearest one
    in the sense of least squares keeps the area.
    """
    step = np.linalg.norm(np.diff(curve, axis=0), axis=1)
    girth = np.r_[0.0, np.cumsum(step)]
    if girth[-1] < 1e-6:
        return np.repeat(curve[:1], strips + 1, axis=0)
    at = girth / girth[-1] * strips
    tents = np.maximum(1.0 - np.abs(at[:, None] - np.arange(strips + 1)), 0.0)
    weight = np.sqrt(
        np.r_[step[:1] / 2.0, (step[:-1] + step[1:]) / 2.0, step[-1:] / 2.0] + 1e-9
    )
    return np.asarray(np.linalg.lstsq(tents * weight[:, None], curve * weight[:, None])[0])


def sharp_end(
    columns: FloatArray, stem: FloatArray, x: float, *, is_fore: bool
) -> list[FloatArray]:
    """Points (n, 3) [m] that carry each line on to a stem, outermost first.

    The lines end spread over the upper part of the stem, as girths are at the next station;
    the centreline follows the stem up to there.

    Args:
        columns: (k, 2) half-breadth and height [m] of the lines at the end station.
        stem: (m, 2) x and z [m], up from its foot.
        x: [m] of that station.
        is_fore: whether the stem is ahead of it.
    """
    sign = 1.0 if is_fore else -1.0
    ahead = np.maximum.accumulate(sign * (x - stem[:, 0]))
    reach = ahead[-1]
    if reach < NO_STEM:
        return [np.empty((0, 3)) for _ in columns]
    low = float(np.interp(STEM_SHARE * reach, ahead, stem[:, 1]))
    foot, top = columns[0, 1], columns[-1, 1]
    ends = []
    for height in columns[:, 1]:
        z = low + (stem[-1, 1] - low) * (height - foot) / max(top - foot, 1e-9)
        at = x - sign * float(np.interp(z, stem[:, 1], ahead))
        ends.append(np.array([[at, 0.0, z]]))
    between = np.interp(np.array([0.7, 0.35]) * STEM_SHARE * reach, ahead, stem[:, 1])
    along = [x - sign * share * STEM_SHARE * reach for share in (0.7, 0.35)]
    if foot < between[1] < between[0] < low:
        up = np.column_stack([along, np.zeros(2), between])
        ends[0] = np.vstack([ends[0], up])
    return ends
