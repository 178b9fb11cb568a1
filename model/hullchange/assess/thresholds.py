"""The refit put to the thresholds from which rules ask for a new look at her stability."""

from hullchange.afloat.at_rest import afloat_in_reference
from hullchange.afloat.effects import EffectBaseline
from hullchange.afloat.stability import particulars
from hullchange.answer.heeled import ThresholdResult
from hullchange.boat.variants import as_found
from hullchange.criteria.thresholds import THRESHOLDS, Alteration


def thresholds_of(
    baseline: EffectBaseline, beam: tuple[float, float]
) -> tuple[ThresholdResult, ...]:
    """Each threshold with how large the change is.

    Args:
        baseline: the refit in the reference condition, used as the light boat.
        beam: greatest, and on the waterline [m].
    """
    change = alteration(baseline, beam)
    return tuple(
        ThresholdResult(
            id=rule.id,
            title=rule.title,
            value=rule.change(change),
            limit=rule.limit,
            unit=rule.unit,
            state="reached" if rule.change(change) > rule.limit else "not reached",
            asks=rule.asks,
            source=rule.source,
            grade=rule.grade.value,
        )
        for rule in THRESHOLDS
    )


def alteration(baseline: EffectBaseline, beam: tuple[float, float]) -> Alteration:
    """The size of the change that the refit is.

    Args:
        baseline: the refit afloat.
        beam: of hull and waterline [m].
    """
    boat = baseline.boat
    before = afloat_in_reference(boat, baseline.as_surveyed, as_found(boat), baseline.condition)
    # upright: liquids that a list sends to one side rise, and no rule means that
    light, now = before.upright.centre_of_gravity, baseline.rest.upright.centre_of_gravity
    moved = now - light
    old, new = (particulars(boat, stage, beam).hull_length for stage in ("as_found", "refit"))
    drive = boat.document.boat.propulsion
    replaced = {change.replaces for change in boat.document.changes.values()}
    gone = [part for part in boat.existing.values() if part.path in replaced]
    return Alteration(
        displacement=before.mass,
        net=baseline.rest.mass - before.mass,
        aggregate=sum(abs(e.weight.mass) for e in boat.entries if e.role != "moved"),
        lcg_shift=float(moved[0]),
        vcg_shift=float(moved[2]),
        vcg_above_keel=float(light[2]) + boat.hull.draught,
        waterline_length=boat.document.hull.length_waterline_m,
        hull_length=old,
        length_change=new - old,
        volume_change=sum(abs(p.buoyant_volume) for p in (*boat.parts.values(), *gone)),
        propulsion_changes=drive is not None and drive.old != drive.new,
    )
