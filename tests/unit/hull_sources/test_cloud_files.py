"""Cloud and mesh files: the formats, and what is damaged or too large."""

import struct

import numpy as np
import pytest

from hullchange.errors import ModelError
from hullchange.hull_sources.cloud_files import LARGEST_FILE, cloud_points

POINTS = np.random.default_rng(0).uniform(-3, 3, (50, 3)).round(4)
HEAD = "ply\nformat {} 1.0\nelement vertex {}\nproperty {t} x\nproperty {t} y\nproperty {t} z\n"


def as_text(points):
    return "\n".join(" ".join(map(str, p)) for p in points.tolist())


def ply_text(points, faces=()):
    head = HEAD.format("ascii", len(points), t="float")
    head += f"element face {len(faces)}\nproperty list uchar int vertex_indices\nend_header\n"
    rows = "\n".join("3 " + " ".join(map(str, f)) for f in faces)
    return (head + as_text(points) + "\n" + rows).encode()


def ply_binary(points, order, faces=()):
    word = {"<": "binary_little_endian", ">": "binary_big_endian"}[order]
    head = HEAD.format(word, len(points), t="double")
    head += f"element face {len(faces)}\nproperty list uchar int vertex_indices\nend_header\n"
    body = points.astype(f"{order}f8").tobytes()
    return head.encode() + body + b"".join(struct.pack(f"{order}B3i", 3, *f) for f in faces)


def stl_binary(triangles):
    rows = b"".join(struct.pack("<12fH", 0, 0, 1, *map(float, t.ravel()), 0) for t in triangles)
    return bytes(80) + struct.pack("<I", len(triangles)) + rows


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("a.xyz", as_text(POINTS).encode()),
        (
            "a.CSV",
            ("x,y,z,r\n" + as_text(POINTS).replace(" ", ",").replace("\n", ",1\n")).encode(),
        ),
        ("a.ply", ply_text(POINTS)),
        ("a.ply", ply_binary(POINTS, "<")),
        ("a.ply", ply_binary(POINTS, ">")),
        ("a.obj", "\n".join("v " + row for row in as_text(POINTS).splitlines()).encode()),
    ],
)
@pytest.mark.parametrize(("unit", "scale"), [("m", 1.0), ("Feet", 0.3048), ("mm", 0.001)])
def test_a_cloud_is_read_in_its_unit(name, content, unit, scale):
    assert np.allclose(cloud_points(name, content, unit), POINTS * scale, atol=1e-6)


SQUARE = np.array([[0, 0, 0], [2, 0, 0], [2, 2, 0], [0, 2, 0]], float)
HALVES = np.array([[0, 1, 2], [0, 2, 3]])
OBJ = "".join(f"v {x} {y} {z}\n" for x, y, z in SQUARE.tolist()) + "f 1/1/1 2 3 -1\n"
STL = "solid a\n" + "".join(
    "outer loop\n" + "".join(f"vertex {x} {y} {z}\n" for x, y, z in SQUARE[f].tolist())
    for f in HALVES
)


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("a.obj", OBJ.encode()),
        ("a.ply", ply_text(SQUARE, HALVES.tolist())),
        ("a.ply", ply_binary(SQUARE, "<", HALVES.tolist())),
        ("a.stl", stl_binary(SQUARE[HALVES])),
        ("a.stl", STL.encode()),
    ],
)
def test_an_open_mesh_becomes_points_spread_over_it(name, content):
    points = cloud_points(name, content, "m")
    assert len(points) == 60_000
    assert points[:, :2].mean(axis=0) == pytest.approx([1.0, 1.0], abs=0.01)
    assert np.ptp(points, axis=0) == pytest.approx([2.0, 2.0, 0.0], abs=0.001)


@pytest.mark.parametrize(
    ("name", "content", "unit", "code"),
    [
        ("a.jpg", b"", "m", "not-a-scan"),
        ("a", b"1 2 3", "m", "not-a-scan"),
        ("a.xyz", b"1 2 3\n4 5 6\n7 8 9", "", "unit-missing"),
        ("a.xyz", b"1 2 3\n4 5 6\n7 8 9", "ft-in-8", "unit-missing"),
        ("a.xyz", b"nothing of the kind", "m", "too-few-points"),
        ("a.xyz", b"", "m", "too-few-points"),
        ("a.ply", b"ply", "m", "not-a-scan"),
        (
            "a.ply",
            ply_text(POINTS).replace(b"vertex 50", b"vertex 900000000"),
            "m",
            "not-a-scan",
        ),
        ("a.ply", ply_binary(POINTS, "<")[:-9], "m", "not-a-scan"),
        ("a.ply", ply_binary(POINTS, "<").replace(b"50", b"-5"), "m", "not-a-scan"),
        ("a.ply", ply_text(SQUARE, [[0, 1, 9]]), "m", "not-a-scan"),
        ("a.obj", b"v 1 2\n", "m", "not-a-scan"),
        ("a.obj", b"v 1 2 3\nf 1 2 3\n", "m", "not-a-scan"),
        ("a.stl", b"", "m", "too-few-points"),
        ("a.xyz", bytes(LARGEST_FILE + 1), "m", "too-large"),
    ],
)
def test_bad_files_are_refused_in_one_sentence(name, content, unit, code):
    with pytest.raises(ModelError) as caught:
        cloud_points(name, content, unit)
    assert caught.value.code == code
    assert len(caught.value.sentence) < 200


@pytest.mark.parametrize("seed", range(60))
def test_a_damaged_file_is_read_or_refused_and_nothing_else(seed):
    draw = np.random.default_rng(seed)
    name, content = [
        ("a.ply", ply_binary(SQUARE, "<", HALVES.tolist())),
        ("a.ply", ply_text(SQUARE, HALVES.tolist())),
        ("a.obj", OBJ.encode()),
        ("a.stl", stl_binary(SQUARE[HALVES])),
    ][seed % 4]
    broken = bytearray(content)
    for _ in range(int(draw.integers(1, 6))):
        broken[int(draw.integers(0, len(broken)))] = int(draw.integers(0, 256))
    try:
        points = cloud_points(name, bytes(broken), "m")
    except ModelError as error:
        assert error.code in ("not-a-scan", "too-few-points")  # noqa: PT017  either is right
    else:
        assert np.isfinite(points).all()
