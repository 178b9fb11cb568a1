"""A piece too large for the stock, parted by a straight seam."""

from collections.abc import Callable
from dataclasses import replace
from math import pi

import numpy as np
import shapely

from hullchange.geometry.frame import FloatArray
from hullchange.shop.contour import Contour
from hullchange.shop.piece import Drawing, Piece

SHARES = (0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7)
FROM_HOLES = 0.05  # [m] kept between the seam and an opening
_SAME = 1e-7


def parted(piece: Piece, goes: Callable[[Piece], bool]) -> tuple[Piece, Piece] | None:
    """The two halves that each go on a sheet, by the shortest seam, if there is one.

    Args:
        piece: too large.
        goes: whether a half fits the stock.
    """
    found: list[tuple[float, int, tuple[Piece, Piece]]] = []
    for axis in (0, 1):
        for share in SHARES:
            halves = _halves(piece, axis, share * float(piece.size[axis]))
            if halves is not None and all(goes(half) for half in halves):
                found.append((seam_length(halves, piece), len(found), halves))
    return min(found)[2] if found else None


def seam_length(halves: tuple[Piece, Piece], piece: Piece) -> float:
    """Length [m] of the seam between two halves."""
    return (halves[0].cut_length + halves[1].cut_length - piece.cut_length) / 2.0


def _halves(piece: Piece, axis: int, at: float) -> tuple[Piece, Piece] | None:
    """Both sides of the line on which one coordinate of the drawing has a value."""
    loops = cut_across(piece.rings[0], axis, at)
    if loops is None:
        return None
    sides: tuple[list[Contour], list[Contour]] = ([loops[0]], [loops[1]])
    for hole in piece.rings[1:]:
        values = hole.points[:, axis]
        if values.min() - FROM_HOLES < at < values.max() + FROM_HOLES:
            return None
        sides[int(values.min() > at)].append(hole)
    first, second = (
        _half(piece, rings, ending) for rings, ending in zip(sides, "AB", strict=True)
    )
    return first, second


def _half(piece: Piece, rings: list[Contour], ending: str) -> Piece:
    """One half, drawn at the corner with its long side level."""
    length, breadth = np.ptp(rings[0].points, axis=0)
    angle = 0.0 if length >= breadth else pi / 2.0
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
    area = sum(r.area if k == 0 else -r.area for k, r in enumerate(moved))
    return replace(
        piece,
        id=f"{piece.id}-{ending}",
        mark=f"{piece.mark}-{ending}",
        rings=moved,
        drawing=drawing,
        wanted=(area, sum(ring.perimeter for ring in moved)),
    )


def cut_across(loop: Contour, axis: int, at: float) -> tuple[Contour, Contour] | None:
    """Below and above a line square to an axis, where it crosses the loop just twice."""
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
    assert shapely.Polygon(pair[0].points).is_valid
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
