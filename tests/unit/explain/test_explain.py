"""Every figure of an answer opens, down to what was measured, entered or is a constant."""

from collections import defaultdict
from functools import cache
from math import atan, cos, degrees, radians, sqrt, tan

import pytest
from refits import (
    assessed,
    barge_document,
    boat,
    capsizing_answer,
    capsizing_document,
    demo,
    demo_answer,
    demo_document,
    row,
    weight,
)

from hullchange.answer.assessment import RecordPart, RecordResult
from hullchange.assess.held import held_everywhere
from hullchange.document.paths import value_at
from hullchange.errors import ModelError
from hullchange.explain.explain import RULES, explanation, explanations
from hullchange.explain.places import figures, spot_at
from hullchange.explain.rules_person import PERSON_RULES

TAPE = ("distance_m", "by_readings_m", "off_mm", "plus_minus_mm")
BY_THE_RULE = ("criteria", "thresholds")


@cache
def held_answer():
    """The demo's answer, held at every degree in every condition."""
    return held_everywhere(demo_answer(), demo()[0])


@cache
def opened():
    """Everything that opens from Saltmarrow's answer, by path."""
    return {one.path: one for one in explanations(held_answer(), demo()[0].document)}


@cache
def by_pattern():
    """The paths of each kind of figure."""
    kinds = defaultdict(list)
    for spot in figures(held_answer()):
        kinds[spot.pattern].append(spot.path)
    return kinds


AXES_OF = {"x": "l", "y": "t", "z": "v"}


def explained(path, answer=None, document=None):
    return explanation(answer or held_answer(), document or demo()[0].document, path)


def test_every_figure_has_a_rule_and_no_rule_is_idle():
    of_other_boats = {r for r in RULES if r.startswith(("rolls.", "record.", "lines.taped."))}
    of_other_boats |= {r for r in RULES if ".sampled." in r or ".flooded." in r}
    of_other_boats |= {r for r in RULES if r.startswith(("assumed.", "own_figures.next."))}
    of_other_boats |= {"targets.*.way_out.mass_kg"}
    of_other_boats |= set(PERSON_RULES) - set(by_pattern())  # the rest: tests of afloat/person
    # her soles lie above the sea: no doubt of their height keeps water in
    of_cockpits = "cockpits.*.*.criteria.*."
    of_other_boats |= {f"{of_cockpits}margin_sd", f"{of_cockpits}probability"}
    assert set(by_pattern()) == set(RULES) - of_other_boats


def test_every_figure_shows_the_answers_own_number_unit_formula_and_source():
    for spot in figures(held_answer()):
        found = opened().get(spot.path)
        if found is None:  # one of the thousands of points of a curve
            curves = {"righting_levers", "wells_full", "held"}
            assert curves & set(spot.pattern.split("."))
            continue
        assert found.value == pytest.approx(spot.number, rel=0.0, abs=1e-12)
        assert found.name
        assert found.formula, spot.path
        assert found.source, spot.path
        assert found.grade, spot.path
        assert "{" not in found.name + found.formula + found.of


def test_a_point_of_every_curve_opens():
    curves = [k for k in by_pattern() if "righting_levers" in k or "wells_full" in k]
    for pattern in curves:
        for path in by_pattern()[pattern][:1]:
            found = explained(path)
            assert found.value == spot_at(held_answer(), path).number
            if ".heel_deg" not in path and "angle" not in path:
                assert found.inputs[0].name.startswith(("heel", "plus/minus"))


def test_inputs_show_what_they_open():
    for one in opened().values():
        for given in one.inputs:
            if given.symbol[:2] not in {"m ", "n"}:  # a moment, a count: opens what it is of
                assert opened()[given.path].value == given.value, (one.path, given.path)
                assert opened()[given.path].unit == given.unit, (one.path, given.path)


def test_every_chain_ends_without_a_ring_in_document_constant_or_the_text_of_a_rule():
    state = {}

    def follow(path):
        assert state.get(path) != "on the way", f"a ring through {path}"
        if path in state:
            return
        state[path] = "on the way"
        found = opened()[path]
        for given in found.inputs:
            follow(given.path)
        ends_well = path.startswith(("document.", "constants."))
        ends_well |= path.endswith(".limit") and any(word in path for word in BY_THE_RULE)
        ends_well |= found.grade == "chosen" or path.endswith("free_surface.heel_deg")
        assert found.inputs or ends_well, path
        state[path] = "ends"

    for path in opened():
        follow(path)
    reached = {p.split(".")[1] for p in opened() if p.startswith("document.")}
    assert reached >= {"survey", "hull", "changes", "conditions", "tanks", "openings", "rig"}


def up(t_deg, heel_deg):
    return cos(radians(t_deg)) * cos(radians(heel_deg))


def freeboard(v):
    side = tan(radians(v["φ"][0])) * v["y"][0] * v["side"]
    depth = v["d"][0] / 1e3 + (v["x"][0] / v["L"][0] - 0.5) * v["t"][0] / 1e3
    return 1e3 * up(v["θ"][0], v["φ"][0]) * (v["z"][0] - depth - side)


def total(symbol):
    return lambda v: sum(v[symbol])


def minus(one, other, per=1.0):
    return lambda v: per * (v[one][0] - v[other][0])


ROW = "conditions.*.*"
CLOSED = {
    f"{ROW}.displacement_kg": total("m"),
    f"{ROW}.vcg_above_keel_m": lambda v: v["VCG"][0] + v["T"][0],
    f"{ROW}.sinkage_bow_mm": lambda v: v["d"][0] - v["t"][0] / 2,
    f"{ROW}.sinkage_stern_mm": lambda v: v["d"][0] + v["t"][0] / 2,
    f"{ROW}.trim_deg": lambda v: degrees(
        atan(v["t"][0] / 1e3 * cos(radians(v["φ"][0])) / v["L"][0])
    ),
    f"{ROW}.freeboards.*.*.freeboard_mm": freeboard,
    f"{ROW}.gm_m": lambda v: v["GM solid"][0] - v["rise"][0] / 1e3,
    f"{ROW}.gm_solid_m": lambda v: (v["KM"][0] - v["VCG"][0]) / up(v["θ"][0], v["φ"][0]),
    f"{ROW}.kg_per_cm": lambda v: v["ρ"][0] * v["A"][0] / 100,
    f"{ROW}.trim_moment_kgm_per_cm": lambda v: v["Δ"][0] * v["GML"][0] / v["L"][0] / 100,
    f"{ROW}.roll_period_s.*": lambda v: (
        (v["f"][0] + v["side"] * v["s"][0]) * v["B"][0] / sqrt(v["GM"][0])
    ),
    f"{ROW}.free_surface.difference_mm": minus("GZ raised", "GZ moving", 1e3),
    f"{ROW}.vanishing_angle_deg": lambda v: min(v[""]),
    f"{ROW}.range_deg": lambda v: min(v[""]),
    f"{ROW}.downflooding_angle_deg": lambda v: min(v["φ"]),
    f"{ROW}.downflooding_angle_in_use_deg": lambda v: min(v["φ"]),
    f"{ROW}.downflooding_angle_all_open_deg": lambda v: min(v["φ"]),
    f"{ROW}.downflooding_by_area_deg": lambda v: min(v[""]),
    f"{ROW}.loaded.*.mass_kg": lambda v: (
        v["side"] * v["V"][0] * v["ρ"][0] / 1e3
        if "V" in v
        else v["side"] * (v["m"] + v["Δ"])[0]
    ),
    "hull.kg_per_cm": lambda v: v["ρ"][0] * v["A"][0] / 100,
    "hull.trim_moment_kgm_per_cm": lambda v: (
        v["Δ"][0] * (v["KML"][0] - v["KB"][0]) / v["L"][0] / 100
    ),
    "hull.prismatic_coefficient": lambda v: v["CB"][0] / v["CM"][0],
    "hull.waterplane_coefficient": lambda v: v["A"][0] / v["L"][0] / v["B"][0],
    "survey.residuals.*.*.freeboard_mm": lambda v: 1e3 * v["f"][0],
    "survey.chi_square": lambda v: sum(
        (r / 1e3 / s) ** 2 for r, s in zip(v["r"], v["σ"], strict=True)
    ),
    "survey.degrees_of_freedom": lambda v: v["n"][0] - 3,
    "parts.*.volume_m3": lambda v: v["m"][0] / v["ρ"][0],
    "parts.*.plate_area_m2": total("A"),
    "parts.*.weld_metal_kg": lambda v: v["m"][0] * v["p"][0] / 100,
    "parts.*.paint_kg": lambda v: v["A"][0] * v["q"][0],
    "parts.*.plates.*.mass_kg": lambda v: v["ρ"][0] * v["A"][0] * v["s"][0] / 1e3,
    "items.*.mass_kg": lambda v: v["V"][0] * v["ρ"][0] / 1e3 if "V" in v else v["m"][0],
    "items.*.to_m.z": lambda v: v["z"][0] + (v["h"][0] - v["h₀"][0] if "h" in v else 0.0),
    "changes.*.added_kg": total("m"),
    "changes.*.removed_kg": total("m"),
    "changes.*.moved_kg": total("m"),
    "changes.*.net_kg": minus("m on", "m off"),
    "replaced.*.mass_kg": total("m"),
    "waterfall.steps.*.displacement_kg": total("m"),
    "cockpits.*.*.water_kg": lambda v: v["ρ"][0] * v["V"][0],
    "targets.*.value": lambda v: sum(v["f"]) / len(v["f"]) if "f" in v else v[""][0],
}
CLOSED |= {
    f"{ROW}.centre_of_gravity_m.{axis}": lambda v, axis=axis: sum(v[f"m {axis}"]) / v["Δ"][0]
    for axis in "xyz"
}
CLOSED |= {
    f"{ROW}.change.{field}": minus(f"{symbol}₂", f"{symbol}₁")
    for field, symbol in {
        "displacement_kg": "Δ",
        "lcg_m": "LCG",
        "tcg_m": "TCG",
        "vcg_m": "VCG",
        "sinkage_mm": "d",
        "trim_mm": "t",
        "heel_deg": "φ",
        "gm_m": "GM",
        "freeboards.*.*.freeboard_mm": "f",
    }.items()
}
CLOSED |= {
    f"waterfall.total.{field}": total("e")
    for field in ("sinkage_mm", "trim_mm", "heel_deg", "vcg_mm", "gm_mm")
}
CLOSED |= {
    f"waterfall.leave_one_out_remainder.{field}": lambda v: v["total"][0] - sum(v["e"])
    for field in ("sinkage_mm", "trim_mm", "heel_deg", "vcg_mm", "gm_mm")
}


def sign_of(path, value):
    """What the formula says by a word of the path: port or starboard, a bound, off or on."""
    if ".loaded." in path:
        return -1.0 if value < 0 else 1.0
    if "roll_period" in path:
        return {"0": 0.0, "1": -1.0, "2": 1.0}[path[-1]]
    return -1.0 if ".port." in path else 1.0


@pytest.mark.parametrize("pattern", CLOSED)
def test_a_closed_formula_gives_the_figure_from_the_inputs_it_lists(pattern):
    for path in by_pattern()[pattern]:
        found = opened()[path]
        values = defaultdict(list, {"side": sign_of(path, found.value)})
        if "roll_period" in path:
            values["s"] = [0.0]
        for given in found.inputs:
            if given.symbol or given.value is not None:
                values[given.symbol] = [*values.get(given.symbol, []), given.value]
        if "s" in {i.symbol for i in found.inputs} and "roll_period" in path:
            values["s"] = values["s"][1:]
        if found.grade == "integrated":  # the water in a well
            continue
        assert CLOSED[pattern](values) == pytest.approx(found.value, rel=1e-9, abs=1e-7), path


def test_the_plates_of_a_part_add_up_to_its_mesh():
    for path in by_pattern()["parts.*.mass_kg"]:
        plates = sum(i.value for i in opened()[path].inputs if i.symbol == "m")
        assert plates == pytest.approx(opened()[path].value, rel=1e-3)


def test_a_formula_without_its_last_input_gives_another_number():
    mass = opened()["conditions.departure.refit.displacement_kg"]
    assert sum(i.value for i in mass.inputs[:-1]) != pytest.approx(mass.value, rel=1e-6)


def test_one_quantity_has_one_plus_minus_wherever_it_opens():
    state, own = "conditions.survey-state.as_found", held_answer().survey.plus_minus
    axes = {
        f"centre_of_gravity_m.{axis}": f"{axis_of}cg_m" for axis, axis_of in AXES_OF.items()
    }
    ends = {f"sinkage_{end}_mm": f"sinkage_{end}_mm" for end in ("bow", "stern")}
    alike = ("displacement_kg", "sinkage_mm", "trim_mm", "heel_deg", "gm_m")
    for path, field in (*((name, name) for name in alike), *axes.items(), *ends.items()):
        sd = getattr(own, field)
        assert explained(f"{state}.{path}").plus_minus == pytest.approx(sd), path
        assert explained(f"{state}.plus_minus.{field}").value == pytest.approx(sd)
        assert explained(f"survey.plus_minus.{field}").value == pytest.approx(sd)
        if path not in ends:
            assert explained(f"survey.{path}").plus_minus == pytest.approx(sd), path


def test_a_figure_without_a_boat_is_the_refits():
    assert explained("conditions.departure.gm_m") == explained(
        "conditions.departure.refit.gm_m"
    )
    answer = assessed(
        {**demo_document(), "conditions": {"survey-state": {"boat": "as_found"}}, "targets": {}}
    )
    document = demo()[0].document
    assert (
        explained("conditions.survey-state.gm_m", answer, document).of
        == "as surveyed, as found"
    )


def test_a_value_of_the_document_says_how_well_it_is_known_and_where_it_is_from():
    battery = explained("document.changes.electric-drive.adds.battery.mass_kg")
    assert (battery.name, battery.of) == ("mass", "battery")
    assert (battery.value, battery.unit, battery.plus_minus) == (243.0, "kg", 6.0)
    assert battery.grade == "catalogue"
    assert battery.entered == "changes.electric-drive.adds.battery.mass_kg"
    ballast = explained("document.weights.keel-ballast.mass_kg")
    assert ballast.plus_minus == pytest.approx(0.15 * 3700)
    assert ballast.grade == "guessed"
    assert "builder's word" in ballast.note
    vcg = explained("document.survey.vcg.z_m")
    assert (vcg.plus_minus, vcg.grade) == (0.03, "inclining")
    read = explained("document.survey.marks.forward.freeboard_m.port")
    assert (read.name, read.of, read.unit) == ("freeboard, port", "forward", "m")
    assert (read.plus_minus, read.grade) == (0.005, "measured")
    place = explained("document.changes.bow.adds.anchor.at_m.x")
    assert (place.name, place.plus_minus) == ("at, x aft", 0.05)


def test_a_load_is_found_where_the_condition_it_is_like_gives_it():
    crew = explained("document.conditions.arrival.loads.crew.mass_kg")
    assert crew.entered == "conditions.departure.loads.crew.mass_kg"
    stores = explained("document.conditions.arrival.loads.stores.mass_kg")
    assert (stores.value, stores.entered) == (21.0, "conditions.arrival.loads.stores.mass_kg")


def test_a_path_of_the_document_opens_as_it_is_written_where_no_result_has_it():
    bare = explained("changes.bow.adds.anchor.mass_kg")
    assert bare == explained("document.changes.bow.adds.anchor.mass_kg")
    lines = explained("document.hull.lines")
    assert [i.name for i in lines.inputs] == [
        "centreline",
        "lower chine",
        "upper chine",
        "sheer",
    ]


def test_everything_entered_lies_where_it_says():
    for one in opened().values():
        if one.entered and one.value is not None and ".water." not in one.path:
            assert value_at(demo_document(), one.entered) == one.value, one.entered


@pytest.mark.parametrize(
    ("path", "code"),
    [
        ("nowhere", "unknown-path"),
        ("", "unknown-path"),
        ("conditions.nowhere.gm_m", "unknown-path"),
        ("conditions.departure.refit.gm_m.x", "unknown-path"),
        ("constants.pi", "unknown-path"),
        ("document.changes.bow.nothing", "unknown-path"),
        ("conditions.departure.as_found.change", "no-value"),
    ],
)
def test_what_is_no_figure_is_refused(path, code):
    with pytest.raises(ModelError) as refusal:
        explained(path)
    assert refusal.value.code == code


@pytest.mark.slow
def test_timed_rolls_an_inclining_and_a_record_open_too():
    plain = barge_document(10.0, 4.0, 1.0, 2.0, 0.0)
    readings = [{"moment_kgm": m, "heel_deg": m / 700.0} for m in (-700.0, 350.0, 700.0)]
    survey = {**plain["survey"], "inclining": {"readings": readings}}
    del survey["vcg"]
    timed = {"swings": 10, "times_s": [41.0, 41.4]}
    later = {"swings": 10, "times_s": [43.0, 43.2]}
    plain |= {"survey": survey, "trials": {"rolls": {"before": timed, "after": later}}}
    corners = {"from": {"line": "bilge", "at_x_m": 0.0}, "to": {"line": "sheer", "at_x_m": 0.0}}
    plain["hull"]["taped"] = {"corner": {**corners, "distance_m": 2.01}}
    plain |= {"changes": {"ballast": {"adds": {"pig": weight(500.0, (5.0, 0.0, -0.5))}}}}
    solids = RecordPart(
        id="house",
        solids=1,
        mass_kg=1.0,
        centroid_m=(0.0, 0.0, 0.0),
        mass_difference_percent=0.0,
        centroid_difference_mm=0.0,
        differs=False,
    )
    record = RecordResult(state="held", parts=(solids,))
    built = boat(plain)
    answer = assessed(plain, record=lambda: record)
    everything = {e.path: e for e in explanations(answer, built.document)}
    assert {s.pattern for s in figures(answer)} <= set(RULES)
    assert everything["rolls.gm_ratio"].plus_minus == answer.rolls.gm_ratio_plus_minus
    before, after = (everything[f"rolls.{w}_period_s"].value for w in ("before", "after"))
    assert answer.rolls.gm_ratio == pytest.approx((before / after) ** 2)
    vcg = everything["survey.centre_of_gravity_m.z"]
    assert "document.survey.inclining" in [i.path for i in vcg.inputs]
    assert everything["record.parts.house.mass_kg"].inputs
    tape = {key: everything[f"lines.taped.corner.{key}"].value for key in TAPE}
    assert tape["off_mm"] == pytest.approx(1000 * (tape["distance_m"] - tape["by_readings_m"]))
    assert tape["by_readings_m"] == pytest.approx(2.0)
    mass = everything["conditions.survey-state.refit.displacement_kg"]
    assert sum(i.value for i in mass.inputs) == pytest.approx(
        row(answer, "survey-state").displacement_kg
    )


def test_an_effect_is_near_what_its_inputs_give_by_hand():
    item = opened()["items.changes.electric-drive.adds.battery.effect.trim_mm"]
    given = {i.path.rsplit(".", 1)[-1]: i.value for i in item.inputs}
    lever = given["x"] - given["lcf_m"]
    by_hand = 10.0 * given["mass_kg"] * lever / given["trim_moment_kgm_per_cm"]
    assert item.value == pytest.approx(by_hand, rel=0.1, abs=1.0)
    assert "10 m (x − LCF)" in item.note


@pytest.mark.parametrize("falls", ["lolls", "capsizes"])
def test_gm_of_a_boat_that_does_not_stay_upright_opens_to_where_it_was_read(falls):
    trimmed = {"tower": {"adds": {"lead": weight(2000, (4, 0, 12))}}}
    lolling = barge_document(12, 4, 1, 2.5, 0.6, changes=trimmed)
    answer = assessed(lolling) if falls == "lolls" else capsizing_answer()
    document = boat(lolling if falls == "lolls" else capsizing_document()).document
    where = "survey-state.refit"

    def inputs(figure):
        found = explained(f"conditions.{where}.{figure}", answer, document)
        return found, {i.symbol: i.value for i in found.inputs}

    gm, of_gm = inputs("gm_m")
    solid, of_solid = inputs("gm_solid_m")
    assert gm.value < 0.0 if falls == "lolls" else 0.0 < gm.value < 0.1
    assert gm.value == pytest.approx(of_gm["GM solid"] - of_gm["rise"] / 1000, abs=1e-9)
    assert set(of_solid) == {"KM", "VCG", "θ"}
    by_hand = (of_solid["KM"] - of_solid["VCG"]) / cos(radians(of_solid["θ"]))
    # upside down her water lies higher than upright
    assert solid.value == pytest.approx(by_hand, abs=1e-7 if falls == "lolls" else 0.005)
    assert "Held upright" in solid.note
    assert "attitude reached" not in inputs("km_m")[0].formula


def test_the_water_in_a_flooded_compartment_opens_to_what_was_entered():
    plain = barge_document(12.0, 4.0, 1.0, 2.5, 0.2, conditions={"intact": {}, "holed": {}})
    plain["hull"]["compartments"] = {"peak": {"x_m": [0.0, 2.0], "permeability": 0.9}}
    plain["conditions"]["holed"] = {"floods": ["compartments.peak"]}
    answer, document = assessed(plain, levers=None), boat(plain).document
    every = {one.path: one for one in explanations(answer, document)}
    water = every["conditions.holed.refit.flooded.peak.water_m3"]
    assert water.value > 0.9 * 2.0 * 4.0 * 1.0  # she sinks by the bow
    assert {one.path for one in water.inputs} <= set(every)
    assert "document.hull.compartments.peak.permeability" in every
