"""What is bought, used, left over and scrap; what each piece weighs and where to lift it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.materials import STEEL_DENSITY
from hullchange.shop.nest import Nest, Shape, Spacing, used_length
from hullchange.shop.piece import Piece, Steel

KEPT = 0.2
"""[m] a strip left over is kept from this length on (common practice, no source)."""

LIFTS = ((25.0, "one"), (33.0, "two"), (37.5, "three"))
"""[kg] up to which so many people lift close to the body: a filter quoted from a health and
safety guide, not a limit; above it a crane or hoist."""


@dataclass(frozen=True)
class Bought:
    """Plate of one thickness.

    Attributes:
        thickness: [m].
        sheets: how many of each size, in words.
        bought: [kg] of sheets, leftovers that were used counted.
        used: [kg] of pieces.
        left: [kg] of whole strips that remain.
        price: of it all; zero where none is given.
    """

    thickness: float
    sheets: Mapping[str, int]
    bought: float
    used: float
    left: float
    price: float

    @property
    def scrap(self) -> float:
        """[kg] that is neither used nor kept."""
        return self.bought - self.used - self.left


def bought(
    thickness: float, nests: Sequence[Nest], shapes: Mapping[str, Shape], spacing: Spacing
) -> Bought:
    """The account of one thickness."""
    weight = thickness * STEEL_DENSITY
    sheets: dict[str, int] = {}
    left = 0.0
    for nest in nests:
        words = sheet_words(nest)
        sheets[words] = sheets.get(words, 0) + 1
        strip = left_length(nest, shapes, spacing)
        left += strip * nest.sheet.size[1] * weight
    return Bought(
        thickness,
        sheets,
        sum(nest.sheet.region.area for nest in nests) * weight,
        sum(shapes[place.id].region.area for nest in nests for place in nest.places) * weight,
        left,
        sum(nest.sheet.price for nest in nests),
    )


def sheet_words(nest: Nest) -> str:
    """What a sheet is called on a list."""
    length, breadth = nest.sheet.size
    return nest.sheet.name if nest.sheet.leftover else f"{length:g} x {breadth:g} m"


def left_length(nest: Nest, shapes: Mapping[str, Shape], spacing: Spacing) -> float:
    """Length [m] of the strip of full breadth that remains; zero where it is not worth it."""
    if not nest.sheet.is_rectangle:
        return 0.0
    strip = nest.sheet.size[0] - used_length(nest, shapes) - spacing.gap
    return strip if strip >= KEPT else 0.0


def mass_of(piece: Piece) -> float:
    """Mass [kg] of a piece by its contours."""
    return piece.area * piece.thickness * STEEL_DENSITY


def lift_point(piece: Piece) -> FloatArray:
    """(2,) centre of gravity in the drawing [m]; of a rolled piece while it is flat."""
    return np.array([piece.region.centroid.x, piece.region.centroid.y])


def lift_words(mass: float) -> str:
    """Who lifts it."""
    for most, who in LIFTS:
        if mass <= most:
            return who
    return "hoist"


def paint_area(steel: Steel) -> float:
    """Both faces and all edges less what is covered where plates meet [m^2]."""
    faces = sum(2.0 * plate.area_mid for plate in steel.plates)
    edges = sum(piece.cut_length * piece.thickness for piece in steel.pieces)
    covered = 0.0
    for seam in steel.seams:
        thin = steel.plates[seam.first].gauge
        if seam.kind == "tee":
            covered += seam.length * thin
    return faces + edges - covered
