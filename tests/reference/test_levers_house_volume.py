"""A house counts until its own opening goes under; there the levers step.

Source: Transport Canada TP 2534, Appendix I, (5) to (9): a house that meets the conditions of
    an enclosed superstructure counts; one that does not counts to the heel at which its
    openings flood, where the levers show a step. IMO 2008 IS Code part B, 3.6.2, says the same.
Seen: opened.
Known: no worked levers in either. Here a house as long as its hull, so that one section says
    it all: clipped by the water with shapely 2.
"""

from math import cos, degrees, sin

import bodies
import numpy as np
import pytest
import shapely
from scipy.optimize import brentq

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading
from hullchange.floating.levers import righting_levers, stepped
from hullchange.geometry.surface import box

LENGTH, BREADTH, DEPTH, DRAUGHT = 12.0, 4.0, 2.0, 1.2
HOUSE_BREADTH, HOUSE_HEIGHT, DECK = 2.4, 1.0, 0.8
VCG, WATER = 0.1, 1025.0
DOOR = (0.5, 1.3)  # y and z of its lower corner
CIRCLE = np.radians(np.arange(-180.0, 181.0, 2.0))
SIDES = ("starboard", "port")

HULL = Piece(bodies.barge(LENGTH, BREADTH, DEPTH, DRAUGHT), True, "hull")
HOUSE = Piece(
    box(
        np.array([-LENGTH / 2.0, -HOUSE_BREADTH / 2.0, DECK]),
        np.array([LENGTH / 2.0, HOUSE_BREADTH / 2.0, DECK + HOUSE_HEIGHT]),
    ),
    True,
    "house",
)


def levers(*pieces):
    mass = LENGTH * BREADTH * DRAUGHT * WATER
    loading = Loading(mass, np.array([0.0, 0.0, VCG]))
    return righting_levers(Envelope(pieces), loading, WATER, CIRCLE)


def section(with_house):
    hull = shapely.box(-BREADTH / 2.0, -DRAUGHT, BREADTH / 2.0, DEPTH - DRAUGHT)
    half = HOUSE_BREADTH / 2.0
    house = shapely.box(-half, DECK, half, DECK + HOUSE_HEIGHT)
    return hull.union(house) if with_house else hull


def clipped(with_house, heel):
    """Lever [m] and the water's height along its own up [m], of the section alone."""
    upright = shapely.affinity.rotate(section(with_house), -heel, (0.0, 0.0), use_radians=True)

    def wet(level):
        return upright.intersection(shapely.box(-9.0, -9.0, 9.0, level))

    level = brentq(lambda d: wet(d).area - BREADTH * DRAUGHT, -5.0, 5.0, xtol=1e-13)
    return wet(level).centroid.x - VCG * sin(heel), level


def flooding_heel():
    """Where the door's corner meets the water, the house counted."""

    def height(heel):
        return DOOR[1] * cos(heel) - DOOR[0] * sin(heel) - clipped(True, heel)[1]

    return brentq(height, 0.5, 2.5, xtol=1e-12)


def test_the_lever_steps_where_the_door_goes_under():
    counted, lost = levers(HULL, HOUSE), levers(HULL)
    edges = {side: np.array([[0.0, y * DOOR[0], DOOR[1]]]) for side, y in
             zip(SIDES, (1.0, -1.0), strict=True)}  # fmt: skip
    floods = {side: counted.immersion_angle(edges[side], side) for side in SIDES}
    curve = stepped(counted, lost, floods["starboard"], floods["port"])
    at = flooding_heel()
    assert floods["starboard"].at.heel == pytest.approx(at, abs=1e-10)
    assert 45.0 < degrees(at) < 110.0
    for heel in np.radians(np.arange(4.0, 180.0, 8.0)):
        expected = clipped(heel < at, heel)[0]
        assert curve.at(heel).gz == pytest.approx(expected, abs=1e-10)
        assert curve.at(-heel).gz == pytest.approx(expected, abs=1e-10)
        assert curve.gz_at([heel, -heel]) == pytest.approx(expected, abs=1e-10)
    step = clipped(True, at)[0] - clipped(False, at)[0]
    assert step > 0.1
    before, after = (curve.at(at + by).gz for by in (-1e-9, 1e-9))
    assert before - after == pytest.approx(step, abs=1e-8)


def test_shut_it_counts_to_the_end():
    counted = levers(HULL, HOUSE)
    for heel in (1.2, 2.2, 3.0):
        assert counted.at(heel).gz == pytest.approx(clipped(True, heel)[0], abs=1e-10)
    assert (
        counted.vanishing_angle("starboard").at.heel
        > levers(HULL).vanishing_angle("starboard").at.heel + 0.1
    )
