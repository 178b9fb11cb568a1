"""Labels to stick on: three by eight on A4, each with a code that a telephone reads."""

from collections.abc import Sequence
from io import BytesIO

import segno
from reportlab.pdfgen.canvas import Canvas

from hullchange.cutting.drawing import POINT, draw_text, new_canvas, width_of
from hullchange.cutting.pack import CutPack
from hullchange.plain_words import plate_in_words
from hullchange.shop.quantities import lift_words, mass_of
from hullchange.units import mm_of_m

PAGE = (210.0, 297.0)  # mm, A4
ACROSS, DOWN = 3, 8
SIZE = (70.0, 37.125)  # mm
CODE = 26.0  # mm, side of the code with its quiet zone
WORDS = 32.0  # mm from the label's left edge to its words
CLEAR = 3.0  # mm kept clear at its right edge


def code_words(pack: CutPack, name: str) -> str:
    """The content of a label's code: revision, document, mark."""
    stamp = pack.stamp
    return f"HULLCHANGE {stamp.revision} {stamp.document[:16]} {name} {stamp.state}".upper()


def labels_pdf(pack: CutPack) -> bytes:
    """A label for every piece and bar."""
    stream = BytesIO()
    canvas = new_canvas(stream, PAGE, f"{pack.stamp.boat} labels")
    for number, (name, rows) in enumerate(_labels(pack)):
        spot = number % (ACROSS * DOWN)
        if number and not spot:
            canvas.showPage()
        x = spot % ACROSS * SIZE[0]
        y = PAGE[1] - (spot // ACROSS + 1) * SIZE[1]
        _code(canvas, code_words(pack, name), (x + 4.0, y + 5.5))
        _fitted(canvas, (x + WORDS, y + 27.0), name, 11.0, bold=True)
        for k, row in enumerate(rows):
            _fitted(canvas, (x + WORDS, y + 21.5 - 4.6 * k), row, 8.0)
    canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _labels(pack: CutPack) -> list[tuple[str, tuple[str, ...]]]:
    on = {
        place.id: f"{mm_of_m(p.thickness):g} mm, sheet {number}"
        for p in pack.plates
        for number, nest in enumerate(p.nests, 1)
        for place in nest.places
    }
    stamp = f"{pack.stamp.revision} {pack.stamp.document[:8]}"
    rows: list[tuple[str, tuple[str, ...]]] = []
    for piece in pack.pieces:
        mass = mass_of(piece)
        where = on.get(piece.id, f"{mm_of_m(piece.thickness):g} mm, not nested")
        lines = plate_in_words(piece.part, piece.plate.id), where, _mass(mass), stamp
        rows.append((piece.id, (*lines, pack.stamp.state.upper())))
    for bar in pack.steel.bars:
        lines = (
            plate_in_words(bar.part, bar.plate.id),
            bar.section,
            f"{mm_of_m(bar.length):.0f} mm",
            stamp,
        )
        rows.append((bar.id, (*lines, pack.stamp.state.upper())))
    return rows


def _fitted(
    canvas: Canvas, at: tuple[float, float], words: str, size: float, bold: bool = False
) -> None:
    """A row no wider than the label, in smaller letters where it must be."""
    room = (SIZE[0] - WORDS - CLEAR) * POINT
    wide = width_of(words, size, bold)
    draw_text(canvas, at, words, size * min(1.0, room / wide), bold)


def _mass(mass: float) -> str:
    who = lift_words(mass)
    return f"{mass:.1f} kg" if who == "one" else f"{mass:.1f} kg, lift by {who}"


def _code(canvas: Canvas, words: str, corner: tuple[float, float]) -> None:
    """A QR code as filled squares."""
    rows: Sequence[bytearray] = tuple(segno.make(words, micro=False, error="m").matrix)
    side = CODE / (len(rows) + 8) * POINT  # four cells of quiet all round
    canvas.setFillColor("#000000")
    left, top = corner[0] * POINT + 4 * side, corner[1] * POINT + CODE * POINT - 4 * side
    for down, row in enumerate(rows):
        for along, dark in enumerate(row):
            if dark:
                x, y = left + along * side, top - (down + 1) * side
                canvas.rect(x, y, side * 1.01, side * 1.01, stroke=0, fill=1)
