"""Integrals below a plane: by hand, invariances, refusals."""

import bodies
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullchange.errors import ModelError
from hullchange.floating.integrals import integrals_below
from hullchange.floating.kernel import below_plane, below_plane_numpy
from hullchange.floating.kernel.shapes import vector
from hullchange.floating.mesh import mesh_of
from hullchange.geometry.frame import WaterPlane, up_vector
from hullchange.geometry.surface import Surface, box, difference, intersection, joined

YACHT = bodies.yacht(24)
ROUND_OFF = 1e-12
angles = st.floats(-3.1, 3.1)
shares = st.floats(-0.9, 0.9)


def plane(trim, heel, share):
    up = up_vector(trim, heel)
    return WaterPlane(up, float(up @ [5.0, 0.0, 0.3]) + share)


def numbers(below):
    """Everything in one row, first moments about the boat's origin."""
    return np.hstack(
        [
            below.volume,
            below.volume * below.reference + below.first_moment,
            below.waterplane_area,
            below.waterplane_area * below.reference + below.waterplane_first,
            below.wetted_area,
        ]
    )


def about(below, point):
    """Second moments of the waterplane about a point."""
    inertia = below.waterplane_inertia
    arm = below.flotation_centre - point
    return inertia + below.waterplane_area * np.outer(arm, arm)


def test_a_box_by_hand():
    barge = box(np.array([0.0, -1.0, -1.0]), np.array([6.0, 3.0, 2.0]))
    below = integrals_below(barge, WaterPlane(up_vector(0.0, 0.0), 0.5))
    assert below.volume == pytest.approx(36.0, rel=1e-15)
    assert below.buoyancy_centre == pytest.approx([3.0, 1.0, -0.25], rel=1e-15)
    assert below.waterplane_area == pytest.approx(24.0, rel=1e-15)
    assert below.flotation_centre == pytest.approx([3.0, 1.0, 0.5], rel=1e-15)
    inertia = np.diag([4.0 * 6.0**3 / 12, 6.0 * 4.0**3 / 12, 0.0])
    assert below.waterplane_inertia == pytest.approx(inertia, abs=1e-13)
    assert below.wetted_area == pytest.approx(24.0 + 1.5 * 20.0, rel=1e-15)


def test_a_corner_at_the_water_is_dry_and_the_outline_still_closes():
    cells = bodies.barge(4.0, 2.0, 2.0, draught=1.0, cells=4)
    below = integrals_below(cells, WaterPlane(up_vector(0.0, 0.0), 0.0))
    assert (cells.vertices[:, 2] == 0.0).sum() == 10
    assert below.volume == pytest.approx(8.0, rel=1e-15)
    assert below.waterplane_area == pytest.approx(8.0, rel=1e-15)


def test_above_everything_and_below_everything():
    all_of_it = integrals_below(YACHT, WaterPlane(up_vector(0.0, 0.0), 9.0))
    assert all_of_it.volume == pytest.approx(YACHT.volume, rel=ROUND_OFF)
    assert all_of_it.waterplane_inertia == pytest.approx(0.0)
    with pytest.raises(ModelError, match="does not cut the hull") as refusal:
        _ = all_of_it.flotation_centre
    assert refusal.value.code == "no-waterplane"
    nothing = integrals_below(YACHT, WaterPlane(up_vector(0.0, 0.0), -9.0))
    assert numbers_are_zero(nothing)
    with pytest.raises(ModelError) as refusal:
        _ = nothing.buoyancy_centre
    assert refusal.value.code == "no-volume"


def numbers_are_zero(below):
    return below.volume == below.waterplane_area == below.wetted_area == 0.0


def flat(below):
    """A kernel's fifteen integrals in one row."""
    return np.hstack(below)


@given(trim=angles, heel=angles, share=shares)
def test_compiled_and_numpy_agree(trim, heel, share):
    at = plane(trim, heel, share)
    mesh = mesh_of(YACHT)
    where = vector(at.up), at.offset - float(at.up @ mesh.centre)
    compiled = pytest.approx(flat(below_plane.integrals_by_blocks(mesh, *where)), abs=1e-10)
    assert flat(below_plane_numpy.integrals(mesh, *where)) == compiled
    whole = bodies.in_one_block(mesh)
    assert flat(below_plane.integrals_by_blocks(whole, *where)) == compiled


@given(trim=angles, heel=angles, share=shares)
def test_what_is_below_and_above_makes_the_whole(trim, heel, share):
    at = plane(trim, heel, share)
    below = integrals_below(YACHT, at)
    above = integrals_below(YACHT, WaterPlane(-at.up, -at.offset))
    whole = integrals_below(YACHT, WaterPlane(at.up, 15.0))
    both = numbers(below) + numbers(above)
    assert both[:4] == pytest.approx(numbers(whole)[:4], abs=1e-11)
    assert below.waterplane_area == pytest.approx(above.waterplane_area, abs=1e-11)
    assert both[8] == pytest.approx(whole.wetted_area, rel=ROUND_OFF)


@given(trim=st.floats(-0.3, 0.3), heel=angles, share=shares)
def test_mirrored(trim, heel, share):
    here = integrals_below(YACHT, plane(trim, heel, share))
    there = integrals_below(YACHT.mirrored(), plane(trim, -heel, share))
    sides = np.array([1.0, 1.0, -1.0, 1.0, 1.0, 1.0, -1.0, 1.0, 1.0])
    assert numbers(there) == pytest.approx(numbers(here) * sides, abs=1e-11)


@pytest.mark.parametrize(("away", "rel"), [(10.0, 1e-13), (1_000.0, 1e-11), (100_000.0, 1e-9)])
def test_moved_far_from_the_origin_keeps_its_digits(away, rel):
    at = plane(0.02, 0.3, 0.1)
    by = away * np.array([1.0, -2.0, 0.5])
    here = integrals_below(YACHT, at)
    there = integrals_below(
        bodies.moved(YACHT, by), WaterPlane(at.up, at.offset + float(at.up @ by))
    )
    assert there.volume == pytest.approx(here.volume, rel=rel)
    assert there.buoyancy_centre - by == pytest.approx(here.buoyancy_centre, rel=rel * 10)
    assert there.waterplane_inertia == pytest.approx(here.waterplane_inertia, rel=rel * 100)


@pytest.mark.parametrize("scale", [1e-3, 2.0, 1e3])
def test_scaled(scale):
    at = plane(0.02, 0.3, 0.1)
    here = integrals_below(YACHT, at)
    large = Surface.unchecked(YACHT.vertices * scale, YACHT.faces)
    there = integrals_below(large, WaterPlane(at.up, at.offset * scale))
    powers = scale ** np.array([3, 4, 4, 4, 2, 3, 3, 3, 2])
    assert numbers(there) == pytest.approx(numbers(here) * powers, rel=1e-11)
    inertia = here.waterplane_inertia * scale**4
    assert there.waterplane_inertia == pytest.approx(inertia, rel=1e-10)


def test_split_in_two_and_added():
    at = plane(0.02, 0.3, 0.1)
    knife = box(np.array([4.0, -5.0, -5.0]), np.array([20.0, 5.0, 5.0]))
    halves = (intersection(YACHT, knife), difference(YACHT, knife))
    sums = sum(numbers(integrals_below(half, at)) for half in halves)
    whole = integrals_below(YACHT, at)
    assert sums[:8] == pytest.approx(numbers(whole)[:8], abs=1e-11)
    together = integrals_below(joined(halves), at)
    assert about(together, np.zeros(3)) == pytest.approx(about(whole, np.zeros(3)), abs=1e-10)


def test_faces_divided_leave_everything():
    at = plane(0.02, 0.3, 0.1)
    faces, count = YACHT.faces, len(YACHT.vertices)
    middles = YACHT.vertices[faces].mean(axis=1)
    new = count + np.arange(len(faces))
    parts = [np.column_stack([faces[:, k], faces[:, (k + 1) % 3], new]) for k in range(3)]
    fine = Surface.closed(np.vstack([YACHT.vertices, middles]), np.vstack(parts), "it")
    assert numbers(integrals_below(fine, at)) == pytest.approx(
        numbers(integrals_below(YACHT, at)), abs=1e-11
    )
