"""Integrals of bodies whose answers are formulas.

Source: textbook geometry (box, prism, cylinder, spherical cap); Wigley's parabolic hull,
    y = B/2 (1 - (2x/L)^2)(1 - (z/T)^2), integrated by hand: V = 4/9 LBT, A = 2/3 LB,
    I_T = 4 LB^3 / 105, I_L = BL^3 / 30, KB = 5T/8, BM = 3B^2 / 35T. Any body: the centre of
    buoyancy moves along the waterplane (Dupin) by I/V of the angle (Bouguer).
Seen: derived here; the forms and the theorems agree with memory.
Known: nothing printed. Bodies with flat faces must agree to round-off; curved ones approach
    from inside, their error falling with the square of the facets' size.
"""

from math import atan2, cos, pi, radians, sqrt, tan

import bodies
import numpy as np
import pytest

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.hydrostatics import hydrostatics
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane, up_vector

EXACT = 2e-14
LEVEL = up_vector(0.0, 0.0)


@pytest.mark.parametrize("cells", [1, 7])
def test_a_box_upright(cells):
    length, beam, draught = 12.0, 4.0, 1.0
    below = integrals_below(
        bodies.barge(length, beam, 3.0, draught, cells), WaterPlane(LEVEL, 0)
    )
    assert below.volume == pytest.approx(length * beam * draught, rel=EXACT)
    assert below.buoyancy_centre == pytest.approx([0.0, 0.0, -0.5], abs=EXACT)
    assert below.waterplane_area == pytest.approx(length * beam, rel=EXACT)
    inertia = np.diag([beam * length**3, length * beam**3, 0.0]) / 12.0
    assert below.waterplane_inertia == pytest.approx(inertia, abs=1e-11)
    wetted = length * beam + 2.0 * (length + beam) * draught
    assert below.wetted_area == pytest.approx(wetted, rel=EXACT)


@pytest.mark.parametrize("cells", [1, 7])
@pytest.mark.parametrize("heel_deg", [-17.0, 17.0, 26.0])
def test_a_box_heeled(heel_deg, cells):
    # wall-sided: the wedge goes over, B moves by B^2 tan / 12 T and rises B^2 tan^2 / 24 T
    length, beam, draught, heel = 12.0, 4.0, 1.0, radians(heel_deg)
    barge = bodies.barge(length, beam, 3.0, draught, cells)
    below = integrals_below(barge, WaterPlane(up_vector(0.0, heel), 0.0))
    assert below.volume == pytest.approx(length * beam * draught, rel=EXACT)
    y = beam**2 * tan(heel) / (12.0 * draught)
    z = -draught / 2.0 + beam**2 * tan(heel) ** 2 / (24.0 * draught)
    assert below.buoyancy_centre == pytest.approx([0.0, y, z], abs=EXACT)
    assert below.waterplane_area == pytest.approx(length * beam / cos(heel), rel=EXACT)
    across = np.array([0.0, cos(heel), np.sin(heel)])
    inertia = across @ below.waterplane_inertia @ across
    assert inertia == pytest.approx(length * (beam / cos(heel)) ** 3 / 12.0, rel=EXACT)


@pytest.mark.parametrize("cells", [1, 5])
def test_a_prism(cells):
    # edge down, water at half its depth: a quarter of the section is wet
    length, beam, depth = 12.0, 4.0, 2.0
    below = integrals_below(bodies.prism(length, beam, depth, cells), WaterPlane(LEVEL, 1.0))
    assert below.volume == pytest.approx(length * 1.0, rel=EXACT)
    assert below.buoyancy_centre == pytest.approx([0.0, 0.0, 2.0 / 3.0], abs=EXACT)
    assert below.waterplane_area == pytest.approx(length * 2.0, rel=EXACT)
    inertia = np.diag([2.0 * length**3, length * 8.0, 0.0]) / 12.0
    assert below.waterplane_inertia == pytest.approx(inertia, abs=1e-11)
    assert below.wetted_area == pytest.approx(2.0 + 2.0 * length * sqrt(2.0), rel=EXACT)


def errors(body, sizes, answers, exact):
    """(sizes, answers) relative errors of a body at several finenesses."""
    rows = [answers(body(cells)) for cells in sizes]
    return np.array(rows) / np.array(exact) - 1.0


def assert_second_order(wrong, sizes):
    """All from inside, and falling by the square of the size."""
    assert (wrong < 0.0).all()
    falls = np.log(wrong[:-1] / wrong[1:]) / np.log(np.array(sizes[1:]) / sizes[:-1])[:, None]
    assert falls == pytest.approx(np.full_like(falls, 2.0), abs=0.06)


def test_wigley():
    length, beam, draught = 12.0, 3.0, 1.0
    sizes = [20, 40, 80]

    def answers(hull):
        below = integrals_below(hull, WaterPlane(LEVEL, 0.0))
        inertia = below.waterplane_inertia
        return [below.volume, below.waterplane_area, inertia[1, 1], inertia[0, 0]]

    exact = [
        4.0 / 9.0 * length * beam * draught,
        2.0 / 3.0 * length * beam,
        4.0 * length * beam**3 / 105.0,
        beam * length**3 / 30.0,
    ]
    wrong = errors(lambda c: bodies.wigley(length, beam, draught, c), sizes, answers, exact)
    assert_second_order(wrong, sizes)
    assert np.abs(wrong[-1]).max() < 2e-4


def test_wigley_hydrostatics():
    hull = bodies.wigley(12.0, 3.0, 1.0, 80)
    answer = hydrostatics(Envelope((Piece(hull, True, "hull"),)), hull, 12.0, 1000.0)
    # the mesh is fine enough for three figures
    assert answer.vcb == pytest.approx(-3.0 / 8.0, abs=5e-4)
    assert answer.km_transverse == pytest.approx(-3.0 / 8.0 + 27.0 / 35.0, abs=5e-4)
    assert answer.block_coefficient == pytest.approx(4.0 / 9.0, abs=5e-4)
    assert answer.prismatic_coefficient == pytest.approx(2.0 / 3.0, abs=5e-4)
    assert answer.midship_coefficient == pytest.approx(2.0 / 3.0, abs=5e-4)
    assert answer.waterplane_coefficient == pytest.approx(2.0 / 3.0, abs=5e-4)
    assert (answer.lcb, answer.lcf) == pytest.approx((0.0, 0.0), abs=1e-12)


@pytest.mark.parametrize("heel", [0.0, 0.7])
def test_a_cylinder_on_its_side(heel):
    # half sunk: whatever way it is turned, but for its flats
    length, radius, sizes = 5.0, 1.0, [16, 32, 64]
    up = up_vector(0.0, heel)

    def answers(body):
        below = integrals_below(body, WaterPlane(up, 0.0))
        return [below.volume, -float(below.first_moment @ up)]

    exact = [pi / 2.0 * length, 2.0 / 3.0 * length]
    wrong = errors(lambda c: bodies.cylinder(length, radius, c), sizes, answers, exact)
    assert_second_order(wrong, sizes)


def test_a_spherical_cap():
    # V = pi h^2 (3R - h) / 3; first moment below the plane; waterplane pi (2Rh - h^2)
    radius, h, sizes = 2.0, 1.3, [24, 48, 96]

    def answers(body):
        below = integrals_below(body, WaterPlane(LEVEL, h - radius))
        return [below.volume, below.waterplane_area, -float(below.first_moment[2])]

    exact = [
        pi * h**2 * (3.0 * radius - h) / 3.0,
        pi * (2.0 * radius * h - h**2),
        pi * h**3 * (4.0 * radius - h) / 12.0,
    ]
    wrong = errors(lambda c: bodies.ball(radius, c), sizes, answers, exact)
    assert (wrong < 0.0).all()
    # where the water crosses between two rings differs from size to size
    assert (wrong[:-1] / wrong[1:]).min() > 3.0
    assert np.abs(wrong[-1]).max() < 2e-3


def test_a_sphere_has_its_metacentre_in_the_middle():
    below = integrals_below(bodies.ball(2.0, 96), WaterPlane(LEVEL, -0.7))
    metacentre = below.buoyancy_centre[2] + below.waterplane_inertia[1, 1] / below.volume
    assert metacentre == pytest.approx(0.0, abs=1e-3)  # flats of a hundredth of the circle
    assert atan2(below.buoyancy_centre[1], 1.0) == pytest.approx(0.0, abs=1e-12)


def test_volume_grows_by_the_waterplane_and_its_centre_moves_by_the_inertia():
    yacht = bodies.yacht(24)
    # Dupin and Bouguer, by central differences; their error is of the second order
    up, step = up_vector(0.02, 0.3), 1e-5
    at = WaterPlane(up, 0.1)
    here = integrals_below(yacht, at)
    rise = [integrals_below(yacht, WaterPlane(up, 0.1 + s)).volume for s in (-step, step)]
    assert (rise[1] - rise[0]) / (2 * step) == pytest.approx(here.waterplane_area, rel=1e-8)
    across = np.cross(up, [1.0, 0.0, 0.0])
    across /= np.linalg.norm(across)
    centres = []
    for s in (-step, step):
        turned = up * np.cos(s) + across * np.sin(s)
        about_centre = float(turned @ here.flotation_centre)
        centres.append(integrals_below(yacht, WaterPlane(turned, about_centre)).buoyancy_centre)
    moved = (centres[1] - centres[0]) / (2 * step)
    radius = across @ here.waterplane_inertia @ across / here.volume
    assert moved @ up == pytest.approx(0.0, abs=1e-8)
    assert -(moved @ across) == pytest.approx(radius, rel=1e-7)
