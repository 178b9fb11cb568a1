"""Packing on a grid of cells, each piece as far left and low as it goes, openings used.

Quick, takes sheets of any outline, and always answers.
"""

from collections.abc import Sequence
from math import sqrt

import numpy as np
import shapely
from numpy.typing import NDArray

from hullchange.compiled import compiled
from hullchange.geometry.frame import BoolArray
from hullchange.shop.nest import Nest, Placement, Shape, Sheet, Spacing

CellArray = NDArray[np.int32]

_DIAGONAL = sqrt(0.5)  # of a cell, from its centre to its corner


def packed(
    shapes: Sequence[Shape], sheet: Sheet, spacing: Spacing, cell: float = 0.010
) -> Nest:
    """As many of the shapes, in their order, as the sheet takes.

    Args:
        shapes: the ones that matter first.
        sheet: of any outline.
        spacing: kept by whole cells, so never short.
        cell: side of a cell [m].
    """
    taken = _closed_cells(sheet, spacing, cell)
    places = []
    for shape in shapes:
        best: tuple[int, int, int, float, CellArray, tuple[float, float]] | None = None
        for angle in shape.turns:
            cells, corner = _cells(shape, angle, spacing, cell)
            x, y = _first_fit(taken, cells)
            if x >= 0:
                reach = x + int(cells[:, 0].max())
                if best is None or (reach, y) < best[:2]:
                    best = reach, y, x, angle, cells, corner
        if best is not None:
            _, y, x, angle, cells, corner = best
            taken[cells[:, 0] + x, cells[:, 1] + y] = True
            shift = x * cell - corner[0], y * cell - corner[1]
            places.append(Placement(shape.id, angle, shift))
    return Nest(sheet, tuple(places))


def _closed_cells(sheet: Sheet, spacing: Spacing, cell: float) -> BoolArray:
    """(n, m) True where a cell is not wholly on the sheet, inside its margin."""
    inset = spacing.margin - spacing.gap / 2.0 + _DIAGONAL * cell
    region = sheet.region.buffer(-inset, join_style="mitre")
    counts = [int(np.ceil(size / cell)) for size in sheet.size]
    x, y = np.meshgrid(*((np.arange(n) + 0.5) * cell for n in counts), indexing="ij")
    shapely.prepare(region)
    return ~np.asarray(shapely.contains_xy(region, x, y))


def _cells(
    shape: Shape, angle: float, spacing: Spacing, cell: float
) -> tuple[CellArray, tuple[float, float]]:
    """Cells (k, 2) that a turned shape touches, half the gap around it, and their origin."""
    grown = shape.lying(angle).buffer(spacing.gap / 2.0 + _DIAGONAL * cell, quad_segs=4)
    low_x, low_y, high_x, high_y = grown.bounds
    counts = [max(1, int(np.ceil(size / cell))) for size in (high_x - low_x, high_y - low_y)]
    x, y = np.meshgrid(*((np.arange(n) + 0.5) * cell for n in counts), indexing="ij")
    shapely.prepare(grown)
    hit = np.argwhere(shapely.contains_xy(grown, x + low_x, y + low_y))
    # in no order, so that a clash is met soon
    mixed = np.random.default_rng(0).permutation(len(hit))
    return np.ascontiguousarray(hit[mixed], np.int32), (low_x, low_y)


@compiled
def _first_fit(taken: BoolArray, cells: CellArray) -> tuple[int, int]:
    """The leftmost, then lowest place where all cells are free; -1 where there is none."""
    wide, high = 0, 0
    for k in range(len(cells)):
        wide, high = max(wide, cells[k, 0]), max(high, cells[k, 1])
    for x in range(taken.shape[0] - wide):
        for y in range(taken.shape[1] - high):
            free = True
            for k in range(len(cells)):
                if taken[x + cells[k, 0], y + cells[k, 1]]:
                    free = False
                    break
            if free:
                return x, y
    return -1, -1
