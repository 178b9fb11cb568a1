"""Worked trim examples of a ship officers' textbook, floated on boxes of the same TPC and MCT.

Source: D. R. Derrett, Ship Stability for Masters and Mates: p. 147-148 example 5 (discharge
    from two holds), p. 148 (centre of flotation from a loading that does not trim her),
    exercise on trim with its solution (a ship of 120 m, MCT 250 t m, TPC 10 t).
Seen: opened (page images as text); the exercise and its solution quoted on sailorsknowit.com.
Known: the exercise's last draught forward, 6.75 m, adds the whole change of trim where half of
    it belongs: 6.56 m. Its 380 t come of draughts rounded to a centimetre. MCT 250 with TPC 10
    is more than a waterplane of 120 m has, so the box is longer than the marks are apart. The
    answer of the third, 3.158 m, is our own arithmetic. Tonnes and metres; x aft.
"""

import bodies
import numpy as np
import pytest
from scipy.optimize import brentq

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, equilibrium
from hullchange.floating.hydrostatics import hydrostatics

SEA = 1.025  # [t/m^3]
PRINTED = 0.005  # half a centimetre


def box_of(per_cm, trim_moment, length, draught):
    """A box about amidships that has a TPC and an MCT 1 cm, marks ``length`` apart."""
    area = 100.0 * per_cm / SEA
    own_length = np.sqrt(12.0 * 100.0 * length * trim_moment / SEA / area)
    hull = bodies.barge(own_length, area / own_length, 3.0 * draught)
    envelope = Envelope((Piece(hull, True, "ship"),))
    found = hydrostatics(envelope, hull, length, SEA, draught)
    assert (found.kg_per_cm, found.trim_moment_per_cm) == pytest.approx((per_cm, trim_moment))
    return envelope, SEA * area * draught


def afloat(envelope, weights):
    """At rest with weights (mass, x, height above the keel)."""
    rows = np.array(weights)
    mass = rows[:, 0].sum()
    x, z = rows[:, 0] @ rows[:, 1:] / mass
    return equilibrium(envelope, Loading(mass, np.array([x, 0.0, z])), SEA)


def draughts(rest, length):
    """Forward and aft [m]; the keel is at z = 0."""
    return tuple(rest.plane.water_height(x) for x in (-length / 2.0, length / 2.0))


def test_cargo_discharged_and_shifted():
    length, keel_to_g = 120.0, 3.5
    envelope, mass = box_of(10.0, 250.0, length, 7.0)
    ship = (mass, 250.0 * 60.0 / mass, keel_to_g)
    assert draughts(afloat(envelope, [ship]), length) == pytest.approx((6.7, 7.3), abs=1e-4)
    out = (-220.0, -24.0, keel_to_g)
    after = draughts(afloat(envelope, [ship, out]), length)
    assert after == pytest.approx((6.37, 7.19), abs=PRINTED)
    assert after[1] - after[0] - 0.6 == pytest.approx(0.2112, abs=2e-4)
    assert sum(after) / 2.0 == pytest.approx(7.0 - 0.22, abs=1e-5)
    shifted = [(-380.0, 5.0, keel_to_g), (380.0, -20.0, keel_to_g)]
    last = draughts(afloat(envelope, [ship, out, *shifted]), length)
    assert last == pytest.approx((6.56, 7.00), abs=PRINTED)


def test_p147_example_5_two_holds():
    length = 100.0
    envelope, mass = box_of(100.0 * SEA / 8.0, 100.0, length, 10.0)
    ship = (mass, 100.0 * 25.0 / mass, 5.0)
    arrived = afloat(envelope, [ship]).plane.trim_between_perpendiculars(length)
    assert arrived == pytest.approx(0.25, abs=1e-5)
    fixed = [(-1200.0, -30.0, 5.0), (-600.0, 20.0, 5.0), (360.0, 5.0, 5.0)]

    def trim(first_hold):
        holds = [(-first_hold, -50.0, 5.0), (first_hold - 2000.0, 45.0, 5.0)]
        rest = afloat(envelope, [ship, *fixed, *holds])
        return rest.plane.trim_between_perpendiculars(length)

    first_hold = brentq(trim, 0.0, 2000.0, xtol=1e-6)
    assert first_hold == pytest.approx(649.5, abs=0.05)
    assert 2000.0 - first_hold == pytest.approx(1350.5, abs=0.05)


def test_p148_the_centre_of_flotation_is_where_loading_does_not_trim_her():
    # 190 t put her down by 60 cm and leave 0.70 m by the stern; marks 60 m apart
    length, breadth, mean = 60.0, 190.0 / SEA / 0.6 / 60.0, 4.15
    cargo = np.array([(100.0, 24.0), (30.0, -30.0), (60.0, -15.0)])
    # loaded half-way between the two waters, so that it stiffens her neither way
    loads = np.column_stack([cargo, np.full(3, mean + 0.3)])

    def after(flotation):
        hull = bodies.moved(
            bodies.barge(length, breadth, 12.0), np.array([flotation, 0.0, 0.0])
        )
        envelope = Envelope((Piece(hull, True, "ship"),))
        mass = SEA * length * breadth * mean
        stiffness = SEA * breadth * length**3 / 12.0 + mass * (mean / 2.0 - 2.0)
        ship = (mass, flotation + 0.7 / length * stiffness / mass, 2.0)
        return afloat(envelope, [ship]), afloat(envelope, [ship, *loads])

    light, loaded = after(3.158)
    assert draughts(light, length) == pytest.approx((3.8, 4.5), abs=0.05)
    rise = np.subtract(draughts(loaded, length), draughts(light, length))
    assert rise == pytest.approx([0.6, 0.6], abs=1e-4)
    assert light.integrals.flotation_centre[0] == pytest.approx(3.158, abs=5e-4)

    def gained(flotation):
        pair = (r.plane.trim_between_perpendiculars(length) for r in after(flotation))
        return -float(np.subtract(*pair))

    assert brentq(gained, 0.0, 6.0, xtol=1e-6) == pytest.approx(3.158, abs=5e-4)
