"""Rolling period and GM.

Source: IMO rolling period test (Intact Stability Code, annex; Fiji and Canada reprint it):
    GM = (f B / T)^2, f 0.80 deep-sea fishing, within 0.05; at least five oscillations, twice.
    T = 0.44 B / sqrt(GM) in feet: B 50, GM 1, 22 s.
Seen: opened.
Known: approximate by its own words, and not to be used near a limit. 0.44 belongs to feet.
"""

import pytest

from hullchange.criteria.facts import Absent
from hullchange.criteria.roll import FACTOR, TimedRolls, gm_ratio, roll_period
from hullchange.errors import ModelError


def test_period_and_gm_are_one_another_backwards():
    period = roll_period(0.604, 3.4)
    assert period.value == pytest.approx(3.5, abs=5e-4)
    for seconds, factor in ((period.low, 0.75), (period.value, 0.80), (period.high, 0.85)):
        assert (factor * 3.4 / seconds) ** 2 == pytest.approx(0.604)


def test_the_textbook_period():
    assert roll_period(1.0, 50.0).value / FACTOR * 0.44 == pytest.approx(22.0)


@pytest.mark.parametrize("gm", [0.0, -0.05])
def test_a_boat_that_lolls_has_no_period(gm):
    assert isinstance(roll_period(gm, 3.4), Absent)


def test_only_the_ratio_of_timed_rolls_is_read():
    before, after = TimedRolls(5, (17.5, 17.5)), TimedRolls(5, (20.0, 20.0))
    ratio = gm_ratio(before, after)
    assert ratio.value == pytest.approx((3.5 / 4.0) ** 2)
    assert ratio.findings == ()
    # 0.2 s on each timing, two timings of each: 2 hypot(0.2/17.5, 0.2/20) / sqrt 2
    assert ratio.plus_minus / ratio.value == pytest.approx(0.021476, abs=5e-7)
    # the same boat twice in any unit of swings
    assert gm_ratio(before, TimedRolls(10, (35.0, 35.0))).value == pytest.approx(1.0)


def test_scatter_counts_where_it_is_more_than_the_stopwatch():
    steady, wild = TimedRolls(5, (17.5, 17.5)), TimedRolls(5, (16.5, 18.5))
    assert wild.period == steady.period
    assert wild.sd == pytest.approx(2.0**0.5 / 2.0**0.5 / 5.0)
    assert gm_ratio(steady, wild).plus_minus > 3.0 * gm_ratio(steady, steady).plus_minus


def test_few_rolls_are_doubtful_and_none_are_refused():
    short = gm_ratio(TimedRolls(3, (10.5, 10.5)), TimedRolls(5, (17.5,)))
    assert [finding.code for finding in short.findings] == ["few-rolls", "few-rolls"]
    for timed in (TimedRolls(5, ()), TimedRolls(0, (10.0,)), TimedRolls(5, (0.0,))):
        with pytest.raises(ModelError) as refusal:
            gm_ratio(timed, TimedRolls(5, (17.5, 17.5)))
        assert refusal.value.code == "rolls-untimed"
