"""The integrals below a plane with numpy alone, where loops are not compiled."""

import numpy as np

from hullchange.floating.mesh import Corners, Mesh
from hullchange.geometry.frame import FloatArray, IntArray, cross

# the six products of a symmetric 3 x 3, in the order they are returned
ROWS = np.array([0, 1, 2, 0, 0, 1])
COLUMNS = np.array([0, 1, 2, 1, 2, 2])

MARGIN = 1e-9
"""[m] A block as close to the plane as this is looked into; changes no result."""


def moments(mesh: Mesh, up: FloatArray, offset: float) -> FloatArray:
    """(15,) integrals, as ``hullchange.floating.descent.block_pass`` returns them.

    Args:
        mesh: arrays of a closed surface.
        up: (3,) unit vector.
        offset: [m] of the plane along ``up``, from the mesh's centre.
    """
    vertices, faces, _, starts, sums, boxes, _, _ = mesh
    height = boxes[:, :3] @ up - offset
    reach = boxes[:, 3:] @ np.abs(up) + MARGIN
    reference = up * offset
    out = _whole_blocks((height < -reach).astype(np.float64) @ sums, reference)
    opened = np.repeat(np.abs(height) <= reach, np.diff(starts))
    _add_faces(out, vertices - reference, faces[opened], up)
    return out


def _whole_blocks(sums: FloatArray, reference: FloatArray) -> FloatArray:
    out = np.zeros(15)
    six_volume = sums[0] - reference @ sums[1:4]
    out[0] = six_volume / 6.0
    first = sums[4:7] - sums[7:16].reshape(3, 3) @ reference - 3.0 * reference * six_volume
    out[1:4] = first / 24.0
    out[14] = sums[16]
    return out


def _add_faces(out: FloatArray, vertices: FloatArray, faces: Corners, up: FloatArray) -> None:
    heights = vertices @ up
    wet = (heights < 0.0)[faces]
    wet_corners = wet.sum(axis=1)
    whole = vertices[faces[wet_corners == 3]]
    _add_tetrahedra(out, whole[:, 0], whole[:, 1], whole[:, 2])
    cut = (wet_corners == 1) | (wet_corners == 2)
    if cut.any():
        one = wet_corners[cut] == 1
        lone = np.where(one, np.argmax(wet[cut], axis=1), np.argmin(wet[cut], axis=1))
        turns = (lone[:, None] + np.arange(3)) % 3
        corners = np.take_along_axis(faces[cut], turns, axis=1)
        _add_cut_faces(out, vertices[corners], heights[corners], one, up)


def _add_cut_faces(
    out: FloatArray, corners: FloatArray, heights: FloatArray, one: IntArray, up: FloatArray
) -> None:
    """Adds faces whose first corner is alone on its side; ``one`` where it is the wet one."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    part = heights[:, :1] / (heights[:, :1] - heights[:, 1:])
    p = a + (b - a) * part[:, :1]
    q = a + (c - a) * part[:, 1:]
    two = ~one
    _add_tetrahedra(out, a[one], p[one], q[one])
    _add_tetrahedra(out, p[two], b[two], c[two])
    _add_tetrahedra(out, p[two], c[two], q[two])
    _add_edges(out, np.where(one[:, None], p, q), np.where(one[:, None], q, p), up)


def _add_tetrahedra(out: FloatArray, a: FloatArray, b: FloatArray, c: FloatArray) -> None:
    square = cross(b - a, c - a)
    six_volumes = np.einsum("ij,ij->i", a, square)
    out[0] += six_volumes.sum() / 6.0
    out[1:4] += six_volumes @ (a + b + c) / 24.0
    out[14] += np.sqrt(np.einsum("ij,ij->i", square, square)).sum() / 2.0


def _add_edges(out: FloatArray, p: FloatArray, q: FloatArray, up: FloatArray) -> None:
    """Adds the waterplane by its edges, which run from q to p (Green)."""
    double_areas = cross(q, p) @ up
    out[4] = double_areas.sum() / 2.0
    out[5:8] = double_areas @ (p + q) / 6.0
    i, j = ROWS, COLUMNS
    products = (p[:, i] + q[:, i]) * (p[:, j] + q[:, j]) + p[:, i] * p[:, j] + q[:, i] * q[:, j]
    out[8:14] = double_areas @ products / 24.0
