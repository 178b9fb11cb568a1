"""Windows and the door of a deckhouse, or why they do not fit."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from math import floor

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray, Frame
from hullchange.geometry.outline import FlatOutline, Line, Segment
from hullchange.parts.house_shape import STEEL_AROUND, HouseShape, Wall
from hullchange.parts.parameters import Door, SideWindows, Windows
from hullchange.parts.steelwork import closed_outline, spline_through


@dataclass(frozen=True)
class WindowRoom:
    """What a wall has room for.

    Attributes:
        width: largest of each window [m].
        bottom: lowest place of their lower edge [m]: a height z in a side, along the plate in
            the front.
        top: highest place of their upper edge [m].
    """

    width: float
    bottom: float
    top: float


def side_window_room(shape: HouseShape, count: int, width: float) -> WindowRoom:
    """The room in a side for so many windows of a width [m], their edges level."""
    wall, side = shape.side_wall, shape.side
    band = np.array([float(wall.foot[:, 1].max()), float(wall.top[:, 1].min())])
    share, middles = _shares(wall, count, band)
    floors, ceilings = wall.room(middles, width)
    over = side.origin[2] + middles * side.u[2]
    low, high = over + floors * side.v[2], over + ceilings * side.v[2]
    return WindowRoom(share - 2.0 * STEEL_AROUND, float(low.max()), float(high.min()))


def front_window_room(shape: HouseShape, count: int, width: float) -> WindowRoom:
    """The room in the front for so many windows of a width [m]."""
    wall = shape.front_wall
    band = np.array([float(np.interp(0.0, *wall.foot.T)), float(wall.top[0, 1])])
    share, middles = _shares(wall, count, band)
    floors, ceilings = wall.room(middles, width)
    least = int(np.argmin(ceilings - floors))
    return WindowRoom(share - 2.0 * STEEL_AROUND, float(floors[least]), float(ceilings[least]))


def _shares(wall: Wall, count: int, levels: FloatArray) -> tuple[float, FloatArray]:
    """Equal shares [m] of what the wall is long at all of some levels, and their middles."""
    starts, ends = wall.ends(levels)
    low, high = float(starts.max()), float(ends.min())
    share = (high - low) / count
    return share, np.asarray(low + share * (np.arange(count) + 0.5))


def side_windows(shape: HouseShape, given: SideWindows) -> tuple[FlatOutline, ...]:
    """Windows of the starboard side in its flat coordinates.

    Raises:
        ModelError: ``corner-radius-too-large``, ``windows-too-wide``,
            ``window-taller-than-wall``, ``window-outside-wall``.
    """
    wall, side, height = shape.side_wall, shape.side, given.size_m[1]
    rise = given.lower_edge_z_m - side.origin[2]
    level = rise / side.v[2]
    middles = _middles(wall, given, np.array([level, level + height]), "side_windows")
    low = (rise - middles * side.u[2]) / side.v[2]
    floors, ceilings = wall.room(middles, given.size_m[0])
    _require_height(given, floors, ceilings, "side_windows")
    below, above = (floors - low).max(), (low + height - ceilings).max()
    if max(below, above) > 0.0:
        word, away = ("raise", below) if below > above else ("lower", above)
        z = given.lower_edge_z_m + (below if below > above else -above) * side.v[2]
        sentence = (
            f"Side windows with their lower edge at z {given.lower_edge_z_m:.2f} m reach "
            f"{away * 1e3:.0f} mm beyond the wall: {word} them to z {z:.2f} m."
        )
        if below > 0.0 and above > 0.0:
            room = side_window_room(shape, given.count, given.size_m[0])
            sentence = (
                "Side windows reach beyond the wall above and below: there is room between z "
                f"{room.bottom:.2f} and {room.top:.2f} m."
            )
        raise ModelError("window-outside-wall", sentence, "side_windows.lower_edge_z_m")
    return _rounded(given, middles, low)


def front_windows(wall: Wall, given: Windows) -> tuple[FlatOutline, ...]:
    """Windows of the front in its flat coordinates, each half-way between deck and roof.

    Raises:
        ModelError: as ``side_windows``.
    """
    height = given.size_m[1]
    middle = (np.interp(0.0, *wall.foot.T) + wall.top[0, 1]) / 2.0
    levels = np.array([middle - height / 2.0, middle + height / 2.0])
    middles = _middles(wall, given, levels, "front_windows")
    floors, ceilings = wall.room(middles, given.size_m[0])
    _require_height(given, floors, ceilings, "front_windows")
    return _rounded(given, middles, (floors + ceilings - height) / 2.0)


def _middles(wall: Wall, given: Windows, levels: FloatArray, place: str) -> FloatArray:
    """Middles (k,) of the windows, each in the middle of an equal share of the wall."""
    width, height = given.size_m
    largest = min(width, height) / 2.0
    if given.corner_radius_m > largest:
        sentence = (
            f"Corner radius {given.corner_radius_m:.2f} m is too large: at most "
            f"{largest:.3f} m here."
        )
        raise ModelError("corner-radius-too-large", sentence, f"{place}.corner_radius_m")
    share, middles = _shares(wall, given.count, levels)
    if width > share - 2.0 * STEEL_AROUND:
        sentence = (
            f"{given.count} windows {width:.2f} m wide do not fit side by side: make them at "
            f"most {_down(share - 2.0 * STEEL_AROUND)} m each, or use fewer."
        )
        raise ModelError("windows-too-wide", sentence, f"{place}.size_m")
    return middles


def _require_height(
    given: Windows, floors: FloatArray, ceilings: FloatArray, place: str
) -> None:
    room = float((ceilings - floors).min())
    if given.size_m[1] > room:
        sentence = (
            f"Windows {given.size_m[1]:.2f} m high are taller than the wall: at most "
            f"{_down(room)} m fit between deck and roof."
        )
        raise ModelError("window-taller-than-wall", sentence, f"{place}.size_m")


def _down(length: float) -> str:
    """A length [m] in words, rounded down to the centimetre so that it does fit."""
    return f"{max(floor(length * 100.0), 0) / 100.0:.2f}"


def _rounded(given: Windows, middles: FloatArray, low: FloatArray) -> tuple[FlatOutline, ...]:
    width, height = given.size_m
    return tuple(
        FlatOutline.rectangle(
            (u - width / 2.0, v), (u + width / 2.0, v + height), given.corner_radius_m
        )
        for u, v in zip(middles.tolist(), low.tolist(), strict=True)
    )


@dataclass(frozen=True, eq=False)
class EndWall:
    """An upright end of a house, for its outline and its door.

    Attributes:
        frame: its plane; u to starboard, v up.
        wall: where openings fit.
        foot: (n, 3) points [m] of its lower edge between two half-breadths, so many of them.
        over: its edges from the starboard end of the foot over the top to the port end.
        tag: of its lower edge; ``deck`` where it stands on what its house stands on.
    """

    frame: Frame
    wall: Wall
    foot: Callable[[float, float, int], FloatArray]
    over: tuple[Segment, ...]
    tag: str = "deck"


def after_end_of(shape: HouseShape) -> EndWall:
    """The after end of a house that stands by itself."""
    wall = shape.after_wall
    top = spline_through(wall.top[::-1], "roof")
    return EndWall(shape.after, wall, partial(shape.foot_between, shape.after), (top,))


def end_outlines(
    end: EndWall, door: Door | None
) -> tuple[FlatOutline, tuple[FlatOutline, ...]]:
    """Outline and holes of an end: a low sill makes the door a notch in the lower edge.

    Raises:
        ModelError: ``door-outside-wall``, ``corner-radius-too-large``.
    """
    wall, whole = end.wall, spline_through(end.wall.foot, end.tag)
    if door is None:
        return closed_outline(whole, *end.over), ()
    half, sill = door.width_m / 2.0, door.sill_z_m - end.frame.origin[2]
    head = float(np.interp(half, *wall.top.T)) - door.head_below_roof_m
    _require_door(wall, door, sill, head)
    if sill > float(np.interp(np.linspace(-half, half, 7), *wall.foot.T).max()) + STEEL_AROUND:
        opening = FlatOutline.rectangle((-half, sill), (half, head), door.corner_radius_m)
        return closed_outline(whole, *end.over), (opening,)
    breadth = float(wall.foot[-1, 0])
    starboard = end.frame.to_flat(end.foot(half, breadth, 7))
    port = starboard[::-1] * np.array([-1.0, 1.0])
    threshold = float(starboard[0, 1])
    corners = ((-half, threshold), (half, threshold), (half, head), (-half, head))
    radius = door.corner_radius_m
    arch = FlatOutline.rounded(corners, (0.0, 0.0, radius, radius)).segments
    notch = [s.reversed() for s in reversed(arch) if not _is_threshold(s, threshold)]
    return closed_outline(
        spline_through(port, end.tag), *notch, spline_through(starboard, end.tag), *end.over
    ), ()


def _is_threshold(segment: object, level: float) -> bool:
    return isinstance(segment, Line) and segment.start[1] == segment.end[1] == level


def door_room(shape: HouseShape, sill_z: float) -> float:
    """Widest door [m] over a sill at a height z [m] that the after end has room for."""
    wall = shape.after_wall
    sill = max(sill_z - float(shape.after.origin[2]), float(wall.foot[-1, 1]))
    head = float(wall.top[0, 1]) - 2.0 * STEEL_AROUND
    if head - sill < 2.0 * STEEL_AROUND:
        return 0.0
    narrow = float(min(wall.ends(np.array([sill, head]))[1])) - STEEL_AROUND
    return max(2.0 * narrow, 0.0)


def _require_door(wall: Wall, door: Door, sill: float, head: float) -> None:
    half = door.width_m / 2.0
    threshold = max(sill, float(wall.foot[-1, 1]))
    narrow = float(min(wall.ends(np.array([threshold, head]))[1])) - STEEL_AROUND
    if half > narrow:
        sentence = (
            f"A door {door.width_m:.2f} m wide does not fit into the after end: make it at "
            f"most {_down(2.0 * narrow)} m."
        )
        raise ModelError("door-outside-wall", sentence, "door.width_m")
    if head - threshold < 2.0 * STEEL_AROUND:
        sentence = "The door sill leaves no opening below the roof: lower it."
        raise ModelError("door-outside-wall", sentence, "door.sill_z_m")
    largest = min(half, (head - threshold) / 2.0)
    if door.corner_radius_m > largest:
        sentence = (
            f"Corner radius {door.corner_radius_m:.2f} m is too large: at most "
            f"{largest:.3f} m here."
        )
        raise ModelError("corner-radius-too-large", sentence, "door.corner_radius_m")
