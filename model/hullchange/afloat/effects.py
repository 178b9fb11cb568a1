"""What each part, change and item does: differences of two floats, each an equilibrium."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from hullchange.afloat.at_rest import NO_REST, afloat, afloat_in_reference
from hullchange.answer.changes import Effect, Waterfall, WaterfallStep
from hullchange.boat.boat import Boat
from hullchange.boat.conditions import LoadingCondition
from hullchange.boat.entries import LedgerEntry
from hullchange.boat.variants import (
    Variant,
    refit,
    with_changes,
    without_change,
    without_entries,
    without_part,
    without_part_gross,
)
from hullchange.errors import ModelError
from hullchange.floating.equilibrium import Equilibrium
from hullchange.survey.as_found import AsSurveyed, amidships, mark_points
from hullchange.units import deg_of_rad, mm_of_m

Effects: TypeAlias = Mapping[str, Effect | None]
"""Effects by name; None where the boat without it does not float."""


@dataclass(frozen=True, eq=False)
class EffectBaseline:
    """The refit in the reference condition, against which everything is left out in turn.

    Attributes:
        boat: everything built.
        as_surveyed: the boat as surveyed.
        condition: in which she is floated.
        whole: the refit.
        rest: where it comes to rest.
        asked: names of the changes whose effects are asked for.
    """

    boat: Boat
    as_surveyed: AsSurveyed
    condition: LoadingCondition
    whole: Variant
    rest: Equilibrium
    asked: frozenset[str]

    def effect_of_leaving(self, variant: Variant) -> Effect | None:
        """The refit minus another boat in the same condition; None where that one sinks."""
        try:
            return effect_between(self.boat, self.afloat(variant), self.rest)
        except ModelError as error:
            if error.code not in NO_REST:
                raise
            return None

    def afloat(self, variant: Variant) -> Equilibrium:
        """Another boat in the same condition.

        A boat that stands upright is found from the refit at rest; one that does not is let go
        upright, as the conditions answer her, and so are all where the refit lies over.
        """
        if has_one_rest(self.rest):
            near = afloat(self.boat, self.as_surveyed, variant, self.condition, self.rest).rest
            if has_one_rest(near):
                return near
        return afloat(self.boat, self.as_surveyed, variant, self.condition).rest


def has_one_rest(rest: Equilibrium) -> bool:
    """Whether a boat has one place of rest near upright, wherever she is let go from."""
    return rest.upright_stable and not rest.capsized


def effect_baseline(
    boat: Boat,
    as_surveyed: AsSurveyed,
    condition: LoadingCondition,
    rest: Equilibrium | None = None,
    before: Boat | None = None,
) -> EffectBaseline:
    """The refit afloat in the reference condition.

    Args:
        boat: everything built.
        as_surveyed: the boat as surveyed.
        condition: the reference condition.
        rest: where she is known to float in it.
        before: the boat before an edit, whose own changes are not asked about again.
    """
    whole = refit(boat)
    there = rest or afloat_in_reference(boat, as_surveyed, whole, condition)
    return EffectBaseline(
        boat, as_surveyed, condition, whole, there, changes_that_differ(boat, before)
    )


def changes_that_differ(boat: Boat, before: Boat | None) -> frozenset[str]:
    """Names of the changes that are other ones than in an earlier boat; all without one."""
    names = frozenset(boat.document.changes)
    if before is None or _besides_changes(boat) != _besides_changes(before):
        return names
    was, now = _marks(before), _marks(boat)
    return frozenset(name for name in names if was.get(name) != now.get(name))


def _besides_changes(boat: Boat) -> dict[str, object]:
    fields = vars(boat.document)
    return {name: value for name, value in fields.items() if name != "changes"}


def _marks(boat: Boat) -> dict[str, list[object]]:
    """What distinguishes each change: its place in the order, its lines, its parts."""
    marks: dict[str, list[object]] = {
        name: [number, change.replaces]
        for number, (name, change) in enumerate(boat.document.changes.items())
    }
    for entry in boat.entries:
        marks[entry.change] += [entry.weight.path, entry.role, entry.account.packed.tobytes()]
    for part in boat.parts.values():
        marks[part.change].append(part.key)
    return marks


def effect_between(boat: Boat, before: Equilibrium, after: Equilibrium) -> Effect:
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
        gm_mm=mm_of_m(after.upright.gm_transverse - before.upright.gm_transverse),
        freeboard_aft_mm=_freeboard_aft(boat, before, after),
    )


def _freeboard_aft(boat: Boat, before: Equilibrium, after: Equilibrium) -> float | None:
    """What the mean freeboard at the aftermost mark gains [mm]; None where there is no mark."""
    marks = mark_points(boat).values()
    aftmost = max(marks, key=lambda points: float(points[0, 0]), default=None)
    if aftmost is None:
        return None
    old, new = (rest.plane.height_above(aftmost).mean() for rest in (before, after))
    return mm_of_m(float(new - old))


def part_effects(baseline: EffectBaseline) -> Effects:
    """Net effect of each new part that is asked about, by its name."""
    return {
        name: baseline.effect_of_leaving(without_part(baseline.boat, name, baseline.whole))
        for name, part in baseline.boat.parts.items()
        if part.change in baseline.asked
    }


def gross_effects(baseline: EffectBaseline) -> Effects:
    """Effect of each new part with the steel it replaces left off, by its name."""
    return {
        name: baseline.effect_of_leaving(
            without_part_gross(baseline.boat, name, baseline.whole)
        )
        for name in baseline.boat.parts
    }


def change_effects(baseline: EffectBaseline) -> Effects:
    """Effect of each change asked about: the refit minus the refit with it left out."""
    return {
        name: baseline.effect_of_leaving(without_change(baseline.boat, name))
        for name in baseline.boat.document.changes
        if name in baseline.asked
    }


def entry_effect(baseline: EffectBaseline, entry: LedgerEntry) -> Effect | None:
    """Effect of one line of the ledger by itself, volumes untouched."""
    return baseline.effect_of_leaving(without_entries([entry], baseline.whole))


def waterfall(baseline: EffectBaseline, alone: Effects, *, steps: bool) -> Waterfall:
    """From the boat as found to the refit, change by change in the stated order.

    Args:
        baseline: the refit afloat.
        alone: effect of changes when each is left out of the refit.
        steps: whether the way is asked for, or where it ends alone.
    """
    names = list(baseline.boat.document.changes)
    floats = [*_on_the_way(baseline, names if steps else names[:1]), baseline.rest]
    total = effect_between(baseline.boat, floats[0], baseline.rest)
    known = [effect for effect in alone.values() if effect is not None]
    return Waterfall(
        steps=tuple(_steps(baseline, names, floats))
        if steps and len(floats) > len(names)
        else (),
        total=total,
        total_displacement_kg=baseline.rest.mass - floats[0].mass,
        leave_one_out_remainder=_minus(total, known) if len(known) == len(names) else None,
    )


def _on_the_way(baseline: EffectBaseline, names: list[str]) -> list[Equilibrium]:
    """The boat before each change, those before it done; as found alone where one sinks."""
    counts = range(len(names))
    try:
        return [baseline.afloat(with_changes(baseline.boat, names[:count])) for count in counts]
    except ModelError as error:
        if error.code not in NO_REST:
            raise
        return [baseline.afloat(with_changes(baseline.boat, ()))]


def _steps(
    baseline: EffectBaseline, names: list[str], floats: list[Equilibrium]
) -> Iterator[WaterfallStep]:
    for name, before, after in zip(names, floats[:-1], floats[1:], strict=True):
        effect = effect_between(baseline.boat, before, after)
        yield WaterfallStep(
            change=name, displacement_kg=after.mass - before.mass, effect=effect
        )


def _minus(total: Effect, parts: list[Effect]) -> Effect:
    def left(field: str) -> float | None:
        every = [getattr(effect, field) for effect in (total, *parts)]
        return None if None in every else every[0] - sum(every[1:])

    return Effect.model_validate({field: left(field) for field in Effect.model_fields})
