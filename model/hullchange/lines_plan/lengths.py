"""Lengths as the plan writes them: one place for the unit of every number on it."""

from typing import Literal

from hullchange.units import mm_of_m


def length_text(length: float, unit: Literal["m", "mm"]) -> str:
    """A length [m] in whole millimetres, or in metres to the millimetre.

    >>> length_text(1.2346, "mm"), length_text(-0.0001, "mm"), length_text(1.2346, "m")
    ('1235', '0', '1.235')
    """
    if unit == "mm":
        return f"{round(mm_of_m(length)):d}"
    return f"{length:.3f}"


def level_name(level: float) -> str:
    """The name of a waterline or buttock by its height or half-breadth [m].

    >>> level_name(0.0), level_name(-0.2), level_name(0.25)
    ('DWL', '-0.20', '0.25')
    """
    return "DWL" if level == 0.0 else f"{level:.2f}"
