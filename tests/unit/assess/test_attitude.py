"""How she lies at rest: list, trim, and edges under water, on a barge and on Saltmarrow."""

import re
from math import cos, radians, sin, tan

import pytest
from refits import SEA, assessed, barge_document, demo_document, row, weight, with_all

LENGTH, BEAM, DRAUGHT, DEPTH, VCG = 12.0, 4.0, 1.0, 2.5, 0.2
MASS = SEA * LENGTH * BEAM * DRAUGHT
BM, BML = BEAM**2 / 12 / DRAUGHT, LENGTH**2 / 12 / DRAUGHT
GM, GML = BM - DRAUGHT / 2 - VCG, BML - DRAUGHT / 2 - VCG
WELL = {
    "kind": "cockpit",
    "x_forward_m": 8.0,
    "deck_z_m": 1.5,
    "coaming_top_z_m": 1.6,
    "seat_well_m": [2.0, 1.6, 0.3],
    "foot_well_m": [1.6, 0.8, 0.4],
    "foot_well_forward_m": 8.2,
    "plate_mm": 5,
}


def findings(answer, code):
    return [f for f in answer.findings if f.code == code]


def shifted(along=0.0, across=0.0, depth=DEPTH):
    """The barge with 20 t moved, as far as that gives a slope of trim and of list."""
    at = (6.0, 0.0, VCG)
    to = [
        6.0 + MASS / 20_000 * along * (GML + BML * along**2 / 2),
        MASS / 20_000 * across * (GM + BM * across**2 / 2),
        VCG,
    ]
    moves = {"crate": {**weight(20_000, at), "to_m": to}}
    changes = {"cargo": {"moves": moves}}
    return assessed(barge_document(LENGTH, BEAM, DRAUGHT, depth, VCG, changes=changes))


@pytest.mark.parametrize(("deg", "words"), [(1.1, "1.1° to starboard"), (-1.6, "1.6° to port")])
def test_a_list_is_reported_where_no_target_was_set(deg, words):
    answer = shifted(across=tan(radians(deg)))
    (finding,) = findings(answer, "list-at-rest")
    assert (finding.severity, finding.place) == ("warn", "conditions.survey-state")
    assert f"The refit lists {words} as surveyed" in finding.sentence
    moment = MASS * GM * tan(radians(abs(deg)))
    assert f"about {moment:,.0f} kg·m" in finding.sentence
    assert not findings(shifted(across=tan(radians(0.9))), "list-at-rest")


def test_a_trim_beyond_a_part_of_her_waterline_is_reported():
    (finding,) = findings(shifted(along=0.016), "trim-at-rest")
    assert finding.severity == "warn"
    assert "trims 192 mm by the stern" in finding.sentence
    assert "1.6 % of her waterline" in finding.sentence
    moment = re.search(r"about ([\d,]+) kg·m", finding.sentence)[1]
    assert float(moment.replace(",", "")) == pytest.approx(MASS * GML * 0.016, rel=1e-3)
    (finding,) = findings(shifted(along=-0.02), "trim-at-rest")
    assert "by the bow" in finding.sentence
    assert "Move weight aft" in finding.sentence
    assert not findings(shifted(along=0.0149), "trim-at-rest")


def test_both_boats_are_looked_at():
    marks = {
        f"survey.marks.{mark}.freeboard_m": {"port": 1.45, "starboard": 1.55}
        for mark in ("forward", "aft")
    }
    answer = assessed(with_all(barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, VCG), marks))
    sentences = [f.sentence for f in findings(answer, "list-at-rest")]
    assert len(sentences) == 2
    assert sum("boat as found lists 1.4° to port" in s for s in sentences) == 1


def test_a_deck_edge_under_water_fails():
    # half a metre of side over a half breadth of two
    answer = shifted(across=0.26, depth=1.5)
    (finding,) = findings(answer, "deck-edge-under-water")
    assert finding.severity == "fail"
    here = row(answer, "survey-state")
    heel = radians(here.heel_deg)
    depth = 1000 * (2.0 * sin(heel) - 0.5 * cos(heel)) + here.sinkage_mm * cos(heel)
    # she is level, so every place along the edge is as deep
    depth_and_place = rf"lies {depth:.0f} mm under water at x [\d.]+ m to starboard"
    assert re.search(depth_and_place, finding.sentence)
    assert depth > 10.0
    assert not findings(shifted(across=0.24, depth=1.5), "deck-edge-under-water")


def test_a_coaming_under_water_fails_but_that_of_a_flooded_well():
    changes = {"well": {"parts": {"well": WELL}}}
    lead = {"loads": {"lead": weight(40_000, (10.5, 0, 0.2))}}
    conditions = {"survey-state": {}, "low": lead, "full": {**lead, "floods": ["well"]}}
    answer = assessed(
        barge_document(
            LENGTH, BEAM, DRAUGHT, DEPTH, VCG, changes=changes, conditions=conditions
        )
    )
    coamings = findings(answer, "coaming-under-water")
    assert [f.place for f in coamings] == ["conditions.low"]
    assert coamings[0].severity == "fail"
    assert "coaming of well of the refit" in coamings[0].sentence


@pytest.mark.parametrize(
    ("at", "name"), [((10.5, 0, 0.5), "extension"), ((-0.4, 0, 0.5), "platform")]
)
def test_a_platform_under_water_fails(at, name):
    heavy = {"loads": {"lead": weight(2600 if name == "extension" else 5200, at)}}
    plain = with_all(demo_document(), {"conditions.heavy": heavy})
    places = {(f.place, f.severity) for f in findings(assessed(plain), "platform-under-water")}
    assert places == {("conditions.heavy", "fail")}


def test_saltmarrow_has_nothing_under_water_but_trims():
    answer = assessed(demo_document())
    assert not any("under-water" in f.code for f in answer.findings)
    assert {f.place for f in findings(answer, "trim-at-rest")} == {
        "conditions.departure",
        "conditions.arrival",
        "conditions.cockpit-flooded",
    }


def test_a_flooded_boat_is_told_of_the_water_and_not_to_move_weight():
    changes = {"well": {"parts": {"well": WELL}}}
    lead = {"loads": {"lead": weight(12_000, (10.5, 0.4, 0.2))}}
    room = {"aft-end": {"x_m": [9.0, 11.5]}}
    conditions = {
        "survey-state": {},
        "low": lead,
        "full": {**lead, "floods": ["well"]},
        "holed": {**lead, "floods": ["compartments.aft-end"]},
    }
    plain = barge_document(
        LENGTH, BEAM, DRAUGHT, DEPTH, VCG, changes=changes, conditions=conditions
    )
    plain["hull"]["compartments"] = room
    answer = assessed(plain)
    trims = {f.place.split(".")[1]: f.sentence for f in findings(answer, "trim-at-rest")}
    assert "Move weight forward" in trims["low"]
    for name, helps in (("full", "a smaller well"), ("holed", "watertight bulkhead")):
        assert "Move weight" not in trims[name]
        assert "is usual while she is dry. She has water in her: " in trims[name]
        assert helps in trims[name]
    lists = {f.place.split(".")[1]: f.sentence for f in findings(answer, "list-at-rest")}
    assert "Move weight to port" in lists["low"]
    assert "She has water in her" in lists["full"]
