"""Targets of the owner: met, missed, or not answered."""

from collections.abc import Iterable, Iterator
from typing import Literal

import numpy as np

from hullchange.findings import Finding, Severity
from hullchange.study.boat import Boat
from hullchange.study.document import Target
from hullchange.study.results import ConditionResult, TargetResult, UnansweredResult
from hullchange.study.units_of_keys import unit_of, without_unit

DECIMALS = {"mm": 0, "kg": 0}
NAMES = {
    "heel_deg": "the list (positive to starboard)",
    "trim_mm": "the trim (positive by the stern)",
    "gm_m": "GM upright",
    "gm_at_rest_m": "GM at rest",
    "kg_per_cm": "the weight that sinks her a centimetre",
}


def targets_of(
    boat: Boat, conditions: Iterable[ConditionResult | UnansweredResult]
) -> Iterator[tuple[TargetResult, Finding | None]]:
    """Each target with its value, and a finding where it is missed."""
    answered = {(c.id, c.stage): c for c in conditions}
    for name, target in boat.document.targets.items():
        row = answered.get((target.condition, target.boat))
        yield _judged(name, target, row)


def _judged(
    name: str, target: Target, row: ConditionResult | UnansweredResult | None
) -> tuple[TargetResult, Finding | None]:
    low, high = target.bounds()
    fallen = "" if row is None else _fallen(row)
    value, unit = None, unit_of(target.result)
    if isinstance(row, ConditionResult):
        value, unit = _value(row, target.result)
    answer = TargetResult(
        id=name,
        result=target.result,
        condition=target.condition,
        value=value,
        unit=unit,
        at_least=low if np.isfinite(low) else None,
        at_most=high if np.isfinite(high) else None,
        state="missed" if fallen else _state(value, low, high),
    )
    if answer.state != "missed":
        return answer, None
    missed = f"Target {name} is missed in condition {target.condition}"
    if fallen:
        sentence = f"{missed}: she {fallen} there."
        return answer, Finding("target-missed", Severity.WARN, f"targets.{name}", sentence)
    assert value is not None
    wanted = f"at least {low:g}" if value < low else f"at most {high:g}"
    sentence = (
        f"{missed}: {_named(target.result)} is "
        f"{value:,.{DECIMALS.get(unit, 2)}f} {unit}, wanted {wanted}."
    )
    return answer, Finding("target-missed", Severity.WARN, f"targets.{name}", sentence)


def _named(result: str) -> str:
    """A result in the trade's words."""
    if result.startswith("freeboards."):
        return f"the freeboard {result.removeprefix('freeboards.').replace('.', ' ')}"
    return NAMES.get(result, (without_unit(result) or result).replace("_", " "))


def _fallen(row: ConditionResult | UnansweredResult) -> str:
    """What she does instead of floating upright; nothing where she does."""
    if isinstance(row, UnansweredResult):
        return "does not float"
    return "does not stay upright" if abs(row.heel_deg) > 90.0 else ""


def _state(
    value: float | None, low: float, high: float
) -> Literal["met", "missed", "not answered yet"]:
    if value is None:
        return "not answered yet"
    return "met" if low <= value <= high else "missed"


def _value(row: ConditionResult, result: str) -> tuple[float | None, str]:
    """A result of a condition by name and its unit; a mark's freeboard is both sides' mean."""
    if result.startswith("freeboards."):
        place = result.removeprefix("freeboards.")
        read = [
            f.freeboard_mm for f in row.freeboards if place in (f.mark, f"{f.mark}.{f.side}")
        ]
        return (sum(read) / len(read) if read else None), "mm"
    found: object = getattr(row, result, None)
    value = float(found) if isinstance(found, int | float) else None
    return value, unit_of(result)
