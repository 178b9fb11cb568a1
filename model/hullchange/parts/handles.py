"""What can be grasped on a part: points that move with one of its dimensions.

A handle is a place on the part, the dimension it stands for, and how far the place moves for
each metre that the dimension grows. A drawing then needs no list of kinds and dimensions.
"""

from dataclasses import dataclass
from math import radians, tan

import numpy as np

from hullchange.geometry.frame import FloatArray
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

DOWN = np.array([0.0, 0.0, -1.0])


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


def no_handles(given: object, part: Part) -> tuple[Handle, ...]:  # noqa: ARG001 - one of many
    """Of a part whose dimensions are no single lengths: none."""
    return ()


def of_deckhouse(given: Deckhouse, part: Part) -> tuple[Handle, ...]:
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


def of_cockpit(given: Cockpit, part: Part) -> tuple[Handle, ...]:  # noqa: ARG001 - as others
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


def of_transom_extension(given: TransomExtension, part: Part) -> tuple[Handle, ...]:
    """After end, platform, and bottom at the after end."""
    _, (forward, level), (end, _), (_, bottom) = part.side_view[0].tolist()
    return (
        Handle("length_m", None, _on_centre(end, (level + bottom) / 2.0), AFT, is_main=True),
        Handle("platform_z_m", None, _on_centre((forward + end) / 2.0, given.platform_z_m), UP),
        Handle("bottom_aft_z_m", None, _on_centre(end, bottom), UP),
    )


def of_bow_platform(given: BowPlatform, part: Part) -> tuple[Handle, ...]:
    """Forward end, which moves along the platform."""
    low, tip_low, tip_high, _ = part.side_view[0]
    way = (tip_low - low) / given.length_m
    x, z = ((tip_low + tip_high) / 2.0).tolist()
    ahead = np.array([float(way[0]), 0.0, float(way[1])])
    return (Handle("length_m", None, _on_centre(x, z), ahead, is_main=True),)


def of_mast_support(given: MastSupport, part: Part) -> tuple[Handle, ...]:
    """The post, half-way up."""
    heights = np.concatenate([view[:, 1] for view in part.side_view])
    middle = float(heights.min() + heights.max()) / 2.0
    return (Handle("x_m", None, _on_centre(given.x_m, middle), AFT, is_main=True),)


def of_hull_plate(given: HullPlate, part: Part) -> tuple[Handle, ...]:  # noqa: ARG001 - as others
    """Both ends, half-way up."""
    corners = _ends(part)
    return (
        Handle("x_forward_m", None, corners[:, 0].mean(axis=0), AFT, is_main=True),
        Handle("x_aft_m", None, corners[:, 1].mean(axis=0), AFT, is_main=True),
    )


def of_bulwark(given: Bulwark, part: Part) -> tuple[Handle, ...]:  # noqa: ARG001 - as others
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
