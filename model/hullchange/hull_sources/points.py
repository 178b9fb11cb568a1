"""Lines from a table of points, typed, pasted or read from CSV, in whatever units it states."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from typing import get_args

from hullchange.errors import DocumentError, Fault, ModelError
from hullchange.hull.lines import READING_SD, LineInput, LineKind
from hullchange.hull_sources.found import FoundLines, NotUnderstood
from hullchange.hull_sources.table_text import (
    Column,
    PastedTable,
    columns_of,
    is_of_offsets,
    table_of,
    unit_of_heading,
)
from hullchange.plain_words import id_in_words
from hullchange.quantity_text import (
    LARGEST,
    SHIPWRIGHTS,
    DecimalSign,
    decimal_sign,
    feet_and_inches,
    known_unit,
    length_of,
)
from hullchange.units import mm_of_m

BLANKS = ("", "-", "\u2013", "\u2014", "n/a")
SHOWN_CELLS = 30
EIGHTH = 0.003175  # [m] of an inch
COARSE = {"cm": 0.01, SHIPWRIGHTS: EIGHTH, "in": EIGHTH, "ft": EIGHTH}
"""[m] last digit that is usually written in a unit; common practice, no source."""
PointOfTable = tuple[float, float, float]


@dataclass(frozen=True)
class TableAsked:
    """What the owner says about a table, where the table itself does not.

    Attributes:
        unit: of numbers given without one; "" if not stated.
        columns: their meanings in order (line, kind, x, y, z, knuckle, or "" to skip one),
            where there is no heading.
        decimal: the decimal sign.
    """

    unit: str = ""
    columns: tuple[str, ...] = ()
    decimal: DecimalSign | None = None


@dataclass
class _TableRead:
    """A table half read: points by line, and the cells that stood in the way."""

    decimal: DecimalSign | None
    points: dict[str, list[PointOfTable]] = field(default_factory=lambda: defaultdict(list))
    kinds: dict[str, LineKind] = field(default_factory=dict)
    knuckles: dict[str, list[float]] = field(default_factory=lambda: defaultdict(list))
    trouble: list[NotUnderstood] = field(default_factory=list)

    def length(self, row: int, column: Column, text: str) -> float | None:
        """[m] of a cell; None, and a note of it, where it cannot be read."""
        try:
            found = length_of(text, column.unit, self.decimal)
            if abs(found) > LARGEST["length"]:
                sentence = f"{text!r} is {found:,.0f} m, longer than any boat: check its unit."
                raise ModelError("not-a-quantity", sentence)
        except ModelError as error:
            self.trouble.append(NotUnderstood(row, column.heading, text, error.sentence))
            return None
        return found


def lines_of_table(text: str, asked: TableAsked | None = None) -> FoundLines:
    r"""The lines in a table of points, or in a table of offsets.

    A table of points has a row for each point and columns line, x, y (half-breadth) and z
    (height) in any order, kind and knuckle if wanted. A table of offsets has stations across
    its first row, then two rows for each line: ``NAME half-breadth`` and ``NAME height``. A
    unit stands in a heading (``z_mm``, ``height [ft-in-8]``), in a cell, or in ``asked``.

    Args:
        text: cells parted by commas, semicolons or tabs.
        asked: what the table does not say itself.

    Raises:
        ModelError: ``not-a-lines-table`` (also where nothing in it can be read),
            ``no-heading``, ``unit-missing``.

    >>> found = lines_of_table("line;x;half breadth (mm);z\nSheer;0,5 m;1000;4-1-2", None)
    >>> found.lines[0].points
    ((0.5, 1.0, 1.25095),)
    """
    options = asked or TableAsked()
    if options.unit and not known_unit(options.unit):
        raise ModelError("unknown-unit", f"{options.unit!r:.40} is not a unit of length.")
    table = table_of(text)
    cells = [cell for _, fields in table.rows for cell in fields]
    reading = _TableRead(options.decimal or decimal_sign(cells))
    if not options.columns and is_of_offsets(table):
        units = _read_offsets(table, options, reading)
    else:
        units = _read_points(table, options, reading)
    return _found(reading, units)


def whole_table(text: str, asked: TableAsked | None = None) -> FoundLines:
    """The lines in a table in which every cell is understood.

    Args:
        text: as for ``lines_of_table``.
        asked: as there.

    Raises:
        DocumentError: ``bad-row`` for each cell that is not, by row and column.
        ModelError: those of ``lines_of_table``.
    """
    found = lines_of_table(text, asked)
    cells = found.not_understood
    faults = [
        Fault("bad-row", f"row {c.row}", f"Row {c.row}, {c.column}: {c.sentence}")
        for c in cells[:SHOWN_CELLS]
    ]
    if len(cells) > SHOWN_CELLS:
        sentence = f"{len(cells) - SHOWN_CELLS} more cells cannot be read."
        faults.append(Fault("bad-row", f"row {cells[SHOWN_CELLS].row}", sentence))
    if faults:
        raise DocumentError(tuple(faults))
    return found


def _read_points(table: PastedTable, options: TableAsked, reading: _TableRead) -> set[str]:
    columns, rows = columns_of(table, options.columns)
    columns = {name: _with_unit(c, name, rows, options.unit) for name, c in columns.items()}
    for number, fields in rows:
        _read_point(number, fields, columns, reading)
    return {columns[axis].unit for axis in ("y", "z")}


def _read_point(
    number: int, fields: list[str], columns: Mapping[str, Column], reading: _TableRead
) -> None:
    def cell(name: str) -> str:
        place = columns[name].place if name in columns else len(fields)
        return fields[place].strip() if place < len(fields) else ""

    name = line_name(cell("line"))
    if not name:
        sentence = "The line's name is missing."
        reading.trouble.append(NotUnderstood(number, columns["line"].heading, "", sentence))
        return
    _take_kind(number, name, cell("kind"), columns, reading)
    found = [reading.length(number, columns[axis], cell(axis)) for axis in ("x", "y", "z")]
    if None in found:
        return
    x, y, z = (value for value in found if value is not None)
    reading.points[name].append((x, y, z))
    if cell("knuckle").lower() not in (*BLANKS, "no", "0"):
        reading.knuckles[name].append(x)


def _take_kind(
    number: int, name: str, word: str, columns: Mapping[str, Column], reading: _TableRead
) -> None:
    kinds: tuple[LineKind, ...] = get_args(LineKind)
    kind = next((known for known in kinds if known == word.lower()), None)
    if kind is not None and reading.kinds.setdefault(name, kind) == kind:
        return
    if word:
        sentence = f"The kind of a line is one of {', '.join(kinds)}, the same in every row."
        heading = columns["kind"].heading
        reading.trouble.append(NotUnderstood(number, heading, word, sentence))


def _read_offsets(table: PastedTable, options: TableAsked, reading: _TableRead) -> set[str]:
    number, head = table.rows[0]
    below = [(number, head[1:])]
    first = Column(0, head[0], unit_of_heading(head[0]))
    stations = _with_unit(first, "x", below, options.unit)
    xs = [reading.length(number, stations, text) for text in head[1:]]
    found: dict[str, dict[int, dict[str, float]]] = defaultdict(lambda: defaultdict(dict))
    units = set()
    for row, (heading, *cells) in table.rows[1:]:
        name, axis = _name_and_axis(heading)
        if not axis:
            sentence = "A row is called NAME half-breadth or NAME height."
            reading.trouble.append(NotUnderstood(row, head[0], heading, sentence))
            continue
        column = Column(0, heading, unit_of_heading(heading))
        column = _with_unit(column, axis, [(row, cells)], options.unit)
        units.add(column.unit)
        for k, value in _offsets_in(row, cells[: len(xs)], (head, column.unit), reading):
            found[name][k][axis] = value
    for name, by_station in found.items():
        reading.points[name] += _places(xs, by_station, is_centreline(name))
    return units


def _offsets_in(
    row: int, cells: list[str], under: tuple[list[str], str], reading: _TableRead
) -> Iterator[tuple[int, float]]:
    """Number of the station and length [m] of each cell that is not empty."""
    head, unit = under
    for k, text in enumerate(cells):
        if text.strip().lower() not in BLANKS:
            station = Column(k, f"station {head[k + 1].strip()}", unit)
            value = reading.length(row, station, text.strip())
            if value is not None:
                yield k, value


def _places(
    xs: list[float | None], by_station: dict[int, dict[str, float]], is_centreline: bool
) -> list[PointOfTable]:
    """Points of a line where station, half-breadth and height are all known."""
    places = []
    for k, place in sorted(by_station.items()):
        x, z = xs[k], place.get("z")
        y = place.get("y", 0.0 if is_centreline else None)
        if x is not None and y is not None and z is not None:
            places.append((x, y, z))
    return places


def _with_unit(
    column: Column, name: str, rows: list[tuple[int, list[str]]], given: str
) -> Column:
    """The column with its unit: its heading's, or the one given; asked for where needed."""
    if name not in ("x", "y", "z") or column.unit:
        return column
    if given:
        return Column(column.place, column.heading, known_unit(given))
    texts = [
        fields[column.place].strip()
        for _, fields in rows
        if column.place < len(fields) and fields[column.place].strip().lower() not in BLANKS
    ]
    for text in texts:
        try:
            length_of(text)
        except ModelError as error:
            if error.code == "unit-missing":
                sentence = (
                    f"What is the unit of column {column.heading!r}: metres, millimetres, "
                    f"feet, feet-inches-eighths? Choose it, or put it in as {name}_mm."
                )
                raise ModelError("unit-missing", sentence) from error
    return column


def _name_and_axis(heading: str) -> tuple[str, str]:
    """The line's name and y or z of a row of a table of offsets; "" where it says neither."""
    words = " ".join(heading.lower().replace("_", " ").split())
    for word, axis in (
        ("half-breadth", "y"),
        ("half breadth", "y"),
        ("halfbreadth", "y"),
        ("height", "z"),
    ):
        before, found, _ = words.partition(word)
        if found and before.strip():
            return line_name(before), axis
    return "", ""


def line_name(text: str) -> str:
    """The key of a line that is called so."""
    kept = "".join(c if c.isascii() and c.isalnum() else " " for c in text.lower())
    return "-".join(kept.split())[:60]


def is_centreline(name: str) -> bool:
    """Whether a line that is called so runs along the middle of the bottom."""
    return name in ("centreline", "centerline", "keel", "keel-line", "profile", "rabbet")


def _found(reading: _TableRead, units: set[str]) -> FoundLines:
    if not any(reading.points.values()):
        first = reading.trouble[0] if reading.trouble else None
        where = f" Row {first.row}, {first.column}: {first.sentence}" if first else ""
        raise ModelError("not-a-lines-table", f"The table has no readable point.{where}")
    lines = in_order(
        tuple(
            LineInput(
                name,
                reading.kinds.get(name) or line_kind(name),
                tuple(points),
                tuple(reading.knuckles[name]),
            )
            for name, points in reading.points.items()
            if points
        )
    )
    last = max((COARSE.get(unit, 0.001) for unit in units), default=0.001)
    plus_minus = max(READING_SD, last / 2.0)
    worth = (
        f"Each reading is taken to be accurate to ±{mm_of_m(plus_minus):.0f} mm, as is usual "
        "with tape and level (common practice, no source)."
    )
    notes = tuple(_notes(lines, units))
    return FoundLines(
        "points",
        lines,
        plus_minus,
        worth,
        notes=notes,
        missing=missing_lines(lines),
        not_understood=tuple(reading.trouble),
    )


def _notes(lines: tuple[LineInput, ...], units: set[str]) -> list[str]:
    x = [point[0] for line in lines for point in line.points]
    long = max(x) - min(x)
    notes = [f"Read as {long:.2f} m long ({feet_and_inches(long)})."]
    if long < 2.0 or long > 60.0:
        named = ", ".join(sorted(unit or "as in each cell" for unit in units))
        notes.append(f"That is unusual for a boat: is the unit right ({named})?")
    return notes


def line_kind(name: str, word: str = "") -> LineKind:
    """The kind of a line, by a word for it or else by its name."""
    kinds: tuple[LineKind, ...] = get_args(LineKind)
    for kind in kinds:
        if kind == word.strip().lower():
            return kind
    if "sheer" in name or name in ("gunwale", "deck-edge"):
        return "sheer"
    return "chine" if "chine" in name or "knuckle" in name else "fair"


def in_order(lines: tuple[LineInput, ...]) -> tuple[LineInput, ...]:
    """The lines with the centreline first and the sheer last, the others as they were given.

    Where all were given from the sheer down they are turned round.
    """

    def rank(line: LineInput) -> int:
        if line.kind == "sheer":
            return 2
        return 0 if is_centreline(line.name) or all(p[1] == 0.0 for p in line.points) else 1

    ranks = [rank(line) for line in lines]
    heights = [
        sum(point[2] for point in line.points) / len(line.points)
        for line, number in zip(lines, ranks, strict=True)
        if number == 1
    ]
    is_down = {0, 2} <= set(ranks) and ranks.index(2) < ranks.index(0)
    is_down = is_down and all(a > b for a, b in pairwise(heights))
    return tuple(sorted(reversed(lines) if is_down else lines, key=rank))


def missing_lines(lines: tuple[LineInput, ...]) -> tuple[str, ...]:
    """What is still wanted before these lines are a hull, one sentence each."""
    missing = []
    if not any(is_centreline(line.name) or _is_flat(line) for line in lines):
        missing.append(
            "The centreline is missing: the profile of the bottom from stem to stern."
        )
    if not any(line.kind == "sheer" for line in lines):
        missing.append("The sheer is missing: the edge of the deck from stem to stern.")
    long = [line for line in lines if len(line.points) >= 2]
    missing += [
        f"Line {id_in_words(line.name)} has only one point: it needs both ends."
        for line in lines
        if len(line.points) < 2
    ]
    ends = [(min(p[0] for p in line.points), max(p[0] for p in line.points)) for line in long]
    if len(ends) >= 2:
        missing += _missing_ends(long, ends)
    return tuple(missing)


def _is_flat(line: LineInput) -> bool:
    return line.kind != "sheer" and all(abs(point[1]) <= READING_SD for point in line.points)


END_SHARE = 0.12
"""Of the length, how far a line's end may be from the others' before it is asked about."""


def _missing_ends(lines: list[LineInput], ends: list[tuple[float, float]]) -> list[str]:
    fore, aft = min(e[0] for e in ends), max(e[1] for e in ends)
    most = END_SHARE * (aft - fore)
    asked = []
    for line, (first, last) in zip(lines, ends, strict=True):
        for gap, name, x in ((first - fore, "fore", first), (aft - last, "after", last)):
            if gap > most:
                asked.append(
                    f"Line {id_in_words(line.name)} ends at x {x:.2f} m, {gap:.2f} m short of "
                    f"the others: is its {name} end missing?"
                )
    return asked
