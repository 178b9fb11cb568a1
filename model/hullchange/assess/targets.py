"""Targets of the owner: met, not met, within their doubt, or not answered."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import degrees, isfinite, radians, sqrt

from hullchange.afloat.person_aboard import assumed_figures
from hullchange.answer.assessment import (
    ConditionAnswer,
    ConditionResult,
    FreeboardResult,
    UnansweredResult,
)
from hullchange.answer.targets import TargetResult
from hullchange.answer.verdicts import (
    bounds_in_words,
    result_in_words,
    value_in_words,
    verdict_in_words,
)
from hullchange.assess.assumed import reason_unjudged
from hullchange.assess.ways_out import way_out_of
from hullchange.boat.boat import Boat
from hullchange.criteria.doubt import (
    CriterionState,
    in_standard_deviations,
    likelihood,
    verdict_on,
)
from hullchange.document.document import Target
from hullchange.findings import Finding, Severity
from hullchange.plain_words import in_condition
from hullchange.unit_suffixes import unit_of
from hullchange.units import m_of_mm, mm_of_m

UNJUDGED = {
    "state": CriterionState.TO_BE_CONFIRMED.value,
    "margin_sd": None,
    "probability": None,
}
"""Of a target that is not judged."""
FALLEN_DEG = 90.0
LIST_DEG = 0.5
"""From this list on the freeboard of one side is judged and shown: the mean would hide it."""


def targets_of(
    boat: Boat, conditions: Iterable[ConditionAnswer]
) -> Iterator[tuple[TargetResult, Finding | None]]:
    """Each target with its value and doubt, and a finding where it is not met or in doubt.

    While she rests on what is assumed they are to be confirmed, as the criteria are; likewise
    headroom and sight while the cabin sole or the helm is. A freeboard is that of the worse
    side where she lists.
    """
    guessed = assumed_figures(boat.document)
    answered, reason = {(c.id, c.stage): c for c in conditions}, reason_unjudged(boat.document)
    for name, target in boat.document.targets.items():
        row = answered.get((target.condition, target.boat))
        target = _on_worse_side(target, row)
        figure = _figure(boat, row, target.result)
        answer = _judged(name, target, row, figure)
        unsure = bool(reason) or target.result in guessed
        if unsure and row is not None and not _fallen(row):
            answer = answer.model_copy(update=UNJUDGED)
        if isinstance(row, ConditionResult) and not _fallen(row):
            answer = answer.model_copy(update={"way_out": way_out_of(boat, row, answer)})
        yield answer, _finding(answer, "" if row is None else _fallen(row))


@dataclass(frozen=True)
class _Figure:
    """A result with its unit and one standard deviation; None where they are not known."""

    value: float | None
    unit: str
    plus_minus: float | None = None


def _judged(
    name: str,
    target: Target,
    row: ConditionAnswer | None,
    figure: _Figure,
) -> TargetResult:
    low, high = target.bounds()
    value, sd = figure.value, figure.plus_minus
    state, margin, likely = CriterionState.TO_BE_CONFIRMED, None, None
    if row is not None and _fallen(row):
        state, sd = CriterionState.NOT_MET, None
    elif value is not None:
        inside = min(value - low, high - value)
        margin = in_standard_deviations(inside, sd)
        state = verdict_on(margin, keeps=inside >= 0.0)
        if sd:
            likely = likelihood((value - low) / sd) - likelihood((value - high) / sd)
    return TargetResult(
        id=name,
        result=target.result,
        condition=target.condition,
        stage=target.boat,
        value=value,
        unit=figure.unit,
        at_least=low if isfinite(low) else None,
        at_most=high if isfinite(high) else None,
        state=state.value,
        plus_minus=sd,
        margin_sd=margin,
        probability=likely,
    )


def _finding(answer: TargetResult, fallen: str) -> Finding | None:
    """The finding on a target that is not met, or not surely."""
    if answer.state in ("met", "to_be_confirmed"):
        return None
    place, where = f"targets.{answer.id}", in_condition(answer.condition)
    name = result_in_words(answer.result)
    if fallen or answer.value is None:
        sentence = f"{name} {where}: she {fallen}; your target is {bounds_in_words(answer)}."
        return Finding("target-missed", Severity.WARN, place, sentence)
    code = "target-missed" if answer.state == "not_met" else "target-within-doubt"
    sentence = (
        f"{name} {where} is {value_in_words(answer)}; your target is "
        f"{bounds_in_words(answer)}: {verdict_in_words(answer)}."
    )
    return Finding(code, Severity.WARN, place, sentence)


def _fallen(row: ConditionAnswer) -> str:
    """What she does instead of floating upright; nothing where she does."""
    if isinstance(row, UnansweredResult):
        return "does not float"
    return "does not stay upright" if abs(row.heel_deg) > FALLEN_DEG else ""


def _on_worse_side(target: Target, row: ConditionAnswer | None) -> Target:
    """Where she lists, a target for a mark's freeboard put to the side nearer its bound."""
    if not isinstance(row, ConditionResult) or not target.result.startswith("freeboards."):
        return target
    if not LIST_DEG <= abs(row.heel_deg) <= FALLEN_DEG:
        return target
    low, high = target.bounds()
    found = {f"freeboards.{f.mark}.{f.side}": f.freeboard_mm for f in row.freeboards}
    mine = {name: mm for name, mm in found.items() if name.startswith(f"{target.result}.")}
    if not mine:
        return target
    worse = min(mine, key=lambda name: min(mine[name] - low, high - mine[name]))
    return target.model_copy(update={"result": worse})


def _figure(boat: Boat, row: ConditionAnswer | None, result: str) -> _Figure:
    """A result of a condition by name; a freeboard that names no side is the mean of both."""
    if not isinstance(row, ConditionResult):
        return _Figure(None, "mm" if result.startswith("freeboards.") else unit_of(result))
    if result.startswith("freeboards."):
        place = result.removeprefix("freeboards.")
        read = [f for f in row.freeboards if place in (f.mark, f"{f.mark}.{f.side}")]
        return _mean(read, row.plus_minus.heel_deg) if read else _Figure(None, "mm")
    found: object = getattr(row, result, None)
    value = float(found) if isinstance(found, int | float) else None
    return _Figure(value, unit_of(result), _plus_minus(boat, row, result))


def _mean(read: list[FreeboardResult], heel_sd_deg: float) -> _Figure:
    """A freeboard on one side, or the mean of both, which her list does not move."""
    value = sum(f.freeboard_mm for f in read) / len(read)
    variance = sum(f.plus_minus_mm**2 for f in read) / len(read)
    if len(read) > 1:
        of_list = mm_of_m(read[0].half_breadth_m) * radians(heel_sd_deg)
        variance = max(0.0, variance - of_list**2)
    return _Figure(value, "mm", sqrt(variance))


def _plus_minus(boat: Boat, row: ConditionResult, result: str) -> float | None:
    """One standard deviation of a result; None where it is not known."""
    if result == "vcg_above_keel_m":
        return row.plus_minus.vcg_m
    if result == "trim_deg":
        length = boat.document.hull.length_waterline_m
        return degrees(m_of_mm(row.plus_minus.trim_mm) / length)
    known = getattr(row.plus_minus, result, None)
    return getattr(row.heeled_plus_minus, result, None) if known is None else known
