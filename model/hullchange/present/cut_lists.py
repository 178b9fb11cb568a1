"""Lists that go with the cut files: what to cut, buy and weld, as CSV and as a workbook."""

from collections import Counter
from collections.abc import Iterator
from datetime import datetime
from io import BytesIO

import numpy as np
from openpyxl import Workbook
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from hullchange.materials import STEEL_DENSITY
from hullchange.present.csv_table import Cell, Table, csv_under
from hullchange.shop.bars import REUSABLE
from hullchange.shop.piece import Bar, Piece
from hullchange.shop.quantities import KEPT, lift_point, lift_words, mass_of, paint_area
from hullchange.shop.welds import ALONG, consumable, shrinkage
from hullchange.study.cutting import CutPack
from hullchange.units import deg_of_rad, mm_of_m

_MOMENT = datetime(2000, 1, 1)  # a workbook is dated, and must be the same again
PROGRESS = "cut checked welded"


def cut_tables(pack: CutPack) -> dict[str, Table]:
    """Every list by its name."""
    return {
        "cut-list": _cut_list(pack),
        "quantities": _quantities(pack),
        "purchase": _purchase(pack),
        "bars": _bars(pack),
        "seams": _seams(pack),
        "consumables": _consumables(pack),
        "findings": _findings(pack),
    }


def csv_of(pack: CutPack, table: Table) -> str:
    """A list as CSV under the pack's stamp."""
    return csv_under(_heads(pack), table)


def _heads(pack: CutPack) -> tuple[tuple[Cell, ...], ...]:
    stamp = pack.stamp
    return (
        ("boat", stamp.boat),
        ("document sha256", stamp.document),
        ("revision", stamp.revision),
        ("status", stamp.state),
    )


def workbook_of(pack: CutPack) -> bytes:
    """All lists as sheets of one workbook; the first has columns to tick off."""
    book = Workbook()
    book.remove(book.worksheets[0])
    for name, table in cut_tables(pack).items():
        sheet = book.create_sheet(name)
        for row in (*_heads(pack), *(("note", note) for note in table.notes), ()):
            sheet.append(row)
        sheet.append(table.columns)
        top = sheet.max_row
        for cell in sheet[top]:
            cell.font = Font(bold=True)
        for row in table.rows:
            sheet.append(row)
        sheet.freeze_panes = f"A{top + 1}"
        sheet.auto_filter.ref = f"A{top}:{get_column_letter(len(table.columns))}{sheet.max_row}"
        for number, column in enumerate(table.columns, 1):
            longest = max((len(str(row[number - 1])) for row in table.rows), default=0)
            letter = get_column_letter(number)
            sheet.column_dimensions[letter].width = min(60, max(len(column), longest) + 2)
    book.properties.created = book.properties.modified = _MOMENT
    stream = BytesIO()
    book.save(stream)
    return stream.getvalue()


def _cut_list(pack: CutPack) -> Table:
    sheet = {
        place.id: number
        for plates in pack.plates
        for number, nest in enumerate(plates.nests, 1)
        for place in nest.places
    }
    rows = [_piece_row(pack, piece, sheet.get(piece.id)) for piece in pack.pieces]
    rows += [_bar_row(bar) for bar in pack.steel.bars]
    return Table.of(
        "id mark part plate material_mm length_mm breadth_mm mass_kg lift_by lift_x_mm "
        "lift_y_mm cut_length_m pierces marked_side sheet draws_in_from_mm draws_in_to_mm "
        + PROGRESS,
        rows,
        "lift_x and lift_y: centre of gravity from the lower left corner of the drawing",
        "draws_in: sum over all seams of the plate, near impossible to predict: not drawn in",
    )


def _piece_row(pack: CutPack, piece: Piece, sheet: int | None) -> tuple[Cell, ...]:
    mass, at = mass_of(piece), lift_point(piece)
    name = piece.part, piece.plate.id
    length, breadth = (round(mm_of_m(side), 1) for side in piece.size.tolist())
    low, high = (round(mm_of_m(reach), 1) for reach in shrinkage(pack.welds, name))
    return (
        piece.id, piece.mark, *name, f"plate {mm_of_m(piece.thickness):g}", length, breadth,
        round(mass, 3), lift_words(mass), round(mm_of_m(float(at[0]))),
        round(mm_of_m(float(at[1]))), round(piece.cut_length, 3), len(piece.rings),
        piece.side.lower(), sheet, low, high, "", "", "",
    )  # fmt: skip


def _bar_row(bar: Bar) -> tuple[Cell, ...]:
    mass = bar.plate.mass(STEEL_DENSITY)
    known = bar.id, bar.mark, bar.part, bar.plate.id, bar.section, round(mm_of_m(bar.length), 1)
    lift = None, round(mass, 3), lift_words(mass)
    return (*known, *lift, *(None,) * 4, "", *(None,) * 3, "", "", "")


def _quantities(pack: CutPack) -> Table:
    count = Counter(piece.mark for piece in pack.pieces)
    first = {piece.mark: piece for piece in reversed(pack.pieces)}
    return Table.of(
        "file quantity thickness_mm area_m2 cut_length_m pierces mass_each_kg",
        (
            (
                service_name(pack, mark), count[mark], mm_of_m(piece.thickness),
                round(piece.area, 5), round(piece.cut_length, 3), len(piece.rings),
                round(mass_of(piece), 3),
            )
            for mark, piece in sorted(first.items())
        ),
        "units mm, scale 1:1, net contours on one layer: no kerf, no lead-ins",
        "of a pair one is the other turned over",
    )  # fmt: skip


def service_name(pack: CutPack, mark: str) -> str:
    """Name of a mark's DXF file: mark, thickness, quantity, document, state."""
    own = [piece for piece in pack.pieces if piece.mark == mark]
    stamp = pack.stamp
    thick = f"{mm_of_m(own[0].thickness):g}mm"
    return f"{mark}_{thick}_{len(own)}off_{stamp.document[:8]}_{stamp.state}.dxf"


def _purchase(pack: CutPack) -> Table:
    def rows() -> Iterator[tuple[Cell, ...]]:
        for plates in pack.plates:
            a = plates.account
            sheets = " + ".join(f"{n} of {words}" for words, n in sorted(a.sheets.items()))
            percent = 100.0 * a.used / a.bought if a.bought else 0.0
            yield (
                f"plate {mm_of_m(a.thickness):g}", sheets, round(a.bought, 1), round(a.used, 1),
                round(a.left, 1), round(a.scrap, 1), round(percent, 1), round(a.price, 2),
            )  # fmt: skip
        for section in pack.sections:
            words = f"{len(section.plan.cuts)} of {section.plan.stock:g} m"
            whole = len(section.plan.cuts) * section.plan.stock
            used = sum(bar.length for bar in section.bars)
            share = 100.0 * used / whole
            yield section.section, words, None, None, None, None, share, round(section.price, 2)

    return Table.of(
        "material_mm buy bought_kg used_kg left_over_kg scrap_kg used_percent price",
        rows(),
        f"left over are strips of full breadth from {mm_of_m(KEPT):.0f} mm, and of bars what "
        f"is longer than {mm_of_m(REUSABLE):.0f} mm",
        f"area to paint, both sides: {paint_area(pack.steel):.1f} m2",
    )


def _bars(pack: CutPack) -> Table:
    def rows() -> Iterator[tuple[Cell, ...]]:
        for section in pack.sections:
            waiting = sorted(section.bars, key=lambda bar: bar.id)
            left = section.plan.offcuts(pack.saw)
            for number, cuts in enumerate(section.plan.cuts, 1):
                for length in cuts:
                    bar = next(b for b in waiting if abs(b.length - length) < 2e-6)
                    waiting.remove(bar)
                    yield section.section, number, bar.id, round(mm_of_m(length), 1), "", "", ""
                yield (
                    section.section,
                    number,
                    "left",
                    round(mm_of_m(left[number - 1]), 1),
                    "",
                    "",
                    "",
                )

    def said() -> Iterator[str]:
        for section in pack.sections:
            plan = section.plan
            word = "proven the fewest" if plan.proven else f"at least {plan.bound} are needed"
            count = len(plan.cuts)
            bars = "1 bar" if count == 1 else f"{count} bars"
            yield f"{section.section}: {bars} of {plan.stock:g} m, {word}"

    return Table.of(f"section_mm bar id length_mm {PROGRESS}", rows(), *said())


def _seams(pack: CutPack) -> Table:
    return Table.of(
        "first second kind length_m angle_deg first_mm second_mm leg_mm sides weld_metal_kg "
        "shortens_mm",
        (
            (
                ".".join(w.first), ".".join(w.second), w.kind, round(w.length, 4),
                round(deg_of_rad(w.angle), 1), mm_of_m(w.thicknesses[0]),
                mm_of_m(w.thicknesses[1]), mm_of_m(w.leg), w.runs, round(w.metal, 4),
                round(mm_of_m(ALONG[w.kind] * w.length), 2),
            )
            for w in pack.welds
        ),
        "found from where new plates touch; welds to the old hull are not among them",
        "legs are 0.7 of the thinner plate, 3 mm at least (common practice, no source): a "
        "consultant sets them",
    )  # fmt: skip


def _consumables(pack: CutPack) -> Table:
    length, metal = (sum(row) for row in np.array([(w.length, w.metal) for w in pack.welds]).T)
    low, high = consumable(float(metal), pack.process)
    return Table.of(
        "process seams_m weld_metal_kg buy_from_kg buy_to_kg",
        (
            (
                pack.process,
                round(float(length), 2),
                round(float(metal), 2),
                round(low, 2),
                round(high, 2),
            ),
        ),
        "fillets with 15 % over their triangle; seams to the old hull come on top",
    )


def _findings(pack: CutPack) -> Table:
    return Table.of(
        "severity place sentence", ((f.severity, f.place, f.sentence) for f in pack.findings)
    )
