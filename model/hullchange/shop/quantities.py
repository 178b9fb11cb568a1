"""What is bought, used, left over and scrap; what each piece weighs and where to lift it."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.materials import STEEL_DENSITY
from hullchange.shop.bars import REUSABLE, SawnBar
from hullchange.shop.nest import Nest, Shape, Spacing, used_length
from hullchange.shop.piece import PlatePiece, Steel

KEPT = 0.2
"""[m] a strip left over is kept from this length on (common practice, no source)."""

LIFTS = ((25.0, "one"), (33.0, "two"), (37.5, "three"))
"""[kg] up to which so many people lift close to the body: a filter quoted from a health and
safety guide, not a limit; above it a crane or hoist."""


@dataclass(frozen=True)
class MaterialBalance:
    """Plate of one thickness, or bars of one section: what comes in is what goes out.

    Attributes:
        sheets: how many of each size are bought, in words.
        leftovers: those from the yard that are cut into, in words.
        bought: [kg] of what is bought.
        from_yard: [kg] of those leftovers, whole.
        used: [kg] of pieces.
        left: [kg] of what remains and is worth keeping.
        price: of what is bought; None where any of it has no price.
    """

    sheets: Mapping[str, int]
    leftovers: tuple[str, ...]
    bought: float
    from_yard: float
    used: float
    left: float
    price: float | None


def plate_balance(
    thickness: float, nests: Sequence[Nest], shapes: Mapping[str, Shape], spacing: Spacing
) -> MaterialBalance:
    """The account of plate of one thickness [m]."""
    weight = thickness * STEEL_DENSITY
    whole = [nest.sheet for nest in nests if not nest.sheet.leftover]
    yard = [nest.sheet for nest in nests if nest.sheet.leftover]
    strips = (left_length(nest, shapes, spacing) * nest.sheet.size[1] for nest in nests)
    placed = (shapes[place.id] for nest in nests for place in nest.places)
    return MaterialBalance(
        Counter(sheet_words(nest) for nest in nests if not nest.sheet.leftover),
        tuple(sheet.name for sheet in yard),
        sum(sheet.region.area for sheet in whole) * weight,
        sum(sheet.region.area for sheet in yard) * weight,
        sum(shape.region.area for shape in placed) * weight,
        sum(strips) * weight,
        whole_price([sheet.price for sheet in whole]),
    )


def bar_balance(bars: Sequence[SawnBar], kerf: float, weight: float) -> MaterialBalance:
    """The account of bars of one section; ``weight`` is that of a metre [kg/m]."""
    offcuts = [bar.offcut(kerf) for bar in bars]
    return MaterialBalance(
        Counter(f"{bar.stock.length:g} m" for bar in bars),
        (),
        sum(bar.stock.length for bar in bars) * weight,
        0.0,
        sum(sum(bar.cuts) for bar in bars) * weight,
        sum(left for left in offcuts if left >= REUSABLE) * weight,
        whole_price([bar.stock.price for bar in bars]),
    )


def whole_price(prices: Sequence[float | None]) -> float | None:
    """The sum of prices; None where one of them is not known."""
    known = [price for price in prices if price is not None]
    return sum(known) if len(known) == len(prices) else None


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


def mass_of(piece: PlatePiece) -> float:
    """Mass [kg] of a piece, while it is flat."""
    return piece.area * piece.thickness * STEEL_DENSITY


def lift_point(piece: PlatePiece) -> FloatArray:
    """(2,) centre of gravity in the drawing [m]; of a rolled piece while it is flat."""
    return np.array([piece.region.centroid.x, piece.region.centroid.y])


def lift_words(mass: float) -> str:
    """How a piece of a mass [kg] is lifted, in words."""
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
