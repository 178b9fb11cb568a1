"""Targets, findings and reminders: each appears where it is due, and nowhere else."""

import re
from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest
from refits import (
    assessed,
    barge_document,
    capsizing_answer,
    demo,
    demo_answer,
    demo_document,
    row,
    weight,
    with_all,
)

from hullchange.answer.assessment import ConditionResult
from hullchange.assess.assessment import assessment
from hullchange.assess.findings import record_findings
from hullchange.assess.targets import LIST_DEG
from hullchange.boat.boat import boat_of
from hullchange.boat.cad_record import record_result

STATE = "survey-state"


def barge(vcg=0.2, **more):
    return barge_document(12, 4, 1, 2.5, vcg, **more)


def codes(answer):
    return [f.code for f in answer.findings]


def finding(answer, code):
    return next(f for f in answer.findings if f.code == code)


def test_a_top_heavy_refit_is_said_to_be_unstable_and_lolls():
    # 4 t at 9 m: G 0.86 m up, the metacentre 0.77
    mast = {"tower": {"adds": {"lead": weight(4000, (6, 0, 9))}}}
    answer = assessed(barge(changes=mast))
    unstable = finding(answer, "unstable-upright")
    assert unstable.severity == "fail"
    assert unstable.place == f"conditions.{STATE}"
    assert "unstable upright" in unstable.sentence
    assert "refit" in unstable.sentence
    here = row(answer, STATE)
    total = 49_200 + 4000
    draught = total / 1025 / 48
    height = (49_200 * 0.2 + 4000 * 9) / total
    bm = 16 / 12 / draught
    gm = -1 + draught / 2 + bm - height
    # straight sides: tan(loll) is the root of minus twice GM over BM
    loll = np.degrees(np.arctan(np.sqrt(-2 * gm / bm)))
    assert abs(here.heel_deg) == pytest.approx(loll, abs=1e-6)
    assert abs(here.heel_deg) > 20
    assert "(GM upright −0.09 m)" in unstable.sentence.replace("-", "−")
    assert here.gm_m == pytest.approx(gm, abs=1e-6)  # about her loll it would be above nought
    assert "may-be-unstable" not in codes(answer)
    assert "unstable-upright" not in codes(assessed(barge()))


def test_a_boat_as_found_that_cannot_stand_is_reported_too():
    answer = assessed(barge(vcg=0.9))
    unstable = finding(answer, "unstable-upright")
    assert "boat as found" in unstable.sentence
    heel = row(answer, STATE, "as_found").heel_deg
    assert abs(heel) == pytest.approx(
        np.degrees(np.arctan(np.sqrt(2 * (0.9 - 5 / 6) / (4 / 3)))), abs=1e-6
    )


def test_a_refit_that_capsizes_with_gm_above_nought_is_never_shown_as_upright():
    answer = capsizing_answer()
    unstable = {f.place: f for f in answer.findings if f.code == "unstable-upright"}
    falls, hardly = row(answer, STATE), row(answer, "departure")
    assert falls.heel_deg > 170
    assert 0.05 < falls.gm_m < 0.1  # upright; upside down it is 1.9
    assert unstable[f"conditions.{STATE}"].severity == "fail"
    assert (
        "capsizes and comes to rest upside down, at 180°"
        in unstable[f"conditions.{STATE}"].sentence
    )
    assert not [f for f in answer.findings if f.code == "opening-under-water"]
    aimed = [t for t in answer.targets if t.condition == STATE]
    assert {t.state for t in aimed} == {"not_met"}
    # turned up again only from upside down, she has no range, and no period of roll
    ranges = [c for c in falls.criteria if "Range of" in c.title or "vanishing" in c.title]
    assert [c.value for c in ranges] == [0.0] * 4
    assert "met" not in {c.state for c in ranges}
    assert falls.vanishing_angle_deg == falls.range_deg == 0.0
    assert falls.roll_period_s is None
    # at departure she rests at 2.8 degrees, and a gust ends that
    assert 2.0 < hardly.heel_deg < 4.0
    angle = hardly.vanishing_angle_starboard_deg
    assert f"to starboard she rights herself only up to {angle:.0f}°; a push beyond that " in (
        unstable["conditions.departure"].sentence
    )
    assert "capsizes her" in unstable["conditions.departure"].sentence
    # one word for each float: who is sure to capsize is not said to capsize perhaps
    assert not {f.place for f in answer.findings if f.code == "may-be-unstable"} & set(unstable)


def vent(z, **more):
    return {
        "edge_m": [[6, 1.9, z]],
        "area_m2": 0.01,
        "closing": "none",
        "leads_to": "hull",
    } | more


def test_an_opening_under_water_at_rest_fails():
    answer = assessed(barge(openings={"vent": vent(-0.05), "high": vent(0.5)}))
    findings = [f for f in answer.findings if f.code == "opening-under-water"]
    assert {f.place for f in findings} == {"openings.vent"}
    assert {f.severity for f in findings} == {"fail"}
    assert len(findings) == 2  # both boats
    assert "50 mm" in findings[0].sentence
    only = assessed(barge(openings={"vent": vent(-0.05, boat="refit")}))
    assert codes(only).count("opening-under-water") == 1


def test_an_opening_is_looked_at_on_both_sides():
    heavy = {"crew": {"adds": {"men": weight(3000, (6, -1.5, 0.2))}}}
    for side, expected in (("one", 0), ("both", 1)):
        answer = assessed(barge(openings={"vent": vent(0.3, side=side)}, changes=heavy))
        assert codes(answer).count("opening-under-water") == expected
    assert row(answer, STATE).heel_deg < -5


def test_a_typed_height_is_noted():
    typed = finding(assessed(barge()), "vcg-typed")
    assert typed.severity == "note"
    assert typed.place == "survey.vcg"
    assert "+0.20" in typed.sentence


def test_freeboards_that_disagree_are_reported_with_the_worst():
    slip = {"survey.marks.forward.freeboard_m.port": 1.58}
    disagreement = finding(assessed(with_all(barge(), slip)), "freeboards-disagree")
    assert disagreement.severity == "warn"
    assert disagreement.place == "survey.marks"
    assert "contradict" in disagreement.sentence
    # one slip on four readings leaves a quarter of itself at each: none is singled out falsely
    assert "20 mm" in disagreement.sentence
    unread = {"survey.marks.forward.freeboard_m.port": 0.0}
    worst = finding(assessed(with_all(barge(), unread)), "freeboards-disagree").sentence
    assert re.search(r"residual is [+-]375 mm at forward", worst)
    assert "freeboards-disagree" not in codes(assessed(barge()))
    poor = {"survey.marks.forward.freeboard_m.port": 1.524}
    assert (
        "poorly" in finding(assessed(with_all(barge(), poor)), "freeboards-disagree").sentence
    )


@pytest.mark.parametrize(("mass", "is_called_for"), [(950, False), (1020, True), (-1020, True)])
def test_more_than_two_per_cent_of_weight_calls_for_floating_again(mass, is_called_for):
    group = "adds" if mass > 0 else "removes"
    change = {"cargo": {group: {"lead": weight(abs(mass), (6, 0, 0))}}}
    assert ("refloat-and-incline" in codes(assessed(barge(changes=change)))) is is_called_for


@pytest.mark.parametrize("named", ["lid", "changes.lid.parts.lid"])
def test_what_is_no_well_is_not_flooded_in_silence(named):
    house = {
        "kind": "plating",
        "corners_m": [[5, 0, 1.6], [6, 0, 1.6], [6, 1, 1.6], [5, 1, 1.6]],
        "thickness_mm": 5,
    }
    plain = barge(
        changes={"lid": {"parts": {"lid": house}}},
        conditions={STATE: {}, "wet": {"floods": [named]}},
    )
    refusal = finding(assessed(plain), "floods-nothing")
    assert refusal.place == "conditions.wet.floods"
    assert "floods-nothing" not in codes(demo_answer())


def targets(wanted, y=0.1):
    change = {"cargo": {"adds": {"lead": weight(492, (6, y, 0))}}}
    placed = {name: {"condition": STATE, **target} for name, target in wanted.items()}
    conditions = {STATE: {}, "as-she-was": {"boat": "as_found"}}
    answer = assessed(barge(changes=change, targets=placed, conditions=conditions))
    return {t.id: t for t in answer.targets}, answer


def test_targets_met_and_missed():
    outcomes, answer = targets(
        {
            "sunk": {"result": "sinkage_mm", "at_most": 5},
            "deep": {"result": "sinkage_mm", "between": [5, 15]},
            "as-was": {"result": "sinkage_mm", "boat": "as_found", "at_most_mm": 5},
            "port": {"result": "freeboards.aft.port", "at_least_mm": 1000},
            "aft": {"result": "freeboards.aft", "at_least_mm": 1600},
            "elsewhere": {"result": "gm_m", "condition": "as-she-was", "at_least": 1},
            "heavy": {"result": "displacement_kg", "at_most": 49_500},
        }
    )
    assert {name: t.state for name, t in outcomes.items()} == {
        "sunk": "not_met_within_doubt",
        "deep": "met_within_doubt",
        "as-was": "met",
        "port": "met",
        "aft": "not_met",
        "elsewhere": "to_be_confirmed",
        "heavy": "not_met_within_doubt",
    }
    assert outcomes["sunk"].value == pytest.approx(10, abs=0.01)
    assert outcomes["sunk"].unit == "mm"
    here = row(answer, STATE)
    aft = {f.side: f.freeboard_mm for f in here.freeboards if f.mark == "aft"}
    assert outcomes["aft"].value == pytest.approx((aft["port"] + aft["starboard"]) / 2)
    assert outcomes["port"].value == aft["port"]
    assert outcomes["elsewhere"].value is None  # its condition is not run for the refit
    # freeboards read to 5 mm: a deck that lies 5 mm over its bound is not clear of it
    assert outcomes["sunk"].plus_minus == pytest.approx(here.plus_minus.sinkage_mm)
    assert outcomes["sunk"].margin_sd == pytest.approx(
        -5 / outcomes["sunk"].plus_minus, rel=1e-3
    )
    assert outcomes["sunk"].probability == pytest.approx(
        NormalDist(outcomes["sunk"].value, outcomes["sunk"].plus_minus).cdf(5)
    )
    assert 0.9 < outcomes["deep"].probability + 2 * outcomes["sunk"].probability < 1.1
    # the mean of both sides knows nothing of her list
    sides = [f.plus_minus_mm for f in here.freeboards if f.mark == "aft"]
    assert outcomes["aft"].plus_minus < min(sides)
    of_list = 2000 * np.radians(here.plus_minus.heel_deg)
    assert np.hypot(outcomes["aft"].plus_minus, of_list) == pytest.approx(
        np.mean(sides), rel=1e-3
    )
    findings = {f.place: f for f in answer.findings if f.code.startswith("target-")}
    assert {f.place for f in findings.values() if f.code == "target-missed"} == {"targets.aft"}
    assert set(findings) == {f"targets.{name}" for name in ("sunk", "deep", "aft", "heavy")}
    assert {f.severity for f in findings.values()} == {"warn"}
    assert "49,692" in findings["targets.heavy"].sentence
    assert "at most 5" in findings["targets.sunk"].sentence
    assert "at least 1,600" in findings["targets.aft"].sentence


@pytest.mark.parametrize(("y", "low"), [(1.9, "starboard"), (-1.9, "port")])
def test_of_a_boat_that_lists_the_worse_side_is_judged(y, low):
    high = {"starboard": "port", "port": "starboard"}[low]
    _, answer = targets({}, y)
    aft = {f.side: f.freeboard_mm for f in row(answer, STATE).freeboards if f.mark == "aft"}
    mean = (aft["port"] + aft["starboard"]) / 2
    assert aft[low] < mean - 5
    assert abs(row(answer, STATE).heel_deg) >= LIST_DEG
    outcomes, answer = targets(
        {
            "dry": {"result": "freeboards.aft", "at_least_mm": mean - 1},
            "low": {"result": "freeboards.aft", "at_most_mm": mean + 1},
            "named": {"result": f"freeboards.aft.{high}", "at_least_mm": mean - 1},
        },
        y,
    )
    judged = {
        name: (t.result, t.value, t.state.startswith("met")) for name, t in outcomes.items()
    }
    assert judged == {
        "dry": (f"freeboards.aft.{low}", pytest.approx(aft[low]), False),
        "low": (f"freeboards.aft.{high}", pytest.approx(aft[high]), False),
        "named": (f"freeboards.aft.{high}", pytest.approx(aft[high]), True),
    }
    assert f"Freeboard aft, {low} " in next(
        f.sentence for f in answer.findings if f.place == "targets.dry"
    )


def test_every_figure_has_its_unit_and_is_its_own():
    names = [n for n, info in ConditionResult.model_fields.items() if info.annotation is float]
    outcomes, answer = targets(
        {n.replace("_", "-"): {"result": n, "at_least": 0} for n in names}
    )
    here = row(answer, STATE)
    assert {t.result: t.value for t in outcomes.values()} == {
        n: getattr(here, n) for n in names
    }
    units = {t.result: t.unit for t in outcomes.values()}
    assert [name for name, unit in units.items() if not unit] == []
    assert (units["gm_m"], units["trim_mm"], units["trim_deg"]) == ("m", "mm", "deg")
    assert units["kg_per_cm"] == "kg/cm"
    assert units["trim_moment_kgm_per_cm"] == "kg m/cm"
    assert units["water_density_kg_m3"] == "kg/m3"


def test_reminders_of_saltmarrow():
    reminders = {c.id: c.reminder for c in demo_answer().changes}
    assert "342 kg" in reminders["deckhouse"]
    assert "rise 180 mm" in reminders["deckhouse"]
    assert "above the water at rest" in reminders["transom"]
    assert "l of water" in reminders["cockpit"]
    assert "no removed steel is listed" in reminders["bow"]
    assert "do not get lighter" in reminders["electric-drive"]
    assert "chain may be placed from 0.6 to 2.2 m aft of the FP" in reminders["ground-tackle"]
    assert reminders["finish"] == ""


def test_the_reminders_figures_are_the_answers():
    answer = demo_answer()
    part = next(p for p in answer.parts if p.id == "cockpit")
    litres = -1000 * part.buoyant_volume_m3
    reminder = next(c.reminder for c in answer.changes if c.id == "cockpit")
    assert f"{litres:,.0f} l" in reminder
    assert f"{litres * 1.025:,.0f} kg" in reminder
    house = "changes.deckhouse.parts.house"
    openings = dict.fromkeys(
        f"{house}.{of}" for of in ("side_windows", "front_windows", "door")
    )
    low = with_all(demo_document(), openings | {f"{house}.side_height_m": 0.40})
    level = {c.id: c.reminder for c in assessed(low, only=STATE).changes}
    assert "rise" not in level["deckhouse"]


def test_findings_come_worst_first_and_once():
    answer = assessed(
        barge(
            openings={"vent": vent(-0.05)},
            targets={"light": {"result": "sinkage_mm", "condition": STATE, "at_most": -5}},
        )
    )
    order = [f.severity for f in answer.findings]
    assert order == sorted(order, key=["fail", "warn", "note"].index)
    assert len(set(answer.findings)) == len(answer.findings)


def test_a_record_that_differs_is_a_finding():
    built = demo()[0]
    solids = {
        name: [("all", replace(part.steel, mass=part.steel.mass * 1.002))]
        for name, part in built.parts.items()
    }
    record = record_result(built, solids)
    assert record.state == "differs"
    findings = list(record_findings(record))
    assert [f.place for f in findings] == [f"parts.{name}" for name in built.parts]
    assert "+0.20 %" in findings[0].sentence
    same = {name: [("all", part.steel)] for name, part in built.parts.items()}
    assert record_result(built, same).state == "held"
    assert list(record_findings(record_result(built, same))) == []
    answer = assessment(boat_of(built.document), only=STATE, record=lambda: record)
    assert codes(answer).count("record-differs") == len(built.parts)
