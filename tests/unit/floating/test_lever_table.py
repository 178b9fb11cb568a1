"""A curve of levers read between its heels, against the boat held at each of them."""

import bodies
import numpy as np
import pytest

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading
from hullchange.floating.kernel.shapes import HEEL, OFFSET, TO_PORT, TRIM
from hullchange.floating.lever_table import dense, read_at
from hullchange.floating.levers import righting_levers, stepped

WATER = 1025.0
HULL = bodies.yacht(40)
YACHT = Envelope(
    tuple(
        Piece(surface, adds=True, id=name)
        for name, surface in (("hull", HULL), ("fin", bodies.fin(HULL)))
    )
)
LISTED = Loading(9000.0, np.array([5.9, 0.05, -0.1]))
DEGREES = np.radians(np.arange(-180.0, 181.0))


def levers(by_deg, envelope=YACHT, loading=LISTED):
    heels = np.radians(np.arange(-180.0, 180.1, by_deg))
    return righting_levers(envelope, loading, WATER, heels)


@pytest.mark.parametrize("by_deg", [2.5, 5.0])
def test_a_dense_curve_reads_to_a_tenth_of_a_millimetre_and_a_hundredth_of_a_degree(by_deg):
    curve = levers(by_deg)
    exact = levers(1.0).rows
    read = read_at(dense(curve), DEGREES)
    assert np.abs(read[:, TO_PORT] - exact[:, TO_PORT]).max() < 1e-4
    assert np.degrees(np.abs(read[:, TRIM] - exact[:, TRIM]).max()) < 0.01
    assert np.abs(read[:, OFFSET] - exact[:, OFFSET]).max() < 1e-4
    # without the heels between it is not
    assert np.abs(read_at(curve, DEGREES)[:, TO_PORT] - exact[:, TO_PORT]).max() > 1e-4


def test_its_own_heels_stay_as_they_are():
    curve = levers(5.0)
    more = dense(curve)
    assert set(curve.heels) <= set(more.heels)
    assert (np.diff(more.heels) > 0.0).all()
    read = read_at(more, curve.heels)
    assert np.allclose(read[:, TO_PORT], curve.to_port, rtol=0.0, atol=1e-12)


def test_a_step_has_two_sides():
    whole = levers(5.0)
    lost = levers(5.0, loading=Loading(9000.0, np.array([5.9, 0.05, 0.1])))
    hatch = np.array([[6.0, 1.2, 1.6]])
    under = {side: whole.immersion_angle(hatch, side) for side in ("starboard", "port")}
    curve = dense(stepped(whole, lost, under["starboard"], under["port"]))
    steps = curve.heels[1:][np.diff(curve.heels) == 0.0]
    assert len(steps) >= 1
    inner, outer = read_at(curve, steps), read_at(curve, steps, beyond=True)
    for k, heel in enumerate(steps):
        assert inner[k, HEEL] == outer[k, HEEL] == heel
        assert inner[k, TO_PORT] == pytest.approx(whole.at(heel).to_port, abs=1e-6)
        assert outer[k, TO_PORT] == pytest.approx(lost.at(heel).to_port, abs=1e-4)
