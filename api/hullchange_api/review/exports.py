"""Files for other programs: record, scene, lines plan, ledger and conditions."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal, get_args

import hullchange
from hullchange.answer.assessment import Assessment
from hullchange.assess.assessment import document_hash
from hullchange.boat.boat import Boat
from hullchange.errors import ModelError
from hullchange.geometry.plate import Plate
from hullchange.lines_plan.export import PlanFile, plan_file
from hullchange.present.check_tables import levers_in_full
from hullchange.present.csv_table import CsvTable, csv_under
from hullchange.present.export import AXES, Origin, exported_tables, lines_table, sidecar
from hullchange.present.picture import picture_in
from hullchange.present.scene import whole_scene
from hullchange.present.titles import titled
from hullchange.present.workbook import workbook
from hullchange.present.writing import PLAIN, Writing
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.review.reviews import Reviews
from hullchange_api.review.sign_off import review_status
from hullchange_api.review.status import signatures_of, status_of_revision
from hullchange_api.store.working_copy import WorkingCopy
from hullchange_api.wire.review import RevisionCard

RecordName = Literal["record.step", "record.json"]
TableName = Literal["ledger.csv", "conditions.csv", "levers.csv", "lines.csv"]
ExportName = Literal[RecordName, "scene.glb", TableName, "tables.xlsx", PlanFile]
NAMES: tuple[ExportName, ...] = get_args(ExportName)


@dataclass(frozen=True, eq=False)
class Exports:
    """The files of one option of a refit, each made on request.

    Attributes:
        origin: of the files, as stated in each.
        boat: with the option applied.
        answer: returns its full assessment.
        cad: makes solids and workbooks.
    """

    origin: Origin
    boat: Boat
    answer: Callable[[], Assessment]
    cad: CadWorker

    @property
    def names(self) -> tuple[ExportName, ...]:
        """Names of the files; without new steel there is no CAD record."""
        records = get_args(RecordName)
        return tuple(name for name in NAMES if self.boat.parts or name not in records)

    def file(
        self, name: ExportName, condition: str | None = None, writing: Writing = PLAIN
    ) -> bytes:
        """One file.

        Args:
            name: of the file.
            condition: whose levers; None for all conditions.
            writing: units of the tables, and their decimal sign.

        Raises:
            ModelError: ``nothing-to-cut`` if there is no new steel; ``no-solid``,
                ``cad-ended``; ``unknown-condition``.
        """
        match name:
            case "record.step":
                return self.cad.run(_step, self._plates(), _head(self.origin))
            case "record.json":
                self._plates()
                solids = self.cad.wait_for_solids(self.boat.parts)
                return sidecar(self.origin, self.boat, solids)
            case "scene.glb":
                return whole_scene(self.boat, self.origin.fields)
            case "tables.xlsx":
                named = exported_tables(self.answer()).items()
                titles = self.boat.document.titles
                tables = {title: writing.table(titled(table, titles)) for title, table in named}
                return self.cad.run(workbook, writing.heads(self.origin.heads), tables)
            case "lines-plan.pdf" | "lines-plan.svg" | "lines-plan.dxf" | "offsets.csv":
                return plan_file(name, self.boat, self.origin, writing)
            case _:
                named_rows = titled(self._table(name, condition), self.boat.document.titles)
                table = writing.table(named_rows)
                heads = writing.heads(self.origin.heads)
                return csv_under(heads, table, writing.separator).encode()

    def picture(self, condition: str | None) -> bytes:
        """A still picture (PNG), afloat in a condition; None for the reference condition.

        Raises:
            ModelError: ``unknown-condition``.
        """
        self._require(condition)
        answer = self.answer()
        return picture_in(self.boat, answer.floats, condition or answer.reference_condition)

    def file_name(self, refit: str, name: ExportName, condition: str | None) -> str:
        """The name for a browser to save: refit, option, hash and review status."""
        stem, ending = name.rsplit(".", 1)
        source = (refit, condition or "", stem, self.origin.revision, self.origin.option)
        words = (*source, self.origin.document[:8], self.origin.state.replace(" ", "-"))
        return f"{'-'.join(word for word in words if word)}.{ending}"

    def _table(self, name: TableName, condition: str | None) -> CsvTable:
        match name:
            case "levers.csv":
                return self._levers(condition)
            case "lines.csv":
                return lines_table(self.boat)
            case "ledger.csv" | "conditions.csv":
                return exported_tables(self.answer())[name.removesuffix(".csv")]

    def _levers(self, condition: str | None) -> CsvTable:
        self._require(condition)
        floats = self.answer().floats
        return levers_in_full(row for row in floats if condition in (None, row.id))

    def _require(self, condition: str | None) -> None:
        if condition is not None and condition not in self.boat.document.conditions:
            sentence = f"There is no condition {condition}."
            raise ModelError("unknown-condition", sentence, "condition")

    def _plates(self) -> dict[str, tuple[Plate, ...]]:
        if not self.boat.parts:
            sentence = "The refit adds no new part, so there is no solid to write."
            raise ModelError("nothing-to-cut", sentence, "changes")
        return {name: built.part.plates for name, built in self.boat.parts.items()}


def exports_of(
    reviews: Reviews, copy: WorkingCopy, number: int | None, option: str | None
) -> Exports:
    """The files of a revision, or of the working copy if no number is given.

    Raises:
        ModelError: ``unknown-revision``, ``unknown-option``.
    """
    refit, copies = copy.refit, reviews.copies
    if number is None:
        state = copy.state
        boat = copies.boat(copy, state, option)
        signatures = signatures_of(reviews, refit, state.document, hullchange.__version__)
        origin = origin_of(boat, option, state=review_status(signatures).standing)
        return Exports(origin, boat, lambda: copies.assessed(copy, state, option), copies.cad)
    boat = reviews.boat(refit, number, option)
    status = status_of_revision(reviews, refit, number).standing
    card = reviews.revisions.card(refit, number)
    return Exports(
        origin_of(boat, option, card, state=status),
        boat,
        lambda: reviews.results(refit, number, option),
        copies.cad,
    )


def origin_of(
    boat: Boat, option: str | None, card: RevisionCard | None = None, *, state: str
) -> Origin:
    """The origin of a boat's files, as stated in each.

    Args:
        boat: with the option applied.
        option: name of the option; None for the base design.
        card: of the revision; None for the working copy.
        state: the review status.
    """
    tool = hullchange.__version__ if card is None else card.tool
    return Origin(
        boat=boat.document.boat.name,
        document=document_hash(boat),
        option=option or "",
        revision="working" if card is None else str(card.number),
        revision_sha256="" if card is None else card.sha256,
        made_at="" if card is None else card.made_at,
        state=state,
        tool=f"hullchange {tool}",
    )


def _head(origin: Origin) -> Mapping[str, str | tuple[str, ...]]:
    lines = tuple(f"{name}: {value}" for name, value in origin.heads)
    axes = f"millimetres; {AXES}"
    return {
        "name": "record.step",
        "made_at": origin.made_at,
        "tool": origin.tool,
        "description": (*lines, axes),
    }


def _step(
    plates: Mapping[str, tuple[Plate, ...]], head: Mapping[str, str | tuple[str, ...]]
) -> bytes:
    """The STEP file; run in the CAD process."""
    from hullchange.cad.step import StepHead, step_of

    return step_of(plates, StepHead(**head))  # type: ignore[arg-type]
