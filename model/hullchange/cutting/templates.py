"""For the owner with a torch: templates at full size in tiles, and offsets from a line."""

from collections.abc import Iterator
from io import BytesIO

import numpy as np
from reportlab.pdfgen.canvas import Canvas

from hullchange.cutting.drawing import POINT, draw, draw_text, new_canvas
from hullchange.cutting.pack import CutPack
from hullchange.present.csv_table import Cell, CsvTable
from hullchange.shop.contour import Contour
from hullchange.shop.picture import Picture, cut_of, marks_picture
from hullchange.shop.piece import PlatePiece
from hullchange.shop.templates import offsets_of, tiles_of
from hullchange.units import m_of_mm, mm_of_m

PAGE = (210.0, 297.0)  # mm, A4
TILE = (180.0, 250.0)  # mm of the drawing on a page
CORNER = (15.0, 22.0)  # mm, where a tile begins
RIM = 0.5  # mm that a window shows beyond itself
CHECK = 100.0  # mm, side of the square to check by
_WHOLE = "piece"

Millimetres = tuple[float, float]


def template_pdf(pack: CutPack, piece: PlatePiece) -> bytes:
    """A piece at full size on A4; pages without a line on them are left out."""
    stream = BytesIO()
    canvas = new_canvas(stream, PAGE, f"{pack.stamp.boat} {piece.id} 1:1")
    tiles = tiles_of(piece, (m_of_mm(TILE[0]), m_of_mm(TILE[1])))
    _first_page(canvas, pack, piece, len(tiles))
    piece_form(canvas, _WHOLE, pack, piece)
    for tile in tiles:
        _tile(canvas, pack, piece, tile)
    canvas.save()
    return stream.getvalue()


def _first_page(canvas: Canvas, pack: CutPack, piece: PlatePiece, count: int) -> None:
    """The square to check the printer by, on both axes, and how the tiles lie."""
    draw_text(canvas, (15.0, 275.0), f"{piece.id} at full size", 16, bold=True)
    rows = (
        f"{pack.stamp.boat}   {pack.stamp.words}   plate {mm_of_m(piece.thickness):g} mm",
        f"{count} tiles by row and column; blank tiles are left out.",
        "Print at 100 %. Measure the square both ways: if it is not 100.0 mm, do not use the "
        "paper.",
        "Join tiles at their corner crosses; check the whole with a steel tape.",
        "The line is the edge of the steel: cut outside it, half a kerf away.",
        "Paper grows when damp. Seen from the side that faces " + piece.side.lower() + ".",
    )
    for k, row in enumerate(rows):
        draw_text(canvas, (15.0, 262.0 - 6.0 * k), row, 9)
    check_square(canvas, (55.0, 90.0))
    canvas.showPage()


def check_square(canvas: Canvas, corner_mm: tuple[float, float]) -> None:
    """A square of 100 mm, to measure the paper by."""
    side = m_of_mm(CHECK)
    square = Contour(np.array([[0, 0, 0], [side, 0, 0], [side, side, 0], [0, side, 0]], float))
    draw(canvas, Picture(loops=(("CUT", square),)), 1.0, corner_mm)
    draw_text(canvas, (corner_mm[0] + 33.0, corner_mm[1] + 4.0), f"{CHECK:.1f} mm", 10)


def _tile(canvas: Canvas, pack: CutPack, piece: PlatePiece, at: tuple[int, int]) -> None:
    row, column = at
    name = f"{piece.id}   row {row + 1}, column {column + 1}   {pack.stamp.words}"
    draw_text(canvas, (CORNER[0], 12.0), name, 8)
    draw_window(canvas, _WHOLE, (CORNER, TILE), (-column * TILE[0], -row * TILE[1]))
    canvas.showPage()


def piece_form(canvas: Canvas, form: str, pack: CutPack, piece: PlatePiece) -> None:
    """A piece and its marks at full size under a name, to be shown through windows."""
    wide, high = (mm_of_m(side) * POINT for side in piece.size.tolist())
    # what lies outside a form's box is never shown, and without one the box is the page
    canvas.beginForm(form, -POINT, -POINT, wide + POINT, high + POINT)
    draw(canvas, cut_of(piece).with_(marks_picture(pack.marks[piece.id])), 1.0, (0.0, 0.0))
    canvas.endForm()


def draw_window(
    canvas: Canvas, form: str, window: tuple[Millimetres, Millimetres], shift: Millimetres
) -> None:
    """A part of a drawing, with crosses at the window's corners to join it by.

    Args:
        canvas: of a page.
        form: name of the drawing.
        window: its lower left corner on the page, and its size.
        shift: where the drawing's origin lies, from the window's corner.
    """
    (left, low), (wide, high) = window
    canvas.saveState()
    edge = canvas.beginPath()
    # an edge of the steel along the window's shows in its whole width
    edge.rect(*(v * POINT for v in (left - RIM, low - RIM, wide + 2.0 * RIM, high + 2.0 * RIM)))
    canvas.clipPath(edge, stroke=0)
    canvas.translate((left + shift[0]) * POINT, (low + shift[1]) * POINT)
    canvas.doForm(form)
    canvas.restoreState()
    canvas.setStrokeColor("#777777")
    canvas.setLineWidth(0.15 * POINT)
    for x in (left, left + wide):
        for y in (low, low + high):
            canvas.line((x - 4) * POINT, y * POINT, (x + 4) * POINT, y * POINT)
            canvas.line(x * POINT, (y - 4) * POINT, x * POINT, (y + 4) * POINT)


def offsets_table(pack: CutPack) -> CsvTable:
    """Every piece by offsets from a line snapped along its lower edge's box, and corners."""
    rows: Iterator[tuple[Cell, ...]] = (
        (piece.id, at.contour, at.what, _tenth(at.along), _tenth(at.away))
        for piece in pack.pieces
        for at in offsets_of(piece)
    )
    return CsvTable.of(
        "id contour what along_mm offset_mm",
        rows,
        "snap a line; along from its start, offset square to it, to the left going along",
        "the line is the lower side of the smallest level rectangle around the drawing",
        "corners first, then where the contour crosses every 100 mm",
    )


def _tenth(length: float) -> float:
    """Tenths of a millimetre of a length [m]."""
    return round(mm_of_m(length), 1) + 0.0
