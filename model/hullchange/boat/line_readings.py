"""The readings of the document's lines, compared: worked out once for the same readings."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from hullchange.boat.hull import line_inputs
from hullchange.cache import cached
from hullchange.document.document import Document
from hullchange.document.sections import DocumentLine, LinePoint, ReadAgain, TapedDistance
from hullchange.findings import Finding
from hullchange.hull.line_report import LineReport, line_report
from hullchange.hull.lines import READING_SD, HullLine
from hullchange.hull.lines_check import lines_of
from hullchange.hull.taped import MeasuredPoint, Taped


def readings_of(document: Document) -> LineReport:
    """Every reading beside what the others make of it, and which distances to tape.

    It hangs on the lines alone, and on what was taped and read again, so that no edit of
    anything else waits for it.

    Raises:
        DocumentError: with every fault of the lines.
    """
    hull = document.hull
    sd = READING_SD if hull.from_ is None else hull.from_.plus_minus_m
    return _compared(hull.lines, hull.taped, hull.read_again, sd)


def reading_findings(document: Document) -> tuple[Finding, ...]:
    """What does not fit, at its path in the document; nothing where nobody read the points."""
    if not is_read_by_hand(document):
        return ()
    found = readings_of(document).findings
    return tuple(replace(f, place=f"hull.{f.place}") for f in found)


def is_read_by_hand(document: Document) -> bool:
    """Whether the lines are readings that somebody can take again."""
    origin = document.hull.from_
    return origin is None or origin.is_read_by_hand


def same_readings(one: Document, other: Document) -> bool:
    """Whether two documents have the same lines, tapes, and points read again."""
    return all(
        getattr(one.hull, key) == getattr(other.hull, key)
        for key in ("lines", "taped", "read_again", "from_")
    )


@cached(8)
def _compared(
    given: Mapping[str, DocumentLine],
    taped: Mapping[str, TapedDistance],
    read_again: Mapping[str, ReadAgain],
    reading_sd: float,
) -> LineReport:
    lines = lines_of(line_inputs(given)).lines
    tapes = tuple(
        Taped(
            _point(lines, one.from_, one.from_.side),
            _point(lines, one.to, one.to.side),
            one.distance_m,
            one.plus_minus_m,
            name,
        )
        for name, one in taped.items()
    )
    points = (_point(lines, one) for one in read_again.values())
    again = frozenset((point.line, point.index) for point in points)
    return line_report(lines, tapes, again, reading_sd)


def _point(
    lines: tuple[HullLine, ...], named: LinePoint, side: str = "starboard"
) -> MeasuredPoint:
    number = next(k for k, line in enumerate(lines) if line.name == named.line)
    index = int(np.argmin(np.abs(lines[number].points[:, 0] - named.at_x_m)))
    return MeasuredPoint(number, index, side == "port")
