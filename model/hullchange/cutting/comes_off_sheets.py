"""The cut sheet of what comes off: a list, the order of cutting, a page for every old plate."""

from collections.abc import Iterator, Sequence
from io import BytesIO
from textwrap import wrap

import numpy as np
from reportlab.pdfgen.canvas import Canvas

from hullchange.answer.cautions import CAUTIONS
from hullchange.answer.cut_pack import CutComesOff, CutOldPlate, CutWeightOff
from hullchange.answer.wire import Point
from hullchange.boat.weights import Weight
from hullchange.cutting.comes_off import ComesOff, OldPlate
from hullchange.cutting.drawing import dimension, draw, draw_text, new_canvas
from hullchange.cutting.pack import CutPack
from hullchange.geometry.frame import FloatArray
from hullchange.plain_words import id_in_words
from hullchange.present.csv_table import Cell, CsvTable
from hullchange.shop.notes import TextLine
from hullchange.shop.picture import Picture, cut_of, text_strokes
from hullchange.shop.quantities import lift_point, lift_words
from hullchange.units import mm_of_m

TWICE = (
    "Old plates, in cutting order, are weighed bare: what is left on them is extra.",
    "The ledger's rows are what the refit counts, and include this steel: never add the two.",
)
PAGE = (297.0, 210.0)  # mm, A4
BORDER = 14.0
ROWS = 34  # on a page

ORDER = (
    "First remove linings, wiring, foam and gear; drain and clear the tanks; take the rig "
    "down or shore it.",
    "Brace the opening across and along before the first cut, and measure its diagonals.",
    "Scribe the cut line aboard: the old outline follows the document's dimensions, it was "
    "not measured.",
    "Drill the corners. Leave a tab of 50 mm at every 0.5 m until the slings carry the weight.",
    "Highest plate first, in the order of the list. Tighten the slings before the last tab is "
    "cut.",
    "Cut 10 mm inside the line and dress back to it; then measure the opening again.",
)
"""Common practice, no source."""

_TOPICS = (
    "strength",
    "before cutting",
    "hot work",
    "closed spaces",
    "fumes and current",
    "sealed ballast",
    "old plate",
    "dust and solvents",
    "shoring and shape",
    "rig loads",
    "mid-refit",
)
_ARMS = (np.array([[-0.03, 0.0], [0.03, 0.0]]), np.array([[0.0, -0.03], [0.0, 0.03]]))


def cut_out_table(comes_off: Sequence[ComesOff]) -> CsvTable:
    """Everything that comes off: old plates in the order of cutting, then the ledger's rows."""
    rows = [row for off in comes_off for row in (*_plates(off), *_weights(off))]
    return CsvTable.of(
        "change order what id mass_kg x_m y_m z_m lift_by hang_at_m replaced_by "
        "off checked stowed",
        rows,
        "old plates by the document's dimensions, bare: what is left on them is extra; "
        "the ledger's rows are what the refit counts, including this steel",
        "hang_at: points about the centre of gravity, x y z (common practice, no source); of a "
        "rolled plate on its middle surface",
        *ORDER,
    )


def _plates(off: ComesOff) -> Iterator[tuple[Cell, ...]]:
    for number, plate in enumerate(off.plates, 1):
        hung = "; ".join(" ".join(f"{c:.2f}" for c in row) for row in plate.hung_aboard)
        named = f"old plate {plate.piece.part}.{plate.piece.plate.id}"
        yield (
            off.change, number, named, plate.piece.id,
            round(plate.mass, 1), *_point(plate.centre),
            lift_words(plate.mass), hung or "sling around it", None, "", "", "",
        )  # fmt: skip


def _weights(off: ComesOff) -> Iterator[tuple[Cell, ...]]:
    for weight, by in off.weights:
        yield (
            off.change, None, "ledger", weight.path.rsplit(".", 1)[1], round(weight.mass, 1),
            *_point(weight.centre), _lift(off, weight), None, by, "", "", "",
        )  # fmt: skip


def comes_off_answer(comes_off: Sequence[ComesOff]) -> tuple[CutComesOff, ...]:
    """The same as the answer for its page."""
    return tuple(
        CutComesOff(
            change=off.change,
            plates=tuple(_old_plate(plate) for plate in off.plates),
            weights=tuple(
                CutWeightOff(
                    id=weight.path.rsplit(".", 1)[1],
                    mass_kg=round(weight.mass, 1),
                    centre_m=_point(weight.centre),
                    lift_by=_lift(off, weight),
                    replaced_by=by,
                )
                for weight, by in off.weights
            ),
        )
        for off in comes_off
    )


def _old_plate(plate: OldPlate) -> CutOldPlate:
    return CutOldPlate(
        id=plate.piece.id,
        plate=f"{plate.piece.part} {plate.piece.plate.id}",
        mass_kg=round(plate.mass, 1),
        centre_m=_point(plate.centre),
        lift_by=lift_words(plate.mass),
        hang_at_m=tuple(_point(at) for at in plate.hung_aboard.tolist()),
    )


def _point(place: Sequence[float]) -> Point:
    x, y, z = (round(c, 3) + 0.0 for c in place)  # no minus zero
    return x, y, z


def _lift(off: ComesOff, weight: Weight) -> str:
    return "pumped out" if weight.path in off.pumped else lift_words(weight.mass)


def cut_out_pdf(pack: CutPack) -> bytes:
    """The list with order and cautions, then a page for every old plate."""
    stream = BytesIO()
    canvas = new_canvas(stream, PAGE, f"{pack.stamp.boat} steel to remove")
    rules = ["", "ORDER", *ORDER, "", "BEWARE", *_cautions()]
    lines = [*TWICE, *_list_lines(pack.comes_off), *rules]
    broken = [part for line in lines for part in (wrap(line, 150) or [""])]
    for first in range(0, len(broken), ROWS):
        _head(canvas, pack, "Steel to remove")
        for k, line in enumerate(broken[first : first + ROWS]):
            draw_text(
                canvas, (BORDER, PAGE[1] - BORDER - 20.0 - 4.8 * k), line, 9, line.isupper()
            )
        canvas.showPage()
    for off in pack.comes_off:
        for number, plate in enumerate(off.plates, 1):
            _plate_page(
                canvas,
                pack,
                f"{id_in_words(off.change)}, cut {number} of {len(off.plates)}",
                plate,
            )
            canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _head(canvas: Canvas, pack: CutPack, title: str) -> None:
    top = PAGE[1] - BORDER
    draw_text(canvas, (BORDER, top - 4.0), title, 14, bold=True)
    draw_text(canvas, (BORDER, top - 10.0), f"{pack.stamp.boat}   {pack.stamp.words}", 10)


def _list_lines(comes_off: Sequence[ComesOff]) -> Iterator[str]:
    for off in comes_off:
        yield from ("", id_in_words(off.change).upper())
        for k, plate in enumerate(off.plates, 1):
            name = f"{k}. {plate.piece.id} {id_in_words(plate.piece.plate.id)}"
            mass = plate.mass
            yield f"{name}: {mass:.0f} kg bare, {_place(plate.centre)}, {_lifted(mass)}"
        for weight, by in off.weights:
            how = "pumped out" if weight.path in off.pumped else _lifted(weight.mass)
            name = id_in_words(weight.path)
            again = f"; replaced by {id_in_words(by)}" if by else ""
            yield f"ledger, {name}: {weight.mass:.0f} kg, {_place(weight.centre)}, {how}{again}"
        if off.finding:
            yield off.finding.sentence


def _place(place: Sequence[float]) -> str:
    x, y, z = (round(c, 2) + 0.0 for c in place)  # no minus zero
    return f"centre at x {x:.2f}, y {y:.2f}, z {z:.2f} m".replace("-", "−")


def _lifted(mass: float) -> str:
    return f"lift by {lift_words(mass)}"


def _cautions() -> list[str]:
    return [c.sentence for topic in _TOPICS for c in CAUTIONS if c.topic == topic]


def _plate_page(canvas: Canvas, pack: CutPack, title: str, plate: OldPlate) -> None:
    piece = plate.piece
    _head(canvas, pack, f"{title}: {piece.id} {id_in_words(piece.plate.id)}")
    length, breadth = (mm_of_m(side) for side in piece.size.tolist())
    room = PAGE[0] - 2.0 * BORDER - 12.0, PAGE[1] - 2.0 * BORDER - 60.0
    scale = min(room[0] / length, room[1] / breadth, 1.0)
    x, y = corner = BORDER + 10.0, BORDER + 38.0
    draw(canvas, cut_of(piece).with_(_lifting_marks(plate)), scale, corner)
    dimension(canvas, (x, y - 6.0), (x + length * scale, y - 6.0), f"{length:.0f}")
    dimension(canvas, (x - 5.0, y), (x - 5.0, y + breadth * scale), f"{breadth:.0f}")
    for k, row in enumerate(_plate_lines(plate)):
        draw_text(canvas, (BORDER, BORDER + 20.0 - 5.0 * k), row, 9)


def _lifting_marks(plate: OldPlate) -> Picture:
    """Crosses at lifting points, and the centre of gravity with its letters."""
    centre = lift_point(plate.piece)
    height = 0.03 * float(plate.piece.size[0])
    named = [
        *((f"H{k}", at) for k, at in enumerate(plate.hung, 1)),
        ("G", centre),
    ]
    crosses = Picture(lines=tuple(("REF", arm + at) for _, at in named for arm in _ARMS))
    aside = height * np.array([0.4, 0.4])
    words = [TextLine(name, at + aside, height) for name, at in named]
    return crosses.with_(text_strokes(words, "INFO"))


def _plate_lines(plate: OldPlate) -> Iterator[str]:
    piece = plate.piece
    yield (
        f"Old plate {mm_of_m(piece.thickness):g} mm, {plate.mass:.1f} kg bare, "
        f"{_lifted(plate.mass)}; {_place(plate.centre)} (G, laid flat)."
    )
    if len(plate.hung):
        yield "Lifting points, mm from the lower left corner: " + _places(plate.hung)
    else:
        yield "No steel near its centre to lift it by: sling around it."
    yield f"Seen from the side that faces {piece.side.lower()}; by the document's dimensions."


def _places(hung: FloatArray) -> str:
    rows = mm_of_m(1.0) * hung
    return "; ".join(f"H{k} {x:.0f}, {y:.0f}" for k, (x, y) in enumerate(rows.tolist(), 1))
