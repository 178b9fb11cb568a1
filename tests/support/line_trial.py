"""One slip at a time in measured lines, and whether the check names it."""

from dataclasses import replace

import numpy as np
from line_families import exact, line_inputs

from hullchange.hull.line_causes import swapped_digits
from hullchange.hull.line_check import LineCheck, Reading
from hullchange.hull.line_process import HALF_BREADTH, HEIGHT
from hullchange.hull.lines import HullLine
from hullchange.hull.taped import straight
from hullchange.hull.tapes_asked import tapes_asked

KINDS = ("30", "60", "100", "digits", "wrong-line", "sign", "wrong-station")
LEAST = 0.03  # [m] below which a change is no slip
TRIES = 60


def hull_lines(hull, points):
    """Lines of readings as they are, refused by nothing."""
    return tuple(
        HullLine(given.name, given.kind, np.array(given.points), given.knuckles)
        for given in line_inputs(hull, points)
    )


def checked(hull, points, tapes=()):
    """The check of readings."""
    return LineCheck(hull_lines(hull, points), tapes)


def suspects(check):
    """What does not fit, the surest first."""
    named = [off for off in check.offs() if off.is_named]
    return sorted(named, key=lambda off: -abs(off.off) / off.sd)


def is_named(check, reading):
    """Whether the first that is named is the point, or the one next to it on its line."""
    named = suspects(check)[:1]
    return any(
        o.reading.line == reading.line and abs(o.reading.index - reading.index) <= 1
        for o in named
    )


def taped_as_asked(hull, check, sd, rng):
    """The distances that are asked for, taped on the hull as drawn with errors of sd [m]."""
    drawn = hull_lines(hull, exact(hull))
    found = []
    for asked in tapes_asked(check):
        length, _ = straight(drawn, asked.tape)
        taped = replace(asked.tape, distance=length + rng.normal(0.0, sd), sd=sd)
        found.append(taped)
    return found


def slipped(points, rng, kind):
    """Points with one slip of a kind, and its reading; another place where none can be made."""
    for _ in range(TRIES):
        line = int(rng.integers(0, len(points)))
        index = int(rng.integers(0, len(points[line])))
        column = HEIGHT if line == 0 or kind == "sign" else int(rng.integers(1, 3))
        old = points[line][index, column]
        new = _slip(points, rng, kind, Reading(line, index, column))
        if new is None or (column == HALF_BREADTH and new < 0.0) or abs(new - old) < LEAST:
            continue
        found = [read.copy() for read in points]
        found[line][index, column] = new
        return found, Reading(line, index, column)
    raise AssertionError(f"no slip of kind {kind} can be made here")


def _slip(points, rng, kind, reading):
    own, index, column = points[reading.line], reading.index, reading.column
    old, side = float(own[index, column]), int(rng.choice([-1, 1]))
    if kind.isdecimal():
        return old + side * int(kind) / 1000.0
    if kind == "digits":
        many = [v for v in swapped_digits(old) if abs(v - old) >= LEAST]
        return float(rng.choice(many)) if many else None
    if kind == "sign":
        return -old
    if kind == "wrong-line":
        other = reading.line + side
        if reading.line == 0 or not 1 <= other < len(points):
            return None
        nearest = int(np.argmin(np.abs(points[other][:, 0] - own[index, 0])))
        return float(points[other][nearest, column])
    return float(own[index + side, column]) if 0 <= index + side < len(own) else None
