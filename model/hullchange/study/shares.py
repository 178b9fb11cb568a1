"""What each cause is worth of a plus/minus: what to weigh or measure next."""

from collections.abc import Iterator, Sequence
from typing import TypeAlias

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.ledger.weights import account_of
from hullchange.study.as_found import Found
from hullchange.study.conditions import LoadingCondition
from hullchange.study.floats import Weighing
from hullchange.study.spread_results import ShareResult, SharesResult
from hullchange.study.uncertainty import ROWS, Slopes

MOST = 6
RESULTS = {
    "displacement": "displacement_kg",
    "trim": "trim_mm",
    "heel": "heel_deg",
    "gm": "gm_m",
}
Cause: TypeAlias = tuple[str, FloatArray]
"""Its name, and the covariance (4, 4) of mass and moments that it adds."""


def shares_of(causes: Sequence[Cause], slopes: Slopes) -> SharesResult:
    """The causes that are worth most of each upright result's variance, largest first.

    Args:
        causes: all there are.
        slopes: of the float's results by mass and moments.
    """
    answer = {
        field: largest(causes, slopes.matrix[ROWS.index(row)]) for row, field in RESULTS.items()
    }
    return SharesResult(**answer)


def largest(
    causes: Sequence[Cause], slope: FloatArray, most: int = MOST
) -> tuple[ShareResult, ...]:
    """The causes that are worth most of one result's variance, largest first.

    Args:
        causes: all there are.
        slope: (4,) derivatives of the result by mass and moments; nan where there is none.
        most: how many are told.
    """
    of_numbers = np.reshape([of_numbers for _, of_numbers in causes], (-1, 4, 4))
    variances = of_numbers @ slope @ slope
    whole = variances.sum()
    if not whole > 0.0:
        return ()
    percent = 100.0 * variances / whole
    return tuple(
        ShareResult(cause=causes[i][0], share_percent=float(percent[i]))
        for i in np.argsort(-percent, kind="stable")[:most]
        if percent[i] > 0.0
    )


def causes_of(found: Found, weighing: Weighing, condition: LoadingCondition) -> Iterator[Cause]:
    """Every cause with the covariance (4, 4) it adds: together, that of all she weighs."""
    yield from found.afloat.causes
    for cause, account in (*weighing.corrections, *weighing.variant.causes):
        yield cause, account.covariance
    for load in condition.loads:
        yield load.path, account_of(load).covariance
