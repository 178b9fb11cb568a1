"""What floats: closed bodies that add and closed bodies that take, none overlapping."""

from dataclasses import dataclass
from functools import cached_property, reduce
from hashlib import sha256

import numpy as np

from hullchange.cache import cached
from hullchange.errors import ModelError
from hullchange.floating.integrals import PlaneIntegrals, integrals_of
from hullchange.floating.kernel.shapes import SIX_VOLUME, Mesh
from hullchange.floating.mesh import merged, mesh_of
from hullchange.geometry.frame import FloatArray, WaterPlane
from hullchange.geometry.surface import Surface, box, difference, intersection, union
from hullchange.parts.part import Body

MARGIN = 0.25
"""[m] by which the piece of hull that a body is cut with reaches beyond it."""

GRID = 0.5
"""[m] to which that piece is rounded: a house dragged by less meets the same piece again."""


@dataclass(frozen=True, eq=False)
class Piece:
    """One closed body of what floats.

    Attributes:
        surface: closed; zero faces where nothing was left of it.
        adds: True where it adds its volume, False where it takes it away.
        id: what it belongs to.
    """

    surface: Surface
    adds: bool
    id: str

    @property
    def key(self) -> str:
        """Equal keys, equal pieces."""
        return f"{self.surface.key}{'+' if self.adds else '-'}{self.id}"


@dataclass(frozen=True, eq=False)
class Envelope:
    """The pieces that float together. They touch but never overlap: they are cut once, before.

    Attributes:
        pieces: the hull first.

    Raises:
        ModelError: ``no-volume`` where no piece has any faces.
    """

    pieces: tuple[Piece, ...]

    def __post_init__(self) -> None:
        if not any(len(piece.surface.faces) for piece in self.pieces):
            raise ModelError(
                "no-volume", "Nothing floats: hull and parts together enclose no volume."
            )

    @cached_property
    def mesh(self) -> Mesh:
        """Arrays of all pieces about the first one's centre: one pass answers for all."""
        solid = [piece for piece in self.pieces if len(piece.surface.faces)]
        centre = solid[0].surface.bounds.mean(axis=0)
        meshes = [mesh_of(piece.surface, centre) for piece in solid]
        return merged(meshes, [piece.adds for piece in solid])

    @cached_property
    def key(self) -> str:
        """Hash of every piece; equal keys, equal envelopes."""
        return sha256("\n".join(piece.key for piece in self.pieces).encode()).hexdigest()

    @cached_property
    def bounds(self) -> FloatArray:
        """(2, 3) smallest and largest coordinates [m]."""
        boxes = [p.surface.bounds for p in self.pieces if len(p.surface.faces)]
        return np.array([np.min(boxes, axis=0)[0], np.max(boxes, axis=0)[1]])

    @cached_property
    def volume(self) -> float:
        """[m^3] all of it: what floats until she sinks."""
        return float(self.mesh.block_sums[:, SIX_VOLUME].sum()) / 6.0

    @cached_property
    def outside(self) -> Surface:
        """The surface that water can touch: all that adds as one body, less all that takes."""
        adding = [p.surface for p in self.pieces if p.adds and len(p.surface.faces)]
        taking = [p.surface for p in self.pieces if not p.adds and len(p.surface.faces)]
        return reduce(difference, taking, reduce(union, adding))

    def integrals(self, plane: WaterPlane) -> PlaneIntegrals:
        """Integrals over what of it lies below a plane; `PlaneIntegrals` names their units."""
        return integrals_of(self.mesh, plane)


def trimmed(body: Body, hull: Surface) -> Surface:
    """What a raw body really adds to a hull or takes from it, so that nothing counts twice.

    Args:
        body: may reach into the hull (a house) or above its deck (a well). Of one that adds,
            what lies outside the hull stays; of one that takes, what lies inside.
        hull: closed; all that the body may overlap.

    Returns:
        Closed; zero faces where nothing is left.
    """
    local = hull_piece(hull, body.surface.bounds)
    cut = difference if body.adds else intersection
    return cut(body.surface, local)


def hull_piece(hull: Surface, bounds: FloatArray) -> Surface:
    """The piece of a hull in a somewhat larger box, so that cutting with it is quick.

    Equal to the whole hull as far as a body within the bounds is concerned. The box is grown
    and rounded outward, and ends with the hull, so that a dimension that is dragged meets the
    same piece again.

    Args:
        hull: closed.
        bounds: (2, 3) [m] of the body to be cut.
    """
    low = np.floor((bounds[0] - MARGIN) / GRID) * GRID
    high = np.ceil((bounds[1] + MARGIN) / GRID) * GRID
    low = np.maximum(low, hull.bounds[0] - MARGIN)
    high = np.minimum(high, hull.bounds[1] + MARGIN)
    return _piece(hull, tuple(low.tolist()), tuple(high.tolist()))


@cached(64)
def _piece(hull: Surface, low: tuple[float, ...], high: tuple[float, ...]) -> Surface:
    if not all(a < b for a, b in zip(low, high, strict=True)):
        return Surface.unchecked(np.zeros((0, 3)), np.zeros((0, 3), np.int32))
    return intersection(hull, box(np.array(low), np.array(high)))
