"""What a nest is: pieces placed on sheets, and whether it holds on the exact outlines."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import pi

import numpy as np
import shapely

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.shop.contour import turned
from hullchange.units import mm_of_m

SLACK = 0.5e-3
"""[m] by which a gap may be short, for rounding."""

TURNS = (0.0, pi / 2.0, pi, -pi / 2.0)
ALONG = (0.0, pi)
"""[rad] how a piece may lie: any way, or kept to the sheet's rolling direction."""


@dataclass(frozen=True, eq=False)
class Sheet:
    """A sheet or a leftover; plate is taken to be rolled along its first direction.

    Attributes:
        name: of the stock it is from.
        outline: (n, 2) corners [m], smallest coordinates zero.
        price: of the sheet; None where no price is given. A leftover costs nothing.
        leftover: whether it is a single piece, already in the yard.
        rate: price of a square metre to compare sheets by, where there is no price.
    """

    name: str
    outline: FloatArray
    price: float | None = None
    leftover: bool = False
    rate: float = 1.0

    @property
    def cost(self) -> float:
        """Price used to compare sheets."""
        if self.leftover:
            return 0.0
        return self.rate * self.region.area if self.price is None else self.price

    @property
    def region(self) -> shapely.Polygon:
        """The outline as a region."""
        return shapely.Polygon(self.outline)

    @property
    def size(self) -> tuple[float, float]:
        """Length and breadth [m]."""
        length, breadth = np.ptp(self.outline, axis=0).tolist()
        return length, breadth

    @property
    def is_rectangle(self) -> bool:
        """True for a whole sheet."""
        length, breadth = self.size
        return bool(self.region.area > 0.999999 * length * breadth)


@dataclass(frozen=True, eq=False)
class Shape:
    """What is placed: an outline with its holes, and the angles [rad] it may lie at."""

    id: str
    region: shapely.Polygon
    turns: tuple[float, ...] = TURNS

    def at(self, place: "Placement") -> shapely.Polygon:
        """Its outline where it is placed."""
        return shapely.transform(
            self.region, lambda xy: xy @ turned(place.angle) + np.array(place.shift)
        )

    def lying(self, angle: float) -> shapely.Polygon:
        """Its outline turned by an angle [rad]."""
        return self.at(Placement(self.id, angle, (0.0, 0.0)))


@dataclass(frozen=True)
class Placement:
    """Where a shape lies on a sheet: turned by an angle [rad], then shifted [m]."""

    id: str
    angle: float
    shift: tuple[float, float]


@dataclass(frozen=True, eq=False)
class Nest:
    """One sheet with what lies on it."""

    sheet: Sheet
    places: tuple[Placement, ...]


@dataclass(frozen=True)
class Spacing:
    """Least steel between pieces, and between a piece and the sheet's edge [m]."""

    gap: float = 0.010
    margin: float = 0.015


def used_length(nest: Nest, shapes: Mapping[str, Shape]) -> float:
    """Length of the sheet that is used [m]; the rest is left over."""
    return max((shapes[p.id].at(p).bounds[2] for p in nest.places), default=0.0)


def require_sound(nests: Sequence[Nest], shapes: Mapping[str, Shape], spacing: Spacing) -> None:
    """Refuse unless every shape lies once, on its sheet, clear of the others.

    Raises:
        ModelError: ``nest-fails-check``.
    """
    placed = sorted(place.id for nest in nests for place in nest.places)
    faults = []
    if placed != sorted(shapes):
        faults.append(f"{len(placed)} pieces are on it instead of {len(shapes)}")
    for number, nest in enumerate(nests, 1):
        faults += [f"sheet {number}: {fault}" for fault in _faults(nest, shapes, spacing)]
    if faults:
        sentence = f"The nest fails its check: {'; '.join(faults[:5])}."
        raise ModelError("nest-fails-check", sentence)


def _faults(nest: Nest, shapes: Mapping[str, Shape], spacing: Spacing) -> list[str]:
    regions = [shapes[place.id].at(place) for place in nest.places]
    inner = nest.sheet.region.buffer(-(spacing.margin - SLACK), join_style="mitre")
    faults = [
        f"{place.id} comes too close to the edge"
        for place, region in zip(nest.places, regions, strict=True)
        if not inner.covers(region)
    ]
    tree = shapely.STRtree(regions)
    reach = spacing.gap - SLACK
    first, second = tree.query(regions, predicate="dwithin", distance=reach)
    for i, j in zip(first.tolist(), second.tolist(), strict=True):
        if i < j:
            apart = mm_of_m(float(shapely.distance(regions[i], regions[j])))
            faults.append(
                f"{nest.places[i].id} and {nest.places[j].id} are {apart:.1f} mm apart"
            )
    return faults


def fits(shape: Shape, sheet: Sheet, spacing: Spacing) -> bool:
    """True where a shape alone may lie on a sheet, by its bounding box."""
    room = np.array(sheet.size) - 2.0 * spacing.margin + 1e-9
    for angle in shape.turns:
        low_x, low_y, high_x, high_y = shape.lying(angle).bounds
        if high_x - low_x <= room[0] and high_y - low_y <= room[1]:
            return True
    return False
