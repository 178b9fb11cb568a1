"""An opening on one side of a boat that rights alike to both: neither side is forgotten."""

from functools import cache
from math import atan2, degrees

import pytest
from refits import assessed, barge_document, boat, changed, row, weight

from hullchange.check_pack.weight_margin import weight_margin

VENT = {
    "edge_m": [[5.0, 1.2, 0.3]],
    "side": "one",
    "area_m2": 0.05,
    "closing": "none",
    "leads_to": "hull",
}


def moved(y):
    """The barge with a vent to starboard and a pig of lead a little off the middle."""
    plain = barge_document(10.0, 3.0, 0.5, 1.3, 0.2)
    pig = {**weight(20.0, [5.0, 0.0, 0.0]), "to_m": [5.0, y, 0.0]}
    return changed(plain, openings={"vent": VENT}, changes={"shift": {"moves": {"pig": pig}}})


@cache
def answer(y):
    return assessed(moved(y))


@pytest.mark.parametrize("y", [-0.002, 0.002])
def test_she_floods_to_the_side_of_her_vent_whichever_side_rights_less(y):
    result = row(answer(y), answer(y).reference_condition)
    assert result.worse_side == ("port" if y < 0.0 else "starboard")
    # wall-sided until the bilge comes out: about the middle of the waterplane
    by_hand = degrees(atan2(0.3, 1.2))
    assert result.downflooding_angle_deg == pytest.approx(by_hand, abs=1e-3)
    assert result.range_deg == result.downflooding_angle_deg
    assert result.sides["starboard"].downflooding_angle_deg == result.downflooding_angle_deg
    assert result.sides["port"].downflooding_angle_deg != result.downflooding_angle_deg
    assert (result.critical_opening, result.critical_side) == ("vent", "starboard")
    assert result.heeled_plus_minus.downflooding_angle_deg > 0.0


def test_no_answer_of_a_criterion_hangs_on_which_side_rights_less():
    port, starboard = (
        {c.id: c for c in row(answer(y), answer(y).reference_condition).criteria}
        for y in (-0.002, 0.002)
    )
    assert port["imo-lever-from-30"].value == 0.0  # flooded before 30 degrees
    assert port["imo-lever-from-30"].state == "not_met"
    assert any("to port it is" in remark for remark in port["imo-lever-from-30"].remarks)
    for name, one in port.items():
        assert one.state == starboard[name].state, name
        if one.value is not None:
            assert one.value == pytest.approx(starboard[name].value, rel=2e-3, abs=2e-3), name


def test_nor_does_the_limit_of_her_centre_of_gravity():
    lines = (
        {line.id: line for line in weight_margin(boat(moved(y))).lines} for y in (-0.002, 0.002)
    )
    port, starboard = lines
    for name, line in port.items():
        assert line.found == starboard[name].found, name
        assert line.vcg_m == pytest.approx(starboard[name].vcg_m, abs=5e-3), name
