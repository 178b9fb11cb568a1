"""The refit as glTF: geometry and names, no colours; those travel apart as numbers.

glTF's own axes appear here alone: one root node turns the boat's frame (x aft, y to starboard,
z up) into glTF's (X, Y, Z) = (x, z, -y).
"""

import json
import struct
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import pygltflib
from numpy.typing import NDArray

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray, IntArray
from hullchange.present.shading import Shaded, shaded

BOAT_TO_GLTF = [-0.70710678, 0.0, 0.0, 0.70710678]
ROOT = "Boat"  # ids are lower case, so no part can be called so
VERTICES, INDICES = 0, 1  # the two buffer views
GLB_MAGIC, GLTF_VERSION, HEADER_SIZE = 0x46546C67, 2, 12
JSON_CHUNK, BINARY_CHUNK = 0x4E4F534A, 0x004E4942
VECTOR_SIZE = 12
LARGEST_SHORT = np.iinfo(np.uint16).max


@dataclass(frozen=True, eq=False)
class Drawn:
    """One plate, or one whole body, to be drawn.

    Attributes:
        id: unique in the scene; equal to ``part`` for a part that is drawn in one piece.
        name: of its node, unique in the scene.
        part: id of the part it belongs to.
        vertices: (n, 3) [m] in the boat's frame.
        faces: (m, 3), counter-clockwise seen from outside.
        edges: (k, 2) vertices joined by lines, of what is not smooth.
        lines: (k, 2, 3) [m] other segments drawn as lines.
        smooth: whether light runs smoothly over its bends. Without it the file carries no
            normals, each face is lit by its own (glTF 2.0, section 3.7.2.1), and the drawing
            costs half: fine for plate, whose bends are parted into strips of a degree.
        material: a word the viewer knows what to do with.
        extras: what else its node carries.
    """

    id: str
    name: str
    part: str
    vertices: FloatArray
    faces: IntArray
    edges: IntArray | None = None
    lines: FloatArray | None = None
    smooth: bool = False
    material: str = "steel"
    extras: Mapping[str, str] = field(default_factory=dict)


def scene_glb(drawn: Sequence[Drawn], extras: Mapping[str, str] | None = None) -> bytes:
    """A binary glTF file: a root node, below it one node per part, below that its plates.

    The same drawing always gives the same bytes.

    Args:
        drawn: what there is to see.
        extras: the origin of the file, in the extras of its asset.

    Raises:
        ModelError: ``nothing-to-draw`` where there is no face.
    """
    visible = list(_visible(drawn))
    if not visible:
        raise ModelError("nothing-to-draw", "Nothing in this scene has a surface: add a part.")
    materials = list(dict.fromkeys(one.material for one, _ in visible))
    packing = _Packing()
    meshes = [packing.mesh(one, it, materials.index(one.material)) for one, it in visible]
    blob = packing.blob()
    gltf = pygltflib.GLTF2(
        asset=pygltflib.Asset(version="2.0", generator="hullchange", extras=dict(extras or {})),
        scene=0,
        scenes=[pygltflib.Scene(nodes=[0])],
        nodes=_nodes([one for one, _ in visible]),
        meshes=meshes,
        materials=[pygltflib.Material(name=word, doubleSided=True) for word in materials],
        accessors=packing.accessors,
        bufferViews=packing.views(),
        buffers=[pygltflib.Buffer(byteLength=len(blob))],
    )
    return _container(gltf, blob)


def _visible(drawn: Sequence[Drawn]) -> Iterator[tuple[Drawn, Drawn | Shaded]]:
    """Each that has a face with an area, and what is drawn of it."""
    smoothed = iter(shaded([(one.vertices, one.faces) for one in drawn if one.smooth]))
    for one in drawn:
        surface = next(smoothed) if one.smooth else one
        if len(surface.faces):
            yield one, surface


def _container(gltf: pygltflib.GLTF2, blob: bytes) -> bytes:
    """The file: a header, the JSON chunk and the binary chunk (glTF 2.0, section 4).

    pygltflib's own writer copies every object deeply on its way to JSON: four fifths of the
    time of a dragged part. Its objects are walked here instead; it reads the file in the tests.
    """
    text = json.dumps(gltf, default=_filled, separators=(",", ":")).encode()
    chunks = [
        struct.pack("<II", len(body), kind) + body
        for body, kind in (
            (text + b" " * (-len(text) % 4), JSON_CHUNK),
            (blob + bytes(-len(blob) % 4), BINARY_CHUNK),
        )
    ]
    size = HEADER_SIZE + sum(map(len, chunks))
    return struct.pack("<III", GLB_MAGIC, GLTF_VERSION, size) + b"".join(chunks)


def _filled(value: object) -> dict[str, object]:
    """The fields of a pygltflib object, without empty ones."""
    return {
        key: one
        for key, one in vars(value).items()
        if one is not None and (one or not isinstance(one, (list, dict)))
    }


class _Packing:
    """Arrays on their way into the file: one run of vectors, one of indices."""

    def __init__(self) -> None:
        self.accessors: list[pygltflib.Accessor] = []
        self._vectors: list[tuple[pygltflib.Accessor, NDArray[np.float32], bool]] = []
        self._indices: list[bytes] = []
        self._ends = [0, 0]

    def mesh(self, one: Drawn, surface: Drawn | Shaded, material: int) -> pygltflib.Mesh:
        """Triangles, with normals where they are smooth, and lines where there are any."""
        places = pygltflib.Attributes(POSITION=self._vector_run(surface.vertices))
        if isinstance(surface, Shaded):
            places.NORMAL = self._vector_run(surface.normals, are_places=False)
        count = len(surface.vertices)
        faces = self._index_run(surface.faces, count)
        primitives = [pygltflib.Primitive(attributes=places, indices=faces, material=material)]
        if one.edges is not None and isinstance(surface, Drawn):
            primitives.append(
                pygltflib.Primitive(
                    attributes=places,
                    indices=self._index_run(one.edges, count),
                    mode=pygltflib.LINES,
                )
            )
        if one.lines is not None:
            ends = pygltflib.Attributes(POSITION=self._vector_run(one.lines.reshape(-1, 3)))
            primitives.append(pygltflib.Primitive(attributes=ends, mode=pygltflib.LINES))
        return pygltflib.Mesh(primitives=primitives)

    def views(self) -> list[pygltflib.BufferView]:
        """Where the two runs lie in the blob."""
        vectors, indices = self._ends
        return [
            pygltflib.BufferView(
                buffer=0,
                byteLength=vectors,
                byteStride=VECTOR_SIZE,
                target=pygltflib.ARRAY_BUFFER,
            ),
            pygltflib.BufferView(
                buffer=0,
                byteOffset=vectors,
                byteLength=indices,
                target=pygltflib.ELEMENT_ARRAY_BUFFER,
            ),
        ]

    def blob(self) -> bytes:
        """Both runs, one after the other; positions carry their bounds."""
        vectors = np.concatenate([rows for _, rows, _ in self._vectors])
        starts = np.cumsum([0, *(len(rows) for _, rows, _ in self._vectors[:-1])])
        low, high = (f.reduceat(vectors, starts).tolist() for f in (np.minimum, np.maximum))
        for (accessor, _, are_places), least, most in zip(
            self._vectors, low, high, strict=True
        ):
            if are_places:
                accessor.min, accessor.max = least, most
        return b"".join([vectors.tobytes(), *self._indices])

    def _vector_run(self, rows: FloatArray, *, are_places: bool = True) -> int:
        single = rows.astype("<f4")
        index = self._added(VERTICES, single, pygltflib.FLOAT, pygltflib.VEC3)
        self._vectors.append((self.accessors[index], single, are_places))
        return index

    def _index_run(self, corners: IntArray, count: int) -> int:
        # the last number of a type restarts a strip, so it is no index
        if count <= LARGEST_SHORT:
            kind, component = "<u2", pygltflib.UNSIGNED_SHORT
        else:
            kind, component = "<u4", pygltflib.UNSIGNED_INT
        run = corners.ravel().astype(kind)
        padding = bytes(-run.nbytes % 4)
        index = self._added(INDICES, run, component, pygltflib.SCALAR, len(padding))
        self._indices.append(run.tobytes() + padding)
        return index

    def _added(
        self,
        view: int,
        run: NDArray[np.generic],
        component: int,
        kind: str,
        padding: int = 0,
    ) -> int:
        """Index of the accessor of a run put at the end of a view."""
        self.accessors.append(
            pygltflib.Accessor(
                bufferView=view,
                byteOffset=self._ends[view],
                componentType=component,
                count=len(run),
                type=kind,
            )
        )
        self._ends[view] += run.nbytes + padding
        return len(self.accessors) - 1


def _nodes(drawn: Sequence[Drawn]) -> list[pygltflib.Node]:
    """The tree; mesh numbers follow the order of what is drawn."""
    root = pygltflib.Node(name=ROOT, rotation=BOAT_TO_GLTF, children=[])
    nodes = [root]
    parts: dict[str, pygltflib.Node] = {}
    for mesh, one in enumerate(drawn):
        if one.part not in parts:
            belongs = {"id": one.part, "part": one.part}
            parts[one.part] = pygltflib.Node(name=one.part, extras=belongs)
            root.children.append(len(nodes))
            nodes.append(parts[one.part])
        node = parts[one.part]
        if one.id != one.part:
            node.children.append(len(nodes))
            node = pygltflib.Node()
            nodes.append(node)
        node.name, node.mesh = one.name, mesh
        node.extras = {**one.extras, "id": one.id, "part": one.part}
    names = [node.name for node in nodes]
    assert len(set(names)) == len(names), "two nodes share a name"
    return nodes
