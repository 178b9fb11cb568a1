"""A plate between two edges by its rulings, in space and in the flat; how far it may twist."""

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
        flat: (n, 2, 2) both ends of each ruling in the flat pattern [m].
        twist: (n,) angle [rad] between the tangent planes at both ends of each ruling; zero
            inside a fan.
    """

    ends: FloatArray
    flat: FloatArray
    twist: FloatArray

    @property
    def strain(self) -> float:
        """Membrane strain [-] at the edge when flat plate is forced into the shape.

        Source: derived from a helicoid, twist squared over twelve.
        """
        return float(self.twist.max() ** 2 / 12.0)

    @property
    def doubtful(self) -> bool:
        """Whether the strain is over a quarter of yield: half of the twist that is allowed."""
        return self.strain > YIELD_STRAIN / 4.0

    def bend_radii(self) -> FloatArray:
        """(n - 2, 2) bend radius [m] at both ends of the inner rulings, from the facets."""
        a, b = self.ends[:, 0], self.ends[:, 1]
        along, across = np.diff(a, axis=0) + np.diff(b, axis=0), (b - a)[1:] + (b - a)[:-1]
        facet = unit_vectors(np.cross(along, across))
        angle = np.arccos(np.clip(np.einsum("ij,ij->i", facet[1:], facet[:-1]), -1.0, 1.0))
        ruling = unit_vectors(b - a)[1:-1]
        rows = []
        for edge in (a, b):
            step = np.diff(edge, axis=0)
            wide = [np.linalg.norm(np.cross(s, ruling), axis=1) for s in (step[1:], step[:-1])]
            rows.append((wide[0] + wide[1]) / 2.0 / np.maximum(angle, 1e-12))
        return np.stack(rows, axis=1)


def unit_vectors(rows: FloatArray) -> FloatArray:
    """Unit vectors (..., k) of vectors (..., k) in any unit [-]."""
    length = np.linalg.norm(rows, axis=-1, keepdims=True)
    return np.asarray(rows / np.maximum(length, 1e-15))
