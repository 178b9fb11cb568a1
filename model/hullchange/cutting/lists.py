"""Lists that go with the cut files: what to cut, buy and weld, as CSV and as a workbook."""

from collections import Counter
from collections.abc import Iterator, Mapping

from hullchange.answer.cautions import STRENGTH
from hullchange.cutting.answer import bars_cut, buy_words, purchases
from hullchange.cutting.bars import SectionPlan
from hullchange.cutting.comes_off_sheets import cut_out_table
from hullchange.cutting.pack import CutPack
from hullchange.cutting.progress import STEPS, PieceSteps
from hullchange.materials import STEEL_DENSITY
from hullchange.present.csv_table import Cell, CsvTable, Heads, csv_under
from hullchange.present.workbook import workbook
from hullchange.shop.bars import REUSABLE
from hullchange.shop.piece import Bar, PlatePiece
from hullchange.shop.quantities import KEPT, lift_point, lift_words, mass_of, paint_area
from hullchange.shop.welds import ALONG, consumable, shrinkage
from hullchange.units import deg_of_rad, mm_of_m

CUT_LIST = "cut-list"
StepsByPiece = Mapping[str, PieceSteps]


def cut_tables(pack: CutPack, progress: StepsByPiece) -> dict[str, CsvTable]:
    """Every list by its name; the first has the progress of each piece."""
    return {
        CUT_LIST: _cut_list(pack, progress),
        "quantities": _quantities(pack),
        "purchase": _purchase(pack),
        "bars": _bars(pack),
        "seams": _seams(pack),
        "consumables": _consumables(pack),
        "cut-out": cut_out_table(pack.comes_off),
        "findings": _findings(pack),
    }


def csv_of(pack: CutPack, table: CsvTable) -> str:
    """A list as CSV under the pack's stamp."""
    return csv_under(_heads(pack), table)


def _heads(pack: CutPack) -> Heads:
    stamp = pack.stamp
    return (
        ("boat", stamp.boat),
        ("document sha256", stamp.document),
        ("revision", stamp.revision),
        ("status", stamp.state),
        ("strength", STRENGTH.sentence),
    )


def workbook_of(pack: CutPack, tables: Mapping[str, CsvTable]) -> bytes:
    """All lists as sheets of one workbook; the first has columns to tick off."""
    return workbook(_heads(pack), tables)


def _cut_list(pack: CutPack, progress: StepsByPiece) -> CsvTable:
    sheet = {
        place.id: number
        for plates in pack.plates
        for number, nest in enumerate(plates.nests, 1)
        for place in nest.places
    }
    rows = [
        (*_piece_row(pack, piece, sheet.get(piece.id)), *_progress_cells(piece, progress))
        for piece in pack.pieces
    ]
    rows += [(*_bar_row(bar), *_progress_cells(bar, progress)) for bar in pack.steel.bars]
    return CsvTable.of(
        "id mark part plate material_mm length_mm breadth_mm mass_kg lift_by lift_x_mm "
        "lift_y_mm cut_length_m pierces marked_side sheet draws_in_from_mm draws_in_to_mm "
        "shape " + " ".join(STEPS),
        rows,
        "cut, checked, welded: a date, initials or x when done, no when not; send the filled "
        "list back to hullchange, which recognises a piece by id and shape",
        "lift_x and lift_y: centre of gravity from the lower left corner of the drawing",
        "draws_in: shrinkage of all seams of the plate together; a rough range, not included "
        "in the drawing",
    )


def _progress_cells(piece: PlatePiece | Bar, progress: StepsByPiece) -> tuple[Cell, ...]:
    """Sign of a piece's shape, and a cell for each step."""
    done = progress.get(piece.id, PieceSteps()).done
    return piece.shape, *(done[step].cell if step in done else "" for step in STEPS)


def _piece_row(pack: CutPack, piece: PlatePiece, sheet: int | None) -> tuple[Cell, ...]:
    mass, at = mass_of(piece), lift_point(piece)
    name = piece.part, piece.plate.id
    length, breadth = (round(mm_of_m(side), 1) for side in piece.size.tolist())
    low, high = (round(mm_of_m(reach), 1) for reach in shrinkage(pack.welds, name))
    return (
        piece.id, piece.mark, *name, f"plate {mm_of_m(piece.thickness):g}", length, breadth,
        round(mass, 3), lift_words(mass), round(mm_of_m(float(at[0]))),
        round(mm_of_m(float(at[1]))), round(piece.cut_length, 3), len(piece.rings),
        piece.side.lower(), sheet, low, high,
    )  # fmt: skip


def _bar_row(bar: Bar) -> tuple[Cell, ...]:
    mass = bar.plate.mass(STEEL_DENSITY)
    known = bar.id, bar.mark, bar.part, bar.plate.id, bar.section, round(mm_of_m(bar.length), 1)
    lift = None, round(mass, 3), lift_words(mass)
    return (*known, *lift, *(None,) * 4, "", *(None,) * 3)


def _quantities(pack: CutPack) -> CsvTable:
    count = Counter(piece.mark for piece in pack.pieces)
    first = {piece.mark: piece for piece in reversed(pack.pieces)}
    return CsvTable.of(
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
        "of a pair, one is the other turned over",
    )  # fmt: skip


def service_name(pack: CutPack, mark: str) -> str:
    """Name of a mark's DXF file: mark, thickness, quantity, document, state."""
    own = [piece for piece in pack.pieces if piece.mark == mark]
    stamp = pack.stamp
    thick, state = f"{mm_of_m(own[0].thickness):g}mm", stamp.state.replace(" ", "-")
    return f"{mark}_{thick}_{len(own)}off_{stamp.document[:8]}_{state}.dxf"


def _purchase(pack: CutPack) -> CsvTable:
    return CsvTable.of(
        "material_mm buy leftovers bought_kg from_leftovers_kg used_kg left_over_kg scrap_kg "
        "used_percent price not_covered not_covered_kg",
        (tuple(row.model_dump().values()) for row in purchases(pack)),
        "bought and from leftovers = used + left over + scrap; what is not covered fits no "
        "listed stock and is extra",
        "sheets and bars are chosen by price; one without a price is taken at the mean of its "
        "kind, or all by mass if none has a price",
        f"left over: full-width strips of {mm_of_m(KEPT):.0f} mm and more, and bars longer "
        f"than {mm_of_m(REUSABLE):.0f} mm",
        f"area to paint, both sides: {paint_area(pack.steel):.1f} m²",
    )


def _bars(pack: CutPack) -> CsvTable:
    def rows() -> Iterator[tuple[Cell, ...]]:
        for section in pack.sections:
            lengths = {bar.id: round(mm_of_m(bar.length), 1) for bar in section.bars}
            for bar in bars_cut(section, pack.saw):
                sold = bar.length_mm
                for piece in bar.pieces:
                    yield section.section, bar.number, sold, piece, lengths[piece]
                yield section.section, bar.number, sold, "left", bar.left_mm

    notes = (words for section in pack.sections for words in _purchase_words(section))
    return CsvTable.of("section_mm bar bar_length_mm id length_mm", rows(), *notes)


def _purchase_words(section: SectionPlan) -> Iterator[str]:
    """What is bought of a section, whether less could do, what is too long."""
    if section.bars:
        yield f"{section.section}: {buy_words(section.account)}, {section.bound}"
    if section.not_placed:
        marks = ", ".join(bar.id for bar in section.not_placed)
        yield f"{section.section}: no bar in stock is long enough for {marks}"


def _seams(pack: CutPack) -> CsvTable:
    return CsvTable.of(
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
        "found where new plates touch, at points 5 mm apart: at corners of three plates some "
        "10 mm at each end may be missing; welds to the old hull are not included",
        "legs are 0.7 of the thinner plate, at least 3 mm (common practice, no source); a "
        "consultant decides them",
    )  # fmt: skip


def _consumables(pack: CutPack) -> CsvTable:
    length = sum(weld.length for weld in pack.welds)
    metal = sum(weld.metal for weld in pack.welds)
    low, high = consumable(metal, pack.process)
    return CsvTable.of(
        "process seams_m weld_metal_kg buy_from_kg buy_to_kg",
        (
            (
                pack.process,
                round(length, 2),
                round(metal, 2),
                round(low, 2),
                round(high, 2),
            ),
        ),
        "fillets with 15 % more than their triangle; seams to the old hull are extra",
    )


def _findings(pack: CutPack) -> CsvTable:
    return CsvTable.of(
        "severity place sentence", ((f.severity, f.place, f.sentence) for f in pack.findings)
    )
