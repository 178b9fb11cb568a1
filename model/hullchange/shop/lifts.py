"""Where an old plate is hung when it comes off: points about its centre of gravity."""

import numpy as np
import shapely

from hullchange.geometry.frame import FloatArray
from hullchange.shop.piece import PlatePiece
from hullchange.shop.quantities import lift_point

BY_HAND = 25.0
"""[kg] up to which two points do; above it four, so that the plate cannot tilt."""

OUT = 0.29  # of a side, from the centre: a bar hung there sags least (common practice)
EDGE = 0.05  # [m] of steel kept round a point
_SHARES = np.linspace(1.0, 0.2, 17)


def lifting_points(piece: PlatePiece, mass: float) -> FloatArray:
    """(n, 2) points in the drawing [m] about the centre of gravity; none where no steel is.

    Args:
        piece: as drawn, flat.
        mass: of the piece [kg].
    """
    steel = piece.region.buffer(-EDGE)
    centre = lift_point(piece)
    ways = _ways(piece.size, 2 if mass <= BY_HAND else 4)
    for share in _SHARES:
        points = centre + share * ways
        if shapely.covers(steel, shapely.points(points)).all():
            return np.asarray(points)
    return np.zeros((0, 2))


def _ways(size: FloatArray, count: int) -> FloatArray:
    """(count, 2) from the centre to the points, at their widest."""
    signs = [[-1, 0], [1, 0]] if count == 2 else [[-1, -1], [1, -1], [1, 1], [-1, 1]]
    return np.array(signs, dtype=float) * OUT * size
