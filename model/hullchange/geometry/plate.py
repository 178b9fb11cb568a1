"""A plate: a flat outline with holes, a thickness, and a map into space.

Flat pattern, mass, mesh and CAD solid all come from it, so they cannot disagree. Dimensions are
to the mid-surface: half the thickness lies on either side, on a bend too. So the mass is the
flat area times the thickness, and twins to port and starboard weigh the same.
"""

from dataclasses import dataclass, fields, replace
from functools import cached_property
from math import pi
from typing import Literal

import numpy as np

from hullchange.geometry.developable import Cone, DevelopableMap, Planar
from hullchange.geometry.flatmesh import Layout, layout, ring_nodes, solid_surface
from hullchange.geometry.frame import FloatArray, IntArray
from hullchange.geometry.outline import FlatOutline, sound_rings
from hullchange.geometry.surface import Surface

__all__ = ["Cone", "DevelopableMap", "Planar", "Plate"]


@dataclass(frozen=True, eq=False)
class Plate:
    """One piece of steel. A tube is its ring, as thick as the tube is long.

    Attributes:
        id: lower case, hyphens, ASCII; unique within its part.
        kind: what it is cut from.
        outer: outline in the flat [m].
        holes: inside the outline, apart from one another.
        thickness: [m]; of a flat bar its own, of a tube its length.
        map: of the mid-surface into the boat's frame.
        section: of a flat bar depth and thickness, of a tube diameter and wall [m]; of a plate
            nothing.
        twin_of: id of the plate whose mirror image it is, or "".

    Raises:
        ModelError: as ``sound_rings``.
    """

    id: str
    kind: Literal["plate", "flat_bar", "tube"]
    outer: FlatOutline
    thickness: float
    map: DevelopableMap
    holes: tuple[FlatOutline, ...] = ()
    section: tuple[float, ...] = ()
    twin_of: str = ""

    def __post_init__(self) -> None:
        sound_rings(self.outer, self.holes)

    @cached_property
    def flat_area(self) -> float:
        """Area of the outline less its holes [m^2], exact."""
        return self.outer.area - sum(hole.area for hole in self.holes)

    @property
    def volume(self) -> float:
        """Volume of the steel [m^3]: exact, bent or not, because the mid-surface is kept."""
        return self.flat_area * self.thickness

    @property
    def area_mid(self) -> float:
        """Area of the mid-surface [m^2]; of a tube, of its wall laid flat."""
        if self.kind != "tube":
            return self.flat_area
        diameter, wall = self.section
        return pi * (diameter - wall) * self.thickness

    @property
    def gauge(self) -> float:
        """Thickness of the material [m]: the wall of a tube."""
        return self.section[1] if self.kind == "tube" else self.thickness

    @property
    def perimeter(self) -> float:
        """Length of all cut edges [m]."""
        return self.outer.perimeter + sum(hole.perimeter for hole in self.holes)

    def mass(self, density: float) -> float:
        """Mass [kg] for a density [kg/m^3]."""
        return self.volume * density

    @property
    def flat_centroid(self) -> FloatArray:
        """(1, 2) [m] centroid of the flat pattern, exact; a flat plate's centre of gravity."""
        whole = self.outer.area * np.array([self.outer.centroid])
        cut = [hole.area * np.array([hole.centroid]) for hole in self.holes]
        return np.asarray((whole - sum(cut)) / self.flat_area)

    def surface(self) -> Surface:
        """Closed surface of the steel in the boat's frame."""
        return self._surface

    @cached_property
    def _layout(self) -> Layout:
        return layout(self.outer, self.holes, self.map)

    @cached_property
    def _surface(self) -> Surface:
        if self.twin_of:  # node for node its partner's
            return solid_surface(self._layout, self.thickness, self.map.mirrored()).mirrored()
        return solid_surface(self._layout, self.thickness, self.map)

    @property
    def key(self) -> str:
        """Hash of the geometry; equal keys, equal steel."""
        return self._surface.key

    @property
    def edges(self) -> IntArray:
        """(k, 2) nodes of its surface that its true outlines join, on both faces."""
        return ring_nodes(self._layout.lengths)

    def __getstate__(self) -> dict[str, object]:
        """The fields alone: what is computed from them is not sent to another process."""
        return {field.name: getattr(self, field.name) for field in fields(self)}

    def twin(self, name: str) -> "Plate":
        """The mirror image on the other side of the centreline."""
        return replace(self, id=name, map=self.map.mirrored(), twin_of=self.id)
