"""The glTF writer: valid, in glTF's axes, the same twice, and nothing lost on the way."""

import json
import struct
from dataclasses import replace

import numpy as np
import pytest

from hullchange.errors import ModelError
from hullchange.present.gltf import Drawn, scene_glb

CORNERS = np.array([[x, y, z] for x in (2.0, 5.0) for y in (-1.0, 1.5) for z in (0.5, 1.0)])
QUADS = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
FACES = np.array([t for a, b, c, d in QUADS for t in ((a, b, c), (a, c, d))], np.int32)
ONE_EDGE = np.array([[0, 4]], np.int32)


def block(id, part="house", edges=ONE_EDGE, **more):
    return Drawn(id, id, part, CORNERS, FACES, edges, **more)


SCENE = [
    block(
        "hull",
        part="hull",
        edges=None,
        lines=CORNERS[[[0, 1], [4, 5]]],
        smooth=True,
        material="hull",
    ),
    block("house/front", extras={"change": "deckhouse"}),
    block("house/roof"),
    block("platform/top", part="platform"),
]


def opened(glb):
    """The JSON and the binary chunk of a GLB."""
    length, kind = struct.unpack_from("<I4s", glb, 12)
    assert kind == b"JSON"
    return json.loads(glb[20 : 20 + length]), glb[28 + length :]


def values(gltf, blob, accessor):
    """An accessor's numbers, read as glTF says."""
    it = gltf["accessors"][accessor]
    start = gltf["bufferViews"][it["bufferView"]].get("byteOffset", 0) + it.get("byteOffset", 0)
    kind = {5126: "<f4", 5125: "<u4", 5123: "<u2"}[it["componentType"]]
    wide = {"VEC3": 3, "SCALAR": 1}[it["type"]]
    return np.frombuffer(blob, kind, it["count"] * wide, start).reshape(-1, wide)


def primitives(glb, mesh=0):
    gltf, blob = opened(glb)
    return [
        {
            "mode": it.get("mode", 4),
            "indices": values(gltf, blob, it["indices"]) if "indices" in it else None,
            **{name: values(gltf, blob, at) for name, at in it["attributes"].items()},
        }
        for it in gltf["meshes"][mesh]["primitives"]
    ]


@pytest.mark.parametrize("drawn", [SCENE, SCENE[:1], SCENE[1:2]], ids=["all", "body", "plate"])
def test_the_khronos_validator_finds_nothing(gltf_report, drawn):
    report = gltf_report(scene_glb(drawn))
    assert report["issues"]["messages"] == []
    lined = sum((d.edges is not None) + (d.lines is not None) for d in drawn)
    assert report["info"]["drawCallCount"] == len(drawn) + lined


def test_a_mesh_beyond_sixteen_bits_is_valid_too(gltf_report):
    side = np.linspace(0.0, 10.0, 260)
    x, y = (a.ravel() for a in np.meshgrid(side, side, indexing="ij"))
    at = np.arange(260 * 260).reshape(260, 260)
    a, b, c, d = (q.ravel() for q in (at[:-1, :-1], at[1:, :-1], at[1:, 1:], at[:-1, 1:]))
    faces = np.vstack([np.stack([a, b, c], 1), np.stack([a, c, d], 1)]).astype(np.int32)
    sheet = Drawn("sea", "sea", "sea", np.stack([x, y, np.sin(x)], 1), faces)
    triangle = Drawn("flag", "flag", "flag", CORNERS, FACES[:1])
    glb = scene_glb([triangle, sheet])
    assert gltf_report(glb)["issues"]["messages"] == []
    assert [primitives(glb, mesh)[0]["indices"].dtype for mesh in (0, 1)] == ["<u2", "<u4"]


def test_the_root_turns_the_boat_to_gltf_axes():
    gltf, _ = opened(scene_glb(SCENE))
    x, y, z, w = gltf["nodes"][gltf["scenes"][0]["nodes"][0]]["rotation"]
    turn = np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
            [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
            [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
        ]
    )
    assert turn @ [1.0, 2.0, 3.0] == pytest.approx([1.0, 3.0, -2.0], abs=1e-7)


def test_one_node_per_part_with_its_plates_below():
    nodes = opened(scene_glb(SCENE))[0]["nodes"]
    below = [nodes[i] for i in nodes[0]["children"]]
    assert [node["name"] for node in below] == ["hull", "house", "platform"]
    plates = [nodes[i] for i in below[1]["children"]]
    assert [plate["name"] for plate in plates] == ["house/front", "house/roof"]
    front = {"id": "house/front", "part": "house", "change": "deckhouse"}
    assert plates[0]["extras"] == front
    assert below[0]["mesh"] == 0
    assert "mesh" not in below[1]


def test_positions_are_the_boats_own_metres():
    triangles, lines = primitives(scene_glb([block("a")]))
    corners = triangles["POSITION"][triangles["indices"].ravel()]
    assert corners == pytest.approx(CORNERS[FACES.ravel()])
    assert (triangles["mode"], lines["mode"]) == (4, 1)
    assert lines["POSITION"][lines["indices"].ravel()] == pytest.approx(CORNERS[[0, 4]])


def test_lines_besides_the_mesh_have_places_of_their_own():
    _, lines = primitives(scene_glb(SCENE[:1]))
    assert (lines["mode"], lines["indices"]) == (1, None)
    assert lines["POSITION"] == pytest.approx(CORNERS[[0, 1, 4, 5]])


def test_places_are_told_their_bounds():
    gltf, blob = opened(scene_glb(SCENE))
    bounded = [k for k, one in enumerate(gltf["accessors"]) if "min" in one]
    places = {
        p["attributes"]["POSITION"] for mesh in gltf["meshes"] for p in mesh["primitives"]
    }
    assert set(bounded) == places
    for k in bounded:
        read = values(gltf, blob, k)
        assert gltf["accessors"][k]["min"] == pytest.approx(read.min(axis=0))
        assert gltf["accessors"][k]["max"] == pytest.approx(read.max(axis=0))


def test_the_same_drawing_gives_the_same_bytes():
    assert scene_glb(SCENE) == scene_glb(list(SCENE))


def test_no_colour_is_in_the_geometry():
    gltf, _ = opened(scene_glb(SCENE))
    assert [it["name"] for it in gltf["materials"]] == ["hull", "steel"]
    assert not [it for it in gltf["materials"] if "pbrMetallicRoughness" in it]
    used = {
        name for mesh in gltf["meshes"] for p in mesh["primitives"] for name in p["attributes"]
    }
    assert used == {"POSITION", "NORMAL"}


def test_what_is_smooth_alone_carries_normals():
    body, plate = (primitives(scene_glb(SCENE), mesh)[0] for mesh in (0, 1))
    assert "NORMAL" in body
    assert "NORMAL" not in plate
    assert len(plate["POSITION"]) == len(CORNERS)


def test_nothing_to_draw_is_refused():
    face = np.array([[0, 1, 2]], np.int32)
    flat = Drawn("a", "a", "a", np.zeros((3, 3)), face, smooth=True)
    nothing = replace(flat, faces=flat.faces[:0], smooth=False)
    for drawn in ([], [flat], [nothing]):
        with pytest.raises(ModelError) as refused:
            scene_glb(drawn)
        assert refused.value.code == "nothing-to-draw"


def test_two_nodes_of_one_name_are_a_mistake():
    with pytest.raises(AssertionError, match="share a name"):
        scene_glb([block("a"), block("a")])
