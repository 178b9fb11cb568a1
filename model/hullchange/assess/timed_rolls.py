"""Rolls timed before and after the refit: what they show of her GM, and what they cannot."""

from dataclasses import replace

from hullchange.afloat.at_rest import afloat_in_reference
from hullchange.afloat.effects import EffectBaseline
from hullchange.answer.survey import RollsResult
from hullchange.boat.variants import as_found
from hullchange.criteria.roll import TimedRolls, gm_ratio
from hullchange.document.document import Document
from hullchange.findings import Finding

PLACE = "trials.rolls"


def rolls_of(baseline: EffectBaseline) -> RollsResult | None:
    """The answer to timed rolls; None where there are none.

    Args:
        baseline: the refit in the reference condition, for the ratio to expect.
    """
    was, now = _timed(baseline.boat.document)
    if was is None and now is None:
        return None
    ratio = None if was is None or now is None else gm_ratio(was, now)
    old = as_found(baseline.boat)
    before = afloat_in_reference(baseline.boat, baseline.as_surveyed, old, baseline.condition)
    gm = before.upright.gm_transverse, baseline.rest.upright.gm_transverse
    return RollsResult(
        before_period_s=None if was is None else was.period,
        before_plus_minus_s=None if was is None else was.sd,
        after_period_s=None if now is None else now.period,
        after_plus_minus_s=None if now is None else now.sd,
        gm_ratio=None if ratio is None else ratio.value,
        gm_ratio_plus_minus=None if ratio is None else ratio.plus_minus,
        gm_ratio_expected=gm[1] / gm[0] if min(gm) > 0.0 else None,
    )


def rolls_findings(document: Document) -> tuple[Finding, ...]:
    """What is doubtful about timed rolls."""
    was, now = _timed(document)
    doubts = () if was is None or now is None else gm_ratio(was, now).findings
    return tuple(replace(doubt, place=PLACE) for doubt in doubts)


def _timed(document: Document) -> tuple[TimedRolls | None, TimedRolls | None]:
    rolls = document.trials.rolls
    before, after = (
        None if timing is None else TimedRolls(timing.swings, timing.times_s)
        for timing in (rolls.before, rolls.after)
    )
    return before, after
