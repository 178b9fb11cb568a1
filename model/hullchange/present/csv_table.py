"""A table as CSV that says above its columns whose it is."""

import csv
from collections.abc import Iterable
from dataclasses import dataclass
from io import StringIO

from hullchange.study.results import Assessment

Cell = str | float | int | bool | None


@dataclass(frozen=True)
class Table:
    """A table to be written.

    Attributes:
        columns: names, each with its unit.
        rows: as wide as the columns; None is an empty cell.
        notes: sentences above it.
    """

    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()

    @classmethod
    def of(cls, columns: str, rows: Iterable[tuple[Cell, ...]], *notes: str) -> "Table":
        """The table with its columns named in one string, apart by spaces."""
        return cls(tuple(columns.split()), tuple(rows), notes)


def csv_text(table: Table, answer: Assessment) -> str:
    """The table as CSV text: whose it is, notes, an empty line, columns, rows.

    Args:
        table: to be written.
        answer: for boat, document and option.
    """
    heads: tuple[tuple[Cell, ...], ...] = (
        ("boat", answer.boat),
        ("document sha256", answer.document_sha256),
        ("option", answer.option or "none"),
        ("tool", f"hullchange {answer.hullchange}"),
        ("status", "not signed"),
    )
    return csv_under(heads, table)


def csv_under(heads: tuple[tuple[Cell, ...], ...], table: Table) -> str:
    """The same under other heads."""
    out = StringIO()
    write = csv.writer(out, lineterminator="\n")
    write.writerows([*heads, *(("note", note) for note in table.notes), (), table.columns])
    write.writerows(tuple(_written(cell) for cell in row) for row in table.rows)
    return out.getvalue()


def _written(cell: Cell) -> Cell:
    """A number with every digit that counts and none that does not."""
    return f"{cell:.9g}" if isinstance(cell, float) else cell
