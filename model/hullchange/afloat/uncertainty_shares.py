"""What each cause is worth of a plus/minus: what to weigh or measure next."""

from collections.abc import Iterator, Sequence
from typing import TypeAlias

import numpy as np

from hullchange.afloat.at_rest import ConditionWeights
from hullchange.afloat.slopes import ROWS, Slopes
from hullchange.answer.uncertainty import ShareResult, SharesResult
from hullchange.boat.conditions import LoadingCondition
from hullchange.boat.weights import sum_of_weight
from hullchange.geometry.frame import FloatArray
from hullchange.survey.as_found import AsSurveyed
from hullchange.survey.lines_error import NUMBERS

MOST = 6
LINES = "hull.lines"
RESULTS = {
    "displacement": "displacement_kg",
    "trim": "trim_mm",
    "heel": "heel_deg",
    "gm": "gm_m",
    "sinkage": "sinkage_mm",
    "lcg": "lcg_m",
    "tcg": "tcg_m",
    "vcg": "vcg_m",
}
Cause: TypeAlias = tuple[str, FloatArray]
"""Its name, and the covariance (4, 4) of mass and moments that it adds."""


def shares_of(
    causes: Sequence[Cause], slopes: Slopes, guessed: tuple[str, ...] = ()
) -> SharesResult:
    """The causes that are worth most of each upright result's variance, largest first.

    Args:
        causes: all there are but the hull's.
        slopes: of the float's results.
        guessed: names of the appendages that are not measured.
    """
    answer = {
        field: largest(causes, slopes.matrix[ROWS.index(row)], guessed=guessed)
        for row, field in RESULTS.items()
    }
    return SharesResult(**answer)


def largest(
    causes: Sequence[Cause],
    slope: FloatArray,
    most: int = MOST,
    guessed: tuple[str, ...] = (),
) -> tuple[ShareResult, ...]:
    """The causes that are worth most of one result's variance, largest first.

    Args:
        causes: all there are but the hull's.
        slope: (4 + m,) derivatives of the result by mass [kg], moments [kg m] and the errors
            of the hull; nan where there is none.
        most: how many are listed.
        guessed: names of the appendages that the last of those errors are of.
    """
    by_weight, by_error = slope[:NUMBERS], slope[NUMBERS:]
    of_numbers = np.reshape([of_numbers for _, of_numbers in causes], (-1, NUMBERS, NUMBERS))
    of_lines, of_bodies = np.split(by_error, [len(by_error) - len(guessed)])
    of_weights = of_numbers @ by_weight @ by_weight
    variances = np.concatenate([of_weights, [of_lines @ of_lines], of_bodies**2])
    bodies = (f"hull.appendages.{name}" for name in guessed)
    names = [*(name for name, _ in causes), LINES, *bodies]
    whole = variances.sum()
    if not whole > 0.0:
        return ()
    percent = 100.0 * variances / whole
    return tuple(
        ShareResult(cause=names[i], share_percent=float(percent[i]))
        for i in np.argsort(-percent, kind="stable")[:most]
        if percent[i] > 0.0
    )


def causes_of(
    as_surveyed: AsSurveyed, weights: ConditionWeights, condition: LoadingCondition
) -> Iterator[Cause]:
    """Every cause but the lines with the covariance (4, 4) it adds: that of all she weighs."""
    yield from as_surveyed.causes
    for cause, account in (*weights.corrections, *weights.variant.causes):
        yield cause, account.covariance
    for load in condition.loads:
        yield load.path, sum_of_weight(load).covariance
