"""How the figures of a boat at rest in a condition come about."""

from collections.abc import Iterator
from functools import partial

from hullchange.explain.record import (
    INTEGRATED,
    SOLVED,
    SUM,
    Derivation,
    ExplanationRequest,
    Ingredient,
    InputPath,
    Rules,
    both_boats,
    constant,
    document_value,
    same_float,
    volumes,
)
from hullchange.explain.rules_hull import LENGTH, UNDER
from hullchange.explain.rules_loaded import LOADED, lines_of, moments_of, row_of
from hullchange.plain_words import id_in_words

OWN = "conditions.*.*"
DENSITY = same_float("ρ", "water_density_kg_m3")
MASS = same_float("Δ", "displacement_kg")
LCG, TCG, VCG = (
    same_float(symbol, f"centre_of_gravity_m.{axis}")
    for symbol, axis in (("LCG", "x"), ("TCG", "y"), ("VCG", "z"))
)
WEIGHT = (MASS, LCG, TCG, VCG, DENSITY)
SINKAGE, TRIM, HEEL = (
    same_float("d", "sinkage_mm"),
    same_float("t", "trim_mm"),
    same_float("φ", "heel_deg"),
)
ANGLE = same_float("θ", "trim_deg")
AT_REST = (SINKAGE, TRIM, HEEL)
HELD_UPRIGHT = (
    "Held upright, free to sink and trim, however she rests; θ is her trim there. When she "
    "lists, lolls or lies upside down, GM about that attitude is a different figure, and not "
    "the one rules mean."
)
GM = "GM upright"
EQUILIBRIUM = (
    "weight = buoyancy (Δ = ρ ∇), centres of gravity and buoyancy in one vertical: solved for "
    "sinkage, trim and heel together"
)


def _rest(name: str, plus_minus: str, note: str = "") -> Derivation:
    place = f"conditions.{{0}}.{{1}}.plus_minus.{plus_minus}"
    return Derivation(name, EQUILIBRIUM, (*WEIGHT, *UNDER, volumes), SOLVED, place, note)


def _floating(name: str, formula: str, *inputs: InputPath) -> Derivation:
    return Derivation(name, formula, (*inputs, *AT_REST, *UNDER, volumes), INTEGRATED)


def _water(asked: ExplanationRequest) -> Derivation:
    """The condition's own water, or the one it takes from another, or the boat's."""
    name: str | None = asked.names[0]
    path = "water.density_kg_m3"
    while name is not None:
        condition = asked.document.conditions[name]
        if condition.water is not None:
            path = f"conditions.{name}.water.density_kg_m3"
            break
        name = condition.like
    return Derivation("density of the water", "as entered", (document_value("ρ", path),))


def _centre(name: str, axis: str, plus_minus: str) -> Derivation:
    return Derivation(
        name,
        f"Σ m {axis} / Δ: the moments, over the displacement",
        (MASS, partial(moments_of, axis=axis)),
        SUM,
        f"conditions.{{0}}.{{1}}.plus_minus.{plus_minus}",
        "A moved weight counts by how far it moves; a liquid where it lies at rest.",
    )


def _gm(asked: ExplanationRequest) -> Derivation:
    """GM upright, liquids free; their share is listed once she was heeled round."""
    plus_minus = "conditions.{0}.{1}.plus_minus.gm_m"
    solid = same_float("GM solid", "gm_solid_m")
    if asked.at("conditions.{0}.{1}.free_surface.rise_mm") is None:
        formula, moving = "GM solid − Σ ρ i / Δ", (solid, MASS, liquids)
        return Derivation(GM, formula, moving, INTEGRATED, plus_minus, HELD_UPRIGHT)
    inputs = (solid, same_float("rise", "free_surface.rise_mm"))
    formula = "GM = GM solid − rise / 1000"
    return Derivation(GM, formula, inputs, plus_minus=plus_minus, note=HELD_UPRIGHT)


def _trim_upright(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    """Her trim at no heel, where she was heeled round."""
    levers = row_of(asked).righting_levers
    if levers is not None:
        yield same_float("θ", f"righting_levers.trim_deg.{levers.heel_deg.index(0.0)}")


def liquids(asked: ExplanationRequest) -> Iterator[InputPath | Ingredient]:
    """The liquids that move, as they lie at rest."""
    for line in asked.answer.floats:
        if (line.id, line.stage) == asked.names[:2]:
            for loaded in line.loaded:
                if loaded.path.startswith("liquids."):
                    yield same_float(id_in_words(loaded.path), f"loaded.{loaded.path}.mass_kg")


def _end(name: str, sign: str, plus_minus: str) -> Derivation:
    place = f"conditions.{{0}}.{{1}}.plus_minus.{plus_minus}"
    return Derivation(name, f"d {sign} t / 2", (SINKAGE, TRIM), plus_minus=place)


def _roll(asked: ExplanationRequest) -> Derivation:
    """The period to expect, or one of its bounds."""
    word, factor = ROLLS[asked.spot.path.rsplit(".", 1)[-1]]
    spread = (constant("s", "roll_factor_spread"),) if "s" in factor else ()
    inputs = (constant("f", "roll_factor"), *spread)
    note = "Rough: use it only to compare before and after."
    beam, gm = InputPath("B", "hull.beam_waterline_m"), same_float("GM", "gm_m")
    return Derivation(word, f"T = {factor} B / √GM", (*inputs, beam, gm), note=note)


ROLLS = {
    "0": ("roll period to expect", "f"),
    "1": ("roll period, lower bound", "(f − s)"),
    "2": ("roll period, upper bound", "(f + s)"),
}
FREEBOARD = "freeboards.{2}.{3}"
AFLOAT: Rules = {
    f"{OWN}.water_density_kg_m3": _water,
    f"{OWN}.displacement_kg": Derivation(
        "displacement",
        "Δ = Σ m: the survey, what is removed and added, and the changes",
        (lines_of,),
        SUM,
        "conditions.{0}.{1}.plus_minus.displacement_kg",
    ),
    f"{OWN}.centre_of_gravity_m.x": _centre("LCG", "x", "lcg_m"),
    f"{OWN}.centre_of_gravity_m.y": _centre("TCG", "y", "tcg_m"),
    f"{OWN}.centre_of_gravity_m.z": _centre("VCG", "z", "vcg_m"),
    f"{OWN}.vcg_above_keel_m": Derivation(
        "VCG above the keel", "VCG + T", (VCG, InputPath("T", "hull.draught_m"))
    ),
    f"{OWN}.sinkage_mm": _rest("sinkage amidships", "sinkage_mm"),
    f"{OWN}.trim_mm": _rest(
        "trim", "trim_mm", "Approximately, by hand: t = Δ (LCG − LCB) / MTC."
    ),
    f"{OWN}.heel_deg": _rest("heel", "heel_deg", "Approximately, by hand: tan φ = TCG / GM."),
    f"{OWN}.sinkage_bow_mm": _end("sinkage at the bow", "−", "sinkage_bow_mm"),
    f"{OWN}.sinkage_stern_mm": _end("sinkage at the stern", "+", "sinkage_stern_mm"),
    f"{OWN}.trim_deg": Derivation("angle of trim", "tan θ = t cos φ / L", (TRIM, HEEL, LENGTH)),
    f"{OWN}.freeboards.*.*.freeboard_mm": Derivation(
        "freeboard at {2}, {3}",
        "f = cos θ cos φ (z − d − (x / L − ½) t − y tan φ), y to starboard positive",
        (
            document_value("x", "survey.marks.{2}.x_m"),
            same_float("y", f"{FREEBOARD}.half_breadth_m"),
            document_value("z", "survey.marks.{2}.sheer_z_m"),
            *AT_REST,
            ANGLE,
            LENGTH,
        ),
        plus_minus="conditions.{0}.{1}.freeboards.{2}.{3}.plus_minus_mm",
    ),
    f"{OWN}.freeboards.*.*.half_breadth_m": Derivation(
        "half-breadth of the sheer at {2}",
        "read off the sheer of the measured lines at x",
        (document_value("x", "survey.marks.{2}.x_m"), document_value("", "hull.lines.sheer")),
        INTEGRATED,
    ),
    f"{OWN}.gm_m": _gm,
    f"{OWN}.gm_at_rest_m": _floating(
        "GM at rest",
        "((B − G) + I / ∇) along the vertical, about the attitude reached, liquids free",
        MASS,
        DENSITY,
        VCG,
    ),
    f"{OWN}.gm_solid_m": Derivation(
        "GM upright with the liquids frozen",
        "(KM − VCG) / cos θ, VCG with the liquids as they lie upright",
        (same_float("KM", "km_m"), VCG, _trim_upright),
        INTEGRATED,
        note=HELD_UPRIGHT,
    ),
    f"{OWN}.km_m": Derivation(
        "height of the metacentre, upright",
        "KM = KB + I / ∇",
        (MASS, DENSITY, *UNDER, volumes),
        INTEGRATED,
        note=HELD_UPRIGHT,
    ),
    f"{OWN}.gm_longitudinal_m": _floating(
        "GM, longitudinal", "KB + IL / ∇ − VCG, liquids free", MASS, DENSITY, VCG
    ),
    f"{OWN}.waterplane_area_m2": _floating(
        "waterplane area", "A = ∫ dA over the waterplane at rest, seen from above"
    ),
    f"{OWN}.lcf_m": _floating("centre of flotation", "∫ x dA / A over the waterplane at rest"),
    f"{OWN}.kg_per_cm": Derivation(
        "immersion",
        "ρ A / 100",
        (DENSITY, same_float("A", "waterplane_area_m2")),
    ),
    f"{OWN}.trim_moment_kgm_per_cm": Derivation(
        "moment to trim 1 cm (MTC)",
        "Δ GML / (100 L)",
        (MASS, same_float("GML", "gm_longitudinal_m"), LENGTH),
    ),
    f"{OWN}.roll_period_s.*": _roll,
    **LOADED,
}
CHANGES = {
    "displacement_kg": ("displacement", "Δ", "displacement_kg"),
    "lcg_m": ("LCG", "LCG", "centre_of_gravity_m.x"),
    "tcg_m": ("TCG", "TCG", "centre_of_gravity_m.y"),
    "vcg_m": ("VCG", "VCG", "centre_of_gravity_m.z"),
    "sinkage_mm": ("sinkage amidships", "d", "sinkage_mm"),
    "trim_mm": ("trim", "t", "trim_mm"),
    "heel_deg": ("heel", "φ", "heel_deg"),
    "gm_m": (GM, "GM", "gm_m"),
}
CANCELS = "Uncertainties of the boat as found largely cancel in it."
AFLOAT |= {
    f"{OWN}.change.{field}": Derivation(
        f"change of {name}",
        f"{symbol}₂ − {symbol}₁: refit minus boat as found",
        both_boats(symbol, path),
        plus_minus=f"conditions.{{0}}.{{1}}.change.plus_minus.{field}",
        note=CANCELS,
    )
    for field, (name, symbol, path) in CHANGES.items()
}
AFLOAT |= {
    f"{OWN}.change.freeboards.*.*.freeboard_mm": Derivation(
        "change of freeboard at {2}, {3}",
        "f₂ − f₁: refit minus boat as found",
        both_boats("f", "freeboards.{2}.{3}.freeboard_mm"),
        plus_minus="conditions.{0}.{1}.change.freeboards.{2}.{3}.plus_minus_mm",
        note=CANCELS,
    ),
    f"{OWN}.change.freeboards.*.*.half_breadth_m": AFLOAT[
        f"{OWN}.freeboards.*.*.half_breadth_m"
    ],
}
