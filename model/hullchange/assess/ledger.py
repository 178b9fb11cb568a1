"""Parts, changes and items as lines of the answer."""

from collections.abc import Mapping

from hullchange.afloat.effects import EffectBaseline, Effects, entry_effect
from hullchange.answer.changes import (
    ChangeResult,
    Effect,
    ItemResult,
    PartResult,
    PlateResult,
    ReplacedResult,
    TotalsResult,
)
from hullchange.assess.findings import reminder_of
from hullchange.boat.boat import Boat
from hullchange.boat.built import PARTS_HELD, BuiltPart
from hullchange.boat.entries import LedgerEntry
from hullchange.boat.variants import without_entries
from hullchange.cache import cached
from hullchange.materials import STEEL_DENSITY
from hullchange.shop.piece import section_words, straight_length
from hullchange.units import mm_of_m


def parts_of(boat: Boat, net: Effects, gross: Effects) -> tuple[PartResult, ...]:
    """Each new part with its net and its gross effect, where they are given."""
    allowances: dict[str, dict[str, float]] = {name: {} for name in boat.parts}
    for entry in boat.entries:
        if entry.role == "allowance":
            what = entry.weight.path.rsplit(".", 1)[1]
            allowances[entry.rides_on][what] = entry.weight.mass
    return tuple(
        _part(part, allowances[name], net.get(name), gross.get(name))
        for name, part in boat.parts.items()
    )


def _part(
    part: BuiltPart,
    allowances: Mapping[str, float],
    net: Effect | None,
    gross: Effect | None,
) -> PartResult:
    return PartResult(
        id=part.id,
        change=part.change,
        kind=part.part.kind,
        mass_kg=part.steel.mass,
        mass_counted_kg=part.steel.mass + sum(allowances.values()),
        centroid_m=part.steel.centroid,
        volume_m3=part.steel.volume,
        plate_area_m2=part.area,
        buoyant_volume_m3=part.buoyant_volume,
        weld_metal_kg=allowances.get("weld-metal", 0.0),
        paint_kg=allowances.get("paint", 0.0),
        effect=net,
        effect_gross=gross,
        plates=_plates(part),
    )


@cached(PARTS_HELD)
def _plates(part: BuiltPart) -> tuple[PlateResult, ...]:
    return tuple(
        PlateResult(
            id=plate.id,
            kind=plate.kind,
            thickness_mm=mm_of_m(plate.gauge),
            area_m2=plate.area_mid,
            mass_kg=plate.mass(STEEL_DENSITY),
            sawn_from=section_words(plate) if straight_length(plate) else "",
        )
        for plate in part.part.plates
    )


def replaced_of(baseline: EffectBaseline) -> tuple[ReplacedResult, ...]:
    """What is taken away where a change replaces an existing part, and its own effect."""
    answers = []
    for name, change in baseline.boat.document.changes.items():
        if change.replaces is None:
            continue
        gone = [e for e in baseline.boat.entries if e.change == name and e.replaced_by]
        alone = without_entries(gone, baseline.whole)
        answers.append(
            ReplacedResult(
                id=change.replaces,
                change=name,
                mass_kg=sum(e.weight.mass for e in gone),
                effect=baseline.effect_of_leaving(alone) if name in baseline.asked else None,
            )
        )
    return tuple(answers)


def changes_of(effects: Effects, baseline: EffectBaseline) -> tuple[ChangeResult, ...]:
    """Each change with what it takes off, puts on and moves."""
    answers = []
    for name, change in baseline.boat.document.changes.items():
        mass = dict.fromkeys(("removed", "added", "moved"), 0.0)
        for entry in baseline.boat.entries:
            if entry.change == name:
                role = "added" if entry.role in ("part", "allowance") else entry.role
                mass[role] += entry.weight.mass
        answers.append(
            ChangeResult(
                id=name,
                stage=change.stage,
                added_kg=mass["added"],
                removed_kg=mass["removed"],
                moved_kg=mass["moved"],
                net_kg=mass["added"] - mass["removed"],
                effect=effects.get(name),
                reminder=reminder_of(baseline.boat, name, baseline.rest),
            )
        )
    return tuple(answers)


def totals_of(boat: Boat) -> TotalsResult:
    """What all changes take off, put on and move."""
    removed, added, moved = (
        sum(entry.weight.mass for entry in boat.entries if entry.role in roles)
        for roles in (("removed",), ("added", "part", "allowance"), ("moved",))
    )
    return TotalsResult(
        added_kg=added, removed_kg=removed, moved_kg=moved, net_kg=added - removed
    )


def items_of(baseline: EffectBaseline, *, with_effects: bool) -> tuple[ItemResult, ...]:
    """Every line of the ledger of changes."""
    return tuple(
        _item(baseline.boat, entry, entry_effect(baseline, entry) if with_effects else None)
        for entry in baseline.boat.entries
    )


def _item(boat: Boat, entry: LedgerEntry, effect: Effect | None) -> ItemResult:
    weight, reach = entry.weight, entry.may_lie_x
    return ItemResult(
        path=weight.path,
        **found_in_document(boat, entry),
        change=entry.change,
        role=entry.role,
        mass_kg=weight.mass,
        plus_minus_kg=weight.sd_mass,
        at_m=weight.centre,
        to_m=entry.to if entry.role == "moved" else None,
        provenance=weight.provenance,
        replaced_by=entry.replaced_by or None,
        may_lie_x_m=reach if reach[0] < reach[1] else None,
        effect=effect,
    )


def found_in_document(boat: Boat, entry: LedgerEntry) -> dict[str, str]:
    """Where a line is kept, what it is called, and what its height goes with."""
    return {
        "kept_at": "" if _follows(entry) else entry.weight.path,
        "name": _name(entry),
        "rises_with": _rises_with(boat, entry),
    }


def _follows(entry: LedgerEntry) -> bool:
    """Whether it follows from a part's dimensions: an allowance, or the plate it replaces."""
    is_old_plate = entry.role == "removed" and ".parts." in entry.weight.path
    return entry.role == "allowance" or is_old_plate


def _name(entry: LedgerEntry) -> str:
    """What it is called: its key in plain words, with its part where it follows from one."""
    *_, part, key = entry.weight.path.replace("-", " ").replace("_", " ").split(".")
    return f"{key} of {part}" if _follows(entry) else key


def _rises_with(boat: Boat, entry: LedgerEntry) -> str:
    """Path of what its height goes with, or empty."""
    change = boat.document.changes[entry.change]
    key = entry.weight.path.rsplit(".", 1)[-1]
    item = change.moves.get(key) if entry.role == "moved" else change.adds.get(key)
    if entry.role not in ("added", "moved") or item is None or item.rises_with is None:
        return ""
    return item.rises_with.path
