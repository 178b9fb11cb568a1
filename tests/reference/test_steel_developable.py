"""Cylinders and cones laid flat, and the CAD kernel's own mass properties of them.

Source: the pattern of a right circular cone is a sector of 2 pi sin(half-angle) (any textbook
    of solid geometry). The kernel's integrals with a relative precision: OCCT BRepGProp.
Seen: memory; the kernel's by running it.
Known: without a precision the kernel integrates bent plates to a per cent only.
"""

from math import pi, radians, sin

import numpy as np
import pytest

from hullchange.geometry.outline import Arc, FlatOutline, Line, Spline, flat_points
from hullchange.geometry.plate import Cone, Plate
from hullchange.geometry.surface import mass_properties

X, Y, Z = np.eye(3)


def kernel_mass(plate, density):
    """Volume, mass and centroid of the plate's solid by the kernel's own integrals."""
    from hullchange.cad import solids

    return solids._integrated(solids.solid_of(plate), density)


def cone(half_angle, radius):
    return Cone(np.array([4.0, 0.0, 2.0]), X, Z, Y, radius, half_angle)


@pytest.mark.parametrize("half_angle_deg", [5.0, 20.0, 45.0, 70.0])
def test_the_pattern_of_a_cone_is_a_sector(half_angle_deg):
    """Once round the cone is 2 pi sin(half-angle) in the flat."""
    half_angle, radius = radians(half_angle_deg), 2.0
    place = cone(half_angle, radius)
    apex = np.array([-radius / sin(half_angle), 0.0])
    edge = place.flat_of(np.array([-pi / 2, 0.0, pi / 2]), np.zeros(3)) - apex
    assert np.linalg.norm(edge, axis=1) == pytest.approx(radius / sin(half_angle))
    half_round = np.unwrap(np.arctan2(edge[:, 1], edge[:, 0]))
    assert half_round[-1] - half_round[0] == pytest.approx(pi * sin(half_angle))


def bent_plates():
    """A panel with a window on three surfaces, edges along no ruling."""
    window = FlatOutline.rectangle((-0.4, -0.1), (0.2, 0.3), 0.06)
    x = np.linspace(1.0, -1.0, 9)
    top = Spline(flat_points(np.stack([x, 0.7 - 0.1 * x**2], axis=1)))
    outer = FlatOutline(
        (
            Line((-1.0, -0.6), (1.0, -0.6)),
            Line((1.0, -0.6), top.start),
            top,
            Arc(top.end, (-1.1, 0.0), (-1.0, -0.6)),
        )
    )
    for name, half_angle in (("cylinder", 0.0), ("widening", 0.25), ("narrowing", -0.25)):
        yield pytest.param(
            Plate("panel", "plate", outer, 0.004, cone(half_angle, 3.0), (window,)), id=name
        )


@pytest.mark.cad
@pytest.mark.parametrize("plate", list(bent_plates()))
def test_kernel_and_closed_form_of_bent_plates(plate):
    kernel = kernel_mass(plate, 7850.0)
    assert kernel.volume == pytest.approx(plate.volume, rel=1e-6)  # the precision asked for
    mesh = mass_properties(plate.surface(), 7850.0)
    assert mesh.centroid == pytest.approx(kernel.centroid, abs=1e-4)  # chords of 0.4 mm
    from hullchange.cad import solids

    record = mass_properties(solids.cad_mesh_of(plate), 7850.0)
    assert record.volume == pytest.approx(plate.volume, rel=5e-4)
    assert record.centroid == pytest.approx(kernel.centroid, abs=2e-4)  # of 0.2 mm
    twin = kernel_mass(plate.twin("twin"), 7850.0)
    assert twin.volume == pytest.approx(kernel.volume, rel=1e-6)
    assert twin.centroid == pytest.approx(np.array(kernel.centroid) * (1, -1, 1), abs=1e-6)


@pytest.mark.cad
def test_kernel_and_closed_form_of_a_flat_plate():
    from hullchange.geometry.frame import Frame
    from hullchange.geometry.plate import Planar

    (param,) = (p for p in bent_plates() if p.id == "cylinder")
    bent = param.values[0]
    frame = Frame.of(np.array([4.0, 1.1, 1.3]), X + 0.1 * Y - 0.05 * Z, Z - 0.2 * Y)
    flat = Plate("panel", "plate", bent.outer, 0.004, Planar(frame), bent.holes)
    kernel = kernel_mass(flat, 7850.0)
    assert kernel.volume == pytest.approx(flat.volume, rel=1e-7)
    assert kernel.centroid == pytest.approx(frame.to_boat(flat.flat_centroid)[0], abs=1e-7)
