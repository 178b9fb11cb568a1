"""What would meet a missed target, by estimate, and what is usual to ask where none is set."""

from collections.abc import Iterable, Iterator
from math import degrees

from hullchange.answer.assessment import ConditionAnswer, ConditionResult
from hullchange.answer.targets import (
    Direction,
    MoveResult,
    TargetResult,
    UsualTarget,
    WayOutResult,
)
from hullchange.boat.boat import Boat
from hullchange.boat.entries import LedgerEntry
from hullchange.units import MM_PER_M

INSIDE = 0.1
"""How far within its bound a move aims, of what is missing; never beyond the middle."""
LEAST_SHARE = 0.05
"""Moves that bring less of what is missing than this are no way out."""
LEVER_THAT_TRIMS = 0.15
"""Of the waterline: a mark nearer the centre of flotation is raised by weight taken off."""
CM_PER_MM = 0.1
USUAL_TRIM = 0.0025
"""Of the waterline, either way; 25 mm at 10 m. Common practice, no source."""
USUAL_LIST_DEG = 0.5
"""Either way; what people aboard begin to notice. Common practice, no source."""
USUAL_LOSS = 0.005
"""Of the waterline: freeboard that may be lost; 50 mm at 10 m. Common practice, no source."""
ALONG: tuple[Direction, Direction] = ("aft", "forward")


def way_out_of(boat: Boat, row: ConditionResult, target: TargetResult) -> WayOutResult | None:
    """What would bring a missed target back, or None where no weight alone would.

    Args:
        boat: everything built.
        row: the boat that the target is asked of, afloat and upright.
        target: as it was judged.
    """
    wanted, slope = _wanted_change(target), _slope(boat, row, target.result)
    if wanted is None or slope is None:
        return None
    by_unit, (raising, lowering) = slope
    direction = raising if wanted * by_unit > 0.0 else lowering
    if direction is None:
        return None
    amount = abs(wanted / by_unit)
    if direction == "off":
        return WayOutResult(direction=direction, moment_kgm=None, mass_kg=amount)
    moves: Iterable[MoveResult] = ()
    aim = (target.value or 0.0) + wanted
    if direction in ALONG and target.stage == "refit":
        moves = _moves(boat, target, wanted, by_unit)
    return WayOutResult(
        direction=direction,
        moment_kgm=amount,
        mass_kg=None,
        moves=tuple(sorted(moves, key=lambda move: abs(move.value - aim))),
    )


def usual_targets(boat: Boat, rows: Iterable[ConditionAnswer]) -> tuple[UsualTarget, ...]:
    """What is usual to ask in each condition that is answered, less what is asked already."""
    asked = {(t.condition, t.result) for t in boat.document.targets.values()}
    answered = {(r.id, r.stage): r for r in rows if isinstance(r, ConditionResult)}
    length = boat.document.hull.length_waterline_m
    proposed = (
        one
        for (condition, stage), row in answered.items()
        if stage == "refit" or (condition, "refit") not in answered
        for one in _usual_in(row, answered.get((condition, "as_found")), length)
    )
    return tuple(one for one in proposed if (one.condition, one.result) not in asked)


def _usual_in(
    row: ConditionResult, before: ConditionResult | None, length: float
) -> Iterator[UsualTarget]:
    trim = max(10.0, _rounded(USUAL_TRIM * length * MM_PER_M))
    loss = max(10.0, _rounded(USUAL_LOSS * length * MM_PER_M))
    wanted: list[tuple[str, str, str, float | None, float | None]] = [
        ("level", "trim_mm", "mm", -trim, trim),
        ("upright", "heel_deg", "deg", -USUAL_LIST_DEG, USUAL_LIST_DEG),
    ]
    if before is not None and not before.upside_down:
        wanted += [
            (f"freeboard-{one.mark}", f"freeboards.{one.mark}", "mm", least, None)
            for one in before.freeboards_at_marks
            if (least := _rounded(one.mean_mm - loss, 10.0)) > 0.0
        ]
    for name, result, unit, lowest, highest in wanted:
        yield UsualTarget(
            name=name,
            result=result,
            condition=row.id,
            stage=row.stage,
            unit=unit,
            at_least=lowest,
            at_most=highest,
        )


def _rounded(mm: float, step: float = 5.0) -> float:
    return step * round(mm / step)


def _wanted_change(target: TargetResult) -> float | None:
    """What brings the result a little within its bounds; None where it is not missed."""
    value = target.value
    if value is None or target.state not in ("not_met", "not_met_within_doubt"):
        return None
    low, high = target.at_least, target.at_most
    bound = high if high is not None and value > high else low
    if bound is None:
        return None
    missing = bound - value
    if low is None or high is None:
        return missing * (1.0 + INSIDE)
    to_middle = (low + high) / 2.0 - value
    return min(missing * (1.0 + INSIDE), to_middle, key=abs)


_Directions = tuple[Direction | None, Direction | None]


def _slope(boat: Boat, row: ConditionResult, result: str) -> tuple[float, _Directions] | None:
    """Change of a result by a kg m, or a kg, and which way raises and lowers it."""
    length = boat.document.hull.length_waterline_m
    trim = 1.0 / (CM_PER_MM * row.trim_moment_kgm_per_cm)  # [mm] of trim by a kg m aft
    if result == "trim_mm":
        return trim, ALONG
    if result == "heel_deg" and row.gm_m > 0.0:
        righting = row.displacement_kg * row.gm_m
        return degrees(1.0 / righting), ("to starboard", "to port")
    if result == "gm_m":
        return 1.0 / row.displacement_kg, ("down", None)
    mark = boat.document.survey.marks.get(result.removeprefix("freeboards.").split(".")[0])
    if not result.startswith("freeboards.") or mark is None:
        return None
    lever = (mark.x_m - row.lcf_m) / length
    if abs(lever) < LEVER_THAT_TRIMS:
        return 1.0 / (CM_PER_MM * row.kg_per_cm), ("off", None)
    return -trim * lever, ALONG


def _moves(
    boat: Boat, target: TargetResult, wanted: float, per_kgm: float
) -> Iterator[MoveResult]:
    """Each weight that has a range and helps, moved as far as is needed or it goes."""
    for entry, path in _movable(boat):
        mass, (low, high) = entry.weight.mass, entry.may_lie_x
        start = float(entry.to[0])
        end = round(min(high, max(low, start + wanted / (per_kgm * mass))), 2)
        brings = per_kgm * mass * (end - start)
        if brings * wanted <= 0.0 or abs(brings) < LEAST_SHARE * abs(wanted):
            continue
        value = (target.value or 0.0) + brings
        yield MoveResult(
            path=path,
            name=entry.weight.path.rsplit(".", 1)[-1].replace("-", " ").replace("_", " "),
            mass_kg=mass,
            from_x_m=start,
            to_x_m=end,
            value=value,
            is_enough=_is_within(target, value),
        )


def _movable(boat: Boat) -> Iterator[tuple[LedgerEntry, str]]:
    """Weights with a range, and where the document keeps their place."""
    for entry in boat.entries:
        key = entry.weight.path.rsplit(".", 1)[-1]
        moved = boat.document.changes[entry.change].moves.get(key)
        keeps = "at_m" if entry.role == "added" else "to_m"
        if entry.may_lie_x[0] >= entry.may_lie_x[1] or entry.weight.mass <= 0.0:
            continue
        if entry.role == "added" or (moved is not None and moved.to_m is not None):
            yield entry, f"{entry.weight.path}.{keeps}"


def _is_within(target: TargetResult, value: float) -> bool:
    low, high = target.at_least, target.at_most
    return (low is None or value >= low) and (high is None or value <= high)
