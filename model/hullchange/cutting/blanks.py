"""Pieces as they go on the stock: whole on a sheet or a leftover, or parted by seams."""

from collections import defaultdict
from collections.abc import Mapping, Sequence

import numpy as np

from hullchange.document.stock import StockPlate
from hullchange.findings import Finding, Severity
from hullchange.materials import STEEL_DENSITY
from hullchange.shop.nest import ALONG, TURNS, Shape, Sheet, Spacing, fits
from hullchange.shop.nesting import on_leftovers
from hullchange.shop.piece import PlatePiece, Steel
from hullchange.shop.splice import MOST_STRIPS, seam_length, split_piece
from hullchange.shop.welds import Weld, butt_weld
from hullchange.units import m_of_mm, mm_of_m

_COUNTED = {2: "two", 3: "three", 4: "four", 5: "five", 6: "six"}

Sheets = Mapping[float, Sequence[Sheet]]
"""Sheets and leftovers by thickness [mm]."""


def stock_sheets(stock: Mapping[str, StockPlate]) -> Sheets:
    """Everything in stock to nest on."""
    sheets = defaultdict(list)
    for name, item in stock.items():
        mm = round(item.thickness_mm, 3)
        for length, breadth in item.sizes_m:
            corners = np.array([[0, 0], [length, 0], [length, breadth], [0, breadth]], float)
            mass = length * breadth * m_of_mm(mm) * STEEL_DENSITY
            price = None if item.price is None else item.price * mass
            sheets[mm].append(Sheet(name, corners, price))
        for number, loop in enumerate(item.leftovers_m, 1):
            outline = np.array(loop) - np.min(loop, axis=0)
            left = Sheet(f"{name} leftover {number}", outline, leftover=True)
            sheets[mm].append(left)
    return dict(sheets)


def shape_of(piece: PlatePiece) -> Shape:
    """What is nested of a piece; rolled tightly it keeps to the rolling direction."""
    return Shape(piece.id, piece.region, ALONG if piece.is_tight else TURNS)


def thickness_mm(piece: PlatePiece) -> float:
    """Thickness [mm], as stock is listed by it."""
    return round(mm_of_m(piece.thickness), 3)


def size_words(piece: PlatePiece) -> str:
    """Length and breadth."""
    return " × ".join(f"{side:.2f}" for side in piece.size) + " m"


def spliced(
    steel: Steel, stock: Sheets, spacing: Spacing
) -> tuple[tuple[PlatePiece, ...], list[Weld], list[Finding]]:
    """Pieces as they go on the stock, the seams they need, and findings."""
    pieces: list[PlatePiece] = []
    welds: list[Weld] = []
    findings: list[Finding] = []
    on_yard = _whole_on_leftovers(steel.pieces, stock, spacing)
    for piece in steel.pieces:
        whole = _whole_sheets(stock, piece)
        if not whole or piece.id in on_yard or _goes(piece, whole, spacing):
            pieces.append(piece)
            continue

        def goes(part: PlatePiece, whole: Sequence[Sheet] = whole) -> bool:
            return _goes(part, whole, spacing)

        parts = split_piece(piece, goes)
        if parts is None:
            findings.append(_too_large(piece))
            pieces.append(piece)
            continue
        length = seam_length(parts, piece)
        findings.append(_drawn_in_parts(piece, len(parts), length))
        welds.append(butt_weld((piece.part, piece.plate.id), length, piece.thickness))
        pieces += parts
    return tuple(pieces), welds, findings


def _whole_sheets(stock: Sheets, piece: PlatePiece) -> list[Sheet]:
    return [sheet for sheet in stock.get(thickness_mm(piece), ()) if not sheet.leftover]


def _goes(piece: PlatePiece, whole: Sequence[Sheet], spacing: Spacing) -> bool:
    shape = shape_of(piece)
    return any(fits(shape, sheet, spacing) for sheet in whole)


def _whole_on_leftovers(
    pieces: Sequence[PlatePiece], stock: Sheets, spacing: Spacing
) -> frozenset[str]:
    """Pieces larger than any sheet for which the leftovers have room, all together."""
    large = defaultdict(list)
    for piece in pieces:
        whole = _whole_sheets(stock, piece)
        if whole and not _goes(piece, whole, spacing):
            large[thickness_mm(piece)].append(shape_of(piece))
    found: set[str] = set()
    for mm, shapes in large.items():
        by_size = sorted(shapes, key=lambda s: (-s.region.area, s.id))
        for nest in on_leftovers(by_size, [], stock[mm], spacing):
            found |= {place.id for place in nest.places}
    return frozenset(found)


def _too_large(piece: PlatePiece) -> Finding:
    sentence = (
        f"{piece.id}, {size_words(piece)} of {thickness_mm(piece):g} mm, fits no sheet in "
        f"stock, not even in {MOST_STRIPS} strips with straight seams clear of its openings. "
        "It is not nested: list a larger sheet among the plates in stock."
    )
    place = f"{piece.part}.{piece.plate.id}"
    return Finding("larger-than-stock", Severity.WARN, place, sentence)


def _drawn_in_parts(piece: PlatePiece, count: int, length: float) -> Finding:
    butts = "a butt" if count == 2 else "butts"
    sentence = (
        f"{piece.id} is {size_words(piece)} of {thickness_mm(piece):g} mm and fits no sheet "
        f"in stock, so it is drawn in {_COUNTED.get(count, count)}, with {butts} of "
        f"{length:.2f} m between them. List a larger sheet to cut it in one piece."
    )
    place = f"{piece.part}.{piece.plate.id}"
    return Finding("spliced", Severity.WARN, place, sentence)
