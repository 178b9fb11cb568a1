"""Files for other programs: the record, the scene, the ledger and the conditions."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal, get_args

import hullchange
from hullchange.answer.assessment import Assessment
from hullchange.assess.assessment import document_hash
from hullchange.boat.boat import Boat
from hullchange.errors import ModelError
from hullchange.geometry.plate import Plate
from hullchange.present.csv_table import csv_under
from hullchange.present.export import AXES, Origin, exported_tables, sidecar
from hullchange.present.scene import whole_scene
from hullchange.present.workbook import workbook
from hullchange_api.processes.cad_workers import Workers
from hullchange_api.review.reviews import ReviewDesk
from hullchange_api.review.sign_off import standing_of
from hullchange_api.review.status import signatures_of, standing_of_revision
from hullchange_api.store.working_copy import WorkingCopy
from hullchange_api.wire.review import RevisionCard

RecordName = Literal["record.step", "record.json"]
TableName = Literal["ledger.csv", "conditions.csv"]
ExportName = Literal[RecordName, "scene.glb", TableName, "tables.xlsx"]
NAMES: tuple[ExportName, ...] = get_args(ExportName)


@dataclass(frozen=True, eq=False)
class Exports:
    """The files of one plan of a refit, each made when it is asked for.

    Attributes:
        origin: what every file says of itself.
        boat: as drawn.
        answer: her whole assessment.
        workers: where solids and workbooks are made.
    """

    origin: Origin
    boat: Boat
    answer: Callable[[], Assessment]
    workers: Workers

    @property
    def names(self) -> tuple[ExportName, ...]:
        """Those there are: a document without new steel has no record."""
        records = get_args(RecordName)
        return tuple(name for name in NAMES if self.boat.parts or name not in records)

    def file(self, name: ExportName) -> bytes:
        """One file.

        Raises:
            ModelError: ``nothing-to-cut`` where there is no new steel; ``no-solid``,
                ``cad-ended``.
        """
        match name:
            case "record.step":
                return self.workers.run(_step, self._plates(), _head(self.origin))
            case "record.json":
                self._plates()
                solids = self.workers.solids_at_last(self.boat.parts)
                return sidecar(self.origin, self.boat, solids)
            case "scene.glb":
                return whole_scene(self.boat, self.origin.said)
            case "tables.xlsx":
                tables = exported_tables(self.answer())
                return self.workers.run(workbook, self.origin.heads, tables)
            case "ledger.csv" | "conditions.csv":
                table = exported_tables(self.answer())[name.removesuffix(".csv")]
                return csv_under(self.origin.heads, table).encode()

    def file_name(self, refit: str, name: ExportName) -> str:
        """What a browser is to call it: refit, plan, hash and how the review stands."""
        stem, ending = name.rsplit(".", 1)
        said = (refit, stem, self.origin.revision, self.origin.option)
        words = (*said, self.origin.document[:8], self.origin.state.replace(" ", "-"))
        return f"{'-'.join(word for word in words if word)}.{ending}"

    def _plates(self) -> dict[str, tuple[Plate, ...]]:
        if not self.boat.parts:
            sentence = "The document builds no new part, so there is no solid to write."
            raise ModelError("nothing-to-cut", sentence, "changes")
        return {name: built.part.plates for name, built in self.boat.parts.items()}


def exports_of(
    review: ReviewDesk, copy: WorkingCopy, number: int | None, option: str | None
) -> Exports:
    """The files of a revision, or of the working copy where no number is given.

    Raises:
        ModelError: ``unknown-revision``, ``unknown-option``.
    """
    refit, desk = copy.refit, review.desk
    if number is None:
        state = copy.state
        boat = desk.boat(copy, state, option)
        said = signatures_of(review, refit, state.document, hullchange.__version__)
        origin = origin_of(boat, option, state=standing_of(said).standing)
        return Exports(origin, boat, lambda: desk.assessed(copy, state, option), desk.workers)
    boat = review.boat(refit, number, option)
    standing = standing_of_revision(review, refit, number).standing
    card = review.revisions.card(refit, number)
    return Exports(
        origin_of(boat, option, card, standing),
        boat,
        lambda: review.results(refit, number, option),
        desk.workers,
    )


def origin_of(
    boat: Boat,
    option: str | None,
    card: RevisionCard | None = None,
    state: str = "unsigned",
) -> Origin:
    """What the files of a boat say of themselves.

    Args:
        boat: as drawn.
        option: the plan.
        card: of the revision; None for the working copy.
        state: how the review stands to it.
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
    said = tuple(f"{name}: {value}" for name, value in origin.heads)
    axes = f"millimetres; {AXES}"
    return {
        "name": "record.step",
        "made_at": origin.made_at,
        "tool": origin.tool,
        "said": (*said, axes),
    }


def _step(
    plates: Mapping[str, tuple[Plate, ...]], head: Mapping[str, str | tuple[str, ...]]
) -> bytes:
    """In the process that has the CAD kernel."""
    from hullchange.parts.step import StepHead, step_of

    return step_of(plates, StepHead(**head))  # type: ignore[arg-type]
