"""Righting levers: by hand, invariances, liquids, trim, energy, what is refused."""

import os
import subprocess
import sys
from dataclasses import fields
from math import atan, cos, degrees, hypot, pi, radians, sin, tan

import bodies
import numpy as np
import pytest

from hullchange.errors import ModelError
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, Tank, equilibrium
from hullchange.floating.heeled import Heeled, HeldBoat
from hullchange.floating.kernel import shapes
from hullchange.floating.kernel.shapes import LEAPT, TRIM_STIFFNESS
from hullchange.floating.levers import righting_levers
from hullchange.geometry.frame import WaterPlane, up_vector
from hullchange.geometry.surface import Surface, box

WATER = 1025.0
CIRCLE = np.radians(np.arange(-180.0, 181.0, 5.0))
WALL_SIDED = np.radians([5.0, 10.0, 15.0, 20.0, 25.0, 30.0])


def floating(*surfaces):
    return Envelope(tuple(Piece(s, adds=True, id=str(k)) for k, s in enumerate(surfaces)))


# 20 x 4 x 3 m, 1.2 m in the water: the bilge comes out at 30.96 degrees
BARGE = floating(bodies.barge(20.0, 4.0, 3.0, draught=1.2))
MASS = 20.0 * 4.0 * 1.2 * WATER
BM = 16.0 / (12.0 * 1.2)
HULL = bodies.yacht(40)
YACHT = floating(HULL, bodies.fin(HULL))
LOADING = Loading(9000.0, np.array([5.9, 0.0, -0.1]))
LISTED = Loading(9000.0, np.array([5.9, 0.05, -0.1]))
SLACK = Tank(box(np.array([3.0, 0.1, -0.3]), np.array([4.0, 0.9, 0.1])), 0.2, 1000.0)


def barge_levers(gm, heels, y=0.0, tanks=()):
    centre = np.array([0.0, y, -0.6 + BM - gm])
    return righting_levers(BARGE, Loading(MASS, centre, tanks), WATER, heels)


def test_a_row_has_the_columns_that_heeled_names():
    names = [field.name for field in fields(Heeled)]
    assert list(shapes.HeldRow._fields) == names
    assert [getattr(shapes, name.upper()) for name in names] == list(range(len(names)))


@pytest.mark.parametrize("heel_deg", [20.0, -20.0, 75.0, 160.0])
def test_moving_a_weight_across_changes_the_lever_by_its_moment(heel_deg):
    heel, arm = radians(heel_deg), 0.07
    before, across = (barge_levers(0.3, CIRCLE, y=y).at(heel) for y in (0.0, arm))
    assert before.to_port - across.to_port == pytest.approx(arm * cos(heel), abs=1e-12)
    up = barge_levers(0.3 - arm, CIRCLE).at(heel)
    assert before.to_port - up.to_port == pytest.approx(arm * sin(heel), abs=1e-12)


def test_the_sides_of_a_symmetric_boat_are_alike():
    curve = righting_levers(YACHT, LOADING, WATER, CIRCLE)
    assert curve.gz == pytest.approx(curve.gz[::-1], abs=1e-11)
    assert curve.slopes == pytest.approx(curve.slopes[::-1], abs=1e-9)
    assert curve.to_port == pytest.approx(-curve.to_port[::-1], abs=1e-11)
    assert curve.trims == pytest.approx(curve.trims[::-1], abs=1e-11)
    upright = equilibrium(YACHT, LOADING, WATER)
    # heel turns her about the level fore-and-aft line, which is not quite her own when trimmed
    gm = upright.gm_transverse * cos(upright.plane.trim)
    assert curve.at(0.0).slope == pytest.approx(gm, abs=1e-11)
    assert curve.at(0.0).trim_stiffness == pytest.approx(upright.gm_longitudinal, rel=1e-9)


def test_a_list_rights_on_one_side_sooner():
    curve = righting_levers(YACHT, LISTED, WATER, CIRCLE)
    rest = equilibrium(YACHT, LISTED, WATER)
    there = curve.at(rest.plane.heel)
    assert there.gz == pytest.approx(0.0, abs=1e-10)
    assert there.trim == pytest.approx(rest.plane.trim, abs=1e-10)
    middle = len(CIRCLE) // 2
    assert curve.gz[middle] == pytest.approx(-0.05, abs=1e-12)  # held upright she wants over
    assert (curve.gz[middle - 12 : middle] > curve.gz[middle + 1 : middle + 13][::-1]).all()


@pytest.mark.parametrize("turn", ["mirror", "move", "scale", "split"])
def test_the_same_boat_elsewhere(turn):
    here = righting_levers(YACHT, LISTED, WATER, CIRCLE)
    surfaces = [piece.surface for piece in YACHT.pieces]
    x, y, z = LISTED.centre
    if turn == "mirror":
        loading = Loading(9000.0, np.array([x, -y, z]))
        there = righting_levers(
            floating(*(s.mirrored() for s in surfaces)), loading, WATER, CIRCLE
        )
        assert there.to_port == pytest.approx(-here.to_port[::-1], abs=1e-11)
    elif turn == "move":
        by = np.array([300.0, -20.0, 40.0])
        loading = Loading(9000.0, LISTED.centre + by)
        there = righting_levers(
            floating(*(bodies.moved(s, by) for s in surfaces)), loading, WATER, CIRCLE
        )
        assert there.gz == pytest.approx(here.gz, abs=1e-10)
        ups = np.array([plane.up for plane in there.planes])
        assert there.offsets - ups @ by == pytest.approx(here.offsets, abs=1e-10)
    elif turn == "scale":
        large = floating(*(Surface.unchecked(3.0 * s.vertices, s.faces) for s in surfaces))
        loading = Loading(27.0 * 9000.0, 3.0 * LISTED.centre)
        there = righting_levers(large, loading, WATER, CIRCLE)
        assert there.gz == pytest.approx(3.0 * here.gz, abs=1e-10)
    else:
        keel = YACHT.pieces[1].surface
        twice = (*YACHT.pieces, Piece(keel, True, "twice"), Piece(keel, False, "and taken"))
        there = righting_levers(Envelope(twice), LISTED, WATER, CIRCLE)
        assert there.gz == pytest.approx(here.gz, abs=1e-11)
        assert there.slopes == pytest.approx(here.slopes, abs=1e-9)


@pytest.mark.parametrize("heel_deg", [-140.0, -60.0, -3.0, 7.0, 31.0, 88.0, 119.0, 171.0])
def test_rates_are_the_differences(heel_deg):
    loading = Loading(8800.0, LISTED.centre, (SLACK,))
    curve = righting_levers(YACHT, loading, WATER, CIRCLE)
    heel, step = radians(heel_deg), 1e-5
    here, less, more = (curve.at(heel + by) for by in (0.0, -step, step))
    for value, rate in (("to_port", here.slope), ("trim", here.trim_rate)):
        difference = (getattr(more, value) - getattr(less, value)) / (2.0 * step)
        # kinks where an edge meets the water bend the difference within its step
        assert rate == pytest.approx(difference, abs=2e-5)
    assert here.offset_rate == pytest.approx((more.offset - less.offset) / 2e-5, abs=2e-5)
    rise = (more.energy - less.energy) / (2.0 * step)
    assert rise == pytest.approx(
        curve.boats[0].weight * cos(here.trim) * here.to_port, rel=1e-6
    )


def test_at_a_heel_volume_and_trimming_lever_are_right():
    loading = Loading(8800.0, LISTED.centre, (SLACK,))
    curve = righting_levers(YACHT, loading, WATER, CIRCLE)
    for heeled, plane in zip(curve.rows, curve.planes, strict=True):
        below = YACHT.integrals(plane)
        assert below.volume * WATER == pytest.approx(9000.0, rel=2e-12)
        at_rest = equilibrium(YACHT, Loading(8800.0, LISTED.centre, (SLACK,)), WATER, plane)
        assert at_rest.stable
        assert plane.heel == pytest.approx((heeled[0] + pi) % (2 * pi) - pi, abs=1e-12) or (
            abs(abs(plane.heel) - pi) < 1e-12
        )
    solid = righting_levers(YACHT, LISTED, WATER, CIRCLE)
    for plane, to_port in zip(solid.planes, solid.to_port, strict=True):
        arm = LISTED.centre - YACHT.integrals(plane).buoyancy_centre
        across = np.array([0.0, plane.up[2], -plane.up[1]]) / hypot(plane.up[1], plane.up[2])
        along = np.cross(across, plane.up)
        assert -(arm @ across) == pytest.approx(to_port, abs=1e-11)
        assert arm @ along == pytest.approx(0.0, abs=1e-10)


def test_free_trim_counts():
    free = righting_levers(YACHT, LOADING, WATER, CIRCLE)
    assert degrees(np.ptp(free.trims)) > 1.0
    # what holds the trim where it is upright costs levers
    volume = 9000.0 / WATER
    held = WaterPlane(up_vector(float(free.at(0.0).trim), radians(50.0)), 0.0)
    low, high = -2.0, 2.0
    for _ in range(60):
        held = WaterPlane(held.up, (low + high) / 2.0)
        below = YACHT.integrals(held)
        low, high = (held.offset, high) if below.volume < volume else (low, held.offset)
    arm = LOADING.centre - YACHT.integrals(held).buoyancy_centre
    lever = -(arm @ np.array([0.0, cos(radians(50.0)), sin(radians(50.0))]))
    assert abs(lever - free.at(radians(50.0)).gz) > 1e-3


@pytest.mark.parametrize("tanks", [(), (SLACK,)])
def test_areas_and_energies_agree_on_a_yacht_that_trims(tanks):
    loading = Loading(9000.0 - 200.0 * len(tanks), LISTED.centre, tanks)
    gaps = [
        righting_levers(
            YACHT, loading, WATER, np.radians(np.arange(-180.0, 180.1, by))
        ).energy_gap
        for by in (4.0, 2.0, 1.0)
    ]
    assert gaps[2] < 2e-6
    assert gaps[0] > 2.5 * gaps[1] > 6.0 * gaps[2]  # edges that meet the water break smoothness


def test_areas_and_energies_agree_on_a_box_that_trims_by_thirty_degrees():
    short = floating(bodies.barge(3.0, 2.5, 1.0, draught=0.5, cells=4))
    loading = Loading(3.75, np.array([0.05, 0.0, 0.0]))
    curve = righting_levers(short, loading, 1.0, np.radians(np.arange(-180.0, 181.0)))
    assert degrees(curve.trims.max()) > 30.0
    assert curve.energy_gap < 1e-7


def test_between_its_heels_it_runs_as_solved():
    curve = righting_levers(YACHT, LISTED, WATER, np.radians(np.arange(-180.0, 181.0)))
    wanted = np.radians(np.arange(-179.5, 180.0, 7.0))
    solved = np.array([curve.at(heel).gz for heel in wanted])
    assert curve.gz_at(wanted) == pytest.approx(solved, abs=1e-4)
    assert float(curve.gz_at(0.3)) == pytest.approx(curve.at(0.3).gz, abs=1e-5)
    assert curve.gz_at(curve.heels) == pytest.approx(curve.gz, abs=1e-14)


def test_the_heels_asked_for_do_not_change_the_levers():
    coarse = righting_levers(YACHT, LISTED, WATER, np.radians([-170.0, -33.0, 12.0, 150.0]))
    fine = righting_levers(YACHT, LISTED, WATER, np.radians(np.arange(-180.0, 181.0)))
    same = [round(degrees(h)) + 180 for h in coarse.heels]
    assert coarse.gz == pytest.approx(fine.gz[same], abs=1e-11)
    assert coarse.evaluations.max() <= 4  # wide gaps are bridged, not jumped
    rest = equilibrium(YACHT, LISTED, WATER)
    started = righting_levers(YACHT, LISTED, WATER, CIRCLE, rest.plane)
    assert started.gz == pytest.approx(fine.gz[::5], abs=1e-11)


def test_at_most_four_evaluations_a_heel():
    loading = Loading(8800.0, LISTED.centre, (SLACK,))
    for by, mean in ((1.0, 2.5), (5.0, 3.5)):
        heels = np.radians(np.arange(-180.0, 180.1, by))
        curve = righting_levers(YACHT, loading, WATER, heels)
        assert curve.evaluations.max() <= 4
        assert curve.evaluations.mean() < mean
        assert curve.rows[:, 10].max() < 1e-12


# a short log lying across, a little weight to one end: two tilts, each ending at some heel
LOG = floating(bodies.barge(1.0, 3.0, 1.0, draught=0.5, cells=4))
TILTED = Loading(0.72, np.array([0.005, 0.0, 0.0]))


@pytest.mark.parametrize(("trim", "leaps_deg"), [(-0.5, [5.0]), (0.5, [3.0])])
def test_a_trim_that_leaps_is_reported(trim, leaps_deg):
    start = WaterPlane(up_vector(trim, 0.0), 0.0)
    there = righting_levers(LOG, TILTED, 1.0, np.radians(np.arange(0.0, 6.0)), start)
    leapt = there.heels[there.rows[:, LEAPT] > 0.0]
    assert np.degrees(leapt) == pytest.approx(leaps_deg)
    before = int(leaps_deg[0])
    assert (there.trims[:before] * trim > 0.0).all()
    assert abs(there.trims[before] - there.trims[before - 1]) > 0.5
    assert (there.rows[:, TRIM_STIFFNESS] > 0.0).all()
    # on the way back she stays in the other trim
    back = righting_levers(LOG, TILTED, 1.0, there.heels[:before], there.planes[before])
    assert abs(back.trims[-1] - there.trims[before - 1]) > 0.5


def test_over_her_end_there_is_no_trim():
    curve = righting_levers(LOG, TILTED, 1.0, np.radians(np.arange(-20.0, 21.0)))
    assert 2 < len(curve.heels) < 20
    assert (curve.rows[:, 10] < 1e-9).all()
    for side in ("port", "starboard"):
        missed = curve.immersion_angle(np.array([[0.0, 0.0, 9.0]]), side)
        assert abs(missed.up_to) < radians(9.0)
    with pytest.raises(
        ModelError, match="15° to port she finds no position of rest"
    ) as refusal:
        curve.at(radians(-15.0))
    assert refusal.value.code == "no-equilibrium"


def test_a_sphere_has_no_lever_of_form():
    ball = floating(bodies.ball(1.0, 20))
    centred = righting_levers(ball, Loading(2000.0, np.zeros(3)), WATER, CIRCLE)
    assert np.abs(centred.gz).max() < 2e-3  # flats, not a sphere
    low = righting_levers(ball, Loading(2000.0, np.array([0.0, 0.0, -0.2])), WATER, CIRCLE)
    assert low.to_port == pytest.approx(0.2 * np.sin(CIRCLE), abs=2e-3)


@pytest.mark.parametrize(
    ("mass", "code"), [(0.0, "no-mass"), (1.001 * YACHT.volume * WATER, "sinks")]
)
def test_what_cannot_float(mass, code):
    with pytest.raises(ModelError) as refusal:
        righting_levers(YACHT, Loading(mass, LOADING.centre), WATER, CIRCLE)
    assert refusal.value.code == code


def test_awash_she_still_has_levers():
    middle = YACHT.integrals(WaterPlane(up_vector(0.0, 0.0), 9.0)).buoyancy_centre
    loading = Loading(0.98 * YACHT.volume * WATER, middle - [0.0, 0.0, 0.1])
    curve = righting_levers(YACHT, loading, WATER, CIRCLE)
    assert curve.rows[:, 10].max() < 1e-9
    assert curve.gz == pytest.approx(curve.gz[::-1], abs=1e-9)


def test_heels_that_do_not_rise_are_a_mistake():
    with pytest.raises(AssertionError):
        righting_levers(YACHT, LOADING, WATER, np.array([0.2, 0.1]))


def test_wall_sided_list_by_the_lever():
    # a weight carried out until the lever is met: tan H (GM + BM tan^2 H / 2) = arm
    arm = 0.2
    curve = barge_levers(0.3, np.radians(np.arange(0.0, 31.0)), y=arm)
    heel = curve.equilibria[-1].heel
    assert tan(heel) * (0.3 + BM * tan(heel) ** 2 / 2.0) == pytest.approx(arm, abs=1e-12)
    assert heel == pytest.approx(atan(tan(heel)))


NUMPY = """
import numpy as np
from hullchange.floating import equilibrium as e
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.kernel.compiled import COMPILES
from hullchange.floating.levers import righting_levers
from hullchange.geometry.surface import box
import bodies
hull = bodies.yacht(16)
envelope = Envelope((Piece(hull, True, "hull"), Piece(bodies.fin(hull), True, "keel")))
tank = e.Tank(box(np.array([3.0, 0.1, -0.3]), np.array([4.0, 0.9, 0.1])), 0.2, 1000.0)
loading = e.Loading(8800.0, np.array([5.9, 0.3, 0.0]), (tank,))
curve = righting_levers(envelope, loading, 1025.0, np.radians(np.arange(-180.0, 181.0, 15.0)))
print(COMPILES)
print(*(x.hex() for x in (*curve.gz.tolist(), *curve.slopes.tolist())))
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
def test_without_a_compiler_the_same_lines_give_the_same_levers():
    plain, numbers = output_with_kernel("numpy")
    loops, same = output_with_kernel("numba")
    assert (plain, loops) == ("False", "True")
    assert numbers == pytest.approx(same, abs=1e-10)


@pytest.mark.parametrize("beam", [1.0, 4.0, 12.0])
def test_what_counts_as_no_lever_grows_with_her_beam(beam):
    barge = floating(bodies.barge(20.0, beam, 3.0, draught=1.2))
    loading = Loading(0.5 * 20.0 * beam * WATER, np.array([0.0, 0.0, -1.0]))
    assert HeldBoat(barge, loading, WATER).noise == pytest.approx(1e-11 * beam)
