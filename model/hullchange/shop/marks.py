"""Marks of a piece: what a welder reads on the plate before it is bent and set up."""

from dataclasses import dataclass
from math import pi
from typing import Literal

import numpy as np
import shapely

from hullchange.geometry.developable import Cone, Planar
from hullchange.geometry.edges import STEP
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.strip import Strip
from hullchange.shop.contour import turned
from hullchange.shop.lettering import width
from hullchange.shop.notes import CLEAR, NOTE, Note, TextLine, placed
from hullchange.shop.piece import PlatePiece, Steel, bend_radius
from hullchange.shop.room import Room, box_around
from hullchange.units import mm_of_m

STATIONS, WATERLINES = 0.5, 0.25
"""[m] between the ticks of stations and of waterlines."""

TICK = 0.040  # [m]
CHECK = 0.100  # [m] length of the line a rule is laid to
BEND_STEP, BEND_RUN = np.radians(7.5), 0.300  # between rolling lines: whichever is closer
HEADS = (0.030, 0.022, 0.016, 0.011, 0.008, 0.005)  # [m] of the mark, as there is room
_REACH = 1e-5

MarkRole = Literal["mark", "bend", "check"]


@dataclass(frozen=True, eq=False)
class MarkLine:
    """A line (n, 2) on the piece [m], and what it is for."""

    role: MarkRole
    points: FloatArray


@dataclass(frozen=True, eq=False)
class Marks:
    """All marks of one piece.

    Attributes:
        lines: ticks, landings, rolling lines, check marks.
        words: all inside the steel.
        named: True where the piece has room for its own mark.
    """

    lines: tuple[MarkLine, ...]
    words: tuple[TextLine, ...]
    named: bool


def marks_of(piece: PlatePiece, steel: Steel, stamp: str) -> Marks:
    """The marks of a piece.

    Args:
        piece: to be marked.
        steel: all of them, with their seams.
        stamp: revision and state, written under the mark.
    """
    shapely.prepare(piece.region)
    lines, notes = _lines(piece, steel)
    taken = shapely.unary_union(
        [shapely.LineString(line.points).buffer(CLEAR) for line in lines]
        + [shapely.Polygon(note.box).buffer(CLEAR) for note in notes]
    )
    inside = piece.region.buffer(-CLEAR)
    free = inside.difference(taken)
    head = _head(_title(piece, stamp), Room(free)) or _head(_title(piece, stamp), Room(inside))
    free = free.difference(
        shapely.unary_union([shapely.Polygon(w.box).buffer(CLEAR) for w in head])
    )
    arrow, facing = _arrow(piece, free)
    if arrow:
        free = free.difference(shapely.MultiPoint(arrow[0].points).convex_hull.buffer(0.02))
    checks = _checks(free)
    return Marks((*lines, *arrow, *checks), (*notes, *head, *facing), bool(head))


def _title(piece: PlatePiece, stamp: str) -> tuple[str, ...]:
    rows = [
        f"{piece.id} {mm_of_m(piece.thickness):g} MM",
        f"THIS SIDE {piece.side}",
        stamp,
    ]
    if not isinstance(piece.plate.map, Planar):
        rows.insert(2, _roll_words(piece, piece.plate.map))
    return tuple(rows)


def _roll_words(piece: PlatePiece, bent: Cone | Strip) -> str:
    flat = piece.plate.flat_centroid
    shown = piece.plate.map.normals(flat)[0] * (-1.0 if piece.drawing.over else 1.0)
    if isinstance(bent, Strip):
        hollow = float(shown @ bent.hollow) > 0.0
    else:
        hollow = float(shown @ bent.outward(bent.azimuth(flat))[0]) < 0.0
    return f"ROLL HOLLOW ON {'THIS' if hollow else 'THE OTHER'} SIDE"


def _head(rows: tuple[str, ...], room: Room) -> tuple[TextLine, ...]:
    """The title as large as there is room: in rows, or its first row alone."""
    readable = [height for height in HEADS if height >= NOTE]
    for lines, heights in ((rows, readable), (rows[:1], HEADS)):
        for height in heights:
            size = max(width(row, height) for row in lines), height * (1.6 * len(lines) - 0.6)
            found = room.box(size, (0.0, pi / 2.0))
            if found is not None:
                return _stacked(lines, found, size, height)
    return ()


def _stacked(
    rows: tuple[str, ...], found: tuple[FloatArray, float], size: tuple[float, float],
    height: float,
) -> tuple[TextLine, ...]:  # fmt: skip
    corner = box_around(found[0], size, found[1])[3]
    down = np.array([0.0, -1.0]) @ turned(found[1])
    return tuple(
        TextLine(row, corner + down * height * (1.6 * k + 1.0), height, found[1])
        for k, row in enumerate(rows)
    )


def _lines(piece: PlatePiece, steel: Steel) -> tuple[list[MarkLine], list[TextLine]]:
    lines: list[MarkLine] = []
    notes: list[Note] = []
    for more, words in (_rolling(piece), _landings(piece, steel), _ticks(piece)):
        lines += more
        notes += words
    return lines, placed(notes, [line.points for line in lines], piece.region)


def _rolling(piece: PlatePiece) -> tuple[list[MarkLine], list[Note]]:
    """Rulings to roll or press along, numbered at both ends, the radius beside the number."""
    cone = piece.plate.map
    if isinstance(cone, Strip):
        return _bends(piece, cone)
    if not isinstance(cone, Cone):
        return [], []
    flat = piece.plate.outer.polyline()
    azimuth, along = cone.azimuth(flat), cone.along(flat)
    widest = max(bend_radius(cone, float(r)) for r in (along.min(), along.max()))
    step = min(float(BEND_STEP), BEND_RUN / widest)
    numbers = np.arange(np.ceil(azimuth.min() / step), np.floor(azimuth.max() / step) + 1.0)
    reach = np.array([along.min() - 1.0, along.max() + 1.0])
    lines, notes = [], []
    for number, turn in enumerate(numbers * step, 1):
        ends = piece.drawing.of(cone.flat_of(np.full(2, turn), reach))
        for inside in _inside(piece, ends):
            lines.append(MarkLine("bend", inside))
            back = cone.along(piece.drawing.back(inside))
            for k in (0, 1):
                radius = mm_of_m(bend_radius(cone, float(back[k])))
                notes.append(Note(inside, k, f"{number} R{radius:.0f}"))
    return lines, notes


def _bends(piece: PlatePiece, strip: Strip) -> tuple[list[MarkLine], list[Note]]:
    """The rulings of a plate between two edges, numbered, the radius at each end."""
    lines, notes = [], []
    for number, bend in enumerate(strip.bends, 1):
        line = piece.drawing.of(bend.ends)
        lines.append(MarkLine("bend", line))
        for k, radius in enumerate(bend.radii):
            notes.append(Note(line, k, f"{number} R{mm_of_m(radius):.0f}"))
    return lines, notes


def _inside(piece: PlatePiece, line: FloatArray) -> list[FloatArray]:
    """The parts (k, 2) of a line that lie on the steel."""
    cut = shapely.intersection(piece.region, shapely.LineString(line))
    parts = shapely.get_parts(shapely.line_merge(cut))
    return [
        shapely.get_coordinates(part)
        for part in parts
        if part.geom_type == "LineString" and part.length > 1e-3
    ]


def _landings(piece: PlatePiece, steel: Steel) -> tuple[list[MarkLine], list[Note]]:
    """The middle lines of what is welded to this plate's face."""
    number = next(k for k, plate in enumerate(steel.plates) if plate is piece.plate)
    marks = {id(p.plate): p.id for p in steel.pieces} | {id(b.plate): b.id for b in steel.bars}
    lines, notes = [], []
    for seam in steel.seams:
        if seam.second != number or seam.kind not in ("tee", "lap"):
            continue
        drawn = piece.drawing.of(piece.plate.map.to_flat(seam.at))
        seen = seam.above != piece.drawing.over
        runs = (part for run in _runs(drawn, seam.run) for part in _inside(piece, run))
        for run in runs:
            lines.append(MarkLine("mark", run))
            text = marks[id(steel.plates[seam.first])] + ("" if seen else " FAR SIDE")
            notes.append(Note(run, 0, text))
    return lines, notes


def _runs(points: FloatArray, lengths: FloatArray) -> list[FloatArray]:
    """Samples parted where they are not neighbours, each run as few points as it needs."""
    apart = np.hypot(*np.diff(points, axis=0).T) > 3.0 * STEP
    runs = []
    for rows in np.split(np.arange(len(points)), np.nonzero(apart)[0] + 1):
        if len(rows) < 2:
            continue
        row = points[rows]
        first, last = row[0] - row[1], row[-1] - row[-2]
        ends = (
            row[0] + first / np.hypot(*first) * lengths[rows[0]] / 2.0,
            row[-1] + last / np.hypot(*last) * lengths[rows[-1]] / 2.0,
        )
        whole = shapely.LineString(np.concatenate([[ends[0]], row, [ends[1]]]))
        runs.append(shapely.get_coordinates(whole.simplify(5e-5)))
    return runs


def _ticks(piece: PlatePiece) -> tuple[list[MarkLine], list[Note]]:
    """Short lines at the edges on stations, waterlines and the centreline."""
    rim = shapely.segmentize(shapely.LinearRing(piece.rings[0].points), 0.02)
    points = shapely.get_coordinates(rim)
    boat = piece.plate.map.to_boat(piece.drawing.back(points))
    lines, notes = [], []
    for axis, spacing, name in ((0, STATIONS, "ST"), (2, WATERLINES, "WL"), (1, 0.0, "CL")):
        values = boat[:, axis]
        low, high = float(values.min()), float(values.max())
        levels = (
            np.arange(np.ceil(low / spacing), np.floor(high / spacing) + 1.0) * spacing
            if spacing
            else np.zeros(1)
        )
        for level in levels:
            text = f"{name} {level:g}" if spacing else name
            for at in _crossings(points, values, float(level)):
                line = _tick(piece, at, axis)
                if line is not None:
                    lines.append(MarkLine("mark", line))
                    notes.append(Note(line, 0, text))
    return lines, notes


def _crossings(points: FloatArray, values: FloatArray, level: float) -> FloatArray:
    """(k, 2) where a value changes through a level around the rim."""
    above = values > level
    rows = np.nonzero(above[1:] != above[:-1])[0]
    share = (level - values[rows]) / (values[rows + 1] - values[rows])
    return np.asarray(points[rows] + share[:, None] * (points[rows + 1] - points[rows]))


def _tick(piece: PlatePiece, at: FloatArray, axis: int) -> FloatArray | None:
    """The line (2, 2) from an edge inwards along which a coordinate of the boat is kept."""
    slope = _slope(piece, at)[axis]
    size = float(np.hypot(*slope))
    if size < 0.2:
        return None
    way = np.array([-slope[1], slope[0]]) / size
    for sign in (1.0, -1.0):
        if piece.region.contains(shapely.Point(at + sign * way * 2e-3)):
            cut = _inside(piece, np.array([at, at + sign * way * TICK]))
            return None if not cut else np.array([at, cut[0][-1]])
    return None


def _slope(piece: PlatePiece, at: FloatArray) -> FloatArray:
    """(3, 2) how the boat's coordinates change along the drawing's directions."""
    steps = np.array([[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]]) * _REACH
    boat = piece.plate.map.to_boat(piece.drawing.back(at + steps))
    return np.asarray(np.stack([boat[0] - boat[1], boat[2] - boat[3]], axis=1) / (2.0 * _REACH))


def _arrow(
    piece: PlatePiece, free: shapely.Geometry
) -> tuple[tuple[MarkLine, ...], tuple[TextLine, ...]]:
    """Which way is forward, or up where the plate stands athwartships."""
    middle = piece.drawing.of(piece.plate.flat_centroid)[0]
    slope = _slope(piece, middle)
    forward, up = -slope[0], slope[2]
    way, text = (forward, "FWD") if np.hypot(*forward) > 0.3 else (up, "UP")
    way = way / np.hypot(*way)
    angle = float(np.arctan2(way[1], way[0]))
    room = Room(free)
    for length in (0.20, 0.10, 0.05, 0.03):
        height = min(0.02, length / 5.0)
        found = room.box((length + height, 3.0 * height), (angle,))
        if found is None:
            continue
        tip, tail = (found[0] + sign * way * length / 2.0 for sign in (1.0, -1.0))
        side = np.array([-way[1], way[0]]) * length / 8.0
        barb = tip - way * length / 5.0
        shaft = MarkLine("mark", np.array([tail, tip, barb + side, tip, barb - side]))
        upright = angle if -pi / 2 < angle <= pi / 2 else angle - pi * np.sign(angle)
        over = np.array([-np.sin(upright), np.cos(upright)])
        along = np.array([np.cos(upright), np.sin(upright)])
        at = found[0] + over * height * 0.3 - along * width(text, height) / 2.0
        words = TextLine(text, at, height, float(upright))
        fits = free.contains(shapely.Polygon(words.box))
        return (shaft,), (words,) if fits else ()
    return (), ()


def _checks(free: shapely.Geometry) -> tuple[MarkLine, ...]:
    """Two lines of 100 mm square to each other; one alone where there is no more room."""
    room = Room(free)
    found = room.box((CHECK + 0.012, CHECK + 0.012), (0.0,))
    if found is not None:
        corner = found[0] - CHECK / 2.0
        return _rule(corner, 0.0), _rule(corner, pi / 2.0)
    found = room.box((CHECK + 0.012, 0.012), (0.0, pi / 2.0))
    if found is None:
        return ()
    way = np.array([np.cos(found[1]), np.sin(found[1])])
    return (_rule(found[0] - way * CHECK / 2.0, found[1]),)


def _rule(start: FloatArray, angle: float) -> MarkLine:
    """A line of 100 mm between two short strokes."""
    shape = np.array(
        [[0, 0.005], [0, -0.005], [0, 0], [CHECK, 0], [CHECK, 0.005], [CHECK, -0.005]]
    )
    return MarkLine("check", shape @ turned(angle) + start)
