"""Volume, centre, waterplane and wetted area by two other programs' clipping.

Source: trimesh 5 (`Trimesh.slice_plane` with cap, mass properties by its own integrals);
    manifold3d 3 (boolean of the body with a half space, weighed by trimesh).
Seen: opened (documentation), run here.
Known: nothing is printed: two independent methods must agree to round-off.
"""

import bodies
import numpy as np
import pytest
import trimesh

from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane, up_vector
from hullchange.geometry.surface import intersection

BODIES = {
    "yacht": bodies.yacht(40),
    "slender": bodies.slender(20),
    "barge": bodies.barge(10.0, 3.0, 1.2, cells=6),
    "ball": bodies.ball(1.5, 14),
}


def planes(surface, count):
    """Planes that cut a body, at random attitudes."""
    random = np.random.default_rng(7)
    low, high = surface.bounds
    for _ in range(count):
        up = up_vector(random.uniform(-0.7, 0.7), random.uniform(-3.0, 3.0))
        share = random.uniform(0.25, 0.75, 3)
        yield WaterPlane(up, float(up @ (low + share * (high - low))))


@pytest.mark.parametrize("name", BODIES)
def test_trimesh_slices_and_caps(name):
    surface = BODIES[name]
    mesh = trimesh.Trimesh(surface.vertices, surface.faces, process=False)
    for plane in planes(surface, 30):
        below = integrals_below(surface, plane)
        point, down = plane.up * plane.offset, -plane.up
        wetted = mesh.slice_plane(point, down, cap=False)
        body = mesh.slice_plane(point, down, cap=True)
        assert body.volume == pytest.approx(below.volume, rel=1e-11)
        assert body.center_mass == pytest.approx(below.buoyancy_centre, abs=1e-11)
        assert wetted.area == pytest.approx(below.wetted_area, rel=1e-11)
        cap = body.area - wetted.area
        assert cap == pytest.approx(below.waterplane_area, rel=1e-9)


@pytest.mark.parametrize("name", BODIES)
def test_a_boolean_with_the_water(name):
    surface = BODIES[name]
    for plane in planes(surface, 6):
        below = integrals_below(surface, plane)
        wet = intersection(surface, bodies.water_below(plane))
        body = trimesh.Trimesh(wet.vertices, wet.faces, process=False)
        assert body.is_watertight
        # the boolean merges what lies within its own tolerance, some 1e-12 of the size
        assert body.volume == pytest.approx(below.volume, rel=1e-10)
        assert body.center_mass == pytest.approx(below.buoyancy_centre, abs=1e-10)
        area = below.wetted_area + below.waterplane_area
        assert body.area == pytest.approx(area, rel=1e-9)
