"""Passenger vessels under sail on inland waterways.

Source: EU technical rules for inland waterway vessels, article 15bis.03: wind 0.07 kN/m2; heel
    at most 20 deg, residual safety distance at least 100 mm, residual freeboard not negative;
    largest lever at 25 deg or more; 0.20 m at 30 deg or more; range beyond 60 deg; areas 0.055,
    0.09, 0.03 m rad.
Seen: French order of 30 December 2008, chapter 15 bis, opened in part (to the levers); range
    and areas transcribed elsewhere.
Known: whether the wind's lever falls with heel is not said in the part opened: it is held,
    which is severe. The hull's own windage is not counted.
"""

from dataclasses import replace
from math import asin, radians

import numpy as np
import pytest
from stability import BOAT, answer, facts, opening, sine_levers

from hullchange.criteria.criterion import CriterionState, NotAnswered, Sense
from hullchange.criteria.facts import Absent
from hullchange.criteria.inland import RULES, wind_lever


def found(code, **given):
    return answer(RULES, f"inland-{code}", facts(**given))


def test_wind_lever_by_hand():
    # 70 Pa x 70 m2 x 7.2 m / (13 000 kg x 9.80665)
    assert wind_lever(facts(), BOAT.sails) == pytest.approx(0.276735, abs=5e-7)


def test_heel_under_the_wind_by_hand():
    heel_deg = 118.0 / 180.0 * np.degrees(asin(0.2767353 / 0.72))
    wind = found("wind-heel")
    assert wind.value == pytest.approx(heel_deg, abs=1e-4)
    assert (wind.limit, wind.state) == (20.0, CriterionState.MET)
    assert found("wind-heel", levers=sine_levers(0.5)).state is CriterionState.NOT_MET


def test_freeboard_and_safety_distance_are_taken_at_that_heel():
    heel_deg = found("wind-heel").value
    edge = np.linspace(0.0, np.pi, 181)
    left = found("residual-freeboard", deck_edge=1.1 - 3.0 * edge)
    assert left.value == pytest.approx(1.1 - 3.0 * radians(heel_deg), abs=1e-9)
    assert left.state is CriterionState.MET
    assert (
        found("residual-freeboard", deck_edge=0.7 - 3.0 * edge).state is CriterionState.NOT_MET
    )
    two = [opening("hatch", 0.5, 20.0, 0.9), opening("vent", 0.01, 60.0, 2.0)]
    distance = found("safety-distance", openings=two)
    assert distance.value == pytest.approx(0.9 * (1.0 - heel_deg / 20.0), abs=1e-9)
    assert distance.keeps_the_limit
    near = found("safety-distance", openings=[opening("hatch", 0.5, 16.0, 0.9)])
    assert 0.0 < near.value < 0.1
    assert not near.keeps_the_limit
    # which openings count is only remembered
    assert near.state is distance.state is CriterionState.TO_BE_CONFIRMED
    tight = opening("window", 0.1, 10.0, 0.5, closing="watertight")
    assert found("safety-distance", openings=[tight, *two]).value == distance.value
    hatch = opening("hatch", 0.1, 20.0, 0.5, closing="weathertight")
    assert found("safety-distance", openings=[hatch]).value < distance.value


def test_a_wind_she_cannot_stand_lays_her_flat():
    flat = found("wind-heel", levers=sine_levers(0.2))
    assert (flat.value, flat.state) == (180.0, CriterionState.NOT_MET)
    assert "laid flat" in flat.remarks[0]


def test_the_shape_of_the_curve():
    assert found("range").state is CriterionState.MET
    assert found("range", levers=sine_levers(0.7, 60.0)).state is CriterionState.NOT_MET
    assert found("heel-of-largest-lever").value == pytest.approx(59.0, abs=1e-6)
    assert found("lever-from-30").value == pytest.approx(0.72, abs=1e-9)
    areas = {code: found(code) for code in ("area-0-to-30", "area-0-to-40", "area-30-to-40")}
    assert [a.limit for a in areas.values()] == [0.055, 0.090, 0.030]
    assert areas["area-0-to-30"].value == pytest.approx(0.14272, abs=5e-6)


def test_limits():
    hatch = [opening("hatch", 0.5, 80.0)]
    given = [answer(RULES, r.criterion.id, facts(openings=hatch)) for r in RULES]
    limits = [20.0, 0.0, 0.1, 25.0, 0.20, 60.0, 0.055, 0.090, 0.030]
    assert [found.limit for found in given] == limits
    senses = {found.id: found.criterion.sense for found in given}
    assert senses["inland-range"] is Sense.MORE_THAN
    assert senses["inland-wind-heel"] is Sense.AT_MOST


def test_what_needs_the_sails_is_not_answered_without_them():
    bare = replace(BOAT, sails=Absent("The sail area is not given."))
    for code in ("wind-heel", "residual-freeboard", "safety-distance"):
        silent = found(code, boat=bare)
        assert isinstance(silent, NotAnswered)
        assert silent.reason == "The sail area is not given."
    assert isinstance(found("safety-distance"), NotAnswered)
