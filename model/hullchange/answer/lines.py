"""The readings of the lines beside what all the others make of them, and what to tape."""

from pydantic import Field

from hullchange.answer.wire import Side, Wire

NOT_JUDGED = "null where the other readings cannot show it: not_judged says why"


class PointOffResult(Wire):
    """How far a point stands off the lines that all other readings make."""

    place: str = Field(description="of the point in the document")
    off_mm: float | None = Field(description=f"square to its line; {NOT_JUDGED}")
    half_breadth_off_mm: float | None = Field(description=f"positive: wider; {NOT_JUDGED}")
    height_off_mm: float | None = Field(description=f"positive: higher; {NOT_JUDGED}")
    words: str = Field(description="such as 12 mm wider, 3 mm lower; empty where it fits")
    not_judged: str = Field(description="why one or both readings are not, or empty")


class LineEndOfTape(Wire):
    """Where a tape begins or ends, as the document names it."""

    line: str
    at_x_m: float
    side: Side


class AskedTape(Wire):
    """A distance that would check readings which nothing else checks."""

    id: str = Field(description="a name for it under hull.taped")
    begins: LineEndOfTape
    ends: LineEndOfTape
    expected_m: float = Field(description="by the readings")
    why: str


class TapedResult(Wire):
    """A taped distance beside the readings of its points."""

    id: str
    distance_m: float = Field(description="as taped")
    by_readings_m: float
    off_mm: float = Field(description="taped less by readings")
    plus_minus_mm: float = Field(description="of that, by the errors of tape and readings")
    fits: bool


class LinesResult(Wire):
    """The readings of all lines, compared."""

    points: tuple[PointOffResult, ...]
    worst: tuple[str, ...] = Field(description="places of those most off, worst first")
    taped: tuple[TapedResult, ...]
    asked: tuple[AskedTape, ...] = Field(
        description="distances worth taping, the most useful first"
    )
