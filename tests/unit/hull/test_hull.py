"""The hull as host of new parts, and as a whole."""

from dataclasses import replace

import numpy as np
import pytest

from hullchange.errors import ModelError
from hullchange.geometry.surface import require_closed
from hullchange.hull.hull import hull_of


@pytest.fixture(scope="module", params=["demo_input", "raked_input"])
def boat(request):
    given = request.getfixturevalue(request.param)
    return hull_of(replace(given, appendages=()))


def split_grid(hull):
    """Vertices of the starboard sides and of the deck."""
    points = hull.surface.vertices[hull.mesh.body.starboard]
    sheer = hull.lines.sheer.at_fraction(hull.mesh.fractions)
    row = int(np.argmin(np.abs(points - sheer[:, None]).sum(axis=(0, 2))))
    return points[:, : row + 1], points[:, row:]


def test_the_deck_function_is_the_meshed_deck(boat):
    _, deck = split_grid(boat)
    found = boat.deck_z(deck[..., 0], deck[..., 1])
    assert np.abs(found - deck[..., 2]).max() < 1e-12
    assert np.array_equal(boat.deck_z(deck[..., 0], -deck[..., 1]), found)


def test_the_deck_rises_by_its_camber_and_runs_on_beyond_the_sheer(demo):
    x = np.array([5.5, 5.5, 5.5])
    edge, breadth = demo.sheer(x)[0, 2], demo.sheer(x)[0, 1]
    z = demo.deck_z(x, np.array([0.0, breadth, breadth + 0.1]))
    assert z[0] - edge == pytest.approx(0.060 * breadth / 1.80, rel=1e-12)
    assert z[1] == pytest.approx(edge, abs=1e-12)
    assert z[2] - edge == pytest.approx(-0.1 * 2 * 0.060 / 1.80, rel=1e-12)


def test_the_deck_ahead_of_the_stem_and_abaft_the_transom_is_carried_on(demo):
    x = np.array([demo.stem_x - 0.5, demo.transom_x + 0.62])
    assert demo.deck_z(x, np.zeros(2)) == pytest.approx(demo.sheer(x)[:, 2], abs=0.06)


def test_bottom_and_sections_are_the_meshed_sides(boat):
    sides, _ = split_grid(boat)
    inside = sides[4:-4].reshape(-1, 3)
    off = np.abs(boat.bottom_z(inside[:, 0], inside[:, 1]) - inside[:, 2])
    # where rulings are oblique a section is a polyline of eight pieces a strip: within 5 mm
    # on the steep sides of the bow, exact where rulings are square to the boat
    oblique = np.ptp(boat.lines.fore_x) > 0.0
    assert off.max() < (5e-3 if oblique else 1e-9)
    assert off[inside[:, 0] > 1.0].max() < 2e-3
    for x in (0.9, 3.3, 5.0, 9.0):
        section = boat.section(x)
        at = boat.bottom_z(np.full(len(section), x), section[:, 0])
        assert np.abs(at - section[:, 1]).max() < 1e-9


def test_a_section_of_saltmarrow_goes_through_the_points_measured_there(demo, demo_input):
    measured = [given.points[7][1:] for given in demo_input.lines]
    assert demo.section(4.5) == pytest.approx(np.array(measured), abs=1e-12)


def test_sections_at_the_raked_ends_start_on_stem_and_transom(raked_input):
    hull = hull_of(raked_input)
    bow = hull.section(0.0)
    assert bow[0, 0] == 0.0
    # the stem runs straight from the bilge's end (0.3, 0.1) to the sheer's (-0.6, 1.2)
    assert bow[0, 1] == pytest.approx(0.1 + 1.1 * 0.3 / 0.9, abs=1e-9)
    assert bow[-1, 1] == pytest.approx(hull.sheer(np.array([0.0]))[0, 2], abs=1e-12)
    stern = hull.section(10.2)
    assert stern[0, 0] == 0.0
    assert stern[0, 1] == pytest.approx(stern[1, 1], abs=1e-12)
    assert stern[1, 0] > 0.3
    assert hull.bottom_z(np.array([10.2]), np.array([0.1]))[0] == pytest.approx(stern[0, 1])


def test_a_station_off_the_hull_is_refused(demo):
    assert len(demo.section(demo.transom_x)) == 4
    for x in (-0.96, 11.0):
        with pytest.raises(ModelError) as refusal:
            demo.section(x)
        assert refusal.value.code == "station-off-hull"


def test_transom(demo):
    assert demo.transom_outline().tolist() == [
        [10.95, 0, 0.2],
        [10.95, 0.44, 0.28],
        [10.95, 0.82, 0.44],
        [10.95, 1.08, 1.13],
    ]


def test_sections_are_those_asked_for_one_by_one(demo):
    x = np.array([-2.0, -0.95, 4.5, 10.95, 12.0])
    for station, section in zip(x, demo.sections(x), strict=True):
        inside = float(np.clip(station, demo.fore_x, demo.transom_x))
        assert section == pytest.approx(demo.section(inside), abs=1e-12)


def test_the_bottoms_plating_by_its_zones(demo_input):
    zones = (("below-lower-chine", 0.006), ("below-sheer", 0.004), ("keel", 0.010))
    hull = hull_of(replace(demo_input, plating=zones))
    x, y = np.full(4, 4.5), np.array([0.0, -1.1, 1.3, 1.8])
    assert hull.bottom_thickness(x, y).tolist() == [0.006, 0.006, 0.004, 0.004]
    plain = hull_of(replace(demo_input, plating=(("bottom", 0.007),)))
    assert plain.bottom_thickness(x, y).tolist() == [0.007] * 4
    assert hull_of(demo_input).bottom_thickness(x, y).tolist() == [0.0] * 4
    assert plain.key != hull.key


def test_dimensions_of_saltmarrow(demo):
    assert demo.length == pytest.approx(11.90, abs=1e-12)
    # greatest breadth 3.74 as stated for the boat
    assert demo.beam == pytest.approx(3.74, abs=0.005)
    assert demo.draught == 1.85
    assert (demo.stem_x, demo.transom_x) == (-0.95, 10.95)


def test_the_key_depends_on_all_of_a_hull(demo_input, with_point):
    key = hull_of(demo_input, 800).key
    assert hull_of(replace(demo_input), 800).key == key
    assert hull_of(replace(demo_input, appendages=()), 800).key != key
    assert hull_of(replace(demo_input, camber=0.05), 800).key != key
    moved = with_point(demo_input, "sheer", 4, (1.5, 1.291, 1.29))
    assert hull_of(moved, 800).key != key


def test_the_side_view_closes_and_shows_every_line(demo):
    view = demo.side_view
    assert view.outline[0].tolist() == view.outline[-1].tolist()
    assert list(view.lines) == ["centreline", "lower-chine", "upper-chine", "sheer"]
    low, high = view.outline.min(axis=0), view.outline.max(axis=0)
    assert (low[0], high[0]) == (demo.stem_x, demo.transom_x)
    assert low[1] == pytest.approx(demo.surface.bounds[0, 2], abs=1e-3)
    keel = view.appendages["keel"]
    assert keel[0].tolist() == keel[-1].tolist()
    assert keel[:, 1].min() == -1.85
    bottom = demo.bottom_z(keel[:, 0], np.zeros(len(keel)))
    assert np.all(keel[:, 1] <= bottom + 1e-3)


def test_the_drawn_hull_is_coarser_and_closed(demo):
    require_closed(demo.drawing_surface, "the drawn hull")
    assert len(demo.drawing_surface.faces) < 2700
    assert demo.drawing_surface.volume == pytest.approx(demo.surface.volume, rel=1e-3)


def test_a_transom_that_leans_forward_ends_the_section_below_the_sheer(box_input):
    keel, bilge, sheer = box_input.lines
    longer = [replace(o, points=(o.points[0], (11.0, *o.points[1][1:]))) for o in (keel, bilge)]
    hull = hull_of(replace(box_input, lines=(*longer, sheer)))
    assert hull.surface.volume == pytest.approx(4 * 2 * 10.5, rel=1e-13)
    section = hull.section(10.5)
    assert section[0].tolist() == [0.0, -1.0]
    assert section[-1] == pytest.approx([2.0, 0.0], abs=1e-12)
    assert hull.bottom_z(np.array([10.9]), np.array([1.0]))[0] == pytest.approx(-1.0, abs=1e-12)


def test_a_clipper_bow_is_closed_and_holds_what_its_sections_hold(demo_input):
    """The stem runs forward as it rises, hollow; volume by its sections, Simpson by hand."""
    stem = np.array([(-1.6, 1.55), (-1.2, 0.98), (-0.8, 0.55), (-0.4, 0.25), (0.0, 0.0)])
    lines = []
    for line in demo_input.lines:
        points = np.array(line.points)
        if line.kind == "fair":
            fore = np.insert(stem, 1, 0.0, axis=1)
            points = np.vstack([fore, points[points[:, 0] > 0.1]])
        else:
            fore = {"lower-chine": (-0.8, 0.02, 0.65), "upper-chine": (-1.2, 0.03, 1.10)}
            start = fore.get(line.name, (-1.6, 0.05, 1.62))
            points = np.vstack([start, points[points[:, 0] > -0.6]])
        lines.append(replace(line, points=tuple(map(tuple, points.tolist()))))
    # hollow: the stem lies below its chord, that is abaft it
    chord = np.interp(stem[1:-1, 0], stem[[0, -1], 0], stem[[0, -1], 1])
    assert (stem[1:-1, 1] < chord - 0.05).all()
    hull = hull_of(replace(demo_input, lines=tuple(lines), appendages=()), 8000)
    require_closed(hull.surface, "the hull")
    assert hull.stem_x == -1.6
    x = np.linspace(hull.fore_x, hull.transom_x, 1201)
    areas = []
    for station in hull.sections(x):
        y, z = station.T
        areas.append(2.0 * np.trapezoid(y, z))
    to_sheer = float(np.trapezoid(areas, x))
    camber = [
        np.trapezoid(
            hull.deck_z(np.full(41, a), np.linspace(-b, b, 41)) - s, np.linspace(-b, b, 41)
        )
        for a, b, s in zip(x, *hull.sheer(np.clip(x, hull.stem_x, None))[:, 1:].T, strict=True)
    ]
    assert hull.surface.volume == pytest.approx(to_sheer + np.trapezoid(camber, x), rel=5e-3)
    # it floats no worse than before: nothing of the overhang lies under water
    low = hull.surface.vertices[hull.surface.vertices[:, 0] < -0.05]
    assert low[:, 2].min() > 0.0
