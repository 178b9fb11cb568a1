"""Worked examples of a ship officers' textbook, floated on box hulls of the same KB and KM.

Source: D. R. Derrett, Ship Stability for Masters and Mates: p. 116-117 (list after loading),
    p. 130 examples 1 and 2 (wall-sided), example 14.4 (list), p. 193-195 (free surface, divided
    tanks, a double-bottom tank pumped half out).
Seen: opened, as page images; example 14.4 quoted elsewhere.
Known: the book multiplies with rounded GZ (p. 130 example 1: moment 2100, unrounded 2094.9) and
    takes GM sin H at 5 deg (example 2: 278.9, by the wall-sided formula 281.9). Lists are by
    GG1 / GM, so the exact list of the hull lies a little below: the formula is compared with
    the book, the solver with the exact wall-sided list. Tonnes and metres; heights above keel.
"""

from math import atan, cos, degrees, radians, sin, sqrt, tan

import bodies
import numpy as np
import pytest
from scipy.optimize import brentq

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, Tank, equilibrium
from hullchange.geometry.surface import box

SEA = 1.025  # [t/m^3]


def box_ship(length, beam, depth):
    """A box with its keel at z = 0, so heights are above the keel."""
    return Envelope((Piece(bodies.barge(length, beam, depth), adds=True, id="ship"),))


def ship_of(displacement, km, kb):
    """The box that has a KM and a KB [m] at a displacement [t]."""
    beam, draught = sqrt(12.0 * 2.0 * kb * (km - kb)), 2.0 * kb
    return box_ship(displacement / (SEA * beam * draught), beam, 3.0 * draught)


def afloat(ship, displacement, centre, tanks=()):
    return equilibrium(ship, Loading(displacement, np.array(centre), tanks), SEA)


def wall_sided_gz(heel, gm, bm):
    return sin(heel) * (gm + bm * tan(heel) ** 2 / 2.0)


def wall_sided_list(arm, gm, bm):
    return brentq(lambda h: wall_sided_gz(h, gm, bm) - arm * cos(h), 0.0, 0.5, xtol=1e-14)


def test_p130_example_1_righting_moment_at_25_degrees():
    ship, heel = ship_of(6000.0, km=6.0, kb=3.0), radians(25.0)
    upright = afloat(ship, 6000.0, [0.0, 0.0, 5.5])
    bm = upright.metacentre_transverse[2] - 3.0
    assert (upright.gm_transverse, bm) == pytest.approx((0.5, 3.0), abs=1e-9)
    gz = wall_sided_gz(heel, upright.gm_transverse, bm)
    assert gz == pytest.approx(0.35, abs=0.005)
    assert 6000.0 * gz == pytest.approx(2094.9, abs=0.05)
    # a weight carried out by GZ / cos holds her at 25 degrees
    heeled = afloat(ship, 6000.0, [0.0, gz / cos(heel), 5.5])
    assert degrees(heeled.plane.heel) == pytest.approx(25.0, abs=1e-8)


def test_p130_example_2_a_box_vessel():
    ship = box_ship(65.0, 12.0, 8.0)
    displacement = 65.0 * 12.0 * 4.0 * SEA
    assert displacement == pytest.approx(3198.0, abs=0.5)
    upright = afloat(ship, displacement, [0.0, 0.0, 4.0])
    assert upright.buoyancy_centre[2] == pytest.approx(2.0, abs=1e-9)
    assert upright.metacentre_transverse[2] == pytest.approx(5.0, abs=1e-9)
    assert upright.gm_transverse == pytest.approx(1.0, abs=1e-9)
    moment = displacement * upright.gm_transverse * sin(radians(5.0))
    assert moment == pytest.approx(278.9, abs=0.2)  # the book's sine has three figures
    for heel_deg, gz in ((5.0, wall_sided_gz(radians(5.0), 1.0, 3.0)), (25.0, 0.560461)):
        arm = gz / cos(radians(heel_deg))
        heeled = afloat(ship, displacement, [0.0, arm, 4.0])
        assert degrees(heeled.plane.heel) == pytest.approx(heel_deg, abs=3e-5)
    assert displacement * 0.560461 == pytest.approx(1792.4, abs=0.05)


def test_the_same_box_at_40_degrees_deck_under_and_bilge_out():
    # wall-sided would say 1.32166 m; by clipping the section exactly 1.13365 m
    ship, heel = box_ship(65.0, 12.0, 8.0), radians(40.0)
    heeled = afloat(ship, 3198.0, [0.0, 1.13365 / cos(heel), 4.0])
    assert degrees(heeled.plane.heel) == pytest.approx(40.0, abs=1e-3)
    assert wall_sided_gz(heel, 1.0, 3.0) == pytest.approx(1.32166, abs=5e-6)


def test_p116_list_after_loading_and_discharging():
    aboard = [(8000.0, 7.6, 0.0), (250.0, 6.1, 7.6), (300.0, 0.6, -6.1), (-50.0, 1.2, -4.6)]
    displacement = sum(w for w, _, _ in aboard)
    y, z = (sum(row[0] * row[k] for row in aboard) / displacement for k in (2, 1))
    ship = ship_of(displacement, km=8.70, kb=3.2)
    rest = afloat(ship, displacement, [0.0, y, z])
    assert displacement == 8500.0
    assert rest.centre_of_gravity[2] == pytest.approx(7.346, abs=5e-4)
    assert abs(rest.centre_of_gravity[1]) == pytest.approx(0.0353, abs=5e-5)
    upright = afloat(ship, displacement, [0.0, 0.0, z])
    gm = upright.gm_transverse
    assert gm == pytest.approx(1.354, abs=5e-4)
    assert degrees(atan(abs(y) / gm)) == pytest.approx(1.494, abs=5e-4)
    side = 1.0 if y > 0.0 else -1.0
    exact = wall_sided_list(abs(y), gm, 8.70 - 3.2)
    assert rest.plane.heel == pytest.approx(side * exact, abs=1e-10)
    assert degrees(exact) == pytest.approx(1.494, abs=0.005)


def test_example_14_4_a_weight_across_the_deck():
    ship = ship_of(1500.0, km=3.1, kb=1.2)
    gm = afloat(ship, 1500.0, [0.0, 0.0, 2.7]).gm_transverse
    arm = 10.0 * 10.0 / 1500.0
    assert gm == pytest.approx(0.4, abs=1e-9)
    # 9 deg 27 min by GG1 / GM
    assert degrees(atan(arm / gm)) == pytest.approx(9.0 + 27.0 / 60.0, abs=0.5 / 60.0 + 0.005)
    rest = afloat(ship, 1500.0, [0.0, arm, 2.7])
    assert rest.plane.heel == pytest.approx(wall_sided_list(arm, gm, 1.9), abs=1e-10)


def test_p195_a_double_bottom_tank_pumped_half_out():
    full = 15.0 * 10.0 * 2.0 * SEA
    assert full / 2.0 == pytest.approx(153.75)
    bottom = box(np.array([-7.5, -5.0, 0.0]), np.array([7.5, 5.0, 2.0]))
    tank = Tank(bottom, 150.0, SEA)
    rest_of_her = 8153.75 - full
    z = (8153.75 * 7.5 - full * 1.0) / rest_of_her
    ship = ship_of(8000.0, km=8.0, kb=3.0)
    rest = afloat(ship, rest_of_her, [0.0, 0.0, z], (tank,))
    assert rest.mass == pytest.approx(8000.0, rel=1e-12)
    assert rest.centre_of_gravity[2] == pytest.approx(7.6153, abs=5e-5)
    assert rest.gm_transverse_solid - rest.gm_transverse == pytest.approx(0.1602, abs=5e-5)
    assert rest.gm_transverse == pytest.approx(0.2245, abs=1e-4)  # the book: 0.225 m


@pytest.mark.parametrize("parts", [1, 2, 3])
def test_p193_a_tank_divided_lengthwise_costs_by_the_square(parts):
    breadth = 10.0 / parts
    tanks = tuple(
        Tank(
            box(np.array([-7.5, y, 0.0]), np.array([7.5, y + breadth, 2.0])),
            15.0 * breadth,
            SEA,
        )
        for y in -5.0 + breadth * np.arange(parts)
    )
    rest = afloat(ship_of(8000.0, km=8.0, kb=3.0), 7700.0, [0.0, 0.0, 7.0], tanks)
    loss = rest.gm_transverse_solid - rest.gm_transverse
    inertia = 15.0 * 10.0**3 / 12.0
    assert loss == pytest.approx(inertia / (rest.mass / SEA) / parts**2, rel=1e-11)


def test_trim_of_a_box_by_the_moment_that_changes_trim():
    # box 20 x 6 x 1.5 m draught, KG 1.2, 2 t moved 8 m aft
    ship, displacement = box_ship(20.0, 6.0, 4.0), 20.0 * 6.0 * 1.5 * SEA
    level = afloat(ship, displacement, [0.0, 0.0, 1.2])
    assert level.gm_longitudinal == pytest.approx(21.772, abs=5e-4)
    per_cm = displacement * level.gm_longitudinal / (100.0 * 20.0)
    assert per_cm == pytest.approx(2.0085, abs=5e-5)
    assert 16.0 / per_cm == pytest.approx(7.9662, abs=5e-5)
    moved = afloat(ship, displacement, [16.0 / displacement, 0.0, 1.2])
    trim = moved.plane.trim_between_perpendiculars(20.0)
    assert trim * 100.0 == pytest.approx(7.9661, abs=5e-5)
