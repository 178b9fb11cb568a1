"""At rest: by hand, invariances, liquids, what is refused."""

import os
import subprocess
import sys
from math import cos, radians, sin, sqrt, tan

import bodies
import numpy as np
import pytest
from scipy.optimize import brentq

from hullchange.errors import ModelError
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import (
    Loading,
    Tank,
    attitude_jacobian,
    equilibrium,
    sensitivity,
)
from hullchange.floating.weight_slopes import upright_gm_slopes
from hullchange.geometry.frame import WaterPlane, up_vector
from hullchange.geometry.surface import Surface, box
from hullchange.units import STANDARD_GRAVITY

WATER = 1025.0
AMIDSHIPS, LENGTH = 5.0, 10.0


def floating(*surfaces):
    return Envelope(tuple(Piece(s, adds=True, id=str(k)) for k, s in enumerate(surfaces)))


def barge(length=20.0, beam=4.0, depth=3.0):
    return floating(bodies.barge(length, beam, depth, draught=1.0))


HULL = bodies.yacht(40)
YACHT = floating(HULL, bodies.fin(HULL))
LOADING = Loading(9000.0, np.array([5.9, 0.05, 0.0]))
LEVEL = WaterPlane(up_vector(0.0, 0.0), 0.0)
SLACK = Tank(box(np.array([3.0, 0.1, -0.3]), np.array([4.0, 0.9, 0.1])), 0.2, 1000.0)


def attitude(rest):
    plane = rest.plane
    trim = plane.trim_between_perpendiculars(LENGTH)
    return np.array([plane.sinkage(AMIDSHIPS), trim, plane.heel])


def wall_sided_list(arm, gm, bm):
    """Angle at which sin H (GM + BM tan^2 H / 2) = arm cos H."""
    return brentq(lambda h: tan(h) * (gm + bm * tan(h) ** 2 / 2) - arm, 0.0, 1.2, xtol=1e-15)


def test_a_barge_by_hand():
    # 20 x 4 m, 80 t: draught 0.975610 m; BM = B^2 / 12 d, and L^2 / 12 d
    draught = 80_000.0 / (20.0 * 4.0 * WATER)
    rest = equilibrium(barge(), Loading(80_000.0, np.array([0.0, 0.0, 0.2])), WATER)
    buoyancy = -1.0 + draught / 2.0
    assert rest.plane.sinkage(0.0) == pytest.approx(draught - 1.0, abs=1e-14)
    assert rest.buoyancy_centre == pytest.approx([0.0, 0.0, buoyancy], abs=1e-14)
    bm, bml = 16.0 / (12.0 * draught), 400.0 / (12.0 * draught)
    assert rest.gm_transverse == pytest.approx(bm + buoyancy - 0.2, rel=1e-13)
    assert rest.gm_longitudinal == pytest.approx(bml + buoyancy - 0.2, rel=1e-13)
    assert rest.metacentre_transverse[2] == pytest.approx(buoyancy + bm, rel=1e-13)
    assert rest.mass == pytest.approx(80_000.0, rel=1e-12)
    assert rest.stable
    assert rest.upright_stable


@pytest.mark.parametrize("arm", [0.02, 0.2, 0.3])
def test_a_barge_lists_and_trims_by_the_wall_sided_formula(arm):
    upright = equilibrium(barge(), Loading(80_000.0, np.array([0.0, 0.0, 0.2])), WATER)
    bm = upright.metacentre_transverse[2] - upright.buoyancy_centre[2]
    to_starboard = equilibrium(barge(), Loading(80_000.0, np.array([0.0, arm, 0.2])), WATER)
    expected = wall_sided_list(arm, upright.gm_transverse, bm)
    assert to_starboard.plane.heel == pytest.approx(expected, abs=1e-12)
    assert to_starboard.plane.trim == pytest.approx(0.0, abs=1e-13)
    bml = bm * (20.0 / 4.0) ** 2
    aft = equilibrium(barge(), Loading(80_000.0, np.array([arm, 0.0, 0.2])), WATER)
    expected = wall_sided_list(arm, upright.gm_longitudinal, bml)
    assert aft.plane.trim == pytest.approx(expected, abs=1e-12)
    assert aft.plane.heel == pytest.approx(0.0, abs=1e-13)


def test_at_rest_weight_and_buoyancy_are_in_one_vertical_line():
    rest = equilibrium(YACHT, LOADING, WATER)
    arm = rest.buoyancy_centre - rest.centre_of_gravity
    assert np.cross(arm, rest.plane.up) == pytest.approx(np.zeros(3), abs=1e-11)
    assert rest.integrals.volume == pytest.approx(9000.0 / WATER, rel=1e-12)
    assert rest.centre_of_gravity == pytest.approx(LOADING.centre, abs=1e-15)
    assert rest.residual < 1e-12


def test_moving_a_weight_moves_the_centre_exactly_and_back():
    before = equilibrium(YACHT, LOADING, WATER)
    by = np.array([-1.2, 0.8, 0.5])
    moved = Loading(9000.0, LOADING.centre + 300.0 / 9000.0 * by)
    after = equilibrium(YACHT, moved, WATER, before.plane)
    assert after.centre_of_gravity - before.centre_of_gravity == pytest.approx(
        by / 30, abs=1e-14
    )
    assert after.integrals.volume == pytest.approx(before.integrals.volume, rel=2e-12)
    lever = after.buoyancy_centre - before.centre_of_gravity
    way = after.tilts[0]
    assert lever @ way == pytest.approx(by @ way / 30.0, abs=1e-11)
    back = equilibrium(YACHT, LOADING, WATER, after.plane)
    assert attitude(back) == pytest.approx(attitude(before), abs=2e-12)
    assert back.gm_transverse == pytest.approx(before.gm_transverse, abs=1e-11)


@pytest.mark.parametrize("turn", ["mirror", "move", "scale"])
def test_the_same_boat_elsewhere(turn):
    here = equilibrium(YACHT, LOADING, WATER)
    x, y, z = LOADING.centre
    surfaces = [piece.surface for piece in YACHT.pieces]
    if turn == "mirror":
        other = floating(*(s.mirrored() for s in surfaces))
        there = equilibrium(other, Loading(9000.0, np.array([x, -y, z])), WATER)
        assert attitude(there) == pytest.approx(attitude(here) * [1, 1, -1], abs=1e-11)
    elif turn == "move":
        by = np.array([300.0, -20.0, 40.0])
        other = floating(*(bodies.moved(s, by) for s in surfaces))
        there = equilibrium(other, Loading(9000.0, LOADING.centre + by), WATER)
        assert there.plane.up == pytest.approx(here.plane.up, abs=1e-11)
        assert there.plane.offset - there.plane.up @ by == pytest.approx(here.plane.offset)
    else:
        other = floating(*(Surface.unchecked(3.0 * s.vertices, s.faces) for s in surfaces))
        there = equilibrium(other, Loading(27.0 * 9000.0, 3.0 * LOADING.centre), WATER)
        assert there.plane.up == pytest.approx(here.plane.up, abs=1e-11)
        assert there.gm_transverse == pytest.approx(3.0 * here.gm_transverse, rel=1e-10)


def test_energy_is_least_and_its_slope_is_the_lever():
    # work done heeling a barge from rest by a weight carried out: W GZ over the angle
    arm, loading = 0.3, Loading(80_000.0, np.array([0.0, 0.0, 0.2]))
    upright = equilibrium(barge(), loading, WATER)
    gm, z = upright.gm_transverse, upright.metacentre_transverse[2]
    bm = z - upright.buoyancy_centre[2]
    heeled = equilibrium(barge(), Loading(80_000.0, np.array([0.0, arm, 0.2])), WATER)
    h = heeled.plane.heel
    # integral of sin (GM + BM tan^2 / 2) from 0 to h, less what the carried weight gave
    work = gm * (1 - cos(h)) + bm / 2 * (1 / cos(h) + cos(h) - 2.0) - arm * sin(h)
    assert heeled.energy - upright.energy == pytest.approx(
        work * 80_000.0 * STANDARD_GRAVITY, rel=1e-10
    )


def test_a_sphere_is_neutral_and_answers():
    ball = floating(bodies.ball(1.0, 12))
    rest = equilibrium(ball, Loading(1000.0, np.zeros(3)), WATER)
    assert rest.mass == pytest.approx(1000.0, rel=1e-12)
    low = equilibrium(ball, Loading(1000.0, np.array([0.0, 0.1, -0.2])), WATER)
    assert low.stable
    assert low.gm_transverse == pytest.approx(sqrt(0.05), rel=0.02)  # flats, not a sphere


def test_a_boat_upside_down_rights_herself_or_stays():
    capsized = WaterPlane(up_vector(0.05, radians(175.0)), 0.0)
    rest = equilibrium(YACHT, LOADING, WATER, capsized)
    assert rest.stable
    low = Loading(9000.0, LOADING.centre - [0.0, 0.0, 1.2])
    righted = equilibrium(YACHT, low, WATER, capsized)
    assert abs(righted.plane.heel) < radians(10.0)


def hostile_cases():
    slender = bodies.slender(40)
    flat = floating(bodies.barge(10.0, 3.0, 1.2, cells=12))
    return {
        "yacht": (YACHT, Loading(10_000.0, np.array([5.6, 0.01, -0.2]))),
        "slender": (floating(slender), Loading(4500.0, np.array([0.3, 0.005, -0.15]))),
        "deck edge": (flat, Loading(0.8 * 30.0 * WATER, np.array([0.1, 0.02, 0.5]))),
        "bilge": (flat, Loading(0.12 * 30.0 * WATER, np.array([0.1, 0.02, 0.5]))),
    }


@pytest.mark.slow
@pytest.mark.parametrize("name", hostile_cases())
def test_from_two_hundred_hostile_starts(name):
    envelope, loading = hostile_cases()[name]
    low, high = envelope.bounds
    random = np.random.default_rng(1)
    for _ in range(200):
        trim, heel = radians(random.uniform(-40, 40)), radians(random.uniform(-170, 170))
        up = up_vector(trim, heel)
        middle = float(up @ (low + high)) / 2.0
        start = WaterPlane(up, middle + random.uniform(-0.3, 0.3) * float(high[2] - low[2]))
        rest = equilibrium(envelope, loading, WATER, start)
        assert rest.stable
        assert rest.residual < 1e-12


def test_a_full_tank_has_no_free_surface_and_an_empty_one_nothing():
    whole = SLACK.surface.volume
    full = Loading(8000.0, LOADING.centre, (Tank(SLACK.surface, whole, 1000.0),))
    rest = equilibrium(YACHT, full, WATER)
    assert np.abs(rest.free_surface).max() == 0.0
    frozen = (8000.0 * LOADING.centre + 1000.0 * whole * np.array([3.5, 0.5, -0.1])) / (
        8000.0 + 1000.0 * whole
    )
    same = equilibrium(YACHT, Loading(8000.0 + 1000.0 * whole, frozen), WATER)
    assert attitude(rest) == pytest.approx(attitude(same), abs=1e-11)
    empty = Loading(9000.0, LOADING.centre, (Tank(SLACK.surface, 0.0, 1000.0),))
    nothing = equilibrium(YACHT, LOADING, WATER)
    assert attitude(equilibrium(YACHT, empty, WATER)) == pytest.approx(attitude(nothing))


def test_divided_by_a_bulkhead_a_tank_costs_a_quarter():
    def loss(*sides):
        tanks = tuple(
            Tank(box(np.array([-2.0, y, -0.9]), np.array([2.0, y + b, 0.1])), 2.0 * b, 1000.0)
            for y, b in sides
        )
        rest = equilibrium(barge(), Loading(70_000.0, np.array([0.0, 0.0, 0.0]), tanks), WATER)
        return rest.gm_transverse_solid - rest.gm_transverse

    assert loss((-1.5, 1.5), (0.0, 1.5)) == pytest.approx(loss((-1.5, 3.0)) / 4.0, rel=1e-11)


def test_more_than_a_tank_holds_is_refused():
    with pytest.raises(ModelError, match="holds 320 litres; 330 were given") as refusal:
        Tank(SLACK.surface, 0.33, 1000.0, "fuel port")
    assert refusal.value.code == "tank-volume"


@pytest.mark.parametrize(
    ("mass", "code"),
    [(0.0, "no-mass"), (-5.0, "no-mass"), (1.001 * YACHT.volume * WATER, "sinks")],
)
def test_what_cannot_float(mass, code):
    with pytest.raises(ModelError) as refusal:
        equilibrium(YACHT, Loading(mass, LOADING.centre), WATER)
    assert refusal.value.code == code


def test_awash_is_not_sunk():
    rest = equilibrium(YACHT, Loading(0.999 * YACHT.volume * WATER, LOADING.centre), WATER)
    assert rest.stable
    assert rest.mass == pytest.approx(rest.loading.total_mass, rel=1e-12)


def test_more_taken_than_added_is_refused():
    small = bodies.barge(1.0, 1.0, 1.0)
    pieces = (Piece(small, True, "it"), Piece(bodies.barge(2.0, 1.0, 1.0), False, "hole"))
    with pytest.raises(ModelError) as refusal:
        equilibrium(Envelope(pieces), LOADING, WATER)
    assert refusal.value.code == "no-volume"


@pytest.mark.parametrize("heeled", [0.05, 0.9])
def test_sensitivities_are_the_differences(heeled):
    loading = Loading(9000.0, np.array([5.9, heeled, 0.0]), (SLACK,))
    rest = equilibrium(YACHT, loading, WATER)
    numbers = 9000.0 * np.array([1.0, *loading.centre])
    exact, gm = attitude_jacobian(rest, AMIDSHIPS, LENGTH), upright_gm_slopes(rest.upright)
    for k, step in enumerate(np.eye(4)):
        ends = []
        for changed in (numbers + step, numbers - step):
            moved = Loading(changed[0], changed[1:] / changed[0], (SLACK,))
            ends.append(equilibrium(YACHT, moved, WATER, rest.plane))
        slope = (attitude(ends[0]) - attitude(ends[1])) / 2.0
        # differences of 1 kg: their own error is of the order of 1e-7 of the largest
        assert exact[:, k] == pytest.approx(slope, abs=1e-6 * np.abs(slope).max())
        held = [end.upright.gm_transverse for end in ends]
        gm_slope = (held[0] - held[1]) / 2.0
        assert gm[k] == pytest.approx(gm_slope, abs=1e-3 * np.abs(gm).max())


def test_sensitivity_of_a_barge_by_hand():
    rest = equilibrium(barge(), Loading(80_000.0, np.array([0.0, 0.0, 0.2])), WATER)
    rows = sensitivity(rest)
    assert rows[0] == pytest.approx([1.0 / (80.0 * WATER), 0, 0, 0], abs=1e-16)
    across = 1.0 / (80_000.0 * rest.gm_transverse)
    along = 1.0 / (80_000.0 * rest.gm_longitudinal)
    assert rows[1] == pytest.approx([0, 0, across, 0], abs=1e-17)
    assert rows[2] == pytest.approx([0, along, 0, 0], abs=1e-17)


NUMPY = """
import numpy as np
from hullchange.floating import equilibrium as e
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.kernel.compiled import COMPILES
from hullchange.floating.weight_slopes import upright_gm_slopes
from hullchange.geometry.surface import box
import bodies, sys
hull = bodies.yacht(16)
envelope = Envelope((Piece(hull, True, "hull"), Piece(bodies.fin(hull), True, "keel")))
tank = e.Tank(box(np.array([3.0, 0.1, -0.3]), np.array([4.0, 0.9, 0.1])), 0.2, 1000.0)
rest = e.equilibrium(envelope, e.Loading(8800.0, np.array([5.9, 0.3, 0.0]), (tank,)), 1025.0)
print(COMPILES, "numba" in sys.modules)
print(*(x.hex() for x in (*rest.plane.up.tolist(), rest.plane.offset, rest.gm_transverse)))
"""


def output_with_kernel(kernel):
    environment = {**os.environ, "HULLCHANGE_KERNEL": kernel}
    paths = os.path.dirname(bodies.__file__), os.environ.get("PYTHONPATH", "")
    environment["PYTHONPATH"] = os.pathsep.join(path for path in paths if path)
    command = [sys.executable, "-W", "error", "-c", NUMPY]
    run = subprocess.run(command, env=environment, capture_output=True, text=True, check=True)
    first, second = run.stdout.splitlines()
    return first, [float.fromhex(word) for word in second.split()]


@pytest.mark.slow
def test_without_a_compiler_the_same_lines_give_the_same_answer():
    plain, numbers = output_with_kernel("numpy")
    assert plain == "False False"
    loops, same = output_with_kernel("numba")
    assert loops == "True True"
    assert numbers == pytest.approx(same, abs=1e-11)
