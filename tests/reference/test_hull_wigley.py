"""Wigley's parabolic hull, y = B/2 (1 - (2x/L)^2) (1 - (z/T)^2).

Source: the form is W. C. S. Wigley's, of wave resistance experiments between 1926 and 1942; the
    volume 4/9 LBT, the waterplane 2/3 LB and the centre 5T/8 above the keel follow from it by
    integration, done again here.
Seen: memory.
Known: nothing.
"""

import numpy as np
import pytest
import trimesh

from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput

LENGTH, BREADTH, DRAUGHT = 10.0, 1.0, 0.625


def wigley(waterlines, stations=5, triangles=14_000):
    """The hull from equally spaced waterlines, straight across between them."""
    x = np.linspace(0.0, LENGTH, stations)
    lines = []
    for k in range(waterlines + 1):
        z = -DRAUGHT * (1.0 - k / waterlines)
        lengthwise = 1.0 - (2.0 * x / LENGTH - 1.0) ** 2
        y = BREADTH / 2 * lengthwise * (1.0 - (z / DRAUGHT) ** 2)
        kind = "sheer" if k == waterlines else "fair"
        points = np.column_stack([x, y, np.full(stations, z)])
        lines.append(LineInput(f"line-{k}", kind, tuple(map(tuple, points.tolist()))))
    return hull_of(HullInput(tuple(lines)), triangles)


def test_volume_and_centre():
    hull = wigley(waterlines=40, triangles=200_000)
    # straight across between 40 waterlines loses 1 part in 6400 of the section; a mesh of 400
    # lengthwise a hundredth of that
    exact = 4 / 9 * LENGTH * BREADTH * DRAUGHT
    assert hull.surface.volume == pytest.approx(exact * (1 - 1 / (4 * 40**2)), rel=2e-5)
    body = trimesh.Trimesh(hull.surface.vertices, hull.surface.faces, process=False)
    assert body.center_mass[0] == pytest.approx(LENGTH / 2, abs=1e-9)
    assert body.center_mass[2] == pytest.approx(-3 / 8 * DRAUGHT, abs=1e-4)


def test_straight_across_converges_as_the_square_of_the_waterlines():
    exact = 4 / 9 * LENGTH * BREADTH * DRAUGHT
    errors = [
        wigley(n, triangles=60_000 * n // 4).surface.volume / exact - 1 for n in (4, 8, 16)
    ]
    # the trapezium rule on 1 - s^2 is short by 1/(6 n^2) of its integral times 3/2
    assert errors == pytest.approx([-1 / (4 * n * n) for n in (4, 8, 16)], rel=0.02)


def test_the_mesh_converges_as_the_square_of_its_spacing():
    errors = []
    for triangles in (8_000, 32_000, 128_000):
        hull = wigley(waterlines=4, triangles=triangles)
        trapezium = 4 / 9 * LENGTH * BREADTH * DRAUGHT * (1 - 1 / (4 * 4 * 4))
        errors.append(hull.surface.volume / trapezium - 1)
    ratios = np.array(errors[:-1]) / np.array(errors[1:])
    assert ratios == pytest.approx([16.0, 16.0], rel=0.1)
