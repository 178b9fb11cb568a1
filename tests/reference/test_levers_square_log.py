"""Every way a long square log floats, stable and not, round the whole circle.

Source: E. N. Gilbert, How things float, American Mathematical Monthly 98 (1991); W. P. Reid,
    Floating of a long square bar, American Journal of Physics 31 (1963) 565.
Seen: quoted elsewhere (abstracts opened; values from memory, then derived and found equal).
Known: flat is stable to s = (3 - sqrt 3)/6, corner up from s = 9/32; between them a tilt with
    tan^2 = 12 s (1 - s) - 2 as long as tan <= 2 s. By symmetry the same for 1 - s, and every
    quarter turn. Stable and unstable attitudes take turns round the circle.
"""

from math import degrees, sqrt

import bodies
import numpy as np
import pytest

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading
from hullchange.floating.levers import righting_levers

LOG = Envelope((Piece(bodies.barge(30.0, 1.0, 1.0, draught=0.5, cells=4), True, "log"),))
FLAT = [-90.0, 0.0, 90.0, 180.0]
CORNER = [-135.0, -45.0, 45.0, 135.0]


def levers(density):
    heels = np.radians(np.arange(-180.0, 181.0, 2.0))
    return righting_levers(LOG, Loading(30.0 * density, np.zeros(3)), 1.0, heels)


def sorted_by_stability(curve):
    stable = [degrees(rest.heel) for rest in curve.equilibria if rest.stable]
    unstable = [degrees(rest.heel) for rest in curve.equilibria if not rest.stable]
    turns = [rest.stable for rest in curve.equilibria]
    assert all(a != b for a, b in zip(turns, turns[1:] + turns[:1], strict=True))
    return stable, unstable


@pytest.mark.parametrize("density", [0.05, 0.2, 0.8, 0.95])
def test_light_and_heavy_logs_lie_flat(density):
    stable, unstable = sorted_by_stability(levers(density))
    assert stable == pytest.approx(FLAT, abs=1e-8)
    assert unstable == pytest.approx(CORNER, abs=1e-8)


@pytest.mark.parametrize("density", [0.29, 0.5, 0.7])
def test_logs_in_the_middle_float_corner_up(density):
    stable, unstable = sorted_by_stability(levers(density))
    assert stable == pytest.approx(CORNER, abs=1e-8)
    assert unstable == pytest.approx(FLAT, abs=1e-8)


@pytest.mark.parametrize("density", [0.22, 0.24, 0.76])
def test_between_them_they_tilt_both_ways(density):
    curve = levers(density)
    stable, unstable = sorted_by_stability(curve)
    tilt = degrees(np.arctan(sqrt(12.0 * density * (1.0 - density) - 2.0)))
    tilts = sorted(flat + side * tilt for flat in (-180.0, *FLAT) for side in (-1.0, 1.0))
    assert stable == pytest.approx([t for t in tilts if abs(t) < 180.0], abs=1e-8)
    assert unstable == pytest.approx(sorted(FLAT + CORNER), abs=1e-8)
    lolls = [degrees(rest.heel) for rest in bodies.loll_angles(curve)]
    assert lolls == pytest.approx([-tilt, tilt], abs=1e-8)


def test_two_printed_values():
    for density, tilt_deg in ((0.22, 13.675), (0.24, 23.485)):
        starboard = next(
            rest for rest in bodies.loll_angles(levers(density)) if rest.heel > 0.0
        )
        assert degrees(starboard.heel) == pytest.approx(tilt_deg, abs=5e-4)
