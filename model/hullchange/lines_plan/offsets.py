"""Tables of offsets: the lines faired, at the stations, and as they were read."""

from dataclasses import dataclass

import numpy as np

from hullchange.hull.lines import HullLine
from hullchange.lines_plan.on_section import lowest_height, widest_at
from hullchange.lines_plan.plan import LinesPlan, PlanStation
from hullchange.present.csv_table import CsvTable
from hullchange.present.export import AXES

HEIGHTS, HALF_BREADTHS = "Heights above the design waterline", "Half-breadths"
NOTE = (
    "Faired: on the curves through the points of the lines, straight across from line to "
    "line; no plate thickness is added or deducted. The points are in lines.csv."
)
NOT_MET = "-"


@dataclass(frozen=True)
class OffsetRow:
    """One curve at every station.

    Attributes:
        group: heights or half-breadths.
        name: of the curve.
        key: the same as a column of a file.
        values: [m], one for each station; None where the curve does not reach.
    """

    group: str
    name: str
    key: str
    values: tuple[float | None, ...]


@dataclass(frozen=True)
class PaperTable:
    """A table in words.

    Attributes:
        title: above it.
        heads: rows above the columns, the first cell of each over the names.
        rows: cells, the first one the name; a row of one cell is a heading.
    """

    title: str
    heads: tuple[tuple[str, ...], ...]
    rows: tuple[tuple[str, ...], ...]


def offset_rows(plan: LinesPlan) -> tuple[OffsetRow, ...]:
    """Every curve of the plan at its stations, heights first."""
    lines = plan.hull.lines.lines[1:]
    sheer = plan.hull.lines.sheer
    heights = [
        ("centreline", "centreline", [_height(s, 0.0) for s in plan.stations]),
        *((_words(one), one.name, _on(one, plan, 1)) for one in lines),
        ("deck, middle", "deck-middle", [_deck(plan, sheer, s) for s in plan.stations]),
        *(
            (
                f"buttock {plan.lengths.level(b)}",
                f"buttock-{plan.lengths.key(b)}",
                [_height(s, b) for s in plan.stations],
            )
            for b in plan.buttocks
        ),
    ]
    breadths = [
        *((_words(one), one.name, _on(one, plan, 0)) for one in lines),
        *(
            (
                _waterline(z, plan),
                _waterline_key(z, plan),
                [_breadth(s, z) for s in plan.stations],
            )
            for z in reversed(plan.waterlines)
        ),
    ]
    return tuple(
        OffsetRow(group, name, f"{key}_{axis}_m", tuple(values))
        for group, axis, rows in ((HEIGHTS, "z", heights), (HALF_BREADTHS, "y", breadths))
        for name, key, values in rows
    )


def offsets_csv(plan: LinesPlan) -> CsvTable:
    """A row for each station, a column for each curve."""
    rows = offset_rows(plan)
    columns = ("station", "x_m", *(row.key for row in rows))
    cells = zip(*(row.values for row in rows), strict=True)
    return CsvTable(
        columns,
        tuple(
            (station.number, station.x, *(None if c is None else round(c, 4) for c in values))
            for station, values in zip(plan.stations, cells, strict=True)
        ),
        (AXES, NOTE),
    )


def faired_table(plan: LinesPlan) -> PaperTable:
    """The table of offsets for paper, in the plan's own lengths."""
    rows: list[tuple[str, ...]] = []
    group = ""
    for row in offset_rows(plan):
        if row.group != group:
            rows.append((row.group,))
            group = row.group
        cells = (NOT_MET if v is None else plan.lengths.offset(v) for v in row.values)
        rows.append((row.name, *cells))
    heads = (
        ("Station", *(station.name for station in plan.stations)),
        (plan.lengths.x_head, *(plan.lengths.length(s.x) for s in plan.stations)),
    )
    return PaperTable(
        f"Table of offsets, faired ({plan.lengths.of_tables})", heads, tuple(rows)
    )


def readings_table(plan: LinesPlan) -> PaperTable:
    """The points as read for paper, and how far each stands off, where that is known."""
    judged = any(point.off_mm is not None for point in plan.readings)
    most = 0
    rows: list[tuple[str, ...]] = []
    for line in dict.fromkeys(point.line for point in plan.readings):
        points = [point for point in plan.readings if point.line == line]
        most = max(most, len(points))
        rows.append((line.replace("-", " "),))
        for k, name in enumerate(("x", "half-breadth", "height")):
            rows.append((name, *(plan.lengths.offset(point.at[k]) for point in points)))
        if judged:
            offs = (NOT_MET if p.off_mm is None else plan.lengths.off(p.off_mm) for p in points)
            rows.append((plan.lengths.off_head, *offs))
    heads = (("Point", *(str(number) for number in range(1, most + 1))),)
    title = f"Points of the lines, {plan.as_given} ({plan.lengths.of_tables})"
    return PaperTable(title, heads, tuple(rows))


def _words(line: HullLine) -> str:
    return line.name.replace("-", " ")


def _waterline(level: float, plan: LinesPlan) -> str:
    return "design waterline" if level == 0.0 else f"waterline {plan.lengths.level(level)}"


def _waterline_key(level: float, plan: LinesPlan) -> str:
    sign = "-" if level < 0.0 else "+"
    return f"waterline{sign}{plan.lengths.key(abs(level))}"


def _on(line: HullLine, plan: LinesPlan, column: int) -> list[float | None]:
    return [
        float(line.at(np.array([s.x]))[0, column])
        if line.fore_x <= s.x <= line.aft_x and s.section is not None
        else None
        for s in plan.stations
    ]


def _deck(plan: LinesPlan, sheer: HullLine, station: PlanStation) -> float | None:
    if not sheer.fore_x <= station.x <= sheer.aft_x:
        return None
    return float(plan.hull.deck_z(np.array([station.x]), np.zeros(1))[0])


def _height(station: PlanStation, breadth: float) -> float | None:
    return None if station.section is None else lowest_height(station.section, breadth)


def _breadth(station: PlanStation, level: float) -> float | None:
    return None if station.section is None else widest_at(station.section, level)
