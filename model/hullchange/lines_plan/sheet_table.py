"""The tables of offsets on the sheet itself, below the views."""

from collections.abc import Iterator

import numpy as np

from hullchange.lines_plan.layout import FRAME, INSIDE, SheetLayout
from hullchange.lines_plan.offsets import PaperTable
from hullchange.lines_plan.sheet import Label, Stroke, fitted
from hullchange.lines_plan.views import OnSheet

ROW, NAME, CELL = 1.45, 14.0, 4.6
"""Height of a row, width of the names and of a column, in sizes of letters."""
TITLE, APART = 2.2, 5.0
"""Height of the title, and the space between tables, in sizes of letters."""


def table_size(table: PaperTable) -> tuple[float, float]:
    """Width and height [sizes of letters]."""
    columns, rows = len(table.heads[0]) - 1, len(table.heads) + len(table.rows)
    return NAME + columns * CELL, TITLE + rows * ROW


def tables_on_sheet(
    tables: tuple[PaperTable, ...], corner: tuple[float, float], layout: SheetLayout
) -> Iterator[OnSheet]:
    """The first table, and the others beside it as far as there is room.

    Args:
        tables: in the order of their worth.
        corner: upper left corner [mm] of the first one.
        layout: of the sheet.
    """
    letters, (left, top) = layout.letters, corner
    high = table_size(tables[0])[1]
    end = layout.size_mm[0] - FRAME - INSIDE
    for table in tables:
        wide = table_size(table)[0] * letters
        if left + wide <= end and table_size(table)[1] <= high + 1.0:
            yield _table(table, (left, top), letters)
            left += wide + APART * letters


def _table(table: PaperTable, corner: tuple[float, float], letters: float) -> OnSheet:
    """The table from its upper left corner [mm] on, in letters of a size [mm]."""
    left, top = corner
    wide = table_size(table)[0] * letters
    labels = [Label(table.title, (left, top - 1.2 * letters), 1.3 * letters, bold=True)]
    strokes = []
    for n, row in enumerate((*table.heads, *table.rows), 1):
        y = top - (TITLE + n * ROW - 0.4) * letters
        is_head = n <= len(table.heads)
        bold = is_head or len(row) == 1
        room = wide if len(row) == 1 else (NAME - 1.0) * letters
        labels.append(fitted(Label(row[0], (left, y), letters, bold=bold), room))
        for k, cell in enumerate(row[1:], 1):
            at = left + (NAME + k * CELL) * letters, y
            labels.append(fitted(Label(cell, at, letters, 1.0, bold), (CELL - 0.5) * letters))
        rule = y - 0.42 * letters
        strokes.append(Stroke("GRID", np.array([[left, rule], [left + wide, rule]])))
    return OnSheet(tuple(strokes), tuple(labels))
