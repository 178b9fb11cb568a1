"""Normals for drawing: smooth over the curve of a plate, broken at its edges."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from hullchange.geometry.frame import FloatArray, IntArray, cross

SHARP_DEG = 16.0
"""Neighbours that turn by more than this meet in an edge; at 30 a wedge of false light lay on
the bow where a chine fades out."""

Numbers = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Shaded:
    """A surface ready to be drawn.

    Attributes:
        vertices: (n, 3) [m]; one stands once for each side of an edge.
        normals: (n, 3) unit vectors.
        faces: (m, 3).
    """

    vertices: FloatArray
    normals: FloatArray
    faces: IntArray


def shaded(surfaces: Sequence[tuple[FloatArray, IntArray]]) -> list[Shaded]:
    """Each surface with a normal at every corner; faces without area are left out.

    Corners that meet in a vertex share a normal as long as no sharp edge lies between them.
    All surfaces go through at once: a house of forty small plates costs as much as one.

    Args:
        surfaces: vertices (n, 3) [m] and faces (m, 3), counter-clockwise seen from outside.
    """
    if not surfaces:
        return []
    starts = np.cumsum([0, *(len(vertices) for vertices, _ in surfaces)])
    vertices = np.vstack([vertices for vertices, _ in surfaces])
    faces = np.vstack(
        [faces + start for (_, faces), start in zip(surfaces, starts[:-1], strict=True)]
    )
    areas = _twice_areas(vertices, faces)
    seen = np.einsum("ij,ij->i", areas, areas) > 0.0
    faces = faces[seen]
    whole = _shaded(vertices, faces, areas[seen])
    owner = np.searchsorted(starts, faces[:, 0], side="right") - 1
    cuts = np.searchsorted(owner, np.arange(len(starts)))
    return [_piece(whole, low, high) for low, high in pairwise(cuts.tolist())]


def _shaded(vertices: FloatArray, faces: IntArray, areas: FloatArray) -> Shaded:
    first, second, sharp = _neighbours(vertices, faces, areas)
    first, second = first[~sharp], second[~sharp]
    links = np.stack([np.r_[first, _next(first)], np.r_[_next(second), second]])
    corners = faces.size
    graph = coo_array((np.ones(links.shape[1]), (links[0], links[1])), (corners, corners))
    count, group = connected_components(graph, directed=False)
    at_corners = np.repeat(areas, 3, axis=0)
    summed = [np.bincount(group, way, count).astype(float) for way in at_corners.T]
    normals = np.stack(summed, axis=1)
    positions = np.zeros((count, 3))
    positions[group] = vertices[faces.ravel()]
    return Shaded(positions, _unit(normals), group.reshape(-1, 3).astype(np.int32))


def _piece(whole: Shaded, low: int, high: int) -> Shaded:
    """Faces low to high with their own vertices (groups are numbered as corners come)."""
    faces = whole.faces[low:high]
    if not len(faces):
        return Shaded(np.zeros((0, 3)), np.zeros((0, 3)), faces)
    first, last = int(faces.min()), int(faces.max()) + 1
    return Shaded(whole.vertices[first:last], whole.normals[first:last], faces - first)


def _neighbours(
    vertices: FloatArray, faces: IntArray, areas: FloatArray
) -> tuple[Numbers, Numbers, NDArray[np.bool_]]:
    """Pairs of opposite half edges (named by the corner they start at), and which are sharp."""
    start = faces.ravel().astype(np.int64)
    end = np.roll(faces, -1, axis=1).ravel().astype(np.int64)
    edge = np.minimum(start, end) * len(vertices) + np.maximum(start, end)
    order = np.argsort(edge, kind="stable")
    pair = np.flatnonzero(edge[order][1:] == edge[order][:-1])
    first, second = order[pair], order[pair + 1]
    opposite = start[first] == end[second]
    first, second = first[opposite], second[opposite]
    normals = _unit(areas)
    turn = np.einsum("ij,ij->i", normals[first // 3], normals[second // 3])
    return first, second, turn < np.cos(np.radians(SHARP_DEG))


def _next(corner: Numbers) -> Numbers:
    """The corner that follows in the same face."""
    return corner - corner % 3 + (corner + 1) % 3


def _twice_areas(vertices: FloatArray, faces: IntArray) -> FloatArray:
    a, b, c = (vertices[faces[:, k]] for k in range(3))
    return cross(b - a, c - a)


def _unit(vectors: FloatArray) -> FloatArray:
    """Unit vectors; one without length points up."""
    length = np.linalg.norm(vectors, axis=1, keepdims=True)
    up = np.array([0.0, 0.0, 1.0])
    return np.where(length > 0.0, vectors / np.where(length > 0.0, length, 1.0), up)
