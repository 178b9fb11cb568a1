"""A step behind the transom: its sides continue the transom's own outline straight aft.

The transom's outline, straight between its lines, is carried aft along one straight line, so
every facet is flat and begins on the transom, raked or not. The platform cuts all of it level,
the end plate upright. The measured lines are the outside of the shell: the skin's outside
continues them, and its plates are drawn half their thickness further in.
"""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.plate import Plate
from hullchange.geometry.surface import Surface, box, flat_triangles, intersection
from hullchange.parts.closed import lofted
from hullchange.parts.parameters import TransomExtension
from hullchange.parts.part import Body, Part, Site
from hullchange.parts.steelwork import both_sides, plate_between, with_scallop
from hullchange.units import m_of_mm

READING = 0.005  # [m] what a height at the transom may be off
LEAST_DEPTH = 0.03  # [m] from bottom to platform, plus the plate's thickness
LEAST_BREADTH = 0.02  # [m] of the half platform, plus twice the plate's thickness
SUNK = 0.02  # [m] how far the closed volume reaches into the hull
DRAWN_IN = 0.97  # of its section there, so that it stays inside
SAME_POINT = 1e-4  # [m]
LEAST_TOE = 0.2
"""Tangent of the angle from the skin to a knee's free edge; flatter, the knee is a web on it
(common practice, no source)."""

OTHER_SIDE = np.array([1.0, -1.0, 1.0])


@dataclass(frozen=True, eq=False)
class _Shape:
    """A prism between the transom and an upright plane, cut off level.

    Attributes:
        outline: (n, 2) starboard half-breadth, and height that the line through it has at
            the transom's aftmost point.
        transom: (m, 2) that height and x of the transom's surface, rising.
        origin: x of the transom's aftmost point.
        end: x of the end plate.
        slope: rise of the lines over x.
        platform: its height.
    """

    outline: FloatArray
    transom: FloatArray
    origin: float
    end: float
    slope: float
    platform: float

    def at_transom(self, outline: FloatArray) -> FloatArray:
        """Points (n, 3) where lines through an outline (n, 2) leave the transom."""
        return self._at(outline, np.interp(outline[:, 1], *self.transom.T))

    def at_end(self, outline: FloatArray) -> FloatArray:
        """Points (n, 3) where lines through an outline (n, 2) reach the end plate."""
        return self._at(outline, np.full(len(outline), self.end))

    def _at(self, outline: FloatArray, x: FloatArray) -> FloatArray:
        return np.column_stack(
            [x, outline[:, 0], outline[:, 1] + self.slope * (x - self.origin)]
        )

    @cached_property
    def forward(self) -> float:
        """x of the platform's forward edge, on the transom."""
        lines, x = self.transom.T
        return float(np.interp(self.platform, lines + self.slope * (x - self.origin), x))

    def half_breadth(self, x: float) -> float:
        """Half-breadth of the platform at x."""
        level = self.platform - self.slope * (x - self.origin)
        return float(np.interp(level, self.outline[:, 1], self.outline[:, 0]))


def transom_extension(given: TransomExtension, site: Site) -> Part:
    """The extension for given dimensions.

    Raises:
        ModelError: ``extension-below-transom``, ``platform-above-sheer``,
            ``platform-below-bottom``, ``transom-outline-turns-down``, ``transom-too-narrow``.
    """
    outside = _shape(given, site)
    shape = _inside(outside, m_of_mm(given.plate_mm))
    whole = outside.outline
    ends = outside.at_transom(whole[:1])[0], outside.at_end(whole[:1])[0]
    profile = np.array(
        [
            ends[0][[0, 2]],
            [outside.forward, outside.platform],
            [outside.end, outside.platform],
            ends[1][[0, 2]],
        ]
    )
    return Part(
        given.kind,
        (*_facets(shape, given.plate_mm), *_within(shape, given.plate_mm, given.scallop_mm)),
        bodies=(Body(_body(outside), adds=True),),
        side_view=(profile,),
    )


def _shape(given: TransomExtension, site: Site) -> _Shape:
    """The prism by its outside."""
    ends = _without_repeats(site.host.transom_outline())
    if len(ends) < 2:
        raise _too_narrow(float(ends[:, 1].max()))
    (x, _, bottom), origin = ends[0], site.host.transom_x
    shift = given.bottom_forward_z_m - bottom
    rise = given.bottom_aft_z_m - given.bottom_forward_z_m
    slope = rise / (origin + given.length_m - x)
    lines = ends[:, 2] - slope * (ends[:, 0] - origin)
    if (np.diff(ends[:, 2]) < 0.0).any() or (np.diff(lines) < 0.0).any():
        sentence = (
            "The transom cannot be continued aft: its outline turns down on the way to the "
            "sheer, or the bottom of the extension rises more steeply than the transom leans. "
            "Let the bottom rise less."
        )
        raise ModelError("transom-outline-turns-down", sentence, "bottom_aft_z_m")
    if shift < -READING:
        sentence = (
            f"The extension starts {-shift * 1e3:.0f} mm below the bottom of the transom: "
            f"start at z {bottom:.2f} m or higher."
        )
        raise ModelError("extension-below-transom", sentence, "bottom_forward_z_m")
    shape = _Shape(
        np.column_stack([ends[:, 1], lines + shift]),
        np.column_stack([lines, ends[:, 0]]),
        origin,
        origin + given.length_m,
        slope,
        given.platform_z_m,
    )
    _require_platform(given, shape)
    return shape


def _require_platform(given: TransomExtension, shape: _Shape) -> None:
    thick = m_of_mm(given.plate_mm)
    low = max(given.bottom_forward_z_m, given.bottom_aft_z_m) + LEAST_DEPTH + thick
    top = shape.outline[-1:]
    high = min(shape.at_transom(top)[0, 2], shape.at_end(top)[0, 2])
    if given.platform_z_m < low:
        sentence = (
            f"The platform leaves no depth above the bottom: put it at z {low:.2f} m or higher."
        )
        raise ModelError("platform-below-bottom", sentence, "platform_z_m")
    if given.platform_z_m > high:
        sentence = (
            f"The platform is above the corner of the transom: put it at z {high:.2f} "
            "m or lower."
        )
        raise ModelError("platform-above-sheer", sentence, "platform_z_m")
    breadth = min(shape.half_breadth(x) for x in (shape.forward, shape.end))
    if breadth < LEAST_BREADTH + 2.0 * thick:
        raise _too_narrow(breadth)


def _too_narrow(half: float) -> ModelError:
    sentence = (
        f"The transom is only {2e3 * half:.0f} mm wide where the extension would continue it: "
        "too narrow for one."
    )
    return ModelError("transom-too-narrow", sentence, "platform_z_m")


def _without_repeats(ends: FloatArray) -> FloatArray:
    """After ends of lines (n, 3), those apart, from the last on the centreline outwards."""
    apart = np.linalg.norm(np.diff(ends, axis=0), axis=1) > SAME_POINT
    kept = ends[np.r_[True, apart]]
    start = int(np.argmax(kept[:, 1] > SAME_POINT)) - 1
    return kept[max(start, 0) :] if kept[:, 1].max() > SAME_POINT else kept[-1:]


def _inside(shape: _Shape, thick: float) -> _Shape:
    """The prism of the middle of its skin: every facet moved in by half the thickness."""
    outline = shape.outline
    while True:
        moved = _moved_in(outline, shape.slope, thick / 2.0)
        forward = ((moved[1:] - moved[:-1]) * (outline[1:] - outline[:-1])).sum(axis=1) > 0.0
        if forward.all() or len(outline) <= 2:
            return replace(shape, outline=moved)
        lost = int(np.argmin(forward))  # a facet too short to be left: its neighbours meet
        outline = np.delete(outline, max(min(lost + 1, len(outline) - 2), 1), axis=0)


def _moved_in(outline: FloatArray, slope: float, distance: float) -> FloatArray:
    """The outline (n, 2) with its sides moved in square to their facets, met again."""
    side = np.diff(outline, axis=0)
    length = np.hypot(*side.T)
    lean = np.sqrt(1.0 + (slope * side[:, 0] / length) ** 2)
    inward = np.stack([-side[:, 1], side[:, 0]], axis=1) / length[:, None]
    by = inward * (distance * lean)[:, None]
    starts, ends = outline[:-1] + by, outline[1:] + by
    share = starts[0, 0] / side[0, 0] if side[0, 0] > SAME_POINT else 0.0
    first = starts[0] - share * side[0]
    corners = [
        _crossed(starts[k], side[k], starts[k + 1], side[k + 1]) for k in range(len(side) - 1)
    ]
    last = ends[-1] + side[-1] / length[-1] * 2.0 * distance  # the platform lies below it
    return np.array([first, *corners, last])


def _crossed(a: FloatArray, along: FloatArray, b: FloatArray, way: FloatArray) -> FloatArray:
    """Where two straight lines (2,) meet; half-way where they run alike."""
    across = float(along[0] * way[1] - along[1] * way[0])
    if abs(across) < 1e-6 * float(np.hypot(*along) * np.hypot(*way)):
        return np.asarray((a + along + b) / 2.0)
    share = float((b - a)[0] * way[1] - (b - a)[1] * way[0]) / across
    return np.asarray(a + share * along)


def _facets(shape: _Shape, mm: float) -> list[Plate]:
    """The skin: one flat plate between neighbouring lines, each side."""
    plates: list[Plate] = []
    start, end = shape.at_transom(shape.outline), shape.at_end(shape.outline)
    for k in range(len(start) - 1):
        loop = np.array([start[k], start[k + 1], end[k + 1], end[k]])
        corners = _below(loop, shape.platform)
        if _breadth(corners, loop[3] - loop[0]) > m_of_mm(mm) / 2.0:
            plates += both_sides(plate_between(f"skin-starboard-{k + 1}", corners, mm))
    return plates


def _below(corners: FloatArray, level: float) -> FloatArray:
    """What of a flat loop (n, 3) lies below a level, points that fall together left out."""
    kept: list[FloatArray] = []
    for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        down, up = start[2] <= level, end[2] <= level
        if down:
            kept.append(start)
        if down != up:
            kept.append(start + (level - start[2]) / (end[2] - start[2]) * (end - start))
    if not kept:
        return np.zeros((0, 3))
    return _apart(np.array(kept))


def _apart(loop: FloatArray) -> FloatArray:
    """The loop without points that lie on the one before."""
    return np.asarray(
        loop[np.linalg.norm(loop - np.roll(loop, 1, axis=0), axis=1) > SAME_POINT]
    )


def _breadth(loop: FloatArray, along: FloatArray) -> float:
    """Widest breadth [m] of a flat loop (n, 3) square to a direction."""
    if len(loop) < 3:
        return 0.0
    away = np.cross(loop - loop[0], along / np.linalg.norm(along))
    return float(np.linalg.norm(away, axis=1).max())


def _within(shape: _Shape, mm: float, scallop_mm: float) -> list[Plate]:
    """Platform, end plate, and two knees under the platform on the transom."""
    stations = _platform_stations(shape)
    starboard = np.array([[x, shape.half_breadth(x), shape.platform] for x in stations])
    y = min(shape.half_breadth(x) for x in (shape.forward, shape.end)) / 2.0
    knee = plate_between("knee-starboard", _knee(shape, y), mm)
    end = shape.at_end(shape.outline)
    corner = np.array([[shape.end, shape.half_breadth(shape.end), shape.platform]])
    end = np.concatenate([end[end[:, 2] < shape.platform - SAME_POINT], corner])
    return [
        plate_between("platform", _apart(np.concatenate([starboard, _other(starboard)])), mm),
        plate_between("end-plate", _apart(np.concatenate([end, _other(end)])), mm),
        *both_sides(with_scallop(knee, knee.outer.segments[0].start, scallop_mm)),
    ]


def _knee(shape: _Shape, y: float) -> FloatArray:
    """Its loop: head under the platform, down the transom to the skin, tip at the end.

    A step too shallow for a free edge is given a whole web.
    """
    widest = int(np.argmax(shape.outline[:, 0])) + 1
    low = float(np.interp(y, *shape.outline[:widest].T))
    levels = shape.transom[:, 0]
    top = shape.platform - shape.slope * (shape.forward - shape.origin)
    between = levels[(low + SAME_POINT < levels) & (levels < top - SAME_POINT)]
    down = np.array([top, *between[::-1], low])
    transom = shape.at_transom(np.column_stack([np.full(len(down), y), down]))
    straight = np.interp(down, [low, top], transom[[-1, 0], 0])
    if np.abs(transom[:, 0] - straight).max() < SAME_POINT:
        transom = transom[[0, -1]]
    tip = np.array([[shape.end, y, shape.platform]])
    toe = shape.at_end(np.array([[y, low]]))
    depth, run = shape.platform - toe[0, 2], shape.end - transom[-1, 0]
    # an edge that leaves the skin so flatly can neither be welded nor painted behind
    loop = (transom, toe, tip) if SAME_POINT < depth < LEAST_TOE * run else (transom, tip)
    return np.concatenate(loop)


def _other(row: FloatArray) -> FloatArray:
    """The row on the other side, backwards, without points on the centreline."""
    return np.asarray((row[row[:, 1] > 1e-9] * OTHER_SIDE)[::-1])


def _platform_stations(shape: _Shape) -> list[float]:
    """x where the platform's edge bends: its ends, and lines it crosses."""
    if shape.slope == 0.0:
        return [shape.forward, shape.end]
    crossed = shape.origin + (shape.platform - shape.outline[1:-1, 1]) / shape.slope
    inner = crossed[(crossed > shape.forward + 1e-3) & (crossed < shape.end - 1e-3)]
    return [shape.forward, *sorted(inner.tolist()), shape.end]


def _body(shape: _Shape) -> Surface:
    """The closed volume between transom and end plate, drawn in where it enters the hull."""
    start, end = (
        np.concatenate([_other(row), row])
        for row in (shape.at_transom(shape.outline), shape.at_end(shape.outline))
    )
    flat = start[:, 1:]
    middle = np.array([0.0, (flat[:, 1].min() + shape.platform) / 2.0])
    inner = np.concatenate([start[:, :1] - SUNK, middle + (flat - middle) * DRAWN_IN], axis=1)
    whole = lofted(flat_triangles((flat,))[:, ::-1], (inner, start, end))
    low, high = whole.bounds
    return intersection(whole, box(low - 1.0, np.array([*(high[:2] + 1.0), shape.platform])))
