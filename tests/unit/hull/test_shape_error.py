"""What errors of the readings do to the volume: against rebuilding the hull."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from hullchange.geometry.frame import WaterPlane
from hullchange.hull.hull import hull_of
from hullchange.hull.lines import LineInput
from hullchange.hull.shape_error import (
    SPLINE_SHARE,
    line_gradients,
    reading_moves,
    shape_covariance,
    straightening,
)

TRIANGLES = 2500
UPRIGHT = WaterPlane.at(0.0, 0.0, 0.0, 5.0)


@pytest.fixture(scope="module")
def canoe_input(demo_input):
    return replace(demo_input, appendages=())


@pytest.fixture(scope="module")
def canoe(canoe_input):
    return hull_of(canoe_input, TRIANGLES)


def shifted(given, moves):
    """The input with (k, n, 3) added to its points."""
    lines = tuple(
        replace(one, points=tuple(map(tuple, (np.array(one.points) + move).tolist())))
        for one, move in zip(given.lines, moves, strict=True)
    )
    return replace(given, lines=lines)


READINGS = [
    (line, point, axis)
    for line, point, axis in product(range(3), (0, 2, 6, 13), range(3))
    if axis != 1 or (line > 0 and point > 0)  # half-breadths of 0 cannot be less
]


@pytest.mark.parametrize(("line", "point", "axis"), READINGS)
def test_one_reading_moves_the_volume_as_a_rebuilt_hull_does(
    canoe, canoe_input, wet, line, point, axis
):
    step = 0.001
    move = np.zeros((4, 15, 3))
    move[line, point, axis] = step
    ahead, behind = (hull_of(shifted(canoe_input, s * move), TRIANGLES) for s in (1.0, -1.0))
    rebuilt = (wet(ahead.surface) - wet(behind.surface)) / (2.0 * step)
    # exact to first order; what is left is the second order of a millimetre's step
    assert effect_of(canoe, line, point, axis) == pytest.approx(rebuilt, rel=1e-4, abs=1e-4)


def effect_of(hull, line, point, axis):
    """(4,) derivative of volume and moments by one reading."""
    gradient = line_gradients(hull, UPRIGHT)[line]
    moves = reading_moves(hull.lines.lines[line], hull.mesh.fractions)
    return np.einsum("quc,uc->q", gradient, moves[point, axis])


def test_the_covariance_is_that_of_many_rebuilt_hulls(canoe, canoe_input, wet):
    random = np.random.default_rng(11)
    trials = 150
    sd = np.array([0.010, 0.005, 0.005])
    found = []
    for _ in range(trials):
        moves = random.normal(size=(4, 15, 3)) * sd
        moves[0, :, 1] = 0.0
        moves[1:, 0, 1] = np.abs(moves[1:, 0, 1])  # the stem's half-breadths start at nothing
        found.append(wet(hull_of(shifted(canoe_input, moves), TRIANGLES).surface))
    rebuilt = np.cov(np.array(found).T)
    method = SPLINE_SHARE * straightening(canoe, UPRIGHT)
    first_order = shape_covariance(canoe, UPRIGHT) - np.outer(method, method)
    ratio = np.sqrt(np.diag(first_order)[[0, 1, 3]] / np.diag(rebuilt)[[0, 1, 3]])
    # the scatter of a deviation from 150 trials is 6 %
    assert ratio == pytest.approx(np.ones(3), abs=0.18)
    correlation = first_order[0, 1] / np.sqrt(first_order[0, 0] * first_order[1, 1])
    assert correlation == pytest.approx(np.corrcoef(np.array(found).T)[0, 1], abs=0.1)


def test_upright_no_reading_moves_the_centre_sideways(canoe):
    covariance = shape_covariance(canoe, UPRIGHT)
    assert np.abs(covariance[2]).max() < 1e-18
    heeled = shape_covariance(canoe, WaterPlane.at(0.0, 0.0, 0.3, 5.0))
    assert heeled[2, 2] > 1e-6
    assert np.linalg.eigvalsh(heeled).min() > -1e-12


def test_a_box_by_hand(box_input):
    # each end's half-breadth moves half the length of both sides, each height half the bottom
    hull = hull_of(box_input, 4000)
    covariance = shape_covariance(hull, WaterPlane.at(0.0, 0.0, 0.0, 5.0), 0.005, 0.0)
    length, half, depth = 10.0, 2.0, 1.0
    # straight across from bilge at z -1 to sheer at z 1: 3/4 of what is wet is the bilge's
    breadth = 2 * length * depth / 2 * np.array([0.75, 0.25])
    height = half * length / 2 * np.array([1.0, 1.0])
    by_hand = 2 * 0.005**2 * (np.sum(breadth**2) + np.sum(height**2))
    assert covariance[0, 0] == pytest.approx(by_hand, rel=1e-9)


def test_straightening_is_what_straight_lines_lose(canoe, canoe_input, wet):
    dense = []
    x = canoe.lines.centreline.points[:, 0]
    fine = np.unique(np.concatenate([x, np.linspace(x[0], x[-1], 200)]))
    for given in canoe_input.lines:
        points = np.array(given.points)
        straight = np.column_stack(
            [fine, *(np.interp(fine, points[:, 0], points[:, c]) for c in (1, 2))]
        )
        inner = tuple(x[1:-1])
        dense.append(LineInput(given.name, given.kind, tuple(map(tuple, straight)), inner))
    rebuilt = wet(hull_of(replace(canoe_input, lines=tuple(dense)), 14_000).surface)
    splined = wet(hull_of(canoe_input, 14_000).surface)
    first_order = straightening(canoe, UPRIGHT)
    # at 15 stations straight lines lose 1.5 % of the volume; the second order is small to it
    assert first_order[0] / splined[0] == pytest.approx(-0.0148, abs=0.001)
    assert first_order[[0, 1]] == pytest.approx((rebuilt - splined)[[0, 1]], rel=0.05)


def test_the_splines_own_error_counts_as_a_tenth_of_the_way_to_straight(canoe):
    exact_readings = shape_covariance(canoe, UPRIGHT, 0.0, 0.0)
    share = straightening(canoe, UPRIGHT) / 10.0
    assert exact_readings == pytest.approx(np.outer(share, share), rel=1e-12, abs=1e-30)
