"""Meshes and the whole scene: valid by the Khronos validator, named, small, kept by hash."""

import json
import struct
from base64 import b64decode

import numpy as np
import pytest
from refits import SALTMARROW, demo

from hullchange.errors import ModelError
from hullchange.present.scene import GLASS, piece_glb, scene_pieces, whole_scene

HOUSE = "changes.deckhouse.parts.house.side_height_m"
GLB = "model/gltf-binary"


def described(glb):
    """The JSON of a GLB."""
    magic, _, length = struct.unpack_from("<4sII", glb)
    assert (magic, length) == (b"glTF", len(glb))
    size, kind = struct.unpack_from("<I4s", glb, 12)
    assert kind == b"JSON"
    return json.loads(glb[20 : 20 + size])


def names_below(scene, node):
    inner = scene["nodes"][node].get("children", [])
    return [scene["nodes"][k]["name"] for k in inner]


@pytest.fixture(scope="module")
def glb():
    return whole_scene(demo()[0])


def test_the_scene_is_valid_and_small(glb, gltf_report):
    issues = gltf_report(glb)["issues"]
    assert (issues["numErrors"], issues["numWarnings"]) == (0, 0), issues["messages"][:5]
    assert len(glb) < 800_000


def test_one_root_turns_the_boats_axes(glb):
    scene = described(glb)
    (root,) = scene["scenes"][scene.get("scene", 0)]["nodes"]
    half = 0.70710678
    assert scene["nodes"][root]["rotation"] == pytest.approx([-half, 0, 0, half], abs=1e-7)
    assert scene["asset"]["version"] == "2.0"


def test_every_part_is_a_named_node_with_its_plates_below(glb):
    scene, built = described(glb), demo()[0]
    (root,) = scene["scenes"][0]["nodes"]
    nodes = {scene["nodes"][k]["name"]: k for k in scene["nodes"][root]["children"]}
    assert set(nodes) == {
        "hull",
        "appendage.keel",
        "appendage.skeg-and-rudder",
        "existing.old-house",
        "existing.old-cockpit",
        *built.parts,
    }
    for name, part in built.parts.items():
        plates = [f"{name}.{plate.id}" for plate in part.part.plates]
        below = names_below(scene, nodes[name])
        assert [n for n in below if not n.endswith("edges")] == plates
    ids = [node["name"] for node in scene["nodes"]]
    assert len(set(ids)) == len(ids)
    for name in nodes:
        assert scene["nodes"][nodes[name]]["extras"]["id"] == name


def test_positions_are_metres_in_the_boats_frame(glb):
    scene = described(glb)
    low = [a["min"] for a in scene["accessors"] if "min" in a and len(a["min"]) == 3]
    high = [a["max"] for a in scene["accessors"] if "max" in a and len(a["max"]) == 3]
    # bow platform to transom extension, keel to roof
    assert min(p[0] for p in low) == pytest.approx(-1.6, abs=0.3)
    assert max(p[0] for p in high) == pytest.approx(10.95 + 0.62, abs=0.1)
    assert min(p[2] for p in low) == pytest.approx(-1.85, abs=1e-3)
    assert max(abs(p[1]) for p in (*low, *high)) == pytest.approx(1.87, abs=0.01)


def test_each_piece_is_valid_by_itself(gltf_report):
    pieces = {piece.id: piece for piece in scene_pieces(demo()[0])}
    for name in ("hull", "existing.old-cockpit", "mast-support"):
        issues = gltf_report(piece_glb(pieces[name]))["issues"]
        assert (issues["numErrors"], issues["numWarnings"]) == (0, 0), name


def test_roles_say_what_each_is_to_the_refit():
    roles = {piece.id: (piece.role, piece.change) for piece in scene_pieces(demo()[0])}
    assert roles["hull"] == ("hull", None)
    assert roles["appendage.keel"] == ("appendage", None)
    assert roles["existing.old-house"] == ("replaced", "deckhouse")
    assert roles["house"] == ("new", "deckhouse")
    assert roles["extension"] == ("new", "transom")
    names = [piece.name for piece in scene_pieces(demo()[0])]
    assert len(set(names)) == len(names)


def test_wells_open_the_deck_and_windows_are_glazed_but_not_in_the_exported_file():
    pieces = {piece.id: piece for piece in scene_pieces(demo()[0])}
    [(x0, y0, x1, y1)] = pieces["cockpit"].opens
    assert (x0, x1) == pytest.approx((7.0, 9.4))
    assert y0 == pytest.approx(-y1)
    assert pieces["house"].opens == () == pieces["hull"].opens
    panes = [one for one in pieces["house"].drawn() if one.material == GLASS]
    # three a side and two in front, each as large as its hole
    assert len(panes) == 8
    assert all(one.part == "house" for one in panes)
    widest = max(np.ptp(one.vertices[:, 0]) for one in panes)
    assert 0.3 < widest < 0.8
    assert b"pane-" in piece_glb(pieces["house"])
    assert b"pane-" not in whole_scene(demo()[0])


def test_the_working_scene_over_http(saltmarrow, glb):
    address = "/api/refits/saltmarrow/revisions/working/scene.glb"
    answer = saltmarrow.client.get(address)
    assert answer.status_code == 200
    assert answer.headers["content-type"] == GLB
    assert answer.headers["etag"]
    assert described(answer.content) == described(glb)
    balanced = saltmarrow.client.get(address, params={"option": "balanced"})
    assert balanced.content != answer.content


def test_only_the_working_revision_is_kept(saltmarrow, refused):
    answer = saltmarrow.client.get("/api/refits/saltmarrow/revisions/7/scene.glb")
    refused(answer, 404, "unknown-revision")


def test_meshes_never_change_and_are_asked_for_once(saltmarrow, refused):
    scene = saltmarrow.read().json()["scene"]
    for part in scene[:3]:
        first = saltmarrow.client.get(part["mesh"])
        assert first.status_code == 200
        assert first.headers["content-type"] == GLB
        assert "immutable" in first.headers["cache-control"]
        tag = first.headers["etag"]
        again = saltmarrow.client.get(part["mesh"], headers={"If-None-Match": tag})
        assert (again.status_code, again.content) == (304, b"")
        assert again.headers["etag"] == tag
        other = saltmarrow.client.get(part["mesh"], headers={"If-None-Match": '"other"'})
        assert other.content == first.content
    refused(saltmarrow.client.get("/api/meshes/nothing.glb"), 404, "unknown-mesh")


def test_a_changed_dimension_changes_the_meshes_that_hang_on_it(serve):
    page = serve(SALTMARROW.read_text(encoding="utf-8"))

    def meshes(answer):
        return {part["id"]: part["mesh"] for part in answer.json()["scene"]}

    before = meshes(page.read())
    after = meshes(page.put({HOUSE: 0.6}))
    assert {name for name in before if before[name] != after[name]} == {"house", "mast-support"}
    assert meshes(page.put({HOUSE: 0.58})) == before
    assert page.client.get(before["house"]).status_code == 200


def test_meshes_in_use_outlive_a_long_drag(serve, monkeypatch):
    monkeypatch.setattr(scene_pieces.answers, "room", 2)
    page = serve()
    page.read()
    thickness = "changes.drive.parts.battery-shelf.thickness_mm"
    for n in range(12):
        answer = page.put({thickness: 4 + n / 10}, gesture="drag").json()
        for part in answer["scene"]:
            assert page.client.get(part["mesh"]).status_code == 200


def test_meshes_that_an_edit_draws_anew_come_with_its_answer(saltmarrow):
    assert not any(part["glb"] for part in saltmarrow.read().json()["scene"])
    answer = saltmarrow.put({HOUSE: 0.6}).json()
    sent = {part["id"]: part for part in answer["scene"] if part["glb"]}
    assert set(sent) == {"house", "mast-support"}  # which stands on the house
    for part in sent.values():
        assert b64decode(part["glb"]) == saltmarrow.client.get(part["mesh"]).content
    assert not any(part["glb"] for part in saltmarrow.undo().json()["scene"])


def test_an_edit_whose_mesh_cannot_be_drawn_is_answered_all_the_same(saltmarrow, monkeypatch):
    def refuse(drawn):
        raise ModelError("nothing-to-draw", f"Nothing of {drawn[0].name} can be drawn.")

    monkeypatch.setattr("hullchange.present.scene.scene_glb", refuse)
    response = saltmarrow.put({HOUSE: 0.6137})
    assert response.status_code == 200
    assert not any(part["glb"] for part in response.json()["scene"])
    assert saltmarrow.undo().status_code == 200


def test_the_picture_is_of_the_condition_and_asked_for_once(saltmarrow, refused):
    address = f"{saltmarrow.address}/picture.png"
    got = saltmarrow.client.get(address)
    assert (got.status_code, got.headers["content-type"]) == (200, "image/png")
    again = saltmarrow.client.get(address, headers={"If-None-Match": got.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    other = saltmarrow.client.get(address, params={"condition": "departure"})
    assert other.content != got.content
    nowhere = saltmarrow.client.get(address, params={"condition": "nowhere"})
    refused(nowhere, 422, "unknown-condition")
