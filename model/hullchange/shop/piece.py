"""Pieces: every plate of the refit as it is drawn for cutting, with its mark.

A piece is drawn as seen from the side that carries its marks, its long side along the sheet.
Pieces that are cut alike share a mark; of twins one is the other turned over.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256
from math import atan, pi

import numpy as np
import shapely

from hullchange.geometry.developable import Cone
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.outline import FlatOutline, Line
from hullchange.geometry.plate import Plate
from hullchange.geometry.seams import Seam
from hullchange.geometry.strip import Strip
from hullchange.shop.contour import Contour, contour_of, polygon_of, turned
from hullchange.units import mm_of_m

_WORDS = (("AFT", "FORWARD"), ("STARBOARD", "PORT"), ("UP", "DOWN"))
_ON_THE_CENTRELINE = 1e-3  # [m]
TIGHT = 10.0
"""Thicknesses: a plate rolled tighter keeps to the rolling direction (common practice)."""
_NEARLY = 1.05  # of the smallest rectangle


@dataclass(frozen=True, eq=False)
class Drawing:
    """The map from a plate's flat coordinates to its drawing.

    Attributes:
        over: whether it is turned over first.
        angle: [rad] that it is turned by.
        shift: (2,) [m] that it is moved by.
    """

    over: bool
    angle: float
    shift: FloatArray

    def of(self, flat: FloatArray) -> FloatArray:
        """Drawing points (n, 2) [m] of flat points (n, 2) [m]."""
        return np.asarray(self.ways(flat) + self.shift)

    def ways(self, flat: FloatArray) -> FloatArray:
        """Directions (n, 2) [-] in the drawing, of flat directions (n, 2) [-]."""
        seen = flat * np.array([1.0, -1.0]) if self.over else flat
        return np.asarray(seen @ turned(self.angle))

    def back(self, drawn: FloatArray) -> FloatArray:
        """Flat points (n, 2) [m] of drawing points (n, 2) [m]."""
        seen = (drawn - self.shift) @ turned(-self.angle)
        return np.asarray(seen * np.array([1.0, -1.0]) if self.over else seen)


@dataclass(frozen=True, eq=False)
class PlatePiece:
    """One plate to be cut out.

    Attributes:
        id: mark, and a side or number where several are cut alike.
        mark: of all that are cut alike.
        part: name of the part it belongs to.
        plate: the steel.
        rings: outer loop and holes in the drawing [m], smallest coordinates zero.
        drawing: from the plate's flat coordinates to it.
        side: where the marked side faces, in a word.
        wanted: area [m^2] and length of cut edges [m] by the model.
    """

    id: str
    mark: str
    part: str
    plate: Plate
    rings: tuple[Contour, ...]
    drawing: Drawing
    side: str
    wanted: tuple[float, float]

    @property
    def thickness(self) -> float:
        """Thickness of the plate [m]."""
        return self.plate.thickness

    @property
    def area(self) -> float:
        """Area of the steel [m^2], from the model, so that its mass agrees with the ledger."""
        return self.wanted[0]

    @cached_property
    def cut_length(self) -> float:
        """Length of all cut edges [m]."""
        return sum(ring.perimeter for ring in self.rings)

    @cached_property
    def region(self) -> shapely.Polygon:
        """The steel, in the drawing."""
        return polygon_of(self.rings)

    @cached_property
    def size(self) -> FloatArray:
        """(2,) length and breadth of the drawing [m]."""
        return np.asarray(self.rings[0].points.max(axis=0))

    @cached_property
    def shape(self) -> str:
        """A sign of its contours and thickness: another shape, another sign."""
        rows = [np.round(mm_of_m(1.0) * ring.nodes, 1) + 0.0 for ring in self.rings]
        return _sign(mm_of_m(self.thickness), *(row.tolist() for row in rows))

    @property
    def bend_radius(self) -> float:
        """Tightest radius [m] it is rolled to; infinite where it stays flat."""
        return min((float(r) for _, r in rulings_of(self.plate)), default=np.inf)

    @property
    def is_tight(self) -> bool:
        """True where it is rolled so tightly that it keeps to the rolling direction."""
        return self.bend_radius < TIGHT * self.thickness


@dataclass(frozen=True, eq=False)
class Bar:
    """One straight length of a section.

    Attributes:
        id: as of a piece.
        mark: of all that are cut alike.
        part: name of the part it belongs to.
        plate: the steel.
        section: in words, such as ``flat 40 x 4``.
        length: [m].
    """

    id: str
    mark: str
    part: str
    plate: Plate
    section: str
    length: float

    @property
    def shape(self) -> str:
        """A sign of its section and length: another bar, another sign."""
        return _sign(self.section, round(mm_of_m(self.length), 1))


def _sign(*content: object) -> str:
    # a letter first, or tables of numbers read it as one
    return f"s{sha256(repr(content).encode()).hexdigest()[:10]}"


@dataclass(frozen=True, eq=False)
class Steel:
    """Everything new: what is cut from plate, what is cut from bars, and how it meets.

    Attributes:
        names: part and id of every plate, as the seams number them.
        pieces: cut from plate.
        bars: straight flats and tubes.
        seams: between all of them.
    """

    names: tuple[tuple[str, str], ...]
    plates: tuple[Plate, ...]
    pieces: tuple[PlatePiece, ...]
    bars: tuple[Bar, ...]
    seams: tuple[Seam, ...]


def rulings_of(plate: Plate) -> tuple[tuple[FloatArray, float], ...]:
    """Places (1, 2) [m] on a rolled plate in the flat, each with its bend radius [m]."""
    if isinstance(plate.map, Strip):
        rows = (zip(bend.ends, bend.radii, strict=True) for bend in plate.map.bends)
        return tuple((end[None], radius) for row in rows for end, radius in row)
    if not isinstance(plate.map, Cone):
        return ()
    cone, flat = plate.map, plate.outer.polyline()
    azimuth, along = cone.azimuth(flat), cone.along(flat)
    ends = []
    for reach in (float(along.min()), float(along.max())):
        at = cone.flat_of(np.array([float(azimuth.mean())]), np.array([reach]))
        ends.append((at, bend_radius(cone, reach)))
    return tuple(ends)


def bend_radius(cone: Cone, along: float) -> float:
    """Radius [m] to which the plate is rolled, square to the ruling, at a place along it."""
    return float((cone.radius + along * np.sin(cone.half_angle)) / np.cos(cone.half_angle))


def straight_length(plate: Plate) -> float:
    """Length [m] of a straight bar or tube; zero where the piece is cut from plate."""
    if plate.kind == "tube":
        return plate.thickness
    segments = plate.outer.segments
    if plate.kind != "flat_bar" or len(segments) != 4 or plate.holes:
        return 0.0
    if not all(isinstance(segment, Line) for segment in segments):
        return 0.0
    length = max(segment.length for segment in segments)
    square = abs(plate.outer.area - length * plate.section[0]) < 1e-9
    return length if square else 0.0


def section_words(plate: Plate) -> str:
    """What a bar is ordered by.

    >>> f"{40.0:g} x {4.0:g}"
    '40 x 4'
    """
    first, second = (round(1e3 * size, 3) for size in plate.section)
    return f"{'tube' if plate.kind == 'tube' else 'flat'} {first:g} x {second:g}"


def steel_of(parts: Mapping[str, Sequence[Plate]], seams_between: Sequence[Seam]) -> Steel:
    """Pieces and bars of parts, marked; the seams number the plates in the order given."""
    rows = [(part, plate) for part, plates in parts.items() for plate in plates]
    landed = _landed(len(rows), seams_between)
    marks = _marks(rows)
    pieces: list[PlatePiece] = []
    bars: list[Bar] = []
    for k, ((part, plate), (mark, name)) in enumerate(zip(rows, marks, strict=True)):
        length = straight_length(plate)
        if length:
            bars.append(Bar(name, mark, part, plate, section_words(plate), length))
        else:
            pieces.append(_piece(name, mark, part, plate, landed[k]))
    names = tuple((part, plate.id) for part, plate in rows)
    return Steel(
        names, tuple(p for _, p in rows), tuple(pieces), tuple(bars), tuple(seams_between)
    )


def _landed(count: int, seams: Sequence[Seam]) -> list[float]:
    """Length [m] that lands on each plate's normal side, less what lands on the other."""
    landed = [0.0] * count
    for seam in seams:
        if seam.kind in ("tee", "lap"):
            landed[seam.second] += seam.length if seam.above else -seam.length
    return landed


def _marks(rows: Sequence[tuple[str, Plate]]) -> list[tuple[str, str]]:
    """Mark and id of every plate."""
    numbers: dict[tuple[object, ...], str] = {}
    count: dict[str, int] = {}
    members: dict[str, list[int]] = {}
    for k, (part, plate) in enumerate(rows):
        bend = (plate.map.radius, plate.map.half_angle) if isinstance(plate.map, Cone) else ()
        key = (part, plate.kind, plate.outer, plate.holes, plate.thickness, bend)
        if key not in numbers:
            count[part] = count.get(part, 0) + 1
            numbers[key] = f"{part.upper()}-{count[part]:02d}"
        members.setdefault(numbers[key], []).append(k)
    found: dict[int, tuple[str, str]] = {}
    for mark, those in members.items():
        for k, ending in zip(those, _endings([rows[k][1] for k in those]), strict=True):
            found[k] = (mark, f"{mark}-{ending}" if ending else mark)
    return [found[k] for k in range(len(rows))]


def _endings(plates: Sequence[Plate]) -> list[str]:
    """S and P for one to each side; numbers where there are more."""
    if len(plates) == 1:
        return [""]
    sides = [_side_of(plate) for plate in plates]
    if sorted(sides) == ["P", "S"]:
        return sides
    return [f"{side}{sides[: k + 1].count(side)}" for k, side in enumerate(sides)]


def _side_of(plate: Plate) -> str:
    y = float(plate.map.to_boat(plate.flat_centroid)[0, 1])
    return "" if abs(y) < _ON_THE_CENTRELINE else "S" if y > 0.0 else "P"


def _piece(name: str, mark: str, part: str, plate: Plate, landed: float) -> PlatePiece:
    at = plate.flat_centroid
    normal = plate.map.normals(at)[0]
    inward = normal @ _preferred(normal, float(plate.map.to_boat(at)[0, 1])) > 0.0
    over = landed < -1e-6 or (abs(landed) <= 1e-6 and not inward)
    rings, drawing = _drawn(plate, over)
    faces = _facing(-normal if over else normal, float(plate.map.to_boat(at)[0, 1]))
    wanted = plate.flat_area, plate.perimeter
    return PlatePiece(name, mark, part, plate, rings, drawing, faces, wanted)


def _preferred(normal: np.ndarray, y: float) -> FloatArray:
    """Where a marked side looks if nothing lands: up, inboard or forward."""
    axis = int(np.argmax(np.abs(normal)))
    wanted = ((-1.0, 0.0, 0.0), (0.0, -1.0 if y > 0.0 else 1.0, 0.0), (0.0, 0.0, 1.0))
    return np.array(wanted[axis])


def _facing(way: FloatArray, y: float) -> str:
    axis = int(np.argmax(np.abs(way)))
    if axis == 1 and abs(y) > _ON_THE_CENTRELINE:
        return "OUTBOARD" if way[1] * y > 0.0 else "INBOARD"
    return _WORDS[axis][0 if way[axis] > 0.0 else 1]


def _drawn(plate: Plate, over: bool) -> tuple[tuple[Contour, ...], Drawing]:
    """The plate's loops turned over, long side level, moved to the corner."""
    outlines: tuple[FlatOutline, ...] = (plate.outer, *plate.holes)
    rings = [contour_of(outline) for outline in outlines]
    none = np.zeros(2)
    seen = [ring.placed(0.0, none, over) for ring in rings]
    angle = -_slope(seen[0].points)
    turned_ = [ring.placed(angle, none) for ring in seen]
    shift = -turned_[0].points.min(axis=0)
    placed = tuple(ring.placed(angle, shift) for ring in seen)
    return placed, Drawing(over, angle, shift)


def _slope(points: FloatArray) -> float:
    """Angle [rad] of the long side of the smallest rectangle around points (n, 2).

    The plate's own directions are kept where they give nearly as small a one.
    """
    length, breadth = np.ptp(points, axis=0).tolist()
    box = shapely.get_coordinates(shapely.Polygon(points).minimum_rotated_rectangle)
    sides = np.diff(box, axis=0)[:2]
    if length * breadth <= _NEARLY * np.prod(np.hypot(*sides.T)):
        return 0.0 if length >= breadth else pi / 2.0
    x, y = sides[int(np.argmax(np.hypot(*sides.T)))].tolist()
    return atan(y / x) if x else pi / 2.0
