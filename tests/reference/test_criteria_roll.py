"""Rolling period and GM.

Source: IMO rolling period test (Intact Stability Code, annex; Fiji and Canada reprint it):
    GM = (f B / T)^2, f 0.88 empty or in ballast, 0.78, 0.75, 0.73 with 20, 10, 5 % of liquids,
    0.80 deep-sea fishing, 0.95 with a double boom, 0.60 with a live well, each within 0.05; at
    least five oscillations, twice. f = 2 C,
    C = 0.373 + 0.023 B/d - 0.043 L/100. T = 0.44 B / sqrt(GM) in feet: B 50, GM 1, 22 s.
Seen: opened.
Known: approximate by its own words, and not to be used near a limit. 0.44 belongs to feet.
"""

import pytest

from hullchange.criteria.facts import Absent
from hullchange.criteria.roll import (
    RollFactor,
    TimedRolls,
    gm_of_roll,
    gm_ratio,
    is_code_factor,
    own_factor,
    roll_period,
)
from hullchange.errors import ModelError


@pytest.mark.parametrize(
    ("factor", "gm"),
    [
        (RollFactor.EMPTY_OR_IN_BALLAST, 0.731),
        (RollFactor.FISHING_DEEP_SEA, 0.604),
        (RollFactor.LADEN_LIQUIDS_20_PERCENT, 0.574),
    ],
)
def test_gm_from_the_period(factor, gm):
    assert gm_of_roll(3.5, 3.4, factor.value).value == pytest.approx(gm, abs=5e-4)


def test_every_factor():
    printed = (0.88, 0.78, 0.75, 0.73, 0.80, 0.95, 0.60)
    assert tuple(factor.value for factor in RollFactor) == printed
    for factor in printed:
        rough = gm_of_roll(1.0, 1.0, factor)
        assert (rough.low**0.5, rough.high**0.5) == pytest.approx(
            (factor - 0.05, factor + 0.05)
        )


def test_the_factor_alone_leaves_an_eighth():
    rough = gm_of_roll(3.5, 3.4, 0.80)
    assert rough.high / rough.value - 1.0 == pytest.approx(0.13, abs=5e-3)
    assert 1.0 - rough.low / rough.value == pytest.approx(0.12, abs=5e-3)


def test_the_textbook_period():
    assert roll_period(1.0, 50.0, 0.44).value == pytest.approx(22.0)


def test_period_and_gm_are_one_another_backwards():
    period = roll_period(0.731, 3.4, 0.88)
    assert gm_of_roll(period.value, 3.4, 0.88).value == pytest.approx(0.731)
    assert gm_of_roll(period.low, 3.4, 0.83).value == pytest.approx(0.731)
    assert own_factor(0.731, 3.4, period.value) == pytest.approx(0.88)


def test_the_factor_of_the_weather_criterion():
    factor = is_code_factor(3.4, 1.8, 10.5)
    assert factor / 2.0 == pytest.approx(0.373 + 0.04344 - 0.004515, abs=5e-6)
    assert roll_period(1.0, 3.4, factor).value == pytest.approx(2.801, abs=5e-4)


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
