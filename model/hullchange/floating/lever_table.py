"""A curve of righting levers made dense enough to be read anywhere.

Between two heels lever, trim and offset run along the cubic through both values and their exact
slopes. Where a curve bends too sharply for that, the boat is held half-way too.
"""

from dataclasses import replace
from math import radians

import numpy as np

from hullchange.cache import cached
from hullchange.floating.crossings import cubic
from hullchange.floating.heeled import HeldBoat
from hullchange.floating.kernel.shapes import (
    HEEL,
    LEAPT,
    OFFSET,
    OFFSET_RATE,
    SLOPE,
    TO_PORT,
    TRIM,
    TRIM_RATE,
)
from hullchange.floating.lever_curve import LeverCurve
from hullchange.geometry.frame import BoolArray, FloatArray, IntArray

READ = ((TO_PORT, SLOPE), (TRIM, TRIM_RATE), (OFFSET, OFFSET_RATE))
"""Columns of what is read, each with the column of its rate by heel."""
CLOSE_ENOUGH = (2e-5, radians(4e-3), 4e-5)
"""Of lever [m], trim [rad] and offset [m]: how far off the cubic may be expected to be. That is
a fiftieth of a millimetre of lever, far below its plus/minus."""
NARROWEST = radians(0.3)
"""[rad] An interval that is not halved any more."""
DENSE_HELD = 48
"""Curves held: the boat as found keeps hers while the refit is edited, three a condition."""


def read_at(curve: LeverCurve, heels: FloatArray, *, beyond: bool = False) -> FloatArray:
    """(n, 12) [in the units of `Heeled`] the boat at heels (n,) [rad] of a curve.

    Heel, lever to port, trim and offset are filled in, the others 0.

    Args:
        curve: of two heels at least.
        heels: (n,) [rad] on it.
        beyond: of a step the side away from upright, instead of the one towards it.
    """
    before = _before(curve, heels, beyond)
    first, last = curve.rows[before], curve.rows[before + 1]
    width = last[:, HEEL] - first[:, HEEL]
    part = (heels - first[:, HEEL]) / width
    rows = np.zeros((len(heels), curve.rows.shape[1]))
    rows[:, HEEL] = heels
    for value, rate in READ:
        rates = width * first[:, rate], width * last[:, rate]
        rows[:, value] = cubic(first[:, value], last[:, value], *rates, part)
    return rows


def boats_at(
    curve: LeverCurve, heels: FloatArray, *, beyond: bool = False
) -> tuple[HeldBoat, ...]:
    """Whose levers these are: the boat of the curve at each heel (n,) [rad], as `read_at`."""
    return tuple(curve.boats[k] for k in curve.boat[_before(curve, heels, beyond)].tolist())


def _before(curve: LeverCurve, heels: FloatArray, beyond: bool) -> IntArray:
    """Number of the row before each heel; at a step on the side that is asked for."""
    low, high = (np.searchsorted(curve.heels, heels, side) for side in ("left", "right"))
    before = np.clip(np.where((heels < 0.0) != beyond, high, low) - 1, 0, len(curve.rows) - 2)
    return np.asarray(before, np.int32)


@cached(DENSE_HELD)
def dense(curve: LeverCurve) -> LeverCurve:
    """The same curve with more heels wherever the cubic between two would be too far off."""
    known = np.zeros(max(0, len(curve.rows) - 1), np.bool_)
    while True:
        wanted = np.flatnonzero(_bends(curve) & ~known)
        if not len(wanted):
            return curve
        found = [_between(curve, int(k)) for k in wanted]
        held = [(k, row) for k, row in zip(wanted.tolist(), found, strict=True) if len(row)]
        known[[k for k, row in zip(wanted.tolist(), found, strict=True) if not len(row)]] = True
        places = [k + 1 for k, _ in held]
        known = np.insert(known, places, values=False)
        curve = replace(
            curve,
            boat=np.insert(curve.boat, places, curve.boat[[k for k, _ in held]]),
            rows=np.insert(curve.rows, places, np.concatenate([row for _, row in held]), axis=0)
            if held
            else curve.rows,
        )


def _between(curve: LeverCurve, k: int) -> FloatArray:
    """(1, 12) the boat held half-way to the next heel; (0, 12) where she has no trim there."""
    middle = (curve.heels[k] + curve.heels[k + 1]) / 2.0
    return np.asarray(curve.boats[curve.boat[k]].along(curve.rows[k], np.array([middle])))


def _bends(curve: LeverCurve) -> BoolArray:
    """(n - 1,) whether the cubic between two heels is further off than it may be.

    It is off by at most h^4 / 384 of the fourth derivative, which is estimated from how much
    the third one differs from those of the neighbours.
    """
    rows, width = curve.rows, np.diff(curve.heels)
    step = width <= 0.0
    h = np.where(step, 1.0, width)
    apart = (h[:-1] + h[1:]) / 2.0
    bends = np.maximum(rows[:-1, LEAPT], rows[1:, LEAPT]) > 0.0
    for (value, rate), close in zip(READ, CLOSE_ENOUGH, strict=True):
        third = 6.0 * (rows[:-1, rate] + rows[1:, rate]) / h**2
        third -= 12.0 * np.diff(rows[:, value]) / h**3
        fourth = np.where(step[:-1] | step[1:], 0.0, np.abs(np.diff(third)) / apart)
        worst = np.maximum(np.append(0.0, fourth), np.append(fourth, 0.0))
        bends |= worst * h**4 / 384.0 > close
    return np.asarray(bends & (width > NARROWEST))
