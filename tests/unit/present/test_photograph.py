"""The refit in a photograph: marks offered, what hides what, waterlines on the near side."""

from copy import deepcopy
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from refits import SALTMARROW, barge_document, boat, demo_document

from hullchange.document.photographs import Photograph
from hullchange.document.reading import read_document
from hullchange.geometry.frame import WaterPlane
from hullchange.photograph.camera import Camera
from hullchange.present.photograph import (
    faces_seen,
    offered_marks,
    photographed,
    waterline_seen,
    weights_seen,
)

SIZE = (4000, 3000)


@cache
def saltmarrow():
    return boat(deepcopy(demo_document()))


def looking(at, towards, focal=4000.0):
    ahead = np.subtract(towards, at) / np.linalg.norm(np.subtract(towards, at))
    right = np.cross(ahead, [0.0, 0.0, 1.0])
    right /= np.linalg.norm(right)
    turn = np.array([right, np.cross(ahead, right), ahead])
    return Camera(np.array(at, float), turn, focal, np.array(SIZE) / 2.0)


def test_marks_of_the_boat_as_found_have_their_places():
    marks = {mark.id: np.array(mark.at) for mark in offered_marks(saltmarrow())}
    assert marks["stem-head"] == pytest.approx([-0.95, 0.0, 1.5])
    assert marks["transom-port"] == pytest.approx([10.95, -1.08, 1.13])
    assert marks["mark-midships-starboard"] == pytest.approx([5.0, 1.86, 1.125], abs=0.02)
    assert marks["old-house-after-roof-starboard"][:2] == pytest.approx([7.0, 1.14], abs=0.01)
    assert marks["keel-after"] == pytest.approx([6.75, 0.0, -1.85], abs=0.02)
    for name, at in marks.items():
        if name.endswith("-port"):
            other = marks[name.removesuffix("port") + "starboard"]
            assert at == pytest.approx(other * [1.0, -1.0, 1.0])


def test_a_pointed_stern_has_no_corners_of_a_transom_to_mark():
    plain = read_document(SALTMARROW.with_name("fernskerry.yaml")).plain
    marks = {mark.id: mark for mark in offered_marks(boat(plain))}
    assert marks["stern-head"].at == pytest.approx((12.34, 0.0, 1.42))
    assert not [mark.name for mark in marks.values() if "transom" in mark.name]


def test_a_boat_of_nothing_but_a_hull_offers_marks_enough():
    plain = barge_document(10.0, 4.0, 1.0, 2.0, 0.2)
    assert len(offered_marks(boat(plain))) >= 8


def pixels_of(faces, name):
    return np.array([face.pixels for face in faces if face.id == name]).reshape(-1, 2)


def test_parts_are_seen_where_the_camera_sees_their_corners():
    camera = looking([5.0, 15.0, 2.5], [5.0, 0.0, 1.0])
    house = pixels_of(faces_seen(saltmarrow(), camera), "house")
    shape = saltmarrow().parts["house"].part.house
    corners = camera.pixels(np.array([shape.front_top[-1], shape.after_top[-1]]))
    # steel is 2.5 mm thick, a metre some 280 px
    for corner in corners:
        assert np.linalg.norm(house - corner, axis=1).min() < 3.0


def test_the_near_side_is_drawn_last_and_the_far_side_not_at_all():
    faces = faces_seen(saltmarrow(), looking([5.0, 15.0, 1.0], [5.0, 0.0, 1.0]))
    assert {face.role for face in faces} == {"part", "glass", "hides"}
    seen = {face.id for face in faces}
    assert {"house", "hull", "platform"} <= seen
    assert "arch" not in seen
    assert all(0.0 < face.light <= 1.0 for face in faces)


def covers(face, place):
    """Whether a face covers a place of the picture."""
    (ax, ay), (bx, by), (cx, cy) = face.pixels - place
    turns = np.array([ax * by - ay * bx, bx * cy - by * cx, cx * ay - cy * ax])
    return (turns >= 0.0).all() or (turns <= 0.0).all()


def test_the_topsides_hide_the_cockpit_and_the_deck_does_not_hide_the_house():
    camera = looking([5.0, 15.0, 1.6], [5.0, 0.0, 1.0])
    faces = faces_seen(saltmarrow(), camera)
    inside, wall = camera.pixels(np.array([[8.5, 0.4, 0.5], [5.3, 1.1, 1.65]]))
    assert [f for f in faces if covers(f, inside)][-1].role == "hides"
    assert [f for f in faces if covers(f, wall)][-1].id == "house"


def test_the_waterline_runs_along_the_side_that_is_seen():
    water = WaterPlane.at(0.0, 0.0, 0.0, 5.0)
    at = [5.0, 15.0, 2.0]
    pieces = np.array(waterline_seen(saltmarrow().hull, water, looking(at, [5.0, 0.0, 0.0])))
    assert len(pieces) > 20
    # the near side alone: each place of the picture's width but once, within a piece
    spans = np.sort(pieces[:, :, 0], axis=1)
    assert np.sum(spans[:, 1] - spans[:, 0]) == pytest.approx(np.ptp(spans), rel=0.02)


def test_windows_of_the_new_house_are_glass_and_no_old_house_shows_through():
    camera = looking([5.0, 15.0, 2.5], [5.0, 0.0, 1.0])
    faces = faces_seen(saltmarrow(), camera)
    shape = saltmarrow().parts["house"].part
    panes = [
        replace(plate, outer=plate.holes[0], holes=()).surface().vertices.mean(axis=0)
        for plate in shape.plates
        if plate.holes and plate.id != "roof"
    ]
    pane = max(panes, key=lambda at: at[1])  # the one furthest to starboard
    top = [f for f in faces if covers(f, camera.pixels(pane[None])[0])][-1]
    assert (top.role, top.id) == ("glass", "house")


def test_a_weight_without_shape_is_shown_at_its_centre_and_one_below_deck_is_not():
    camera = looking([5.0, 15.0, 2.5], [5.0, 0.0, 1.0])
    seen = {one.id: one for one in weights_seen(saltmarrow(), camera)}
    assert set(seen) == {
        "changes.arch.adds.arch-and-panels",
        "changes.bow.adds.anchor",
        "changes.ground-tackle.adds.windlass",
    }
    arch = seen["changes.arch.adds.arch-and-panels"]
    assert arch.kg == 148.0
    assert arch.pixel == pytest.approx(camera.pixels(np.array([[10.75, 0.0, 2.15]]))[0])


def test_a_photograph_is_solved_and_both_waterlines_told():
    camera = looking([-4.0, 12.0, 3.0], [5.0, 0.0, 0.5], 3600.0)
    offered = {mark.id: np.array(mark.at) for mark in offered_marks(saltmarrow())}
    names = [
        *("stem-head", "transom-starboard", "mark-forward-starboard", "mark-aft-starboard"),
        *("old-house-forward-roof-port", "old-house-after-roof-starboard", "keel-after"),
    ]
    own = {"hatch": [1.0, 0.3, 1.4]}
    places = {name: offered[name] for name in names} | own
    marks = {
        name: {
            "at_percent": (camera.pixels(np.array([at]))[0] / SIZE * 100.0).tolist(),
            **({"place_m": own[name]} if name in own else {}),
        }
        for name, at in places.items()
    }
    marks["of-a-house-that-is-gone"] = {"at_percent": [1.0, 2.0]}
    about = {"file": "quay.jpg", "width_px": SIZE[0], "height_px": SIZE[1], "marks": marks}
    photograph = Photograph.model_validate(about)
    found = photographed(saltmarrow(), photograph, "departure")
    assert [mark.id for mark in found.marks] == list(places)
    assert found.solved.rms < 0.01
    assert found.solved.camera.at == pytest.approx(camera.at, abs=1e-2)
    assert set(found.waterlines) == {"as_found", "refit"}
