"""What a curve of levers answers: where it vanishes, its top, rest, what goes under."""

from math import atan, degrees, pi, radians, tan

import bodies
import numpy as np
import pytest
from scipy.optimize import brentq

from hullchange.afloat.stability import side_levers
from hullchange.floating.crossings import ROOT_STEP, Reached
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, equilibrium
from hullchange.floating.lever_curve import NeverRights, NotReached
from hullchange.floating.levers import righting_levers
from hullchange.floating.sampled_levers import sampled_levers
from hullchange.floating.weight_slopes import weight_slopes
from hullchange.geometry.frame import WaterPlane, up_vector

WATER = 1025.0
CIRCLE = np.radians(np.arange(-180.0, 181.0))
SIDES = ("port", "starboard")
SIGN = {"port": -1.0, "starboard": 1.0}


def floating(*surfaces):
    return Envelope(tuple(Piece(s, adds=True, id=str(k)) for k, s in enumerate(surfaces)))


BARGE = floating(bodies.barge(20.0, 4.0, 3.0, draught=1.2))
MASS = 20.0 * 4.0 * 1.2 * WATER
BM = 16.0 / (12.0 * 1.2)
HULL = bodies.yacht(40)
YACHT = floating(HULL, bodies.fin(HULL))
STIFF = Loading(9000.0, np.array([5.9, 0.0, -0.1]))
LISTED = Loading(9000.0, np.array([5.9, 0.05, -0.1]))


def barge_levers(gm, heels=CIRCLE, y=0.0):
    return righting_levers(
        BARGE, Loading(MASS, np.array([0.0, y, -0.6 + BM - gm])), WATER, heels
    )


def yacht_levers(loading=LISTED, heels=CIRCLE):
    return righting_levers(YACHT, loading, WATER, heels)


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("by_deg", [1.0, 5.0])
def test_the_vanishing_angle_is_where_the_lever_is_none(side, by_deg):
    curve = yacht_levers(heels=np.radians(np.arange(-180.0, 180.1, by_deg)))
    found = curve.vanishing_angle(side)
    assert isinstance(found, Reached)
    assert found.solves <= 5
    assert abs(found.at.gz) < ROOT_STEP  # the slope is less than a metre
    assert found.at.slope < 0.0
    assert SIGN[side] * found.at.heel > 0.0
    # bisected on solves alone
    a, b = (radians(SIGN[side] * d) for d in (100.0, 170.0))
    same = brentq(lambda heel: curve.at(heel).to_port, a, b, xtol=1e-13)
    assert found.at.heel == pytest.approx(same, abs=1e-10)


def test_a_list_has_two_vanishing_angles_and_they_change_sides_with_it():
    listed = yacht_levers()
    other = yacht_levers(Loading(9000.0, LISTED.centre * [1.0, -1.0, 1.0]))
    heels = {side: listed.vanishing_angle(side).at.heel for side in SIDES}
    assert abs(heels["port"]) + 0.05 < heels["starboard"] or heels["starboard"] + 0.05 < abs(
        heels["port"]
    )
    assert other.vanishing_angle("port").at.heel == pytest.approx(
        -heels["starboard"], abs=1e-10
    )


def test_a_lever_that_never_vanishes_and_one_that_never_rights():
    deep = yacht_levers(Loading(9000.0, np.array([5.9, 0.0, -1.5])))
    assert deep.vanishing_angle("starboard") == NotReached(pi)
    assert deep.vanishing_angle("port") == NotReached(-pi)
    high = yacht_levers(Loading(9000.0, np.array([5.9, 0.0, 3.0])))
    assert high.vanishing_angle("starboard") == NeverRights(pi)
    # falling over she comes to rest upside down: what keeps her there rights nothing
    capsizing = barge_levers(-0.1, y=0.2)
    assert capsizing.vanishing_angle("starboard") == NeverRights(pi)
    assert capsizing.gz[-1] > 0.1
    assert capsizing.maximum("starboard").gz < 0.0
    assert isinstance(capsizing.vanishing_angle("port"), Reached)
    part = yacht_levers(STIFF, np.radians(np.arange(0.0, 91.0)))
    assert part.vanishing_angle("starboard") == NotReached(radians(90.0))
    assert part.vanishing_angle("port") == NeverRights(0.0)


@pytest.mark.parametrize("y", [1e-4, 1e-3, 5e-3])
def test_a_boat_that_lolls_vanishes_beyond_her_loll_whether_she_lists_or_not(y):
    even, listed = barge_levers(-0.05), barge_levers(-0.05, y=y)
    # to port she is turned through upright first, and falls to her loll there
    near = listed.at(-radians(0.01))
    assert near.gz > 0.0 > listed.at(-radians(8.0)).gz
    for side in SIDES:
        whole, found = even.vanishing_angle(side), listed.vanishing_angle(side)
        assert abs(whole.at.heel) > abs(bodies.loll_angles(even)[0].heel)
        assert found.at.heel == pytest.approx(whole.at.heel, abs=10.0 * y)
        assert listed.maximum(side).gz == pytest.approx(even.maximum(side).gz, abs=1.01 * y)
    same = sampled_levers(listed, weight_slopes(listed), np.zeros((1, 4)))
    plain = side_levers(listed, "port").vanishing.heel
    port = -listed.vanishing_angle("port").at.heel
    assert plain == pytest.approx(port, abs=1e-4)
    assert same.vanishing("port")[0] == pytest.approx(port, abs=radians(0.02))


@pytest.mark.parametrize("side", SIDES)
def test_the_largest_lever_has_no_slope(side):
    curve = yacht_levers()
    top = curve.maximum(side)
    assert abs(top.slope) < 1e-6
    assert top.gz >= curve.gz[np.sign(curve.heels) == SIGN[side]].max()
    around = [curve.at(top.heel + by).gz for by in (-1e-3, 1e-3)]
    assert max(around) < top.gz
    # of a barge wall-sided as far as the curve goes, the end is the largest
    barge = barge_levers(0.3, np.radians(np.arange(-30.0, 31.0)))
    assert degrees(barge.maximum(side).heel) == pytest.approx(SIGN[side] * 30.0)


def test_the_largest_lever_before_it_vanishes_not_after():
    # heavy to starboard she hardly rights on that side, but upside down she would
    curve = barge_levers(0.1, y=0.3)
    vanishes, top = curve.vanishing_angle("starboard").at, curve.maximum("starboard")
    assert 0.0 < top.heel < vanishes.heel
    assert 0.01 < top.gz < 0.1
    assert curve.gz[-1] == pytest.approx(0.3, abs=1e-12)


def test_every_equilibrium_of_a_yacht():
    curve = yacht_levers()
    rests = curve.equilibria
    assert [rest.stable for rest in rests] == [False, True, False, True]
    assert [rest.inverted for rest in rests] == [True, False, True, True]
    assert all(abs(rest.to_port) < 1e-12 for rest in rests)
    found = set()
    random = np.random.default_rng(3)
    for _ in range(60):
        up = up_vector(random.uniform(-0.5, 0.5), random.uniform(-pi, pi))
        rest = equilibrium(YACHT, LISTED, WATER, WaterPlane(up, 0.0))
        found.add(round(degrees(rest.plane.heel), 6))
    stable = {round(degrees(rest.heel), 6) for rest in rests if rest.stable}
    assert found == stable
    upright = equilibrium(YACHT, LISTED, WATER)
    assert rests[1].plane.up == pytest.approx(upright.plane.up, abs=1e-10)
    assert rests[1].plane.offset == pytest.approx(upright.plane.offset, abs=1e-10)


@pytest.mark.parametrize("by_deg", [1.0, 10.0])
def test_of_a_symmetric_boat_upright_and_inverted_count_once(by_deg):
    heels = np.radians(np.arange(-180.0, 180.1, by_deg))
    rests = barge_levers(0.3, heels).equilibria
    assert np.degrees([r.heel for r in rests]) == pytest.approx(
        [-rests[2].heel * 180.0 / pi, 0.0, degrees(rests[2].heel), 180.0], abs=1e-9
    )
    assert [r.stable for r in rests] == [False, True, False, True]
    half = barge_levers(0.3, heels[heels > -1e-9]).equilibria
    assert np.degrees([r.heel for r in half]) == pytest.approx(
        np.degrees([r.heel for r in rests[1:]]), abs=1e-9
    )


def test_two_equilibria_between_two_heels_are_both_found():
    # a barge in loll by less than a degree: upright and both lolls lie between -1 and 1 degree
    gm = -BM * tan(radians(0.6)) ** 2 / 2.0
    curve = barge_levers(gm, np.radians(np.arange(-25.0, 26.0, 1.0)))
    near = [degrees(r.heel) for r in curve.equilibria if abs(r.heel) < radians(1.0)]
    assert near == pytest.approx([-0.6, 0.0, 0.6], abs=1e-7)


def test_a_neutral_body_rests_everywhere_and_nowhere_in_particular():
    log = floating(bodies.cylinder(20.0, 1.0, 90))
    curve = righting_levers(log, Loading(30_000.0, np.zeros(3)), WATER, CIRCLE)
    assert np.abs(curve.gz).max() < 1e-4  # flats of a degree


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize(("y", "z"), [(2.0, 1.1), (0.5, 0.2), (1.7, 0.004)])
def test_immersion_on_a_barge(side, y, z):
    # wall-sided: the water turns about the middle of the waterplane, tan H = z / y
    curve = barge_levers(0.3)
    edge = np.array([[3.0, SIGN[side] * y, z], [-4.0, SIGN[side] * y, z]])
    found = curve.immersion_angle(edge, side)
    assert found.at.heel == pytest.approx(SIGN[side] * atan(z / y), abs=1e-11)
    assert found.solves <= 5
    assert found.at.plane.sinkage(0.0) == pytest.approx(0.0, abs=1e-12)
    assert found.at.trim == pytest.approx(0.0, abs=1e-12)


def test_immersion_of_a_barge_by_the_stern():
    # wall-sided in both ways: the plane turns about the same point, so a point (x, y, z) is
    # under where z cos T cos H = x sin T + y cos T sin H
    loading = Loading(MASS, np.array([0.3, 0.0, -0.6 + BM - 0.3]))
    curve = righting_levers(BARGE, loading, WATER, CIRCLE)
    x, y, z = 6.0, 1.5, 0.5
    found = curve.immersion_angle(np.array([[x, y, z]]), "starboard").at
    left = z * np.cos(found.heel) - x * tan(found.trim) - y * np.sin(found.heel)
    assert found.trim > 0.001
    assert left == pytest.approx(0.0, abs=1e-11)


def test_the_first_of_several_points_counts():
    curve = barge_levers(0.3)
    points = np.array([[0.0, 2.0, 1.1], [5.0, 1.6, 0.6], [1.0, -1.0, 0.2]])
    assert curve.immersion_angle(points, "starboard").at.heel == pytest.approx(
        atan(0.6 / 1.6), abs=1e-11
    )
    assert curve.immersion_angle(points, "port").at.heel == pytest.approx(-atan(0.2), abs=1e-11)


def test_what_is_under_upright_and_what_stays_dry():
    curve = barge_levers(0.3)
    assert curve.immersion_angle(np.array([[0.0, 1.0, -0.1]]), "starboard").at.heel == 0.0
    assert curve.immersion_angle(np.array([[0.0, 1.0, -0.1]]), "port").solves == 0
    part = barge_levers(0.3, np.radians(np.arange(-20.0, 31.0)))
    high = np.array([[0.0, 0.0, 2.0]])
    assert part.immersion_angle(high, "starboard") == NotReached(radians(30.0))
    assert part.immersion_angle(high, "port") == NotReached(radians(-20.0))


def test_a_side_that_the_curve_does_not_have():
    curve = barge_levers(0.3, np.radians([10.0, 20.0, 30.0]))
    assert curve.immersion_angle(np.array([[0.0, 1.0, 1.0]]), "port") == NotReached(0.0)
    assert curve.vanishing_angle("port") == NeverRights(0.0)
    assert curve.vanishing_angle("starboard") == NotReached(radians(30.0))
    # already under at its first heel
    first = curve.immersion_angle(np.array([[0.0, 2.0, 0.1]]), "starboard")
    assert first.at.heel == radians(10.0)
    assert curve.at(0.0).slope == pytest.approx(0.3, abs=1e-12)


def test_immersion_on_a_yacht_that_trims_and_sinks():
    curve = yacht_levers()
    edge = np.array([[8.7, 0.98, 1.3], [8.9, 0.98, 1.3], [7.0, -0.3, 1.2], [7.0, 0.3, 1.2]])
    for side in SIDES:
        found = curve.immersion_angle(edge, side)

        def lowest(heel):
            return float(curve.at(heel).plane.height_above(edge).min())

        assert found.solves <= 5
        same = brentq(lowest, 0.0, found.at.heel + SIGN[side] * 0.1, xtol=1e-13)
        assert found.at.heel == pytest.approx(same, abs=1e-8)
        assert lowest(found.at.heel) == pytest.approx(0.0, abs=1e-9)
        below = YACHT.integrals(found.at.plane)
        assert below.volume * WATER == pytest.approx(9000.0, rel=1e-11)


def test_a_point_that_dips_under_between_two_heels():
    # the lowest point of a yacht's bilge comes up and down again: found between coarse heels
    curve = barge_levers(0.3, np.radians([-30.0, -15.0, 0.0, 15.0, 30.0]))
    z = 1e-3
    found = curve.immersion_angle(np.array([[0.0, 0.05, z]]), "starboard")
    assert found.at.heel == pytest.approx(atan(z / 0.05), abs=1e-11)
