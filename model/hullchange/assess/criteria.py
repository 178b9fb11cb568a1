"""Criteria as the answer has them: value, doubt, and what both were made from."""

from dataclasses import replace
from math import isclose
from typing import Any

from hullchange.afloat.heeled_uncertainty import HeeledSpread
from hullchange.afloat.stability import Stability
from hullchange.answer.assessment import ConditionResult
from hullchange.answer.heeled import CriterionResult, QuantityResult
from hullchange.assess.assumed import reason_unjudged
from hullchange.assess.criteria_uncertainty import with_doubt
from hullchange.boat.boat import Boat
from hullchange.criteria.catalogue import RULES
from hullchange.criteria.criterion import CriterionAnswer, CriterionOutcome, criterion_answers
from hullchange.criteria.doubt import CriterionState, likelihood
from hullchange.criteria.facts import Absent
from hullchange.criteria.general import opening_in_words
from hullchange.criteria.levers import Angle, AtHeel
from hullchange.units import deg_of_rad

SAME = 1e-5  # share of a value, as far as a curve is read between its points
SAME_FIGURES = {
    "deg": ("vanishing_angle_deg", "downflooding_angle_deg"),
    "m": ("gm_m", "greatest_gz_m"),
    "kg": ("displacement_kg",),
}
"""Results that a criterion may judge, by unit: one quantity has one plus/minus everywhere."""

NONE_DESCRIBED = "No openings are entered, so where the sea comes in first is not known."


def criteria_of(
    boat: Boat, heeled: Stability, spread: HeeledSpread, read: ConditionResult
) -> tuple[CriterionResult, ...]:
    """Every criterion put to a float; none where she cannot be followed to 90 degrees.

    Args:
        boat: everything built.
        heeled: the float heeled round.
        spread: what is not known of it.
        read: what was answered for it, angles included.
    """
    if isinstance(heeled.facts, Absent):
        return ()
    answers = criterion_answers(heeled.facts, RULES)
    pairs = [
        (rule, one)
        for rule, one in zip(RULES, answers, strict=True)
        if isinstance(one, CriterionOutcome)
    ]
    rules, outcomes = [rule for rule, _ in pairs], [one for _, one in pairs]
    reason = reason_unjudged(boat.document)
    doubted = {
        one.id: _rests_on(with_openings_known(boat, _as_elsewhere(one, spread, read)), reason)
        for one in with_doubt(boat, heeled, spread, rules, outcomes)
    }
    return tuple(criterion_result(doubted.get(one.criterion.id, one)) for one in answers)


def with_openings_known(boat: Boat, found: CriterionOutcome) -> CriterionOutcome:
    """To be confirmed where it counts openings, the limit is kept and none is described."""
    if boat.document.openings or found.flooding is None or not found.keeps_the_limit:
        return found
    return replace(found, remarks=(*found.remarks, NONE_DESCRIBED), undecided=True)


def _rests_on(found: CriterionOutcome, reason: str) -> CriterionOutcome:
    """To be confirmed where there is a reason not to judge."""
    if not reason:
        return found
    return replace(found, remarks=(reason, *found.remarks), undecided=True)


def _as_elsewhere(
    found: CriterionOutcome, spread: HeeledSpread, read: ConditionResult
) -> CriterionOutcome:
    """The outcome with the plus/minus that the same figure has among the results."""
    for name in SAME_FIGURES.get(found.unit, ()):
        value = getattr(read, name)
        if value is not None and isclose(value, found.value, rel_tol=SAME):
            of = read.plus_minus if hasattr(read.plus_minus, name) else spread.plus_minus
            known = getattr(of, name)
            return found if known is None else replace(found, plus_minus=known)
    return found


def criterion_result(answer: CriterionAnswer) -> CriterionResult:
    """A criterion as the answer has it, open down to what it was made from."""
    rule = answer.criterion
    found, why = (
        (answer, ()) if isinstance(answer, CriterionOutcome) else (None, (answer.reason,))
    )
    return CriterionResult(
        id=rule.id,
        title=rule.title,
        value=None if found is None else found.value,
        limit=None if found is None else found.limit,
        unit=rule.unit,
        sense=rule.sense.value,
        state=CriterionState.TO_BE_CONFIRMED.value if found is None else found.state.value,
        plus_minus=None if found is None else found.plus_minus,
        document=rule.document.title,
        source=rule.source,
        grade=rule.grade_with_inputs.value,
        formula=rule.formula,
        limit_in_words=rule.limit,
        written_for=f"{rule.document.written_for}; {rule.document.copy}",
        inputs=()
        if found is None
        else tuple(
            QuantityResult(name=q.name, value=q.value, unit=q.unit) for q in found.inputs
        ),
        remarks=why if found is None else found.remarks,
        **_margin(found),
        **_floods_by(answer),
    )


def _margin(found: CriterionOutcome | None) -> dict[str, Any]:
    """A margin in standard deviations, how likely it is, and the rise that uses it up."""
    if found is None or found.margin_sd is None:
        return {}
    return {
        "margin_sd": found.margin_sd,
        "probability": likelihood(found.margin_sd),
        "vcg_rise_m": found.vcg_rise,
    }


def _floods_by(answer: CriterionAnswer) -> dict[str, Any]:
    """The downflooding that a criterion takes, where it asks for one."""
    by = answer.criterion.flooding
    floods_at = answer.flooding if isinstance(answer, CriterionOutcome) else None
    return {
        "downflooding_by": None if by is None else by.id,
        "downflooding_angle_deg": None if floods_at is None else _reached(floods_at.angle),
        "downflooding_opening": None
        if floods_at is None or not floods_at.opening
        else opening_in_words(floods_at.opening),
    }


def _reached(angle: Angle) -> float | None:
    return deg_of_rad(angle.heel) if isinstance(angle, AtHeel) else None
