"""Cubics through points, held against the library's own."""

import numpy as np
import pytest
from scipy.interpolate import CubicSpline

from hullchange.geometry.cubics import Cubics, not_a_knot


@pytest.fixture
def places():
    return np.cumsum(np.random.default_rng(7).uniform(0.2, 2.0, 12))


@pytest.mark.parametrize("count", [2, 3, 4, 5, 12])
def test_not_a_knot_as_the_library_has_it(places, count):
    x, values = places[:count], np.random.default_rng(count).normal(size=(count, 2))
    ours, theirs = Cubics.through(x, values), CubicSpline(x, values)
    between = np.linspace(x[0], x[-1], 301)
    assert ours(between) == pytest.approx(theirs(between), abs=1e-11)
    assert not_a_knot(x) @ values == pytest.approx(theirs(x, 1), abs=1e-11)


def test_beyond_its_ends_it_runs_straight_on(places):
    values = np.sin(places)[:, None]
    ours, theirs = Cubics.through(places, values), CubicSpline(places, values)
    for end, step in ((places[0], -0.7), (places[-1], 0.7)):
        assert ours(np.array([end])) == pytest.approx(theirs([end]), abs=1e-12)
        ahead = theirs([end]) + step * theirs([end], 1)
        assert ours(np.array([end + step])) == pytest.approx(ahead, abs=1e-11)


def test_at_a_corner_it_is_two_curves(places):
    values = np.abs(places - places[5])[:, None]
    curve = Cubics.through(places, values, (5,))
    between = np.linspace(places[0], places[-1], 301)
    assert curve(between)[:, 0] == pytest.approx(np.abs(between - places[5]), abs=1e-12)
