"""Growth margin, and everybody to one side."""

from math import atan, degrees

import pytest
from refits import SEA, barge_document, boat, changed, demo, demo_document
from scipy.optimize import brentq

from hullchange.criteria.facts import Absent
from hullchange.study.worst_cases import crew_on_one_side, growth_margin, sheer_amidships

LENGTH, BEAM, DRAUGHT, DEPTH, VCG = 12.0, 4.0, 1.0, 2.5, 0.2
MASS, DECK = SEA * LENGTH * BEAM * DRAUGHT, DEPTH - DRAUGHT


def barge(persons=None):
    plain = barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, VCG)
    return boat(plain | {"boat": {"name": "Barge", "persons": persons}})


def gm_with(added):
    """GM and BM of the barge with a weight added on the deck."""
    mass = MASS + added
    draught = mass / SEA / LENGTH / BEAM
    bm = BEAM**2 / 12 / draught
    return draught / 2 - 1 + bm - (MASS * VCG + added * DECK) / mass, bm


def test_growth_on_a_barge_by_hand():
    found = growth_margin(barge())
    assert [answer.stage for answer in found] == ["as_found", "refit"]
    for answer in found:
        added = 0.05 * MASS
        assert answer.displacement_kg == pytest.approx(1.05 * MASS)
        height = (MASS * VCG + added * DECK) / (MASS + added)
        assert answer.centre_of_gravity_m == pytest.approx((6, 0, height), abs=1e-9)
        assert answer.gm_m == pytest.approx(gm_with(added)[0])
        assert answer.righting_levers is not None
        assert answer.vanishing_angle_deg is not None


def test_a_crew_on_a_barges_rail_by_hand():
    persons = 20
    added = 75.0 * persons
    gm, bm = gm_with(added)
    shift = added * BEAM / 2 / (MASS + added)
    tangent = brentq(lambda t: t * (gm + bm * t * t / 2) - shift, 0.0, 1.0, xtol=1e-15)
    for row in crew_on_one_side(barge(persons)):
        assert (row.mass, row.at) == (added, pytest.approx((6.0, 2.0, DECK)))
        assert row.heel_before == pytest.approx(0.0, abs=1e-9)
        assert row.heel_starboard == pytest.approx(degrees(atan(tangent)), abs=1e-7)
        assert row.heel_port == pytest.approx(-degrees(atan(tangent)), abs=1e-7)


def test_a_crew_on_the_demos_rail_is_near_the_formula_of_small_heel():
    built, _, _ = demo()
    rows = crew_on_one_side(built)
    assert len(rows) == 12
    _, y, _ = sheer_amidships(built)
    grown = next(r for r in rows if (r.condition, r.stage) == ("survey-state", "refit"))
    assert grown.mass == 300.0
    list_alone = degrees(300.0 * y / (12922.1 * 0.96))
    swing = (grown.heel_starboard - grown.heel_port) / 2
    # GM with the crew aboard is 0.96 within 0.03 m: 3 % of the heel
    assert swing == pytest.approx(list_alone, rel=0.03)
    assert all(r.heel_port < r.heel_before < r.heel_starboard for r in rows)


@pytest.mark.parametrize("persons", [None, 0])
def test_without_persons_there_is_a_sentence(persons):
    built = boat(changed(demo_document(), boat__persons=persons))
    found = crew_on_one_side(built)
    assert isinstance(found, Absent)
    assert "boat.persons" in found.why
