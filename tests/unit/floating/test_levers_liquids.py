"""Levers with liquids: the virtual rise beside the true one, and wells that stand full."""

from math import degrees, radians, tan

import bodies
import numpy as np
import pytest

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, Tank, equilibrium
from hullchange.floating.integrals import integrals_below
from hullchange.floating.levers import flooded_levers, righting_levers, with_virtual_rise
from hullchange.geometry.frame import WaterPlane
from hullchange.geometry.surface import box

WATER = 1025.0
HEELS = np.radians(np.arange(-60.0, 61.0, 5.0))
HULL = Piece(bodies.barge(20.0, 4.0, 3.0, draught=1.2), True, "hull")
BARGE = Envelope((HULL,))
SOLID = Loading(80_000.0, np.array([0.2, 0.03, 0.2]))


def well_of(low, high):
    """A box open at its top, its rim the four corners there."""
    inside = box(np.array(low), np.array(high))
    rim = np.array([[x, y, high[2]] for x in (low[0], high[0]) for y in (low[1], high[1])])

    def flooding(plane):
        sea = WaterPlane(plane.up, max(plane.offset, float((rim @ plane.up).min())))
        volume = min(integrals_below(inside, sea).volume, inside.volume)
        return (Tank(inside, volume, WATER, "well"),)

    return inside, flooding


@pytest.mark.parametrize(("volume", "within"), [(0.12, 0.0002), (0.012, 0.003)])
def test_the_virtual_rise_is_close_while_the_surface_reaches_both_sides(volume, within):
    tank = Tank(box(np.array([3.0, 0.1, -0.3]), np.array([4.0, 0.9, 0.1])), volume, 850.0)
    hull = bodies.yacht(40)
    envelope = Envelope((Piece(hull, True, "hull"), Piece(bodies.fin(hull), True, "keel")))
    loading = Loading(8800.0, np.array([5.9, 0.0, 0.0]), (tank,))
    upright = equilibrium(envelope, loading, WATER).upright
    raised = with_virtual_rise(upright)
    small = np.radians([-10.0, -5.0, 0.0, 5.0, 10.0, 40.0])
    true = righting_levers(envelope, loading, WATER, small)
    virtual = righting_levers(envelope, raised, WATER, small)
    assert raised.mass == pytest.approx(loading.total_mass, rel=1e-11)
    assert virtual.slopes[2] == pytest.approx(true.slopes[2], abs=1e-9)
    assert virtual.gz[:5] == pytest.approx(true.gz[:5], abs=within)
    # at a large heel the liquid lies in a corner sooner than its surface when upright would say
    assert true.gz[-1] > virtual.gz[-1] + 1e-4


def test_a_well_above_the_sea_is_full_to_its_lower_edge():
    # wall-sided: water of a box b wide and h deep, heeled, is b (h - b tan / 2) per metre
    (low, high), length, breadth, depth = ([2.0, -0.5, 1.2], [5.0, 0.5, 1.8]), 3.0, 1.0, 0.6
    inside, flooding = well_of(low, high)
    symmetric = Loading(80_000.0, np.array([0.0, 0.0, 0.2]))
    for heel in (0.0, radians(10.0), radians(-20.0)):
        middle = well_of([-1.5, -0.5, 1.2], [1.5, 0.5, 1.8])[1]
        curve = flooded_levers(BARGE, symmetric, WATER, HEELS, middle)
        volume = length * breadth * (depth - breadth * abs(tan(heel)) / 2.0)
        here = curve.at(heel)
        (water,) = middle(here.plane)
        assert water.liquid_volume == pytest.approx(volume, rel=1e-9)
        held = Loading(80_000.0, symmetric.centre, (Tank(water.surface, volume, WATER),))
        same = righting_levers(BARGE, held, WATER, HEELS).at(heel)
        assert here.gz == pytest.approx(same.gz, abs=1e-10)
    trimmed = flooded_levers(BARGE, SOLID, WATER, HEELS, flooding)
    for plane in trimmed.planes:
        (water,) = flooding(plane)
        displaced = BARGE.integrals(plane).volume * WATER
        assert displaced == pytest.approx(
            80_000.0 + water.mass, abs=3e-6
        )  # settled to a cubic millimetre
    assert trimmed.rows[:, 10].max() < 1e-9
    assert inside.volume == pytest.approx(length * breadth * depth)


def test_a_well_below_the_sea_is_lost_buoyancy():
    low, high = [2.0, -0.8, -0.8], [6.0, 0.8, -0.3]
    inside, flooding = well_of(low, high)
    few = np.radians(np.arange(-40.0, 41.0, 10.0))
    flooded = flooded_levers(BARGE, SOLID, WATER, few, flooding)
    lost = righting_levers(Envelope((HULL, Piece(inside, False, "well"))), SOLID, WATER, few)
    # G differs, the couple does not
    masses = np.array([80_000.0 + flooding(plane)[0].mass for plane in flooded.planes])
    assert flooded.to_port * masses / 80_000.0 == pytest.approx(lost.to_port, abs=1e-8)
    assert flooded.offsets == pytest.approx(lost.offsets, abs=1e-9)
    assert flooded.trims == pytest.approx(lost.trims, abs=1e-9)


def test_two_wells_and_a_tank_settle_together():
    first, second = (
        well_of([x, -0.8, z], [x + 2.0, 0.8, 1.8])[1] for x, z in ((2, 0.4), (-6, 1))
    )

    def both(plane):
        return (*first(plane), *second(plane))

    slack = Tank(box(np.array([-2.0, -1.5, -1.1]), np.array([0.0, 1.5, -0.5])), 1.0, 850.0)
    loading = Loading(80_000.0, SOLID.centre, (slack,))
    curve = flooded_levers(BARGE, loading, WATER, HEELS, both)
    assert len(curve.heels) == len(HEELS)
    for plane in curve.planes[::6]:
        water = sum(tank.mass for tank in both(plane))
        assert water > 1000.0
        total = 80_000.0 + slack.mass + water
        assert BARGE.integrals(plane).volume * WATER == pytest.approx(total, abs=3e-6)
    dry = righting_levers(BARGE, loading, WATER, HEELS)
    assert curve.at(radians(20.0)).gz < dry.at(radians(20.0)).gz
    upright = curve.at(0.0)
    assert upright.slope < dry.at(0.0).slope


def test_where_the_water_sinks_her_the_curve_ends():
    # a hold open at the deck: full of sea she does not float any more
    _, hold = well_of([-9.0, -1.9, -1.1], [9.0, 1.9, 1.8])
    heavy = Loading(170_000.0, np.array([0.0, 0.0, -0.5]))
    rim = np.array([[0.0, 1.9, 1.8]])
    dry = righting_levers(BARGE, heavy, WATER, HEELS)
    opens = dry.immersion_angle(rim, "starboard").at.heel

    def flooding(plane):
        (water,) = hold(plane)
        return (
            (water,)
            if plane.height_above(rim).min() < 0.0
            else (Tank(water.surface, 0.0, WATER),)
        )

    curve = flooded_levers(BARGE, heavy, WATER, HEELS, flooding)
    assert 0.0 < curve.heels[-1] < opens < radians(40.0)
    assert degrees(curve.heels[0]) == pytest.approx(-60.0)
    assert curve.at(0.1).gz == pytest.approx(dry.at(0.1).gz, abs=1e-12)


def test_vanishing_and_largest_lever_of_a_flooded_boat():
    _, flooding = well_of([2.0, -0.9, 0.6], [6.0, 0.9, 1.8])
    loading = Loading(70_000.0, np.array([0.0, 0.0, 0.4]))
    heels = np.radians(np.arange(-90.0, 91.0, 2.0))
    flooded = flooded_levers(BARGE, loading, WATER, heels, flooding)
    dry = righting_levers(BARGE, loading, WATER, heels)
    top = flooded.maximum("starboard")
    assert top.gz < dry.maximum("starboard").gz
    assert top.gz >= flooded.gz.max() - 1e-6
    there = flooded.vanishing_angle("starboard").at
    assert abs(there.gz) < 1e-9
    assert there.heel < dry.vanishing_angle("starboard").at.heel


def test_a_slack_tank_on_its_side_by_hand():
    # a cube half full, rolled on its side: the liquid lies square to what it did
    tank = Tank(box(np.array([-0.5, -0.5, -0.5]), np.array([0.5, 0.5, 0.5])), 0.5, WATER)
    loading = Loading(80_000.0, np.array([0.0, 0.0, 0.1]), (tank,))
    curve = righting_levers(BARGE, loading, WATER, np.radians(np.arange(0.0, 91.0, 10.0)))
    mass = 80_000.0 + tank.mass
    lying = (80_000.0 * loading.centre + tank.mass * np.array([0.0, 0.25, 0.0])) / mass
    same = righting_levers(BARGE, Loading(mass, lying), WATER, curve.heels)
    assert curve.gz[-1] == pytest.approx(same.gz[-1], abs=1e-11)
    assert abs(curve.gz[0] - same.gz[0]) > 1e-3
