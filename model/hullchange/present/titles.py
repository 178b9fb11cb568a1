"""Names as their owner wrote them, beside the keys of a table."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from hullchange.present.csv_table import Cell, CsvTable

CALLED = "called"
NAMING = (
    *("belongs_to", "change", "path", "part", "condition", "mark", "opening", "tank", "id"),
    *("line", "appendage", "option", "target", "place", "critical_opening", "replaced_by"),
)
"""Columns whose cells are keys, or paths that end in one."""


def titled(table: CsvTable, titles: Mapping[str, str]) -> CsvTable:
    """The table with a column more: what each row's keys are called, where that says more.

    >>> titled(CsvTable.of("tank fill_l", [("chayka", 3.0)]), {"chayka": "Чайка"}).rows
    (('chayka', 3.0, 'Чайка'),)
    """
    at = [n for n, name in enumerate(table.columns) if name in NAMING]
    names = [_called((row[n] for n in at), titles) for row in table.rows]
    if not any(names):
        return table
    rows = tuple((*row, name) for row, name in zip(table.rows, names, strict=True))
    return replace(table, columns=(*table.columns, CALLED), rows=rows)


def _called(cells: Iterable[Cell], titles: Mapping[str, str]) -> str:
    keys = (cell.rsplit(".", 1)[-1] for cell in cells if isinstance(cell, str))
    return ", ".join(dict.fromkeys(titles[key] for key in keys if key in titles))
