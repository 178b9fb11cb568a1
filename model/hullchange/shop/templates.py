"""What a template is made of: the tiles a piece falls on, and offsets from a snapped line."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Literal

import numpy as np
import shapely

from hullchange.shop.nest import Nest, Shape, Sheet, Spacing, fits
from hullchange.shop.piece import PlatePiece
from hullchange.shop.raster import packed

SPACING = 0.100
"""[m] between offsets along the line."""

_BETWEEN = Spacing(gap=0.010, margin=0.0)
_CELL = 0.015  # [m] of the grid: paper is cheap


@dataclass(frozen=True)
class Offset:
    """A point of a contour by its place along the line and its distance from it [m]."""

    contour: int
    what: Literal["corner", "line"]
    along: float
    away: float


def tiles_of(piece: PlatePiece, size: tuple[float, float]) -> list[tuple[int, int]]:
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


def laid_on_paper(
    shapes: Sequence[Shape], size: tuple[float, float]
) -> tuple[tuple[Nest, ...], tuple[Shape, ...]]:
    """Shapes laid on lengths of paper of a size [m], and those that fit on none."""
    length, breadth = size
    corners = np.array([[0, 0], [length, 0], [length, breadth], [0, breadth]], float)
    paper = Sheet("paper", corners)
    rest = [shape for shape in shapes if fits(shape, paper, _BETWEEN)]
    rest.sort(key=lambda shape: -shape.region.envelope.area)
    wider = [shape for shape in shapes if shape not in rest]
    nests: list[Nest] = []
    while rest:
        nest = packed(rest, paper, _BETWEEN, _CELL)
        placed = {place.id for place in nest.places}
        if not placed:
            return tuple(nests), (*rest, *wider)
        nests.append(nest)
        rest = [shape for shape in rest if shape.id not in placed]
    return tuple(nests), tuple(wider)


def offsets_of(piece: PlatePiece) -> Iterator[Offset]:
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
