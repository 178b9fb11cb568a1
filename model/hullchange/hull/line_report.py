"""The readings of the lines, compared, in words: what to measure again, and what to tape."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from hullchange.findings import Finding, Severity
from hullchange.geometry.frame import FloatArray
from hullchange.hull.line_causes import cause_of
from hullchange.hull.line_check import TAPES_DIFFER, LineCheck, Off
from hullchange.hull.line_process import FEWEST, HALF_BREADTH, HEIGHT, slopes_past
from hullchange.hull.lines import READING_SD, HullLine
from hullchange.hull.taped import MeasuredPoint, Taped, straight
from hullchange.hull.tapes_asked import Asked, tapes_asked
from hullchange.plain_words import id_in_words
from hullchange.units import mm_of_m

WORST = 3  # readings that are looked at first
WORTH_A_WORD = 0.5  # [mm]
SOURCE = (
    "studentised deleted residual of a Gaussian process through all lines; with 5 mm of noise "
    "95 % of slips of 60 mm were named inside the lines, 88 % of all with twelve taped "
    "distances, and 0.2 % of good lines blamed (own trial, 500 hulls)"
)
TAPE_SOURCE = "the errors of tape and readings, carried to first order"
WORDS: Mapping[int, tuple[str, str]] = {
    HALF_BREADTH: ("wider", "narrower"),
    HEIGHT: ("higher", "lower"),
}
QUANTITY: Mapping[int, str] = {HALF_BREADTH: "half-breadth", HEIGHT: "height"}


@dataclass(frozen=True)
class PointOff:
    """What a point stands off the lines that all the others make.

    Attributes:
        place: of the point, below the hull.
        normal: [m] both readings together, square to its line; None where none is judged.
        half_breadth: [m] as read less what the others make of it; None: not judged.
        height: [m] the same of its height.
        not_judged: why one or both are not, or empty.
    """

    place: str
    normal: float | None
    half_breadth: float | None
    height: float | None
    not_judged: str

    @property
    def words(self) -> str:
        """Such as "12 mm wider, 3 mm lower"."""
        found = ((HALF_BREADTH, self.half_breadth), (HEIGHT, self.height))
        return ", ".join(
            off_in_words(column, off)
            for column, off in found
            if off is not None and abs(mm_of_m(off)) >= WORTH_A_WORD
        )


@dataclass(frozen=True)
class TapeMisfit:
    """A taped distance beside the readings of its points.

    Attributes:
        tape: as taped.
        by_readings: [m] the same distance.
        scatter: [m] of the difference by their errors.
        fits: whether that explains it.
    """

    tape: Taped
    by_readings: float
    scatter: float
    fits: bool


@dataclass(frozen=True)
class LineReport:
    """All of it.

    Attributes:
        points: every point of every line, from the centreline to the sheer.
        worst: places of those that stand off most, worst first.
        tapes: as taped.
        asked: distances to tape, each with why.
        findings: places are relative to the hull.
    """

    points: tuple[PointOff, ...]
    worst: tuple[str, ...]
    tapes: tuple[TapeMisfit, ...]
    asked: tuple[tuple[Asked, str], ...]
    findings: tuple[Finding, ...]


def line_report(
    lines: tuple[HullLine, ...],
    tapes: tuple[Taped, ...],
    read_again: frozenset[tuple[int, int]],
    reading_sd: float = READING_SD,
) -> LineReport:
    """The readings compared.

    Args:
        lines: from the centreline to the sheer.
        tapes: distances taped between their points.
        read_again: (line, index) of points that were read twice and stand.
        reading_sd: [m] error of a reading, as far as it is known beforehand.
    """
    check = LineCheck(lines, tapes, read_again, reading_sd)
    offs = check.offs()
    points = tuple(_points(lines, offs))
    judged = [point for point in points if point.normal is not None]
    worst = sorted(judged, key=lambda point: -abs(point.normal or 0.0))[:WORST]
    misfits = tuple(_misfits(check))
    return LineReport(
        points,
        tuple(point.place for point in worst),
        misfits,
        tuple((asked, _why(lines, asked)) for asked in tapes_asked(check)),
        (*_reading_findings(lines, offs), *_tape_findings(lines, misfits)),
    )


def off_in_words(column: int, off: float) -> str:
    """Such as "12 mm wider", of so many [m].

    >>> off_in_words(2, -0.0034)
    '3 mm lower'
    """
    more, less = WORDS[column]
    return f"{mm_of_m(abs(off)):.0f} mm {more if off > 0.0 else less}"


def point_in_words(lines: tuple[HullLine, ...], point: MeasuredPoint) -> str:
    """Such as "sheer at x 3.20 m, to port"."""
    line = lines[point.line]
    side = ", to port" if point.is_port else ""
    return f"{line.plain_name} at x {line.points[point.index, 0]:.2f} m{side}".replace(
        " -", " −"
    )


def _points(lines: tuple[HullLine, ...], offs: tuple[Off, ...]) -> Iterator[PointOff]:
    known = {(o.reading.line, o.reading.index, o.reading.column): o for o in offs}
    for k, line in enumerate(lines):
        slopes = slopes_past(line) if len(line.points) >= FEWEST else None
        for n in range(len(line.points)):
            own = {c: known.get((k, n, c)) for c in (HALF_BREADTH, HEIGHT)}
            judged = {c: o.off for c, o in own.items() if o is not None and o.is_judged}
            normal = None if slopes is None or not judged else _normal(judged, slopes[n])
            asked = (HEIGHT,) if k == 0 else (HALF_BREADTH, HEIGHT)
            why = "; ".join(
                f"{QUANTITY[c]}: {_why_not(line, own[c])}" for c in asked if c not in judged
            )
            yield PointOff(
                line.place(n), normal, judged.get(HALF_BREADTH), judged.get(HEIGHT), why
            )


def _normal(judged: Mapping[int, float], slope: FloatArray) -> float:
    """[m] of what is off, square to the line."""
    away = np.array([0.0, judged.get(HALF_BREADTH, 0.0), judged.get(HEIGHT, 0.0)])
    along = np.r_[1.0, slope] / np.linalg.norm(np.r_[1.0, slope])
    return float(np.linalg.norm(away - (away @ along) * along))


def _why_not(line: HullLine, off: Off | None) -> str:
    if len(line.points) < FEWEST:
        return f"its line has fewer than {FEWEST} points"
    if off is None:
        return "too many readings to compare"
    if off.is_read_again:
        return "measured again and confirmed"
    if off.is_turn:
        return "its line ends too steeply here" if off.is_end else "its line turns sharply here"
    return "too few readings beyond it" if off.is_end else "too few readings near it"


def _misfits(check: LineCheck) -> Iterator[TapeMisfit]:
    for tape, z, misfit in zip(check.tapes, check.tape_z, check.rows.misfit, strict=True):
        length, _ = straight(check.lines, tape)
        scatter = abs(misfit / z) if z else tape.sd
        yield TapeMisfit(tape, length, float(scatter), bool(abs(z) <= TAPES_DIFFER))


def _reading_findings(lines: tuple[HullLine, ...], offs: tuple[Off, ...]) -> Iterator[Finding]:
    """Readings ``reading-does-not-fit``, the surest first."""
    named = sorted((o for o in offs if o.is_named), key=lambda o: -abs(o.off) / o.sd)
    for off in named:
        line = lines[off.reading.line]
        cause = cause_of(lines, off)
        sentence = (
            f"The {QUANTITY[off.reading.column]} of {line.plain_name} at x "
            f"{line.points[off.reading.index, 0]:.2f} m is "
            f"{off_in_words(off.reading.column, off.off)} than all other readings "
            f"suggest{f': {cause}' if cause else '.'} Measure it again. If it was wrong, "
            "correct it; if it was right, list the point under hull.read_again."
        )
        place = line.place(off.reading.index)
        yield Finding("reading-does-not-fit", Severity.WARN, place, sentence, SOURCE)


def _tape_findings(
    lines: tuple[HullLine, ...], misfits: tuple[TapeMisfit, ...]
) -> Iterator[Finding]:
    """Distances ``taped-does-not-fit``: which of tape and two points is wrong is left open."""
    for one in misfits:
        if one.fits:
            continue
        off = one.tape.distance - one.by_readings
        sentence = (
            f"{id_in_words(one.tape.name).capitalize()} was taped as {one.tape.distance:.3f} "
            f"m. From {point_in_words(lines, one.tape.first)} to "
            f"{point_in_words(lines, one.tape.second)} the readings give "
            f"{one.by_readings:.3f} m, {mm_of_m(abs(off)):.0f} mm "
            f"{'less' if off > 0.0 else 'more'}, where their errors explain "
            f"{mm_of_m(2.0 * one.scatter):.0f} mm. Tape it again; if it was right, measure "
            "both points again."
        )
        place = f"taped.{one.tape.name}"
        yield Finding("taped-does-not-fit", Severity.WARN, place, sentence, TAPE_SOURCE)


def _why(lines: tuple[HullLine, ...], asked: Asked) -> str:
    """Why a distance is asked for, in a sentence."""
    first, second = asked.tape.first, asked.tape.second
    judged = [
        f"the {QUANTITY[r.column]} of {lines[r.line].plain_name} at x "
        f"{lines[r.line].points[r.index, 0]:.2f} m"
        for r in asked.tells[:2]
    ]
    what = " and ".join(judged) or "readings near it"
    is_breadth = (first.line, first.index) == (second.line, second.index)
    how = "The whole breadth here" if is_breadth else "This distance"
    more = len(asked.tells) - len(judged)
    others = f", and {more} more" if more > 0 else ""
    return f"{how} checks {what}{others}, which no other reading can.".replace(" -", " −")
