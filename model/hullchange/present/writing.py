"""How tables are written: metric or feet, pounds and gallons; with a point or a comma.

Numbers stay numbers: lengths are decimals of a foot or an inch, so that a spreadsheet works on
them. Thicknesses stay in millimetres, as steel is ordered: common practice, no source.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Literal

from hullchange.present.csv_table import Cell, CsvTable, Heads
from hullchange.quantity_text import FOOT, INCH, POUND, UNITS

UnitSystem = Literal["metric", "imperial"]
DecimalWord = Literal["point", "comma"]
_FT, _IN, _LB = float(FOOT), float(INCH), float(POUND)

IMPERIAL: Mapping[str, tuple[str, float]] = MappingProxyType(
    {
        "kgm_per_cm": ("ftlb_per_in", _IN * 100.0 / (_LB * _FT)),
        "kg_per_cm": ("lb_per_in", _IN * 100.0 / _LB),
        "kg_m3": ("lb_ft3", _FT**3 / _LB),
        "kg_m2": ("lb_ft2", _FT**2 / _LB),
        "kgm": ("ftlb", 1.0 / (_LB * _FT)),
        "m_rad": ("ft_rad", 1.0 / _FT),
        "m_deg": ("ft_deg", 1.0 / _FT),
        "cm2": ("in2", 1e-4 / _IN**2),
        "m2": ("ft2", _FT**-2),
        "m3": ("ft3", _FT**-3),
        "mm": ("in", 1e-3 / _IN),
        "kg": ("lb", 1.0 / _LB),
        "l": ("us_gal", 1.0 / float(UNITS["volume"]["us gal"])),
        "m": ("ft", 1.0 / _FT),
    }
)
"""By the unit a column ends in: the other one, and how many of these one of it is."""
_SPELT: Mapping[str, str] = MappingProxyType(
    {"kg m/cm": "kgm_per_cm", "kg/cm": "kg_per_cm", "kg/m3": "kg_m3", "kg/m2": "kg_m2"}
    | {"kg m": "kgm", "m rad": "m_rad", "m deg": "m_deg"}
)
"""Units as a cell spells them."""
OWN_UNITS = ("multiplier", "product_m2", "moment_m2")
"""Columns of sums whose method is in metres: their table stays as it is."""
UNIT_COLUMN, IN_THAT_UNIT = "unit", ("value", "plus_minus", "limit")
IN_FEET = "feet, inches, pounds and US gallons; thicknesses in millimetres"


@dataclass(frozen=True)
class Writing:
    """How numbers of a table are written.

    Attributes:
        units: of the columns.
        decimal: the decimal sign; with a comma semicolons part the cells.
    """

    units: UnitSystem = "metric"
    decimal: DecimalWord = "point"

    @property
    def separator(self) -> str:
        """What parts the cells of a row."""
        return "," if self.decimal == "point" else ";"

    @property
    def name(self) -> str:
        """For a file's name; empty for metric with a point."""
        feet = "imperial" if self.units == "imperial" else ""
        return "-".join(filter(None, (feet, "comma" if self.decimal == "comma" else "")))

    def table(self, table: CsvTable) -> CsvTable:
        """The table with its columns in the chosen units."""
        return table if self.units == "metric" else _in_feet(table)

    def heads(self, heads: Heads, columns: tuple[str, ...] = ()) -> Heads:
        """What stands above a table of these columns, with its units if not metric."""
        is_metric = self.units == "metric" or _has_own_units(columns)
        return heads if is_metric else (*heads, ("units", IN_FEET))


PLAIN = Writing()


def _has_own_units(columns: tuple[str, ...]) -> bool:
    return any(name in OWN_UNITS for name in columns)


def _in_feet(table: CsvTable) -> CsvTable:
    """The table in feet, inches, pounds and gallons, each unit in its column's name."""
    if _has_own_units(table.columns):
        return table
    columns = [_column(name) for name in table.columns]
    rows = tuple(
        tuple(convert(cell) for (_, convert), cell in zip(columns, row, strict=True))
        for row in table.rows
    )
    names = tuple(name for name, _ in columns)
    renamed = dict(zip(table.columns, names, strict=True))
    notes = tuple(
        re.sub(r"[a-z][a-z0-9_]*", lambda word: renamed.get(word[0], word[0]), note)
        for note in table.notes
    )
    return _by_its_unit(replace(table, columns=names, rows=rows, notes=notes))


def _column(name: str) -> tuple[str, Callable[[Cell], Cell]]:
    """The name of a column in the other units, and what its cells become."""
    if name.endswith("thickness_mm"):
        return name, _same
    for unit, (other, times) in IMPERIAL.items():
        if f"_{name}".endswith(f"_{unit}"):
            return name.removesuffix(unit) + other, _times(times)
    return name, _same


def _same(cell: Cell) -> Cell:
    return cell


def _times(times: float) -> Callable[[Cell], Cell]:
    def converted(cell: Cell) -> Cell:
        if isinstance(cell, bool) or not isinstance(cell, int | float):
            return cell
        return cell * times

    return converted


def _by_its_unit(table: CsvTable) -> CsvTable:
    """A table whose rows each name the unit of their figures."""
    if UNIT_COLUMN not in table.columns:
        return table
    at = table.columns.index(UNIT_COLUMN)
    figures = [table.columns.index(name) for name in IN_THAT_UNIT if name in table.columns]
    return replace(table, rows=tuple(_row(row, at, figures) for row in table.rows))


def _row(row: tuple[Cell, ...], at: int, figures: list[int]) -> tuple[Cell, ...]:
    unit = str(row[at])
    found = IMPERIAL.get(_SPELT.get(unit, unit))
    if found is None:
        return row
    other, times = found
    cells = {n: _times(times)(row[n]) for n in figures} | {at: other.replace("_", " ")}
    return tuple(cells.get(n, cell) for n, cell in enumerate(row))
