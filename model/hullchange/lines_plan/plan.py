"""The lines plan of a hull as curves in space: stations, waterlines, buttocks, lines."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

import numpy as np

from hullchange.answer.hull import HullResult
from hullchange.boat.boat import Boat
from hullchange.boat.hull_hydrostatics import hull_result
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.polyline import thinned
from hullchange.geometry.station import starboard_half, station_cuts
from hullchange.hull.hull import Hull
from hullchange.hull.lines import point_place
from hullchange.lines_plan.contours import level_curves
from hullchange.lines_plan.lengths import METRIC, LengthStyle

CurveRole = Literal[
    "station", "waterline", "buttock", "chine", "fair", "sheer", "centreline", "deck", "end",
    "appendage",
]  # fmt: skip
INTERVALS = 10  # between the perpendiculars
MOST_BEYOND = 8  # stations ahead of the perpendiculars, and as many behind
MOST_WATERLINES, MOST_BUTTOCKS = 12, 4.5
ALONG = 601  # points of a line
FINEST = 2e-4  # [m] points of a curve are thinned to this
NARROWEST = 1e-3  # [m] half-breadth below which a section or an end is a line
NO_STAND_OFFS: Mapping[str, float | None] = MappingProxyType({})
SOURCES = {
    "points": "are as measured",
    "tape": "are calculated from distances taped to marks",
    "drawing": "are traced from a drawing",
    "scan": "are taken from a scan",
    "step": "are taken from a CAD file",
    "dimensions": "are guessed from the main dimensions",
}


@dataclass(frozen=True, eq=False)
class PlanStation:
    """A station and the hull's half section there.

    Attributes:
        number: [-] 0 at the forward, 10 at the after perpendicular; halves between.
        x: [m].
        section: (n, 2) half-breadth and height [m] from the centreline to the sheer; None
            where the hull does not reach.
    """

    number: float
    x: float
    section: FloatArray | None

    @property
    def name(self) -> str:
        """As it is written: -½, 0, ½, 1."""
        whole, half = divmod(abs(self.number), 1.0)
        sign = "-" if self.number < 0.0 else ""
        return f"{sign}{int(whole) or ('' if half else '0')}{'½' if half else ''}"


@dataclass(frozen=True, eq=False)
class PlanCurve:
    """A curve of the starboard side.

    Attributes:
        role: what it is.
        name: of its line or appendage, or empty.
        at: x of a station, height of a waterline, half-breadth of a buttock [m]; else 0.
        points: (n, 3) [m].
    """

    role: CurveRole
    name: str
    at: float
    points: FloatArray


@dataclass(frozen=True)
class PointAsRead:
    """A point of a line as the document gives it.

    Attributes:
        line: its name.
        place: of the point in the document.
        at: x, half-breadth and height [m].
        off_mm: how far it stands off what the other readings make; None where none says.
    """

    line: str
    place: str
    at: tuple[float, float, float]
    off_mm: float | None


@dataclass(frozen=True, eq=False)
class LinesPlan:
    """Everything that a lines plan shows, in space.

    Attributes:
        hull: whose plan it is.
        stations: from the bow aft.
        waterlines: heights [m], from the lowest up; 0 among them.
        buttocks: half-breadths [m], from the middle out.
        curves: all curves.
        side_views: (n, 2) x and z [m] closed outlines of the appendages, by name.
        readings: as the document gives them.
        marks: x and z [m] of the freeboard marks at the sheer, by name.
        length_waterline: [m] between the perpendiculars.
        figures: of the hull at the design waterline.
        source: where the lines come from, in words that follow "the points of the lines".
        as_given: ``as read`` where somebody read each point, else ``as given``.
        lengths: how they are written.
    """

    hull: Hull
    stations: tuple[PlanStation, ...]
    waterlines: tuple[float, ...]
    buttocks: tuple[float, ...]
    curves: tuple[PlanCurve, ...]
    side_views: Mapping[str, FloatArray]
    readings: tuple[PointAsRead, ...]
    marks: Mapping[str, tuple[float, float]]
    length_waterline: float
    figures: HullResult
    source: str
    as_given: str
    lengths: LengthStyle = METRIC

    def of_role(self, *roles: CurveRole) -> tuple[PlanCurve, ...]:
        """The curves of some roles."""
        return tuple(curve for curve in self.curves if curve.role in roles)


def lines_plan(
    boat: Boat,
    off_mm: Mapping[str, float | None] = NO_STAND_OFFS,
    lengths: LengthStyle = METRIC,
) -> LinesPlan:
    """The lines plan of a boat's hull.

    Args:
        boat: with her hull.
        off_mm: how far points stand off the lines, by their place in the document.
        lengths: how they are written; waterlines and buttocks lie at round ones.
    """
    hull, document = boat.hull, boat.document
    length, origin = document.hull.length_waterline_m, document.hull.from_
    grid = _grid(hull)
    low, high = float(grid[..., 2].min()), float(grid[..., 2].max())
    waterlines = _levels(low, high, MOST_WATERLINES, lengths.steps)
    half = float(grid[..., 1].max())
    buttocks = tuple(
        level for level in _levels(0.0, half, MOST_BUTTOCKS, lengths.steps) if level > 0.0
    )
    stations = tuple(_stations(hull, length))
    curves = (
        *(curve for station in stations for curve in _at_station(hull, station)),
        *(_cut("waterline", grid, 2, level) for level in waterlines),
        *(_cut("buttock", grid, 1, breadth) for breadth in buttocks),
    )
    return LinesPlan(
        hull=hull,
        stations=stations,
        waterlines=waterlines,
        buttocks=buttocks,
        curves=(*(one for many in curves for one in many), *_own_curves(hull)),
        side_views=hull.side_view.appendages,
        readings=_readings(boat, off_mm),
        marks={n: (m.x_m, m.sheer_z_m) for n, m in document.survey.marks.items()},
        length_waterline=length,
        figures=hull_result(boat),
        source=SOURCES["points" if origin is None else origin.source],
        as_given="as read" if origin is None or origin.is_read_by_hand else "as given",
        lengths=lengths,
    )


def _grid(hull: Hull) -> FloatArray:
    """(k, n, 3) the hull's lines in many points, from the middle of a flat bottom up."""
    even = np.linspace(0.0, 1.0, ALONG)
    spaced = 0.5 * (even + 0.5 * (1.0 - np.cos(np.pi * even)))
    grid = hull.lines.at_fractions(np.unique([*spaced, *hull.lines.knuckle_fractions]))
    if grid[0, :, 1].max() <= 0.0:
        return grid
    return np.concatenate([grid[:1] * np.array([1.0, 0.0, 1.0]), grid])


def _levels(
    low: float, high: float, most: float, steps: tuple[float, ...]
) -> tuple[float, ...]:
    """Round levels between two, few enough, counted from zero."""
    step = next((s for s in steps if s >= (high - low) / most), steps[-1])
    first, last = int(np.ceil(low / step)), int(np.floor(high / step))
    found = (round(n * step, 6) for n in range(first, last + 1))
    return tuple(level for level in found if low < level < high)


def _stations(hull: Hull, length: float) -> Iterator[PlanStation]:
    spacing = length / INTERVALS
    ahead = min(int(2.0 * -hull.fore_x / spacing), MOST_BEYOND)
    behind = min(int(2.0 * (hull.transom_x - length) / spacing), MOST_BEYOND)
    inner = {float(n) for n in range(INTERVALS + 1)} | {0.5, INTERVALS - 0.5}
    before = {-n / 2.0 for n in range(1, ahead + 1)}
    after = {INTERVALS + n / 2.0 for n in range(1, behind + 1)}
    for number in sorted(inner | before | after):
        x = number * spacing
        met = hull.fore_x <= x <= hull.transom_x
        yield PlanStation(number, x, hull.section(x) if met else None)


def _at_station(hull: Hull, station: PlanStation) -> Iterator[tuple[PlanCurve, ...]]:
    x, section = station.x, station.section
    if section is not None and section[:, 0].max() > NARROWEST:
        points = thinned(section, FINEST)
        yield (PlanCurve("station", station.name, x, np.insert(points, 0, x, axis=1)),)
    for name, part in hull.appendages.items():
        halves = [_starboard(outline) for outline in station_cuts(part.surface, x)]
        yield tuple(
            PlanCurve("appendage", name, x, np.insert(thinned(half, FINEST), 0, x, axis=1))
            for half in halves
            if len(half) > 2
        )


def _starboard(outline: FloatArray) -> FloatArray:
    """What of an outline lies to starboard; closed where all of it does."""
    half = starboard_half(outline)
    return half if (outline[:, 0] < 0.0).any() else np.concatenate([half, half[:1]])


def _cut(role: CurveRole, grid: FloatArray, axis: int, level: float) -> tuple[PlanCurve, ...]:
    found = level_curves(grid, axis, level)
    return tuple(PlanCurve(role, "", level, thinned(points, FINEST)) for points in found)


def _own_curves(hull: Hull) -> Iterator[PlanCurve]:
    """The lines themselves, the deck's middle, and where the lines end."""
    lines, along = hull.lines, np.linspace(0.0, 1.0, ALONG)
    for line in lines.lines:
        role: CurveRole = line.kind
        if line is lines.centreline:
            role = "centreline"
        yield PlanCurve(role, line.name, 0.0, thinned(line.at_fraction(along), FINEST))
    x = np.linspace(lines.sheer.fore_x, lines.sheer.aft_x, ALONG)
    deck = np.column_stack([x, 0.0 * x, hull.deck_z(x, 0.0 * x)])
    yield PlanCurve("deck", "deck at the centreline", 0.0, thinned(deck, FINEST))
    for name, end in (("stem", 0), ("transom", -1)):
        points = np.array([line.points[end] for line in lines.lines])
        if name == "stem" or points[:, 1].max() > NARROWEST:
            closed = [points[0] * np.array([1.0, 0.0, 1.0])] if points[0, 1] > 0.0 else []
            yield PlanCurve("end", name, 0.0, np.array([*closed, *points]))
        else:
            yield PlanCurve("end", "stern", 0.0, points)


def _readings(boat: Boat, off_mm: Mapping[str, float | None]) -> tuple[PointAsRead, ...]:
    return tuple(
        PointAsRead(name, place, (x, y, z), off_mm.get(place))
        for name, line in boat.document.hull.lines.items()
        for place, (x, y, z) in (
            (f"hull.{point_place(name, n)}", point) for n, point in enumerate(line.points_m)
        )
    )
