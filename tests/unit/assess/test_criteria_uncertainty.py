"""Verdicts with their doubt: plus/minus of criteria against surveying and floating her anew."""

import json

import numpy as np
import pytest
from drawn_criteria import drawn_anew
from refits import (
    assessed,
    barge_document,
    demo_answer,
    demo_document,
    row,
    weight,
    with_all,
)
from resurveyed import skiff_document

from hullchange.answer.assessment import Assessment
from hullchange.answer.verdicts import figures_in_words, state_in_words, verdict_in_words
from hullchange.comparison.comparison import compared
from hullchange.criteria.doubt import CriterionState, likelihood, verdict_on
from hullchange.document.reading import document_of
from hullchange.plain_words import condition_in_words
from hullchange.present.tables import tables

STATE = "survey-state"
COUNT = 40
"""Draws: a standard deviation of so many is good to 11 %."""


def near_the_limit(gm, plus_minus, **more):
    """A barge of a GM upright, known by the height of her weight."""
    survey = {"vcg": {"z_m": 0.8333 - gm, "plus_minus_m": plus_minus, "from": "inclining"}}
    plain = barge_document(12, 4, 1, 2.5, 0.8333 - gm, **more)
    return assessed(with_all(plain, {"survey.vcg": survey["vcg"]}))


def rule_of(answer, name="imo-initial-gm", stage="refit"):
    return next(r for r in row(answer, STATE, stage).criteria if r.id == name)


@pytest.mark.parametrize(
    ("margin_sd", "state"),
    [
        (2.0, "met"),
        (1.99, "met_within_doubt"),
        (0.0, "met_within_doubt"),
        (-0.01, "not_met_within_doubt"),
        (-1.99, "not_met_within_doubt"),
        (-2.0, "not_met"),
    ],
)
def test_a_verdict_is_clear_from_two_standard_deviations(margin_sd, state):
    assert verdict_on(margin_sd, keeps=margin_sd >= 0.0) == state


def test_without_a_doubt_the_value_alone_decides():
    assert verdict_on(None, keeps=True) is CriterionState.MET
    assert verdict_on(None, keeps=False) is CriterionState.NOT_MET
    # the worked numbers: range 110.53 against 110 and GM 0.9767 against 0.95
    assert likelihood(0.53 / 2.3) == pytest.approx(0.59, abs=0.005)
    assert likelihood(0.0267 / 0.028) == pytest.approx(0.83, abs=0.005)


@pytest.mark.parametrize("boat", ["saltmarrow", "skiff"])
def test_plus_minus_is_that_of_surveying_and_floating_her_anew(boat):
    plain = demo_document() if boat == "saltmarrow" else skiff_document(3)
    alone = {"conditions": {STATE: {"boat": "as_found"}}, "targets": {}, "options": {}}
    plain = {**plain, **alone, "changes": {}} if boat == "skiff" else {**plain, **alone}
    drawn = drawn_anew(plain, STATE, COUNT, seed=11)
    criteria = {r.id: r for r in row(assessed(plain), STATE, "as_found").criteria}
    # the top of Saltmarrow's curve has two humps of nearly one height: its heel leaps from one
    # to the other in a draw of 25, which 40 may not see
    leaps = [name for name in criteria if name.endswith("heel-of-largest-lever")]
    if boat == "saltmarrow":
        assert all(2.0 < criteria[name].plus_minus < 8.0 for name in leaps)
    compared_to = [
        name
        for name in criteria
        if np.std(drawn[name]) > 0.0 and not (boat == "saltmarrow" and name in leaps)
    ]
    assert len(compared_to) >= 10
    for name in compared_to:
        # three of the draws' own deviations
        assert criteria[name].plus_minus == pytest.approx(np.std(drawn[name]), rel=0.34), name


def test_one_quantity_has_one_plus_minus():
    for c in demo_answer().floats:
        rules = {r.id: r for r in c.criteria}
        assert rules["imo-initial-gm"].plus_minus == c.plus_minus.gm_m
        vanishing = c.heeled_plus_minus.vanishing_angle_deg
        assert rules["mgn280-range-90"].plus_minus == vanishing
        assert rules["inland-range"].plus_minus == vanishing
        assert rules["iso12217-minimum-mass"].plus_minus == c.plus_minus.displacement_kg
    targets = {t.id: t for t in demo_answer().targets}
    departure = row(demo_answer(), "departure")
    assert targets["stiff"].plus_minus == departure.plus_minus.gm_m
    bare = departure.heeled_plus_minus.vanishing_angle_without_house_deg
    assert targets["range-without-house"].plus_minus == bare
    assert 1.0 < bare < 3.0


def test_110_and_a_half_is_no_plain_met_of_110():
    target = next(t for t in demo_answer().targets if t.id == "range-without-house")
    assert target.value == pytest.approx(110.53, abs=0.01)
    assert target.state == "met_within_doubt"
    assert target.margin_sd == pytest.approx(0.53 / target.plus_minus, rel=0.01)
    assert 0.5 < target.probability < 0.7
    finding = next(
        f for f in demo_answer().findings if f.place == "targets.range-without-house"
    )
    assert (finding.severity, finding.code) == ("warn", "target-within-doubt")


def test_margin_and_likelihood_follow_from_value_and_doubt():
    for c in demo_answer().floats:
        for rule in c.criteria:
            if not rule.plus_minus:
                assert rule.margin_sd is None
                continue
            way = -1.0 if rule.sense == "at most" else 1.0
            margin = way * (rule.value - rule.limit)
            assert rule.margin_sd == pytest.approx(margin / rule.plus_minus)
            assert rule.probability == pytest.approx(likelihood(rule.margin_sd))


def test_what_is_only_remembered_is_never_met_nor_not():
    for c in demo_answer().floats:
        unread = [r for r in c.criteria if r.grade == "C"]
        assert unread
        assert {r.state for r in unread} == {"to_be_confirmed"}
        assert any(r.margin_sd is not None for r in unread)


@pytest.mark.parametrize(
    ("gm", "state", "severity", "code"),
    [
        (0.25, "met", "", ""),
        (0.16, "met_within_doubt", "warn", "criterion-within-doubt"),
        (0.14, "not_met_within_doubt", "warn", "criterion-within-doubt"),
        (0.07, "not_met", "fail", "criterion-not-met"),
    ],
)
def test_what_is_within_its_doubt_warns_and_what_is_not_met_fails(gm, state, severity, code):
    answer = near_the_limit(gm, 0.02)
    rule = rule_of(answer)
    assert rule.value == pytest.approx(gm, abs=1e-3)
    assert rule.state == state
    findings = [
        f
        for f in answer.findings
        if "Initial stability" in f.sentence and "refit" in f.sentence
    ]
    assert [(f.severity, f.code) for f in findings] == ([(severity, code)] if code else [])
    if code:
        assert state.replace("_", " ") in findings[0].sentence
        assert "±" in findings[0].sentence
    # the same words in the tables, and no other
    assert f"  {verdict_in_words(rule)}: Initial stability" in tables(answer)


def test_conditions_within_the_doubt_of_a_criterion_are_reported_once_of_the_worst():
    findings = [f for f in demo_answer().findings if f.code == "criterion-within-doubt"]
    for stage, name in (("as_found", "boat as found"), ("refit", "refit")):
        doubtful = {}
        for c in demo_answer().floats:
            for rule in c.criteria if c.stage == stage else ():
                if rule.state.endswith("within_doubt"):
                    key = (rule.title, rule.state, rule.source)
                    doubtful.setdefault(key, []).append((rule.margin_sd, c.id))
        for (title, _, source), conditions in doubtful.items():
            (finding,) = [
                f
                for f in findings
                if f.sentence.startswith(f"{title}:") and name in f.sentence
                if f.source == source
            ]
            assert finding.place == f"conditions.{min(conditions)[1]}"
            assert all(condition_in_words(c) in finding.sentence for _, c in conditions)


def test_the_rise_uses_the_margin_up():
    for gm in (0.25, 0.07):
        rule = rule_of(near_the_limit(gm, 0.02))
        # GM falls as G rises, and 0.15 m is asked
        assert rule.vcg_rise_m == pytest.approx(rule.value - 0.15, abs=1e-6)
    rules = {r.id: r for r in row(demo_answer(), "departure").criteria}
    area = rules["imo-area-to-30"]
    # an area to 30 degrees loses the rise times what the sine leaves of its cosine
    lost = area.vcg_rise_m * (1.0 - np.cos(np.pi / 6.0))
    assert area.value - lost == pytest.approx(0.055, abs=1e-5)
    assert rules["iso12217-minimum-mass"].vcg_rise_m is None


def test_a_boat_of_small_gm_is_asked_by_draws():
    answer = near_the_limit(0.06, 0.03)
    here = row(answer, STATE)
    assert here.plus_minus_by == "sampled"
    criteria = {r.id: r for r in here.criteria}
    assert criteria["imo-initial-gm"].plus_minus == here.plus_minus.gm_m
    drawn = criteria["mgn280-range-90"].plus_minus
    assert drawn == here.heeled_plus_minus.vanishing_angle_deg
    # an area to 30 degrees goes with GM, half of a sine to the second power
    by_hand = here.plus_minus.gm_m * (1.0 - np.cos(np.pi / 6.0))
    assert criteria["imo-area-to-30"].plus_minus == pytest.approx(by_hand, rel=0.15)


def test_water_left_standing_in_a_cockpit_is_known_as_the_height_of_its_sole():
    well = {
        "kind": "cockpit",
        "x_forward_m": 5.0,
        "deck_z_m": 1.5,
        "coaming_top_z_m": 1.7,
        "seat_well_m": [2.0, 2.0, 0.5],
        "foot_well_m": [1.0, 1.0, 1.04],
        "foot_well_forward_m": 5.5,
        "plate_mm": 5,
        "drains": {"count": 4, "diameter_mm": 200},
    }
    answer = assessed(barge_document(12, 4, 1, 2.5, 0.2, changes={"w": {"parts": {"w": well}}}))
    (cockpit,) = answer.cockpits
    rule = next(r for r in cockpit.criteria if r.id == "division240-standing-water")
    # it drains to the sea's own level, which stands over the sole as far as that lies below
    assert rule.value == pytest.approx(-cockpit.sole_above_sea_mm / 1000.0)
    assert rule.plus_minus == pytest.approx(
        row(answer, STATE).plus_minus.sinkage_mm / 1000.0, rel=0.2
    )
    assert rule.state == "met_within_doubt" if rule.margin_sd < 2.0 else "met"


def test_words_of_revisions_older_than_the_doubt_are_read_as_they_were():
    answer = json.loads(demo_answer().model_dump_json())
    newer = ("plus_minus", "margin_sd", "probability", "vcg_rise_m")
    older = {"to_be_confirmed": "to be confirmed", "not_met": "not met"}
    for c in answer["conditions"]:
        del c["gm_at_rest_m"], c["not_followed"]
        for rule in c["criteria"]:
            rule["state"] = older.get(rule["state"], "met")
            for name in newer:
                del rule[name]
    for target in answer["targets"]:
        target["state"] = "met" if target["state"].startswith("met") else "missed"
        for name in newer[:3]:
            del target[name]
    read = Assessment.model_validate_json(json.dumps(answer))
    rules = {r.id: r for r in row(read, "departure").criteria}
    assert rules["iso12217-stix"].state == "to be confirmed"
    assert state_in_words(rules["iso12217-stix"]) == "to be confirmed"
    assert rules["imo-initial-gm"].margin_sd is None
    assert "±" not in figures_in_words(rules["imo-initial-gm"])
    assert "missed: Trim as surveyed" in tables(read)
    document = document_of(demo_document())
    changed = compared(("old", document, read), ("new", document, demo_answer())).rows
    worded = [r for r in changed if r.group == "criteria" and isinstance(r.before, str)]
    # what says the same in other words is no change; what its doubt reaches is
    assert {r.before for r in worded} == {"met"}
    assert all("within doubt" in r.after for r in worded)


def test_a_heavier_load_known_less_well_widens_what_is_judged():
    loads = {"lead": weight(3000, (6, 0, 1.5), plus_minus_kg=600)}
    sure = {"lead": weight(3000, (6, 0, 1.5), plus_minus_kg=0)}
    wide, close = (
        row(near_the_limit(0.5, 0.02, conditions={STATE: {"loads": one}}), STATE)
        for one in (loads, sure)
    )
    for name in ("imo-initial-gm", "imo-area-to-30", "mgn280-range-90"):
        before, after = (next(r for r in c.criteria if r.id == name) for c in (close, wide))
        assert after.plus_minus > 1.1 * before.plus_minus, name
