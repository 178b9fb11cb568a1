"""Closed triangulated surfaces: refused where they are not closed, weighed, cut by one another.

The only module that knows trimesh and manifold3d.
"""

import atexit
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256

import manifold3d
import numpy as np

from hullchange.cache import cached
from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray, IntArray, cross


@dataclass(frozen=True)
class MassProperties:
    """Volume [m^3], mass [kg] and centroid (3,) [m] of a body."""

    volume: float
    mass: float
    centroid: tuple[float, float, float]

    def mirrored(self) -> "MassProperties":
        """The same body on the other side of the centreline."""
        x, y, z = self.centroid
        return MassProperties(self.volume, self.mass, (x, -y, z))


@dataclass(frozen=True, eq=False)
class Surface:
    """A closed surface, faces counter-clockwise seen from outside.

    Attributes:
        vertices: (n, 3) float64 [m], read-only.
        faces: (m, 3) int32, read-only.
    """

    vertices: FloatArray
    faces: IntArray

    @classmethod
    def closed(cls, vertices: FloatArray, faces: IntArray, name: str) -> "Surface":
        """A surface that has been checked.

        Args:
            vertices: (n, 3) [m].
            faces: (m, 3) vertex indices.
            name: what it is called in a refusal.

        Raises:
            ModelError: ``open-surface`` where an edge has no opposite; ``inside-out`` where
                the enclosed volume is not positive.
        """
        surface = cls.unchecked(vertices, faces)
        require_closed(surface, name)
        return surface

    @classmethod
    def unchecked(cls, vertices: FloatArray, faces: IntArray) -> "Surface":
        """A surface without the checks, where it is closed by construction and tested so.

        Args:
            vertices: (n, 3) [m].
            faces: (m, 3) vertex indices.
        """
        points = np.ascontiguousarray(vertices, dtype=np.float64)
        corners = np.ascontiguousarray(faces, dtype=np.int32)
        points.flags.writeable = False
        corners.flags.writeable = False
        return cls(points, corners)

    @cached_property
    def key(self) -> str:
        """Hash of the geometry; equal keys, equal surfaces."""
        return sha256(self.vertices.tobytes() + self.faces.tobytes()).hexdigest()

    @cached_property
    def bounds(self) -> FloatArray:
        """(2, 3) smallest and largest coordinates [m]."""
        return np.array([self.vertices.min(axis=0), self.vertices.max(axis=0)])

    @cached_property
    def volume(self) -> float:
        """Enclosed volume [m^3]."""
        if not len(self.faces):
            return 0.0
        # about a point near by: far from the origin the tetrahedra cancel to noise
        a, b, c = np.moveaxis(self.vertices[self.faces] - self.vertices[0], 1, 0)
        return float(np.einsum("ij,ij->", a, cross(b, c)) / 6.0)

    def mirrored(self) -> "Surface":
        """The same body on the other side of the centreline."""
        return Surface.unchecked(
            self.vertices * np.array([1.0, -1.0, 1.0]), self.faces[:, ::-1]
        )


def joined(surfaces: tuple[Surface, ...]) -> Surface:
    """Several separate bodies as one surface (they keep their own vertices)."""
    starts = np.cumsum([0, *(len(s.vertices) for s in surfaces)])
    return Surface.unchecked(
        np.vstack([s.vertices for s in surfaces]),
        np.vstack([s.faces + start for s, start in zip(surfaces, starts, strict=False)]),
    )


def require_closed(surface: Surface, name: str) -> None:
    """Refuse unless every edge is used twice, in opposite directions, and volume is positive.

    Raises:
        ModelError: ``open-surface`` or ``inside-out``.
    """
    loose = _loose_edges(surface.faces.tobytes(), len(surface.vertices))
    if loose is not None:
        sentence = (
            f"The surface of {name} is not closed: {loose} edges belong to one face only."
        )
        raise ModelError("open-surface", sentence)
    if surface.volume <= 0.0:
        sentence = f"The surface of {name} is inside out: its faces must point outwards."
        raise ModelError("inside-out", sentence)


@cached(64)
def _loose_edges(faces: bytes, count: int) -> int | None:
    """Number of edges without their opposite; None where the faces are closed.

    Kept, because a dimension that is dragged moves vertices and leaves the faces.
    """
    corners = np.frombuffer(faces, np.int32).reshape(-1, 3).astype(np.int64)
    start = corners.ravel()
    end = np.roll(corners, -1, axis=1).ravel()
    forward = np.sort(start * count + end)
    backward = np.sort(end * count + start)
    if np.array_equal(forward, backward) and not (forward[1:] == forward[:-1]).any():
        return None
    return len(np.setxor1d(forward, backward))


def mass_properties(surface: Surface, density: float) -> MassProperties:
    """Volume, mass and centroid of a body by trimesh.

    Args:
        surface: closed; several separate bodies are weighed together.
        density: [kg/m^3].

    Raises:
        ModelError: ``open-surface`` or ``inside-out``, as `require_closed`, which is asked
            because trimesh's own question takes five times as long.
    """
    from trimesh.triangles import mass_properties  # slow to load: for those who weigh

    require_closed(surface, "a plate")
    triangles = surface.vertices[surface.faces]
    found = mass_properties(triangles, density=density, skip_inertia=True)
    x, y, z = found.center_mass.tolist()
    return MassProperties(float(found.volume), float(found.mass), (x, y, z))


def difference(body: Surface, tool: Surface) -> Surface:
    """The part of ``body`` outside ``tool``; with no faces where nothing is left."""
    cutter = _tool_of(tool)  # first: how faces are divided depends on which body is older
    return _surface_of(_manifold_of(body) - cutter)


def intersection(body: Surface, tool: Surface) -> Surface:
    """The part of ``body`` inside ``tool``; with no faces where nothing is left."""
    cutter = _tool_of(tool)
    return _surface_of(_manifold_of(body) ^ cutter)


def common_volumes(
    surfaces: Sequence[Surface], pairs: Iterable[tuple[int, int]]
) -> Iterator[tuple[tuple[int, int], tuple[Surface, ...]]]:
    """The volumes that pairs of bodies, by number, have in common, piece by piece."""
    made: dict[int, manifold3d.Manifold] = {}
    for pair in pairs:
        for k in pair:
            if k not in made:
                made[k] = _manifold_of(surfaces[k])
        common = made[pair[0]] ^ made[pair[1]]
        if not common.is_empty():
            yield pair, tuple(_surface_of(piece) for piece in common.decompose())


def union(first: Surface, second: Surface) -> Surface:
    """Both bodies as one body."""
    return _surface_of(_manifold_of(first) + _manifold_of(second))


def flat_triangles(rings: Sequence[FloatArray]) -> IntArray:
    """(m, 3) counter-clockwise triangles of the flat region to the left of some loops.

    Args:
        rings: (n, 2) points [m] of each loop, holes clockwise. The triangles number the points
            one ring after the other, use every point and add none.
    """
    return np.asarray(manifold3d.triangulate(list(rings)), np.int32)


def prism(outline: FloatArray, low: float, high: float) -> Surface:
    """An upright body of one plan all the way up.

    Args:
        outline: (n, 2) plan [m], in order round it.
        low: height of its bottom [m].
        high: height of its top [m].

    Raises:
        ModelError: ``not-a-volume`` where the plan encloses no area.
    """
    body = manifold3d.CrossSection([outline], manifold3d.FillRule.NonZero).extrude(high - low)
    turned = manifold3d.CrossSection([outline[::-1]], manifold3d.FillRule.NonZero)
    body = body if body.volume() > 0.0 else turned.extrude(high - low)
    if body.volume() <= 0.0:
        raise ModelError("not-a-volume", "A plan outline without area encloses no volume.")
    return _surface_of(body.translate((0.0, 0.0, low)))


def box(low: FloatArray, high: FloatArray) -> Surface:
    """An upright box between two corners (3,) [m]."""
    return _surface_of(manifold3d.Manifold.cube(high - low).translate(low))


def _manifold_of(surface: Surface) -> manifold3d.Manifold:
    # the binding takes writable arrays only
    mesh = manifold3d.Mesh64(surface.vertices.copy(), surface.faces.astype(np.uint64))
    body = manifold3d.Manifold(mesh)
    if body.status() != manifold3d.Error.NoError:
        sentence = "A body cannot be cut: its surface is open or crosses itself."
        raise ModelError("not-a-volume", sentence)
    return body


@cached(16)
def _tool_of(surface: Surface) -> manifold3d.Manifold:
    """A tool, which cuts one body after the other while a dimension is dragged."""
    return _manifold_of(surface)


atexit.register(_tool_of.answers.forget)  # manifold3d must not outlive the interpreter


def _surface_of(body: manifold3d.Manifold) -> Surface:
    mesh = body.to_mesh64()
    return Surface.unchecked(
        np.array(mesh.vert_properties[:, :3]), np.array(mesh.tri_verts, dtype=np.int32)
    )
