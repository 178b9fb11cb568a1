"""How the hydrostatics of the hull and the survey's figures come about."""

from collections.abc import Iterator
from dataclasses import replace

from hullchange.explain.entered import entry_ingredient
from hullchange.explain.record import (
    CHOSEN,
    FITTED,
    INTEGRATED,
    SOLVED,
    SPREAD,
    Basis,
    Derivation,
    ExplanationRequest,
    Ingredient,
    InputPath,
    Rules,
    document_value,
)

LINES = document_value("", "hull.lines")
APPENDAGES = document_value("", "hull.appendages")
WATER = document_value("ρ", "water.density_kg_m3")
LENGTH = document_value("L", "hull.length_waterline_m")
UNDER = (LINES, APPENDAGES)
DWL = InputPath("Δ", "hull.displacement_at_dwl_kg")
FLOATED = (
    InputPath("d", "survey.sinkage_mm"),
    InputPath("t", "survey.trim_mm"),
    InputPath("φ", "survey.heel_deg"),
)
SURVEY_WATER = document_value("ρ", "survey.water.density_kg_m3")


def _measured(name: str, formula: str) -> Derivation:
    return Derivation(name, formula, (LINES,), INTEGRATED)


def _below(name: str, formula: str, *inputs: InputPath) -> Derivation:
    return Derivation(name, formula, (*inputs, *UNDER), INTEGRATED)


HULL: Rules = {
    "hull.length_m": _measured("length of the hull", "stem to transom over the measured lines"),
    "hull.length_waterline_m": _measured(
        "length of the waterline", "ends of the measured hull at the design waterline"
    ),
    "hull.beam_m": _measured("beam", "greatest breadth of the measured lines"),
    "hull.beam_waterline_m": _measured(
        "beam on the waterline", "greatest breadth at the design waterline"
    ),
    "hull.draught_m": _below("draught", "design waterline to the lowest point of the keel"),
    "hull.displacement_at_dwl_kg": _below(
        "displacement at the design waterline",
        "Δ = ρ ∇, with ∇ the volume below the design waterline",
        WATER,
    ),
    "hull.kg_per_cm": Derivation(
        "immersion",
        "ρ A / 100",
        (WATER, InputPath("A", "hull.waterplane_area_m2")),
    ),
    "hull.trim_moment_kgm_per_cm": Derivation(
        "moment to trim 1 cm (MTC)",
        "Δ (KML − KB) / (100 L)",
        (
            DWL,
            InputPath("KML", "hull.km_longitudinal_m"),
            InputPath("KB", "hull.vcb_m"),
            LENGTH,
        ),
        note="The centre of gravity is taken at the centre of buoyancy, which is close enough.",
    ),
    "hull.lcb_m": _below("centre of buoyancy, aft", "∫ x dV / ∇"),
    "hull.vcb_m": _below("centre of buoyancy, height", "∫ z dV / ∇"),
    "hull.lcf_m": _below("centre of flotation", "∫ x dA / A over the waterplane"),
    "hull.km_m": _below(
        "height of the metacentre",
        "KM = KB + I / ∇, I = ∫ y² dA",
        InputPath("KB", "hull.vcb_m"),
        DWL,
    ),
    "hull.km_longitudinal_m": _below(
        "height of the longitudinal metacentre",
        "KML = KB + IL / ∇, IL = ∫ (x − LCF)² dA",
        InputPath("KB", "hull.vcb_m"),
        InputPath("LCF", "hull.lcf_m"),
        DWL,
    ),
    "hull.waterplane_area_m2": _below("waterplane area", "A = ∫ dA at the design waterline"),
    "hull.wetted_area_m2": _below(
        "wetted area", "area of the hull's skin below the design waterline"
    ),
    "hull.block_coefficient": _below(
        "block coefficient",
        "CB = ∇ / (L B T), of the hull without its keel",
        InputPath("L", "hull.length_waterline_m"),
        InputPath("B", "hull.beam_waterline_m"),
    ),
    "hull.prismatic_coefficient": Derivation(
        "prismatic coefficient",
        "CP = CB / CM",
        (
            InputPath("CB", "hull.block_coefficient"),
            InputPath("CM", "hull.midship_coefficient"),
        ),
    ),
    "hull.midship_coefficient": _below(
        "midship coefficient",
        "CM = AM / (B T), of the hull without its keel, at half its waterline",
        InputPath("B", "hull.beam_waterline_m"),
    ),
    "hull.waterplane_coefficient": _below(
        "waterplane coefficient",
        "CW = A / (L B), of the hull without its keel",
        InputPath("A", "hull.waterplane_area_m2"),
        InputPath("L", "hull.length_waterline_m"),
        InputPath("B", "hull.beam_waterline_m"),
    ),
}


def _of_void(asked: ExplanationRequest) -> Iterator[InputPath]:
    """The void as entered, and what it lies in."""
    name = asked.names[0]
    yield document_value("", f"voids.{name}")
    within = asked.document.voids[name].within
    yield LINES if within == "hull" else document_value("", f"hull.appendages.{within}")


VOID_DENSITY = document_value("ρ", "voids.{0}.fill.density_kg_m3")
VOIDS: Rules = {
    "voids.*.volume_m3": Derivation(
        "room in {0}",
        "V (1 − f): the part of its appendage between its ends and heights, inside the "
        "plating, less the share f of floors",
        (_of_void, document_value("f", "voids.{0}.taken_by_floors")),
        INTEGRATED,
    ),
    "voids.*.full_mass_kg": Derivation(
        "mass of a full {0}", "ρ V", (VOID_DENSITY, InputPath("V", "voids.{0}.volume_m3"))
    ),
    "voids.*.mass_kg": Derivation(
        "mass of the fill of {0}",
        "as given by mass or level, but no more than it holds; full if neither is given",
        (InputPath("", "voids.{0}.full_mass_kg"), document_value("", "voids.{0}.fill")),
    ),
    "voids.*.level_z_m": Derivation(
        "level of the fill of {0}",
        "the height below which ρ V (1 − f) is its mass, upright",
        (InputPath("m", "voids.{0}.mass_kg"), VOID_DENSITY, _of_void),
        INTEGRATED,
    ),
    "voids.*.levels.*.level_z_m": Derivation(
        "level {1} of ten of {0}", "bottom to top in tenths", (_of_void,), CHOSEN
    ),
    "voids.*.levels.*.mass_kg": Derivation(
        "mass in {0} up to a level",
        "ρ V (1 − f), V below the level",
        (InputPath("z", "voids.{0}.levels.{1}.level_z_m"), VOID_DENSITY, _of_void),
        INTEGRATED,
    ),
}
for axis in "xyz":
    VOIDS[f"voids.*.centroid_m.{axis}"] = Derivation(
        f"centre of the fill of {{0}}, {axis}",
        f"∫ {axis} dV / V below its level, floors spread evenly",
        (InputPath("z", "voids.{0}.level_z_m"), _of_void),
        INTEGRATED,
    )
    VOIDS[f"voids.*.levels.*.centroid_m.{axis}"] = Derivation(
        f"centre of a fill of {{0}}, {axis}",
        f"∫ {axis} dV / V below the level, floors spread evenly",
        (InputPath("z", "voids.{0}.levels.{1}.level_z_m"), _of_void),
        INTEGRATED,
    )


def readings(asked: ExplanationRequest) -> Iterator[Ingredient | InputPath]:
    """Every freeboard that was read on the day."""
    for mark in asked.document.survey.marks:
        for side in ("port", "starboard"):
            yield document_value("f", f"survey.marks.{mark}.freeboard_m.{side}")


def _fitted(name: str, formula: str, plus_minus: str) -> Derivation:
    return Derivation(
        name, formula, (readings, LENGTH), FITTED, f"survey.plus_minus.{plus_minus}"
    )


def _vcg(asked: ExplanationRequest) -> Derivation:
    typed = asked.document.survey.vcg is not None
    path = "survey.vcg" if typed else "survey.inclining"
    derivation = Derivation(
        "VCG of the survey", "", basis=FITTED, plus_minus="survey.plus_minus.vcg_m"
    )
    if typed:
        formula = "as entered: freeboards cannot measure it"
        return replace(derivation, formula=formula, inputs=(document_value("", f"{path}.z_m"),))
    return replace(
        derivation,
        formula="GM Δ is the slope of heeling moment over heel; VCG = KM − GM, with KM of the "
        "hull at the survey waterline, less the free surfaces of the day",
        inputs=(
            InputPath("Δ", "survey.displacement_kg"),
            document_value("", path),
            *FLOATED,
            *UNDER,
        ),
    )


def residual_inputs(asked: ExplanationRequest) -> Iterator[Ingredient | InputPath]:
    """Every residual, and what a reading is worth."""
    for one in asked.answer.survey.residuals:
        yield InputPath("r", f"survey.residuals.{one.mark}.{one.side}.residual_mm")
        mark = asked.document.survey.marks[one.mark]
        own = f"survey.marks.{one.mark}.plus_minus_m" if mark.plus_minus_m else ""
        yield document_value("σ", own or "survey.plus_minus_m")


def _count(asked: ExplanationRequest) -> Iterator[Ingredient]:
    marks = entry_ingredient(asked.document, "n", "survey.marks")
    assert marks is not None
    number = len(asked.answer.survey.residuals)
    words = {"name": "measured freeboards", "value": float(number), "words": ""}
    yield marks.model_copy(update=words)


def _at_survey(name: str, formula: str, plus_minus: str) -> Derivation:
    inputs = (*FLOATED, SURVEY_WATER, *UNDER)
    place = f"survey.plus_minus.{plus_minus}"
    return Derivation(name, formula, inputs, INTEGRATED, place)


OVER_THE_SURVEY = "centre of buoyancy, moved along the vertical to the height of G"
TAPED = document_value("", "hull.taped")
COMPARED = Basis(
    "compared",
    "Each reading is predicted from all the others by a Gaussian process through all lines, "
    "and from taped distances; own trials show how often that finds a slip.",
)


def _off(name: str) -> Derivation:
    formula = "reading − its prediction from all other readings and taped distances"
    return Derivation(f"{name}, {{0}}", formula, (LINES, TAPED), COMPARED)


def _as_read(name: str) -> Derivation:
    return Derivation(name, "x of a measured point, as measured", (LINES,))


_OFF = "lines.points.*"
READINGS: Rules = {
    f"{_OFF}.off_mm": Derivation(
        "how far the point is off, {0}",
        "error of half-breadth and height, at right angles to the line there",
        (LINES, TAPED),
        COMPARED,
    ),
    f"{_OFF}.half_breadth_off_mm": _off("how far the half-breadth is off"),
    f"{_OFF}.height_off_mm": _off("how far the height is off"),
    "lines.asked.*.begins.at_x_m": _as_read("where {0} begins"),
    "lines.asked.*.ends.at_x_m": _as_read("where {0} ends"),
    "lines.asked.*.expected_m": Derivation(
        "length to expect of {0}", "straight from point to point as measured", (LINES,)
    ),
    "lines.taped.*.distance_m": Derivation(
        "length of {0}", "as taped", (document_value("d", "hull.taped.{0}.distance_m"),)
    ),
    "lines.taped.*.by_readings_m": Derivation(
        "length of {0} by the readings",
        "straight from point to point as measured",
        (LINES, document_value("", "hull.taped.{0}")),
    ),
    "lines.taped.*.off_mm": Derivation(
        "taped minus by readings, {0}",
        "1000 (d − r)",
        (
            InputPath("d", "lines.taped.{0}.distance_m"),
            InputPath("r", "lines.taped.{0}.by_readings_m"),
        ),
    ),
    "lines.taped.*.plus_minus_mm": Derivation(
        "scatter of that, {0}",
        "errors of the tape and of both points' readings, along the tape",
        (document_value("", "hull.taped.{0}.plus_minus_m"), LINES),
        SPREAD,
    ),
}

SURVEY: Rules = {
    "survey.displacement_kg": _at_survey(
        "displacement of the survey",
        "Δ = ρ ∇, with ∇ below the waterplane fitted to the freeboards",
        "displacement_kg",
    ),
    "survey.centre_of_gravity_m.x": _at_survey("LCG of the survey", OVER_THE_SURVEY, "lcg_m"),
    "survey.centre_of_gravity_m.y": _at_survey("TCG of the survey", OVER_THE_SURVEY, "tcg_m"),
    "survey.centre_of_gravity_m.z": _vcg,
    "survey.sinkage_mm": _fitted(
        "sinkage of the survey",
        "least Σ ((f − f measured) / σ)² over sinkage, trim, heel",
        "sinkage_mm",
    ),
    "survey.trim_mm": _fitted(
        "trim of the survey",
        "least Σ ((f − f measured) / σ)² over sinkage, trim, heel",
        "trim_mm",
    ),
    "survey.heel_deg": _fitted(
        "heel of the survey",
        "least Σ ((f − f measured) / σ)² over sinkage, trim, heel",
        "heel_deg",
    ),
    "survey.gm_m": Derivation(
        "GM upright of the survey",
        "GM = KB + BM − KG less the free surfaces, held upright as she was loaded that day",
        (
            InputPath("Δ", "survey.displacement_kg"),
            InputPath("KG", "survey.centre_of_gravity_m.z"),
            SURVEY_WATER,
            document_value("", "survey.aboard"),
            *UNDER,
        ),
        SOLVED,
        "survey.plus_minus.gm_m",
    ),
    "survey.residuals.*.*.freeboard_mm": Derivation(
        "measured freeboard at {0}, {1}",
        "as measured, in mm",
        (document_value("f", "survey.marks.{0}.freeboard_m.{1}"),),
    ),
    "survey.residuals.*.*.residual_mm": Derivation(
        "residual at {0}, {1}",
        "r = f measured − f of the fitted waterplane",
        (
            InputPath("f", "survey.residuals.{0}.{1}.freeboard_mm"),
            *FLOATED,
            document_value("", "survey.marks.{0}"),
        ),
        FITTED,
    ),
    "survey.chi_square": Derivation(
        "chi-square of the freeboards", "χ² = Σ (r / σ)²", (residual_inputs,), FITTED
    ),
    "survey.degrees_of_freedom": Derivation(
        "degrees of freedom", "n − 3: sinkage, trim and heel are fitted", (_count,)
    ),
    "survey.hull_shape_displacement_kg": Derivation(
        "plus/minus of the displacement from the lines",
        "one standard deviation of ρ ∇, with each point of the lines off by its error",
        (SURVEY_WATER, *UNDER),
        SPREAD,
    ),
}
