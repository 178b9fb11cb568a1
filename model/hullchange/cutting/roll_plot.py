"""Templates at full size on a roll: close together on pages as long as a PDF may be."""

from io import BytesIO

import numpy as np
from reportlab.pdfgen.canvas import Canvas

from hullchange.cutting.drawing import POINT, draw, draw_text, new_canvas
from hullchange.cutting.pack import CutPack
from hullchange.cutting.templates import CHECK, check_square, draw_window, piece_form
from hullchange.shop.nest import Nest, Placement, Shape
from hullchange.shop.picture import Picture, cut_of, marks_picture
from hullchange.shop.piece import PlatePiece
from hullchange.shop.templates import laid_on_paper, tiles_of
from hullchange.units import m_of_mm, mm_of_m

LONGEST = 14_400.0 / POINT  # mm, a page of a PDF
EDGE = 10.0  # mm, kept clear along the paper's edges
HEAD = 125.0  # mm at the beginning of a page, for the square to check by


def roll_pdf(pack: CutPack) -> bytes:
    """Every piece at full size on paper as wide as the roll; what is wider in strips."""
    stream = BytesIO()
    canvas = new_canvas(stream, (LONGEST, pack.roll), f"{pack.stamp.boat} 1:1 on a roll")
    room = LONGEST - HEAD - 2.0 * EDGE, pack.roll - 2.0 * EDGE
    shapes = [Shape(piece.id, piece.region) for piece in pack.pieces]
    nests, wider = laid_on_paper(shapes, (m_of_mm(room[0]), m_of_mm(room[1])))
    pieces = {piece.id: piece for piece in pack.pieces}
    known = {shape.id: shape for shape in shapes}
    for number, nest in enumerate(nests, 1):
        _page(canvas, pack, nest, known, f"sheet {number} of {len(nests)}")
    for shape in wider:
        _strips(canvas, pack, pieces[shape.id], room)
    canvas.save()
    return stream.getvalue()


def _page(
    canvas: Canvas, pack: CutPack, nest: Nest, shapes: dict[str, Shape], name: str
) -> None:
    pieces = {piece.id: piece for piece in pack.pieces}
    reach = max(shapes[place.id].at(place).bounds[2] for place in nest.places)
    _head(canvas, pack, mm_of_m(reach), name)
    for place in nest.places:
        picture = _laid(pack, pieces[place.id], place)
        draw(canvas, picture, 1.0, (HEAD + EDGE, EDGE))
    canvas.showPage()


def _laid(pack: CutPack, piece: PlatePiece, place: Placement) -> Picture:
    whole = cut_of(piece).with_(marks_picture(pack.marks[piece.id]))
    return whole.placed(place.angle, np.array(place.shift))


def _strips(
    canvas: Canvas, pack: CutPack, piece: PlatePiece, room: tuple[float, float]
) -> None:
    """A piece too wide or too long for the paper: through windows that join."""
    form = piece.id.replace("-", "")
    piece_form(canvas, form, pack, piece)
    for row, column in tiles_of(piece, (m_of_mm(room[0]), m_of_mm(room[1]))):
        length = min(room[0], mm_of_m(float(piece.size[0])) - column * room[0])
        name = f"{piece.id}, strip {row + 1}, length {column + 1}: join at the corner crosses"
        _head(canvas, pack, length, name)
        shown = -column * room[0], -row * room[1]
        draw_window(canvas, form, ((HEAD + EDGE, EDGE), (length, room[1])), shown)
        canvas.showPage()


def _head(canvas: Canvas, pack: CutPack, length: float, name: str) -> None:
    """The page as long as it must be; its square to check by, on both axes."""
    canvas.setPageSize(((HEAD + EDGE + length + EDGE) * POINT, pack.roll * POINT))
    check_square(canvas, (EDGE, EDGE))
    rows = (
        f"{pack.stamp.boat}   {pack.stamp.words}",
        f"Full size on a roll {pack.roll:g} mm wide:",
        name,
        f"Plot at 100 %. The square measures {CHECK:.1f} mm",
        "both ways, or do not use the paper.",
        "The line is the edge of the steel.",
        "Paper grows when damp: check lengths with",
        "a steel tape.",
    )
    for k, row in enumerate(rows):
        draw_text(canvas, (EDGE, EDGE + CHECK + 60.0 - 6.0 * k), row, 9)
