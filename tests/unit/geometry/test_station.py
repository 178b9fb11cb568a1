"""Where a plane across the boat cuts a surface, by hand and by another road."""

import numpy as np
import pytest
import trimesh
from bodies import moved, yacht
from shapely.geometry import Polygon

from hullchange.geometry.station import starboard_half, station_cuts
from hullchange.geometry.surface import Surface, box, difference, joined

BOX = box(np.array([0.0, -2.0, -1.0]), np.array([10.0, 2.0, 1.5]))
MM = 1e-3


def area(outline):
    return Polygon(outline).area


def test_a_box_shows_its_rectangle():
    (outline,) = station_cuts(BOX, 4.0)
    assert area(outline) == pytest.approx(10.0, rel=1e-12)
    assert Polygon(outline).bounds == (-2.0, -1.0, 2.0, 1.5)
    half = starboard_half(outline)
    assert half[0].tolist() == [0.0, -1.0]
    assert half[-1].tolist() == [0.0, 1.5]
    assert (half[:, 0] >= 0.0).all()


def test_the_after_end_is_its_outline_and_beyond_the_ends_is_nothing():
    (transom,) = station_cuts(BOX, 10.0)
    assert area(transom) == pytest.approx(10.0, rel=1e-12)
    assert station_cuts(BOX, 0.0) == ()
    assert station_cuts(BOX, 10.1) == ()


def test_bodies_apart_and_holes_are_outlines_of_their_own():
    inner = box(np.array([-1.0, -1.0, 0.0]), np.array([11.0, 1.0, 0.5]))
    drilled = difference(BOX, inner)
    two = station_cuts(drilled, 3.0)
    assert sorted(round(area(o), 9) for o in two) == [1.0, 10.0]
    apart = joined((BOX, moved(BOX, np.array([0.0, 9.0, 0.0]))))
    assert [round(area(o), 9) for o in station_cuts(apart, 3.0)] == [10.0, 10.0]


def test_what_lies_to_starboard_alone_is_whole_and_to_port_is_nothing():
    (outline,) = station_cuts(moved(BOX, np.array([0.0, 5.0, 0.0])), 4.0)
    assert np.array_equal(starboard_half(outline), outline)
    assert len(starboard_half(outline * [-1.0, 1.0])) == 0


@pytest.mark.parametrize("x", [0.0, 0.37, 2.0, 5.5, 9.999])
def test_a_hull_is_cut_where_trimesh_cuts_it(x):
    hull = yacht(40)
    stations = hull.bounds[0, 0] + x / 10.0 * (hull.bounds[1, 0] - hull.bounds[0, 0])
    x = stations + 1e-7
    (outline,) = station_cuts(hull, x)
    mesh = trimesh.Trimesh(hull.vertices, hull.faces, process=False)
    other = mesh.section(plane_origin=[x, 0, 0], plane_normal=[1, 0, 0])
    segments = other.vertices[np.concatenate([e.nodes for e in other.entities])][:, :, 1:]
    assert far_from(outline, segments) < 1e-9


def far_from(outline, segments):
    """How far the corners of segments lie from an outline at most."""
    ring = Polygon(outline).exterior
    from shapely.geometry import Point

    return max(ring.distance(Point(*p)) for p in segments.reshape(-1, 2))


def test_a_surface_is_not_changed():
    before = BOX.vertices.copy()
    station_cuts(BOX, 4.0)
    assert np.array_equal(before, BOX.vertices)
    assert isinstance(BOX, Surface)
