"""A deckhouse: sides, front, after end, rolled roof, beams and stiffeners, closed volume."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial
from itertools import pairwise
from math import radians, sqrt, tan

import numpy as np

from hullchange.findings import Finding, Severity
from hullchange.geometry.developable import Cone
from hullchange.geometry.frame import FloatArray, Frame
from hullchange.geometry.outline import FlatOutline
from hullchange.geometry.plate import Planar, Plate
from hullchange.geometry.surface import Surface
from hullchange.parts.closed import triangle_fan, triangle_strip
from hullchange.parts.house_shape import ACROSS, LEAST_WALL, HouseShape, house_shape
from hullchange.parts.openings import (
    EndWall,
    after_end_of,
    end_outlines,
    front_windows,
    side_windows,
)
from hullchange.parts.parameters import Deckhouse, Flats
from hullchange.parts.part import Body, Carried, Part, Post, Site
from hullchange.parts.stacked import (
    carried_by,
    front_is_taller,
    ground_of,
    require_covered_front,
    roof_opening,
    shared_after_end,
    wall_above,
)
from hullchange.parts.steelwork import (
    AFT,
    STARBOARD,
    UP,
    both_sides,
    closed_outline,
    flat_bar,
    plate,
    section_of,
    spaced_evenly,
    spline_through,
)
from hullchange.units import m_of_mm

CLEAR = 0.02
"""[m] gap at the ends of bars, and between a bar and a window (common practice, no source)."""

SUNK = 0.10
"""[m] how far the closed volume reaches below the deck, to be trimmed by the hull."""

POINTS, PARTS = 9, 8  # of a beam's edges, and finer where one begins at a post

DRAWN_IN = 0.9  # of its breadth down there, so that it stays inside flaring topsides


def deckhouse(given: Deckhouse, site: Site) -> Part:
    """The deckhouse for given dimensions.

    Raises:
        ModelError: as ``house_shape``, ``ground_of`` and the openings;
            ``shared-end-not-covered``.
    """
    shape = house_shape(given, ground_of(given, site))
    windows = side_windows(shape, given.side_windows) if given.side_windows else ()
    plates = (
        *both_sides(_side(shape, given, windows)),
        *_front(shape, given, site),
        *_after_end(shape, given, site),
        _roof(shape, given, site.carries),
        *_roof_beams(shape, given, site),
        *_side_stiffeners(shape, given, windows),
    )
    return Part(
        given.kind,
        plates,
        bodies=() if given.open_aft else (Body(_body(shape), adds=True),),
        side_view=_side_view(shape, windows),
        roof=shape.roof,
        roof_thickness=m_of_mm(given.roof_plate_mm),
        old_plates=_old_roof(shape, given, site),
        findings=tuple(_parted(plates, site)),
        house=shape,
    )


def _side(shape: HouseShape, given: Deckhouse, windows: tuple[FlatOutline, ...]) -> Plate:
    wall = shape.side_wall
    outer = closed_outline(
        spline_through(wall.foot, "deck"), spline_through(wall.top[::-1], "roof")
    )
    return plate("side-starboard", shape.side, outer, given.side_plate_mm, windows)


def _front(shape: HouseShape, given: Deckhouse, site: Site) -> Iterator[Plate]:
    wall, door = shape.front_wall, None
    lower = site.stand.house if site.stand and given.shared_end == "forward" else None
    if lower is not None and not front_is_taller(lower, shape):
        require_covered_front(shape, lower)
        return  # its bulkhead is that house's after end
    end = EndWall(
        shape.front,
        wall,
        partial(shape.foot_between, shape.front),
        (spline_through(wall.top[::-1], "roof"),),
    )
    if lower is not None:
        wall, door = wall_above(shape, lower), site.stand_door
    outer, holes = end_outlines(end, door)
    windows = front_windows(wall, given.front_windows) if given.front_windows else ()
    yield plate("front", shape.front, outer, given.end_plate_mm, (*holes, *windows))


def _after_end(shape: HouseShape, given: Deckhouse, site: Site) -> Iterator[Plate]:
    if given.open_aft or any(one.shares_after_end for one in site.carries):
        return
    end, door = after_end_of(shape), given.door
    if given.shared_end == "aft" and site.stand is not None and site.stand.house is not None:
        end, door = shared_after_end(shape, site.stand.house), given.door or site.stand_door
    outer, holes = end_outlines(end, door)
    yield plate("after-end", end.frame, outer, given.end_plate_mm, holes)


def _roof(shape: HouseShape, given: Deckhouse, carries: tuple[Carried, ...]) -> Plate:
    front, after = (shape.roof.to_flat(top) for top in (shape.front_top, shape.after_top))
    outer = closed_outline(
        spline_through(front[::-1], "front"), spline_through(after, "after-end")
    )
    holes = tuple(
        roof_opening(shape.roof, carried.hole) for carried in carries if len(carried.hole)
    )
    return Plate("roof", "plate", outer, m_of_mm(given.roof_plate_mm), shape.roof, holes)


def _old_roof(shape: HouseShape, given: Deckhouse, site: Site) -> tuple[Plate, ...]:
    """The roof of a house that stays, cut out under one that stands on it."""
    stand = site.stand
    if stand is None or stand.house is None or not site.stand_stays:
        return ()
    hole = carried_by(stand.house, given, shape).hole
    if not len(hole) or not isinstance(stand.roof, Cone):
        return ()
    outer = roof_opening(stand.roof, hole)
    return (Plate("old-roof", "plate", outer, stand.roof_thickness, stand.roof),)


def _roof_beams(shape: HouseShape, given: Deckhouse, site: Site) -> Iterator[Plate]:
    """Flats on edge under the roof, clear of the sides, parted at posts and openings."""
    if given.roof_beams is None:
        return
    depth, thickness = section_of(given.roof_beams.flat_mm)
    lean = max(0.0, tan(radians(-given.tumblehome_deg)))
    gap = CLEAR + depth * lean + _depth(given.side_stiffeners)
    edge = float(shape.azimuths[-1]) - gap / shape.roof.radius
    if edge <= 0.0:
        return
    under = shape.roof.offset(-m_of_mm(given.roof_plate_mm) / 2.0)
    edges = under, under.offset(-depth)
    start, end = float(shape.front_top[:, 0].max()), float(shape.after_top[0, 0])
    for k, x in enumerate(start + spaced_evenly(end - start, given.roof_beams.spacing_m), 1):
        frame = Frame(float(x) * AFT, STARBOARD, UP)
        reach = max(_taken(float(x), thickness, site), default=0.0)
        rows = [_edge_beyond(float(x), cone, edge, reach) for cone in edges]
        if not all(len(row) for row in rows):
            continue
        top, bottom = rows
        outer = closed_outline(spline_through(bottom), spline_through(top[::-1], "roof"))
        name, section = f"roof-beam-{k}", (depth, thickness)
        beam = Plate(name, "flat_bar", outer, thickness, Planar(frame), section=section)
        yield from both_sides(replace(beam, id=f"{name}-starboard")) if reach else (beam,)


def _taken(x: float, thickness: float, site: Site) -> Iterator[float]:
    """Half-breadths [m] that posts and openings in the roof take from a beam at x."""
    yield from (_reach(x, thickness, post) for post in site.posts)
    for carried in site.carries:
        along, half = carried.hole.T
        if len(along) and along[0] - thickness < x < along[-1] + thickness:
            yield float(np.interp(x, along, half))


def _reach(x: float, thickness: float, post: Post) -> float:
    """Half-breadth [m] that a post takes from a beam at x; zero where it passes it."""
    beside = max(0.0, abs(x - post[0]) - thickness / 2.0)
    return sqrt(max(0.0, post[1] ** 2 - beside**2))


def _edge_beyond(x: float, cone: Cone, edge: float, reach: float) -> FloatArray:
    """(n, 2) a beam's edge at a station: whole, or what is left beyond a half-breadth."""
    azimuths = np.linspace(-edge, edge, POINTS)
    if not reach:
        return _yz_at(x, *cone.rulings(azimuths))
    fine = np.linspace(0.0, edge, PARTS * POINTS)
    y = _yz_at(x, *cone.rulings(fine))[:, 0]
    if y[-1] < reach + LEAST_WALL:
        return np.zeros((0, 2))
    azimuths = np.linspace(float(np.interp(reach, y, fine)), edge, POINTS)
    return _yz_at(x, *cone.rulings(azimuths))


def _parted(plates: tuple[Plate, ...], site: Site) -> Iterable[Finding]:
    """Which beams are parted at a post or an opening."""
    names = [p.id.split("-")[2] for p in plates if p.id.startswith("roof-beam") and p.twin_of]
    if not names:
        return ()
    wide = ", ".join(f"{2e3 * radius:.0f}" for _, radius in site.posts)
    beams = (
        f"Roof beam {names[0]} is" if len(names) == 1 else f"Roof beams {', '.join(names)} are"
    )
    sentence = (
        f"{beams} cut where the {wide} mm post passes through: weld "
        "its halves to the post, or choose a spacing that clears the post."
    )
    if any(len(one.hole) for one in site.carries):
        sentence = (
            f"{beams} cut by something that stands on the roof and "
            "passes through it: support the cut ends, around an opening with a fore-and-aft "
            "beam."
        )
    return (Finding("beam-parted", Severity.NOTE, "roof_beams", sentence),)


def _yz_at(x: float, feet: FloatArray, ways: FloatArray) -> FloatArray:
    """(n, 2) where straight lines, given by points and directions, pass a station."""
    run = (x - feet[:, 0]) / ways[:, 0]
    return feet[:, 1:] + run[:, None] * ways[:, 1:]


def _depth(flats: Flats | None) -> float:
    return 0.0 if flats is None else m_of_mm(flats.flat_mm[0])


def _side_stiffeners(
    shape: HouseShape, given: Deckhouse, windows: tuple[FlatOutline, ...]
) -> Iterator[Plate]:
    """Upright flats inside the sides, parted by the windows, below the roof beams."""
    if given.side_stiffeners is None:
        return
    wall, side = shape.side_wall, shape.side
    section = section_of(given.side_stiffeners.flat_mm)
    inboard = side.normal * -np.sign(side.normal[1])
    first, last = wall.foot[0, 0], wall.foot[-1, 0]
    number = 0
    for u in first + spaced_evenly(last - first, given.side_stiffeners.spacing_m):
        low = float(np.interp(u, *wall.foot.T))
        high = min(0.0, _level_of_ends(shape, float(u))) - CLEAR - _depth(given.roof_beams)
        for bottom, top in _between_windows(float(u), (low, high), windows, section[1]):
            number += 1
            ends = side.to_boat(np.array([[u, bottom], [u, top]]))
            ends = ends + inboard * m_of_mm(given.side_plate_mm) / 2.0
            name = f"side-stiffener-starboard-{number}"
            yield from both_sides(flat_bar(name, ends[0], ends[1], inboard, section))


def _level_of_ends(shape: HouseShape, u: float) -> float:
    """How high the side reaches at u where an end cuts it short; unlimited between them."""
    wall = shape.side_wall
    reach = np.inf
    for k, beyond in ((0, u < wall.top[0, 0]), (-1, u > wall.top[-1, 0])):
        if beyond:
            (u0, v0), (u1, v1) = wall.foot[k], wall.top[k]
            reach = min(reach, float(v0 + (u - u0) * (v1 - v0) / (u1 - u0)))
    return reach


def _between_windows(
    u: float, span: tuple[float, float], windows: tuple[FlatOutline, ...], thickness: float
) -> list[tuple[float, float]]:
    """The pieces of a stiffener at u from bottom to top, windows left clear."""
    aside = CLEAR + thickness / 2.0
    pieces = [span]
    for window in windows:
        corners = np.array([segment.start for segment in window.segments])
        (u0, v0), (u1, v1) = corners.min(axis=0), corners.max(axis=0)
        if u0 - aside < u < u1 + aside:
            pieces = [
                part
                for low, high in pieces
                for part in (
                    (low, min(high, float(v0) - CLEAR)),
                    (max(low, float(v1) + CLEAR), high),
                )
            ]
    return [(low, high) for low, high in pieces if high - low > LEAST_WALL]


def _body(shape: HouseShape) -> Surface:
    """The closed volume inside the mid-surfaces, sunk below the deck to be trimmed by it."""
    starboard = shape.side_foot
    port = starboard * np.array([1.0, -1.0, 1.0])
    low, down = np.array([1.0, DRAWN_IN, 1.0]), SUNK * UP
    sunk = starboard * low - down, port * low - down
    rows = [shape.front_top, shape.after_top, starboard, port, *sunk]
    ends = np.cumsum([0] + [len(row) for row in rows])
    front, after, right, left, right_low, left_low = (
        np.arange(a, b) for a, b in pairwise(ends)
    )
    faces = [
        triangle_strip(after, front),
        triangle_fan(np.array([left[0], *front, right[0]])),
        triangle_fan(np.array([left[-1], *after, right[-1]])[::-1]),
        triangle_fan(np.array([front[-1], after[-1], *right[::-1]])),
        triangle_fan(np.array([front[0], after[0], *left[::-1]]))[:, ::-1],
        triangle_strip(right, right_low),
        triangle_strip(left, left_low)[:, ::-1],
        triangle_fan(np.array([left_low[0], left[0], right[0], right_low[0]])),
        triangle_fan(np.array([right_low[-1], right[-1], left[-1], left_low[-1]])),
        triangle_strip(right_low, left_low),
    ]
    return Surface.unchecked(np.concatenate(rows), np.concatenate(faces))


def _side_view(shape: HouseShape, windows: tuple[FlatOutline, ...]) -> tuple[FloatArray, ...]:
    """Profile of the house and of its side windows as (x, z)."""
    crown = ACROSS // 2
    profile = np.concatenate(
        [
            shape.front_foot[[crown]],
            shape.side_foot,
            shape.after_top[[-1, crown]],
            shape.front_top[[crown]],
        ]
    )
    panes = (shape.side.to_boat(window.polyline(1e-3)) for window in windows)
    return tuple(loop[:, [0, 2]] for loop in (profile, *panes))
