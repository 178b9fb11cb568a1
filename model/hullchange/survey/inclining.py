"""An inclining test kept as readings: GM times displacement is what was measured."""

from dataclasses import dataclass
from math import radians, sqrt, tan

import numpy as np

from hullchange.errors import ModelError

FEWEST_READINGS = 3


@dataclass(frozen=True)
class InclinedStiffness:
    """The result of an inclining.

    Attributes:
        stiffness: displacement times GM [kg m] (with the liquids that were free to move).
        sd: one standard deviation of it [kg m].
        intercept: tangent [-] of the heel that is left when no weight is moved.
    """

    stiffness: float
    sd: float
    intercept: float


def inclined_stiffness(
    moments: tuple[float, ...], heels_deg: tuple[float, ...]
) -> InclinedStiffness:
    """Displacement times GM from weight moves and heels, by a straight line with intercept.

    Args:
        moments: heeling moment of each reading [kg m], positive to starboard.
        heels_deg: heel of each reading [deg], positive to starboard.

    Raises:
        ModelError: ``too-few-heels`` with fewer than three different moments;
            ``inclined_stiffness-backwards`` where she heels against the moment.

    Source:
        GM = w d / (displacement tan heel), Derrett, Ship Stability for Masters and Mates,
        inclining chapter (quoted elsewhere); least squares with intercept.

    >>> inclined_stiffness((-100.0, 0.0, 100.0), (-1.0, 0.0, 1.0)).stiffness
    5729.0
    """
    if len(set(moments)) < FEWEST_READINGS:
        sentence = "An inclining needs at least three different moments, to both sides."
        raise ModelError("too-few-heels", sentence, "survey.inclining.readings")
    lever = np.array([tan(radians(h)) for h in heels_deg])
    moved = np.array(moments)
    design = np.stack([moved, np.ones_like(moved)], axis=1)
    (slope, intercept), *_ = np.linalg.lstsq(design, lever, rcond=None)
    if slope <= 0.0:
        sentence = (
            "She heels away from the moved weight: check the signs (starboard is positive)."
        )
        raise ModelError("inclined-backwards", sentence, "survey.inclining.readings")
    residuals = lever - design @ np.array([slope, intercept])
    free = max(1, len(moments) - 2)
    sd_slope = sqrt(
        float(residuals @ residuals) / free / float(((moved - moved.mean()) ** 2).sum())
    )
    return InclinedStiffness(float(1.0 / slope), float(sd_slope / slope**2), float(intercept))
