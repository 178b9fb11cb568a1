"""Cockpits full of water, by hand."""

from math import pi

import pytest
from refits import assessed, barge_document, demo_answer

G = 9.80665


@pytest.fixture(scope="module")
def cockpit():
    return next(c for c in demo_answer().cockpits if c.stage == "refit")


COAMING = 0.21  # above the deck


def test_it_holds_its_two_wells_and_what_its_coamings_hold(cockpit):
    volume = 2.40 * 1.60 * (0.33 + COAMING) + 1.95 * 0.80 * 0.45
    assert cockpit.volume_m3 == pytest.approx(volume)
    assert cockpit.water_kg == pytest.approx(1025.0 * volume)


def test_it_drains_as_torricelli_says(cockpit):
    area = 2 * pi / 4.0 * 0.050**2
    assert cockpit.drain_area_cm2 == pytest.approx(1e4 * area)
    seconds = 0.0
    for plan, low, high in ((1.95 * 0.80, 0.0, 0.45), (2.40 * 1.60, 0.45, 0.78 + COAMING)):
        seconds += 2 * plan * (high**0.5 - low**0.5) / (0.6 * area * (2 * G) ** 0.5)
    assert cockpit.drain_time_s == pytest.approx(seconds)


def test_its_sole_stands_over_the_sea_as_drawn_less_how_she_floats(cockpit):
    # sole at z 0.35; she floats about 20 mm deeper and 112 mm by the stern there
    assert 250.0 < cockpit.sole_above_sea_mm < 330.0


def test_its_rules_are_yardsticks_of_other_vessels_and_only_warn(cockpit):
    assert [rule.state for rule in cockpit.criteria] == ["not_met", "not_met", "met"]
    findings = [f for f in demo_answer().findings if f.place == cockpit.id]
    assert {f.severity for f in findings} == {"warn"}
    assert {f.code for f in findings} == {"criterion-not-met"}


def barge_well(**more):
    """A barge's well: 3.2 m2 of seats 0.3 m deep, coamings of 0.1 m, a foot well."""
    well = {
        "kind": "cockpit",
        "x_forward_m": 4.0,
        "deck_z_m": 0.7,
        "coaming_top_z_m": 0.8,
        "seat_well_m": [2.0, 1.6, 0.3],
        "foot_well_m": [1.0, 0.8, 0.3],
        "foot_well_forward_m": 4.5,
        "plate_mm": 4,
        **more,
    }
    plain = barge_document(10.0, 3.0, 0.5, 1.2, 0.2, existing={"old-cockpit": well})
    found, _ = assessed(plain).cockpits  # as found, and the refit that leaves it as it is
    return found


def test_drains_that_are_not_given_are_asked_for_and_judged_by_nobody():
    old = barge_well()
    assert (old.drain_area_cm2, old.drain_time_s) == (None, None)
    assert {rule.id for rule in old.criteria} == {
        "cfr178-drainage",
        "division240-standing-water",
    }
    assert {rule.state for rule in old.criteria} == {"to_be_confirmed"}
    assert all("No drains are listed" in rule.remarks[0] for rule in old.criteria)


def test_three_minutes_after_it_was_full_to_the_coamings():
    found = barge_well(drains={"count": 2, "diameter_mm": 50})
    rules = {rule.id: rule for rule in found.criteria}
    flow = 0.6 * 2 * pi / 4.0 * 0.050**2 * (2 * G) ** 0.5
    seats = 2 * 3.2 * (0.7**0.5 - 0.3**0.5) / flow
    assert seats == pytest.approx(177.2, abs=0.05)
    left = (0.3**0.5 - (180.0 - seats) * flow / (2 * 0.8)) ** 2
    assert rules["division240-standing-water"].value == pytest.approx(left)
    assert left == pytest.approx(0.280, abs=5e-4)
    assert rules["division240-standing-water"].state == "not_met"
    assert found.drain_time_s == pytest.approx(261.0, abs=0.5)
    assert found.volume_m3 == pytest.approx(1.52)
