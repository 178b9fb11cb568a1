"""What the boat is drawn from: curves of the very bodies that float."""

from functools import cache
from pathlib import Path

import numpy as np
import pytest
import trimesh
from other_refits import other_refit
from refits import barge_document, boat, weight
from shapely.geometry import LineString, Point

from hullchange.boat.boat import boat_of
from hullchange.boat.profile import profile_of
from hullchange.document.reading import document_of
from hullchange.geometry.frame import WaterPlane
from hullchange.survey.as_found import amidships

MM = 1e-3
SEEDS = (1, 2, 3, 4, 5, 6)


@cache
def other(seed):
    return boat_of(document_of(other_refit(seed).plain, Path()))


def curves(built, *roles):
    body = profile_of(built, 5.0).body
    return [np.array(curve.points_m) for curve in body if curve.role in roles]


def distance_apart(curve, surface):
    """How far a drawn station and trimesh's cut of a surface lie apart at most [m]."""
    x, own = curve[0, 0], curve[:, 1:]
    mesh = trimesh.Trimesh(surface.vertices, surface.faces, process=False)
    # at the very ends of a body there is nothing to cut: a hair inside
    near = np.clip(x, surface.bounds[0, 0] + 1e-6, surface.bounds[1, 0] - 1e-5)
    section = mesh.section(plane_origin=[near, 0.0, 0.0], plane_normal=[1.0, 0.0, 0.0])
    found = section.vertices[section.vertices[:, 1] > 1e-9][:, 1:]
    drawn = LineString(own)
    lines = [
        LineString(section.vertices[[a, b]][:, 1:])
        for entity in section.entities
        for a, b in entity.nodes
    ]
    to_cut = max(min(line.distance(Point(*p)) for line in lines) for p in own)
    return max(max(drawn.distance(Point(*p)) for p in found), to_cut)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_drawn_section_lies_on_the_hull_that_floats(seed):
    built = other(seed)
    sections = curves(built, "section", "midship")
    # the foremost has no breadth, where the stem is sharp
    assert len(sections) >= len(built.hull.lines.sheer.points)
    for curve in sections:
        assert np.ptp(curve[:, 0]) == 0.0
        assert distance_apart(curve, built.hull.surface) < MM


@pytest.mark.parametrize("seed", [3, 24, 31])
def test_what_stays_and_what_is_replaced_are_told_apart(seed):
    plain = other_refit(seed).plain
    gone = {change.get("replaces") for change in plain["changes"].values()}
    drawn = {outline.id: outline.role for outline in profile_of(other(seed), 5.0).outlines}
    for name in plain["existing"]:
        path = f"existing.{name}"
        assert drawn[path] == ("replaced" if path in gone else "existing")


@pytest.mark.parametrize("seed", SEEDS)
def test_the_sheer_lies_on_the_hull_that_floats(seed):
    built = other(seed)
    (sheer,) = curves(built, "sheer")
    near = trimesh.proximity.closest_point(
        trimesh.Trimesh(built.hull.surface.vertices, built.hull.surface.faces), sheer
    )
    assert near[1].max() < MM


@pytest.mark.parametrize("seed", SEEDS)
def test_house_and_well_are_drawn_as_they_float(seed):
    built = other(seed)
    gone = {change.replaces for change in built.document.changes.values()}
    standing = [p for p in built.existing.values() if p.path not in gone]
    bodies = [
        body
        for part in (*standing, *built.parts.values())
        for body in part.bodies
        if part.is_house or not body.adds
    ]
    drawn = curves(built, "house", "well")
    assert len(drawn) == len(bodies)
    for curve, body in zip(drawn, bodies, strict=True):
        assert distance_apart(curve, body.surface) < MM


def test_the_deck_is_cambered_from_edge_to_edge():
    plain = barge_document(12.0, 4.0, 1.0, 2.5, 0.6)
    plain["hull"]["deck"] = {"camber_m": 0.08, "at_half_breadth_m": 2.0}
    (midship,) = curves(boat(plain), "midship")
    assert midship[0].tolist() == [6.0, 0.0, -1.0]
    edge = int(np.argmax(midship[:, 2] >= 1.5 - 1e-9))
    assert midship[edge].tolist() == [6.0, 2.0, 1.5]
    assert midship[-1].tolist() == [6.0, 0.0, 1.58]
    deck = midship[edge:]
    assert np.allclose(deck[:, 2], 1.58 - 0.08 * (deck[:, 1] / 2.0) ** 2, atol=MM)


def test_the_moment_of_the_changes_is_about_the_centre_of_flotation():
    changes = {
        "ballast": {
            "adds": {"pig": weight(500.0, (9.0, 0.0, -0.5))},
            "removes": {"chain": weight(100.0, (1.0, 0.0, 0.0))},
            "moves": {"anchor": weight(40.0, (0.5, 0.0, 0.0), to_m=[3.0, 0.0, 0.0])},
        }
    }
    built = boat(barge_document(12.0, 4.0, 1.0, 2.5, 0.6, changes=changes))
    expected = 500.0 * (9.0 - 6.0) - 100.0 * (1.0 - 6.0) + 40.0 * 2.5
    assert profile_of(built, 6.0).changes_moment_kgm == pytest.approx(expected)


@pytest.mark.parametrize("heel", [0.0, 0.3, -0.2])
def test_the_water_in_side_view_is_straight_through_both_perpendiculars(heel):
    built, length = other(2), other(2).document.hull.length_waterline_m
    plane = WaterPlane.at(0.06, 0.02, heel, amidships(built))
    bow, stern = plane.water_height(0.0), plane.water_height(length)
    for x in np.linspace(-0.2 * length, 1.2 * length, 7):
        drawn = bow + (stern - bow) * x / length
        on_her = np.array([[x, 0.0, drawn]])
        assert plane.height_above(on_her)[0] == pytest.approx(0.0, abs=1e-12)


def test_bilge_keels_are_drawn_over_the_hull_and_the_rest_under_it():
    plain = barge_document(12.0, 4.0, 1.0, 2.5, 0.6)
    fin = {"outline_m": [[4.0, -0.8], [4.0, -1.8], [7.0, -1.8]], "half_thickness_m": 0.05}
    keel = {"outline_m": [[4.0, -0.8], [4.0, -1.4], [7.0, -1.4]], "half_thickness_m": 0.03}
    plain["hull"]["appendages"] = {
        "bilge-keel": keel | {"at_y_m": 1.2, "pair": True},
        "fin": fin,
    }
    outlines = [o.id for o in profile_of(boat(plain), 5.0).outlines]
    order = [outlines.index(name) for name in ("fin", "hull", "bilge-keel")]
    assert order == sorted(order)
