"""How what is judged comes about: criteria, thresholds, cockpits, timed rolls."""

from collections.abc import Iterator

from hullchange.answer.assessment import ConditionResult
from hullchange.answer.heeled import (
    CockpitResult,
    CriterionResult,
    QuantityResult,
    ThresholdResult,
)
from hullchange.explain.entered import entry_at
from hullchange.explain.record import (
    DEFINITION,
    INTEGRATED,
    SPREAD,
    SUM,
    Basis,
    Derivation,
    ExplanationRequest,
    InputPath,
    Lister,
    Rules,
    constant,
    document_value,
    same_float,
)
from hullchange.explain.rules_hull import LENGTH, UNDER
from hullchange.explain.rules_loaded import row_of

SAME_AS = {
    "angle of vanishing stability": "vanishing_angle_deg",
    "downflooding angle": "criteria.{2}.downflooding_angle_deg",
    "displacement": "displacement_kg",
    "mass": "displacement_kg",
    "maximum GZ": "greatest_gz_m",
    "heel at this GZ": "greatest_gz_at_deg",
    "vanishing angle": "vanishing_angle_deg",  # this and the following in older revisions
    "largest lever": "greatest_gz_m",
    "heel of that lever": "greatest_gz_at_deg",
}
"""Inputs of criteria that are figures of the condition, where their values are the same."""
OF_THE_HULL = {
    "BH": "hull.beam_m",
    "BWL": "hull.beam_waterline_m",
    "length of deck": "hull.length_m",
}
OF_THE_DOCUMENT = {
    "LWL": "hull.length_waterline_m",
    "sail area": "rig",
    "LH": "hull",
    "length": "hull",
}
WATER = "(o + ½ L sin θ) / cos θ: the water amidships, held upright"
EFFORT = f"z − {WATER}; z that of the centre of effort with what the rig has risen"
LATERAL = f"{WATER}, less z; z that of the centre of the lateral plane"
FROM_THE_WATER = {
    "centre of sails above water": EFFORT,
    "centre of lateral area below water": LATERAL,
    "hCE": EFFORT,
    "hLP": LATERAL,
}
"""Inputs that count from the water she lies in upright, amidships."""
ABOUT_THE_CURVE = (
    same_float("Δ", "displacement_kg"),
    same_float("VCG", "centre_of_gravity_m.z"),
    same_float("GZ max", "greatest_gz_m"),
)


def _criterion(asked: ExplanationRequest) -> CriterionResult:
    """The criterion that an input belongs to."""
    answer, (owner, stage, wanted, *_) = asked.answer, asked.names
    holders: tuple[ConditionResult | CockpitResult, ...] = (*answer.floats, *answer.cockpits)
    rules = next(h.criteria for h in holders if (h.id, h.stage) == (owner, stage))
    return next(rule for rule in rules if rule.id == wanted)


def _value(asked: ExplanationRequest) -> Derivation:
    rule = asked.spot.owner
    assert isinstance(rule, CriterionResult)
    base = asked.spot.path.rsplit(".", 1)[0]
    return Derivation(
        rule.title,
        rule.formula,
        tuple(InputPath(q.name, f"{base}.inputs.{q.name}.value") for q in rule.inputs)
        or _curve(asked),
        Basis(rule.grade, rule.source),
        f"{base}.plus_minus",
        " ".join((f"Required: {rule.limit_in_words}.", *rule.remarks)),
        unit=rule.unit,
    )


def _curve(asked: ExplanationRequest) -> tuple[InputPath, ...]:
    return ABOUT_THE_CURVE if asked.spot.pattern.startswith("conditions") else ()


def _limit(asked: ExplanationRequest) -> Derivation:
    rule = asked.spot.owner
    assert isinstance(rule, CriterionResult)
    return Derivation(
        f"limit: {rule.title}",
        rule.limit_in_words,
        (),
        Basis(rule.grade, rule.source),
        note=f"Written for {rule.written_for}.",
        unit=rule.unit,
    )


def _quantity(asked: ExplanationRequest) -> Derivation:
    """An input of a criterion: the same as a figure elsewhere, or read off the curve."""
    input_ = asked.spot.owner
    assert isinstance(input_, QuantityResult)
    rule = _criterion(asked)
    basis = Basis(rule.grade, rule.source)
    if input_.name in FROM_THE_WATER:
        inputs = (document_value("z", "rig"), _water_upright, LENGTH)
        return Derivation(input_.name, FROM_THE_WATER[input_.name], inputs, unit=input_.unit)
    same = tuple(_same(asked, input_))
    if same:
        return Derivation(input_.name, "the same figure", same, unit=input_.unit)
    curve = _curve(asked) or (document_value("", asked.names[0]),)
    formula = f"as the rule defines it: {rule.formula}"
    return Derivation(input_.name, formula, curve, basis, unit=input_.unit)


def _water_upright(asked: ExplanationRequest) -> Iterator[InputPath]:
    """Where the water stands and how she trims at no heel."""
    place = "conditions.{0}.{1}.righting_levers"
    curve = row_of(asked).righting_levers
    if curve is not None:
        upright = curve.heel_deg.index(0.0)
        yield InputPath("o", f"{place}.water_offset_m.{upright}")
        yield InputPath("θ", f"{place}.trim_deg.{upright}")


def _same(asked: ExplanationRequest, input_: QuantityResult) -> Iterator[InputPath]:
    is_row = asked.spot.pattern.startswith("conditions")
    name = input_.name.split(" through ", 1)[0]
    paths = [f"conditions.{{0}}.{{1}}.{SAME_AS[name]}"] if is_row and name in SAME_AS else []
    paths += [OF_THE_HULL[name]] if name in OF_THE_HULL else []
    for path in paths:
        value = asked.number(path)
        if value is not None and abs(value - input_.value) <= 1e-9 * abs(value):
            yield InputPath("", path)
    if name in OF_THE_DOCUMENT:
        yield document_value("", OF_THE_DOCUMENT[name])


def _threshold(asked: ExplanationRequest) -> Derivation:
    rule = asked.spot.owner
    assert isinstance(rule, ThresholdResult)
    basis = Basis(rule.grade, rule.source)
    if asked.spot.path.endswith(".limit"):
        return Derivation(
            f"threshold: {rule.title}", "as the rule says", (), basis, unit=rule.unit
        )
    change = "conditions.{reference}.refit.change"
    figures = {
        "LCG": (f"{change}.lcg_m",),
        "VCG": (f"{change}.vcg_m",),
        "displacement": (f"{change}.displacement_kg",),
    }
    named = next((paths for word, paths in figures.items() if rule.title.startswith(word)), ())
    by_lines = "without sign" in rule.title
    lines: tuple[InputPath | Lister, ...] = (
        (_on_and_off,) if by_lines else tuple(InputPath("", p) for p in named)
    )
    lines += (InputPath("", "conditions.{reference}.as_found.displacement_kg"),)
    lines += (document_value("", "changes"), document_value("", "hull.length_waterline_m"))
    return Derivation(
        f"size of the change: {rule.title}",
        f"{rule.title}, in {rule.unit}; the boat as found in the reference condition is 100 %",
        lines,
        basis,
        note=f"If it is more: {rule.asks}.",
        unit=rule.unit,
    )


def _on_and_off(asked: ExplanationRequest) -> Iterator[InputPath]:
    for change in asked.answer.changes:
        yield InputPath("on", f"changes.{change.id}.added_kg")
        yield InputPath("off", f"changes.{change.id}.removed_kg")


def _drains(asked: ExplanationRequest) -> Iterator[InputPath]:
    given = entry_at(asked.document, f"{asked.names[0]}.drains") is not None
    yield document_value("", "{0}.drains" if given else "{0}")


WELLS = (
    document_value("", "{0}.seat_well_m"),
    document_value("", "{0}.foot_well_m"),
    document_value("", "{0}.deck_z_m"),
    document_value("", "{0}.coaming_top_z_m"),
)
COCKPIT = "cockpits.*.*"
RESTS = "conditions.{reference}.{1}"
CRITERIA: Rules = {
    "conditions.*.*.criteria.*.value": _value,
    "conditions.*.*.criteria.*.limit": _limit,
    "conditions.*.*.criteria.*.inputs.*.value": _quantity,
    f"{COCKPIT}.criteria.*.value": _value,
    f"{COCKPIT}.criteria.*.limit": _limit,
    f"{COCKPIT}.criteria.*.inputs.*.value": _quantity,
    "thresholds.*.value": _threshold,
    "thresholds.*.limit": _threshold,
    f"{COCKPIT}.volume_m3": Derivation(
        "volume of the cockpit",
        "Σ length × width × depth of its wells, and what its coamings hold above the deck",
        WELLS,
    ),
    f"{COCKPIT}.water_kg": Derivation(
        "water in the full cockpit",
        "ρ V",
        (
            InputPath("ρ", f"{RESTS}.water_density_kg_m3"),
            InputPath("V", "cockpits.{0}.{1}.volume_m3"),
        ),
    ),
    f"{COCKPIT}.sole_above_sea_mm": Derivation(
        "lowest corner of the sole above the sea",
        "height of the corner above the water at rest",
        (
            *WELLS,
            InputPath("d", f"{RESTS}.sinkage_mm"),
            InputPath("t", f"{RESTS}.trim_mm"),
            InputPath("φ", f"{RESTS}.heel_deg"),
        ),
    ),
    f"{COCKPIT}.drain_area_cm2": Derivation(
        "area of the drains", "n π D² / 4, D in cm", (_drains,), SUM
    ),
    f"{COCKPIT}.drain_time_s": Derivation(
        "time in which it drains",
        "t = 2 A (√h₁ − √h₂) / (C a √(2 g)), layer by layer",
        (
            InputPath("a", "cockpits.{0}.{1}.drain_area_cm2"),
            InputPath("", "cockpits.{0}.{1}.sole_above_sea_mm"),
            constant("C", "discharge"),
            constant("g", "gravity"),
            *WELLS,
        ),
        Basis("integrated", "Torricelli."),
    ),
}
TIMED = "trials.rolls"
CRITERIA |= {
    f"rolls.{when}_period_s": Derivation(
        f"roll period {when} the refit",
        "mean of the timings over the swings in each",
        (document_value("", f"{TIMED}.{when}"),),
    )
    for when in ("before", "after")
}
CRITERIA |= {
    f"rolls.{when}_plus_minus_s": Derivation(
        f"plus/minus of the roll period {when} the refit",
        "scatter of the timings, at least that of a stopwatch, over √n and the number of "
        "swings",
        (document_value("", f"{TIMED}.{when}"),),
        SPREAD,
    )
    for when in ("before", "after")
}
CRITERIA |= {
    "rolls.gm_ratio": Derivation(
        "GM after over GM before, by the rolls",
        "(T before / T after)²",
        (
            InputPath("T before", "rolls.before_period_s"),
            InputPath("T after", "rolls.after_period_s"),
        ),
        DEFINITION,
        "rolls.gm_ratio_plus_minus",
    ),
    "rolls.gm_ratio_plus_minus": Derivation(
        "plus/minus of that ratio",
        "2 × ratio × √((σ/T)² before + (σ/T)² after)",
        tuple(
            InputPath(symbol, f"rolls.{when}_{key}")
            for when in ("before", "after")
            for symbol, key in (("T", "period_s"), ("σ", "plus_minus_s"))
        ),
        SPREAD,
    ),
    "rolls.gm_ratio_expected": Derivation(
        "GM after over GM before, calculated",
        "GM₂ / GM₁",
        (
            InputPath("GM₂", "conditions.{reference}.refit.gm_m"),
            InputPath("GM₁", "conditions.{reference}.as_found.gm_m"),
        ),
    ),
    "record.parts.*.solids": Derivation(
        "number of solids of {0}", "its plates and bars", (InputPath("", "parts.{0}.mass_kg"),)
    ),
    "record.parts.*.mass_kg": Derivation(
        "mass of the solids of {0}",
        "ρ V of each CAD solid",
        (constant("ρ", "steel_density"), InputPath("", "parts.{0}.plate_area_m2")),
        INTEGRATED,
    ),
    "record.parts.*.mass_difference_percent": Derivation(
        "solids compared with plates of {0}",
        "100 (m solids / m plates − 1)",
        (
            InputPath("m solids", "record.parts.{0}.mass_kg"),
            InputPath("m plates", "parts.{0}.mass_kg"),
        ),
    ),
    "record.parts.*.centroid_difference_mm": Derivation(
        "centre of the solids from that of the plates of {0}",
        "distance of the two centres",
        tuple(
            InputPath(axis, f"{owner}.{{0}}.centroid_m.{axis}")
            for owner in ("record.parts", "parts")
            for axis in "xyz"
        ),
    ),
}
CRITERIA |= {
    f"record.parts.*.centroid_m.{axis}": Derivation(
        f"{axis} of the centre of the solids of {{0}}",
        f"Σ m {axis} / Σ m over the CAD solids",
        (InputPath("m", "record.parts.{0}.mass_kg"), *UNDER[:1]),
        INTEGRATED,
    )
    for axis in "xyz"
}
