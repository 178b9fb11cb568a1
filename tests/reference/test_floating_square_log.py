"""How a long square log floats: flat, tilted, or corner up, by its density.

Source: E. N. Gilbert, How things float, American Mathematical Monthly 98 (1991); W. P. Reid,
    Floating of a long square bar, American Journal of Physics 31 (1963) 565.
Seen: quoted elsewhere (abstracts opened; values from memory, then derived and found equal).
Known: flat to s = (3 - sqrt 3)/6; with two corners wet tan^2 = 12 s (1 - s) - 2 as long as
    tan <= 2 s, so to 1/4; with one, wet legs a, b with a + b = 3/2 and ab = 2 s; corner up
    from 9/32. By symmetry the same for 1 - s.
"""

from math import atan, degrees, sqrt

import bodies
import numpy as np
import pytest
from scipy.optimize import brentq

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, equilibrium
from hullchange.geometry.frame import WaterPlane, up_vector

LOG = Envelope((Piece(bodies.barge(30.0, 1.0, 1.0, draught=0.5, cells=4), True, "log"),))
FLAT = (3.0 - sqrt(3.0)) / 6.0
CORNER = 9.0 / 32.0


def at_rest(density, heel=0.1):
    start = WaterPlane(up_vector(0.0, heel), density - 0.5)
    return equilibrium(LOG, Loading(30.0 * density, np.zeros(3)), 1.0, start)


def tilt(density):
    """Angle of rest from the flat [rad]."""
    s = min(density, 1.0 - density)
    if s <= FLAT:
        return 0.0
    if s <= 0.25:
        return atan(sqrt(12.0 * s * (1.0 - s) - 2.0))
    if s < CORNER:
        root = sqrt(2.25 - 8.0 * s)
        return atan((1.5 - root) / (1.5 + root))
    return atan(1.0)


@pytest.mark.parametrize(
    "density", [0.05, 0.15, 0.21, 0.2125, 0.22, 0.24, 0.26, 0.27, 0.28, 0.2825, 0.35, 0.5]
)
def test_the_tilt_is_the_formula(density):
    for s in (density, 1.0 - density):
        rest = at_rest(s)
        assert rest.stable
        assert rest.plane.heel == pytest.approx(tilt(s), abs=1e-9)
        assert rest.plane.trim == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(("density", "heel_deg"), [(0.22, 13.675), (0.24, 23.485)])
def test_two_values(density, heel_deg):
    assert degrees(at_rest(density).plane.heel) == pytest.approx(heel_deg, abs=5e-4)


def test_where_flat_ends_and_where_corner_up_begins():
    def flat(s):
        loading = Loading(30.0 * s, np.zeros(3))
        return equilibrium(LOG, loading, 1.0).upright.gm_transverse

    assert brentq(flat, 0.2, 0.23, xtol=1e-12) == pytest.approx(FLAT, abs=1e-10)
    assert pytest.approx(0.2113248654, abs=5e-11) == FLAT
    for s, state in ((CORNER - 1e-6, False), (CORNER + 1e-6, True)):
        tilted = degrees(at_rest(s, heel=0.78).plane.heel)
        assert (tilted == pytest.approx(45.0, abs=1e-6)) is state
