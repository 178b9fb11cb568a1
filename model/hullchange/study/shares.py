"""What each cause is worth of a plus/minus: what to weigh or measure next."""

from collections.abc import Iterator

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.ledger.weights import account_of, account_of_alike
from hullchange.study.as_found import Found
from hullchange.study.conditions import LoadingCondition
from hullchange.study.results import ShareResult, SharesResult
from hullchange.study.uncertainty import ROWS, Slopes
from hullchange.study.variants import Variant

NEW_PLATE = "new plate"
MOST = 6
RESULTS = {
    "displacement": "displacement_kg",
    "trim": "trim_mm",
    "heel": "heel_deg",
    "gm": "gm_m",
}


def shares_of(
    found: Found, variant: Variant, condition: LoadingCondition, slopes: Slopes
) -> SharesResult:
    """The causes that are worth most of each result's variance, largest first.

    Args:
        found: the boat as surveyed.
        variant: which boat.
        condition: how she is loaded.
        slopes: of the float's results by mass and moments.
    """
    causes = list(_causes(found, variant, condition))
    variances = np.array([np.diag(slopes.covariance(part)) for _, part in causes])
    whole = variances.sum(axis=0)
    answer = {}
    for row, field in RESULTS.items():
        k = ROWS.index(row)
        percent = 100.0 * variances[:, k] / whole[k] if whole[k] > 0.0 else variances[:, k]
        largest = np.argsort(-percent)[:MOST]
        answer[field] = tuple(
            ShareResult(cause=causes[i][0], share_percent=float(percent[i])) for i in largest
        )
    return SharesResult(**answer)


def _causes(
    found: Found, variant: Variant, condition: LoadingCondition
) -> Iterator[tuple[str, FloatArray]]:
    yield from found.afloat.causes
    for entry in variant.entries:
        if entry.role != "part":
            yield entry.weight.path, entry.account.covariance
    plate = account_of_alike(e.weight for e in variant.entries if e.role == "part")
    yield NEW_PLATE, plate.covariance
    for load in condition.loads:
        yield load.path, account_of(load).covariance
