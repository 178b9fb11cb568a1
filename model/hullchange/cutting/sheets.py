"""Sheets of paper for the yard: nests with what lies on them, and a page for every piece."""

from io import BytesIO

import numpy as np
from reportlab.pdfgen.canvas import Canvas

from hullchange.answer.cautions import STRENGTH
from hullchange.cutting.drawing import dimension, draw, draw_text, new_canvas
from hullchange.cutting.nests import PlateNests
from hullchange.cutting.pack import CutPack
from hullchange.geometry.outline import Arc
from hullchange.geometry.scallop import SCALLOP
from hullchange.plain_words import plate_in_words
from hullchange.shop.contour import Contour
from hullchange.shop.layers import Layer
from hullchange.shop.lettering import width
from hullchange.shop.nest import Nest, used_length
from hullchange.shop.notes import TextLine
from hullchange.shop.picture import Picture, cut_of, marks_picture, text_strokes
from hullchange.shop.piece import PlatePiece
from hullchange.shop.quantities import left_length, lift_point, lift_words, mass_of, sheet_words
from hullchange.units import mm_of_m

PAGE = (420.0, 297.0)  # mm, A3
BORDER = 14.0
HEAD = 24.0  # mm kept for the title
LIST = 62.0  # mm kept for what lies on a sheet
LIFT = 25.0
"""[kg] from which a piece shows its lift point."""

NET = (
    "Net contours: no kerf, no weld gap, no extra steel at edges. Kerf and lead-ins are the "
    "cutter's."
)


def nest_name(plates: PlateNests, number: int) -> str:
    """Name of a nest's files, without their ending."""
    return f"nest-{mm_of_m(plates.thickness):g}mm-{number}"


def nest_picture(pack: CutPack, nest: Nest) -> Picture:
    """A sheet with its pieces and their marks."""
    pieces = {piece.id: piece for piece in pack.pieces}
    edge = Contour(np.column_stack([nest.sheet.outline, np.zeros(len(nest.sheet.outline))]))
    whole = Picture(loops=(("SHEET", edge),))
    for place in nest.places:
        piece = pieces[place.id]
        drawn = cut_of(piece).with_(marks_picture(pack.marks[place.id])).with_(_lift(piece))
        whole = whole.with_(drawn.placed(place.angle, np.array(place.shift)))
    words = TextLine(pack.stamp.words, np.array([0.0, -0.06]), 0.03)
    return whole.with_(text_strokes([words], "INFO"))


def _lift(piece: PlatePiece) -> Picture:
    """A cross at the centre of gravity of what is heavy, where there is steel."""
    at = lift_point(piece)
    if mass_of(piece) <= LIFT or not piece.region.contains(piece.region.centroid):
        return Picture()
    arms = (np.array([[-0.02, 0.0], [0.02, 0.0]]), np.array([[0.0, -0.02], [0.0, 0.02]]))
    return Picture(lines=tuple(("REF", arm + at) for arm in arms))


def nest_pdf(pack: CutPack, plates: PlateNests, number: int) -> bytes:
    """One nest on a page, with its dimensions and its pieces."""
    nest = plates.nests[number - 1]
    stream = BytesIO()
    name = nest_name(plates, number)
    canvas = new_canvas(stream, PAGE, f"{pack.stamp.boat} {name}")
    length, breadth = nest.sheet.size
    room = PAGE[0] - 2.0 * BORDER - LIST, PAGE[1] - 2.0 * BORDER - HEAD
    scale = min(room[0] / mm_of_m(length), room[1] / mm_of_m(breadth), 1.0)
    corner = BORDER + 6.0, BORDER + 12.0
    title = (
        f"Plate {mm_of_m(plates.thickness):g} mm, sheet {number} of {len(plates.nests)}: "
        f"{sheet_words(nest)}"
    )
    _head(canvas, pack, title, f"scale 1 : {1.0 / scale:.1f}")
    draw(canvas, nest_picture(pack, nest).only(_ON_PAPER), scale, corner)
    wide, high = (mm_of_m(side) * scale for side in (length, breadth))
    used = mm_of_m(used_length(nest, plates.shapes))
    left = mm_of_m(left_length(nest, plates.shapes, pack.spacing))
    x, y = corner
    dimension(canvas, (x, y - 9.0), (x + wide, y - 9.0), f"{mm_of_m(length):.0f}")
    dimension(
        canvas, (x, y - 4.0), (x + used * scale, y - 4.0), f"used {used:.0f}, left {left:.0f}"
    )
    dimension(canvas, (x - 4.0, y), (x - 4.0, y + high), f"{mm_of_m(breadth):.0f}")
    _listed(canvas, pack, nest)
    canvas.showPage()
    canvas.save()
    return stream.getvalue()


_ON_PAPER: tuple[Layer, ...] = ("CUT", "MARK", "BEND", "TEXT", "REF", "SHEET")


def _head(canvas: Canvas, pack: CutPack, title: str, aside: str) -> None:
    top = PAGE[1] - BORDER
    draw_text(canvas, (BORDER, top - 4.0), title, 14, bold=True)
    draw_text(
        canvas, (BORDER, top - 10.0), f"{pack.stamp.boat}   {pack.stamp.words}   {aside}", 10
    )
    draw_text(canvas, (BORDER, top - 15.0), f"{NET} Millimetres. {STRENGTH.sentence}", 8)


def _listed(canvas: Canvas, pack: CutPack, nest: Nest) -> None:
    pieces = {piece.id: piece for piece in pack.pieces}
    x, y = PAGE[0] - BORDER - LIST + 8.0, PAGE[1] - BORDER - HEAD
    draw_text(canvas, (x, y), "On this sheet", 9, bold=True)
    for place in sorted(nest.places, key=lambda p: p.id):
        y -= 4.2
        mass = mass_of(pieces[place.id])
        draw_text(canvas, (x, y), place.id, 8)
        draw_text(canvas, (x + 34.0, y), f"{mass:.1f} kg", 8)
        who = lift_words(mass)
        draw_text(canvas, (x + 47.0, y), "" if who == "one" else who, 8)


def plates_pdf(pack: CutPack) -> bytes:
    """A page for every piece: its contour, marks and what is known of it."""
    stream = BytesIO()
    canvas = new_canvas(stream, PAGE, f"{pack.stamp.boat} plates")
    for piece in pack.pieces:
        _plate_page(canvas, pack, piece)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _plate_page(canvas: Canvas, pack: CutPack, piece: PlatePiece) -> None:
    length, breadth = (mm_of_m(side) for side in piece.size.tolist())
    room = PAGE[0] - 2.0 * BORDER - 12.0, PAGE[1] - 2.0 * BORDER - HEAD - 34.0
    scale = min(room[0] / length, room[1] / breadth, 1.0)
    corner = BORDER + 10.0, BORDER + 34.0
    _head(
        canvas,
        pack,
        f"{piece.id}   {plate_in_words(piece.part, piece.plate.id)}",
        f"scale 1 : {1.0 / scale:.1f}",
    )
    picture = cut_of(piece).with_(marks_picture(pack.marks[piece.id])).with_(_lift(piece))
    scallops = _scallops(piece)
    picture = picture.with_(text_strokes(scallops, "INFO"))
    draw(canvas, picture, scale, corner)
    x, y = corner
    dimension(canvas, (x, y - 6.0), (x + length * scale, y - 6.0), f"{length:.1f}")
    dimension(canvas, (x - 5.0, y), (x - 5.0, y + breadth * scale), f"{breadth:.1f}")
    at = lift_point(piece)
    rows = [
        f"Plate {mm_of_m(piece.thickness):g} mm, {mass_of(piece):.2f} kg, lift by "
        f"{lift_words(mass_of(piece))}; centre of gravity {mm_of_m(float(at[0])):.0f}, "
        f"{mm_of_m(float(at[1])):.0f} from the lower left corner.",
        f"Area {piece.area:.4f} m², cut length {piece.cut_length:.3f} m, pierces: "
        f"{len(piece.rings)}; seen from the side that faces {piece.side.lower()}.",
        "Blue: ticks at stations (ST), waterlines (WL), centreline (CL) and the middle of "
        "whatever is welded on. Purple: rolling lines with their radius. Green: 100 mm, to "
        "check the scale.",
    ]
    if scallops:
        rows.append(
            "Scallops (R, mm): a seam crosses there; weld it first, through the scallop."
        )
    for k, row in enumerate(rows):
        draw_text(canvas, (BORDER, BORDER + 14.0 - 5.0 * k), row, 9)


def _scallops(piece: PlatePiece) -> list[TextLine]:
    """The radius of every scallop, in the corner that is cut away."""
    arcs = [arc for arc in piece.plate.outer.tagged(SCALLOP) if isinstance(arc, Arc)]
    words = []
    for arc in arcs:
        text, height = f"R {mm_of_m(arc.radius):.0f}", 0.4 * arc.radius
        at = piece.drawing.of(np.array([arc.centre]))[0]
        words.append(TextLine(text, at - np.array([width(text, height), height]) / 2.0, height))
    return words
