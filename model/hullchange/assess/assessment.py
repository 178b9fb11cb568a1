"""The whole assessment of a boat: what ``hullchange assess`` prints and the viewer shows."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from hashlib import sha256
from itertools import chain
from typing import Any, TypeAlias

from hullchange.afloat.at_rest import afloat_in_reference
from hullchange.afloat.effects import (
    EffectBaseline,
    change_effects,
    effect_baseline,
    gross_effects,
    part_effects,
    waterfall,
)
from hullchange.afloat.floats_in_conditions import (
    Answered,
    FloatInCondition,
    answers_of,
    surveyed_row,
)
from hullchange.afloat.heeled_uncertainty import heeled_change
from hullchange.afloat.person import person_findings, with_person
from hullchange.afloat.slopes import height_sd
from hullchange.answer.assessment import (
    Assessment,
    ConditionAnswer,
    ConditionResult,
    FindingResult,
    RecordResult,
    UnansweredResult,
)
from hullchange.answer.changes import (
    ChangeResult,
    ItemResult,
    PartResult,
    ReplacedResult,
    Waterfall,
)
from hullchange.answer.heeled import CockpitResult, ThresholdResult
from hullchange.answer.person import PersonResult
from hullchange.assess import findings
from hullchange.assess.assumed import assumed_of, own_figures
from hullchange.assess.cockpits import cockpits_of
from hullchange.assess.document_findings import input_check_findings
from hullchange.assess.flooding import open_findings
from hullchange.assess.ledger import changes_of, items_of, parts_of, replaced_of, totals_of
from hullchange.assess.lines import lines_result
from hullchange.assess.stability import (
    HeeledAnswer,
    changed_angles,
    heeled_or_upright,
    with_stability,
)
from hullchange.assess.survey import survey_of
from hullchange.assess.targets import targets_of
from hullchange.assess.thresholds import thresholds_of
from hullchange.assess.timed_rolls import rolls_findings, rolls_of
from hullchange.assess.voids import voids_of
from hullchange.assess.ways_out import usual_targets
from hullchange.boat.boat import Boat
from hullchange.boat.conditions import LoadingCondition, conditions_of
from hullchange.boat.hull_hydrostatics import hull_result
from hullchange.boat.variants import as_found, refit
from hullchange.cache import cached
from hullchange.findings import Finding, worst_first
from hullchange.floating.equilibrium import Equilibrium
from hullchange.geometry.frame import FloatArray
from hullchange.survey.as_found import AsSurveyed, surveyed
from hullchange.version import __version__

ConditionAnswers: TypeAlias = tuple[Answered | UnansweredResult, ...]
CONDITIONS_HELD = 32
"""Conditions that are held as she floats in them, 1 to 2 MB each with her levers: a dozen of
a boat, before an edit and after it."""
HEELED_HELD = 64
"""Conditions that are held as they are answered with levers, some 50 kB each."""
EFFECTS_HELD = 16
"""Boats whose effects are held, some 100 kB each and 1 MB with two hundred plates."""
Answers: TypeAlias = tuple[ConditionAnswer, ...]
HeeledBoats: TypeAlias = tuple[HeeledAnswer | ConditionAnswer, ...]
"""The boats of a condition; upright alone, or not at all, where she cannot be followed."""
ConditionMap: TypeAlias = Callable[
    [Callable[[ConditionAnswers], Answers], Iterable[ConditionAnswers]], Iterable[Answers]
]
"""A `map` that works out the boats of every condition."""


def assessment(
    boat: Boat,
    *,
    option: str = "",
    only: str = "",
    levers: ConditionMap | None = map,
    before: Boat | None = None,
    record: Callable[[], RecordResult] = RecordResult.left_out,
) -> Assessment:
    """The answer to everything that is asked of a refit.

    Args:
        boat: everything built.
        option: name of the option that was applied, for the heading.
        only: a condition that is answered by itself, without the effects of single items, so
            that a dragged dimension answers at once; all conditions where empty.
        levers: how the conditions are heeled round, one by one; upright only where None.
        before: the boat before an edit: changes that are the same in her are left without
            their effects, which the edit hardly moves, and an answer to one condition takes
            from her what takes longer than a drag may (`input_check_findings`).
        record: asked for the CAD record when all else is answered, so that it can be made
            meanwhile; without it the answer says that it was left out.

    Raises:
        ModelError: where she does not float, or a condition cannot be completed.
    """
    as_surveyed, (reference, asked) = surveyed(boat), _conditions(boat, only)
    rows, answers = _answered(boat, as_surveyed, asked, levers)
    person, answers = with_person(boat, answers, whole=not only)
    baseline = effect_baseline(boat, as_surveyed, reference, _refit_in(rows, reference), before)
    effects = _effects(*_what_acts(boat, as_surveyed, baseline), whole=not only)
    targets, known = list(targets_of(boat, answers)), (as_surveyed, before if only else None)
    recorded, cockpits = record(), _cockpits(boat, as_surveyed, baseline, rows)
    missed = [*_judged(answers, cockpits), *(f for _, f in targets if f)]
    return Assessment(
        hullchange=__version__,
        boat=boat.document.boat.name,
        document_sha256=document_hash(boat),
        option=option or None,
        reference_condition=reference.id,
        **_as_she_is(boat, as_surveyed, person, answers),
        lines=None if only else lines_result(boat),
        parts=effects.parts,
        replaced=effects.replaced,
        changes=effects.changes,
        totals=totals_of(boat),
        items=effects.items,
        waterfall=effects.waterfall,
        conditions=answers,
        cockpits=cockpits,
        thresholds=effects.thresholds,
        rolls=rolls_of(baseline),
        targets=tuple(answer for answer, _ in targets),
        record=recorded,
        voids=voids_of(boat),
        findings=_findings(boat, known, (rows, answers, person), missed, recorded),
    )


def _as_she_is(
    boat: Boat, as_surveyed: AsSurveyed, person: PersonResult | None, answers: Answers
) -> dict[str, Any]:
    """What is answered of her alone: hull, survey, what is assumed and usual, who is aboard."""
    row = surveyed_row(boat, as_surveyed)
    assumed = assumed_of(boat, row)
    return {
        "hull": hull_result(boat),
        "survey": survey_of(boat, as_surveyed, row),
        "assumed": assumed,
        "own_figures": own_figures(boat.document, assumed),
        "person": person,
        "usual_targets": usual_targets(boat, answers),
    }


def heeled_boats(boat: Boat, condition: str) -> HeeledBoats:
    """The boats of one condition heeled round.

    Raises:
        ModelError: what keeps her from being floated.
    """
    built = boat.as_built
    return _heeled_boats(
        built, _upright(built, surveyed(boat), conditions_of(boat.document)[condition])
    )


@dataclass(frozen=True)
class _Effects:
    """What parts, changes and items do to the refit in the reference condition."""

    parts: tuple[PartResult, ...]
    replaced: tuple[ReplacedResult, ...]
    changes: tuple[ChangeResult, ...]
    items: tuple[ItemResult, ...]
    waterfall: Waterfall
    thresholds: tuple[ThresholdResult, ...]


def _what_acts(
    boat: Boat, as_surveyed: AsSurveyed, baseline: EffectBaseline
) -> tuple[Boat, AsSurveyed, LoadingCondition, Equilibrium, frozenset[str]]:
    """All that effects follow from."""
    return boat.as_built, as_surveyed, baseline.condition, baseline.rest, baseline.asked


@cached(EFFECTS_HELD)
def _effects(
    built: Boat,
    as_surveyed: AsSurveyed,
    reference: LoadingCondition,
    rest: Equilibrium,
    asked: frozenset[str],
    *,
    whole: bool,
) -> _Effects:
    baseline = EffectBaseline(built, as_surveyed, reference, refit(built), rest, asked)
    effects, hull = change_effects(baseline), hull_result(built)
    beam = hull.beam_m, hull.beam_waterline_m
    return _Effects(
        parts_of(built, part_effects(baseline), gross_effects(baseline) if whole else {}),
        replaced_of(baseline),
        changes_of(effects, baseline),
        items_of(baseline, with_effects=whole),
        waterfall(baseline, effects, steps=whole),
        thresholds_of(baseline, beam) if whole else (),
    )


def _floats(answers: Answers) -> list[ConditionResult]:
    return [answer for answer in answers if isinstance(answer, ConditionResult)]


def _judged(answers: Answers, cockpits: tuple[CockpitResult, ...]) -> list[Finding]:
    """What has no results, and what criteria find."""
    found = findings.criteria_findings(_floats(answers), cockpits)
    return [*findings.unanswered_findings(answers), *found]


def _conditions(boat: Boat, only: str) -> tuple[LoadingCondition, list[LoadingCondition]]:
    """The reference condition, and those that are asked for."""
    every = conditions_of(boat.document)
    asked = [every[only]] if only else list(every.values())
    return every[boat.document.reference_condition], asked


def _answered(
    boat: Boat,
    as_surveyed: AsSurveyed,
    asked: list[LoadingCondition],
    levers: ConditionMap | None,
) -> tuple[list[FloatInCondition], Answers]:
    """Every float that is asked for, and an answer for each boat in each condition."""
    built = boat.as_built
    groups = [_upright(built, as_surveyed, condition) for condition in asked]
    worked_out = _upright_answers if levers is None else partial(_heeled, built)
    answered = (levers or map)(worked_out, groups)
    every = chain.from_iterable(groups)
    rows = [one.row for one in every if isinstance(one, Answered)]
    return rows, tuple(chain.from_iterable(answered))


def _upright_answers(group: ConditionAnswers) -> Answers:
    """The boats of one condition, upright."""
    return tuple(one.answer if isinstance(one, Answered) else one for one in group)


@cached(CONDITIONS_HELD)
def _upright(
    built: Boat, as_surveyed: AsSurveyed, condition: LoadingCondition
) -> ConditionAnswers:
    return answers_of(built, as_surveyed, condition)


@cached(HEELED_HELD)
def _heeled(boat: Boat, group: ConditionAnswers) -> Answers:
    """The answers for the boats of one condition, heeled round."""
    heeled = _heeled_boats(boat, group)
    answers = [one.answer if isinstance(one, HeeledAnswer) else one for one in heeled]
    before, after = heeled[0], heeled[-1]
    if isinstance(before, HeeledAnswer) and isinstance(after, HeeledAnswer):
        answers[-1] = _with_change(before, after)
    return tuple(answers)


@cached(CONDITIONS_HELD)
def _heeled_boats(boat: Boat, group: ConditionAnswers) -> HeeledBoats:
    hull = hull_result(boat)
    beam = (hull.beam_m, hull.beam_waterline_m)
    return tuple(heeled_or_upright(one, partial(_heeled_round, boat, beam)) for one in group)


def _with_change(before: HeeledAnswer, after: HeeledAnswer) -> ConditionResult:
    """The refit's answer, with what has changed of what is read off the levers."""
    if after.answer.change is None:
        return after.answer
    heeled = heeled_change(before.spread, after.spread).model_copy(
        update=changed_angles(before.answer, after.answer)
    )
    change = after.answer.change.model_copy(update={"heeled": heeled})
    return after.answer.model_copy(update={"change": change})


def _refit_in(rows: list[FloatInCondition], condition: LoadingCondition) -> Equilibrium | None:
    """The refit afloat in a condition, where that is one of the rows."""
    mine = (row for row in rows if row.condition.id == condition.id and row.stage == "refit")
    return next((row.rest for row in mine), None)


def _cockpits(
    boat: Boat, as_surveyed: AsSurveyed, baseline: EffectBaseline, rows: list[FloatInCondition]
) -> tuple[CockpitResult, ...]:
    """Cockpits of both boats in the reference condition, their doubt where that is a row."""
    length = boat.document.hull.length_waterline_m
    doubts = {
        row.stage: partial(_height_sd, row.spread.covariance, length)
        for row in rows
        if row.condition.id == baseline.condition.id
    }
    before = afloat_in_reference(boat, as_surveyed, as_found(boat), baseline.condition)
    return (
        *cockpits_of(boat, "as_found", before, doubts.get("as_found")),
        *cockpits_of(boat, "refit", baseline.rest, doubts.get("refit")),
    )


def _height_sd(covariance: FloatArray, length: float, place: FloatArray) -> float:
    return height_sd(covariance, float(place[0]) / length, float(place[1]))


def _heeled_round(
    boat: Boat, beam: tuple[float, float], row: FloatInCondition, answer: ConditionResult
) -> HeeledAnswer:
    """The answer with levers, computed once for the boat as found, which does not change."""
    if row.stage == "as_found":
        return _found_heeled(boat.unchanged, row, answer, beam)
    return with_stability(boat, row, answer, beam)


_found_heeled = cached(64)(with_stability)


def document_hash(boat: Boat) -> str:
    """SHA-256 of the document's values, whatever its comments and order."""
    return sha256(boat.document.model_dump_json(by_alias=True).encode()).hexdigest()


def _findings(
    boat: Boat,
    known: tuple[AsSurveyed, Boat | None],
    floats: tuple[list[FloatInCondition], Answers, PersonResult | None],
    missed: list[Finding],
    record: RecordResult,
) -> tuple[FindingResult, ...]:
    (as_surveyed, before), (rows, answered, person) = known, floats
    answers = _floats(answered)
    everything = [
        *input_check_findings(boat, as_surveyed, before),
        *findings.float_findings(boat, rows, answers),
        *open_findings(answers),
        *findings.flooding_findings(boat, (row.condition for row in rows)),
        *findings.change_findings(rows, boat.document.reference_condition),
        *rolls_findings(boat.document),
        *missed,
        *person_findings(boat, person),
        *findings.record_findings(record),
    ]
    return finding_results(worst_first(everything))


def finding_results(findings: Iterable[Finding]) -> tuple[FindingResult, ...]:
    """Findings as they cross the edge."""
    return tuple(
        FindingResult(
            code=f.code,
            severity=f.severity.value,
            place=f.place,
            sentence=f.sentence,
            source=f.source,
        )
        for f in findings
    )
