"""The arrays of surfaces that the kernel runs over: faces in small blocks of neighbours."""

import numpy as np
from numpy.typing import NDArray

from hullchange.cache import cached
from hullchange.floating.kernel.shapes import AREA, Mesh, Tanks
from hullchange.geometry.frame import FloatArray, IntArray, cross
from hullchange.geometry.surface import Surface

BLOCK = 24
"""Faces of a block. Passes over 5 000, 20 000 and 200 000 faces were quickest with 12, 16 and
32, by five to ten per cent."""

ROUNDED_UP = 1.0001
"""The ball about a mesh must hold the outermost corner, whatever is rounded on the way."""

CELLS = 1023.0
"""Cells along the longest side of the grid that faces are sorted by: ten bits for each axis."""

MESHES = 256
"""As many as are held: a boat has some ten, and each well filled or house dragged a new one."""


def mesh_of(surface: Surface, centre: FloatArray | None = None) -> Mesh:
    """The arrays of a surface, made once for the same geometry.

    Args:
        surface: closed.
        centre: (3,) [m] what coordinates are counted from; its own box's centre by default.
    """
    return _about(surface, surface.bounds.mean(axis=0) if centre is None else centre)


@cached(MESHES)
def _about(surface: Surface, centre: FloatArray) -> Mesh:
    return _mesh(surface.vertices - centre, surface.faces, centre)


def merged(meshes: list[Mesh], adds: list[bool]) -> Mesh:
    """One mesh of several.

    Args:
        meshes: one at least. Corners stay as they are; the centre is the first one's.
        adds: of each, whether it adds its volume; what takes is turned inside out.
    """
    vertex_starts = _starts([len(mesh.vertices) for mesh in meshes]).astype(np.uint32)
    face_starts = _starts([len(mesh.faces) for mesh in meshes]).astype(np.int32)
    faces = [
        mesh.faces if add else mesh.faces[:, ::-1]
        for mesh, add in zip(meshes, adds, strict=True)
    ]
    starts = [
        mesh.block_starts[:-1] + first for mesh, first in zip(meshes, face_starts, strict=False)
    ]
    return Mesh(
        np.concatenate([mesh.vertices for mesh in meshes]),
        np.concatenate([own + first for own, first in zip(faces, vertex_starts, strict=False)]),
        np.concatenate([mesh.areas for mesh in meshes]),
        np.concatenate([*starts, face_starts[-1:]]),
        np.concatenate(
            [mesh.block_sums * _signs(add) for mesh, add in zip(meshes, adds, strict=True)]
        ),
        np.concatenate([mesh.block_boxes for mesh in meshes]),
        meshes[0].centre,
        max(mesh.radius for mesh in meshes),
    )


def stacked(meshes: list[Mesh], liquids: list[tuple[float, float]]) -> Tanks:
    """Several tanks in one set of arrays, each about its own centre.

    Args:
        meshes: one per tank.
        liquids: volume [m^3] of the liquid and its density over the water's, one per tank.
    """
    nothing = _mesh(np.zeros((0, 3)), np.zeros((0, 3), np.int32), np.zeros(3))
    volumes, densities = np.array(liquids).reshape(-1, 2).T.copy()
    return Tanks(
        merged([nothing, *meshes], [True] * (1 + len(meshes))),
        _starts([len(mesh.block_sums) for mesh in meshes]),
        np.array([mesh.centre for mesh in meshes]).reshape(-1, 3),
        np.array([mesh.radius for mesh in meshes]),
        volumes,
        densities,
    )


def _starts(counts: list[int]) -> NDArray[np.int64]:
    """(n + 1,) where each of n begins, and where the last one ends."""
    return np.cumsum([0, *counts])


def _signs(add: bool) -> FloatArray:
    """(17,) of block sums: of a surface turned inside out all change but the area."""
    return np.append(np.full(AREA, 1.0 if add else -1.0), 1.0)


def _mesh(vertices: FloatArray, faces: IntArray, centre: FloatArray) -> Mesh:
    """The arrays of corners (n, 3) [m] about a centre (3,) [m], and faces (m, 3)."""
    x, y, z = centre.tolist()
    if not len(faces):
        none = np.zeros(0), np.zeros(1, np.int32), np.zeros((0, 17)), np.zeros((0, 2, 3))
        no_faces = np.zeros((0, 3), np.uint32)
        return Mesh(np.zeros((0, 3)), no_faces, *none, (x, y, z), 0.0)
    sums = vertices[faces[:, 0]] + vertices[faces[:, 1]] + vertices[faces[:, 2]]
    sorted_faces = faces[_neighbours_together(sums)]
    starts = np.arange(0, len(faces), BLOCK, dtype=np.int32)
    a, b, c = (vertices[sorted_faces[:, k]] for k in range(3))
    low = np.minimum.reduceat(np.minimum(np.minimum(a, b), c), starts)
    high = np.maximum.reduceat(np.maximum(np.maximum(a, b), c), starts)
    moments = _moments_of_faces(a, b, c)
    return Mesh(
        vertices,
        sorted_faces.astype(np.uint32),
        moments[:, AREA].copy(),
        np.append(starts, np.int32(len(faces))),
        np.add.reduceat(moments, starts, axis=0),
        np.stack([(low + high) / 2.0, (high - low) / 2.0], axis=1),
        (x, y, z),
        ROUNDED_UP * float(np.sqrt((vertices * vertices).sum(axis=1).max())),
    )


def _neighbours_together(middles: FloatArray) -> IntArray:
    """Order of points (m, 3) along a curve that fills space (Morton's)."""
    low = middles.min(axis=0)
    longest = max(float(np.ptp(middles, axis=0).max()), 1e-30)  # of a single face it is none
    cells = ((middles - low) / longest * CELLS).astype(np.int64)
    for shift, mask in ((16, 0x030000FF), (8, 0x0300F00F), (4, 0x030C30C3), (2, 0x09249249)):
        cells = (cells | (cells << shift)) & mask
    return np.argsort(cells @ np.array([1, 2, 4]), kind="stable").astype(np.int32)


def _moments_of_faces(a: FloatArray, b: FloatArray, c: FloatArray) -> FloatArray:
    """(m, 17) what faces of corners (m, 3) [m] add to `Mesh.block_sums` where they are wet."""
    normals = cross(b - a, c - a)
    six_volumes = np.einsum("ij,ij->i", a, normals)[:, None]
    corner_sum = a + b + c
    mixed = (corner_sum[:, :, None] * normals[:, None, :]).reshape(-1, 9)
    areas = np.sqrt(np.einsum("ij,ij->i", normals, normals))[:, None] / 2.0
    return np.hstack([six_volumes, normals, six_volumes * corner_sum, mixed, areas])
