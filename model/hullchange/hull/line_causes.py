"""What may have happened to a reading that does not fit: a slip that people make."""

from collections.abc import Iterator, Sequence

import numpy as np

from hullchange.hull.line_check import Off, Reading
from hullchange.hull.line_process import HEIGHT
from hullchange.hull.lines import HullLine
from hullchange.plain_words import id_in_words
from hullchange.units import m_of_mm, mm_of_m

MISREAD = (0.1, 0.5, 1.0)  # [m] by which a rule or tape is misread
SAME = 0.002  # [m] within which two readings are the same one, written twice
NEAREST = 0.015  # [m] at least, within which a slip explains what was expected
PART = 0.25  # of what a reading stands off, within which any slip must explain it
GROSS_PART = 0.05  # of the same, always let pass: a gross slip moves what is expected
FURTHER = 0.03  # [m] by which a misread tape must explain it better than a commoner slip
DIGITS = 4  # of a reading in millimetres


def cause_of(lines: Sequence[HullLine], off: Off) -> str:
    """A slip that would explain a reading, as a question; empty where none is plain.

    Args:
        lines: from the centreline to the sheer.
        off: the reading, and how far it is off.
    """
    value = _value(lines, off.reading)
    if value is None:
        return ""
    expected = value - off.off
    copied = next(_copied(lines, off.reading, value, expected, _near(off)), "")
    if copied:
        return copied
    slips = [
        (abs(meant - expected) + doubt, words)
        for meant, words, doubt in _slips(off.reading, value)
        if abs(meant - expected) < _near(off)
    ]
    return min(slips)[1] if slips else ""


def swapped_digits(value: float) -> tuple[float, ...]:
    """What a reading [m] would be with two of its neighbouring digits exchanged.

    >>> swapped_digits(1.83)
    (8.13, 1.38, 1.803)
    """
    text = f"{abs(round(mm_of_m(value))):0{DIGITS}d}"
    found = (
        m_of_mm(float(f"{text[:k]}{text[k + 1]}{text[k]}{text[k + 2 :]}"))
        for k in range(len(text) - 1)
        if text[k] != text[k + 1]
    )
    return tuple(round(-v if value < 0.0 else v, 3) for v in found)


def _near(off: Off) -> float:
    """[m] within which a slip explains what was expected: a small part of what it is off by."""
    away = abs(off.off)
    return max(min(3.0 * off.sd, PART * away), GROSS_PART * away, NEAREST)


def _value(lines: Sequence[HullLine], reading: Reading) -> float | None:
    if not 0 <= reading.index < len(lines[reading.line].points):
        return None
    return float(lines[reading.line].points[reading.index, reading.column])


def _slips(reading: Reading, value: float) -> Iterator[tuple[float, str, float]]:
    """What may have been meant [m], in words, and by how much it is believed less."""
    for meant in swapped_digits(value):
        yield meant, f"{meant:.3f} read as {value:.3f}, two digits swapped?", 0.0
    if reading.column == HEIGHT:
        yield -value, f"{-value:+.3f} read as {value:+.3f}, wrong sign?", 0.0
    for step in MISREAD if abs(value) > SAME else ():  # a reading of nothing is a datum
        for meant in (value - step, value + step):
            yield meant, f"{meant:.3f} read as {value:.3f}, {step:g} m misread?", FURTHER


def _copied(
    lines: Sequence[HullLine], reading: Reading, value: float, expected: float, near: float
) -> Iterator[str]:
    """Where the reading stands again: in the line next to it, or at the next station."""
    x = lines[reading.line].points[reading.index, 0]
    for other in (reading.line - 1, reading.line + 1):
        if not (1 if reading.column != HEIGHT else 0) <= other < len(lines):
            continue
        index = int(np.argmin(np.abs(lines[other].points[:, 0] - x)))
        theirs = float(lines[other].points[index, reading.column])
        name = lines[other].plain_name
        if abs(theirs - value) < SAME:
            yield f"the reading of {id_in_words(name)} entered here?"
        elif abs(theirs - expected) < near and _would_fit(lines, other, index, reading, value):
            yield f"swapped with {id_in_words(name)}, which reads {theirs:.3f} there?"
    for index in (reading.index - 1, reading.index + 1):
        theirs_there = _value(lines, Reading(reading.line, index, reading.column))
        if theirs_there is not None and abs(theirs_there - value) < SAME:
            there = lines[reading.line].points[index, 0]
            yield f"the reading of the next station, x {there:.2f} m, entered here?"


def _would_fit(
    lines: Sequence[HullLine], other: int, index: int, reading: Reading, value: float
) -> bool:
    """Whether a value would lie between the points beside one of another line."""
    points = lines[other].points
    if not 0 < index < len(points) - 1:
        return False
    x, column = points[:, 0], reading.column
    share = (x[index] - x[index - 1]) / (x[index + 1] - x[index - 1])
    between = points[index - 1, column] * (1.0 - share) + points[index + 1, column] * share
    theirs = points[index, column]
    return bool(abs(value - between) < abs(theirs - between) / 2.0)
