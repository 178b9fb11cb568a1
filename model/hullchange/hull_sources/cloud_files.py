"""Points of a cloud or mesh file: XYZ text, PLY, OBJ, STL.

Read here and not by a library: each format takes a few lines, memory stays in proportion to the
file, and whatever is wrong becomes one sentence.
"""

import re
from array import array
from collections.abc import Callable
from contextlib import suppress
from itertools import pairwise
from types import MappingProxyType

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray, Indices
from hullchange.quantity_text import UNITS, known_unit

MEGABYTE = 1024 * 1024
LARGEST_FILE = 20 * MEGABYTE
SAMPLES = 60_000  # points spread over a mesh
PLY_TYPES = MappingProxyType(
    {
        **dict.fromkeys(("char", "int8"), "i1"),
        **dict.fromkeys(("uchar", "uint8"), "u1"),
        **dict.fromkeys(("short", "int16"), "i2"),
        **dict.fromkeys(("ushort", "uint16"), "u2"),
        **dict.fromkeys(("int", "int32"), "i4"),
        **dict.fromkeys(("uint", "uint32"), "u4"),
        **dict.fromkeys(("float", "float32"), "f4"),
        **dict.fromkeys(("double", "float64"), "f8"),
    }
)
MeshParts = tuple[FloatArray, Indices]
"""Vertices (n, 3) in the file's unit, and triangles (m, 3) of them, none in a cloud."""


def cloud_points(name: str, content: bytes, unit: str) -> FloatArray:
    """Points (n, 3) [m] of a file: those of a cloud, or spread evenly over a mesh.

    A mesh may be open.

    Args:
        name: of the file; its ending says the format.
        content: its bytes.
        unit: of its numbers: m, cm, mm, ft or in.

    Raises:
        ModelError: ``too-large``, ``not-a-scan``, ``unit-missing``, ``too-few-points``.
    """
    if len(content) > LARGEST_FILE:
        sentence = (
            f"A scan may be {LARGEST_FILE // MEGABYTE} MB here; this one is "
            f"{len(content) / MEGABYTE:.0f} MB: thin it to a point every 10 to 20 mm."
        )
        raise ModelError("too-large", sentence)
    ending = name.lower().rpartition(".")[2]
    reader = READERS.get(ending)
    if reader is None:
        sentence = (
            f"A scan is an XYZ, PLY, OBJ or STL file; {name[-40:]!r} is not one of these."
        )
        raise ModelError("not-a-scan", sentence)
    of = known_unit(unit)
    if of not in ("m", "cm", "mm", "ft", "in"):
        sentence = (
            "A point cloud states no unit: choose metres, centimetres, millimetres, feet or "
            "inches."
        )
        raise ModelError("unit-missing", sentence)
    try:
        vertices, faces = reader(content)
    except (ValueError, IndexError, KeyError, OverflowError) as error:
        raise _unreadable(ending) from error
    if not np.isfinite(vertices).all():
        vertices, faces = vertices[np.isfinite(vertices).all(axis=1)], faces[:0]
    if len(vertices) < 3:
        raise ModelError("too-few-points", f"The {ending.upper()} file contains no points.")
    points = sampled(vertices, faces) if len(faces) else vertices
    return np.asarray(points * float(UNITS["length"][of]))


def sampled(vertices: FloatArray, faces: Indices, count: int = SAMPLES) -> FloatArray:
    """Points (count, 3) [-] spread evenly over triangles, always the same.

    Args:
        vertices: (n, 3) in any unit [-].
        faces: (m, 3) of them.
        count: number of points.
    """
    draw = np.random.default_rng(0)
    a, b, c = vertices[faces].transpose(1, 0, 2)
    area = np.linalg.norm(np.cross(b - a, c - a), axis=1)
    if not area.sum() > 0.0:
        return vertices
    face = draw.choice(len(faces), count, p=area / area.sum())
    u, v = draw.random((2, count))
    over = u + v > 1.0
    u[over], v[over] = 1.0 - u[over], 1.0 - v[over]
    return np.asarray(a[face] + u[:, None] * (b - a)[face] + v[:, None] * (c - a)[face])


def _unreadable(ending: str) -> ModelError:
    sentence = f"The {ending.upper()} file is damaged or of an unusual kind: save it again."
    return ModelError("not-a-scan", sentence)


_FIELDS = re.compile(r"[\s,;]+")


def _xyz(content: bytes) -> MeshParts:
    """Three numbers first on each line, parted by blanks, commas or semicolons."""
    found = array("d")
    for line in content.decode("utf-8", "replace").splitlines():
        with suppress(ValueError):  # a heading
            x, y, z = _FIELDS.split(line.strip())[:3]
            found.extend((float(x), float(y), float(z)))
    return np.frombuffer(found).reshape(-1, 3).copy() if found else np.empty(
        (0, 3)
    ), _no_faces()


def _no_faces() -> Indices:
    return np.empty((0, 3), np.int64)


def _obj(content: bytes) -> MeshParts:
    vertices, faces = array("d"), array("q")
    for line in content.decode("utf-8", "replace").splitlines():
        word, _, rest = line.partition(" ")
        if word == "v":
            x, y, z = rest.split()[:3]
            vertices.extend((float(x), float(y), float(z)))
        elif word == "f":
            corners = [int(field.split("/")[0]) for field in rest.split()]
            corners = [c - 1 if c > 0 else len(vertices) // 3 + c for c in corners]
            for b, c in pairwise(corners[1:]):
                faces.extend((corners[0], b, c))
    if not vertices:
        return np.empty((0, 3)), _no_faces()
    triangles = np.array(faces, np.int64).reshape(-1, 3)
    return _checked(np.array(vertices, float).reshape(-1, 3), triangles)


def _checked(vertices: FloatArray, faces: Indices) -> MeshParts:
    faces = faces.reshape(-1, 3)
    if len(faces) and not 0 <= faces.min() <= faces.max() < len(vertices):
        raise ValueError("a face names a vertex that is not there")
    return vertices, faces


def _stl(content: bytes) -> MeshParts:
    count = int(np.frombuffer(content[80:84], "<u4")[0]) if len(content) >= 84 else -1
    if len(content) == 84 + 50 * count:
        kind = np.dtype([("n", "<f4", 3), ("v", "<f4", (3, 3)), ("a", "<u2")])
        corners = np.frombuffer(content[84:], kind)["v"].astype(float).reshape(-1, 3)
    else:
        text = content.decode("ascii", "replace")
        found = re.findall(r"vertex\s+(\S+)\s+(\S+)\s+(\S+)", text)
        corners = np.array(found, dtype=float).reshape(-1, 3)
        corners = corners[: len(corners) // 3 * 3]
    return _checked(corners, np.arange(len(corners)))


def _ply(content: bytes) -> MeshParts:
    head, mark, body = content.partition(b"end_header\n")
    if not mark:
        head, mark, body = content.partition(b"end_header\r\n")
    if not head.startswith(b"ply") or not mark:
        raise ValueError("no header")
    encoding, elements = _ply_header(head.decode("ascii"))
    if encoding == "ascii":
        return _ply_text(body.decode("ascii", "replace"), elements)
    return _ply_binary(body, elements, "<" if "little" in encoding else ">")


Elements = list[tuple[str, int, list[list[str]]]]
"""Name, count and properties of each element, in the file's order."""


def _ply_header(head: str) -> tuple[str, Elements]:
    encoding, elements = "", Elements()
    for line in head.splitlines():
        match line.split():
            case ["format", word, *_]:
                encoding = word
            case ["element", name, count]:
                elements.append((name, int(count), []))
            case ["property", *words] if elements:
                elements[-1][2].append(words)
    return encoding, elements


def _ply_text(body: str, elements: Elements) -> MeshParts:
    rows = iter(line.split() for line in body.splitlines() if line.strip())
    vertices, faces = np.empty((0, 3)), _no_faces()
    for name, count, properties in elements:
        taken = [row for _, row in zip(range(count), rows, strict=False)]
        if len(taken) < count:
            raise ValueError("the file ends early")
        if name == "vertex":
            names = [words[-1] for words in properties]
            places = [names.index(axis) for axis in "xyz"]
            vertices = np.array([[float(row[k]) for k in places] for row in taken])
        elif name == "face":
            corners = [[int(field) for field in row[1 : 1 + int(row[0])]] for row in taken]
            fans = [(f[0], b, c) for f in corners for b, c in pairwise(f[1:])]
            faces = np.array(fans, np.int64)
    return _checked(vertices.reshape(-1, 3), faces)


def _ply_binary(body: bytes, elements: Elements, order: str) -> MeshParts:
    vertices, faces, at = np.empty((0, 3)), _no_faces(), 0
    for name, count, properties in elements:
        if name == "face":
            faces = _binary_faces(body[at:], count, properties, order)
            break
        kinds = [(words[-1], order + PLY_TYPES[words[0]]) for words in properties]
        kind = np.dtype(kinds)
        size = count * kind.itemsize
        if not 0 <= size <= len(body) - at:
            raise ValueError("the file ends early")
        rows = np.frombuffer(body, kind, count, at)
        at += size
        if name == "vertex":
            vertices = np.stack([rows[axis].astype(float) for axis in "xyz"], axis=1)
    return _checked(vertices, faces)


def _binary_faces(body: bytes, count: int, properties: list[list[str]], order: str) -> Indices:
    """Triangles of a list property; faces of other kinds are left out, their corners stay."""
    match properties:
        case [["list", number, index, _]]:
            kind = np.dtype(
                [("n", order + PLY_TYPES[number]), ("v", order + PLY_TYPES[index], 3)]
            )
            if count * kind.itemsize == len(body):
                return np.asarray(np.frombuffer(body, kind, count)["v"].astype(np.int64))
    return _no_faces()


READERS: MappingProxyType[str, Callable[[bytes], MeshParts]] = MappingProxyType(
    {
        **dict.fromkeys(("xyz", "txt", "csv", "asc", "pts"), _xyz),
        "ply": _ply,
        "obj": _obj,
        "stl": _stl,
    }
)
