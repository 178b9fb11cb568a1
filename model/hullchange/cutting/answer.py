"""A cut pack as the answer for its page."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from hullchange.answer.cut_pack import (
    CutAnswer,
    CutBar,
    CutNest,
    CutOpening,
    CutPiece,
    CutPlace,
    CutPurchase,
    CutQuantities,
    CutReading,
    CutSeam,
    CutSection,
    CutStockBar,
    CutWords,
)
from hullchange.assess.assessment import finding_results
from hullchange.boat.measured_opening import OpeningReading
from hullchange.boat.opening_fits import READING_WORDS
from hullchange.cutting.bars import SectionPlan
from hullchange.cutting.comes_off_sheets import comes_off_answer
from hullchange.cutting.drawing import svg_path
from hullchange.cutting.nests import PlateNests
from hullchange.cutting.pack import CutPack
from hullchange.cutting.sheets import nest_name
from hullchange.materials import STEEL_DENSITY
from hullchange.shop.contour import Contour
from hullchange.shop.lettering import width
from hullchange.shop.marks import MarkRole, Marks
from hullchange.shop.nest import Nest, used_length
from hullchange.shop.piece import Bar, PlatePiece
from hullchange.shop.quantities import (
    MaterialBalance,
    left_length,
    lift_point,
    lift_words,
    mass_of,
    paint_area,
    sheet_words,
)
from hullchange.shop.splice import surface_in_boat
from hullchange.shop.welds import consumable, shrinkage
from hullchange.units import deg_of_rad, mm_of_m


def cut_answer(pack: CutPack, changes: Mapping[str, str]) -> CutAnswer:
    """Everything a page shows of a pack.

    Args:
        pack: made ready.
        changes: the change that each part belongs to.
    """
    return CutAnswer(
        boat=pack.stamp.boat,
        document_sha256=pack.stamp.document,
        pieces=tuple(_pieces(pack, changes)),
        bars=tuple(_bar(bar, changes) for bar in pack.steel.bars),
        nests=tuple(_nests(pack)),
        purchase=tuple(purchases(pack)),
        sections=tuple(_section(section, pack.saw) for section in pack.sections),
        seams=tuple(_seams(pack)),
        quantities=_quantities(pack),
        comes_off=comes_off_answer(pack.comes_off),
        openings=tuple(_openings(pack)),
        gap_mm=mm_of_m(pack.spacing.gap),
        margin_mm=mm_of_m(pack.spacing.margin),
        findings=finding_results(pack.findings),
    )


def purchases(pack: CutPack) -> Iterator[CutPurchase]:
    """What is bought of every thickness and section, and what no stock takes."""
    for plates in pack.plates:
        material = f"plate {mm_of_m(plates.thickness):g}"
        yield _purchase(material, plates.account, plates.not_placed, plates.mass_not_placed)
    for plan in pack.sections:
        yield _purchase(plan.section, plan.account, plan.not_placed, plan.mass_not_placed)


def _purchase(
    material: str,
    account: MaterialBalance,
    not_placed: Sequence[PlatePiece | Bar],
    missing: float,
) -> CutPurchase:
    """One row; what is printed of it adds up."""
    bought, yard = round(account.bought, 1), round(account.from_yard, 1)
    used, left = round(account.used, 1), round(account.left, 1)
    taken = account.bought + account.from_yard
    return CutPurchase(
        material=material,
        buy=buy_words(account),
        leftovers=" + ".join(account.leftovers),
        bought_kg=bought,
        from_leftovers_kg=yard,
        used_kg=used,
        left_over_kg=left,
        scrap_kg=round(bought + yard - used - left, 1) + 0.0,
        used_percent=round(100.0 * account.used / taken if taken else 0.0, 1),
        price=None if account.price is None else round(account.price, 2),
        not_covered=", ".join(piece.id for piece in not_placed),
        not_covered_kg=round(missing, 1),
    )


def buy_words(account: MaterialBalance) -> str:
    """Number of each size that is bought."""
    return " + ".join(f"{n} of {words}" for words, n in sorted(account.sheets.items()))


def bars_cut(section: SectionPlan, saw: float) -> Iterator[CutStockBar]:
    """Which pieces are cut from each bar; ``saw`` is what one cut takes [m]."""
    waiting = sorted(section.bars, key=lambda bar: bar.id)
    for number, sold in enumerate(section.plan.bars, 1):
        pieces = []
        for length in sold.cuts:
            bar = next(b for b in waiting if abs(b.length - length) < 2e-6)
            waiting.remove(bar)
            pieces.append(bar.id)
        yield CutStockBar(
            number=number,
            length_mm=_tenth(sold.stock.length),
            pieces=tuple(pieces),
            left_mm=_tenth(sold.offcut(saw)),
        )


def _pieces(pack: CutPack, changes: Mapping[str, str]) -> Iterator[CutPiece]:
    count = Counter(piece.mark for piece in pack.pieces)
    nests = {
        place.id: nest_name(plates, number)
        for plates, number, nest in _every_nest(pack)
        for place in nest.places
    }
    for piece in pack.pieces:
        marks, at = pack.marks[piece.id], lift_point(piece)
        low, high = shrinkage(pack.welds, (piece.part, piece.plate.id))
        radius = piece.bend_radius
        yield CutPiece(
            id=piece.id,
            mark=piece.mark,
            part=piece.part,
            plate=piece.plate.id,
            change=changes[piece.part],
            shape=piece.shape,
            material=f"plate {mm_of_m(piece.thickness):g}",
            count=count[piece.mark],
            thickness_mm=_tenth(piece.thickness),
            length_mm=_tenth(float(piece.size[0])),
            breadth_mm=_tenth(float(piece.size[1])),
            area_m2=round(piece.area, 5),
            mass_kg=round(mass_of(piece), 3),
            cut_length_m=round(piece.cut_length, 3),
            pierces_count=len(piece.rings),
            side=piece.side.lower(),
            bend_radius_mm=round(mm_of_m(radius)) if np.isfinite(radius) else None,
            lift_at_mm=(_tenth(float(at[0])), _tenth(float(at[1]))),
            lift_by=lift_words(mass_of(piece)),
            draws_in_mm=(_tenth(low), _tenth(high)),
            nest=nests.get(piece.id),
            in_boat_m=_in_boat(pack, piece),
            contours=svg_path(piece.rings),
            marks=_lines(marks, "mark"),
            bends=_lines(marks, "bend"),
            checks=_lines(marks, "check"),
            words=tuple(_words(marks)),
        )


def _in_boat(pack: CutPack, piece: PlatePiece) -> tuple[float, ...] | None:
    """Triangles of a part of a plate; None for a whole one."""
    if sum(other.plate is piece.plate for other in pack.pieces) == 1:
        return None
    surface = surface_in_boat(piece)
    corners: list[float] = surface.vertices[surface.faces].round(4).ravel().tolist()
    return tuple(corners)


def _lines(marks: Marks, role: MarkRole) -> str:
    return svg_path(lines=(line.points for line in marks.lines if line.role == role))


def _words(marks: Marks) -> Iterator[CutWords]:
    for words in marks.words:
        x, y = (mm_of_m(v) for v in words.at.tolist())
        yield CutWords(
            text=words.text,
            at_mm=(round(x, 1), round(-y, 1)),
            height_mm=_tenth(words.height),
            length_mm=_tenth(width(words.text, words.height)),
            turn_deg=round(deg_of_rad(words.angle), 2),
        )


def _bar(bar: Bar, changes: Mapping[str, str]) -> CutBar:
    return CutBar(
        id=bar.id,
        mark=bar.mark,
        part=bar.part,
        plate=bar.plate.id,
        change=changes[bar.part],
        shape=bar.shape,
        section=bar.section,
        length_mm=_tenth(bar.length),
        mass_kg=round(bar.plate.mass(STEEL_DENSITY), 3),
    )


def _every_nest(pack: CutPack) -> Iterator[tuple[PlateNests, int, Nest]]:
    for plates in pack.plates:
        for number, nest in enumerate(plates.nests, 1):
            yield plates, number, nest


def _nests(pack: CutPack) -> Iterator[CutNest]:
    for plates, number, nest in _every_nest(pack):
        sheet = nest.sheet
        edge = Contour(np.column_stack([sheet.outline, np.zeros(len(sheet.outline))]))
        used = sum(plates.shapes[place.id].region.area for place in nest.places)
        yield CutNest(
            id=nest_name(plates, number),
            thickness_mm=_tenth(plates.thickness),
            sheet=sheet_words(nest),
            is_leftover=sheet.leftover,
            length_mm=_tenth(sheet.size[0]),
            breadth_mm=_tenth(sheet.size[1]),
            outline=svg_path([edge]),
            used_length_mm=_tenth(used_length(nest, plates.shapes)),
            left_length_mm=_tenth(left_length(nest, plates.shapes, pack.spacing)),
            used_percent=round(100.0 * used / sheet.region.area, 1),
            pieces=tuple(
                CutPlace(
                    id=place.id,
                    turn_deg=round(deg_of_rad(place.angle), 4),
                    at_mm=(_tenth(place.shift[0]), _tenth(place.shift[1])),
                )
                for place in nest.places
            ),
        )


def _openings(pack: CutPack) -> Iterator[CutOpening]:
    for opened in pack.opened:
        given, fit = opened.dimensions, opened.fit
        rows = {row.key: row for row in fit.readings} if fit else {}
        values = fit.values if fit else {}
        yield CutOpening(
            part=opened.id,
            path=f"{opened.path}.opening",
            readings=tuple(
                _reading(key, drawn, rows.get(key)) for key, drawn in opened.drawn.items()
            ),
            values_m={
                f"{opened.path}.{key}": value
                for key, value in values.items()
                if getattr(given, key) != value
            },
        )


def _reading(key: str, drawn: float, row: OpeningReading | None) -> CutReading:
    fitted = row.fitted if row else None
    return CutReading(
        key=key,
        words=READING_WORDS[key],
        drawn_mm=_tenth(drawn),
        read_mm=_tenth(row.read) if row else None,
        fitted_mm=None if fitted is None else _tenth(fitted),
    )


def _section(section: SectionPlan, saw: float) -> CutSection:
    return CutSection(
        section=section.section,
        buy=buy_words(section.account),
        is_proven=section.plan.proven,
        bound=section.bound,
        bars=tuple(bars_cut(section, saw)),
    )


def _seams(pack: CutPack) -> Iterator[CutSeam]:
    for weld in pack.welds:
        yield CutSeam(
            first=".".join(weld.first),
            second=".".join(weld.second),
            kind=weld.kind,
            length_m=round(weld.length, 4),
            angle_deg=round(deg_of_rad(weld.angle), 1),
            leg_mm=_tenth(weld.leg),
            sides_count=weld.runs,
            weld_metal_kg=round(weld.metal, 4),
        )


def _quantities(pack: CutPack) -> CutQuantities:
    metal = sum(weld.metal for weld in pack.welds)
    bars = sum(bar.plate.mass(STEEL_DENSITY) for bar in pack.steel.bars)
    low, high = consumable(metal, pack.process)
    return CutQuantities(
        mass_kg=round(sum(map(mass_of, pack.pieces)) + bars, 1),
        cut_length_m=round(sum(piece.cut_length for piece in pack.pieces), 2),
        pierces_count=sum(len(piece.rings) for piece in pack.pieces),
        seams_m=round(sum(weld.length for weld in pack.welds), 2),
        weld_metal_kg=round(metal, 2),
        process=pack.process,
        consumable_kg=(round(low, 2), round(high, 2)),
        paint_area_m2=round(paint_area(pack.steel), 1),
    )


def _tenth(length: float) -> float:
    """Tenths of a millimetre of a length [m]."""
    return round(mm_of_m(length), 1) + 0.0
