"""The refit made ready for the cutter: pieces, marks, nests, bars, welds and what they cost."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from hullchange.assess.assessment import document_hash
from hullchange.boat.boat import Boat
from hullchange.boat.opening_fits import PartInOpening, openings_read
from hullchange.cutting.bars import SectionPlan, section_plans
from hullchange.cutting.blanks import Sheets, spliced, stock_sheets
from hullchange.cutting.comes_off import ComesOff, coming_off
from hullchange.cutting.nests import PlateNests, nested_plates
from hullchange.cutting.progress import CutListRow
from hullchange.errors import ModelError
from hullchange.findings import Finding, Severity, worst_first
from hullchange.geometry.seams import Contacts, Misfit, contacts_of
from hullchange.input_checks.overlaps import clashes
from hullchange.shop.layers import Layer
from hullchange.shop.marks import Marks, marks_of
from hullchange.shop.nest import Spacing
from hullchange.shop.nesting import Effort, ReportProgress
from hullchange.shop.piece import Bar, PlatePiece, Steel, steel_of
from hullchange.shop.recheck import feature_findings
from hullchange.shop.welds import Process, Weld, welds_of
from hullchange.units import m_of_mm, mm_of_m, span_in_mm

QUICK, GOOD = Effort(0.0), Effort(20.0)


@dataclass(frozen=True)
class PackStamp:
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
class CutPack:
    """A cut pack: everything to cut, as values.

    Attributes:
        stamp: on every file.
        steel: as modelled.
        pieces: as cut, those too large for the stock parted.
        stock: sheets and leftovers they are nested on.
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
        of_the_steel: findings that no nest and no bar changes.
    """

    stamp: PackStamp
    steel: Steel
    pieces: tuple[PlatePiece, ...]
    stock: Sheets
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
    opened: tuple[PartInOpening, ...]
    of_the_steel: tuple[Finding, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything that is bad or doubtful, worst first."""
        plates = (finding for row in self.plates for finding in row.findings)
        bars = (finding for plan in self.sections for finding in plan.findings)
        return worst_first([*self.of_the_steel, *plates, *bars])


def cut_pack(
    boat: Boat,
    effort: Effort,
    progress: ReportProgress = lambda _: None,
    revision: str = "working",
    state: str = "unsigned",
) -> CutPack:
    """Everything the cutter, the yard and the owner with a torch need.

    Args:
        boat: built.
        effort: what each thickness may take to nest.
        progress: called with words; raising in it stops the work.
        revision: its number where it is a kept one.
        state: how the review stands to it.

    Raises:
        ModelError: ``nothing-to-cut``, ``nest-fails-check``.
    """
    steel, contacts, comes_off = _to_cut(boat, progress)
    gaps = _misfitting(steel, contacts.misfits)
    cutting = boat.document.cutting
    spacing = Spacing(m_of_mm(cutting.gap_mm), m_of_mm(cutting.margin_mm))
    stock = stock_sheets(boat.document.stock.plates)
    pieces, splices, findings = spliced(steel, stock, spacing)
    stamp = PackStamp(boat.document.boat.name, document_hash(boat), revision, state)
    progress("marking the pieces")
    marks = {piece.id: marks_of(piece, steel, stamp.words) for piece in pieces}
    findings += [
        doubt for piece in pieces for doubt in feature_findings(piece, marks[piece.id])
    ]
    opened = openings_read(boat)
    doubts = [row.finding for row in comes_off if row.finding]
    doubts += [finding for row in opened for finding in row.findings]
    return CutPack(
        stamp,
        steel,
        pieces,
        stock,
        marks,
        nested_plates(pieces, stock, spacing, effort, progress),
        section_plans(steel.bars, boat.document.stock.bars, m_of_mm(cutting.saw_mm)),
        (*welds_of(steel), *splices),
        spacing,
        m_of_mm(cutting.saw_mm),
        cutting.roll_mm,
        cutting.process,
        cutting.layers,
        comes_off,
        opened,
        (*clashes(boat.parts), *gaps, *findings, *doubts),
    )


def nested_anew(
    pack: CutPack, effort: Effort, progress: ReportProgress = lambda _: None
) -> CutPack:
    """The same pieces, nested with another effort.

    Raises:
        ModelError: ``nest-fails-check``.
    """
    plates = nested_plates(pack.pieces, pack.stock, pack.spacing, effort, progress)
    return replace(pack, plates=plates)


def with_state(pack: CutPack, state: str) -> CutPack:
    """The same with another word on every file, sheet and piece for how the review stands."""
    if state == pack.stamp.state:
        return pack
    stamp = replace(pack.stamp, state=state)
    marks = {piece.id: marks_of(piece, pack.steel, stamp.words) for piece in pack.pieces}
    return replace(pack, stamp=stamp, marks=marks)


def cut_list_rows(boat: Boat) -> tuple[CutListRow, ...]:
    """Every piece and bar as a cut list has it, those too large for the stock parted.

    Raises:
        ModelError: ``nothing-to-cut``.
    """
    steel, _, _ = _to_cut(boat, lambda _: None)
    cutting = boat.document.cutting
    spacing = Spacing(m_of_mm(cutting.gap_mm), m_of_mm(cutting.margin_mm))
    pieces, _, _ = spliced(steel, stock_sheets(boat.document.stock.plates), spacing)
    rows: tuple[PlatePiece | Bar, ...] = (*pieces, *steel.bars)
    return tuple(CutListRow(boat.parts[r.part].change, r.part, r.id, r.shape) for r in rows)


def _to_cut(
    boat: Boat, progress: ReportProgress
) -> tuple[Steel, Contacts, tuple[ComesOff, ...]]:
    """Every new plate and bar, how they meet, and what comes off."""
    parts = {name: built.part.plates for name, built in boat.parts.items()}
    plates = [plate for row in parts.values() for plate in row]
    comes_off = coming_off(boat)
    if not plates and not comes_off:
        sentence = "There is nothing to cut: the refit adds no new part and removes nothing."
        raise ModelError("nothing-to-cut", sentence, "changes")
    progress("finding the seams")
    contacts = contacts_of(plates) if plates else Contacts((), ())
    return steel_of(parts, contacts.seams), contacts, comes_off


def _misfitting(steel: Steel, misfits: Iterable[Misfit]) -> Iterator[Finding]:
    """Edges that stand off what they should lie on; of twins only one is listed."""
    known = set()
    for gap in misfits:
        plates = [steel.plates[k] for k in (gap.first, gap.second)]
        parts = [steel.names[k][0] for k in (gap.first, gap.second)]
        pair = tuple((p, q.twin_of or q.id) for p, q in zip(parts, plates, strict=True))
        if pair in known:
            continue
        known.add(pair)
        one, other = (f"{p} {q.replace('-', ' ')}" for p, q in pair)
        touching = f" and touches over {mm_of_m(gap.touching):.0f} mm" if gap.touching else ""
        sentence = (
            f"An edge of {one} is {span_in_mm(*gap.gap)} away from {other} over "
            f"{mm_of_m(gap.off):.0f} mm{touching}: fit it, or change its dimensions."
        )
        yield Finding("edge-apart", Severity.WARN, ".".join(pair[0]), sentence)
