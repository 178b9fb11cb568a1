"""Plates: flat ones by hand, bent ones by their closed forms, twins, meshes."""

import pickle
from math import cos, pi, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullchange.errors import ModelError
from hullchange.geometry.frame import Frame
from hullchange.geometry.outline import Arc, FlatOutline, Line, Spline
from hullchange.geometry.plate import Cone, Planar, Plate
from hullchange.geometry.surface import mass_properties, require_closed

X, Y, Z = np.eye(3)
LEVEL = Planar(Frame(np.zeros(3), X, Y))
SLANTED = Planar(Frame.of(np.array([4.0, 1.1, 1.3]), X + 0.1 * Y - 0.05 * Z, Z - 0.2 * Y))
DENSITY = 7850.0


def cone(half_angle, radius=3.0):
    return Cone(np.array([4.0, 0.0, 2.0]), X, Z, Y, radius, half_angle)


SHAPE = FlatOutline(
    (
        Line((-1.0, -0.6), (1.0, -0.6)),
        Arc((1.0, -0.6), (1.2, 0.0), (1.0, 0.6)),
        Spline(((1.0, 0.6), (0.5, 0.7), (0.0, 0.9), (-0.5, 0.7), (-1.0, 0.6))),
        Line((-1.0, 0.6), (-1.0, -0.6)),
    )
)
HOLES = (
    FlatOutline.rectangle((-0.7, -0.4), (-0.1, 0.1), 0.06),
    FlatOutline.circle((0.5, 0.1), 0.2),
)
MAPS = {
    "plane": SLANTED,
    "cylinder": cone(0.0),
    "cone widening": cone(0.3),
    "cone narrowing": cone(-0.3),
    "cone with a far apex": cone(1e-7),
    "tight cylinder": cone(0.0, 0.4),
}


@pytest.fixture(params=MAPS.values(), ids=MAPS.keys())
def plate(request):
    return Plate("shell", "plate", SHAPE, 0.004, request.param, HOLES)


def test_a_square_metre_by_hand():
    sheet = Plate("sheet", "plate", FlatOutline.rectangle((0, 0), (2, 0.5)), 0.003, LEVEL)
    assert sheet.area_mid == pytest.approx(1.0)
    assert sheet.mass(DENSITY) == pytest.approx(23.55)
    assert sheet.perimeter == pytest.approx(5.0)
    assert sheet.flat_centroid == pytest.approx(np.array([[1.0, 0.25]]))
    assert sheet.surface().bounds == pytest.approx(
        np.array([[0, 0, -0.0015], [2, 0.5, 0.0015]])
    )


def test_a_square_hole_moves_the_centroid():
    hole = FlatOutline.rectangle((1.0, 0.0 + 0.25), (1.5, 0.75))
    sheet = Plate("s", "plate", FlatOutline.rectangle((0, 0), (2, 1)), 0.01, LEVEL, (hole,))
    assert sheet.area_mid == pytest.approx(1.75)
    assert sheet.flat_centroid[0] == pytest.approx([(2.0 - 0.25 * 1.25) / 1.75, 0.5])
    assert sheet.perimeter == pytest.approx(8.0)


def test_a_tube():
    ring, bore = FlatOutline.circle((0, 0), 0.0445), FlatOutline.circle((0, 0), 0.0385)
    post = Plate("post", "tube", ring, 2.0, LEVEL, (bore,), section=(0.089, 0.006))
    assert post.volume == pytest.approx(pi * (0.0445**2 - 0.0385**2) * 2.0)
    assert post.area_mid * post.gauge == pytest.approx(post.volume, rel=1e-12)
    assert mass_properties(post.surface(), DENSITY).volume == pytest.approx(
        post.volume, rel=1e-12
    )


def test_every_mesh_is_closed(plate):
    require_closed(plate.surface(), plate.id)


def test_mesh_and_closed_form_weigh_the_same(plate):
    mesh = mass_properties(plate.surface(), DENSITY)
    assert mesh.mass == pytest.approx(plate.mass(DENSITY), rel=2e-4)  # chords within 0.4 mm


def test_the_flat_centroid_is_the_plates_own():
    flat = Plate("shell", "plate", SHAPE, 0.004, SLANTED, HOLES)
    at = SLANTED.to_boat(flat.flat_centroid)[0]
    assert mass_properties(flat.surface(), DENSITY).centroid == pytest.approx(at, abs=5e-5)


@pytest.mark.parametrize("turn", [0.2, 1.0, 3.0])
def test_a_rolled_sheet(turn):
    """Volume is area times thickness; the centroid is that of a ring sector."""
    radius, length, thickness = 1.5, 2.0, 0.01
    half = turn / 2.0
    outer = FlatOutline.rectangle((0.0, -half * radius), (length, half * radius))
    sheet = Plate("sheet", "plate", outer, thickness, cone(0.0, radius))
    mesh = mass_properties(sheet.surface(), DENSITY)
    assert mesh.volume == pytest.approx(turn * radius * length * thickness, rel=1e-4)
    # 2/3 sin(a)/a (r2^3 - r1^3)/(r2^2 - r1^2) from the axis
    r1, r2 = radius - thickness / 2, radius + thickness / 2
    lever = 2.0 / 3.0 * sin(half) / half * (r2**3 - r1**3) / (r2**2 - r1**2)
    assert mesh.centroid == pytest.approx((5.0, 0.0, 2.0 - radius + lever), abs=1e-4)


def test_a_whole_frustum():
    """Between two circles of a cone, all round but for a slit: its area is pi (r1 + r2) s."""
    half_angle, r1, run = 0.4, 0.8, 1.2
    r2 = r1 + run * sin(half_angle)
    place, turn = cone(half_angle, r1), 2.0 * pi - 1e-6
    steps = np.linspace(-turn / 2, turn / 2, 41)
    inner = place.flat_of(steps, np.zeros(41))
    outer = place.flat_of(steps[::-1], np.full(41, run))
    arcs = (
        Arc(*(tuple(inner[k]) for k in (0, 20, 40))),
        Line(tuple(inner[40]), tuple(outer[0])),
        Arc(*(tuple(outer[k]) for k in (0, 20, 40))),
        Line(tuple(outer[40]), tuple(inner[0])),
    )
    skin = Plate("skin", "plate", FlatOutline(arcs), 0.002, place)
    exact = pi * (r1 + r2) * run
    assert skin.area_mid == pytest.approx(exact, rel=1e-6)
    mesh = mass_properties(skin.surface(), DENSITY)
    assert mesh.volume == pytest.approx(exact * 0.002, rel=1e-4)
    along = run * cos(half_angle) / 3.0 * (r1 + 2.0 * r2) / (r1 + r2)
    away = np.array([4.0 + along, 0.0, 2.0 - r1])
    assert mesh.centroid == pytest.approx(away, abs=2e-4)


@given(st.floats(-0.9, 0.9), st.floats(0.5, 20.0), st.floats(-0.4, 0.4), st.floats(-0.4, 0.4))
def test_bending_stretches_nothing(half_angle, radius, s, t):
    place = cone(half_angle, radius)
    at = np.array([[s, t]])
    step = 1e-5
    around = at + step * np.array([[0, 0], [1, 0], [0, 1], [1, 1]])
    corner, along, across, both = place.to_boat(around)
    assert np.linalg.norm(along - corner) == pytest.approx(step, rel=1e-4)
    assert np.linalg.norm(across - corner) == pytest.approx(step, rel=1e-4)
    assert np.linalg.norm(both - corner) == pytest.approx(step * 2**0.5, rel=1e-4)
    assert place.to_flat(place.to_boat(at)) == pytest.approx(at, abs=1e-12)
    normal = np.cross(along - corner, across - corner) / step**2
    assert normal == pytest.approx(place.normals(at)[0], abs=1e-4)


@given(st.floats(1e-9, 1e-4))
def test_a_cone_with_a_far_apex_is_nearly_a_cylinder(half_angle):
    flat = np.array([[0.7, -0.3], [-1.0, 0.5], [0.0, 0.0]])
    near = cone(half_angle).to_boat(flat)
    assert near == pytest.approx(cone(0.0).to_boat(flat), abs=2.0 * half_angle)


def test_a_parallel_surface_keeps_its_distance():
    place = cone(0.3)
    flat = np.array([[0.2, 0.4], [-0.5, -0.9]])
    out, azimuth = place.offset(0.05), place.azimuth(flat)
    shifted = place.to_boat(flat) + 0.05 * place.outward(azimuth)
    again = out.to_boat(out.flat_of(azimuth, place.along(flat)))
    assert again == pytest.approx(shifted, abs=1e-12)


def test_strips_halve_the_error_fourfold(monkeypatch):
    errors = []
    for strip in (0.12, 0.06, 0.03):
        monkeypatch.setattr("hullchange.geometry.developable.MAX_STRIP_TURN", strip)
        sheet = Plate(
            "s", "plate", FlatOutline.rectangle((0, -1), (2, 1)), 0.004, cone(0.0, 1.0)
        )
        errors.append(1.0 - sheet.surface().volume / sheet.volume)
    assert errors[0] == pytest.approx((2.0 / 17) ** 2 / 6.0, rel=0.01)
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.01)
    assert errors[1] / errors[2] == pytest.approx((67 / 34) ** 2, rel=0.01)


def test_a_twin_is_exactly_as_heavy(plate):
    twin = plate.twin("other")
    assert twin.twin_of == plate.id
    assert twin.mass(DENSITY) == plate.mass(DENSITY)
    own, other = (
        mass_properties(plate.surface(), DENSITY),
        mass_properties(twin.surface(), DENSITY),
    )
    require_closed(twin.surface(), twin.id)
    assert other.mass == pytest.approx(own.mass, rel=3e-6)
    mirrored = np.array(own.centroid) * (1.0, -1.0, 1.0)
    assert other.centroid == pytest.approx(mirrored, abs=1e-6)


def test_a_plate_travels_without_what_was_worked_out(plate):
    fresh = len(pickle.dumps(plate))
    plate.surface()
    sent = pickle.dumps(plate)
    assert len(sent) < 1.2 * fresh + 2000
    assert pickle.loads(sent).key == plate.key


def test_the_key_knows_every_dimension(plate):
    same = Plate("other-name", "plate", SHAPE, 0.004, plate.map, HOLES)
    thicker = Plate("shell", "plate", SHAPE, 0.005, plate.map, HOLES)
    whole = Plate("shell", "plate", SHAPE, 0.004, plate.map)
    assert same.key == plate.key
    assert len({plate.key, thicker.key, whole.key, plate.twin("twin").key}) == 4


def test_edges_run_round_both_faces(plate):
    edges = plate.surface().vertices[plate.edges]
    lengths = np.linalg.norm(edges[:, 1] - edges[:, 0], axis=1).sum()
    assert lengths == pytest.approx(2.0 * plate.perimeter, rel=0.01)
    nodes = edges[:, 0].reshape(2, -1, 3)
    assert np.linalg.norm(nodes[0] - nodes[1], axis=1) == pytest.approx(0.004)


def test_a_hole_over_the_edge_is_refused_at_once():
    with pytest.raises(ModelError) as refused:
        Plate("s", "plate", SHAPE, 0.004, LEVEL, (FlatOutline.circle((1.0, 0.0), 0.5),))
    assert refused.value.code == "hole-outside-outline"
