"""What changes, parts and single weights do, in the answer.

Field names are part of the contract, as in `hullchange.answer.assessment`.
"""

from typing import Literal

from pydantic import Field

from hullchange.answer.wire import Point, Wire

UNTOUCHED = (
    "null in the first answer to an edit that does not touch the change, and where the boat "
    "without it does not float"
)


Role = Literal["removed", "added", "moved", "part", "allowance"]


class Effect(Wire):
    """Difference of two floats, each an exact equilibrium; signs as everywhere."""

    sinkage_mm: float
    trim_mm: float
    heel_deg: float
    vcg_mm: float
    gm_mm: float
    freeboard_aft_mm: float | None = Field(
        default=None,
        description="at the aftermost mark, mean of both sides; null where there is no mark",
    )


class PlateResult(Wire):
    """One plate or bar of a part."""

    id: str
    kind: Literal["plate", "flat_bar", "tube"]
    thickness_mm: float
    area_m2: float
    mass_kg: float
    sawn_from: str | None = Field(
        default=None,
        description="section of the stock bar it is sawn from, by its millimetres; empty where "
        "it is cut from plate, null in results of older versions",
    )


class PartResult(Wire):
    """A part of new steel: its plates and bars, what is welded and painted on, what it does."""

    id: str
    change: str
    kind: str
    mass_kg: float = Field(
        description="its plates and bars, without weld metal and paint, as it is cut"
    )
    mass_counted_kg: float | None = Field(
        default=None,
        description="with weld metal and paint: what the ledger counts and its effects leave "
        "out; null in results of older versions",
    )
    centroid_m: Point
    volume_m3: float = Field(description="volume of its plates and bars")
    plate_area_m2: float
    buoyant_volume_m3: float = Field(
        description="closed volume it adds to (negative: takes from) what floats"
    )
    weld_metal_kg: float
    paint_kg: float
    effect: Effect | None = Field(description=UNTOUCHED)
    effect_gross: Effect | None = Field(
        description="the steel it replaces left off; what moves with it moves in both; null in "
        "the first answer to an edit"
    )
    plates: tuple[PlateResult, ...]


class ReplacedResult(Wire):
    """An existing part that a change replaces: the steel that comes off, and what that does."""

    id: str = Field(description="path of the existing part")
    change: str
    mass_kg: float
    effect: Effect | None = Field(description=UNTOUCHED)


class ItemResult(Wire):
    """One line of the ledger of changes."""

    path: str
    kept_at: str = Field(
        default="",
        description="where the document keeps it and it is edited; empty where it follows from "
        "something else",
    )
    name: str = Field(default="", description="in plain words")
    rises_with: str = Field(
        default="", description="path of what its height goes with, or empty"
    )
    change: str
    role: Role
    mass_kg: float
    plus_minus_kg: float
    at_m: Point = Field(description="where it is; for a moved item, where it comes from")
    to_m: Point | None = Field(default=None, description="where a moved item goes")
    provenance: str
    replaced_by: str | None = None
    may_lie_x_m: tuple[float, float] | None = None
    effect: Effect | None = Field(
        default=None, description="of this item alone; null until the quiet second answer"
    )


class ChangeResult(Wire):
    """A change bundles what comes off, goes on and moves."""

    id: str
    stage: str
    added_kg: float
    removed_kg: float
    moved_kg: float
    net_kg: float
    effect: Effect | None = Field(description=UNTOUCHED)
    reminder: str = Field(description="one sentence on what is easily missed, or empty")


class TotalsResult(Wire):
    """What all changes take off, put on and move."""

    added_kg: float
    removed_kg: float
    moved_kg: float
    net_kg: float


class WaterfallStep(Wire):
    """One change put on top of those before it, in the stated order."""

    change: str
    displacement_kg: float
    effect: Effect


class Waterfall(Wire):
    """From the boat as found to the refit, change by change; the steps add up exactly."""

    steps: tuple[WaterfallStep, ...] = Field(description="empty in the first answer to an edit")
    total: Effect
    total_displacement_kg: float | None = Field(
        default=None, description="null in results of older versions"
    )
    leave_one_out_remainder: Effect | None = Field(
        description="total minus the sum of each change's own (leave-one-out) effect; null "
        "where one of those is"
    )
