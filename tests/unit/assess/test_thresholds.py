"""The size of a change by hand, on a barge, and the demo's thresholds."""

import pytest
from refits import SEA, assessed, barge_document, demo_answer, weight

from hullchange.present.tables import tables

MASS = SEA * 12.0 * 4.0 * 1.0


def states(plain):
    answer = assessed(plain, levers=None)
    return {rule.id: rule for rule in answer.thresholds}


def barge(mass, at, **more):
    adds = {"lead": weight(mass, at)}
    return barge_document(12, 4, 1, 2.5, 0.0, changes={"lead": {"adds": adds}}, **more)


def test_a_weight_is_a_share_of_hers():
    found = states(barge(0.015 * MASS, (6.0, 0.0, 0.0)))
    assert found["imo-weight"].value == pytest.approx(1.5, rel=1e-6)
    assert found["imo-weight"].state == "not reached"
    assert found["imo-weight-half"].state == "reached"
    assert found["imo-lcg-half"].state == found["imo-vcg-half"].state == "not reached"
    assert found["eu-propulsion"].state == found["us-fishing-volume"].state == "not reached"


def test_off_and_on_alike_is_no_net_change_but_an_aggregate_one():
    plain = barge(1000.0, (6.0, 0.0, 0.5))
    plain["changes"]["lead"]["removes"] = {"iron": weight(1000.0, (6.0, 0.0, 0.0))}
    found = states(plain)
    assert found["imo-weight"].value == pytest.approx(0.0, abs=1e-9)
    assert found["us-towing-aggregate"].value == pytest.approx(100.0 * 2000.0 / MASS)
    assert found["us-towing-aggregate"].state == "reached"
    # the centre of gravity one metre above the keel rises by 500 kg m
    assert found["imo-vcg"].value == pytest.approx(100.0 * 500.0 / MASS, rel=1e-6)
    assert found["us-fishing-vcg"].value == pytest.approx(1000.0 * 500.0 / MASS, rel=1e-6)


def test_a_weight_aft_is_a_share_of_her_length():
    found = states(barge(100.0, (12.0, 0.0, 0.0)))
    shift = 100.0 * 6.0 / (MASS + 100.0)
    assert found["imo-lcg"].value == pytest.approx(100.0 * shift / 12.0, rel=1e-6)


def test_the_demo_says_whom_to_ask_and_gives_no_ruling():
    found = {rule.id: rule for rule in demo_answer().thresholds}
    reached = ("eu-propulsion", "france-length", "us-fishing-volume", "us-towing-aggregate")
    assert [name for name in reached if found[name].state != "reached"] == []
    assert found["us-towing-aggregate"].value > found["imo-weight"].value
    assert {rule.grade for rule in found.values()} == {"B"}
    assert all("opened" in rule.source for rule in found.values())
    text = tables(demo_answer())
    assert "orientation only)" in text
    assert "reached: means of propulsion" in text


def test_the_first_answer_to_an_edit_leaves_them_out():
    plain = barge(100.0, (6.0, 0.0, 0.0))
    assert assessed(plain, only="survey-state", levers=None).thresholds == ()
