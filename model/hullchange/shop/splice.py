"""A piece too large for the stock, parted by straight seams."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import pi

import numpy as np
import shapely

from hullchange.geometry.frame import FloatArray
from hullchange.geometry.outline import FlatOutline
from hullchange.geometry.surface import Surface
from hullchange.shop.contour import Contour, enclosed
from hullchange.shop.piece import Drawing, PlatePiece

SHARES = (0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7)
ASIDE = (0.0, -0.1, 0.1, -0.2, 0.2, -0.3, 0.3)  # of a strip, where its seam may lie off
MOST_STRIPS = 16  # each way
MOST_CUTS = 1000  # tried, before it is given up
FROM_HOLES = 0.05  # [m] kept between the seam and an opening
_SAME = 1e-7

ContourRings = tuple[Contour, ...]
"""Outer loop and holes, where the whole piece has them."""


def split_piece(
    piece: PlatePiece, goes: Callable[[PlatePiece], bool]
) -> tuple[PlatePiece, ...] | None:
    """As few parts as can be found that each go on a sheet, by the shortest seams.

    Two halves where they do; else strips along or across, each cut into as many as it takes.
    Seams keep clear of openings.

    Args:
        piece: too large.
        goes: whether a part fits the stock.

    Returns:
        The parts, or None where no straight seams make them.
    """
    halves = _two(piece, goes)
    found = [halves] if halves else _in_strips(piece, goes)
    made = [_named(piece, rows) for rows in found]
    return min(made, key=lambda parts: (len(parts), seam_length(parts, piece)), default=None)


def seam_length(parts: Sequence[PlatePiece], piece: PlatePiece) -> float:
    """Length [m] of the seams between parts."""
    return (sum(part.cut_length for part in parts) - piece.cut_length) / 2.0


def surface_in_boat(part: PlatePiece) -> Surface:
    """Closed surface of the steel of a part where it goes, in the boat's frame."""
    outer, *holes = (_in_flat(part, ring) for ring in part.rings)
    steel = replace(part.plate, outer=outer, holes=tuple(holes), twin_of="")
    return steel.surface()


def _in_flat(part: PlatePiece, ring: Contour) -> FlatOutline:
    """A loop in the plate's flat coordinates, counter-clockwise."""
    corners = [(float(x), float(y)) for x, y in part.drawing.back(ring.points)]
    loop = FlatOutline.polygon(corners)
    return loop if loop.area > 0.0 else FlatOutline.polygon(corners[::-1])


def _named(piece: PlatePiece, rows: Sequence[ContourRings]) -> tuple[PlatePiece, ...]:
    return tuple(_part(piece, rings, _letters(k)) for k, rings in enumerate(rows))


def _letters(number: int) -> str:
    """A to Z, then AA and on.

    >>> [_letters(k) for k in (0, 25, 26)]
    ['A', 'Z', 'AA']
    """
    above, letter = divmod(number, 26)
    return (_letters(above - 1) if above else "") + chr(ord("A") + letter)


def _two(piece: PlatePiece, goes: Callable[[PlatePiece], bool]) -> list[ContourRings] | None:
    """Two halves, by the shortest seam."""
    found: list[tuple[float, int, list[ContourRings]]] = []
    for axis in (0, 1):
        for share in SHARES:
            rows = _sides(piece.rings, axis, share * float(piece.size[axis]))
            if rows is None:
                continue
            halves = _named(piece, rows)
            if all(goes(half) for half in halves):
                found.append((seam_length(halves, piece), len(found), list(rows)))
    return min(found)[2] if found else None


def _in_strips(
    piece: PlatePiece, goes: Callable[[PlatePiece], bool]
) -> list[list[ContourRings]]:
    """Parts by strips along, and by strips across, as few strips as do."""
    found = []
    for axis in (0, 1):
        search = _Search(piece, goes, axis, iter(range(MOST_CUTS)))
        rows = search.fewest(piece.rings, axis)
        if rows is not None:
            found.append(rows)
    return found


@dataclass(frozen=True)
class _Search:
    """Strips square to one axis, each cut into parts square to the other.

    Attributes:
        piece: too large.
        goes: whether a part fits the stock.
        axis: of the strips.
        cuts: one for each cut that may still be tried.
    """

    piece: PlatePiece
    goes: Callable[[PlatePiece], bool]
    axis: int
    cuts: Iterator[int]

    def fewest(self, rings: ContourRings, axis: int) -> list[ContourRings] | None:
        """Parts by the number of cuts square to an axis that makes the fewest."""
        best: list[ContourRings] | None = None
        for number in range(1, MOST_STRIPS + 1):
            if best is not None and number >= len(best):
                break
            if self._may_go(rings, axis, number):
                rows = self._strips(rings, axis, number)
                if rows is not None and (best is None or len(rows) < len(best)):
                    best = rows
        return best

    def _may_go(self, rings: ContourRings, axis: int, number: int) -> bool:
        """True unless even the narrowest of so many strips is too large."""
        sides = np.ptp(rings[0].points, axis=0) * (1.0 - 1e-6)
        sides[axis] *= (1.0 + min(ASIDE)) / number if number > 1 else 1.0
        if axis == self.axis:
            sides[1 - axis] *= (1.0 + min(ASIDE)) / MOST_STRIPS
        corners = np.array([[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0]]) * np.append(sides, 0.0)
        return self._goes((Contour(corners),))

    def _goes(self, rings: ContourRings) -> bool:
        return self.goes(_part(self.piece, rings, ""))

    def _finished(self, strip: ContourRings, axis: int) -> list[ContourRings] | None:
        """A strip in parts that go, or what was cut of a strip, where it goes."""
        if axis == self.axis:
            return self.fewest(strip, 1 - axis)
        return [strip] if self._goes(strip) else None

    def _strips(self, rings: ContourRings, axis: int, number: int) -> list[ContourRings] | None:
        """A number of strips of nearly one width, each finished."""
        if number == 1:
            return self._finished(rings, axis)
        values = rings[0].points[:, axis]
        low, width = float(values.min()), float(np.ptp(values)) / number
        for aside in ASIDE:
            if next(self.cuts, None) is None:
                return None
            sides = _sides(rings, axis, low + (1.0 + aside) * width)
            first = self._finished(sides[0], axis) if sides else None
            if sides is None or first is None:
                continue
            rest = self._strips(sides[1], axis, number - 1)
            if rest is not None:
                return first + rest
        return None


def _sides(
    rings: ContourRings, axis: int, at: float
) -> tuple[ContourRings, ContourRings] | None:
    """Both sides of the line on which one coordinate of the drawing has a value."""
    loops = cut_across(rings[0], axis, at)
    if loops is None:
        return None
    sides: tuple[list[Contour], list[Contour]] = ([loops[0]], [loops[1]])
    for hole in rings[1:]:
        values = hole.points[:, axis]
        if values.min() - FROM_HOLES < at < values.max() + FROM_HOLES:
            return None
        sides[int(values.min() > at)].append(hole)
    return tuple(sides[0]), tuple(sides[1])


def _part(piece: PlatePiece, rings: ContourRings, ending: str) -> PlatePiece:
    """One part, drawn at the corner; its long side level unless it is rolled tightly."""
    length, breadth = np.ptp(rings[0].points, axis=0)
    angle = 0.0 if length >= breadth or piece.is_tight else pi / 2.0
    none = np.zeros(2)
    laid = [ring.placed(angle, none) for ring in rings]
    shift = -laid[0].points.min(axis=0)
    moved = tuple(ring.placed(0.0, shift) for ring in laid)
    own = Drawing(False, angle, shift)
    drawing = replace(
        piece.drawing,
        angle=piece.drawing.angle + angle,
        shift=own.of(piece.drawing.shift[None])[0],
    )
    share = enclosed(moved) / enclosed(piece.rings)
    return replace(
        piece,
        id=f"{piece.id}-{ending}",
        mark=f"{piece.mark}-{ending}",
        rings=moved,
        drawing=drawing,
        wanted=(share * piece.area, sum(ring.perimeter for ring in moved)),
    )


def cut_across(loop: Contour, axis: int, at: float) -> tuple[Contour, Contour] | None:
    """The parts below and above a line square to an axis, where it crosses a loop just twice.

    Args:
        loop: to be cut.
        axis: 0 or 1.
        at: [m] along the axis.
    """
    crossings = [
        (k, share) for k in range(len(loop.nodes)) for share in _crossings(loop, k, axis, at)
    ]
    if len(crossings) != 2:
        return None
    first, second = crossings
    one = _between(loop, first, second)
    other = _between(loop, second, first)
    pair = sorted((one, other), key=lambda c: float(c.points[:, axis].mean()))
    if min(abs(c.area) for c in pair) < 1e-6:
        return None
    if not all(shapely.Polygon(c.points).is_valid for c in pair):
        return None
    return pair[0], pair[1]


def _crossings(loop: Contour, k: int, axis: int, at: float) -> list[float]:
    """Where a piece of the loop crosses, as shares of its length."""
    start, turn = loop.nodes[k, :2], float(loop.turns[k])
    end = loop.nodes[(k + 1) % len(loop.nodes), :2]
    low, high = start[axis] - at, end[axis] - at
    if turn == 0.0:
        return [] if low * high >= 0.0 else [float(low / (low - high))]
    chord = end - start
    centre = start + chord / 2.0 + np.array([-chord[1], chord[0]]) / (2.0 * np.tan(turn / 2.0))
    radius = float(loop.radii[k])
    reach = (at - centre[axis]) / radius
    if abs(reach) >= 1.0:
        return []
    from_ = np.arctan2(*(start - centre)[::-1])
    base, side = (0.0, np.arccos(reach)) if axis == 0 else (pi / 2.0, np.arccos(reach))
    shares = [
        float(((base + s * side - from_) * np.sign(turn)) % (2 * pi) / abs(turn))
        for s in (1, -1)
    ]
    return sorted(share for share in shares if _SAME < share < 1.0 - _SAME)


def _between(loop: Contour, start: tuple[int, float], end: tuple[int, float]) -> Contour:
    """The loop from one crossing on to another, closed straight."""
    count = len(loop.nodes)
    steps = (end[0] - start[0]) % count
    if steps == 0 and end[1] < start[1]:
        steps = count
    rows = []
    for k in range(steps + 1):
        number = (start[0] + k) % count
        low = start[1] if k == 0 else 0.0
        high = end[1] if k == steps else 1.0
        point = _point(loop, number, low)
        rows.append((*point, np.tan(loop.turns[number] * (high - low) / 4.0)))
    rows.append((*_point(loop, end[0], end[1]), 0.0))
    return Contour(np.array(rows))


def _point(loop: Contour, k: int, share: float) -> FloatArray:
    """A point of a piece of the loop."""
    start, turn = loop.nodes[k, :2], float(loop.turns[k])
    chord = loop.nodes[(k + 1) % len(loop.nodes), :2] - start
    if turn == 0.0:
        return np.asarray(start + share * chord)
    centre = start + chord / 2.0 + np.array([-chord[1], chord[0]]) / (2.0 * np.tan(turn / 2.0))
    angle = turn * share
    way = start - centre
    spun = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    return np.asarray(centre + way @ spun)
