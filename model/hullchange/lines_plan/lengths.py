"""Lengths as the plan writes them: one place for the unit of every number on it."""

from dataclasses import dataclass

from hullchange.present.writing import UnitSystem
from hullchange.quantity_text import FOOT, INCH, POUND, feet_inches_eighths
from hullchange.units import mm_of_m

_INCHES_PER_FOOT = 12


@dataclass(frozen=True)
class LengthStyle:
    """How a plan writes lengths: metric.

    Attributes:
        of_tables: the unit of the tables, in words.
        on_sheet: that of the words beside the views.
        foot: both, as the foot of the sheet says it.
        x_head: above the places of the stations.
        off_head: beside how far points stand off.
        steps: that waterlines and buttocks lie apart [m].
        scales: 1 to so much.
        well_seen: the scale that the paper is chosen for.
        bar: unit of the scale's bar, its length [m], parts of it.
        bars: how many of them it may have.
    """

    of_tables: str
    on_sheet: str
    foot: str
    x_head: str
    off_head: str
    steps: tuple[float, ...]
    scales: tuple[int, ...]
    well_seen: int
    bar: tuple[str, float, int]
    bars: tuple[int, ...]

    def offset(self, length: float) -> str:
        """A length [m] of a table.

        >>> METRIC.offset(1.2346), METRIC.offset(-0.0001), FEET.offset(1.787525)
        ('1235', '0', '5-10-3')
        """
        return f"{round(mm_of_m(length)):d}"

    def length(self, length: float) -> str:
        """A length [m] by itself, without its unit.

        >>> METRIC.length(1.2346), FEET.length(1.787525)
        ('1.235', '5-10-3')
        """
        return f"{length:.3f}"

    def with_unit(self, length: float) -> str:
        """A length [m] with its unit.

        >>> METRIC.with_unit(1.2346), FEET.with_unit(1.787525)
        ('1.235 m', '5-10-3')
        """
        return f"{self.length(length)} m"

    def small(self, length: float) -> str:
        """A small length [m], such as an error, with its unit.

        >>> METRIC.small(0.005), FEET.small(0.005)
        ('5 mm', '0.20 in')
        """
        return f"{self.offset(length)} mm"

    def off(self, off_mm: float) -> str:
        """How far a point stands off, in the unit that its row names."""
        return f"{off_mm:.0f}"

    def mass(self, mass: float) -> str:
        """A mass [kg] with its unit."""
        return f"{mass:,.0f} kg"

    def level(self, level: float) -> str:
        r"""The name of a waterline or buttock by its height or half-breadth [m].

        >>> METRIC.level(0.0), METRIC.level(-0.2), METRIC.level(0.25)
        ('DWL', '-0.20', '0.25')
        >>> [FEET.level(n * 0.0762) for n in (0, -2, 4, 6)]
        ['DWL', '-6"', "1'", '1\' 6"']
        """
        return "DWL" if level == 0.0 else f"{level:.2f}"

    def key(self, level: float) -> str:
        """A level [m] in the name of a column, in the unit of the file.

        >>> METRIC.key(0.25), FEET.key(0.3048)
        ('0.250', '1.000')
        """
        return f"{level:.3f}"


@dataclass(frozen=True)
class InFeet(LengthStyle):
    """How a plan writes lengths: feet-inches-eighths, a sixteenth more as a plus."""

    def offset(self, length: float) -> str:
        """A length [m] as shipwrights write it."""
        return feet_inches_eighths(length)

    def length(self, length: float) -> str:
        """A length [m] as an offset."""
        return feet_inches_eighths(length)

    def with_unit(self, length: float) -> str:
        """A length [m] as an offset, whose unit is seen."""
        return feet_inches_eighths(length)

    def small(self, length: float) -> str:
        """A small length [m] in hundredths of an inch."""
        return f"{length / float(INCH):.2f} in"

    def off(self, off_mm: float) -> str:
        """In hundredths of an inch."""
        return f"{off_mm / mm_of_m(float(INCH)):.2f}"

    def mass(self, mass: float) -> str:
        """A mass [kg] in pounds."""
        return f"{mass / float(POUND):,.0f} lb"

    def level(self, level: float) -> str:
        """A level [m] in feet and inches, which are whole."""
        if level == 0.0:
            return "DWL"
        feet, inches = divmod(round(abs(level) / float(INCH)), _INCHES_PER_FOOT)
        words = [f"{feet}'"] if feet else []
        words += [f'{inches}"'] if inches else []
        return f"{'-' if level < 0.0 else ''}{' '.join(words)}"

    def key(self, level: float) -> str:
        """A level [m] in feet."""
        return f"{level / float(FOOT):.3f}"


METRIC = LengthStyle(
    of_tables="millimetres",
    on_sheet="metres",
    foot="lengths in metres, tables in millimetres",
    x_head="x, m",
    off_head="off",
    steps=(0.05, 0.1, 0.2, 0.25, 0.3, 0.4, 0.5, 1.0, 2.0, 5.0),
    scales=(10, 15, 20, 25, 50, 100, 200),
    well_seen=25,
    bar=("m", 1.0, 10),
    bars=(10, 5, 4, 3, 2, 1),
)
FEET = InFeet(
    of_tables="feet-inches-eighths; + is a sixteenth more",
    on_sheet="feet and inches",
    foot="lengths in feet-inches-eighths",
    x_head="x",
    off_head="off, in",
    steps=tuple(quarters * float(FOOT) / 4.0 for quarters in (1, 2, 4, 8, 12, 20)),
    scales=(8, 12, 16, 24, 32, 48, 96, 192),
    well_seen=24,
    bar=("ft", float(FOOT), _INCHES_PER_FOOT),
    bars=(30, 20, 10, 5, 4, 3, 2, 1),
)


def length_style(units: UnitSystem) -> LengthStyle:
    """How lengths are written in a system of units."""
    return FEET if units == "imperial" else METRIC
