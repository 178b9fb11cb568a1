"""Verdicts with their doubt: the rule judges the best estimate, and the doubt stands beside it.

Source:
    JCGM 106, decision rules with a guard band of two standard deviations (from memory); that a
    rule judges the best estimate, and holds margins of its own, is common practice.
"""

from collections.abc import Callable
from enum import StrEnum
from math import erfc, isfinite, sqrt

from hullchange.criteria.facts import Sides, with_vcg_raised

CLEAR_SD = 2.0
"""Standard deviations from which a verdict is clear of its doubt: 97.7 % likely."""
FARTHEST = 1.0  # [m] of a rise or fall of her weight that is looked for
FIRST_STEP, CLOSE_ENOUGH = 1e-3, 1e-5  # [m]
MOST_STEPS = 12


class CriterionState(StrEnum):
    """State of a criterion; the last is for rules whose text was not read or is from memory."""

    MET = "met"
    MET_WITHIN_DOUBT = "met_within_doubt"
    NOT_MET_WITHIN_DOUBT = "not_met_within_doubt"
    NOT_MET = "not_met"
    TO_BE_CONFIRMED = "to_be_confirmed"


def verdict_on(margin_sd: float | None, *, keeps: bool) -> CriterionState:
    """The verdict on a value.

    Args:
        margin_sd: standard deviations by which it is on the good side; None where its doubt is
            nought or not known.
        keeps: whether it is on the good side.
    """
    clear = margin_sd is None or abs(margin_sd) >= CLEAR_SD
    if keeps:
        return CriterionState.MET if clear else CriterionState.MET_WITHIN_DOUBT
    return CriterionState.NOT_MET if clear else CriterionState.NOT_MET_WITHIN_DOUBT


def in_standard_deviations(margin: float, plus_minus: float | None) -> float | None:
    """A margin in standard deviations; None where that is zero or not known."""
    return margin / plus_minus if plus_minus else None


def likelihood(margin_sd: float) -> float:
    """How likely a limit is kept, 0 to 1, with a margin of so many standard deviations.

    >>> round(likelihood(2.0), 3), likelihood(0.0)
    (0.977, 0.5)
    """
    return 0.5 * erfc(-margin_sd / sqrt(2.0))


def vcg_rise_to_limit(margin: Callable[[Sides], float], sides: Sides) -> float | None:
    """Rise [m] of her centre of gravity until a margin is zero.

    Negative: how much it must come down. Displacement and trim at each heel are held, as
    `with_vcg_raised` does. None where the margin does not end within a metre.

    Args:
        margin: of facts to either side.
        sides: the facts as she is.
    """
    rise, left = 0.0, margin(sides)
    ahead = FIRST_STEP if left >= 0.0 else -FIRST_STEP
    for _ in range(MOST_STEPS):
        further = margin(with_vcg_raised(sides, ahead))
        if further == left or not isfinite(further):
            return None
        rise, ahead, left = ahead, ahead - further * (ahead - rise) / (further - left), further
        if abs(ahead) > FARTHEST:
            return None
        if abs(ahead - rise) < CLOSE_ENOUGH:
            return ahead
    return None
