"""What a template is made of: the tiles a piece falls on, and offsets from a snapped line."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from typing import Literal

import numpy as np
import shapely

from hullchange.shop.piece import Piece

SPACING = 0.100
"""[m] between offsets along the line."""


@dataclass(frozen=True)
class Offset:
    """A point of a contour by its place along the line and its distance from it [m]."""

    contour: int
    what: Literal["corner", "line"]
    along: float
    away: float


def tiles_of(piece: Piece, size: tuple[float, float]) -> list[tuple[int, int]]:
    """Row and column of every tile of a size [m] on which a contour runs."""
    rim = shapely.MultiLineString(
        [np.concatenate([ring.points, ring.points[:1]]) for ring in piece.rings]
    )
    columns, rows = (ceil(side / tile) for side, tile in zip(piece.size, size, strict=True))
    return [
        (row, column)
        for row in range(rows)
        for column in range(columns)
        if rim.intersects(
            shapely.box(
                column * size[0], row * size[1], (column + 1) * size[0], (row + 1) * size[1]
            )
        )
    ]


def offsets_of(piece: Piece) -> Iterator[Offset]:
    """The corners of every contour, then where it crosses each tenth of a metre.

    The line is the lower side of the drawing's rectangle.
    """
    for number, ring in enumerate(piece.rings, 1):
        for x, y, _ in ring.nodes.tolist():
            yield Offset(number, "corner", x, y)
        loop = shapely.LinearRing(ring.points)
        low, bottom, high, top = loop.bounds
        for k in range(ceil(low / SPACING + 1e-6), ceil(high / SPACING - 1e-6)):
            x = k * SPACING
            cut = loop.intersection(shapely.LineString([(x, bottom - 1.0), (x, top + 1.0)]))
            heights = {round(y, 6) for _, y in shapely.get_coordinates(cut).tolist()}
            yield from (Offset(number, "line", x, y) for y in sorted(heights))
