"""A wall-sided barge at rest and heeled: every list, loll and lever is a formula.

Source: GZ = sin H (GM + BM tan^2 H / 2), Derrett, Ship Stability for Masters and Mates, p. 130;
    angle of loll tan H = sqrt(-2 GM / BM), the same, p. 228-229; with a wall-sided slack tank
    GM and BM both lose i' = i rho_t / (rho V), derived here; area under the levers = energy
    gained over displacement, derived here.
Seen: p. 130 opened, loll quoted elsewhere.
Known: holds until the deck's edge goes under or the bilge comes out: here at 30.96 degrees.
"""

from math import atan, cos, degrees, radians, sqrt, tan

import bodies
import numpy as np
import pytest

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, Tank, equilibrium
from hullchange.floating.levers import righting_levers
from hullchange.geometry.frame import WaterPlane, up_vector
from hullchange.geometry.surface import box

WATER = 1025.0
CIRCLE = np.radians(np.arange(-180.0, 181.0))
WALL_SIDED = np.radians([5.0, 10.0, 15.0, 20.0, 25.0, 30.0])
# 20 x 4 x 3 m, 1.2 m in the water
BARGE = Envelope((Piece(bodies.barge(20.0, 4.0, 3.0, draught=1.2), True, "barge"),))
MASS = 20.0 * 4.0 * 1.2 * WATER
BM = 16.0 / (12.0 * 1.2)
# the same box in other water: its bottom 1 m below z = 0
LOADED = Envelope((Piece(bodies.barge(20.0, 4.0, 3.0, draught=1.0), True, "barge"),))


def barge_levers(gm, heels=CIRCLE):
    centre = np.array([0.0, 0.0, -0.6 + BM - gm])
    return righting_levers(BARGE, Loading(MASS, centre), WATER, heels)


def test_levers():
    curve = barge_levers(0.3, np.append(0.0, WALL_SIDED))
    t = np.tan(curve.heels)
    assert curve.gz == pytest.approx(np.sin(curve.heels) * (0.3 + BM * t**2 / 2.0), abs=1e-13)
    # and its slope: cos (GM + BM tan^2 / 2) + BM tan^2 / cos
    slopes = np.cos(curve.heels) * (0.3 + BM * t**2 / 2.0) + BM * t**2 / np.cos(curve.heels)
    assert curve.slopes == pytest.approx(slopes, abs=1e-12)
    assert curve.offsets == pytest.approx(np.zeros(7), abs=1e-13)
    assert curve.trims == pytest.approx(np.zeros(7), abs=1e-13)


@pytest.mark.parametrize("density", [800.0, 1025.0])
def test_levers_with_a_slack_tank(density):
    # both wall-sided: GZ = sin H ((GM - i') + (BM - i') tan^2 H / 2), i' = i rho_t / (rho V)
    tank = Tank(box(np.array([-2.0, -1.5, -1.1]), np.array([2.0, 1.5, 2.1])), 18.0, density)
    liquid, height = 18.0 * density, -1.1 + 18.0 / 12.0 / 2.0
    solid = MASS - liquid
    gravity = (solid * -0.1 + liquid * height) / MASS
    loss = 4.0 * 3.0**3 / 12.0 * density / MASS
    loading = Loading(solid, np.array([0.0, 0.0, -0.1]), (tank,))
    curve = righting_levers(BARGE, loading, WATER, np.append(0.0, WALL_SIDED[:-1]))
    gm, t = -0.6 + BM - gravity, np.tan(curve.heels)
    exact = np.sin(curve.heels) * (gm - loss + (BM - loss) * t**2 / 2.0)
    assert curve.gz == pytest.approx(exact, abs=1e-12)
    assert curve.slopes[0] == pytest.approx(gm - loss, abs=1e-12)
    steeper = np.cos(curve.heels) * (gm - loss + (BM - loss) * t**2 / 2.0)
    slopes = steeper + (BM - loss) * t**2 / np.cos(curve.heels)
    assert curve.slopes == pytest.approx(slopes, abs=1e-12)


def test_loll_by_the_lever():
    # tan H = sqrt(-2 GM / BM); of GM -0.05 m and BM 10/9 m 16.699244 degrees
    curve = barge_levers(-0.05)
    port, starboard = bodies.loll_angles(curve)
    exact = atan(sqrt(0.1 / BM))
    # a root is found where the next step would be below 1e-11 rad
    assert starboard.heel == pytest.approx(exact, abs=1e-11)
    assert port.heel == pytest.approx(-exact, abs=1e-11)
    assert degrees(starboard.heel) == pytest.approx(16.699244, abs=5e-7)
    assert starboard.stable
    # at loll the metacentre stands above: slope -2 GM / cos by the wall-sided formula
    assert starboard.slope == pytest.approx(0.1 / np.cos(exact), abs=1e-10)
    assert not curve.at(0.0).stable
    assert curve.vanishing_angle("starboard").at.heel > exact
    assert bodies.loll_angles(barge_levers(0.05)) == ()


def test_area_is_the_energy():
    # a barge by hand: GM (1 - cos) + BM / 2 (1 / cos + cos - 2), trim none
    curve = barge_levers(0.3, np.radians(np.arange(-30.0, 30.5, 1.0)))
    for heel_deg in (10.0, 24.3, -24.3):
        h = radians(heel_deg)
        exact = 0.3 * (1.0 - cos(h)) + BM / 2.0 * (1.0 / cos(h) + cos(h) - 2.0)
        # the cubic's own error: width^4 / 384 times the fourth derivative, over the heel
        assert bodies.area_under(curve, 0.0, h) == pytest.approx(exact, abs=1e-9)
    assert bodies.area_under(curve, -0.3, 0.3) == pytest.approx(0.0, abs=1e-14)
    assert bodies.area_under(curve, 0.1, 0.4) == pytest.approx(
        bodies.area_under(curve, 0, 0.4) - bodies.area_under(curve, 0, 0.1)
    )
    assert curve.energy_gap < 2e-9


@pytest.mark.parametrize("heel", [0.02, 0.2, 0.4])
def test_list_with_a_slack_tank(heel):
    # both wall-sided: GZ = sin H ((GM - i') + (BM - i') tan^2 H / 2), i' = i rho_t / (rho V)
    tank = Tank(box(np.array([-2.0, -1.5, -0.9]), np.array([2.0, 1.5, 2.1])), 18.0, 900.0)
    solid, rho = 64_000.0, WATER
    volume = (solid + 18.0 * 900.0) / rho
    draught = volume / 80.0
    bm, buoyancy = 16.0 / (12.0 * draught), -1.0 + draught / 2.0
    liquid_z = -0.9 + 18.0 / 12.0 / 2.0
    gravity = (solid * 0.1 + 18.0 * 900.0 * liquid_z) / (volume * rho)
    loss = 4.0 * 3.0**3 / 12.0 * 900.0 / (rho * volume)
    gm = buoyancy + bm - gravity
    arm = tan(heel) * ((gm - loss) + (bm - loss) * tan(heel) ** 2 / 2.0)
    moved = np.array([0.0, arm * volume * rho / solid, 0.1])
    rest = equilibrium(LOADED, Loading(solid, moved, (tank,)), rho)
    # a lever right to 1e-12 of the beam is an angle right to that over GM
    assert rest.plane.heel == pytest.approx(heel, abs=4e-12 / (gm - loss))
    level = equilibrium(LOADED, Loading(solid, np.array([0.0, 0.0, 0.1]), (tank,)), rho)
    assert level.gm_transverse_solid == pytest.approx(gm, rel=1e-12)
    assert level.gm_transverse == pytest.approx(gm - loss, rel=1e-12)
    assert level.centre_of_gravity[2] == pytest.approx(gravity, rel=1e-12)


def test_loll_at_rest():
    # a barge whose GM is -0.05 m lies over to tan H = sqrt(-2 GM / BM)
    draught = 80_000.0 / (20.0 * 4.0 * WATER)
    bm, buoyancy = 16.0 / (12.0 * draught), -1.0 + draught / 2.0
    loading = Loading(80_000.0, np.array([0.0, 0.0, buoyancy + bm + 0.05]))
    rest = equilibrium(LOADED, loading, WATER)
    assert rest.plane.heel == pytest.approx(atan(sqrt(0.1 / bm)), abs=1e-12)
    assert rest.stable
    assert not rest.upright_stable
    assert rest.upright.gm_transverse == pytest.approx(-0.05, abs=1e-12)
    assert rest.upright.plane.heel == pytest.approx(0.0, abs=1e-15)
    leaning = WaterPlane(up_vector(0.0, -0.1), 0.0)
    other_side = equilibrium(LOADED, loading, WATER, leaning)
    assert other_side.plane.heel == pytest.approx(-rest.plane.heel, abs=1e-12)


def test_loll_in_a_shallow_trough_is_not_stepped_over():
    # 10 x 3 x 1.2 m, 0.5 m in the sea: 3 degrees on her lever is gone, and past it she capsizes
    shallow = Envelope((Piece(bodies.barge(10.0, 3.0, 1.2, draught=0.5), True, "barge"),))
    draught = 0.5 * WATER / 1000.0
    bm, gravity = 9.0 / (12.0 * draught), 1.3
    gm = -0.5 + draught / 2.0 + bm - gravity
    loading = Loading(10.0 * 3.0 * 0.5 * WATER, np.array([0.0, 0.0, gravity]))
    rest = equilibrium(shallow, loading, 1000.0)
    assert rest.plane.heel == pytest.approx(atan(sqrt(-2.0 * gm / bm)), abs=1e-10)
    assert degrees(rest.plane.heel) == pytest.approx(18.33, abs=0.01)
    assert (rest.stable, rest.upright_stable, rest.capsized) == (True, False, False)
    levers = righting_levers(shallow, loading, 1000.0, np.radians(np.arange(-180.0, 181.0)))
    assert degrees(levers.vanishing_angle("starboard").at.heel) < 24.0


def test_loll_of_the_published_size():
    # BM 10 / 9 m: 16.699244 degrees
    centre = np.array([0.0, 0.0, -0.6 + 10 / 9 + 0.05])
    rest = equilibrium(BARGE, Loading(MASS, centre), WATER)
    assert degrees(rest.plane.heel) == pytest.approx(16.699244, abs=5e-7)
