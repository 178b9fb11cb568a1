"""Textbook ships through the whole chain: document, hull by lines, survey, changes, rest.

Source: D. R. Derrett, Ship Stability for Masters and Mates, examples on list (p. 116-117) and
    on a slack double-bottom tank (p. 195), to scale so that the masses are a yacht's; trim of
    the box by moment to change trim, the book's method on own numbers.
Seen: page images as text (list, tank); own arithmetic (trim).
Known: the book takes the sine of the list for its tangent's line and leaves out that sides
    rise with heel; both are below what its printed digits show.
"""

from math import atan, cos, degrees, radians, sin, sqrt, tan

import pytest
from refits import SEA, assessed, barge_document, row, weight
from scipy.optimize import brentq


def test_list_after_loading_and_discharging():
    # 1 t of the book is 1 kg here, a metre a metre; KM 8.70 m at 8500 kg
    length, mass, km = 16.0, 8500.0, 8.70

    def km_of(draught):
        beam = mass / SEA / length / draught
        return draught / 2 + beam**2 / (12 * draught)

    draught = brentq(lambda t: km_of(t) - km, 0.05, 0.5)
    beam = mass / SEA / length / draught
    found = draught * 8000 / 8500

    def at(kg, y):
        return (length / 2, y, kg - found)

    change = {
        "adds": {"one": weight(250, at(6.1, 7.6)), "two": weight(300, at(0.6, -6.1))},
        "removes": {"three": weight(50, at(1.2, -4.6))},
    }
    plain = barge_document(length, beam, found, 0.6, 7.6 - found, changes={"cargo": change})
    answer = assessed(plain)
    before, after = row(answer, "survey-state", "as_found"), row(answer, "survey-state")
    assert before.displacement_kg == pytest.approx(8000, rel=1e-9)
    assert after.displacement_kg == pytest.approx(8500, rel=1e-9)
    assert after.vcg_above_keel_m == pytest.approx(7.346, abs=0.0005)
    moment = after.centre_of_gravity_m[1] * after.displacement_kg
    assert moment == pytest.approx(300, abs=1e-6)  # to starboard
    # sides that rise with heel: tan(list) (GM + BM tan^2(list) / 2) is the shift of G
    gm, shift = km - 62445 / 8500, 300 / 8500
    bm = beam**2 / (12 * draught)
    tangent = brentq(lambda t: t * (gm + bm * t**2 / 2) - shift, 0.0, 0.1)
    assert after.heel_deg == pytest.approx(degrees(atan(tangent)), abs=1e-7)
    # the book's 1.494 deg leaves the second term out: 0.2 % here
    assert degrees(atan(shift / gm)) == pytest.approx(1.494, abs=0.0005)
    assert after.heel_deg == pytest.approx(1.494, rel=0.0025)
    assert after.gm_m == pytest.approx(gm, rel=1e-9)
    # and GM at rest is the slope of the righting lever at the list
    heel = atan(tangent)
    rising = cos(heel) * (gm + bm * tangent**2 / 2) + bm * tangent**2 / cos(heel)
    assert after.gm_at_rest_m == pytest.approx(rising + shift * sin(heel), abs=1e-9)
    assert gm == pytest.approx(1.354, abs=0.0005)


def test_slack_double_bottom_tank():
    # a tenth in length, a thousandth in mass: KM 8 m is 0.8 m, 8153.75 t is 8153.75 kg
    draught, mass = 0.5, 8000.0
    beam = sqrt((0.8 - draught / 2) * 12 * draught)
    length = mass / SEA / beam / draught
    found = draught * 8153.75 / 8000
    tank = {
        "box_m": {
            "x": [length / 2 - 0.75, length / 2 + 0.75],
            "y": [-0.5, 0.5],
            "z": [-found, 0.2 - found],
        },
        "capacity_l": 300,
        "contents": "salt",
    }
    plain = barge_document(
        length,
        beam,
        found,
        1.0,
        0.75 - found,
        survey={"aboard": {"ballast": {"tank": "double-bottom", "fill_l": 300}}},
        tanks={"double-bottom": tank},
        conditions={"survey-state": {}, "half": {"fills": {"double-bottom": 150}}},
    )
    answer = assessed(plain)
    full, half = row(answer, "survey-state", "as_found"), row(answer, "half", "as_found")
    assert full.displacement_kg == pytest.approx(8153.75, rel=1e-9)
    assert full.gm_m == pytest.approx(full.gm_solid_m, abs=1e-9)  # a full tank does not move
    assert half.displacement_kg == pytest.approx(8000.0, rel=1e-9)
    assert half.vcg_above_keel_m == pytest.approx(0.76153, abs=0.000005)
    assert half.gm_solid_m - half.gm_m == pytest.approx(0.01602, abs=0.000005)
    assert half.gm_m == pytest.approx(0.02245, abs=0.000005)


def test_trim_of_a_box_by_a_weight_moved_aft():
    length, beam, draught = 20.0, 6.0, 1.5
    move = weight(2000, (6.0, 0.0, 0.0)) | {"to_m": [14.0, 0.0, 0.0]}
    plain = barge_document(
        length, beam, draught, 3.0, 1.2 - draught, changes={"shift": {"moves": {"crate": move}}}
    )
    answer = assessed(plain)
    before, after = row(answer, "survey-state", "as_found"), row(answer, "survey-state")
    assert after.displacement_kg == pytest.approx(SEA * length * beam * draught, rel=1e-9)
    assert before.trim_moment_kgm_per_cm == pytest.approx(2008.5, abs=0.05)
    assert after.trim_mm == pytest.approx(79.661, abs=0.0005)
    shift, bml = 16000 / before.displacement_kg, length**2 / 12 / draught
    gml = draught / 2 + bml - 1.2
    assert gml == pytest.approx(21.772, abs=0.0005)
    tangent = brentq(lambda t: t * (gml + bml * t**2 / 2) - shift, 0.0, 0.1)
    assert tan(radians(after.trim_deg)) == pytest.approx(tangent, abs=1e-12)
    assert after.trim_mm == pytest.approx(1000 * length * tangent, abs=1e-7)
    assert after.sinkage_mm == pytest.approx(0.0, abs=1e-7)
