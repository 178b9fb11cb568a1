"""The lever curve between its points."""

from itertools import pairwise
from math import cos, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from stability import sine_levers

from hullchange.criteria.levers import AtHeel, Beyond, SideLevers
from hullchange.errors import ModelError

TURN = 180.0 / 118.0


def curve(function, slope, points=181):
    heel = np.linspace(0.0, pi, points)
    return SideLevers(heel, function(heel), slope(heel))


def polynomial(*coefficients):
    """A cubic at most: the curve is then exact whatever its points."""
    p = np.polynomial.Polynomial(coefficients)
    return curve(p, p.deriv(), points=7), p


def stepped(before=0.3, after=0.1, at_deg=50.0):
    """Level levers that step down at an angle."""
    at = radians(at_deg)
    heel = np.array([0.0, at, at, pi])
    return SideLevers(heel, np.array([before, before, after, after]), np.zeros(4))


@given(st.lists(st.floats(-1.0, 1.0), min_size=4, max_size=4), st.floats(0.0, pi))
def test_a_cubic_is_read_exactly(coefficients, heel):
    levers, p = polynomial(*coefficients)
    assert levers.at(heel) == pytest.approx(p(heel), abs=1e-12)
    area = p.integ()
    assert levers.area(heel / 2.0, heel) == pytest.approx(
        area(heel) - area(heel / 2), abs=1e-12
    )
    dense = np.linspace(0.0, heel, 2001)
    assert levers.peak(0.0, heel).gz >= p(dense).max() - 1e-12


def test_areas_add_up_and_are_nought_backwards():
    levers = sine_levers()
    bounds = [0.0, 0.123, 0.5, 2.0, pi]
    parts = [levers.area(a, b) for a, b in pairwise(bounds)]
    assert sum(parts) == pytest.approx(levers.area(0.0, pi), abs=1e-14)
    assert levers.area(1.0, 0.5) == 0.0


def test_order_of_convergence():
    exact = 0.72 / TURN * (1.0 - cos(TURN * radians(40.0)))
    errors = [
        abs(sine_levers(step_deg=step).area(0.0, radians(40.0)) - exact)
        for step in (10, 5, 2.5)
    ]
    rates = [np.log2(coarse / fine) for coarse, fine in pairwise(errors)]
    assert rates == pytest.approx([4.0, 4.0], abs=0.2)


def test_the_peak_lies_between_points():
    # peak at 59 deg, points every 10
    peak = sine_levers(step_deg=10).peak(0.0, pi)
    assert np.degrees(peak.heel) == pytest.approx(59.0, abs=0.02)
    assert peak.gz == pytest.approx(0.72, abs=2e-5)
    assert sine_levers().peak(0.0, radians(20.0)).heel == radians(20.0)
    assert sine_levers().peak(radians(80.0), pi).heel == radians(80.0)


def test_vanishing():
    assert sine_levers().vanishing.heel == pytest.approx(radians(118.0), abs=1e-9)
    upright = curve(lambda h: -0.2 * np.sin(h), lambda h: -0.2 * np.cos(h))
    assert upright.vanishing == AtHeel(0.0)
    # upside down she rests short of 180 degrees, and turns up to there from beyond
    listed = curve(lambda h: -0.2 * np.sin(h + 0.1), lambda h: -0.2 * np.cos(h + 0.1))
    assert listed.vanishing == AtHeel(0.0)
    righting = curve(lambda h: 0.2 * np.sin(h) + 0.1, lambda h: 0.2 * np.cos(h))
    assert righting.vanishing == Beyond(pytest.approx(pi))


def test_a_boat_that_lolls_vanishes_after_her_loll():
    # GZ = sin h (-0.05 + 0.5 sin^2 h): loll where sin h = sqrt 0.1
    def gz(h):
        return np.sin(h) * (0.5 * np.sin(h) ** 2 - 0.05)

    def slope(h):
        return np.cos(h) * (1.5 * np.sin(h) ** 2 - 0.05)

    assert sin(curve(gz, slope).vanishing.heel) == pytest.approx(0.1**0.5, abs=1e-7)
    assert curve(gz, slope).vanishing.heel > radians(150.0)


def test_rounding_at_rest_is_no_lever():
    # a boat that lolls, her lever at rest a rounding above nought
    heel = np.linspace(0.0, pi, 181)
    gz = np.sin(heel) * (0.5 * np.sin(heel) ** 2 - 0.05) + 1e-15
    slope = np.cos(heel) * (1.5 * np.sin(heel) ** 2 - 0.05)
    assert SideLevers(heel, gz, slope).vanishing.heel > radians(150.0)


def test_a_curve_that_ends_before_she_is_inverted():
    short = sine_levers(0.5, 150.0)
    kept = short.heel < radians(120.5)
    levers = SideLevers(short.heel[kept], short.gz[kept], short.slope[kept])
    assert levers.vanishing == Beyond(pytest.approx(radians(120.0)))
    assert levers.at(pi) == levers.gz[-1]
    assert levers.area(0.0, pi) == pytest.approx(levers.area(0.0, radians(120.0)))


def test_a_dip_below_nought_ends_the_range():
    dip = curve(lambda h: np.sin(3 * h), lambda h: 3 * np.cos(3 * h))
    assert dip.vanishing.heel == pytest.approx(radians(60.0), abs=1e-8)


def test_meeting_a_heeling_lever():
    levers = sine_levers()
    assert levers.meets(lambda _: 0.36).heel == pytest.approx(radians(30.0 / TURN), abs=1e-8)
    assert levers.meets(lambda _: 0.0) == AtHeel(0.0)
    assert levers.meets(lambda _: 0.8) == Beyond(pytest.approx(pi))
    mast = levers.meets(lambda h: 0.5 * cos(h))
    assert levers.at(mast.heel) == pytest.approx(0.5 * cos(mast.heel), abs=1e-10)


def test_a_step_belongs_to_what_was_before_it():
    levers = stepped()
    at = radians(50.0)
    assert [levers.at(h) for h in (at - 1e-9, at, at + 1e-9)] == pytest.approx([0.3, 0.3, 0.1])
    assert levers.area(0.0, pi) == pytest.approx(0.3 * at + 0.1 * (pi - at))
    assert levers.peak(at, pi).gz == pytest.approx(0.3)
    assert stepped(after=-0.1).vanishing == AtHeel(at)
    falls_to_nought = stepped(after=0.0)
    assert falls_to_nought.vanishing == AtHeel(at)


def test_a_step_is_met_where_it_rises():
    assert stepped(before=0.1, after=0.3).meets(lambda _: 0.2) == AtHeel(radians(50.0))


@pytest.mark.parametrize(
    "heel",
    [
        np.linspace(0.0, pi / 2.1, 91),
        np.linspace(0.1, pi, 180),
        np.linspace(-pi, pi, 361),
        np.linspace(0.0, pi, 181)[::-1],
        np.array([0.0]),
    ],
)
def test_half_a_curve_is_refused(heel):
    with pytest.raises(ModelError) as refusal:
        SideLevers(heel, np.zeros(len(heel)), np.zeros(len(heel)))
    assert refusal.value.code == "levers-incomplete"


def test_levers_that_do_not_belong_to_the_heels_are_refused():
    with pytest.raises(ModelError):
        SideLevers(np.linspace(0.0, pi, 181), np.zeros(91), np.zeros(91))
