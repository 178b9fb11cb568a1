"""Which distances to tape to check the readings that no other reading checks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from hullchange.geometry.frame import FloatArray, Indices
from hullchange.hull.line_check import NEVER, LineCheck, Reading
from hullchange.hull.lines import READING_SD, HullLine
from hullchange.hull.taped import MeasuredPoint, Taped, TapeRows, rows_of, straight

MOST = 12
"""Distances asked for.  With 5 of them 73 % of slips of 60 mm are named, with 9 82 %, with 12
86 to 88 % (own trials)."""
WORTH = 1.0  # readings that a distance must make judged to be asked for
TOLD, UNTOLD = 0.008, 0.016  # [m] scatter with which a slip of 60 mm shows surely, or does not
UNTOLD_READING = 0.0105  # [m] scatter from which a distance is looked for
SHORTEST, LONGEST = 0.10, 8.0  # [m] to be taped well, by two people


@dataclass(frozen=True)
class Asked:
    """A distance to tape.

    Attributes:
        tape: its two points, and the distance [m] to expect by the readings.
        tells: the readings that it makes judged.
    """

    tape: Taped
    tells: tuple[Reading, ...]


def tapes_asked(check: LineCheck) -> tuple[Asked, ...]:
    """Distances that pay, what tells most first; each for what those before it have left.

    Args:
        check: the readings compared, with what is taped already.
    """
    if not check.readings:
        return ()
    where = {(r.line, r.index, r.column): n for n, r in enumerate(check.readings)}
    sd = 1.0 / np.sqrt(_worth(check, check.rows)[0])
    tapes = list(_candidates(check, np.flatnonzero(sd > UNTOLD_READING)))
    rows, have = rows_of(check.lines, tapes, where), check.rows
    found: list[Asked] = []
    while tapes and len(found) < MOST - len(check.tapes):
        worth, whole = _worth(check, have)
        more = worth + _added(check, have, rows, whole)
        gain = _told(more) - _told(worth)
        best = int(np.argmax(gain.sum(axis=1)))
        if gain[best].sum() < WORTH:
            break
        tells = np.flatnonzero(gain[best] > 0.5)
        found.append(Asked(tapes[best], tuple(check.readings[n] for n in tells)))
        have = have.and_row(rows, best)
    return tuple(found)


def _worth(check: LineCheck, rows: TapeRows) -> tuple[FloatArray, FloatArray]:
    """(n,) 1/variance of a slip of each reading [1/m^2], and the information it is from."""
    whole = check.information(check.surprise, rows)
    slips = np.vstack([np.eye(len(check.readings)), rows.by_reading])
    worth = (slips * (whole @ slips)).sum(axis=0)
    return np.maximum(worth, 1.0 / NEVER), whole


def _added(check: LineCheck, have: TapeRows, rows: TapeRows, whole: FloatArray) -> FloatArray:
    """(m, n) what each further distance adds to that [1/m^2]."""
    errors = check.errors
    shared = np.hstack([rows.by_reading * errors, rows.shared_with(have, errors)])
    slips = np.vstack([np.eye(len(check.readings)), have.by_reading])
    own = np.diag(rows.covariance(errors))
    left = own - np.einsum("ij,ij->i", shared @ whole, shared)
    beyond = rows.by_reading - shared @ (whole @ slips)
    return np.asarray(beyond**2 / np.maximum(left, rows.tape_variance)[:, None])


def _told(worth: FloatArray) -> FloatArray:
    """How surely a slip shows, 0 to 1."""
    return np.clip((UNTOLD - 1.0 / np.sqrt(worth)) / (UNTOLD - TOLD), 0.0, 1.0)


def _candidates(check: LineCheck, untold: Indices) -> Iterator[Taped]:
    """Tapes from points that nothing else checks to points nearby, and across the boat."""
    points = {(check.readings[n].line, check.readings[n].index) for n in untold}
    known: set[tuple[MeasuredPoint, MeasuredPoint]] = {
        (tape.first, tape.second) for tape in check.tapes
    }
    for line, index in sorted(points):
        here = MeasuredPoint(line, index)
        near = list(_near(check.lines, line, index))
        pairs = [(here, MeasuredPoint(*other)) for other in near]
        pairs += [
            (here, MeasuredPoint(*other, is_port=True))
            for other in ((line, index), *near)
            if line > 0 and other[0] > 0
        ]
        for first, second in pairs:
            low, high = sorted((first, second), key=lambda p: (p.line, p.index, p.is_port))
            first, second = (low, high) if not low.is_port else (first, second)
            tape = Taped(first, second, 0.0, READING_SD)
            length, _ = straight(check.lines, tape)
            is_breadth = second.is_port and (first.line, first.index) == (
                second.line,
                second.index,
            )
            long_enough = length > (0.0 if is_breadth else SHORTEST)
            if (first, second) not in known and long_enough and length < LONGEST:
                known.add((first, second))
                yield Taped(first, second, length, READING_SD)


def _near(lines: Sequence[HullLine], line: int, index: int) -> Iterator[tuple[int, int]]:
    """Points next to one: of lines next to its own at the same station, and of its own."""
    x, last = lines[line].points[index, 0], len(lines[line].points) - 1
    for other in (line - 2, line - 1, line + 1, line + 2):
        if 0 <= other < len(lines):
            along = lines[other].points[:, 0]
            at = {0: 0, last: len(along) - 1}.get(index, int(np.argmin(np.abs(along - x))))
            yield other, at
    for at in (index - 2, index - 1, index + 1, index + 2):
        if 0 <= at <= last:
            yield line, at
