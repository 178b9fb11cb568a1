"""The assessment as tables for people, plain text, worst findings first."""

from collections.abc import Iterable, Sequence

from hullchange.present.words import (
    heel_in_words,
    is_upside_down,
    short_figure,
    sinkage_in_words,
    trim_in_words,
    vanishing_in_words,
)
from hullchange.study.cautions import CAUTIONS
from hullchange.study.change_results import Effect
from hullchange.study.heeled_results import CriterionResult
from hullchange.study.results import Assessment, ConditionResult
from hullchange.study.spread_results import Interval, SampledResult

Row = Sequence[str]


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
            *_stability(answer),
            *_rolls(answer),
            *_thresholds(answer),
            *_parts(answer),
            "",
            *_changes(answer),
            "",
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
    yield f"document {digest}, as its file stands; a signature is to a frozen revision"
    yield ""
    yield (
        f"Hull at the design waterline: {hull.displacement_at_dwl_kg:,.0f} kg, "
        f"{hull.kg_per_cm:.0f} kg per cm, {hull.trim_moment_kgm_per_cm:.0f} kg m to trim 1 cm, "
        f"LCB {hull.lcb_m:.2f} m, LCF {hull.lcf_m:.2f} m, KM {hull.km_m:.2f} m above it"
    )


def _survey(answer: Assessment) -> Iterable[str]:
    found = answer.survey
    x, y, z = found.centre_of_gravity_m
    spread = found.plus_minus
    yield (
        f"As found, from freeboards: {found.displacement_kg:,.0f} +/- "
        f"{spread.displacement_kg:.0f} kg, LCG {x:.3f} +/- {spread.lcg_m:.3f} m, "
        f"TCG {y:+z.4f} m, VCG {z:.2f} +/- {spread.vcg_m:.2f} m ({found.vcg_from})"
    )
    yield (
        f"  {found.agreement} (chi-square {found.chi_square:.1f} on {found.degrees_of_freedom})"
    )


def _conditions(answer: Assessment) -> Iterable[str]:
    rows = [
        ("condition", "boat", "kg", "+/-", "LCG m", "VCG m", "sinkage", "trim", "+/- mm"),
        *(_condition(c) for c in answer.conditions),
    ]
    yield from _table(rows)
    yield ""
    rows = [
        ("condition", "boat", "list", "GM m", "+/- m", "by", "freeboards port/starboard mm"),
        *(
            (
                c.id,
                _boat(c),
                heel_in_words(c.heel_deg),
                f"{c.gm_m:.2f}",
                f"{c.plus_minus.gm_m:.2f}",
                c.plus_minus_by,
                ", ".join(_freeboards(c)),
            )
            for c in answer.conditions
        ),
    ]
    yield from _table(rows)
    yield from _sampled(answer)


SAMPLED_HEADS = (
    *("sampled", "boat", "not upright", "GM upright m", "rests at deg"),
    *("vanishes deg", "range deg", "GZ max m"),
)


def _sampled(answer: Assessment) -> Iterable[str]:
    """What the draws say of each boat that slopes do not speak for."""
    drawn = [(c, c.sampled) for c in answer.conditions if c.sampled is not None]
    if not drawn:
        return
    yield ""
    yield from _table([SAMPLED_HEADS, *(_drawn(c, told) for c, told in drawn)])
    yield (
        f"  Where linear +/- cannot be trusted: {drawn[0][1].draws} draws of what is not "
        "known, 5 % to 95 % of them, the median between."
    )
    yield from (f"  {c.id}, {_boat(c)}: {told.why}" for c, told in drawn)


def _drawn(c: ConditionResult, told: SampledResult) -> Row:
    return (
        c.id,
        _boat(c),
        f"{told.unstable_percent:.0f} %",
        _from_to(told.gm_upright_m, "+.2f"),
        _from_to(told.heel_either_side_deg, ".0f"),
        _from_to(told.vanishing_angle_deg, ".0f"),
        _from_to(told.range_deg, ".0f"),
        _from_to(told.greatest_gz_m, ".2f"),
    )


def _from_to(drawn: Interval | None, digits: str) -> str:
    return "-" if drawn is None else " .. ".join(f"{value:{digits}}" for value in drawn)


def _boat(c: ConditionResult) -> str:
    return c.stage.replace("_", " ")


STABILITY_HEADS = (
    *("condition", "boat", "GZ max", "+/- m", "at", "vanishes", "+/-", "no house"),
    *("flooded", "all open", "range"),
)


def _stability(answer: Assessment) -> Iterable[str]:
    if all(c.righting_levers is None for c in answer.conditions):
        return
    yield from _table([STABILITY_HEADS, *(_heeled(c) for c in answer.conditions)])
    yield "  Flooded: by aggregate area of what stands open; all open: with every opening open."
    yield from (
        f"  {c.id}, {_boat(c)}: +/- of the levers sampled"
        for c in answer.conditions
        if c.heeled_plus_minus is not None and c.heeled_plus_minus.by == "sampled"
    )
    yield from _wells_full(answer)
    yield ""
    yield from _table([LIQUID_HEADS, *_liquids(answer)])
    yield "  Virtual: liquids frozen as they lie, G raised by their surfaces; a cross-check."
    yield ""
    yield from _criteria(answer)
    for cockpit in answer.cockpits:
        seconds = cockpit.drain_time_s
        drained = "it does not drain" if seconds is None else f"{seconds:.0f} s to drain"
        if cockpit.drain_area_cm2 is None:
            drained = "its drains are not given"
        yield (
            f"  {cockpit.id} full: {cockpit.water_kg:.0f} kg, sole "
            f"{cockpit.sole_above_sea_mm:.0f} mm above the sea, {drained}"
        )
    yield ""


def _thresholds(answer: Assessment) -> Iterable[str]:
    if not answer.thresholds:
        return
    yield f"How large a change it is, in {answer.reference_condition}; whom to ask, no ruling"
    for rule in answer.thresholds:
        yield (
            f"  {rule.state}: {rule.title} {short_figure(rule.value)} {rule.unit}, more than "
            f"{rule.limit:g}: {rule.asks} [{rule.source}; grade {rule.grade}]"
        )
    yield ""


def _rolls(answer: Assessment) -> Iterable[str]:
    rolls = answer.rolls
    if rolls is None:
        return
    before = _figure(rolls.before_period_s, ".2f", "s")
    after = _figure(rolls.after_period_s, ".2f", "s")
    yield f"Timed rolls, a full swing: before {before}, after {after}"
    told = _figure(rolls.gm_ratio, ".2f", f"+/- {rolls.gm_ratio_plus_minus or 0.0:.2f}")
    expected = _figure(rolls.gm_ratio_expected, ".2f", f"in {answer.reference_condition}")
    yield f"  GM after over GM before: {told} by the rolls, {expected} worked out"
    yield "  Rolls tell how GM changed, never how large it is."
    yield ""


LIQUID_HEADS = ("condition", "boat", "GM solid", "GM", "GZ at 30 deg", "virtual", "differs")


def _liquids(answer: Assessment) -> Iterable[Row]:
    for c in answer.conditions:
        surface = c.free_surface
        if surface is not None:
            yield (
                *(c.id, _boat(c), f"{c.gm_solid_m:.3f} m", f"{c.gm_m:.3f} m"),
                f"{surface.gz_m:.3f} m",
                f"{surface.gz_virtual_m:.3f} m",
                f"{surface.difference_mm:+z.1f} mm",
            )


def _wells_full(answer: Assessment) -> Iterable[str]:
    for c in answer.conditions:
        wells = c.wells_full
        if wells is not None:
            at = dict(
                zip(wells.heel_deg, zip(wells.gz_m, wells.water_kg, strict=True), strict=True)
            )
            gz, water = at.get(30.0, (None, None))
            yield (
                f"  {c.id}, {c.stage.replace('_', ' ')}, wells as full as they can be at each "
                f"heel: {_figure(gz, '.3f', 'm')} at 30 deg to starboard with "
                f"{_figure(water, '.0f', 'kg')} in them, vanishes: "
                f"{vanishing_in_words(wells.vanishing_angle_deg)}"
            )


def _heeled(c: ConditionResult) -> Row:
    angles = (
        c.downflooding_angle_deg,
        c.downflooding_angle_all_open_deg,
        c.range_deg,
    )
    spread = c.heeled_plus_minus
    return (
        c.id,
        _boat(c),
        _figure(c.greatest_gz_m, ".2f", "m"),
        "-"
        if spread is None or spread.greatest_gz_m is None
        else f"{spread.greatest_gz_m:.3f}",
        _figure(c.greatest_gz_at_deg, ".0f", "deg"),
        vanishing_in_words(c.vanishing_angle_deg),
        _figure(None if spread is None else spread.vanishing_angle_deg, ".1f", "deg"),
        vanishing_in_words(c.vanishing_angle_without_house_deg),
        *(_figure(angle, ".0f", "deg") for angle in angles),
    )


def _figure(value: float | None, digits: str, unit: str) -> str:
    return "-" if value is None else f"{value:{digits}} {unit}"


def _criteria(answer: Assessment) -> Iterable[str]:
    """Each criterion of the refit where it is nearest to its limit, worst state first."""
    yield "Criteria, the refit in the condition where each is nearest to its limit"
    worst: dict[str, tuple[str, CriterionResult]] = {}
    for c in answer.conditions:
        for rule in c.criteria if c.stage == "refit" else ():
            if rule.id not in worst or _margin(rule) < _margin(worst[rule.id][1]):
                worst[rule.id] = (c.id, rule)
    for condition, rule in worst.values():
        value = "-" if rule.value is None else f"{short_figure(rule.value)} {rule.unit}".strip()
        limit = "" if rule.limit is None else f", {rule.sense} {short_figure(rule.limit)}"
        yield f"  {rule.state}: {rule.title} ({condition}): {value}{limit} [{rule.source}]"
    yield ""


def _margin(rule: CriterionResult) -> float:
    """How far a criterion is on the good side, as a share of its limit."""
    if rule.value is None or not rule.limit:
        return 0.0 if rule.value is None else rule.value
    share = rule.value / rule.limit - 1.0
    return -share if rule.sense == "at most" else share


def _condition(c: ConditionResult) -> Row:
    lies = (
        (
            sinkage_in_words(c.sinkage_mm),
            trim_in_words(c.trim_mm),
            f"{c.plus_minus.trim_mm:.0f}",
        )
        if not is_upside_down(c.heel_deg)
        else ("-",) * 3
    )
    return (
        c.id,
        _boat(c),
        f"{c.displacement_kg:,.0f}",
        f"{c.plus_minus.displacement_kg:.0f}",
        f"{c.centre_of_gravity_m[0]:.3f}",
        f"{c.centre_of_gravity_m[2]:.3f}",
        *lies,
    )


def _freeboards(c: ConditionResult) -> Iterable[str]:
    if is_upside_down(c.heel_deg):
        yield "-"
        return
    marks = dict.fromkeys(f.mark for f in c.freeboards)
    by_side = {(f.mark, f.side): f.freeboard_mm for f in c.freeboards}
    for mark in marks:
        port, starboard = by_side[mark, "port"], by_side[mark, "starboard"]
        yield f"{mark} {port:.0f}/{starboard:.0f}"


def _parts(answer: Assessment) -> Iterable[str]:
    rows = [
        ("part", "kg", "x m", "y m", "z m", "floats m3", *EFFECT_HEADS),
        *(
            (
                p.id,
                f"{p.mass_kg:.1f}",
                *(f"{c:z.3f}" for c in p.centroid_m),
                f"{p.buoyant_volume_m3:+z.2f}",
                *_effect(p.effect),
            )
            for p in answer.parts
        ),
    ]
    yield from _table(rows)
    yield f"  new steel by CAD solids: {answer.record.state}"


EFFECT_HEADS = ("sinkage mm", "trim", "list deg", "VCG mm", "GM mm")


def _effect(effect: Effect | None) -> Row:
    if effect is None:
        return ("-",) * len(EFFECT_HEADS)
    return (
        f"{effect.sinkage_mm:+z.1f}",
        trim_in_words(effect.trim_mm),
        f"{effect.heel_deg:+z.2f}",
        f"{effect.vcg_mm:+z.0f}",
        f"{effect.gm_mm:+z.0f}",
    )


def _changes(answer: Assessment) -> Iterable[str]:
    rows = [
        ("change", "off kg", "on kg", "moved kg", *EFFECT_HEADS),
        *(
            (
                c.id,
                f"{c.removed_kg:.0f}",
                f"{c.added_kg:.0f}",
                f"{c.moved_kg:.0f}",
                *_effect(c.effect),
            )
            for c in answer.changes
        ),
        ("all together", "", "", "", *_effect(answer.waterfall.total)),
        ("not in the sum", "", "", "", *_effect(answer.waterfall.leave_one_out_remainder)),
    ]
    yield from _table(rows)
    yield from (f"  {c.id}: {c.reminder}" for c in answer.changes if c.reminder)


def _targets(answer: Assessment) -> Iterable[str]:
    if not answer.targets:
        return
    yield "Targets"
    for target in answer.targets:
        value = "-" if target.value is None else f"{target.value:.2f} {target.unit}"
        bounds = [
            f"{word} {bound:g}"
            for word, bound in (("at least", target.at_least), ("at most", target.at_most))
            if bound is not None
        ]
        wanted = ", ".join(bounds)
        yield f"  {target.state}: {target.id} ({target.condition}): {value}, wanted {wanted}"
    yield ""


def _findings(answer: Assessment) -> Iterable[str]:
    if answer.findings:
        yield "Findings"
    for finding in answer.findings:
        source = f" [{finding.source}]" if finding.source else ""
        yield f"  {finding.severity}: {finding.place}: {finding.sentence}{source}"


def _table(rows: Sequence[Row]) -> Iterable[str]:
    widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
    for row in rows:
        cells = [
            cell.ljust(width) if k == 0 else cell.rjust(width)
            for k, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield "  ".join(cells).rstrip()
