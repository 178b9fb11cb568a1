"""What the draws of a float say, as the answer has it."""

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.study.draws import COUNT
from hullchange.study.spread import GM, HEEL, Spread
from hullchange.study.spread_results import Interval, SampledResult

PERCENTILES = (5.0, 50.0, 95.0)


def sampled_upright(spread: Spread) -> SampledResult:
    """What the draws say of a float at rest."""
    heel = np.degrees(spread.drawn[:, HEEL])
    return SampledResult(
        draws=COUNT,
        why=_why(spread),
        unstable_percent=100.0 * spread.unstable_share,
        capsized_percent=100.0 * spread.capsized_share,
        gm_upright_m=interval(spread.drawn[:, GM]),
        heel_deg=interval(heel),
        heel_either_side_deg=interval(np.abs(heel)),
    )


def interval(drawn: FloatArray) -> Interval:
    """5 %, median and 95 % of what was drawn (n,)."""
    low, middle, high = np.percentile(drawn, PERCENTILES).tolist()
    return (low, middle, high)


def _why(spread: Spread) -> str:
    gm = spread.rest.upright.gm_transverse
    if spread.doubtful:
        return f"GM upright is {gm:+.3f} +/- {spread.gm_sd:.3f} m"
    return "her levers hardly fall where they vanish"
