"""The curves of a lines plan lie on the hull, whatever its kind."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import trimesh
from plans import KINDS, boat_of_kind, boat_with, hull_of_kind, plan_of_kind
from refits import barge_document, boat
from shapely.geometry import LineString, Polygon, box

from hullchange.geometry.station import station_cuts
from hullchange.geometry.surface import box as solid_box
from hullchange.geometry.surface import joined
from hullchange.lines_plan.lengths import METRIC
from hullchange.lines_plan.offsets import faired_table, offset_rows, offsets_csv, readings_table
from hullchange.lines_plan.on_section import lowest_height, widest_at
from hullchange.lines_plan.plan import lines_plan

MM = 1e-3
EVERY = ("demo", *KINDS)
LENGTHS = {"single-chine": 6.0, "multi-chine": 18.0, "round": 14.0}


def plan_of(kind):
    return plan_of_kind(kind, LENGTHS.get(kind, 10.0))


@pytest.mark.parametrize("kind", EVERY)
def test_sections_at_the_stations_are_the_hulls_own_and_the_meshs(kind):
    plan = plan_of(kind)
    curves = {curve.at: curve for curve in plan.of_role("station")}
    assert len(curves) >= 8
    for x, curve in curves.items():
        own = LineString(plan.hull.section(x))
        assert own.hausdorff_distance(LineString(curve.points[:, 1:])) < 0.3 * MM
        assert (curve.points[:, 0] == x).all()
    inner = [s for s in plan.stations if s.section is not None and 0.5 <= s.number <= 9.5]
    for station in inner:
        cut = LineString(np.vstack(station_cuts(plan.hull.surface, station.x)[0]))
        for point in LineString(station.section).segmentize(0.1).coords:
            assert cut.distance(LineString([point, point])) < 2 * MM


@pytest.mark.parametrize("kind", EVERY)
def test_waterlines_and_buttocks_lie_on_the_sections_they_pass(kind):
    plan = plan_of(kind)
    hull = plan.hull
    for curve in plan.of_role("waterline", "buttock"):
        axis = 2 if curve.role == "waterline" else 1
        assert curve.points[:, axis] == pytest.approx(curve.at, abs=1e-9)
        for x, y, z in curve.points[:: max(1, len(curve.points) // 25)]:
            if hull.fore_x + 0.01 < x < hull.transom_x - 0.01:
                section = LineString(hull.section(x))
                assert section.distance(LineString([(y, z), (y, z)])) < 1 * MM


@pytest.mark.parametrize("kind", EVERY)
def test_half_breadths_of_the_table_are_those_of_the_mesh(kind):
    plan = plan_of(kind)
    checked = 0
    for station in plan.stations:
        if station.section is None or not 0.5 <= station.number <= 9.5:
            continue
        (outline,) = station_cuts(plan.hull.surface, station.x)
        ring = Polygon(outline)
        for level in plan.waterlines:
            wide = widest_at(station.section, level)
            if wide is None or level > station.section[-1, 1] - 0.01:
                continue
            across = ring.intersection(LineString([(-99.0, level), (99.0, level)]))
            assert across.bounds[2] == pytest.approx(wide, abs=2 * MM)
            checked += 1
    assert checked > 40


def half_area(section, level):
    """[m2] of a half section below a height, by another program's polygons."""
    if len(section) < 2:
        return 0.0
    ring = [*section, (0.0, section[-1, 1])]
    return Polygon(ring).intersection(box(-1.0, -99.0, 99.0, level)).area


@pytest.mark.parametrize("kind", EVERY)
def test_simpsons_sum_over_the_stations_is_the_displacement(kind):
    # stations 0, half, 1, 2 ... 9, nine and a half, 10; the ends by half intervals
    plan = plan_of(kind)
    inside = [s for s in plan.stations if 0.0 <= s.number <= 10.0]
    areas = [0.0 if s.section is None else half_area(s.section, 0.0) for s in inside]
    if inside[-1].section is None:
        areas[-1] = half_area(plan.hull.section(plan.hull.transom_x), 0.0)
    factors = [0.5, 2.0, 1.5, 4.0, 2.0, 4.0, 2.0, 4.0, 2.0, 4.0, 1.5, 2.0, 0.5]
    spacing = plan.length_waterline / 10.0
    volume = 2.0 * spacing / 3.0 * float(np.dot(factors, areas))
    assert volume == pytest.approx(volume_below(plan.hull.surface), rel=0.005)


def volume_below(surface):
    """[m3] below z = 0 of a closed surface, by another program's slicing."""
    body = trimesh.Trimesh(surface.vertices, surface.faces, process=False)
    return body.slice_plane([0, 0, 0], [0, 0, -1], cap=True).volume


def test_a_box_has_the_table_that_arithmetic_gives():
    plan = lines_plan(boat(barge_document(10.0, 4.0, 0.5, 2.0, 0.0)))
    assert [s.name for s in plan.stations] == [
        *("0", "½", "1", "2", "3", "4", "5", "6", "7", "8", "9", "9½", "10")
    ]
    rows = {row.key: row.values for row in offset_rows(plan)}
    assert set(rows["centreline_z_m"]) == {-0.5}
    assert set(rows["sheer_z_m"]) == {1.5}
    assert set(rows["bilge_y_m"]) == set(rows["waterline+0.000_y_m"]) == {2.0}
    assert plan.waterlines[:4] == (-0.4, -0.2, 0.0, 0.2)
    assert plan.buttocks == (0.5, 1.0, 1.5)


def test_stations_go_on_beyond_the_perpendiculars_as_far_as_the_hull():
    plan = plan_of("demo")
    hull, spacing = plan.hull, plan.length_waterline / 10.0
    numbers = [station.number for station in plan.stations]
    assert numbers[0] == -0.5
    assert numbers[-1] == 10.5
    assert numbers[0] * spacing - hull.fore_x < spacing / 2.0
    assert all(s.section is not None for s in plan.stations)
    assert plan.stations[0].name == "-½"


def test_the_faired_table_agrees_with_the_lines_at_the_stations():
    plan = plan_of("demo")
    chine = plan.hull.lines.lines[2]
    rows = {row.key: row.values for row in offset_rows(plan)}
    for station, y, z in zip(
        plan.stations, rows["upper-chine_y_m"], rows["upper-chine_z_m"], strict=True
    ):
        assert [y, z] == chine.at(np.array([station.x]))[0].tolist()
    csv = offsets_csv(plan)
    assert len(csv.rows) == len(plan.stations)
    assert {len(row) for row in csv.rows} == {len(csv.columns)}
    paper = faired_table(plan)
    assert {len(row) for row in paper.rows} == {1, len(plan.stations) + 1}


def lines_named(lines):
    return {name.replace("-", " ") for name in lines}


def test_points_as_read_are_the_documents_and_say_what_stands_off_where_it_is_judged():
    boat_ = boat_of_kind("double-chine")
    lines = boat_.document.hull.lines
    plan = plan_of("double-chine")
    assert [point.at for point in plan.readings] == [
        point for line in lines.values() for point in line.points_m
    ]
    without = readings_table(plan)
    assert {row[0] for row in without.rows} == {
        *lines_named(lines),
        *("x", "half-breadth", "height"),
    }
    assert without.rows[1][1:] == tuple(
        f"{round(1e3 * point[0])}" for point in lines["centreline"].points_m
    )
    place = "hull.lines.sheer.points_m[2]"
    table = readings_table(lines_plan(boat_, {place: 12.3}))
    off = table.rows[table.rows.index(("sheer",)) + 4]
    assert off[:5] == ("off", "-", "-", "12", "-")


def test_bodies_below_are_cut_at_the_stations_on_both_sides():
    plan = plan_of("demo")
    keel = [curve for curve in plan.of_role("appendage") if curve.name == "keel"]
    assert {round(curve.at, 3) for curve in keel} >= {4.06, 5.075, 6.09}
    for curve in keel:
        assert (curve.points[:, 1] >= 0.0).all()
        assert curve.points[:, 1].max() <= 0.166
    assert plan.side_views.keys() == plan.hull.appendages.keys()


def test_of_a_pair_the_starboard_one_is_shown_all_round():
    boat_ = boat_of_kind("single-chine", 9.0)
    low = -boat_.hull.draught - 0.5
    fins = [
        solid_box(np.array([2.0, y - 0.05, low]), np.array([6.0, y + 0.05, low + 0.4]))
        for y in (-0.8, 0.8)
    ]
    keel = next(iter(boat_.hull.appendages.values()))
    pair = replace(keel, name="bilge-keels", surface=joined(fins))
    hull = replace(boat_.hull, appendages=MappingProxyType({"bilge-keels": pair}))
    curves = lines_plan(replace(boat_, hull=hull)).of_role("appendage")
    assert curves
    for curve in curves:
        assert (curve.points[0] == curve.points[-1]).all()
        assert curve.points[:, 1].min() == pytest.approx(0.75)
        assert curve.points[:, 1].max() == pytest.approx(0.85)


def test_a_level_is_named_by_its_height():
    assert [METRIC.level(v) for v in (-0.25, 0.0, 1.0)] == ["-0.25", "DWL", "1.00"]


def test_a_hollow_section_is_read_at_its_outside_and_its_lowest():
    hollow = np.array([[0.0, -0.2], [0.5, -0.6], [1.0, -0.5], [1.2, 0.5]])
    assert widest_at(hollow, -0.4) == pytest.approx(1.02)
    assert lowest_height(hollow, 0.25) == pytest.approx(-0.4)
    assert lowest_height(hollow, 1.3) is None
    assert widest_at(hollow, 0.6) is None
    flat = np.array([[0.0, -0.5], [1.0, -0.5], [1.1, 0.5]])
    assert widest_at(flat, -0.5) == 1.0


def test_a_waterline_longer_than_the_hull_leaves_its_stations_empty():
    hull = hull_of_kind("single-chine", 9.0, 4)
    hull["length_waterline_m"] = 11.0
    plan = lines_plan(boat_with(hull))
    assert plan.stations[-1].section is None
    assert offset_rows(plan)[0].values[-1] is None
