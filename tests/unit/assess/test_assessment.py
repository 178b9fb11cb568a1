"""The whole answer: complete by the interface, the same every time, partial as full."""

import json
import math

import pytest
from refits import (
    assessed,
    barge_document,
    boat,
    demo,
    demo_answer,
    demo_document,
    row,
    weight,
    with_all,
)

from hullchange.assess.assessment import assessment, document_hash
from hullchange.boat.profile import profile_of
from hullchange.document.yaml_text import parsed
from hullchange.start.invented import starting_document

STATE = "survey-state"
EFFECT = {"sinkage_mm": 0, "trim_mm": 0, "heel_deg": 0, "vcg_mm": 0, "gm_mm": 0}
POINT = [0, 0, 0]
# what an outside check may rely on, key by key; a number stands for a number
INTERFACE = {
    "hullchange": "",
    "boat": "",
    "document_sha256": "",
    "reference_condition": "",
    "hull": dict.fromkeys(
        (
            "length_m",
            "length_waterline_m",
            "beam_m",
            "beam_waterline_m",
            "draught_m",
            "displacement_at_dwl_kg",
            "kg_per_cm",
            "trim_moment_kgm_per_cm",
            "lcb_m",
            "lcf_m",
            "km_m",
        ),
        0,
    ),
    "parts": [
        {
            "id": "",
            "change": "",
            "kind": "",
            "mass_kg": 0,
            "centroid_m": POINT,
            "volume_m3": 0,
            "plate_area_m2": 0,
            "buoyant_volume_m3": 0,
            "effect": EFFECT,
            "effect_gross": EFFECT,
        }
    ],
    "changes": [
        {"id": "", "added_kg": 0, "removed_kg": 0, "moved_kg": 0, "net_kg": 0, "effect": EFFECT}
    ],
    "conditions": [
        {
            "id": "",
            "stage": "",
            "displacement_kg": 0,
            "centre_of_gravity_m": POINT,
            "plus_minus": {"displacement_kg": 0, "trim_mm": 0, "heel_deg": 0, "gm_m": 0},
            "sinkage_mm": 0,
            "trim_mm": 0,
            "trim_deg": 0,
            "heel_deg": 0,
            "freeboards": [{"mark": "", "side": "", "freeboard_mm": 0}],
            "gm_m": 0,
            "gm_solid_m": 0,
            "kg_per_cm": 0,
            "trim_moment_kgm_per_cm": 0,
            "righting_levers": {"heel_deg": [0], "gz_m": [0], "gz_without_house_m": [0]},
            "vanishing_angle_deg": 0,
            "vanishing_angle_without_house_deg": 0,
            "downflooding_angle_deg": 0,
            "downflooding_by_area_deg": 0,
            "critical_opening": "",
            "range_deg": 0,
            "openings": [{"id": "", "immersion_angle_deg": 0}],
            "area_under_gz": {},
            "criteria": [
                {
                    "id": "",
                    "value": 0,
                    "limit": 0,
                    "unit": "",
                    "state": "",
                    "source": "",
                    "grade": "",
                }
            ],
        }
    ],
    "findings": [{"code": "", "severity": "", "place": "", "sentence": "", "source": ""}],
}
# what does not apply is null: no option, no drains, a cockpit that is full already, one bound,
# what the document does not say of an opening, a rule that asks for no downflooding or that a
# higher centre of gravity does not touch, the plus/minus of what is not measured
NOT_THERE = {
    "way_out",
    "obstacle_lower_m",  # where lowering alone does not do it
    "mass_kg",
    "next",
    "option",
    "rolls",
    "wells_full",
    "to_m",
    "replaced_by",
    "may_lie_x_m",
    "change",
    "drain_time_s",
    "coaming_angle_deg",
    "sampled",
    "progressive",
    "downflooding_by",
    "downflooding_angle_deg",
    "downflooding_opening",
    "plus_minus",
    "margin_sd",
    "probability",
    "vcg_rise_m",
    "vanishing_angle_without_house_deg",
    "vanishing_angle_wells_full_deg",
    "held",
    "change_mm",
}
BOUNDS = {"at_least", "at_most"}
OF_READINGS = {"off_mm", "half_breadth_off_mm", "height_off_mm"}  # where none can tell


def fits(value, shape, place=""):
    """Require, under every key of a shape, a JSON value of its kind."""
    if isinstance(shape, dict):
        assert shape.keys() <= value.keys(), place
        for key, inner in shape.items():
            fits(value[key], inner, f"{place}.{key}")
    elif isinstance(shape, list) and shape == POINT:
        assert [type(c) for c in value] == [float] * 3, place
    elif isinstance(shape, list):
        assert isinstance(value, list), place
        assert value or not shape, place
        for k, one in enumerate(value if shape else []):
            fits(one, shape[0], f"{place}.{k}")
    elif isinstance(shape, int):
        assert isinstance(value, int | float), place
        assert not isinstance(value, bool), place
    else:
        assert isinstance(value, str), place


def nulls(value, place=""):
    """Key of everything that is null."""
    if isinstance(value, dict):
        return [n for key, inner in value.items() for n in nulls(inner, key)]
    if isinstance(value, list):
        return [n for inner in value for n in nulls(inner, place)]
    return [place] if value is None else []


@pytest.fixture(scope="module")
def wire():
    """The answer to Saltmarrow as JSON, read as strictly as JSON is written."""

    def no_such_number(word):
        raise AssertionError(word)

    return json.loads(demo_answer().model_dump_json(), parse_constant=no_such_number)


def test_the_json_is_complete_by_the_interface(wire):
    fits(wire, INTERFACE)
    assert set(nulls(wire)) <= NOT_THERE | BOUNDS | OF_READINGS


def test_every_condition_has_a_row_for_each_boat(wire):
    rows = [(c["id"], c["stage"]) for c in wire["conditions"]]
    assert rows == [
        (name, stage)
        for name in demo_document()["conditions"]
        for stage in ("as_found", "refit")
    ]
    for condition in wire["conditions"]:
        assert (condition["change"] is None) == (condition["stage"] == "as_found")
        marks = [(f["mark"], f["side"]) for f in condition["freeboards"]]
        assert marks == [
            (mark, side)
            for mark in ("forward", "midships", "aft")
            for side in ("port", "starboard")
        ]
    assert wire["boat"] == "Saltmarrow"
    assert wire["reference_condition"] == STATE
    assert [p["id"] for p in wire["parts"]] == [
        "house",
        "mast-support",
        "cockpit",
        "extension",
        "platform",
    ]
    assert [c["id"] for c in wire["changes"]] == list(demo_document()["changes"])


def test_figures_of_one_row_agree_with_each_other():
    length = 10.15
    for c in demo_answer().conditions:
        assert c.trim_mm == pytest.approx(c.sinkage_stern_mm - c.sinkage_bow_mm, abs=1e-9)
        assert c.sinkage_mm == pytest.approx((c.sinkage_stern_mm + c.sinkage_bow_mm) / 2)
        # along the slope of the water where she lists as well
        slope = math.tan(math.radians(c.trim_deg)) / math.cos(math.radians(c.heel_deg))
        assert c.trim_mm == pytest.approx(1000 * length * slope, rel=1e-9)
        moment = c.displacement_kg / 100 / length
        assert c.trim_moment_kgm_per_cm > moment * 8  # GM lengthwise is about her length
        assert c.km_m - c.centre_of_gravity_m[2] == pytest.approx(c.gm_solid_m, abs=5e-3)
        assert c.gm_m <= c.gm_solid_m
        assert c.vcg_above_keel_m == pytest.approx(c.centre_of_gravity_m[2] + 1.85)


def test_changes_are_the_refit_less_the_boat_as_found():
    for name in demo_document()["conditions"]:
        before, after = row(demo_answer(), name, "as_found"), row(demo_answer(), name)
        change = after.change
        for key in ("displacement_kg", "sinkage_mm", "trim_mm", "heel_deg", "gm_m"):
            expected = getattr(after, key) - getattr(before, key)
            assert getattr(change, key) == pytest.approx(expected, abs=1e-9)
        moved = [
            a - b
            for a, b in zip(after.centre_of_gravity_m, before.centre_of_gravity_m, strict=True)
        ]
        assert [change.lcg_m, change.tcg_m, change.vcg_m] == pytest.approx(moved, abs=1e-12)
        for old, new, difference in zip(
            before.freeboards, after.freeboards, change.freeboards, strict=True
        ):
            assert difference.freeboard_mm == pytest.approx(new.freeboard_mm - old.freeboard_mm)


@pytest.mark.parametrize("name", [STATE, "departure", "cockpit-flooded"])
def test_the_first_answer_is_part_of_the_whole(name):
    whole, first = demo_answer(), assessment(demo()[0], only=name)
    assert first.conditions == tuple(c for c in whole.conditions if c.id == name)
    for key in ("hull", "survey", "changes", "replaced"):
        assert getattr(first, key) == getattr(whole, key)
    later = {"effect_gross": None}
    assert [part.model_copy(update=later) for part in whole.parts] == list(first.parts)
    assert first.waterfall == whole.waterfall.model_copy(update={"steps": ()})
    assert [i.model_copy(update={"effect": None}) for i in whole.items] == list(first.items)
    answered = {t.id for t in first.targets if t.condition == name}
    for target, full in zip(first.targets, whole.targets, strict=True):
        assert target == full if target.id in answered else target.value is None
    # of an opening, and of a criterion in doubt, the whole answer tells the worst condition
    elsewhere = {"opening-floods", "criterion-within-doubt"}
    apart = {f for f in first.findings if f.code in elsewhere}
    assert set(first.findings) - apart <= set(whole.findings)
    assert {f.code for f in apart} <= {f.code for f in whole.findings}
    openings = {f.place for f in apart if f.code == "opening-floods"}
    assert openings <= {f.place for f in whole.findings}


def test_the_same_document_gets_the_same_answer():
    again = boat(json.loads(json.dumps(demo_document())))
    assert assessment(again).model_dump_json() == demo_answer().model_dump_json()


def test_an_option_changes_only_what_it_names():
    from hullchange.document.options import with_option

    balanced = assessed(with_option(demo_document(), "balanced"), option="balanced")
    assert balanced.option == "balanced"
    assert balanced.survey == demo_answer().survey
    for name in demo_document()["conditions"]:
        assert row(balanced, name, "as_found") == row(demo_answer(), name, "as_found")
    assert [c.id for c in balanced.changes][-1] == "keel-blocks"
    here = row(balanced, STATE)
    assert abs(here.trim_mm) < 25
    assert abs(here.heel_deg) < 0.3
    level = {t.id: t for t in balanced.targets}["level"]
    assert level.state == "met_within_doubt"
    assert level.value == pytest.approx(here.trim_mm)
    assert balanced.document_sha256 != demo_answer().document_sha256


def test_the_hash_is_of_the_content_alone():
    text = starting_document("Dot")
    plain = parsed(text).document()
    digest = document_hash(boat(plain))
    assert digest == document_hash(boat(dict(reversed(plain.items()))))
    assert digest == document_hash(boat(parsed(text.replace("# ", "#  ")).document()))
    heavier = with_all(plain, {"changes.drive.adds.motor.mass_kg": 46})
    assert digest != document_hash(boat(heavier))
    assert len(digest) == 64


def test_the_start_can_be_assessed_as_it_is():
    answer = assessed(parsed(starting_document("Dot")).document())
    assert {f.severity for f in answer.findings} <= {"warn", "note"}
    assert answer.survey.agreement == "the readings agree with the hull"
    assert [t.state for t in answer.targets] == ["to_be_confirmed"] * 2  # all of her is assumed


def test_a_document_without_changes_conditions_or_targets():
    answer = assessed(barge_document(12, 4, 1, 2.5, 0.2))
    assert (answer.parts, answer.changes, answer.items, answer.targets) == ((), (), (), ())
    assert [(c.id, c.stage) for c in answer.conditions] == [
        (STATE, "as_found"),
        (STATE, "refit"),
    ]
    assert answer.conditions[1].change.displacement_kg == 0.0


def test_the_reference_condition_may_be_another():
    plain = barge_document(
        12,
        4,
        1,
        2.5,
        0.2,
        changes={"cargo": {"adds": {"lead": weight(492, (6, 0, 0))}}},
        conditions={"light": {}, "loaded": {"loads": {"stone": weight(9840, (6, 0, -0.5))}}},
        reference_condition="loaded",
    )
    answer = assessed(plain)
    assert answer.reference_condition == "loaded"
    change = row(answer, "loaded").change
    assert answer.waterfall.total.gm_mm == pytest.approx(1000 * change.gm_m, abs=1e-6)
    assert answer.waterfall.total.gm_mm != pytest.approx(
        1000 * row(answer, "light").change.gm_m, rel=0.01
    )


def test_the_profile_is_drawn_of_what_is_there():
    built = demo()[0]
    profile = profile_of(built, 5.4)
    roles = {o.id: o.role for o in profile.outlines}
    assert roles["hull"] == "hull"
    assert roles["keel"] == roles["skeg-and-rudder"] == "appendage"
    assert roles["sheer"] == "sheer"
    assert roles["upper-chine"] == roles["lower-chine"] == "chine"
    assert roles["existing.old-house"] == "replaced"
    assert roles["changes.deckhouse.parts.house"] == "part"
    assert profile.centre_of_flotation_x_m == 5.4
    assert profile.length_waterline_m == 10.15
    assert [m.id for m in profile.marks] == ["forward", "midships", "aft"]
    points = [p for o in profile.outlines for p in o.points_m]
    assert min(x for x, _ in points) < -0.95 - 0.5  # the bow platform
    assert min(z for _, z in points) == pytest.approx(-1.85)
    hull = next(o for o in profile.outlines if o.id == "hull")
    assert hull.closed
    # thinned to a millimetre: every measured end is still there
    for end in ((-0.95, 1.5), (10.95, 1.13), (10.95, 0.2)):
        assert min(math.dist(end, p) for p in hull.points_m) < 1e-3
