"""Bodies that count only until their own opening goes under: the lever steps."""

from math import atan, radians

import bodies
import numpy as np
import pytest

from hullchange.floating.crossings import Reached
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading
from hullchange.floating.lever_curve import EDGE_STEP, NotReached
from hullchange.floating.levers import levers_without, righting_levers, stepped
from hullchange.geometry.surface import box

WATER = 1025.0
CIRCLE = np.radians(np.arange(-180.0, 181.0))
SIDES = ("port", "starboard")
SIGN = {"port": -1.0, "starboard": 1.0}

HULL = bodies.barge(20.0, 4.0, 3.0, draught=1.2)
HOUSE = Piece(box(np.array([-4.0, -1.5, 1.8]), np.array([0.0, 1.5, 3.0])), True, "house")
WELL = Piece(box(np.array([5.0, -1.0, 0.6]), np.array([8.0, 1.0, 1.8])), False, "well")
LOADING = Loading(20.0 * 4.0 * 1.2 * WATER, np.array([0.0, 0.02, 0.28]))
# a door to starboard and a window to port; the well spills at its own edges
DOOR = np.array([[-2.0, 0.9, 2.4], [-2.0, 0.5, 2.8]])
RIM = np.array([[5.0, 1.0, 1.8], [8.0, 1.0, 1.8], [5.0, -1.0, 1.8], [8.0, -1.0, 1.8]])


def levers(*more, heels=CIRCLE):
    envelope = Envelope((Piece(HULL, True, "hull"), *more))
    return righting_levers(envelope, LOADING, WATER, heels)


WITH, WITHOUT = levers(HOUSE), levers()
OPENS = {side: WITH.immersion_angle(DOOR, side) for side in SIDES}
STEPPED = stepped(WITH, WITHOUT, OPENS["starboard"], OPENS["port"])


def test_the_lever_is_of_the_one_and_then_of_the_other():
    low, high = (OPENS[side].at.heel for side in SIDES)
    inside = (low < CIRCLE) & (high > CIRCLE)
    wanted = np.where(inside, WITH.gz, WITHOUT.gz)
    assert STEPPED.gz_at(CIRCLE) == pytest.approx(wanted, abs=1e-12)
    assert (np.diff(STEPPED.heels) >= 0.0).all()
    for heel in (low, high):
        twice = np.nonzero(STEPPED.heels == heel)[0]
        assert len(twice) == 2
        levers_there = {round(x, 10) for x in STEPPED.to_port[twice]}
        assert levers_there == {round(c.at(heel).to_port, 10) for c in (WITH, WITHOUT)}
        assert abs(np.diff(STEPPED.to_port[twice])[0]) > 0.05
        assert STEPPED.gz_at(heel) == pytest.approx(WITH.at(heel).gz, abs=1e-12)
    for heel in (low - 0.01, low + 0.01, high - 0.01, high + 0.01):
        counts = WITH if low < heel < high else WITHOUT
        assert STEPPED.at(heel).gz == pytest.approx(counts.at(heel).gz, abs=1e-11)


@pytest.mark.parametrize(("piece", "whole"), [(HOUSE, WITH), (WELL, levers(WELL))])
def test_without_a_piece_the_levers_are_her_own_while_it_is_dry(piece, whole):
    coarse = CIRCLE[::5]
    left = Envelope((Piece(HULL, True, "hull"),))
    found = levers_without(whole, left, piece.surface.vertices, coarse)
    assert found.heels == pytest.approx(coarse, abs=0.0)
    assert found.gz == pytest.approx(WITHOUT.gz_at(coarse), abs=1e-12)
    assert found.trims == pytest.approx(WITHOUT.trims[::5], abs=1e-12)
    own = np.isin(found.rows, whole.rows[::5]).all(axis=1)
    assert own[np.abs(coarse) < 0.3].all()
    assert not own.all()
    assert found.boats[0].envelope is left


@pytest.mark.parametrize("side", SIDES)
def test_areas_add_up_over_a_step(side):
    opens, end = OPENS[side].at.heel, SIGN[side] * 2.0
    split = bodies.area_under(WITH, 0.0, opens) + bodies.area_under(WITHOUT, opens, end)
    # the ends of the cubic are other ones where the curve is broken
    assert bodies.area_under(STEPPED, 0.0, end) == pytest.approx(split, abs=1e-6)
    inside = 0.3 * SIGN[side]
    assert bodies.area_under(STEPPED, 0.0, inside) == pytest.approx(
        bodies.area_under(WITH, 0.0, inside), abs=1e-14
    )
    assert STEPPED.energy_gap < 1e-4


@pytest.mark.parametrize("side", SIDES)
def test_a_lever_may_vanish_at_the_step_or_after_it(side):
    held, bare = (curve.vanishing_angle(side).at.heel for curve in (WITH, WITHOUT))
    opens = OPENS[side].at.heel
    assert abs(bare) < abs(held)
    found = STEPPED.vanishing_angle(side)
    outermost = max(abs(opens), abs(bare))
    assert abs(found.at.heel) == pytest.approx(min(outermost, abs(held)), abs=1e-10)
    # opened beyond where the bare boat still rights, it vanishes there and then
    late = WITH.at(SIGN[side] * (abs(bare) + abs(held)) / 2.0)
    ends = {s: Reached(late, 0) if s == side else NotReached(0.0) for s in SIDES}
    stops = stepped(WITH, WITHOUT, ends["starboard"], ends["port"]).vanishing_angle(side)
    assert stops.at.heel == late.heel
    assert stops.solves == 0
    assert stops.at.gz < 0.0


def test_the_largest_lever_may_be_at_the_step():
    early = WITH.at(radians(30.0))
    curve = stepped(WITH, WITHOUT, Reached(early, 0), NotReached(-np.pi))
    before = WITH.gz_at(np.radians(np.arange(0.0, 30.5)))
    after = WITHOUT.maximum("starboard")
    top = curve.maximum("starboard")
    assert top.gz == pytest.approx(max(before.max(), after.gz), abs=1e-10)
    assert curve.maximum("port").gz == pytest.approx(WITH.maximum("port").gz, abs=1e-12)


def test_a_house_and_a_well_in_either_order():
    curves = {
        (house, well): levers(*[HOUSE] * house, *[WELL] * (not well))
        for house in (True, False)
        for well in (True, False)
    }
    shut = curves[True, True]
    door = {side: shut.immersion_angle(DOOR, side) for side in SIDES}
    rim = {side: shut.immersion_angle(RIM, side) for side in SIDES}
    by_house = stepped(
        stepped(curves[True, True], curves[True, False], rim["starboard"], rim["port"]),
        stepped(curves[False, True], curves[False, False], rim["starboard"], rim["port"]),
        door["starboard"],
        door["port"],
    )
    by_well = stepped(
        stepped(curves[True, True], curves[False, True], door["starboard"], door["port"]),
        stepped(curves[True, False], curves[False, False], door["starboard"], door["port"]),
        rim["starboard"],
        rim["port"],
    )
    assert by_house.gz_at(CIRCLE) == pytest.approx(by_well.gz_at(CIRCLE), abs=1e-10)
    first = min(door["starboard"].at.heel, rim["starboard"].at.heel)
    last = max(door["starboard"].at.heel, rim["starboard"].at.heel)
    assert first + 0.05 < last
    for heel, same in ((first - 0.01, shut), (last + 0.01, curves[False, False])):
        assert by_house.at(heel).gz == pytest.approx(same.at(heel).gz, abs=1e-10)
    between = by_house.at((first + last) / 2.0).gz
    assert abs(between - shut.at((first + last) / 2.0).gz) > 1e-3
    assert len(by_house.boats) == 4


def test_two_bodies_lost_at_one_opening():
    again = stepped(STEPPED, STEPPED, OPENS["starboard"], OPENS["port"])
    assert again.gz_at(CIRCLE) == pytest.approx(STEPPED.gz_at(CIRCLE), abs=1e-12)
    for side in SIDES:
        for beyond, counts in ((1e-4, WITHOUT), (-1e-4, WITH)):
            heel = OPENS[side].at.heel + SIGN[side] * beyond
            assert again.at(heel).gz == pytest.approx(counts.at(heel).gz, abs=1e-11)


def test_what_stays_shut_never_steps():
    shut = NotReached(np.pi)
    curve = stepped(WITH, WITHOUT, shut, NotReached(-np.pi))
    assert (curve.heels == WITH.heels).all()
    assert (curve.gz == WITH.gz).all()


def test_what_is_open_at_rest_never_counts():
    open_at_rest = WITH.immersion_angle(np.array([[0.0, 1.0, -0.2]]), "starboard")
    curve = stepped(WITH, WITHOUT, open_at_rest, open_at_rest)
    away = CIRCLE[CIRCLE != 0.0]
    assert curve.gz_at(away) == pytest.approx(WITHOUT.gz_at(away), abs=1e-12)
    assert curve.at(0.3).gz == pytest.approx(WITHOUT.at(0.3).gz, abs=1e-12)
    assert curve.vanishing_angle("starboard").at.heel == pytest.approx(
        WITHOUT.vanishing_angle("starboard").at.heel, abs=1e-10
    )


def test_openings_on_a_stepped_curve_go_under_in_the_boat_that_is_left():
    low = WITH.at(radians(25.0))
    curve = stepped(WITH, levers(WELL), Reached(low, 0), NotReached(-np.pi))
    edge = np.array([[0.0, 1.0, 1.2]])
    there = curve.immersion_angle(edge, "starboard").at
    assert there.heel > low.heel
    # an edge a metre or so from the axis
    assert there.plane.height_above(edge)[0] == pytest.approx(0.0, abs=2.0 * EDGE_STEP)
    assert there.heel == pytest.approx(
        levers(WELL).immersion_angle(edge, "starboard").at.heel, abs=2.0 * EDGE_STEP
    )
    wall_sided = atan(1.2 / 1.0)
    assert there.heel != pytest.approx(wall_sided, abs=1e-4)
    # a step that takes the edge under is where it goes under
    deep = stepped(
        WITH, levers(WELL), WITH.immersion_angle(edge, "starboard"), NotReached(-3.0)
    )
    assert deep.immersion_angle(edge, "starboard").at.heel == pytest.approx(
        WITH.immersion_angle(edge, "starboard").at.heel, abs=1e-10
    )
