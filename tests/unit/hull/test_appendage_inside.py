"""The inside of plated appendages, by hand."""

from dataclasses import replace

import numpy as np
import pytest

from hullchange.geometry.surface import difference, require_closed
from hullchange.hull.appendage_inside import inside_of
from hullchange.hull.appendages import AppendageInput
from hullchange.hull.hull import hull_of

FIN = ((3.0, -1.0), (3.0, -2.0), (5.0, -2.0), (5.0, -1.0))
PLATE = 0.010


def fin_of(box_input, outline=FIN, half=0.1, **place):
    given = AppendageInput("fin", outline, half, **place)
    return hull_of(replace(box_input, appendages=(given,)), 800).appendages["fin"]


def test_a_box_keel_loses_its_plates(box_input):
    """2.0 by 1.0 by 0.2 outside; plated all round but towards the hull."""
    inside = inside_of(fin_of(box_input), PLATE)
    require_closed(inside, "the inside")
    assert inside.volume == pytest.approx(1.98 * 0.99 * 0.18, rel=1e-9)
    low, high = inside.bounds
    assert low == pytest.approx([3.01, -0.09, -1.99], abs=1e-9)
    assert high == pytest.approx([4.99, 0.09, -1.0], abs=1e-9)


def test_without_plating_it_is_the_body(box_input):
    fin = fin_of(box_input)
    assert inside_of(fin, 0.0) is fin.surface


def test_a_sloping_end_keeps_its_plate_square_to_it(box_input):
    """Forward edge at 45 degrees: its plate takes sqrt 2 of its thickness along."""
    sloping = ((2.0, -1.0), (3.0, -2.0), (5.0, -2.0), (5.0, -1.0))
    inside = inside_of(fin_of(box_input, sloping), PLATE)
    fore = [2.0 + PLATE * np.sqrt(2.0) + depth for depth in (0.0, 0.99)]
    length = (4.99 - fore[0] + 4.99 - fore[1]) / 2.0
    assert inside.volume == pytest.approx(length * 0.99 * 0.18, rel=1e-9)


def test_a_wedge_is_offset_square_to_its_sides(box_input):
    """Sides from 0.2 to nothing over 2 m; the inside of a triangle, its plates square to it."""
    inside = inside_of(fin_of(box_input, half=((0.0, 0.2), (1.0, 0.0))), PLATE)
    slope = 0.1
    at_front = 0.2 - slope * PLATE - PLATE * np.hypot(1.0, slope)
    area = at_front**2 / slope  # two right triangles
    assert inside.volume == pytest.approx(area * 0.99, rel=1e-3)


@pytest.mark.parametrize("cant", [0.0, 15.0])
def test_both_of_a_pair_have_an_inside(box_input, cant):
    pair = fin_of(box_input, at_y=1.0, cant=cant, pair=True)
    inside = inside_of(pair, PLATE)
    require_closed(inside, "the inside")
    assert inside.volume == pytest.approx(2 * 1.98 * 0.99 * 0.18, rel=1e-9)
    assert len(difference(inside, pair.surface).faces) == 0


def test_a_keel_thinner_than_its_plates_has_no_inside(box_input):
    assert len(inside_of(fin_of(box_input, half=0.008), PLATE).faces) == 0


def test_a_waterline_nose_and_a_taper_go_with_the_plates(demo):
    """Of the demo's keel the plates take their own volume, area times thickness."""
    keel = demo.appendages["keel"]
    volumes = [inside_of(keel, t).volume for t in (0.001, 0.003, 0.006, 0.012)]
    assert (np.diff(volumes) < 0.0).all()
    a, b, c = keel.surface.vertices[keel.surface.faces].transpose(1, 0, 2)
    twice = np.cross(b - a, c - a)
    size = np.linalg.norm(twice, axis=1)
    plated = twice[:, 2] < 0.5 * size  # its top lies against the hull
    skin = float(size[plated].sum()) / 2.0
    assert (volumes[0] - volumes[2]) / 0.005 == pytest.approx(skin, rel=0.03)
    for thickness in (0.003, 0.012):
        outside = difference(inside_of(keel, thickness), keel.surface)
        assert outside.volume < 1e-9
