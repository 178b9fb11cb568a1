"""Timed rolls of a document: how GM changed, never GM itself."""

import pytest
from refits import assessed, barge_document, weight

from hullchange.present.tables import tables

STATE = "survey-state"
UP = {"mast": {"adds": {"mast": weight(500.0, (6.0, 0.0, 6.0))}}}


def barge(rolls):
    return barge_document(12, 4, 1, 2.5, -0.2, changes=UP, trials={"rolls": rolls})


def test_slower_rolls_are_a_smaller_gm_by_the_square():
    before = {"swings": 10, "times_s": [30.0, 30.2]}
    after = {"swings": 10, "times_s": [33.0, 33.22]}
    answer = assessed(barge({"before": before, "after": after}), levers=None)
    rolls = answer.rolls
    assert rolls.before_period_s == pytest.approx(3.01)
    assert rolls.after_period_s == pytest.approx(3.311)
    assert rolls.gm_ratio == pytest.approx((1 / 1.1) ** 2)
    old, new = (c.gm_m for c in answer.conditions if c.id == STATE)
    assert rolls.gm_ratio_expected == pytest.approx(new / old)
    assert [f.code for f in answer.findings if f.place == "trials.rolls"] == []
    text = tables(answer)
    assert "before 3.01 s, after 3.31 s" in text
    assert "not how large it is" in text
    assert not any("gm_m" in name for name in type(rolls).model_fields)


def test_rolls_before_the_refit_alone_tell_a_period():
    answer = assessed(barge({"before": {"swings": 5, "times_s": [15.0]}}), levers=None)
    assert answer.rolls.before_period_s == pytest.approx(3.0)
    assert answer.rolls.after_period_s is None
    assert answer.rolls.gm_ratio is None
    assert "after -" in tables(answer)


def test_few_swings_are_said_to_be_few():
    timed = {"swings": 3, "times_s": [9.0]}
    answer = assessed(barge({"before": timed, "after": timed}), levers=None)
    doubts = [f for f in answer.findings if f.code == "few-rolls"]
    assert [f.place for f in doubts] == ["trials.rolls", "trials.rolls"]


def test_a_boat_that_was_not_timed_has_no_such_answer():
    answer = assessed(barge({}), levers=None)
    assert answer.rolls is None
    assert "Timed rolls" not in tables(answer)
