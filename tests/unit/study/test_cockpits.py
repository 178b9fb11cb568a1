"""Cockpits full of water, by hand."""

from math import pi

import pytest
from refits import demo_answer

G = 9.80665


@pytest.fixture(scope="module")
def cockpit():
    return next(c for c in demo_answer().cockpits if c.stage == "refit")


def test_it_holds_its_two_wells(cockpit):
    told = 2.40 * 1.60 * 0.33 + 1.95 * 0.80 * 0.45
    assert cockpit.volume_m3 == pytest.approx(told)
    assert cockpit.water_kg == pytest.approx(1025.0 * told)


def test_it_drains_as_torricelli_says(cockpit):
    area = 2 * pi / 4.0 * 0.050**2
    assert cockpit.drain_area_cm2 == pytest.approx(1e4 * area)
    seconds = 0.0
    for plan, low, high in ((1.95 * 0.80, 0.0, 0.45), (2.40 * 1.60, 0.45, 0.78)):
        seconds += 2 * plan * (high**0.5 - low**0.5) / (0.6 * area * (2 * G) ** 0.5)
    assert cockpit.drain_time_s == pytest.approx(seconds)


def test_its_sole_stands_over_the_sea_as_drawn_less_how_she_floats(cockpit):
    # sole at z 0.35; she floats about 20 mm deeper and 112 mm by the stern there
    assert 250.0 < cockpit.sole_above_sea_mm < 330.0


def test_its_rules_are_yardsticks_of_other_vessels_and_only_warn(cockpit):
    assert [rule.state for rule in cockpit.criteria] == ["not met", "not met", "met"]
    told = [f for f in demo_answer().findings if f.place == cockpit.id]
    assert {f.severity for f in told} == {"warn"}
    assert {f.code for f in told} == {"criterion-not-met"}


def test_the_old_cockpit_has_no_drains_and_stays_wet():
    old = next(c for c in demo_answer().cockpits if c.stage == "as_found")
    assert old.drain_area_cm2 == 0.0
    assert old.drain_time_s is None
