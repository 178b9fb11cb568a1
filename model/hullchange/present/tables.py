"""The assessment as tables for people, plain text, worst findings first."""

from collections.abc import Iterable

from hullchange.answer.assessment import Assessment, ConditionResult, UnansweredResult
from hullchange.answer.cautions import CAUTIONS
from hullchange.answer.changes import Effect
from hullchange.answer.uncertainty import Percentiles, SampledResult
from hullchange.answer.verdicts import (
    bounds_in_words,
    result_in_words,
    value_in_words,
    verdict_in_words,
)
from hullchange.plain_words import condition_in_words, id_in_words, in_condition, unit_sign
from hullchange.present.stability_tables import stability
from hullchange.present.words import (
    TextRow,
    aligned_lines,
    boat_words,
    figure,
    heel_in_words,
    short_figure,
    sinkage_in_words,
    trim_effect_in_words,
    trim_in_words,
)


def tables(answer: Assessment) -> str:
    """Everything that is printed by ``hullchange assess``."""
    return "\n".join(
        [
            *_heading(answer),
            "",
            *_survey(answer),
            "",
            *_conditions(answer),
            "",
            *stability(answer),
            *_rolls(answer),
            *_thresholds(answer),
            *_parts(answer),
            "",
            *_changes(answer),
            "",
            *_voids(answer),
            *_targets(answer),
            *_findings(answer),
            "",
            "Cautions",
            *(f"  {caution.sentence} [{caution.source}]" for caution in CAUTIONS),
            "",
        ]
    )


def _heading(answer: Assessment) -> Iterable[str]:
    option = f", option {answer.option}" if answer.option else ""
    hull = answer.hull
    yield f"{answer.boat}{option}   hullchange {answer.hullchange}"
    digest = answer.document_sha256[:16]
    yield f"document {digest}, as it is in the file; only a frozen revision can be signed"
    yield ""
    yield (
        f"Hull at the design waterline: {hull.displacement_at_dwl_kg:,.0f} kg, "
        f"immersion {hull.kg_per_cm:.0f} kg/cm, MTC {hull.trim_moment_kgm_per_cm:.0f} kg·m/cm, "
        f"LCB {hull.lcb_m:.2f} m, LCF {hull.lcf_m:.2f} m, KM {hull.km_m:.2f} m above it"
    )


def _survey(answer: Assessment) -> Iterable[str]:
    found = answer.survey
    x, y, z = found.centre_of_gravity_m
    spread = found.plus_minus
    yield (
        f"As found, from freeboards: {found.displacement_kg:,.0f} ± "
        f"{spread.displacement_kg:,.0f} kg, LCG {x:.3f} ± {spread.lcg_m:.3f} m, "
        f"TCG {y:+z.4f} m, VCG {z:.2f} ± {spread.vcg_m:.2f} m ({found.vcg_from})"
    )
    yield (
        f"  {found.agreement} (chi-square {found.chi_square:.1f} on {found.degrees_of_freedom})"
    )


def _conditions(answer: Assessment) -> Iterable[str]:
    rows = [
        ("condition", "boat", "kg", "±", "LCG m", "VCG m", "sinkage", "trim", "± mm"),
        *(_condition(c) for c in answer.floats),
    ]
    yield from aligned_lines(rows)
    yield ""
    rows = [
        CONDITION_HEADS,
        *(
            (
                condition_in_words(c.id),
                boat_words(c.stage),
                "upside down" if c.upside_down else heel_in_words(c.heel_deg),
                f"{c.gm_m:.2f}",
                f"{c.plus_minus.gm_m:.2f}",
                c.plus_minus_by,
                "-" if c.gm_at_rest_m is None else f"{c.gm_at_rest_m:.2f}",
                ", ".join(_freeboards(c)),
            )
            for c in answer.floats
        ),
    ]
    yield from aligned_lines(rows)
    yield from (
        f"  {condition_in_words(c.id)}, {boat_words(c.stage)}: no results. {c.unanswered}"
        for c in answer.conditions
        if isinstance(c, UnansweredResult)
    )
    yield from (
        f"  {condition_in_words(c.id)}, {boat_words(c.stage)}: {id_in_words(one.id)} open to "
        f"the sea, {one.water_m3:.2f} m³ of its {one.room_m3:.2f} m³ lost (permeability "
        f"{one.permeability:g})"
        for c in answer.floats
        for one in c.flooded
    )
    yield from _sampled(answer)


CONDITION_HEADS = (
    *("condition", "boat", "list", "GM upright m", "± m", "by", "GM at rest m"),
    "freeboards port/starboard mm",
)
SAMPLED_HEADS = (
    *("sampled", "boat", "not upright", "GM upright m", "rests at °"),
    *("AVS °", "range °", "max GZ m"),
)


def _sampled(answer: Assessment) -> Iterable[str]:
    """Percentiles of the draws of each boat for which slopes cannot be trusted."""
    drawn = [(c, c.sampled) for c in answer.floats if c.sampled is not None]
    if not drawn:
        return
    yield ""
    yield from aligned_lines([SAMPLED_HEADS, *(_drawn(c, sampled) for c, sampled in drawn)])
    yield (
        f"  Where a linear ± cannot be trusted: 5 %, median and 95 % of {drawn[0][1].draws} "
        "sampled boats."
    )
    yield from (
        f"  {condition_in_words(c.id)}, {boat_words(c.stage)}: {sampled.why}"
        for c, sampled in drawn
    )


def _drawn(c: ConditionResult, sampled: SampledResult) -> TextRow:
    return (
        condition_in_words(c.id),
        boat_words(c.stage),
        f"{sampled.unstable_percent:.0f} %",
        _from_to(sampled.gm_upright_m, "+.2f"),
        _from_to(sampled.heel_either_side_deg, ".0f"),
        _from_to(sampled.vanishing_angle_deg, ".0f"),
        _from_to(sampled.range_deg, ".0f"),
        _from_to(sampled.greatest_gz_m, ".2f"),
    )


def _from_to(drawn: Percentiles | None, digits: str) -> str:
    return "-" if drawn is None else " .. ".join(f"{value:{digits}}" for value in drawn)


def _thresholds(answer: Assessment) -> Iterable[str]:
    if not answer.thresholds:
        return
    yield (
        f"Size of the change, {in_condition(answer.reference_condition)}: what other codes "
        "would ask for (orientation only)"
    )
    for rule in answer.thresholds:
        yield (
            f"  {rule.state}: {rule.title} {short_figure(rule.value)}{unit_sign(rule.unit)}, "
            f"limit {rule.limit:g}{unit_sign(rule.unit)}: {rule.asks} [{rule.source}; grade "
            f"{rule.grade}]"
        )
    yield ""


def _rolls(answer: Assessment) -> Iterable[str]:
    rolls = answer.rolls
    if rolls is None:
        return
    before = figure(rolls.before_period_s, ".2f", "s")
    after = figure(rolls.after_period_s, ".2f", "s")
    yield f"Timed rolls, a full swing: before {before}, after {after}"
    ratio = figure(rolls.gm_ratio, ".2f", f"± {rolls.gm_ratio_plus_minus or 0.0:.2f}")
    expected = figure(rolls.gm_ratio_expected, ".2f", in_condition(answer.reference_condition))
    yield f"  GM after over GM before: {ratio} by the rolls, {expected} calculated"
    yield "  Rolls show by how much GM changed, not how large it is."
    yield ""


def _condition(c: ConditionResult) -> TextRow:
    lies = (
        (
            sinkage_in_words(c.sinkage_mm),
            trim_in_words(c.trim_mm),
            f"{c.plus_minus.trim_mm:.0f}",
        )
        if not c.upside_down
        else ("-",) * 3
    )
    return (
        condition_in_words(c.id),
        boat_words(c.stage),
        f"{c.displacement_kg:,.0f}",
        f"{c.plus_minus.displacement_kg:,.0f}",
        f"{c.centre_of_gravity_m[0]:.3f}",
        f"{c.centre_of_gravity_m[2]:.3f}",
        *lies,
    )


def _freeboards(c: ConditionResult) -> Iterable[str]:
    if c.upside_down:
        yield "-"
        return
    marks = dict.fromkeys(f.mark for f in c.freeboards)
    by_side = {(f.mark, f.side): f.freeboard_mm for f in c.freeboards}
    for mark in marks:
        port, starboard = by_side[mark, "port"], by_side[mark, "starboard"]
        yield f"{id_in_words(mark)} {port:.0f}/{starboard:.0f}"


def _parts(answer: Assessment) -> Iterable[str]:
    rows = [
        ("part", "steel kg", "counted kg", *PLACE_HEADS, "buoyancy m³", *EFFECT_HEADS),
        *(
            (
                id_in_words(p.id),
                f"{p.mass_kg:.1f}",
                "-" if p.mass_counted_kg is None else f"{p.mass_counted_kg:.1f}",
                *(f"{c:z.3f}" for c in p.centroid_m),
                f"{p.buoyant_volume_m3:+z.2f}",
                *_effect(p.effect),
            )
            for p in answer.parts
        ),
    ]
    yield from aligned_lines(rows)
    yield "  Counted: the steel with weld metal and paint, which its effects leave out."
    yield f"  New steel checked by CAD solids: {answer.record.state}"


PLACE_HEADS = ("x m", "y m", "z m")
EFFECT_HEADS = ("sinkage mm", "trim", "list °", "VCG mm", "GM upright mm")


def _effect(effect: Effect | None) -> TextRow:
    if effect is None:
        return ("-",) * len(EFFECT_HEADS)
    return (
        f"{effect.sinkage_mm:+z.1f}",
        trim_effect_in_words(effect.trim_mm),
        f"{effect.heel_deg:+z.2f}",
        f"{effect.vcg_mm:+z.0f}",
        f"{effect.gm_mm:+z.0f}",
    )


def _changes(answer: Assessment) -> Iterable[str]:
    rows = [
        ("change", "off kg", "on kg", "moved kg", *EFFECT_HEADS),
        *(
            (
                id_in_words(c.id),
                f"{c.removed_kg:.0f}",
                f"{c.added_kg:.0f}",
                f"{c.moved_kg:.0f}",
                *_effect(c.effect),
            )
            for c in answer.changes
        ),
        ("whole refit", "", "", "", *_effect(answer.waterfall.total)),
        ("not in the sum", "", "", "", *_effect(answer.waterfall.leave_one_out_remainder)),
    ]
    yield from aligned_lines(rows)
    yield from (f"  {id_in_words(c.id)}: {c.reminder}" for c in answer.changes if c.reminder)


def _voids(answer: Assessment) -> Iterable[str]:
    if not answer.voids:
        return
    rows = [
        ("void", "in", "room m³", "full kg", "fill kg", "up to z m", *PLACE_HEADS),
        *(
            (
                id_in_words(v.id),
                id_in_words(v.within),
                f"{v.volume_m3:.4f}",
                f"{v.full_mass_kg:.1f}",
                f"{v.mass_kg:.1f}",
                f"{v.level_z_m:+z.3f}",
                *(f"{c:z.3f}" for c in v.centroid_m),
            )
            for v in answer.voids
        ),
    ]
    yield from aligned_lines(rows)
    yield (
        "  Inside the plating, less the floors. A fill counts as weight where a change adds it."
    )
    yield ""


def _targets(answer: Assessment) -> Iterable[str]:
    if not answer.targets:
        return
    yield "Targets"
    for target in answer.targets:
        what = f"{result_in_words(target.result)} {in_condition(target.condition)}"
        yield (
            f"  {verdict_in_words(target)}: {what} {value_in_words(target)}; target: "
            f"{bounds_in_words(target)} (targets.{target.id})"
        )
    yield ""


def _findings(answer: Assessment) -> Iterable[str]:
    if answer.findings:
        yield "Findings"
    for finding in answer.findings:
        source = f" [{finding.source}]" if finding.source else ""
        yield f"  {finding.severity}: {finding.place}: {finding.sentence}{source}"
