"""The canoe body: closed at every density, symmetric, exact where closed forms are."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullchange.geometry.surface import require_closed
from hullchange.hull.deck import Deck
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput
from hullchange.hull.lines_check import lines_of
from hullchange.hull.mesh import hull_mesh

DENSITIES = (100, 800, 2500, 14_000, 40_000)


def meshed(given, triangles):
    lines = lines_of(given.lines)
    deck = Deck(lines.sheer, given.camber, given.camber_at_half_breadth)
    return hull_mesh(lines, deck, triangles)


@pytest.mark.parametrize("triangles", DENSITIES)
@pytest.mark.parametrize("boat", ["demo_input", "raked_input", "box_input"])
def test_closed_at_every_density(request, euler, boat, triangles):
    surface = meshed(request.getfixturevalue(boat), triangles).body.surface
    require_closed(surface, "the hull")
    assert euler(surface) == 2
    assert len(surface.faces) == pytest.approx(triangles, rel=0.1, abs=400)


def test_port_mirrors_starboard(demo_input):
    body = meshed(demo_input, 2500).body
    points = body.surface.vertices
    mirrored = points[body.starboard] * np.array([1.0, -1.0, 1.0])
    assert np.array_equal(points[body.port], mirrored)
    assert np.all(points[body.starboard][..., 1] >= 0.0)
    middle = body.port == body.starboard
    assert np.array_equal(middle, points[body.starboard][..., 1] == 0.0)


def test_a_box_is_exact(box_input):
    hull = hull_of(box_input)
    assert hull.surface.volume == pytest.approx(10 * 4 * 2, rel=1e-13)
    assert hull.surface.bounds.tolist() == [[0, -2, -1], [10, 2, 1]]


def test_the_camber_is_a_parabola_over_a_box(box_input):
    # two thirds of the rise on the middle over 4 x 10 m, less what twelve chords cut off
    cambered = HullInput(box_input.lines, camber=0.25, camber_at_half_breadth=2.0)
    added = hull_of(cambered).surface.volume - 80.0
    assert added == pytest.approx(2 / 3 * 0.25 * 40 * (1.0 - 1.0 / 12**2), rel=1e-12)


def test_volume_converges_as_the_square_of_the_spacing(demo_input):
    # the same rows across throughout, so that the length alone is divided
    volumes = [
        meshed(demo_input, n * 4 * 12).body.surface.volume for n in (200, 400, 800, 1600)
    ]
    steps = np.diff(volumes)
    assert steps[:-1] / steps[1:] == pytest.approx([4.0, 4.0], abs=0.4)


def test_the_floating_mesh_is_fine_enough(demo_input, wet):
    fine = wet(meshed(demo_input, 400_000).body.surface)
    usual = wet(meshed(demo_input, 14_000).body.surface)
    # readings of 5 mm leave 0.3 % of the volume and 9 mm of its centre open
    assert usual[0] == pytest.approx(fine[0], rel=1e-4)
    assert usual[1] / usual[0] == pytest.approx(fine[1] / fine[0], abs=0.0005)


def test_a_knuckle_is_a_vertex_of_its_line(demo_input):
    keel, lower, upper, sheer = demo_input.lines
    bent = LineInput("lower-chine", "chine", lower.points, (3.5,))
    body = meshed(HullInput((keel, bent, upper, sheer)), 2500).body
    assert np.min(np.abs(body.surface.vertices - lower.points[6]).sum(axis=1)) < 1e-12


@given(
    length=st.floats(4.0, 25.0),
    slenderness=st.floats(2.2, 6.0),
    depth=st.floats(0.05, 0.3),
    rake=st.floats(-0.1, 0.15),
    chines=st.integers(1, 5),
    stations=st.integers(5, 15),
    fullness=st.floats(0.5, 1.5),
    transom=st.floats(0.0, 0.6),
)
def test_any_fair_hull_is_closed_and_symmetric(
    length, slenderness, depth, rake, chines, stations, fullness, transom
):
    rows = fair_lines(length, slenderness, depth, rake, chines, stations, fullness, transom)
    hull = hull_of(HullInput(rows, 0.02 * length / slenderness, length / slenderness), 800)
    block = hull.length * hull.beam * np.ptp(hull.surface.bounds[:, 2])
    assert 0.2 * block < hull.surface.volume < block
    mirror = hull.surface.mirrored()
    require_closed(mirror, "the mirrored hull")
    assert mirror.volume == pytest.approx(hull.surface.volume, rel=1e-12)


def fair_lines(length, slenderness, depth, rake, chines, stations, fullness, transom):
    u = np.linspace(0.0, 1.0, stations)
    shape = np.sin(np.pi * u / (1.0 + transom)) ** fullness
    breadth = 0.5 * length / slenderness
    lines = []
    for k in range(chines + 2):
        up = k / (chines + 1)
        x = -rake * length * up + u * length * (1.0 + 2.0 * rake * up)
        z = length * depth * (up * up - 0.6 + 0.2 * (2.0 * u - 1.0) ** 2)
        points = np.column_stack([x, breadth * np.sqrt(up) * shape, z])
        kind = "sheer" if k == chines + 1 else "chine"
        name = "centreline" if k == 0 else f"line-{k}"
        lines.append(LineInput(name, kind, tuple(map(tuple, points.tolist()))))
    return tuple(lines)


def test_a_chine_that_runs_out_on_the_centreline_stays_closed(demo_input, euler):
    keel, lower, upper, sheer = demo_input.lines
    points = (*keel.points[:6], *lower.points[6:])
    faded = LineInput("lower-chine", "chine", points, (2.5,))
    bent = LineInput("centreline", "fair", keel.points, (2.5,))
    given = HullInput((bent, faded, upper, sheer), appendages=demo_input.appendages)
    hull = hull_of(given, 2500)
    assert euler(hull.surface) == 2
    assert hull.section(1.5)[:2].tolist() == [[0.0, -0.53], [0.94, 0.24]]
    for part in hull.appendages.values():
        require_closed(part.surface, part.name)


def test_a_line_that_touches_the_centreline_between_others_leaves_her_closed(demo_input):
    # by errors of readings beside the stem
    ends = zip(demo_input.lines, (0.0, 0.004, 0.0, 0.006), strict=True)
    lines = tuple(replace(line, points=with_fore_end_at(line, y)) for line, y in ends)
    for triangles in DENSITIES[:3]:
        require_closed(meshed(replace(demo_input, lines=lines), triangles).body.surface, "her")


def with_fore_end_at(line, half_breadth):
    (x, _, z), *rest = line.points
    return ((x, half_breadth, z), *rest)
