"""Lines of a hull from a table of points."""

import csv
import math
from collections import defaultdict
from dataclasses import dataclass
from io import StringIO
from typing import get_args

from hullchange.errors import DocumentError, Fault, ModelError
from hullchange.hull.lines import LineInput, LineKind

COLUMNS = ("line", "kind", "x_m", "y_m", "z_m")
LARGEST = 1_000_000  # characters; a hull's lines fill a few thousand
SHOWN_FAULTS = 30


@dataclass(frozen=True)
class _Row:
    name: str
    kind: LineKind
    point: tuple[float, float, float]


def lines_of_csv(text: str) -> dict[str, LineInput]:
    r"""The lines in a table with the columns line, kind, x_m, y_m and z_m, by name.

    Columns are separated by commas, semicolons or tabs; with the latter two a number may
    have a decimal comma. Underscores and spaces in names become hyphens.

    Raises:
        ModelError: ``not-a-lines-table`` where the columns are not there.
        DocumentError: ``bad-row`` for each row that cannot be read, by its number.

    >>> lines_of_csv("line;kind;x_m;y_m;z_m\nSheer;sheer;0,5;1;1,25\n")["sheer"].points
    ((0.5, 1.0, 1.25),)
    """
    rows = _rows_of(text)
    order = [name.strip().lower() for name in rows[0][1]]
    faults: list[Fault] = []
    kinds: dict[str, LineKind] = {}
    points: dict[str, list[tuple[float, float, float]]] = defaultdict(list)
    for number, fields in rows[1:]:
        try:
            row = _row_of(fields, order)
            kind = kinds.setdefault(row.name, row.kind)
            _require(kind == row.kind, f"line {row.name} was of kind {kind} above")
            points[row.name].append(row.point)
        except ModelError as trouble:
            place = f"line {number}"
            sentence = f"Line {number} of the table: {trouble.sentence}."
            faults.append(Fault("bad-row", place, sentence))
    if faults:
        raise DocumentError(_shortened(faults))
    if not points:
        raise ModelError("not-a-lines-table", "The table of lines has no rows of points.")
    return {name: LineInput(name, kinds[name], tuple(given)) for name, given in points.items()}


def _rows_of(text: str) -> list[tuple[int, list[str]]]:
    """Numbered rows that are not empty, from the heading on; those above it are skipped."""
    lines = text.removeprefix("\ufeff").lower().splitlines()
    found = (k for k, line in enumerate(lines) if all(name in line for name in COLUMNS))
    skipped = next(found, None) if len(text) <= LARGEST and "\0" not in text else None
    if skipped is None:
        sentence = (
            "This is not a table of lines: its first row must name the columns "
            f"{', '.join(COLUMNS)} (x aft, y to starboard, z up, in metres)."
        )
        raise ModelError("not-a-lines-table", sentence)
    separator = max(";\t,", key=lines[skipped].count)
    start = "".join(text.removeprefix("\ufeff").splitlines(keepends=True)[skipped:])
    reader = csv.reader(StringIO(start), delimiter=separator, skipinitialspace=True)
    return [
        (reader.line_num + skipped, fields)
        for fields in reader
        if any(f.strip() for f in fields)
    ]


def _row_of(fields: list[str], order: list[str]) -> _Row:
    _require(
        len(fields) == len(order),
        f"it has {len(fields)} fields and the heading has {len(order)}; with decimal commas, "
        "separate the columns by semicolons",
    )
    row = dict(zip(order, (field.strip() for field in fields), strict=True))
    name = "-".join(row["line"].lower().replace("_", " ").split())
    _require(bool(name), "the line has no name")
    kinds: tuple[LineKind, ...] = get_args(LineKind)
    kind = next((known for known in kinds if known == row["kind"].lower()), None)
    if kind is None:
        raise ModelError(
            "bad-row", f"kind {row['kind']!r:.40} is not one of {', '.join(kinds)}"
        )
    x, y, z = (_metres(row[column], column) for column in COLUMNS[2:])
    return _Row(name, kind, (x, y, z))


def _metres(text: str, column: str) -> float:
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        value = math.nan
    _require(math.isfinite(value), f"{column} {text!r:.40} is not a number")
    return value


def _require(holds: bool, sentence: str) -> None:
    if not holds:
        raise ModelError("bad-row", sentence)


def _shortened(faults: list[Fault]) -> tuple[Fault, ...]:
    more = len(faults) - SHOWN_FAULTS
    if more <= 0:
        return tuple(faults)
    rest = Fault("bad-row", faults[SHOWN_FAULTS].place, f"{more} more rows cannot be read.")
    return (*faults[:SHOWN_FAULTS], rest)
