"""Stored answers with what a revision does not hold, or an older version did not tell.

What follows from the stored figures is filled in from them. Where nothing does, it stays null,
and the pages say that it is not in the revision.
"""

from math import hypot, radians

from hullchange.afloat.floats_in_conditions import at_marks
from hullchange.answer.assessment import (
    Assessment,
    ConditionAnswer,
    ConditionResult,
    Difference,
    UnansweredResult,
)
from hullchange.answer.changes import ItemResult, PartResult, TotalsResult
from hullchange.answer.uncertainty import PlusMinus
from hullchange.assess.ledger import found_in_document
from hullchange.boat.boat import Boat
from hullchange.geometry.frame import WaterPlane
from hullchange.survey.as_found import amidships
from hullchange.units import m_of_mm


def is_complete(answer: Assessment) -> bool:
    """Whether an answer has every figure that answers have today."""
    return answer.totals is not None


def completed(answer: Assessment, boat: Boat) -> Assessment:
    """An answer of any version with the figures of today that follow from its own.

    Args:
        answer: as stored.
        boat: of the same document.
    """
    found = {entry.weight.path: found_in_document(boat, entry) for entry in boat.entries}

    def item(one: ItemResult) -> ItemResult:
        return one.model_copy(update=found.get(one.path, {}))

    return answer.model_copy(
        update={
            "parts": tuple(map(_part, answer.parts)),
            "items": tuple(map(item, answer.items)),
            "totals": _totals(answer),
            "conditions": tuple(
                _lying(answer, row, amidships(boat)) for row in answer.conditions
            ),
        }
    )


def _part(part: PartResult) -> PartResult:
    counted = part.mass_kg + part.weld_metal_kg + part.paint_kg
    return part.model_copy(update={"mass_counted_kg": part.mass_counted_kg or counted})


def _totals(answer: Assessment) -> TotalsResult:
    return TotalsResult(
        added_kg=sum(change.added_kg for change in answer.changes),
        removed_kg=sum(change.removed_kg for change in answer.changes),
        moved_kg=sum(change.moved_kg for change in answer.changes),
        net_kg=sum(change.net_kg for change in answer.changes),
    )


def _lying(answer: Assessment, row: ConditionAnswer, amidships_x: float) -> ConditionAnswer:
    """A boat with how she lies."""
    if isinstance(row, UnansweredResult):
        return row
    angles = radians(row.trim_deg), radians(row.heel_deg)
    plane = WaterPlane.at(m_of_mm(row.sinkage_mm), *angles, amidships_x)
    return row.model_copy(
        update={
            "upside_down": bool(plane.up[2] < 0.0),
            "water_offset_m": plane.offset,
            "freeboards_at_marks": at_marks(row.freeboards, row.change),
            "plus_minus": _at_both_ends(row.plus_minus),
            "change": None if row.change is None else _changed(answer, row, row.change),
        }
    )


def _at_both_ends(spread: PlusMinus) -> PlusMinus:
    """With sinkage and trim taken as if apart from one another: too wide, not too narrow."""
    if spread.sinkage_bow_mm is not None:
        return spread
    wide = hypot(spread.sinkage_mm, spread.trim_mm / 2.0)
    return spread.model_copy(update={"sinkage_bow_mm": wide, "sinkage_stern_mm": wide})


def _changed(answer: Assessment, row: ConditionResult, change: Difference) -> Difference:
    before = answer.condition(row.id, "as_found")
    return change.model_copy(
        update={
            "sinkage_bow_mm": row.sinkage_bow_mm - before.sinkage_bow_mm,
            "sinkage_stern_mm": row.sinkage_stern_mm - before.sinkage_stern_mm,
            "trim_deg": row.trim_deg - before.trim_deg,
            "plus_minus": _at_both_ends(change.plus_minus),
        }
    )
