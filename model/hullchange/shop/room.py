"""Where on a piece there is room for words and marks."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from hullchange.geometry.frame import FloatArray
from hullchange.shop.contour import turned

_TRIED = 17  # places each way


def largest_circle(region: shapely.Geometry) -> tuple[FloatArray, float]:
    """Centre (2,) and radius of the largest circle inside a region [m]."""
    radius = shapely.maximum_inscribed_circle(solid_areas(region), tolerance=1e-3)
    ends = shapely.get_coordinates(radius)
    return ends[0], float(np.hypot(*(ends[1] - ends[0])))


def solid_areas(region: shapely.Geometry) -> shapely.MultiPolygon:
    """What encloses an area; cutting leaves lines and points where edges only touch."""
    parts = shapely.get_parts(shapely.get_parts(region))
    return shapely.MultiPolygon([part for part in parts if isinstance(part, shapely.Polygon)])


@dataclass(frozen=True, eq=False)
class Room:
    """A region [m] in which boxes are laid, near its widest place."""

    region: shapely.Geometry

    def box(
        self, size: tuple[float, float], angles: Sequence[float]
    ) -> tuple[FloatArray, float] | None:
        """Centre (2,) [m] and angle [rad] of a box that lies wholly inside, if there is room.

        Args:
            size: length and height of the box [m].
            angles: that may be tried, the preferred one first [rad].
        """
        if self._solid.area < size[0] * size[1]:
            return None
        for angle in angles:
            corners = box_around(np.zeros(2), size, angle)
            boxes = shapely.polygons(self._places[:, None] + corners)
            good = np.nonzero(shapely.contains(self._solid, boxes))[0]
            if len(good):
                return self._places[good[0]], angle
        return None

    @cached_property
    def _solid(self) -> shapely.MultiPolygon:
        region = solid_areas(self.region)
        shapely.prepare(region)
        return region

    @cached_property
    def _places(self) -> FloatArray:
        """(n, 2) centres to try, from the widest place outwards."""
        middle, _ = largest_circle(self._solid)
        low, high = np.array(self._solid.bounds).reshape(2, 2)
        grid = np.stack(np.meshgrid(*np.linspace(low, high, _TRIED).T), axis=-1).reshape(-1, 2)
        places = np.concatenate([[middle], grid])
        return places[np.argsort(np.hypot(*(places - middle).T), kind="stable")]


def box_around(centre: FloatArray, size: tuple[float, float], angle: float) -> FloatArray:
    """(4, 2) corners [m] of a box by centre (2,) [m], size [m] and angle [rad]."""
    half = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]) * np.array(size) / 2.0
    return np.asarray(half @ turned(angle) + centre)
