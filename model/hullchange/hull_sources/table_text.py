"""A table as it was pasted: rows, separator, headings and the units they state."""

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass
from io import StringIO
from types import MappingProxyType

from hullchange.errors import ModelError
from hullchange.quantity_text import known_unit

LARGEST_TABLE = 1_000_000  # characters; a hull's lines fill a few thousand
MEANINGS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "line": ("line", "name", "curve", "mark"),
        "kind": ("kind", "type"),
        "x": ("x", "station", "from bow", "from fp", "distance", "aft of fp", "along"),
        "y": ("y", "half breadth", "halfbreadth", "breadth", "out", "from centre"),
        "z": ("z", "height", "up", "above dwl", "above waterline", "level"),
        "knuckle": ("knuckle", "corner"),
    }
)
NEEDED = ("line", "x", "y", "z")
NumberedRows = list[tuple[int, list[str]]]


@dataclass(frozen=True)
class PastedTable:
    """NumberedRows that are not empty, each with its number in the text."""

    rows: NumberedRows


@dataclass(frozen=True)
class Column:
    """Place, heading and unit ("" where none is known) of a column."""

    place: int
    heading: str
    unit: str = ""


def table_of(text: str) -> PastedTable:
    """The rows of a text, its cells parted by what stands most often in it.

    Raises:
        ModelError: ``not-a-lines-table``.
    """
    if len(text) > LARGEST_TABLE:
        sentence = (
            f"A table may be {LARGEST_TABLE // 1_000_000} million characters long, and "
            "this one is longer."
        )
        raise ModelError("not-a-lines-table", sentence)
    if "\0" in text:
        raise ModelError("not-a-lines-table", "This is not plain text: save the table as CSV.")
    plain = text.removeprefix("\ufeff")
    reader = csv.reader(StringIO(plain), delimiter=_separator(plain), skipinitialspace=True)
    try:
        rows = [(reader.line_num, fields) for fields in reader if any(map(str.strip, fields))]
    except csv.Error as error:
        sentence = f"The table cannot be read at row {reader.line_num}: {error}."
        raise ModelError("not-a-lines-table", sentence) from error
    if not rows:
        raise ModelError("not-a-lines-table", "The table is empty.")
    return PastedTable(_from_heading(rows))


def _separator(text: str) -> str:
    """Tabs, else semicolons, else commas: the first that parts most rows."""
    lines = [line for line in text.splitlines() if line.strip()]
    for separator in "\t;":
        if 2 * sum(separator in line for line in lines) > len(lines):
            return separator
    return ","


def _from_heading(rows: NumberedRows) -> NumberedRows:
    """The rows from the heading on, if there is one; titles above it are left out."""
    for k, (_, fields) in enumerate(rows[:30]):
        if set(NEEDED) <= set(_meanings(fields)) or _is_offsets_heading(fields):
            return rows[k:]
    return rows


def _meanings(fields: list[str]) -> dict[str, int]:
    found: dict[str, int] = {}
    for place, heading in enumerate(fields):
        meaning = _meaning(heading)
        if meaning:
            found.setdefault(meaning, place)
    return found


def _meaning(heading: str) -> str:
    words = _words(heading)
    for meaning, names in MEANINGS.items():
        if words in names:
            return meaning
    return ""


def _words(heading: str) -> str:
    """A heading in plain words without its unit."""
    plain = re.sub(r"[\[(].*?[\])]|[-_,]", " ", heading.lower())
    words = plain.split()
    if len(words) > 1 and known_unit(words[-1]):
        words = words[:-1]
    return " ".join(words)


def unit_of_heading(heading: str) -> str:
    """The unit that a heading states, "" for none.

    >>> [unit_of_heading(h) for h in ("z_mm", "height [ft-in-8]", "x", "y (feet)", "y, mm")]
    ['mm', 'ft-in-8', '', 'ft', 'mm']
    """
    for word in re.findall(r"[\[(](.*?)[\])]", heading):
        if known_unit(word):
            return known_unit(word)
    last = re.split(r"[\s_,]+", heading.strip())
    return known_unit(last[-1]) if len(last) > 1 else ""


def columns_of(
    table: PastedTable, given: tuple[str, ...]
) -> tuple[dict[str, Column], NumberedRows]:
    """The columns by their meaning, and the rows below the heading.

    Args:
        table: its rows, the heading first if there is one.
        given: meanings of the columns in order, where the owner says them.

    Raises:
        ModelError: ``no-heading`` where it is not clear which column is which;
            ``not-a-lines-table`` where there are too few of them.
    """
    _, head = table.rows[0]
    found = _meanings(head)
    if given:
        is_heading = len(found) >= 2
        by_place = {meaning: k for k, meaning in enumerate(given) if meaning in MEANINGS}
        columns = {
            m: Column(k, head[k] if is_heading and k < len(head) else f"column {k + 1}")
            for m, k in by_place.items()
        }
        columns = {
            m: Column(c.place, c.heading, unit_of_heading(c.heading))
            for m, c in columns.items()
        }
        rows = table.rows[1:] if is_heading else table.rows
    else:
        columns = {
            m: Column(k, head[k].strip(), unit_of_heading(head[k])) for m, k in found.items()
        }
        rows = table.rows[1:]
    lacking = [name for name in NEEDED if name not in columns]
    if lacking and max(len(fields) for _, fields in table.rows) < len(NEEDED):
        sentence = (
            "This is not a table of lines: give one row for each point, with columns line, x, "
            "y (half-breadth) and z (height) separated by commas, semicolons or tabs."
        )
        raise ModelError("not-a-lines-table", sentence)
    if lacking:
        sentence = (
            f"Which column is which? The first row must name line, x, y and z in any order; "
            f"{', '.join(lacking)} {'is' if len(lacking) == 1 else 'are'} not named."
        )
        raise ModelError("no-heading", sentence)
    return columns, rows


def is_of_offsets(table: PastedTable) -> bool:
    """Whether stations run across its first row, and half-breadths and heights below."""
    return _is_offsets_heading(table.rows[0][1]) and not set(NEEDED) <= set(
        _meanings(table.rows[0][1])
    )


def _is_offsets_heading(fields: list[str]) -> bool:
    first = _words(fields[0])
    digits = [field for field in fields[1:] if any(c.isdigit() for c in field)]
    return first in ("station", "stations", "x") and len(digits) >= 2
