"""A table as CSV, with its origin above the columns."""

import csv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from io import StringIO

from hullchange.answer.assessment import Assessment
from hullchange.answer.cautions import STRENGTH

Cell = str | float | int | bool | None
Rows = Iterator[tuple[Cell, ...]]
Heads = tuple[tuple[Cell, ...], ...]
RISKY = "=+-@"
"""Beginnings of a text that a spreadsheet takes for a formula, whatever blanks stand before."""
DIGITS = 9


@dataclass(frozen=True)
class CsvTable:
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
    def of(cls, columns: str, rows: Iterable[tuple[Cell, ...]], *notes: str) -> "CsvTable":
        """The table with its columns named in one string, apart by spaces."""
        return cls(tuple(columns.split()), tuple(rows), notes)


def csv_heads(answer: Assessment, state: str) -> Heads:
    """What stands above every table of an answer: whose it is, and how the review stands.

    Args:
        answer: for boat, document and option.
        state: how the review stands to it, such as ``unsigned``.
    """
    return (
        ("boat", answer.boat),
        ("document sha256", answer.document_sha256),
        ("option", answer.option or "none"),
        ("tool", f"hullchange {answer.hullchange}"),
        ("status", state),
        ("note", STRENGTH.sentence),
    )


def csv_under(heads: Heads, table: CsvTable, separator: str = ",") -> str:
    """The table as CSV text: its heads, notes, an empty line, columns, rows.

    Args:
        heads: above it.
        table: to be written.
        separator: of cells; with ";" the decimal sign is a comma.
    """
    out = StringIO()
    notes = (("note", note) for note in table.notes)
    rows: Iterable[tuple[Cell, ...]] = (*heads, *notes, (), table.columns, *table.rows)
    decimal = "." if separator == "," else ","
    writer = csv.writer(out, lineterminator="\n", delimiter=separator)
    writer.writerows(tuple(_written(cell, decimal) for cell in row) for row in rows)
    return out.getvalue()


def is_risky(text: str) -> bool:
    """Whether a spreadsheet would work a text out instead of showing it."""
    return text.lstrip()[:1] in tuple(RISKY)


def rounded(cell: Cell) -> Cell:
    """A number with every digit that counts and none that does not."""
    return float(f"{cell:.{DIGITS}g}") if isinstance(cell, float) else cell


def _written(cell: Cell, decimal: str) -> Cell:
    if isinstance(cell, str):
        lines = "\n".join(cell.splitlines())  # a lone return would end the row unquoted
        return f"'{lines}" if is_risky(lines) else lines
    return f"{cell:.{DIGITS}g}".replace(".", decimal) if isinstance(cell, float) else cell
