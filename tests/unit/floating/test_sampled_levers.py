"""Levers weighed in many ways: by hand, against solving again, rests in closed form."""

from dataclasses import replace
from math import pi, radians, sin, tan

import numpy as np
import pytest
from bodies import barge, fin, yacht

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, Tank, equilibrium
from hullchange.floating.levers import righting_levers, stepped
from hullchange.floating.sampled_levers import GRID, SampledLevers, sampled_levers
from hullchange.floating.weight_slopes import upright_gm_slopes, weight_slopes
from hullchange.geometry.surface import box

SEA, LENGTH, BEAM, DRAUGHT = 1025.0, 20.0, 6.0, 1.5
MASS = SEA * LENGTH * BEAM * DRAUGHT
BM = BEAM**2 / 12.0 / DRAUGHT
CIRCLE = np.radians(np.arange(-180.0, 181.0, 2.5))


def floating_box(vcg, tcg=0.0):
    """A box barge of 2.5 m freeboard: heeled up to 26.6 degrees she is wall-sided."""
    body = Envelope((Piece(barge(LENGTH, BEAM, 4.0, DRAUGHT), True, "box"),))
    loading = Loading(MASS, np.array([0.0, tcg, vcg]))
    return body, loading, righting_levers(body, loading, SEA, CIRCLE)


def floating_yacht():
    """A hull with a fin, a slack tank and a weight to one side."""
    hull = yacht(16)
    body = Envelope((Piece(hull, True, "hull"), Piece(fin(hull), True, "fin")))
    water = Tank(box(np.array([5.0, -0.6, -0.3]), np.array([6.0, 0.6, 0.1])), 0.3, 1000.0)
    return body, Loading(8700.0, np.array([5.9, 0.05, -0.1]), (water,))


def test_a_higher_weight_takes_the_sine_and_one_to_a_side_the_cosine():
    _, _, curve = floating_box(-0.3)
    heels = np.radians([-60.0, -20.0, 0.0, 10.0, 50.0, 120.0])
    arm = weight_slopes(curve).at(heels)[:, 0] * MASS
    assert arm[:, 3] == pytest.approx(-np.sin(heels))
    assert arm[:, 2] == pytest.approx(-np.cos(heels))
    assert arm[:, 1] == pytest.approx(0.0 * heels, abs=1e-9)


def test_more_displacement_of_a_wall_sided_barge_by_hand():
    # on top of what is aboard, at the frame's origin: B rises, BM falls, G comes nearer z = 0
    vcg = -0.3
    _, _, curve = floating_box(vcg)
    step = 1.0 / (SEA * LENGTH * BEAM)  # [m/kg]
    by_mass = weight_slopes(curve).at(np.radians([10.0, 20.0]))[:, 0, 0]
    for heel, slope in zip(np.radians([10.0, 20.0]), by_mass, strict=True):
        more_bm = -BM / DRAUGHT * step
        more_gm = step / 2.0 + more_bm + vcg / MASS
        by_hand = sin(heel) * (more_gm + more_bm * tan(heel) ** 2 / 2.0)
        assert slope == pytest.approx(by_hand, rel=1e-6)


def test_slopes_are_those_of_solving_again():
    body, loading = floating_yacht()
    heels = np.radians(np.arange(-180.0, 181.0, 10.0))
    slopes = weight_slopes(righting_levers(body, loading, SEA, heels))
    numbers = loading.mass * np.array([1.0, *loading.centre])
    upright = equilibrium(body, loading, SEA).upright
    gm = upright_gm_slopes(upright)
    for k, step in enumerate([5.0, 5.0, 0.5, 5.0]):
        ends, heights = [], []
        for sign in (1.0, -1.0):
            moved = numbers + sign * step * np.eye(4)[k]
            again = replace(loading, mass=moved[0], centre=moved[1:] / moved[0])
            curve = righting_levers(body, again, SEA, heels)
            ends.append(np.stack([curve.to_port, curve.trims, curve.offsets], axis=1))
            heights.append(equilibrium(body, again, SEA).upright.gm_transverse)
        differences = (ends[0] - ends[1]) / (2.0 * step)
        scale = np.abs(differences).max(axis=0)
        # the step bends them by parts in ten thousand
        assert slopes.matrices[:, :, k] / scale == pytest.approx(differences / scale, abs=5e-4)
        assert gm[k] == pytest.approx((heights[0] - heights[1]) / (2.0 * step), abs=2e-8)


def test_heights_of_points_go_with_trim_and_water():
    body, loading = floating_yacht()
    heels = np.radians(np.arange(-60.0, 61.0, 10.0))
    curve = righting_levers(body, loading, SEA, heels)
    point = np.array([[8.0, 0.8, 1.1]])
    slopes = weight_slopes(curve).heights(point, curve.rows[:1])[0]
    moved = loading.mass * np.array([1.0, *loading.centre]) + [5.0, 20.0, 0.0, 0.0]
    again = replace(loading, mass=moved[0], centre=moved[1:] / moved[0])
    other = righting_levers(body, again, SEA, heels)
    rises = other.planes[0].height_above(point) - curve.planes[0].height_above(point)
    assert slopes @ [5.0, 20.0, 0.0, 0.0] == pytest.approx(rises[0], rel=1e-2)


def rests_at(gm, tcg):
    """Heel [rad] of a wall-sided barge: GM tan + BM / 2 tan^3 = TCG, the outermost root."""
    roots = np.roots([BM / 2.0, 0.0, gm, -tcg])
    return np.arctan(roots[np.abs(roots.imag) < 1e-9].real.max())


@pytest.mark.parametrize("tcg", [0.0, 0.001])
def test_she_lolls_where_the_wall_sided_formula_says(tcg):
    # upright GM nought: each draw has a GM of its own
    _, _, curve = floating_box(BM - DRAUGHT / 2.0, tcg)
    gms = np.array([-0.05, -0.02, -0.005])
    changes = np.zeros((3, 4))
    changes[:, 3] = -gms * MASS
    rests = sampled_levers(curve, weight_slopes(curve), changes).rests
    # the grid is a quarter of a degree
    assert rests == pytest.approx([rests_at(gm, tcg) for gm in gms], abs=radians(0.02))


def test_a_weight_to_a_side_lists_her_to_that_side():
    _, _, curve = floating_box(-0.3)
    gm = BM - DRAUGHT / 2.0 + 0.3
    changes = np.zeros((3, 4))
    changes[:, 2] = MASS * np.array([0.05, -0.05, 0.0])
    rests = sampled_levers(curve, weight_slopes(curve), changes).rests
    rest = rests_at(gm, 0.05)
    assert rests == pytest.approx([rest, -rest, 0.0], abs=1e-6)


def test_nothing_changed_vanishes_where_the_curve_does():
    body, loading = floating_yacht()
    curve = righting_levers(body, loading, SEA, CIRCLE)
    same = sampled_levers(curve, weight_slopes(curve), np.zeros((1, 4)))
    for side in ("port", "starboard"):
        assert same.vanishing(side)[0] == pytest.approx(
            abs(curve.vanishing_angle(side).at.heel), abs=radians(0.01)
        )
        # read at whole degrees, round a sharp top
        assert same.greatest(side)[0] == pytest.approx(curve.maximum(side).gz, abs=5e-4)
    assert same.rests[0] == pytest.approx(
        equilibrium(body, loading, SEA).plane.heel, abs=radians(0.01)
    )


def test_what_never_rights_and_what_never_ceases():
    sines = np.sin(GRID)
    levers = SampledLevers(GRID, np.stack([sines, -sines, sines - 2.0]))
    # held at 180 degrees nothing turns the first: that is not yet capsizing
    assert levers.vanishing("starboard")[1:].tolist() == [0.0, 0.0]
    assert levers.vanishing("starboard")[0] == pytest.approx(pi)
    assert levers.greatest("starboard")[0] == pytest.approx(1.0, abs=1e-4)
    assert levers.rests.tolist() == pytest.approx([0.0, pi, pi])


def test_a_step_keeps_its_two_sides():
    _, loading, curve = floating_box(-0.3)
    lower = Envelope((Piece(barge(LENGTH, BEAM, 3.0, DRAUGHT), True, "box"),))
    lost = righting_levers(lower, loading, SEA, CIRCLE)
    edge = np.array([[0.0, 2.0, 1.2], [0.0, -2.0, 1.2]])
    starboard, port = (curve.immersion_angle(edge, side) for side in ("starboard", "port"))
    both = stepped(curve, lost, starboard, port)
    slopes = weight_slopes(both)
    at = starboard.at.heel
    within, beyond = slopes.at(np.array([at - 1e-6, at + 1e-6]))[:, 0, 0]
    assert within == pytest.approx(weight_slopes(curve).at(np.array([at]))[0, 0, 0], rel=0.02)
    assert beyond == pytest.approx(weight_slopes(lost).at(np.array([at]))[0, 0, 0], rel=0.02)
    assert within != pytest.approx(beyond, rel=0.05)


@pytest.mark.parametrize("side", ["port", "starboard"])
def test_of_one_who_cannot_be_heeled_to_a_side_nothing_is_read_there(side):
    heels = GRID[GRID >= 0.0] if side == "port" else GRID[GRID <= 0.0]
    levers = SampledLevers(heels, np.stack([np.sin(heels), -np.sin(heels)]))
    assert np.isfinite(levers.rests).all()
    assert np.isfinite(levers.vanishing(side)).all()
    assert np.isfinite(levers.greatest(side)).all()
