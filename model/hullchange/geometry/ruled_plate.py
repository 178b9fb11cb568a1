"""A plate between two edges by its rulings, in space and laid flat; how far steel may twist."""

from dataclasses import dataclass

import numpy as np

from hullchange.geometry.frame import FloatArray

YIELD_STRAIN = 235.0 / 206000.0
"""Of the mildest structural steel, yield stress over Young's modulus (from memory)."""


@dataclass(frozen=True, eq=False)
class Ruled:
    """A plate between two edges, in space and laid flat.

    Attributes:
        ends: (n, 2, 3) both ends of each ruling, the first edge's first [m].
        flat: (n, 2, 2) the same laid flat.
        twist: (n,) angle [rad] between the tangent planes at both ends of each ruling; none
            inside a fan.
    """

    ends: FloatArray
    flat: FloatArray
    twist: FloatArray

    @property
    def strain(self) -> float:
        """Membrane strain [-] at the edge that forcing flat plate into the shape takes.

        Source: worked out from a helicoid, twist squared over twelve.
        """
        return float(self.twist.max() ** 2 / 12.0)

    @property
    def doubtful(self) -> bool:
        """True where it is more than a quarter of what yields: half the twist that may be."""
        return self.strain > YIELD_STRAIN / 4.0

    def bend_radii(self) -> FloatArray:
        """(n - 2, 2) radius [m] across the inner rulings at their ends, from the facets."""
        a, b = self.ends[:, 0], self.ends[:, 1]
        along, across = np.diff(a, axis=0) + np.diff(b, axis=0), (b - a)[1:] + (b - a)[:-1]
        facet = unit(np.cross(along, across))
        angle = np.arccos(np.clip(np.einsum("ij,ij->i", facet[1:], facet[:-1]), -1.0, 1.0))
        ruling = unit(b - a)[1:-1]
        rows = []
        for edge in (a, b):
            step = np.diff(edge, axis=0)
            wide = [np.linalg.norm(np.cross(s, ruling), axis=1) for s in (step[1:], step[:-1])]
            rows.append((wide[0] + wide[1]) / 2.0 / np.maximum(angle, 1e-12))
        return np.stack(rows, axis=1)


def unit(rows: FloatArray) -> FloatArray:
    """Rows (..., k) made one long."""
    length = np.linalg.norm(rows, axis=-1, keepdims=True)
    return np.asarray(rows / np.maximum(length, 1e-15))
