"""The refit made ready for the cutter: pieces, marks, nests, bars, welds and what they cost."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity, worst_first
from hullchange.materials import STEEL_DENSITY
from hullchange.shop.bars import BarPlan, bar_plan
from hullchange.shop.marks import Marks, marks_of
from hullchange.shop.nest import ALONG, TURNS, Nest, Shape, Sheet, Spacing, fits
from hullchange.shop.nesting import Effort, Progress, nests_of
from hullchange.shop.picture import Layer
from hullchange.shop.piece import Bar, Piece, Steel, steel_of
from hullchange.shop.quantities import Bought, bought
from hullchange.shop.recheck import doubts_of
from hullchange.shop.seams import misfits_of, seams_of
from hullchange.shop.splice import parted, seam_length
from hullchange.shop.welds import Process, Weld, butt_weld, welds_of
from hullchange.study.assess import document_hash
from hullchange.study.boat import Boat
from hullchange.study.cutting_out import ComesOff, coming_off
from hullchange.study.opening_fits import Opened, openings_read
from hullchange.study.shop_progress import Row
from hullchange.study.stock import StockBar, StockPlate
from hullchange.units import m_of_mm, mm_of_m

TIGHT = 10.0
"""Thicknesses: a plate rolled tighter keeps to the rolling direction (common practice)."""

QUICK, GOOD = Effort(0.0), Effort(20.0)


@dataclass(frozen=True)
class Stamp:
    """What every file and label carries.

    Attributes:
        boat: her name.
        document: hash of the document it was made from.
        revision: of the refit, or ``working``.
        state: how the review stands to it, in words, such as ``unsigned``.
    """

    boat: str
    document: str
    revision: str
    state: str

    @property
    def words(self) -> str:
        """In one line, the hash by its first eight signs."""
        return f"{self.revision} {self.document[:8]} {self.state}".upper()


@dataclass(frozen=True, eq=False)
class PlateNests:
    """Everything cut from plate of one thickness [m]."""

    thickness: float
    nests: tuple[Nest, ...]
    shapes: Mapping[str, Shape]
    account: Bought


@dataclass(frozen=True, eq=False)
class SectionPlan:
    """Everything cut from bars of one section."""

    section: str
    bars: tuple[Bar, ...]
    plan: BarPlan
    price: float


@dataclass(frozen=True, eq=False)
class CutPack:
    """All of it, as values.

    Attributes:
        stamp: on every file.
        steel: as modelled.
        pieces: as cut, those too large for the stock parted.
        marks: by piece.
        plates: nests by thickness.
        sections: plans by section.
        welds: every seam.
        spacing: gap and margin of the nests.
        saw: what one cut of a bar takes [m].
        roll: width of the paper for templates [mm].
        process: of welding.
        layers: names of layers that differ.
        comes_off: what the changes take off, old plates among it.
        opened: parts that go into an opening, with what was read of it.
        findings: worst first.
    """

    stamp: Stamp
    steel: Steel
    pieces: tuple[Piece, ...]
    marks: Mapping[str, Marks]
    plates: tuple[PlateNests, ...]
    sections: tuple[SectionPlan, ...]
    welds: tuple[Weld, ...]
    spacing: Spacing
    saw: float
    roll: float
    process: Process
    layers: Mapping[Layer, str]
    comes_off: tuple[ComesOff, ...]
    opened: tuple[Opened, ...]
    findings: tuple[Finding, ...]


def cut_pack(
    boat: Boat,
    effort: Effort = GOOD,
    progress: Progress = lambda _: None,
    revision: str = "working",
    state: str = "unsigned",
) -> CutPack:
    """Everything the cutter, the yard and the owner with a torch need.

    Args:
        boat: built.
        effort: what each thickness may take to nest.
        progress: told in words; raising in it stops the work.
        revision: its number where it is a kept one.
        state: how the review stands to it.

    Raises:
        ModelError: ``nothing-to-cut``, ``nest-fails-check``.
    """
    steel, comes_off = _to_cut(boat, progress)
    gaps = _misfitting(steel)
    cutting = boat.document.cutting
    spacing = Spacing(m_of_mm(cutting.gap_mm), m_of_mm(cutting.margin_mm))
    stock = _sheets(boat.document.stock.plates)
    pieces, splices, findings = _spliced(steel, stock, spacing)
    stamp = Stamp(boat.document.boat.name, document_hash(boat), revision, state)
    progress("marks")
    marks = {piece.id: marks_of(piece, steel, stamp.words) for piece in pieces}
    findings += [doubt for piece in pieces for doubt in doubts_of(piece, marks[piece.id])]
    nested, more = _nested(pieces, stock, spacing, effort, progress)
    planned, doubts = _planned(steel.bars, boat.document.stock.bars, m_of_mm(cutting.saw_mm))
    opened = openings_read(boat)
    doubts += [row.finding for row in comes_off if row.finding]
    doubts += [said for row in opened for said in row.findings]
    return CutPack(
        stamp,
        steel,
        pieces,
        marks,
        nested,
        planned,
        (*welds_of(steel), *splices),
        spacing,
        m_of_mm(cutting.saw_mm),
        cutting.roll_mm,
        cutting.process,
        cutting.layers,
        comes_off,
        opened,
        worst_first([*gaps, *findings, *more, *doubts]),
    )


def nested_anew(
    pack: CutPack, boat: Boat, effort: Effort, progress: Progress = lambda _: None
) -> CutPack:
    """The same pieces, nested with another effort.

    Raises:
        ModelError: ``nest-fails-check``.
    """
    stock = _sheets(boat.document.stock.plates)
    nested, _ = _nested(pack.pieces, stock, pack.spacing, effort, progress)
    return replace(pack, plates=nested)


def stamped(pack: CutPack, state: str) -> CutPack:
    """The same with another word on every file, sheet and piece for how the review stands."""
    if state == pack.stamp.state:
        return pack
    stamp = replace(pack.stamp, state=state)
    marks = {piece.id: marks_of(piece, pack.steel, stamp.words) for piece in pack.pieces}
    return replace(pack, stamp=stamp, marks=marks)


def rows_to_cut(boat: Boat) -> tuple[Row, ...]:
    """Every piece and bar as a cut list has it, those too large for the stock parted.

    Raises:
        ModelError: ``nothing-to-cut``.
    """
    steel, _ = _to_cut(boat, lambda _: None)
    cutting = boat.document.cutting
    spacing = Spacing(m_of_mm(cutting.gap_mm), m_of_mm(cutting.margin_mm))
    pieces, _, _ = _spliced(steel, _sheets(boat.document.stock.plates), spacing)
    rows: tuple[Piece | Bar, ...] = (*pieces, *steel.bars)
    return tuple(Row(boat.parts[r.part].change, r.part, r.id, r.shape) for r in rows)


def _to_cut(boat: Boat, progress: Progress) -> tuple[Steel, tuple[ComesOff, ...]]:
    """Every new plate and bar with the seams between them, and what comes off."""
    parts = {name: built.part.plates for name, built in boat.parts.items()}
    plates = [plate for row in parts.values() for plate in row]
    comes_off = coming_off(boat)
    if not plates and not comes_off:
        sentence = (
            "The document builds no new part and takes nothing off: there is nothing to cut."
        )
        raise ModelError("nothing-to-cut", sentence, "changes")
    if not plates:
        return steel_of({}, ()), comes_off
    progress("seams")
    return steel_of(parts, seams_of(plates)), comes_off


def _misfitting(steel: Steel) -> list[Finding]:
    """Edges that touch a plate over a part of their run."""
    findings = []
    for gap in misfits_of(steel.plates):
        one, other = (".".join(steel.names[k]) for k in (gap.first, gap.second))
        sentence = (
            f"An edge of {one} touches {other} over {mm_of_m(gap.touching):.0f} mm and stands "
            f"off by up to {mm_of_m(gap.gap):.1f} mm over {mm_of_m(gap.off):.0f} mm: fit it, "
            "or change its dimensions."
        )
        findings.append(Finding("partial-contact", Severity.WARN, one, sentence))
    return findings


def _sheets(stock: Mapping[str, StockPlate]) -> dict[float, list[Sheet]]:
    """Sheets and leftovers by thickness [mm]."""
    sheets = defaultdict(list)
    for name, item in stock.items():
        for length, breadth in item.sizes_m:
            corners = np.array([[0, 0], [length, 0], [length, breadth], [0, breadth]], float)
            mass = length * breadth * m_of_mm(item.thickness_mm) * STEEL_DENSITY
            price = (item.price or 0.0) * mass
            sheets[item.thickness_mm].append(Sheet(name, corners, price))
        for number, loop in enumerate(item.leftovers_m, 1):
            outline = np.array(loop) - np.min(loop, axis=0)
            left = Sheet(f"{name} leftover {number}", outline, leftover=True)
            sheets[item.thickness_mm].append(left)
    return dict(sheets)


def _spliced(
    steel: Steel, stock: Mapping[float, list[Sheet]], spacing: Spacing
) -> tuple[tuple[Piece, ...], list[Weld], list[Finding]]:
    """Pieces as they go on the stock, the seams that takes, and what is said about it."""
    pieces: list[Piece] = []
    welds: list[Weld] = []
    findings: list[Finding] = []
    for piece in steel.pieces:
        sheets = [s for s in stock.get(_mm(piece.thickness), []) if not s.leftover]

        def goes(one: Piece, sheets: list[Sheet] = sheets) -> bool:
            return any(fits(shape_of(one), sheet, spacing) for sheet in sheets)

        place = f"{piece.part}.{piece.plate.id}"
        if not sheets or goes(piece):
            pieces.append(piece)
            continue
        halves = parted(piece, goes)
        size = " x ".join(f"{side:.2f}" for side in piece.size)
        if halves is None:
            sentence = f"{piece.id} is {size} m and no sheet in stock takes it, nor two halves."
            findings.append(Finding("larger-than-stock", Severity.WARN, place, sentence))
            pieces.append(piece)
            continue
        length = seam_length(halves, piece)
        sentence = (
            f"{piece.id} is {size} m and no sheet in stock takes it: drawn in two, with a butt "
            f"of {length:.2f} m between them. List a larger sheet to have it whole."
        )
        findings.append(Finding("spliced", Severity.WARN, place, sentence))
        welds.append(butt_weld((piece.part, piece.plate.id), length, piece.thickness))
        pieces += halves
    return tuple(pieces), welds, findings


def shape_of(piece: Piece) -> Shape:
    """What is nested of a piece; rolled tightly it keeps to the rolling direction."""
    tight = piece.bend_radius < TIGHT * piece.thickness
    return Shape(piece.id, piece.region, ALONG if tight else TURNS)


def _mm(thickness: float) -> float:
    return round(mm_of_m(thickness), 3)


def _nested(
    pieces: tuple[Piece, ...],
    stock: Mapping[float, list[Sheet]],
    spacing: Spacing,
    effort: Effort,
    progress: Progress,
) -> tuple[tuple[PlateNests, ...], list[Finding]]:
    """Nests of every thickness for which there is stock."""
    rows: list[PlateNests] = []
    findings: list[Finding] = []
    for mm in sorted({_mm(piece.thickness) for piece in pieces}):
        if mm not in stock:
            sentence = (
                f"No plate of {mm:g} mm is in stock, so its pieces are not nested: list its "
                "sizes under stock.plates."
            )
            findings.append(Finding("no-stock", Severity.WARN, "stock.plates", sentence))
            continue
        shapes = [shape_of(piece) for piece in pieces if _mm(piece.thickness) == mm]

        def told(words: str, mm: float = mm) -> None:
            progress(f"{mm:g} mm, {words}")

        nests, left_out = nests_of(shapes, stock[mm], spacing, effort, told)
        placed = {s.id: s for s in shapes if s not in left_out}
        account = bought(m_of_mm(mm), nests, placed, spacing)
        rows.append(PlateNests(m_of_mm(mm), nests, placed, account))
    return tuple(rows), findings


def _planned(
    bars: tuple[Bar, ...], stock: Mapping[str, StockBar], saw: float
) -> tuple[tuple[SectionPlan, ...], list[Finding]]:
    """Plans of every section for which there is stock long enough."""
    known = {_section(item): item for item in stock.values()}
    rows: list[SectionPlan] = []
    findings: list[Finding] = []
    for section in sorted({bar.section for bar in bars}):
        own = tuple(bar for bar in bars if bar.section == section)
        item = known.get(section)
        longest = max(bar.length for bar in own)
        if item is None or longest > item.length_m:
            sentence = (
                f"No {section} mm of {longest:.2f} m is in stock: list it under stock.bars."
            )
            findings.append(Finding("no-stock", Severity.WARN, "stock.bars", sentence))
            continue
        plan = bar_plan([bar.length for bar in own], item.length_m, saw)
        volume = sum(bar.plate.volume for bar in own) / sum(bar.length for bar in own)
        mass = volume * STEEL_DENSITY * item.length_m * len(plan.cuts)
        rows.append(SectionPlan(section, own, plan, (item.price or 0.0) * mass))
    return tuple(rows), findings


def _section(item: StockBar) -> str:
    kind, sizes = ("flat", item.flat_mm) if item.flat_mm else ("tube", item.tube_mm)
    assert sizes is not None
    return f"{kind} {sizes[0]:g} x {sizes[1]:g}"
