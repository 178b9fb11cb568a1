"""Everybody on board at the rail: 75 kg each.

Source: ISO 14946:2021, clause 5: crew limit at 75 kg a person, with permanent tanks 95 % full.
Seen: quoted elsewhere (a conformity body's page; ISO 12217-3:2013, 3.5, says the same).
Known: no worked example; a box heeled by hand. Tank fills are the owner's own, by condition.
"""

from math import atan, degrees

import pytest
from refits import SEA, barge_document, boat
from scipy.optimize import brentq

from hullchange.check_pack.worst_cases import crew_on_one_side

LENGTH, BEAM, DRAUGHT, DEPTH, VCG = 12.0, 4.0, 1.0, 2.5, 0.2
MASS, DECK = SEA * LENGTH * BEAM * DRAUGHT, DEPTH - DRAUGHT


def gm_with(added):
    """GM and BM of the barge with a weight added on the deck."""
    mass = MASS + added
    draught = mass / SEA / LENGTH / BEAM
    bm = BEAM**2 / 12 / draught
    return draught / 2 - 1 + bm - (MASS * VCG + added * DECK) / mass, bm


def test_a_crew_on_a_barges_rail_by_hand():
    persons = 20
    plain = barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, VCG)
    added = 75.0 * persons
    gm, bm = gm_with(added)
    shift = added * BEAM / 2 / (MASS + added)
    tangent = brentq(lambda t: t * (gm + bm * t * t / 2) - shift, 0.0, 1.0, xtol=1e-15)
    for row in crew_on_one_side(boat(plain | {"boat": {"name": "Barge", "persons": persons}})):
        assert (row.mass, row.at) == (added, pytest.approx((6.0, 2.0, DECK)))
        assert row.heel_before == pytest.approx(0.0, abs=1e-9)
        assert row.heel_starboard == pytest.approx(degrees(atan(tangent)), abs=1e-7)
        assert row.heel_port == pytest.approx(-degrees(atan(tangent)), abs=1e-7)
