"""A step behind the transom: its sides continue the transom's own outline straight aft.

The transom's outline, straight between its lines, is carried aft along one straight line, so
every facet is flat. The platform cuts all of it level.
"""

from dataclasses import dataclass

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.plate import Plate
from hullchange.geometry.surface import Surface, box, flat_triangles, intersection
from hullchange.parts.closed import lofted
from hullchange.parts.parameters import TransomExtension
from hullchange.parts.part import Body, Part, Site
from hullchange.parts.steelwork import both_sides, plate_between, relieved

READING = 0.005  # [m] what a height at the transom may be off
LEAST_DEPTH = 0.03  # [m] from bottom to platform
SUNK = 0.02  # [m] how far the closed volume reaches into the hull
DRAWN_IN = 0.97  # of its section there, so that it stays inside

OTHER_SIDE = np.array([1.0, -1.0, 1.0])


@dataclass(frozen=True, eq=False)
class _Shape:
    """Starboard half outline (n, 3) at the transom, step aft (3,), height of the platform."""

    forward: FloatArray
    aft: FloatArray
    platform: float

    def half_breadth(self, share: float) -> float:
        """Of the platform, a share of the length aft."""
        level = self.platform - share * self.aft[2]
        return float(np.interp(level, self.forward[:, 2], self.forward[:, 1]))

    def section(self, share: float) -> FloatArray:
        """(n, 3) half outline up to the platform, a share of the length aft."""
        whole = self.forward + share * self.aft
        below = whole[whole[:, 2] < self.platform - 1e-6]
        corner = np.array([whole[0, 0], self.half_breadth(share), self.platform])
        return np.concatenate([below, corner[None]])


def transom_extension(given: TransomExtension, site: Site) -> Part:
    """The extension for given dimensions.

    Raises:
        ModelError: ``extension-below-transom``, ``platform-above-sheer``,
            ``platform-below-bottom``, ``transom-outline-turns-down``.
    """
    shape = _shape(given, site)
    ends = (shape.section(0.0), shape.section(1.0))
    x, z = shape.forward[0, 0], (ends[0][0, 2], ends[1][0, 2])
    profile = [[x, z[0]], [x, shape.platform], [x, shape.platform], [x, z[1]]]
    aft = np.array([[0.0], [0.0], [1.0], [1.0]]) * np.array([given.length_m, 0.0])
    return Part(
        given.kind,
        (*_facets(shape, given.plate_mm), *_inside(shape, given.plate_mm, given.scallop_mm)),
        bodies=(Body(_body(shape), adds=True),),
        side_view=(np.array(profile) + aft,),
    )


def _shape(given: TransomExtension, site: Site) -> _Shape:
    outline = site.host.transom_outline()
    if (np.diff(outline[:, 1]) < 0.0).any():
        sentence = "The transom's outline turns down on its way to the sheer: not continued."
        raise ModelError("transom-outline-turns-down", sentence)
    shift, rise = (
        given.bottom_forward_z_m - outline[0, 1],
        (given.bottom_aft_z_m - given.bottom_forward_z_m),
    )
    if shift < -READING:
        sentence = (
            f"The extension starts {-shift * 1e3:.0f} mm below the transom's own bottom: at "
            f"least z {outline[0, 1]:.2f} m."
        )
        raise ModelError("extension-below-transom", sentence, "bottom_forward_z_m")
    low = max(given.bottom_forward_z_m, given.bottom_aft_z_m) + LEAST_DEPTH
    high = outline[-1, 1] + shift + min(0.0, rise)
    if given.platform_z_m < low:
        sentence = f"The platform leaves no depth above the bottom: at least z {low:.2f} m."
        raise ModelError("platform-below-bottom", sentence, "platform_z_m")
    if given.platform_z_m > high:
        sentence = f"The platform lies above the transom's corner: at most z {high:.2f} m."
        raise ModelError("platform-above-sheer", sentence, "platform_z_m")
    x = np.full(len(outline), site.host.transom_x)
    forward = np.stack([x, outline[:, 0], outline[:, 1] + shift], axis=1)
    return _Shape(forward, np.array([given.length_m, 0.0, rise]), given.platform_z_m)


def _facets(shape: _Shape, mm: float) -> list[Plate]:
    """The skin: one flat plate between neighbouring lines, each side."""
    plates: list[Plate] = []
    for k, (a, b) in enumerate(zip(shape.forward[:-1], shape.forward[1:], strict=True), 1):
        corners = _below(np.array([a, b, b + shape.aft, a + shape.aft]), shape.platform)
        if len(corners) >= 3:
            plates += both_sides(plate_between(f"skin-starboard-{k}", corners, mm))
    return plates


def _below(corners: FloatArray, level: float) -> FloatArray:
    """What of a flat loop (n, 3) lies below a level, slivers thinner than a hair left out."""
    kept: list[FloatArray] = []
    for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        down, up = start[2] <= level, end[2] <= level
        if down:
            kept.append(start)
        if down != up:
            kept.append(start + (level - start[2]) / (end[2] - start[2]) * (end - start))
    if not kept:
        return np.zeros((0, 3))
    loop = np.array(kept)
    apart = np.linalg.norm(loop - np.roll(loop, 1, axis=0), axis=1) > 1e-4
    loop = loop[apart]
    area = np.linalg.norm(np.cross(loop - loop[0], np.roll(loop, -1, axis=0) - loop[0]).sum(0))
    return loop if area > 1e-5 else np.zeros((0, 3))


def _inside(shape: _Shape, mm: float, scallop_mm: float) -> list[Plate]:
    """Platform, end plate, and two three-cornered knees under the platform on the transom."""
    starboard = np.array(
        [
            [shape.forward[0, 0] + s * shape.aft[0], shape.half_breadth(s), shape.platform]
            for s in _platform_shares(shape)
        ]
    )
    end = shape.section(1.0)
    y = min(shape.half_breadth(0.0), shape.half_breadth(1.0)) / 2.0
    rising = shape.forward[: int(np.argmax(shape.forward[:, 1])) + 1]
    low = float(np.interp(y, rising[:, 1], rising[:, 2]))
    root = np.array([shape.forward[0, 0], y, low])
    head = np.array([root[0], y, shape.platform])
    tip = head + shape.aft * np.array([1.0, 0.0, 0.0])
    whole = plate_between("knee-starboard", np.array([root, tip, head]), mm)
    return [
        plate_between("platform", np.concatenate([starboard, _other(starboard)]), mm),
        plate_between("end-plate", np.concatenate([end, _other(end)]), mm),
        *both_sides(relieved(whole, whole.outer.segments[2].start, scallop_mm)),
    ]


def _other(row: FloatArray) -> FloatArray:
    """The row on the other side, backwards, without points on the centreline."""
    return np.asarray((row[row[:, 1] > 1e-9] * OTHER_SIDE)[::-1])


def _platform_shares(shape: _Shape) -> list[float]:
    """Shares of the length where the platform's edge bends: its ends, and lines it crosses."""
    rise = float(shape.aft[2])
    if rise == 0.0:
        return [0.0, 1.0]
    crossed = (shape.platform - shape.forward[1:-1, 2]) / rise
    inner = crossed[(crossed > 1e-6) & (crossed < 1.0 - 1e-6)]
    return [0.0, *sorted(inner.tolist()), 1.0]


def _body(shape: _Shape) -> Surface:
    """The closed volume between transom and end plate, drawn in where it enters the hull."""
    loop = np.concatenate([_other(shape.forward), shape.forward])
    flat = loop[:, 1:]
    middle = np.array([0.0, (flat[:, 1].min() + shape.platform) / 2.0])
    inner = np.concatenate([loop[:, :1] - SUNK, middle + (flat - middle) * DRAWN_IN], axis=1)
    whole = lofted(flat_triangles((flat,))[:, ::-1], (inner, loop, loop + shape.aft))
    low, high = whole.bounds
    return intersection(whole, box(low - 1.0, np.array([*(high[:2] + 1.0), shape.platform])))
