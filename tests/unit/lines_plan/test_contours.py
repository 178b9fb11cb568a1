"""Level curves of a surface that is straight across between lines."""

import numpy as np
import pytest

from hullchange.lines_plan.contours import level_curves

X = np.linspace(0.0, 10.0, 101)


def lines(*rows):
    """(k, n, 3) lines over X from pairs of half-breadth and height."""
    return np.array(
        [np.column_stack([X, *(np.broadcast_to(v, X.shape) for v in row)]) for row in rows]
    )


def test_a_wedge_is_cut_in_a_line_through_both_its_strips():
    (curve,) = level_curves(lines((0.0, -1.0 + 0.1 * X), (2.0, 0.1 * X), (2.5, 1.0)), 2, 0.05)
    assert curve[:, 2] == pytest.approx(0.05, abs=1e-12)
    low = curve[curve[:, 0] > 0.6]
    assert low[:, 1] == pytest.approx(2.0 * (1.05 - 0.1 * low[:, 0]), abs=1e-9)
    assert curve[:, 1].max() > 2.0


def test_a_hump_is_cut_in_a_ring_and_two_humps_in_two():
    hump = np.exp(-(((X - 3.0) / 1.0) ** 2))
    (ring,) = level_curves(lines((0.0, 0.0), (1.0, hump), (2.0, 0.0)), 2, 0.5)
    assert ring[0] == pytest.approx(ring[-1])
    twice = hump + np.exp(-(((X - 7.0) / 1.0) ** 2))
    assert len(level_curves(lines((0.0, 0.0), (1.0, twice), (2.0, 0.0)), 2, 0.5)) == 2


@pytest.mark.parametrize(("low", "high"), [(-1.0, 3.0), (-3.0, 1.0)])
def test_in_a_saddle_the_curves_go_round_the_corners_that_the_middle_is_unlike(low, high):
    z = np.array([[low, high], [high, low]])
    x, y = np.array([[0.0, 1.0], [0.0, 1.0]]), np.array([[0.0, 0.0], [1.0, 1.0]])
    found = level_curves(np.stack([x, y, z], axis=-1), 2, 0.0)
    assert len(found) == 2
    odd = np.argwhere(z < 0.0) if z.mean() > 0.0 else np.argwhere(z > 0.0)
    for curve in found:
        middle = curve.mean(axis=0)
        away = [np.hypot(middle[0] - i, middle[1] - k) for k, i in odd]
        assert min(away) < 0.5


def test_beside_the_surface_there_is_nothing():
    assert level_curves(lines((0.0, -1.0), (2.0, 1.0)), 2, 2.0) == ()
