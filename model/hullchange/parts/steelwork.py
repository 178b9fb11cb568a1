"""Pieces that every part is made of: flat plates in space, bars on edge, twins."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray, Frame
from hullchange.geometry.outline import (
    FlatOutline,
    FlatPoint,
    Line,
    Segment,
    Spline,
    flat_points,
)
from hullchange.geometry.plate import Planar, Plate
from hullchange.geometry.scallop import scalloped
from hullchange.units import m_of_mm

AFT = np.array([1.0, 0.0, 0.0])
STARBOARD = np.array([0.0, 1.0, 0.0])
UP = np.array([0.0, 0.0, 1.0])

_ON_THE_SURFACE = 1e-10
_STEPS = 30
_KNUCKLE = 0.02  # [rad] of bend more than beside it
_CLOSE = 5e-5  # [m] how far a fitted segment may leave its points
_SHORTEST = 1e-5  # [m]
_AT_A_POINT = 0.02  # of a piece: a knuckle so near its end lies there

HeightAt = Callable[[FloatArray, FloatArray], FloatArray]


def moved_onto(height: HeightAt, points: FloatArray, ways: FloatArray) -> FloatArray:
    """Points (n, 3) [m] moved along directions until they lie on a surface z = height(x, y).

    Args:
        height: of (x, y), vectorised [m].
        points: (n, 3) [m] where to start.
        ways: (n, 3) or (3,) directions [-], not level.

    Raises:
        ModelError: ``surface-not-met`` where a line does not meet the surface.
    """
    ways = np.broadcast_to(ways, points.shape)

    def above(run: FloatArray) -> FloatArray:
        at = points + run[:, None] * ways
        return np.asarray(at[:, 2] - height(at[:, 0], at[:, 1]))

    before = np.zeros(len(points))
    gap_before = above(before)
    run = -gap_before / ways[:, 2]
    for _ in range(_STEPS):
        gap = above(run)
        if np.abs(gap).max(initial=0.0) < _ON_THE_SURFACE:
            return np.asarray(points + run[:, None] * ways)
        change = gap - gap_before
        slope = np.where(
            change == 0.0, ways[:, 2], change / np.where(run == before, 1.0, run - before)
        )
        before, gap_before, run = run, gap, run - gap / slope
    raise ModelError(
        "surface-not-met",
        "A plate does not meet the deck or bottom it stands on: move it, "
        "or change its dimensions.",
    )


def both_sides(starboard: Plate) -> tuple[Plate, Plate]:
    """A plate whose id says starboard, and its twin whose id says port."""
    return starboard, starboard.twin(starboard.id.replace("starboard", "port"))


def plate(
    name: str,
    frame: Frame,
    outer: FlatOutline,
    thickness_mm: float,
    holes: tuple[FlatOutline, ...] = (),
) -> Plate:
    """A flat plate."""
    return Plate(name, "plate", outer, m_of_mm(thickness_mm), Planar(frame), holes)


def plate_between(name: str, corners: FloatArray, thickness_mm: float) -> Plate:
    """A flat plate by its corners (n, 3) [m] in order, in one plane, not all on one line."""
    frame = frame_of(corners)
    flat = frame.to_flat(corners)
    return plate(name, frame, FlatOutline.polygon(flat_points(flat)), thickness_mm)


def with_scallop(whole: Plate, corner: FlatPoint, scallop_mm: float) -> Plate:
    """The plate with a scallop in a corner of its outline, where welds cross."""
    outer = scalloped(whole.outer, corner, m_of_mm(scallop_mm), whole.thickness)
    return replace(whole, outer=outer)


def frame_of(corners: FloatArray) -> Frame:
    """The frame of a flat loop of corners (n, 3) [m].

    The corners run counter-clockwise in it, and u runs along the first side.
    """
    centred = corners - corners.mean(axis=0)
    normal = np.cross(centred, np.roll(centred, -1, axis=0)).sum(axis=0)
    along = corners[1] - corners[0]
    return Frame.of(corners[0], along, np.cross(normal, along))


def flat_bar(
    name: str,
    start: FloatArray,
    end: FloatArray,
    on_edge: FloatArray,
    section: tuple[float, float],
) -> Plate:
    """A flat bar between two points of its welded edge, standing out towards ``on_edge``.

    Args:
        name: id.
        start: (3,) [m].
        end: (3,) [m].
        on_edge: (3,) direction [-] that its depth stands out in.
        section: depth and thickness [m].
    """
    length = float(np.linalg.norm(end - start))
    outer = FlatOutline.polygon(
        ((0.0, 0.0), (length, 0.0), (length, section[0]), (0.0, section[0]))
    )
    frame = Frame.of(start, end - start, on_edge)
    return Plate(name, "flat_bar", outer, section[1], Planar(frame), section=section)


def section_of(flat_mm: tuple[float, float]) -> tuple[float, float]:
    """Depth and thickness [m] of a flat bar given in mm."""
    return m_of_mm(flat_mm[0]), m_of_mm(flat_mm[1])


def spline_through(points: FloatArray, tag: str = "") -> Segment:
    """A spline through flat points (n, 2) [m]; two points make a line."""
    rows = flat_points(points)
    return Line(rows[0], rows[1], tag) if len(rows) == 2 else Spline(rows, tag)


def fitted_segments(points: FloatArray, tag: str) -> tuple[Segment, ...]:
    """Splines along a dense row (n, 2) [m] of points of a curve, divided at its knuckles.

    A knuckle lies where the straight pieces before and after it meet, between two points.
    """
    rows = _parted(points)
    return tuple(_through(row, tag) for row in rows if np.ptp(row, axis=0).max() > _SHORTEST)


def _parted(points: FloatArray) -> list[FloatArray]:
    """The row, parted where it bends within two of its pieces as nowhere beside them."""
    way = np.diff(points, axis=0)
    heading = np.unwrap(np.arctan2(way[:, 1], way[:, 0]))
    turn = np.abs(np.r_[0.0, np.diff(heading), 0.0])
    both = turn[1:-2] + turn[2:-1]
    sharp = both - turn[:-3] - turn[3:] > _KNUCKLE
    rows, start, first = [], points[:1], 1
    for k in np.nonzero(sharp)[0].tolist():
        if both[k] < both[max(k - 1, 0) : k + 2].max() or k < first:
            continue
        corner = _met(points[k], way[k], points[k + 3], way[k + 2])
        share = float((corner - points[k + 1]) @ way[k + 1] / (way[k + 1] @ way[k + 1]))
        low, high = k + 1 + (share > _AT_A_POINT), k + 1 + (share >= 1.0 - _AT_A_POINT)
        if low != high + 1:
            corner = points[high]
        rows.append(np.concatenate([start, points[first:low], corner[None]]))
        start, first = corner[None], high + 1
    return [*rows, np.concatenate([start, points[first:]])]


def _met(a: FloatArray, along: FloatArray, b: FloatArray, back: FloatArray) -> FloatArray:
    """Where two straight lines (2,) meet."""
    share = np.linalg.solve(np.stack([along, -back], axis=1), b - a)
    return np.asarray(a + share[0] * along)


def _through(row: FloatArray, tag: str) -> Segment:
    """A line or spline within ``_CLOSE`` of a smooth row (n, 2), with its ends."""
    run = np.r_[0.0, np.cumsum(np.hypot(*np.diff(row, axis=0).T))]
    for count in (1, 6, 12, 24, 48):
        places = np.linspace(0.0, run[-1], count + 1)
        at = np.stack([np.interp(places, run, row[:, k]) for k in (0, 1)], axis=1)
        segment = spline_through(at, tag)
        fine = segment.spread(8 * count)
        length = np.r_[0.0, np.cumsum(np.hypot(*np.diff(fine, axis=0).T))]
        share = run * (length[-1] / run[-1])
        off = [np.interp(share, length, fine[:, k]) - row[:, k] for k in (0, 1)]
        if np.hypot(*off).max() < _CLOSE:
            break
    return segment


def closed_outline(*edges: Segment) -> FlatOutline:
    """An outline of edges, closed by straight lines where they do not meet."""
    pieces: list[Segment] = []
    for edge, following in zip(edges, (*edges[1:], edges[0]), strict=True):
        pieces.append(edge)
        if edge.end != following.start:
            pieces.append(Line(edge.end, following.start))
    return FlatOutline(tuple(pieces))


def spaced_evenly(length: float, spacing: float) -> FloatArray:
    """Places (n,) [m] inside a ``length`` [m], evenly spaced by at most ``spacing`` [m]."""
    count = int(np.ceil(length / spacing - 1e-9))
    return np.linspace(0.0, length, max(count, 1) + 1)[1:-1]
