"""Levers, openings, liquids and criteria as tables for people, plain text."""

from collections.abc import Iterable

from hullchange.answer.assessment import Assessment, ConditionResult
from hullchange.answer.heeled import CriterionResult
from hullchange.answer.verdicts import figures_in_words, verdict_in_words
from hullchange.plain_words import condition_in_words, id_in_words
from hullchange.present.flooding_lines import flooding_lines, floods_in_words
from hullchange.present.words import (
    TextRow,
    aligned_lines,
    boat_words,
    figure,
    rise_in_words,
    vanishing_in_words,
)

STABILITY_HEADS = (
    *("condition", "boat", "max GZ", "± m", "at", "AVS", "±", "no house"),
    *("range", "in use", "all open", "by area"),
)


def stability(answer: Assessment) -> Iterable[str]:
    """What was found when she was heeled round; nothing where she was not."""
    if all(c.righting_levers is None for c in answer.floats):
        return
    yield from aligned_lines([STABILITY_HEADS, *(_heeled(c) for c in answer.floats)])
    yield from flooding_lines(answer)
    yield from (
        f"  {condition_in_words(c.id)}, {boat_words(c.stage)}: ± of the levers sampled"
        for c in answer.floats
        if c.heeled_plus_minus is not None and c.heeled_plus_minus.by == "sampled"
    )
    yield from _wells_full(answer)
    yield ""
    yield from aligned_lines([LIQUID_HEADS, *_liquids(answer)])
    yield "  Virtual: liquids frozen, G raised by their free surfaces; a cross-check."
    yield ""
    yield from _criteria(answer)
    for cockpit in answer.cockpits:
        seconds = cockpit.drain_time_s
        drained = "does not drain" if seconds is None else f"{seconds:.0f} s to drain"
        if cockpit.drain_area_cm2 is None:
            drained = "no drains given"
        yield (
            f"  {id_in_words(cockpit.id)} full: {cockpit.water_kg:.0f} kg, sole "
            f"{cockpit.sole_above_sea_mm:.0f} mm above the sea, {drained}"
        )
    yield ""


LIQUID_HEADS = (
    "condition",
    "boat",
    "GM solid",
    "GM upright",
    "GZ at 30°",
    "virtual",
    "difference",
)


def _liquids(answer: Assessment) -> Iterable[TextRow]:
    for c in answer.floats:
        surface = c.free_surface
        if surface is not None:
            yield (
                *(
                    condition_in_words(c.id),
                    boat_words(c.stage),
                    f"{c.gm_solid_m:.3f} m",
                    f"{c.gm_m:.3f} m",
                ),
                f"{surface.gz_m:.3f} m",
                f"{surface.gz_virtual_m:.3f} m",
                f"{surface.difference_mm:+z.1f} mm",
            )


def _wells_full(answer: Assessment) -> Iterable[str]:
    for c in answer.floats:
        wells = c.wells_full
        if wells is not None:
            at = dict(
                zip(wells.heel_deg, zip(wells.gz_m, wells.water_kg, strict=True), strict=True)
            )
            gz, water = at.get(30.0, (None, None))
            yield (
                f"  {condition_in_words(c.id)}, {boat_words(c.stage)}, wells as full as each "
                f"heel allows: GZ {figure(gz, '.3f', 'm')} at 30° to starboard with "
                f"{figure(water, '.0f', 'kg')} in them, AVS "
                f"{vanishing_in_words(wells.vanishing_angle_deg)}"
            )


def _heeled(c: ConditionResult) -> TextRow:
    angles = (
        c.range_deg,
        c.downflooding_angle_in_use_deg,
        c.downflooding_angle_all_open_deg,
        c.downflooding_by_area_deg,
    )
    spread = c.heeled_plus_minus
    return (
        condition_in_words(c.id),
        boat_words(c.stage),
        figure(c.greatest_gz_m, ".2f", "m"),
        "-"
        if spread is None or spread.greatest_gz_m is None
        else f"{spread.greatest_gz_m:.3f}",
        figure(c.greatest_gz_at_deg, ".0f", "deg"),
        vanishing_in_words(c.vanishing_angle_deg),
        figure(None if spread is None else spread.vanishing_angle_deg, ".1f", "deg"),
        vanishing_in_words(c.vanishing_angle_without_house_deg),
        *(figure(angle, ".0f", "deg") for angle in angles),
    )


def _criteria(answer: Assessment) -> Iterable[str]:
    """Each criterion of the refit where it is nearest to its limit, worst state first."""
    yield "Criteria for the refit, each in the condition nearest to its limit"
    worst: dict[str, tuple[str, CriterionResult]] = {}
    for c in answer.floats:
        for rule in c.criteria if c.stage == "refit" else ():
            if rule.id not in worst or _margin(rule) < _margin(worst[rule.id][1]):
                worst[rule.id] = (c.id, rule)
    for condition, rule in worst.values():
        rise = "" if rule.vcg_rise_m is None else f"; {rise_in_words(rule.vcg_rise_m)}"
        found = f"{figures_in_words(rule)}{rise}{floods_in_words(rule)}"
        verdict = verdict_in_words(rule)
        yield (
            f"  {verdict}: {rule.title} ({condition_in_words(condition)}): {found} "
            f"[{rule.source}]"
        )
    yield ""


def _margin(rule: CriterionResult) -> float:
    """Margin of a criterion, as a share of its limit."""
    if rule.value is None or not rule.limit:
        return 0.0 if rule.value is None else rule.value
    share = rule.value / rule.limit - 1.0
    return -share if rule.sense == "at most" else share
