"""The readings of the lines, as an answer."""

from hullchange.answer.lines import (
    AskedTape,
    LineEndOfTape,
    LinesResult,
    PointOffResult,
    TapedResult,
)
from hullchange.answer.wire import Side
from hullchange.boat.boat import Boat
from hullchange.boat.line_readings import is_read_by_hand, readings_of
from hullchange.hull.line_report import PointOff
from hullchange.hull.taped import MeasuredPoint
from hullchange.units import mm_of_m


def lines_result(boat: Boat) -> LinesResult:
    """What every reading stands off the others, what was taped, and what to tape."""
    report = readings_of(boat.document)
    asked = report.asked if is_read_by_hand(boat.document) else ()
    return LinesResult(
        points=tuple(_point(one) for one in report.points),
        worst=tuple(f"hull.{place}" for place in report.worst),
        taped=tuple(
            TapedResult(
                id=one.tape.name,
                distance_m=one.tape.distance,
                by_readings_m=one.by_readings,
                off_mm=mm_of_m(one.tape.distance - one.by_readings),
                plus_minus_mm=mm_of_m(one.scatter),
                fits=one.fits,
            )
            for one in report.tapes
        ),
        asked=tuple(
            AskedTape(
                id=f"tape-{number}",
                begins=_end(boat, one.tape.first),
                ends=_end(boat, one.tape.second),
                expected_m=one.tape.distance,
                why=why,
            )
            for number, (one, why) in enumerate(asked, len(report.tapes) + 1)
        ),
    )


def _point(one: PointOff) -> PointOffResult:
    def in_mm(off: float | None) -> float | None:
        return None if off is None else mm_of_m(off)

    return PointOffResult(
        place=f"hull.{one.place}",
        off_mm=in_mm(one.normal),
        half_breadth_off_mm=in_mm(one.half_breadth),
        height_off_mm=in_mm(one.height),
        words=one.words,
        not_judged=one.not_judged,
    )


def _end(boat: Boat, point: MeasuredPoint) -> LineEndOfTape:
    line = boat.hull.lines.lines[point.line]
    side: Side = "port" if point.is_port else "starboard"
    return LineEndOfTape(line=line.name, at_x_m=float(line.points[point.index, 0]), side=side)
