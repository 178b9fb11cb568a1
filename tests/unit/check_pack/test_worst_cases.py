"""Everybody to one side."""

from math import degrees

import pytest
from refits import boat, changed, demo, demo_document

from hullchange.check_pack.worst_cases import crew_on_one_side, sheer_amidships
from hullchange.criteria.facts import Absent


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
