"""Archimedes' paraboloid: upright where its density is at least ((h - 3p/4) / h)^2.

Source: Archimedes, On Floating Bodies II, proposition 2, in T. L. Heath, A History of Greek
    Mathematics (Aristarchus to Diophantus), p. 113; p is the latus rectum, h the height.
Seen: opened (a scan, by its recognised text).
Known: the statement is for a right segment with its base clear of the water.
"""

from math import sqrt

import bodies
import numpy as np
import pytest
from scipy.optimize import brentq

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, equilibrium
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane, up_vector

LATUS, HEIGHT = 1.0, 16.0 / 9.0
LIMIT = ((HEIGHT - 0.75 * LATUS) / HEIGHT) ** 2


def upright_at(density, cells=40):
    """The solid of a density (1 for water), its centre of gravity at two thirds."""
    solid = bodies.paraboloid(LATUS, HEIGHT, cells)
    envelope = Envelope((Piece(solid, adds=True, id="solid"),))
    # the true centre: of the facets it lies a little apart, and is not the question
    loading = Loading(density * solid.volume, np.array([0.0, 0.0, 2.0 * HEIGHT / 3.0]))
    return equilibrium(envelope, loading, 1.0)


def test_the_limit_is_where_it_was():
    assert pytest.approx(0.33423, abs=5e-6) == LIMIT  # as computed before


@pytest.mark.parametrize(("density", "upright"), [(0.25, False), (0.32, False), (0.35, True)])
def test_it_stands_where_archimedes_says(density, upright):
    rest = upright_at(density)
    assert rest.upright_stable is upright
    lean = np.hypot(rest.plane.heel, rest.plane.trim)
    assert (lean < 1e-9) if upright else (lean > 0.1)
    assert rest.gm_transverse > -1e-9  # leaning, it may turn about its axis as it likes


def test_the_limit_by_the_solid():
    solid = bodies.paraboloid(LATUS, HEIGHT, 80)

    def below(depth):
        return integrals_below(solid, WaterPlane(up_vector(0.0, 0.0), depth))

    def gm(depth):
        wet = below(depth)
        bm = wet.waterplane_inertia[1, 1] / wet.volume
        return wet.buoyancy_centre[2] + bm - 2.0 * HEIGHT / 3.0

    depth = brentq(gm, 0.9, 1.1)
    assert depth == pytest.approx(HEIGHT - 0.75 * LATUS, abs=1e-3)
    # flats of a hundredth of the circle
    assert below(depth).volume / solid.volume == pytest.approx(LIMIT, abs=1e-3)


def test_bm_is_half_the_latus_rectum_at_any_draught():
    # the water at a ring of corners, a quarter and four ninths up
    for share in (1.0 / 4.0, 4.0 / 9.0):
        wrong = []
        for cells in (24, 48, 96):
            solid = bodies.paraboloid(LATUS, HEIGHT, cells)
            below = integrals_below(solid, WaterPlane(up_vector(0.0, 0.0), share * HEIGHT))
            wrong.append(below.waterplane_inertia[1, 1] / below.volume - LATUS / 2.0)
        assert wrong[0] / wrong[1] == pytest.approx(4.0, abs=0.1)
        assert wrong[1] / wrong[2] == pytest.approx(4.0, abs=0.1)


@pytest.mark.parametrize("density", [0.4, 0.6, 0.8])
def test_gm_when_it_stands(density):
    gm = 2.0 / 3.0 * HEIGHT * (sqrt(density) - 1.0) + LATUS / 2.0
    assert upright_at(density, 80).gm_transverse == pytest.approx(gm, abs=1e-3)
