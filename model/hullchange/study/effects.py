"""What each part, change and item does: differences of two floats, each an equilibrium."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from hullchange.floating.equilibrium import Equilibrium
from hullchange.study.as_found import Found, amidships
from hullchange.study.boat import Boat
from hullchange.study.conditions import LoadingCondition
from hullchange.study.entries import Entry
from hullchange.study.floats import afloat
from hullchange.study.results import Effect, Waterfall, WaterfallStep
from hullchange.study.variants import (
    Variant,
    refit,
    with_changes,
    without_change,
    without_entries,
    without_part,
    without_part_gross,
)
from hullchange.units import deg_of_rad, mm_of_m


@dataclass(frozen=True, eq=False)
class Yardstick:
    """The refit in the reference condition, against which everything is left out in turn."""

    boat: Boat
    found: Found
    condition: LoadingCondition
    whole: Variant
    rest: Equilibrium

    def effect_of_leaving(self, variant: Variant) -> Effect:
        """The refit minus another boat in the same condition."""
        return difference(self.boat, self._float(variant), self.rest)

    def _float(self, variant: Variant) -> Equilibrium:
        near = self.rest.plane
        return afloat(self.boat, self.found, variant, self.condition, near).rest


def yardstick(boat: Boat, found: Found, condition: LoadingCondition) -> Yardstick:
    """The refit afloat in the reference condition."""
    whole = refit(boat)
    return Yardstick(boat, found, condition, whole, afloat(boat, found, whole, condition).rest)


def difference(boat: Boat, before: Equilibrium, after: Equilibrium) -> Effect:
    """What changes from one float to another."""
    x, length = amidships(boat), boat.document.hull.length_waterline_m
    return Effect(
        sinkage_mm=mm_of_m(after.plane.sinkage(x) - before.plane.sinkage(x)),
        trim_mm=mm_of_m(
            after.plane.trim_between_perpendiculars(length)
            - before.plane.trim_between_perpendiculars(length)
        ),
        heel_deg=deg_of_rad(after.plane.heel - before.plane.heel),
        vcg_mm=mm_of_m(float(after.centre_of_gravity[2] - before.centre_of_gravity[2])),
        gm_mm=mm_of_m(after.gm_transverse - before.gm_transverse),
    )


def part_effects(stick: Yardstick) -> Mapping[str, tuple[Effect, Effect]]:
    """Net and gross effect of each new part, by its name."""
    return {
        name: (
            stick.effect_of_leaving(without_part(stick.boat, name, stick.whole)),
            stick.effect_of_leaving(without_part_gross(stick.boat, name, stick.whole)),
        )
        for name in stick.boat.parts
    }


def change_effects(stick: Yardstick) -> Mapping[str, Effect]:
    """Effect of each change: the refit minus the refit with that change left out."""
    return {
        name: stick.effect_of_leaving(without_change(stick.boat, name))
        for name in stick.boat.document.changes
    }


def entry_effect(stick: Yardstick, entry: Entry) -> Effect:
    """Effect of one line of the ledger by itself, volumes untouched."""
    return stick.effect_of_leaving(without_entries([entry], stick.whole))


def waterfall(stick: Yardstick, alone: Mapping[str, Effect]) -> Waterfall:
    """From the boat as found to the refit, change by change in the stated order.

    Args:
        stick: the refit afloat.
        alone: effect of each change when it is left out of the refit.
    """
    names = list(stick.boat.document.changes)
    floats = [
        stick.rest
        if count == len(names)
        else afloat(
            stick.boat,
            stick.found,
            with_changes(stick.boat, names[:count]),
            stick.condition,
            stick.rest.plane,
        ).rest
        for count in range(len(names) + 1)
    ]
    steps = tuple(
        WaterfallStep(
            change=name,
            displacement_kg=after.mass - before.mass,
            effect=difference(stick.boat, before, after),
        )
        for name, before, after in zip(names, floats[:-1], floats[1:], strict=True)
    )
    total = difference(stick.boat, floats[0], floats[-1])
    return Waterfall(
        steps=steps,
        total=total,
        leave_one_out_remainder=_minus(total, [alone[name] for name in names]),
    )


def _minus(total: Effect, parts: list[Effect]) -> Effect:
    fields = list(Effect.model_fields)
    rows = np.array([[getattr(part, f) for f in fields] for part in parts]).reshape(-1, 5)
    rest = np.array([getattr(total, f) for f in fields]) - rows.sum(axis=0)
    return Effect(**dict(zip(fields, rest.tolist(), strict=True)))
