"""What the boat is drawn from: outlines, curves of the bodies that float, what can be grasped.

A handle is a place on a part, the dimension it stands for, and how far the place moves for each
metre that the dimension grows. A drawing then needs no list of kinds and dimensions.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import radians, tan
from typing import Any, Literal

import numpy as np

from hullchange.answer.drawing import (
    BodyCurve,
    MarkOnProfile,
    Outline,
    PartHandle,
    Profile,
)
from hullchange.boat.boat import Boat
from hullchange.boat.built import PARTS_HELD, BuiltPart
from hullchange.cache import cached
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.polyline import thinned
from hullchange.geometry.station import starboard_half, station_cuts
from hullchange.geometry.surface import Surface
from hullchange.hull.hull import Hull
from hullchange.parts.bulwark_parameters import Bulwark
from hullchange.parts.parameters import (
    BowPlatform,
    Cockpit,
    Deckhouse,
    HullPlate,
    MastSupport,
    TransomExtension,
)
from hullchange.parts.part import Part
from hullchange.parts.steelwork import AFT, UP

BodyRole = Literal["section", "midship", "sheer", "keel", "house", "well"]
ProfileRole = Literal["hull", "sheer", "chine", "appendage", "existing", "replaced", "part"]
FINEST = 1e-3  # [m] points of a drawn line are thinned to this
FINEST_ACROSS = 2e-4  # [m] the same of a section
DOWN = np.array([0.0, 0.0, -1.0])
INSIDE = 1e-6  # [m] so far from the end of a body its end is cut


def profile_of(boat: Boat, centre_of_flotation: float) -> Profile:
    """Outlines in side view, marks, and where the pivot of the trim stands.

    Args:
        boat: what is drawn.
        centre_of_flotation: x [m].
    """
    gone = _replaced(boat)
    parts = [(part, _role(part, gone)) for part in boat.existing.values()]
    parts += [(part, "part") for part in boat.parts.values()]
    return Profile(
        outlines=(
            *_hull_outlines(boat.hull),
            *(outline for part, role in parts for outline in _part_outlines(part, role)),
        ),
        marks=tuple(
            MarkOnProfile(id=name, x_m=mark.x_m, sheer_z_m=mark.sheer_z_m)
            for name, mark in boat.document.survey.marks.items()
        ),
        length_waterline_m=boat.document.hull.length_waterline_m,
        centre_of_flotation_x_m=centre_of_flotation,
        changes_moment_kgm=_moment(boat, centre_of_flotation),
        body=(
            *_hull_curves(boat.hull, boat.document.hull.length_waterline_m / 2.0),
            *(curve for part in _standing(boat) for curve in _part_curves(part)),
        ),
        handles=tuple(one for part in boat.parts.values() for one in _handles(part)),
    )


def _moment(boat: Boat, x: float) -> float:
    """[kg m] of the changes about a place along the boat."""
    mass, moment = np.zeros(2) + sum(entry.account.numbers[:2] for entry in boat.entries)
    return float(moment - x * mass)


def _replaced(boat: Boat) -> set[str | None]:
    """Paths of what is taken away whole."""
    return {change.replaces for change in boat.document.changes.values()}


def _role(part: BuiltPart, gone: set[str | None]) -> ProfileRole:
    """What an existing part is to the refit."""
    return "replaced" if part.path in gone else "existing"


def _standing(boat: Boat) -> Iterator[BuiltPart]:
    """The parts of the refit."""
    gone = _replaced(boat)
    yield from (part for part in boat.existing.values() if part.path not in gone)
    yield from boat.parts.values()


@cached(PARTS_HELD)
def _part_curves(part: BuiltPart) -> tuple[BodyCurve, ...]:
    """A house, or a well, cut at its mid-length."""
    curves = []
    for body in part.bodies:
        if body.adds and not part.is_house:
            continue
        middle = float(body.surface.bounds[:, 0].mean())
        curves += _cut(body.surface, middle, "house" if body.adds else "well")
    return tuple(curves)


@cached(8)
def _hull_curves(hull: Hull, middle: float) -> tuple[BodyCurve, ...]:
    """Sections where the sheer was measured and amidships, sheer, and keels seen end on."""
    stations = hull.lines.sheer.points[:, 0].tolist()
    sections = [c for x in stations for c in _cut(hull.surface, x, "section")]
    sheer = thinned(hull.lines.sheer.at_fraction(hull.mesh.fractions), FINEST)
    keels = [
        _curve("keel", part.end_view, both=part.pair or part.plane.is_amidships)
        for part in hull.appendages.values()
    ]
    return (
        *sections,
        _curve("sheer", sheer),
        *keels,
        *_cut(hull.surface, middle, "midship"),
    )


def _cut(surface: Surface, x: float, role: BodyRole) -> list[BodyCurve]:
    """Starboard halves of what a station shows of a body."""
    fore, after = surface.bounds[:, 0].tolist()
    inside = min(max(x, fore + INSIDE), after - INSIDE)
    halves = (starboard_half(outline) for outline in station_cuts(surface, inside))
    return [
        _curve(role, np.insert(thinned(half, FINEST_ACROSS), 0, x, axis=1))
        for half in halves
        if len(half) > 2
    ]


def _curve(role: BodyRole, points: FloatArray, *, both: bool = True) -> BodyCurve:
    found = tuple((round(x, 4), round(y, 4), round(z, 4)) for x, y, z in points.tolist())
    return BodyCurve(role=role, points_m=found, both_sides=both)


@cached(PARTS_HELD)
def _part_outlines(part: BuiltPart, role: ProfileRole) -> tuple[Outline, ...]:
    """Side-view outlines of a part [m]; few points, since every step of a drag redraws it."""
    return tuple(_outline(part.path, role, p, closed=True) for p in part.part.side_view)


@cached(PARTS_HELD)
def _handles(part: BuiltPart) -> tuple[PartHandle, ...]:
    """What can be dragged on a part."""
    return tuple(
        PartHandle(
            path=f"{part.path}.{one.key}",
            index=one.index,
            change=part.change,
            part=part.id,
            kind=part.part.kind,
            at_m=_point(one.at),
            moves_m=_point(one.moves),
            is_main=one.is_main,
        )
        for one in HANDLES[part.part.kind](part.dimensions, part.part)
    )


def _point(at: FloatArray) -> tuple[float, float, float]:
    x, y, z = (round(float(v), 4) for v in at)
    return x, y, z


@cached(8)
def _hull_outlines(hull: Hull) -> tuple[Outline, ...]:
    return tuple(_of_hull(hull))


def _of_hull(hull: Hull) -> Iterator[Outline]:
    view = hull.side_view
    # the hull hides the tops of those on the centreline alone
    under: list[Outline] = []
    beside: list[Outline] = []
    for name, points in view.appendages.items():
        outline = _outline(name, "appendage", thinned(points, FINEST), closed=True)
        (under if hull.appendages[name].plane.is_amidships else beside).append(outline)
    yield from under
    yield _outline("hull", "hull", thinned(view.outline, FINEST), closed=True)
    yield from beside
    for name, points in view.lines.items():
        if name != hull.lines.centreline.name:
            role: ProfileRole = "sheer" if name == hull.lines.sheer.name else "chine"
            yield _outline(name, role, thinned(points, FINEST), closed=False)


def _outline(name: str, role: ProfileRole, points: FloatArray, *, closed: bool) -> Outline:
    return Outline(
        id=name,
        role=role,
        points_m=tuple((round(x, 4), round(z, 4)) for x, z in points.tolist()),
        closed=closed,
    )


@dataclass(frozen=True, eq=False)
class Handle:
    """One dimension, grasped where it shows.

    Attributes:
        key: of the dimension.
        index: its place in the row of numbers at that key; None where it is the only one.
        at: (3,) the place [m].
        moves: (3,) how far the place moves for a metre more [m].
        is_main: whether it is one of the few worth showing where a whole boat is drawn.
    """

    key: str
    index: int | None
    at: FloatArray
    moves: FloatArray
    is_main: bool = False


def _of_deckhouse(given: Deckhouse, part: Part) -> tuple[Handle, ...]:
    """Roof at mid-length or at both ends, front, after end; an end that is shared has none."""
    shape = part.house
    if shape is None:
        return ()
    middle = len(shape.front_top) // 2
    front, after = shape.front_top[middle], shape.after_top[middle]
    lean = UP + tan(radians(given.front_rake_deg)) * AFT
    if given.end_heights_m is None:
        found = [Handle("side_height_m", None, shape.roof.origin, UP, is_main=True)]
    else:
        found = [
            Handle("side_height_forward_m", None, front, lean, is_main=True),
            Handle("side_height_aft_m", None, after, UP, is_main=True),
        ]
    if given.shared_end != "forward":
        foot = shape.front_foot[middle]
        found.append(Handle("x_forward_m", None, (foot + front) / 2.0, AFT, is_main=True))
    if given.shared_end != "aft":
        foot = shape.after_foot[middle]
        found.append(Handle("x_aft_m", None, (foot + after) / 2.0, AFT, is_main=True))
    return tuple(found)


def _of_cockpit(given: Cockpit, part: Part) -> tuple[Handle, ...]:  # noqa: ARG001 - as others
    """Both ends of the seat well, seats, sole, after end of the foot well, coaming."""
    length, _, depth = given.seat_well_m
    forward, seats = given.x_forward_m, given.deck_z_m - depth
    after, over = forward + length, (given.deck_z_m + seats) / 2.0
    well_length, _, well_depth = given.foot_well_m
    well_after, sole = given.foot_well_forward_m + well_length, seats - well_depth
    well_middle = given.foot_well_forward_m + well_length / 2.0
    behind = (well_after + after) / 2.0
    return (
        Handle("seat_well_m", 0, _on_centre(after, over), AFT, is_main=True),
        Handle("x_forward_m", None, _on_centre(forward, over), AFT),
        Handle("seat_well_m", 2, _on_centre(behind, seats), DOWN),
        Handle("foot_well_m", 0, _on_centre(well_after, (seats + sole) / 2.0), AFT),
        Handle("foot_well_m", 2, _on_centre(well_middle, sole), DOWN, is_main=True),
        Handle(
            "coaming_top_z_m",
            None,
            _on_centre((forward + after) / 2.0, given.coaming_top_z_m),
            UP,
        ),
    )


def _on_centre(x: float, z: float) -> FloatArray:
    return np.array([x, 0.0, z])


def _of_transom_extension(given: TransomExtension, part: Part) -> tuple[Handle, ...]:
    """After end, platform, and bottom at the after end."""
    _, (forward, level), (end, _), (_, bottom) = part.side_view[0].tolist()
    return (
        Handle("length_m", None, _on_centre(end, (level + bottom) / 2.0), AFT, is_main=True),
        Handle("platform_z_m", None, _on_centre((forward + end) / 2.0, given.platform_z_m), UP),
        Handle("bottom_aft_z_m", None, _on_centre(end, bottom), UP),
    )


def _of_bow_platform(given: BowPlatform, part: Part) -> tuple[Handle, ...]:
    """Forward end, which moves along the platform."""
    low, tip_low, tip_high, _ = part.side_view[0]
    way = (tip_low - low) / given.length_m
    x, z = ((tip_low + tip_high) / 2.0).tolist()
    ahead = np.array([float(way[0]), 0.0, float(way[1])])
    return (Handle("length_m", None, _on_centre(x, z), ahead, is_main=True),)


def _of_mast_support(given: MastSupport, part: Part) -> tuple[Handle, ...]:
    """The post, half-way up."""
    heights = np.concatenate([view[:, 1] for view in part.side_view])
    middle = float(heights.min() + heights.max()) / 2.0
    return (Handle("x_m", None, _on_centre(given.x_m, middle), AFT, is_main=True),)


def _of_hull_plate(given: HullPlate, part: Part) -> tuple[Handle, ...]:  # noqa: ARG001 - as others
    """Both ends, half-way up."""
    corners = _ends(part)
    return (
        Handle("x_forward_m", None, corners[:, 0].mean(axis=0), AFT, is_main=True),
        Handle("x_aft_m", None, corners[:, 1].mean(axis=0), AFT, is_main=True),
    )


def _of_bulwark(given: Bulwark, part: Part) -> tuple[Handle, ...]:  # noqa: ARG001 - as others
    """Both ends half-way up, and the height at each."""
    corners = _ends(part)
    middle, top = corners.mean(axis=0), corners[1]
    return (
        Handle("height_forward_m", None, top[0], UP, is_main=True),
        Handle("height_aft_m", None, top[1], UP, is_main=True),
        Handle("x_forward_m", None, middle[0], AFT),
        Handle("x_aft_m", None, middle[1], AFT),
    )


def _ends(part: Part) -> FloatArray:
    """(2, 2, 3) lower and upper corners, each forward and aft, of a bent plate's first side."""
    outline = part.side_view[0]
    half = len(outline) // 2
    flat = np.stack([outline[:half][[0, -1]], outline[half:][::-1][[0, -1]]])
    surface = part.plates[0].surface().vertices
    nearest = [
        surface[np.argmin(np.hypot(*(surface[:, [0, 2]] - point).T))]
        for point in flat.reshape(-1, 2)
    ]
    across = np.array(nearest)[:, 1].reshape(2, 2)
    return np.stack([flat[..., 0], across, flat[..., 1]], axis=-1)


HANDLES: dict[str, Callable[[Any, Part], tuple[Handle, ...]]] = {
    "deckhouse": _of_deckhouse,
    "cockpit": _of_cockpit,
    "transom_extension": _of_transom_extension,
    "bow_platform": _of_bow_platform,
    "mast_support": _of_mast_support,
    "hull_plate": _of_hull_plate,
    "bulwark": _of_bulwark,
    "plating": lambda given, part: (),  # noqa: ARG005 - its dimensions are corners
}
"""What of a part of each kind can be grasped, by its dimensions and the part they built."""
