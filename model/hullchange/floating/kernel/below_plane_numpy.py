"""The integrals below a plane with numpy alone, where loops are not compiled."""

from typing import TypeAlias

import numpy as np

from hullchange.floating.kernel.shapes import (
    AREA,
    AREA_VECTOR,
    COLUMNS,
    HALF_SIZE,
    MIDDLE,
    MIXED,
    MOMENT,
    ROWS,
    SIX_VOLUME,
    Corners,
    Integrals,
    Mesh,
    Vector,
)
from hullchange.geometry.frame import FloatArray, IntArray, cross

MARGIN = 1e-9
"""[m] A block as near to the plane as this is looked into, so that round-off of its box (1e-14
for a boat of a hundred metres) hides no face. It changes no result."""

Volume: TypeAlias = tuple[float, FloatArray, float]
"""[m^3], first moments (3,) [m^4] and area of the faces [m^2] of a share of what is wet."""


def integrals(mesh: Mesh, up: Vector, offset: float) -> Integrals:
    """The integrals, as ``hullchange.floating.kernel.below_plane`` has them.

    Args:
        mesh: a closed surface.
        up: unit vector.
        offset: [m] of the plane along ``up``, from the mesh's centre.
    """
    direction, boxes, starts = np.array(up), mesh.block_boxes, mesh.block_starts
    height = boxes[:, MIDDLE] @ direction - offset
    reach = boxes[:, HALF_SIZE] @ np.abs(direction) + MARGIN
    reference = direction * offset
    whole = _whole_blocks((height < -reach).astype(np.float64) @ mesh.block_sums, reference)
    opened = np.repeat(np.abs(height) <= reach, np.diff(starts))
    faces = mesh.faces[starts[0] : starts[-1]][opened]
    return _with_faces(whole, mesh.vertices - reference, faces, direction)


def _whole_blocks(sums: FloatArray, reference: FloatArray) -> Volume:
    """Blocks that are wet as a whole, from their sums (17,)."""
    six_volume = sums[SIX_VOLUME] - reference @ sums[AREA_VECTOR : AREA_VECTOR + 3]
    mixed = sums[MIXED:AREA].reshape(3, 3)
    first = sums[MOMENT : MOMENT + 3] - mixed @ reference - 3.0 * reference * six_volume
    return six_volume / 6.0, first / 24.0, sums[AREA]


def _with_faces(
    whole: Volume, vertices: FloatArray, faces: Corners, up: FloatArray
) -> Integrals:
    """The integrals of whole blocks and of faces (m, 3), each looked at by itself."""
    heights = vertices @ up
    wet = (heights < 0.0)[faces]
    wet_corners = wet.sum(axis=1)
    corners = vertices[faces[wet_corners == 3]]
    volume = _plus(whole, corners[:, 0], corners[:, 1], corners[:, 2])
    cut = (wet_corners == 1) | (wet_corners == 2)
    if not cut.any():
        return _integrals(volume, np.zeros(0), np.zeros((0, 3)), np.zeros((0, 3)))
    one = wet_corners[cut] == 1
    lone = np.where(one, np.argmax(wet[cut], axis=1), np.argmin(wet[cut], axis=1))
    turns = (lone[:, None] + np.arange(3)) % 3
    numbers = np.take_along_axis(faces[cut], turns, axis=1)
    return _with_cut_faces(volume, vertices[numbers], heights[numbers], one, up)


def _with_cut_faces(
    volume: Volume, corners: FloatArray, heights: FloatArray, one: IntArray, up: FloatArray
) -> Integrals:
    """Faces whose first corner is alone on its side; ``one`` where it is the wet one."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    part = heights[:, :1] / (heights[:, :1] - heights[:, 1:])
    p = a + (b - a) * part[:, :1]
    q = a + (c - a) * part[:, 1:]
    two = ~one
    volume = _plus(volume, a[one], p[one], q[one])
    volume = _plus(volume, p[two], b[two], c[two])
    volume = _plus(volume, p[two], c[two], q[two])
    ends, starts = np.where(one[:, None], p, q), np.where(one[:, None], q, p)
    return _integrals(volume, cross(starts, ends) @ up, ends, starts)


def _plus(volume: Volume, a: FloatArray, b: FloatArray, c: FloatArray) -> Volume:
    """With the tetrahedra between the reference point and faces of corners (m, 3)."""
    normals = cross(b - a, c - a)
    six_volumes = np.einsum("ij,ij->i", a, normals)
    areas = np.sqrt(np.einsum("ij,ij->i", normals, normals))
    return (
        volume[0] + six_volumes.sum() / 6.0,
        volume[1] + six_volumes @ (a + b + c) / 24.0,
        volume[2] + areas.sum() / 2.0,
    )


def _integrals(
    volume: Volume, double_areas: FloatArray, p: FloatArray, q: FloatArray
) -> Integrals:
    """The waterplane by its edges (m, 3), which run from q to p (Green), and the volume."""
    i, j = ROWS, COLUMNS
    products = (p[:, i] + q[:, i]) * (p[:, j] + q[:, j]) + p[:, i] * p[:, j] + q[:, i] * q[:, j]
    x, y, z = volume[1].tolist()
    ax, ay, az = (double_areas @ (p + q) / 6.0).tolist()
    xx, yy, zz, xy, xz, yz = (double_areas @ products / 24.0).tolist()
    return Integrals(
        float(volume[0]),
        (x, y, z),
        float(double_areas.sum() / 2.0),
        (ax, ay, az),
        (xx, yy, zz, xy, xz, yz),
        float(volume[2]),
    )
