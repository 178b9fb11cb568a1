"""The cut pack as it crosses the edge: what a page draws and lists. Drawings are SVG paths."""

from typing import Literal

from pydantic import Field

from hullchange.answer.assessment import FindingResult
from hullchange.answer.wire import Point, Wire

PATH = "SVG path data in mm: x to the right, y down from the drawing's lower left corner"


class CutWords(Wire):
    """A line of text on a piece."""

    text: str
    at_mm: tuple[float, float] = Field(description="lower left corner, y down")
    height_mm: float
    length_mm: float
    turn_deg: float = Field(description="counter-clockwise as it is seen")


class CutPiece(Wire):
    """One piece cut from plate, seen from its marked side."""

    id: str = Field(description="mark, with a side or number where several are alike")
    mark: str
    part: str
    plate: str
    change: str
    shape: str = Field(description="sign of its contours and thickness")
    material: str
    count: int = Field(description="how many carry the mark")
    thickness_mm: float
    length_mm: float
    breadth_mm: float
    area_m2: float
    mass_kg: float
    cut_length_m: float = Field(description="outer and inner edges together")
    pierces_count: int
    side: str = Field(description="where the marked side faces")
    bend_radius_mm: float | None = Field(description="tightest; None where it stays flat")
    lift_at_mm: tuple[float, float] = Field(
        description="centre of gravity, y up from the lower left"
    )
    lift_by: str
    draws_in_mm: tuple[float, float] = Field(description="over all its seams, from and to")
    nest: str | None = Field(description="id of the nest it lies on")
    in_boat_m: tuple[float, ...] | None = Field(
        description="its surface in the boat's frame, nine numbers a triangle; None where "
        "it is a whole plate"
    )
    contours: str = Field(description=PATH)
    marks: str = Field(description=f"ticks, landings, arrow; {PATH}")
    bends: str = Field(description=f"rolling lines; {PATH}")
    checks: str = Field(description=f"lines of 100 mm; {PATH}")
    words: tuple[CutWords, ...]


class CutPlace(Wire):
    """Where a piece lies on a sheet: turned about its lower left corner, then moved there."""

    id: str
    turn_deg: float = Field(description="counter-clockwise as it is seen")
    at_mm: tuple[float, float] = Field(description="y up from the sheet's lower left corner")


class CutNest(Wire):
    """One sheet with what lies on it."""

    id: str
    thickness_mm: float
    sheet: str = Field(description="what it is called on a list")
    is_leftover: bool = Field(description="it lies in the yard already")
    length_mm: float
    breadth_mm: float
    outline: str = Field(description=PATH)
    used_length_mm: float
    left_length_mm: float = Field(description="strip of full breadth that is worth keeping")
    used_percent: float = Field(description="pieces over the whole sheet")
    pieces: tuple[CutPlace, ...]


class CutPurchase(Wire):
    """One thickness or section: bought and from leftovers is used, left over and scrap."""

    material: str
    buy: str = Field(description="whole sheets or bars; empty where nothing is bought")
    leftovers: str = Field(description="of the yard, that are cut into; empty for none")
    bought_kg: float
    from_leftovers_kg: float = Field(description="of those leftovers, whole")
    used_kg: float
    left_over_kg: float = Field(description="strips and lengths worth keeping")
    scrap_kg: float
    used_percent: float
    price: float | None = Field(description="None where any of it has no price")
    not_covered: str = Field(description="ids of what no stock takes; empty for none")
    not_covered_kg: float


class CutBar(Wire):
    """One length of a flat or tube."""

    id: str
    mark: str
    part: str
    plate: str
    change: str
    shape: str
    section: str
    length_mm: float
    mass_kg: float


class CutStockBar(Wire):
    """One bar as bought, and what is cut from it."""

    number: int
    length_mm: float = Field(description="as it is sold")
    pieces: tuple[str, ...] = Field(description="ids, the longest first")
    left_mm: float


class CutSection(Wire):
    """All bars of one section."""

    section: str
    buy: str = Field(description="how many of each length; empty where none is long enough")
    is_proven: bool = Field(description="no choice of bars costs less")
    bound: str = Field(description="the same in words, or what any choice takes at least")
    bars: tuple[CutStockBar, ...]


class CutSeam(Wire):
    """One seam as it is welded."""

    first: str
    second: str
    kind: Literal["butt", "corner", "tee", "lap"]
    length_m: float
    angle_deg: float
    leg_mm: float = Field(description="of a fillet; zero for a butt")
    sides_count: int
    weld_metal_kg: float


class CutQuantities(Wire):
    """Sums over everything."""

    mass_kg: float
    cut_length_m: float
    pierces_count: int
    seams_m: float
    weld_metal_kg: float
    process: str
    consumable_kg: tuple[float, float] = Field(description="to buy, from and to")
    paint_area_m2: float


class CutOldPlate(Wire):
    """An old plate that is cut out, bare, by the document's dimensions."""

    id: str
    plate: str = Field(description="what it is of, and its name there")
    mass_kg: float
    centre_m: Point = Field(description="of gravity, in the boat")
    lift_by: str
    hang_at_m: tuple[Point, ...] = Field(description="none where a sling goes round it")


class CutWeightOff(Wire):
    """A weight that comes off by the ledger."""

    id: str
    mass_kg: float
    centre_m: Point
    lift_by: str
    replaced_by: str = Field(description="the part that takes its place, or empty")


class CutComesOff(Wire):
    """Everything that one change takes off."""

    change: str
    plates: tuple[CutOldPlate, ...] = Field(description="in the order of cutting")
    weights: tuple[CutWeightOff, ...]


class CutReading(Wire):
    """One reading of an opening, beside what the part would make of it."""

    key: str
    words: str = Field(description="what is read, such as 'across the forward end'")
    drawn_mm: float = Field(description="by the part's dimensions as they are")
    read_mm: float | None
    fitted_mm: float | None = Field(description="by the dimensions that fit what was read")


class CutOpening(Wire):
    """A new part and the opening it goes into, as read after cutting out."""

    part: str
    path: str = Field(description="of the readings in the document")
    readings: tuple[CutReading, ...]
    values_m: dict[str, float | tuple[float, ...]] = Field(
        description="dimensions that fit best, by their path; none where it has them"
    )


class CutAnswer(Wire):
    """Everything a page shows of a cut pack."""

    boat: str
    document_sha256: str
    pieces: tuple[CutPiece, ...]
    bars: tuple[CutBar, ...]
    nests: tuple[CutNest, ...]
    purchase: tuple[CutPurchase, ...]
    sections: tuple[CutSection, ...]
    seams: tuple[CutSeam, ...]
    quantities: CutQuantities
    comes_off: tuple[CutComesOff, ...]
    openings: tuple[CutOpening, ...]
    gap_mm: float
    margin_mm: float
    findings: tuple[FindingResult, ...]
