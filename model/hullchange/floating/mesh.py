"""The bare arrays the kernels run over: faces in small blocks, each with its moments summed."""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from hullchange.cache import cached
from hullchange.geometry.frame import FloatArray, IntArray, cross
from hullchange.geometry.surface import Surface

Corners: TypeAlias = NDArray[np.uint32]

Mesh: TypeAlias = tuple[
    FloatArray, Corners, FloatArray, IntArray, FloatArray, FloatArray, FloatArray, float
]
"""Vertices (n, 3) about the centre; faces (m, 3), neighbours together; their areas (m,);
(k + 1,) where each block of faces starts; moments (k, 17) of whole blocks; (k, 6) centre and
half size of each block's box; centre (3,); radius of a ball about it that holds all. [m]

A plane cuts few blocks: the others are wet or dry as a whole, and are not looked into. The
centre keeps digits: about a far origin the sums would cancel."""

Tanks: TypeAlias = tuple[
    FloatArray,
    Corners,
    FloatArray,
    IntArray,
    FloatArray,
    FloatArray,
    FloatArray,
    IntArray,
    FloatArray,
]
"""The arrays of several meshes stacked, with their centres and radii (t, 4); (t + 1, 3) where
each one's vertices, faces and blocks start; (t, 2) volume of liquid and its density over the
water's."""

Case: TypeAlias = tuple[Mesh, Tanks, FloatArray, float, float]
"""Mesh of what floats; tanks; (4,) volume of water as heavy as the boat without her liquids and
its moment about the mesh's centre; unit of offset, a tenth of the beam [m]; 1.0 where heel is
free, 0.0 where it is held."""

State: TypeAlias = tuple[
    float, float, FloatArray, FloatArray, FloatArray, FloatArray, FloatArray
]
"""Energy; residual; slope (3,) and second derivatives (3, 3) by offset in its unit, heel and
trim; integrals (15,); weight (4,) with the liquids as they lie; second moments (3, 3) of the
liquids' surfaces times their density over the water's."""

BLOCK = 24
TENTHS = 10.0
MESHES = 256
"""As many as are held: a boat has some ten, and each well filled or house dragged a new one."""


def mesh_of(surface: Surface, centre: FloatArray | None = None) -> Mesh:
    """The arrays of a surface, made once for the same geometry.

    Args:
        surface: closed.
        centre: (3,) [m] what coordinates are counted from; its own box's centre by default.
    """
    return _mesh(surface, surface.bounds.mean(axis=0) if centre is None else centre)


@cached(MESHES)
def _mesh(surface: Surface, centre: FloatArray) -> Mesh:
    return _arrays(surface.vertices - centre, surface.faces, centre)


def merged(meshes: list[Mesh], adds: list[bool]) -> Mesh:
    """One mesh of several about the same centre; those that take are turned inside out."""
    signs = [1.0 if add else -1.0 for add in adds]
    vertex_starts = np.cumsum([0, *(len(m[0]) for m in meshes)]).astype(np.uint32)
    face_starts = np.cumsum([0, *(len(m[1]) for m in meshes)]).astype(np.int32)
    taken = [m[1] if add else m[1][:, ::-1] for m, add in zip(meshes, adds, strict=True)]
    return (
        np.concatenate([m[0] for m in meshes]),
        np.concatenate([f + s for f, s in zip(taken, vertex_starts, strict=False)]),
        np.concatenate([m[2] for m in meshes]),
        np.concatenate(
            [m[3][:-1] + s for m, s in zip(meshes, face_starts, strict=False)]
            + [face_starts[-1:]]
        ),
        np.concatenate([m[4] * _signed(s) for m, s in zip(meshes, signs, strict=True)]),
        np.concatenate([m[5] for m in meshes]),
        meshes[0][6],
        max(m[7] for m in meshes),
    )


def stacked(meshes: list[Mesh], liquids: list[tuple[float, float]]) -> Tanks:
    """Several meshes one after the other, each with its own centre and indices.

    Args:
        meshes: one per tank.
        liquids: volume [m^3] of the liquid and its density over the water's, one per tank.
    """
    counts = [(len(m[0]), len(m[1]), len(m[4])) for m in meshes]
    nothing = _arrays(np.zeros((0, 3)), np.zeros((0, 3), np.int32), np.zeros(3))
    stack = [np.concatenate([part[k] for part in (nothing, *meshes)]) for k in (0, 1, 2, 4, 5)]
    starts = np.concatenate([np.zeros(0, np.int32), *(m[3] for m in meshes)])
    first = np.vstack([np.zeros((1, 3)), np.cumsum(np.array(counts).reshape(-1, 3), axis=0)])
    return (
        stack[0],
        stack[1],
        stack[2],
        starts,
        stack[3],
        stack[4],
        np.array([[*m[6], m[7]] for m in meshes]).reshape(-1, 4),
        first.astype(np.int32),
        np.array(liquids).reshape(-1, 2),
    )


def _signed(sign: float) -> FloatArray:
    return np.array([sign] * 16 + [1.0])


def _arrays(vertices: FloatArray, faces: IntArray, centre: FloatArray) -> Mesh:
    if not len(faces):
        vertices = np.zeros((0, 3))
        none = np.zeros(0), np.zeros(1, np.int32), np.zeros((0, 17)), np.zeros((0, 6))
        return vertices, np.zeros((0, 3), np.uint32), *none, centre, 0.0
    sums = vertices[faces[:, 0]] + vertices[faces[:, 1]] + vertices[faces[:, 2]]
    sorted_faces = faces[_neighbours_together(sums)]
    starts = np.arange(0, len(faces), BLOCK, dtype=np.int32)
    a, b, c = (vertices[sorted_faces[:, k]] for k in range(3))
    low = np.minimum.reduceat(np.minimum(np.minimum(a, b), c), starts)
    high = np.maximum.reduceat(np.maximum(np.maximum(a, b), c), starts)
    moments = _moments_of_faces(a, b, c)
    return (
        vertices,
        sorted_faces.astype(np.uint32),
        moments[:, 16].copy(),
        np.append(starts, np.int32(len(faces))),
        np.add.reduceat(moments, starts, axis=0),
        np.hstack([(low + high) / 2.0, (high - low) / 2.0]),
        centre,
        # rounded up: the ball must hold the outermost corner
        1.0001 * float(np.sqrt((vertices * vertices).sum(axis=1).max())),
    )


def _neighbours_together(middles: FloatArray) -> IntArray:
    """Order of points (m, 3) along a curve that fills space (Morton's)."""
    low = middles.min(axis=0)
    cells = (
        (middles - low) / max(float(np.ptp(middles, axis=0).max()), 1e-30) * 1023.0
    ).astype(np.int64)
    for shift, mask in ((16, 0x030000FF), (8, 0x0300F00F), (4, 0x030C30C3), (2, 0x09249249)):
        cells = (cells | (cells << shift)) & mask
    return np.argsort(cells @ np.array([1, 2, 4]), kind="stable").astype(np.int32)


def _moments_of_faces(a: FloatArray, b: FloatArray, c: FloatArray) -> FloatArray:
    """(m, 17) what a wet face of corners (m, 3) gives, for any reference point later.

    Six times its volume under the centre, twice its area vector, that volume times the sum of
    the corners, that sum times the area vector, its area.
    """
    square = cross(b - a, c - a)
    six_volumes = np.einsum("ij,ij->i", a, square)[:, None]
    corner_sum = a + b + c
    mixed = (corner_sum[:, :, None] * square[:, None, :]).reshape(-1, 9)
    areas = np.sqrt(np.einsum("ij,ij->i", square, square))[:, None] / 2.0
    return np.hstack([six_volumes, square, six_volumes * corner_sum, mixed, areas])
