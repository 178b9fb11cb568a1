"""A boat held at every degree of heel: her levers there, and what of her lies under water."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np

from hullchange.afloat.stability import SIDES, Stability
from hullchange.answer.assessment import Assessment, ConditionResult
from hullchange.answer.heeled import HeldResult, RightingLevers, WellsFullResult
from hullchange.answer.wire import Side, Stage
from hullchange.assess.assessment import HeeledBoats, heeled_boats
from hullchange.assess.stability import HeeledAnswer
from hullchange.boat.boat import Boat
from hullchange.cache import cached
from hullchange.errors import ModelError
from hullchange.floating.crossings import heights_of
from hullchange.floating.heeled import HeldBoat, directions
from hullchange.floating.kernel.shapes import HEEL, LEAPT, OFFSET, TO_PORT, TRIM
from hullchange.floating.lever_curve import LeverCurve
from hullchange.floating.lever_table import boats_at, dense, read_at
from hullchange.geometry.frame import FloatArray
from hullchange.units import mm_of_m

CONDITIONS = 8
"""Conditions whose boats are kept as held at every degree, some 200 kB each."""
CENTRES = 32
"""Sides of curves whose centres are kept: those as found while a refit is edited."""
SAME_LEVER = 1e-4  # [m]
DEGREES = np.arange(0.0, 181.0)
OUTWARDS: Mapping[Side, float] = {"port": -1.0, "starboard": 1.0}


@dataclass(frozen=True, eq=False)
class DenseCurves:
    """Curves of one boat that can be read at any heel.

    Attributes:
        counted: with the house, until it floods.
        bare: without it.
        dry: with the wells dry until their coaming goes under.
    """

    counted: LeverCurve
    bare: LeverCurve
    dry: LeverCurve

    @classmethod
    def of(cls, heeled: Stability) -> "DenseCurves":
        """The curves of a boat, each made dense once."""
        counted = dense(heeled.counted)
        bare = counted if heeled.bare is heeled.counted else dense(heeled.bare)
        dry = counted if heeled.dry is heeled.counted else dense(heeled.dry)
        return cls(counted, bare, dry)


def held_everywhere(answer: Assessment, boat: Boat) -> Assessment:
    """An answer with the boats of every condition held at every degree of heel."""
    for condition in dict.fromkeys(row.id for row in answer.floats):
        answer = held_in(answer, boat, condition)
    return answer


def held_where(answer: Assessment, boat: Boat, path: str) -> Assessment:
    """An answer in which the boat that a figure's path leads to is held at every degree."""
    for row in answer.floats:
        if path.startswith(f"conditions.{row.id}.{row.stage}.held."):
            return held_in(answer, boat, row.id)
    return answer


def held_in(answer: Assessment, boat: Boat, condition: str) -> Assessment:
    """An answer with the boats of one condition held at every degree of heel.

    Where a stored lever differs from what is worked out now, as another version's may, they are
    read straight between the stored heels.

    Args:
        answer: of any version.
        boat: of the same document.
        condition: its name; rows without levers are left as they are.
    """
    mine = [row for row in answer.floats if row.id == condition and row.righting_levers]
    if not mine:
        return answer
    try:
        worked_out = _worked_out(heeled_boats(boat, condition))
    except ModelError:  # a version that refuses her now did not then
        worked_out = {}
    length = boat.document.hull.length_waterline_m

    def held(row: ConditionResult) -> ConditionResult:
        again = worked_out.get(row.stage)
        known = again is not None and _has_levers_of(again[0], row)
        found = again[1] if again and known else _held_of_stored(row, length)
        return row.model_copy(update={"held": found})

    rows = {id(row): held(row) for row in mine}
    conditions = tuple(rows.get(id(row), row) for row in answer.conditions)
    return answer.model_copy(update={"conditions": conditions})


_Held: TypeAlias = dict[Side, HeldResult] | None


@cached(CONDITIONS)
def _worked_out(boats: HeeledBoats) -> Mapping[Stage, tuple[ConditionResult, _Held]]:
    """Each boat that was heeled round, held; the refit with what each lever has changed."""
    answer: dict[Stage, tuple[ConditionResult, _Held]] = {}
    for one in boats:
        if isinstance(one, HeeledAnswer):
            held = _held_of(one)
            before = answer.get("as_found", (None, None))[1]
            if one.row.stage == "refit" and held and before:
                held = _with_change(held, before)
            answer[one.row.stage] = one.answer, held
    return answer


def _has_levers_of(again: ConditionResult, stored: ConditionResult) -> bool:
    new, old = again.righting_levers, stored.righting_levers
    if new is None or old is None:
        return new is old
    return new.heel_deg == old.heel_deg and bool(
        np.allclose(new.gz_m, old.gz_m, rtol=0.0, atol=SAME_LEVER)
    )


def _held_of(one: HeeledAnswer) -> _Held:
    """The boat held at every degree to either side; None where she cannot be heeled."""
    counted = one.stability.counted
    if len(counted.heels) < 2:
        return None
    curves = DenseCurves.of(one.stability)
    sd = counted.heels, one.spread.lever_sd()
    return {side: _held(one, curves, side, sd) for side in SIDES}


def _with_change(
    now: Mapping[Side, HeldResult], before: Mapping[Side, HeldResult]
) -> dict[Side, HeldResult]:
    """The refit's, with how much each lever has changed; null where the old boat has none."""
    answer = {}
    for side, held in now.items():
        was = dict(
            zip(reversed(before[side].heel_deg), reversed(before[side].gz_m), strict=True)
        )
        change = tuple(
            None if heel not in was else round(gz - was[heel], 5)
            for heel, gz in zip(held.heel_deg, held.gz_m, strict=True)
        )
        answer[side] = held.model_copy(update={"gz_change_m": change})
    return answer


def _held_of_stored(answer: ConditionResult, length: float) -> _Held:
    """The same read straight between the heels of stored levers; None where there are none.

    Args:
        answer: as stored.
        length: between perpendiculars [m].
    """
    levers = answer.righting_levers
    if levers is None or len(levers.heel_deg) < 2:
        return None
    return {side: _read_stored(answer, levers, OUTWARDS[side], length) for side in SIDES}


def _read_stored(
    answer: ConditionResult, levers: RightingLevers, turn: float, length: float
) -> HeldResult:
    known = np.array(levers.heel_deg)
    own = known * turn >= 0.0
    heels = DEGREES[np.abs(known[own]).max(initial=-1.0) >= DEGREES] * turn
    # at no heel a lever is stored as it rights from starboard
    upright = np.where((known == 0.0) & (turn < 0.0), -1.0, 1.0)
    read = {
        name: np.interp(heels, known[own], (upright ** _is_lever(name) * stored)[own])
        for name in type(levers).model_fields
        for stored in [np.array(getattr(levers, name))]
        if name != "heel_deg"
    }
    trim, offset = np.radians(read["trim_deg"]), read["water_offset_m"]
    rows = np.zeros((len(heels), LEAPT + 1))
    rows[:, HEEL], rows[:, TRIM], rows[:, OFFSET] = np.radians(heels), trim, offset
    edges = [np.array(opening.edge_m) for opening in answer.openings]
    under, following, height = _openings(edges, rows)
    return HeldResult(
        heel_deg=_rounded(heels, 3),
        **{name: _rounded(values, 5) for name, values in read.items()},
        gz_wells_full_m=_of_wells(answer.wells_full, "gz_m", rows[:, HEEL], 5),
        water_in_wells_kg=_of_wells(answer.wells_full, "water_kg", rows[:, HEEL], 1),
        **_lies(trim, offset, length),
        openings_under=under,
        next_opening=following,
        next_opening_m=height,
    )


def _is_lever(name: str) -> bool:
    return name.startswith("gz_") and name != "gz_plus_minus_m"


def _lies(trim: FloatArray, offset: FloatArray, length: float) -> dict[str, tuple[float, ...]]:
    """Trim and sinkage in millimetres of trims [rad] and offsets [m]."""
    depth = offset + np.sin(trim) * length / 2.0
    return {
        "trim_mm": _rounded(mm_of_m(1.0) * np.tan(trim) * length, 1),
        "sinkage_mm": _rounded(mm_of_m(1.0) * depth, 1),
    }


def _held(
    one: HeeledAnswer, curves: DenseCurves, side: Side, sd: tuple[FloatArray, FloatArray]
) -> HeldResult:
    turn, wells = OUTWARDS[side], one.answer.wells_full
    rows, _ = _rows(curves.counted, turn)
    heels = rows[:, HEEL]
    under, following, height = _openings([edge.points for edge in one.stability.edges], rows)
    return HeldResult(
        heel_deg=_rounded(np.degrees(heels), 3),
        gz_m=_rounded(turn * rows[:, TO_PORT], 5),
        gz_plus_minus_m=_rounded(np.interp(heels, *sd), 5),
        gz_without_house_m=_known(turn * _levers(curves.bare, heels), 5),
        gz_well_dry_m=_known(turn * _levers(curves.dry, heels), 5),
        gz_wells_full_m=_of_wells(wells, "gz_m", heels, 5),
        water_in_wells_kg=_of_wells(wells, "water_kg", heels, 1),
        trim_deg=_rounded(np.degrees(rows[:, TRIM]), 3),
        water_offset_m=_rounded(rows[:, OFFSET], 4),
        **_lies(rows[:, TRIM], rows[:, OFFSET], one.row.spread.length),
        **_centres(curves.counted, turn),
        openings_under=under,
        next_opening=following,
        next_opening_m=height,
    )


def _rows(curve: LeverCurve, turn: float) -> tuple[FloatArray, list[HeldBoat]]:
    """(n, 12) at each whole degree from upright outwards, and whose; at a step both sides."""
    heels = np.radians(turn * DEGREES)
    heels = heels[(heels >= curve.heels[0]) & (heels <= curve.heels[-1])]
    steps = curve.heels[1:][np.diff(curve.heels) == 0.0]
    steps = steps[steps * turn > 0.0]
    inner = np.append(heels, steps)
    rows = np.concatenate([read_at(curve, inner), read_at(curve, steps, beyond=True)])
    boats = (*boats_at(curve, inner), *boats_at(curve, steps, beyond=True))
    order = np.argsort(turn * rows[:, HEEL], kind="stable")
    return np.asarray(rows[order]), [boats[k] for k in order.tolist()]


@cached(CENTRES)
def _centres(curve: LeverCurve, turn: float) -> dict[str, tuple[float, ...]]:
    """Where weight and buoyancy act at each heel of `_rows`, as seen along the water."""
    rows, boats = _rows(curve, turn)
    points = np.array([boat.centres(row) for boat, row in zip(boats, rows, strict=True)])
    heel, (ups, _) = rows[:, HEEL], directions(rows)
    out = np.stack([0.0 * heel, np.cos(heel), np.sin(heel)], axis=1)
    across = np.einsum("nki,ni->kn", points, out)
    above = np.einsum("nki,ni->kn", points, ups) - rows[:, OFFSET]
    return {
        f"{name}_{way}_m": _rounded(values[k], 4)
        for k, name in enumerate(("gravity", "buoyancy"))
        for way, values in (("across", across), ("above_sea", above))
    }


def _levers(curve: LeverCurve, heels: FloatArray) -> FloatArray:
    """(n,) [m] that turn her to port; nan beyond the ends of the curve."""
    levers = read_at(curve, heels)[:, TO_PORT]
    on_it = (heels >= curve.heels[0]) & (heels <= curve.heels[-1])
    return np.where(on_it, levers, np.nan)


def _of_wells(
    wells: WellsFullResult | None,
    figure: Literal["gz_m", "water_kg"],
    heels: FloatArray,
    digits: int,
) -> tuple[float | None, ...] | None:
    """A column of full wells at heels; null beyond the ends."""
    if wells is None:
        return None
    known = np.radians(wells.heel_deg)
    read = np.interp(heels, known, getattr(wells, figure))
    return _known(np.where((heels >= known[0]) & (heels <= known[-1]), read, np.nan), digits)


def _openings(
    edges: Sequence[FloatArray], rows: FloatArray
) -> tuple[tuple[tuple[int, ...], ...], tuple[int | None, ...], tuple[float | None, ...]]:
    """Which openings are under, deepest first, which comes next, and how high that lies."""
    lowest = [heights_of(points)(rows)[0].min(axis=1) for points in edges]
    heights = np.array(lowest).reshape(len(edges), len(rows)).T
    order = np.argsort(heights, axis=1, kind="stable")
    under: list[tuple[int, ...]] = []
    following: list[int | None] = []
    for ranks, own in zip(order.tolist(), heights, strict=True):
        count = int((own < 0.0).sum())
        under.append(tuple(ranks[:count]))
        following.append(ranks[count] if count < len(ranks) else None)
    above = (
        None if k is None else round(float(own[k]), 4)
        for k, own in zip(following, heights, strict=True)
    )
    return tuple(under), tuple(following), tuple(above)


def _rounded(values: FloatArray, digits: int) -> tuple[float, ...]:
    return tuple((np.round(values, digits) + 0.0).tolist())


def _known(values: FloatArray, digits: int) -> tuple[float | None, ...]:
    rounded = _rounded(values, digits)
    return tuple(None if np.isnan(value) else value for value in rounded)
