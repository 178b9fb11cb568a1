"""The roll period, and what a change of it shows about stability."""

from dataclasses import dataclass
from math import hypot, sqrt
from statistics import fmean, stdev

from hullchange.criteria.facts import Absent
from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity

FACTOR, FACTOR_SPREAD = 0.80, 0.05
"""f of T = f B / sqrt(GM), deep-sea fishing vessels'. A yacht with a tall rig has her own."""

STOPWATCH = 0.2  # [s] one standard deviation of a timing (common practice, no source)
FEWEST_ROLLS, FEWEST_TIMINGS = 5, 2
SOURCE = "IMO rolling period test, as in the Intact Stability Code (opened)"


@dataclass(frozen=True)
class RollPeriod:
    """A rough roll period [s] between its bounds [s]."""

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class TimedRolls:
    """Rolls timed: how many full swings each timing holds, and how long each was [s]."""

    swings: int
    seconds: tuple[float, ...]

    @property
    def period(self) -> float:
        """[s] of one full swing, to port and starboard and back."""
        return fmean(self.seconds) / self.swings

    @property
    def sd(self) -> float:
        """[s] one standard deviation of the period, the stopwatch's at least."""
        many = len(self.seconds)
        scatter = stdev(self.seconds) if many > 1 else 0.0
        return max(scatter, STOPWATCH) / sqrt(many) / self.swings


@dataclass(frozen=True)
class GmRatio:
    """The ratio of GM after to GM before, one standard deviation of it, and findings."""

    value: float
    plus_minus: float
    findings: tuple[Finding, ...]


def roll_period(gm: float, beam: float) -> RollPeriod | Absent:
    """The period [s] to expect of a full roll.

    Args:
        gm: [m].
        beam: [m] on the waterline.

    Source:
        IMO rolling period test (opened in four places).

    >>> roll_period(1.0, 3.4).value
    2.72
    """
    if gm <= 0.0:
        return Absent("Her GM is not positive, so she does not roll about the upright.")
    unit = beam / sqrt(gm)
    return RollPeriod(
        FACTOR * unit, (FACTOR - FACTOR_SPREAD) * unit, (FACTOR + FACTOR_SPREAD) * unit
    )


def gm_ratio(before: TimedRolls, after: TimedRolls) -> GmRatio:
    """GM after over GM before, from timed rolls alone: the one thing they show.

    The boat's own factor falls out as far as her weights lie as far from the roll axis as
    before; a mast taken off or raised changes it.

    Raises:
        ModelError: ``rolls-untimed`` where there is no timing, or one of no length.
    """
    for timed in (before, after):
        if timed.swings < 1 or not timed.seconds or min(timed.seconds) <= 0.0:
            sentence = (
                "A timed roll needs its number of swings and the time they took in "
                "seconds, both above 0."
            )
            raise ModelError("rolls-untimed", sentence)
    ratio = (before.period / after.period) ** 2
    relative = 2.0 * hypot(before.sd / before.period, after.sd / after.period)
    doubts = [*_doubts("before", before), *_doubts("after", after)]
    return GmRatio(ratio, ratio * relative, tuple(doubts))


def _doubts(when: str, timed: TimedRolls) -> list[Finding]:
    if timed.swings >= FEWEST_ROLLS and len(timed.seconds) >= FEWEST_TIMINGS:
        return []
    sentence = (
        f"The rolls {when} the refit were timed {len(timed.seconds)} times over "
        f"{timed.swings} swings; time at least {FEWEST_ROLLS} swings, {FEWEST_TIMINGS} times."
    )
    return [Finding("few-rolls", Severity.WARN, "", sentence, SOURCE)]
