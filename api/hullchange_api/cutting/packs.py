"""The cut packs of a server: jobs, files, progress in the shop."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from io import BytesIO
from threading import Lock
from typing import NamedTuple
from zipfile import ZIP_DEFLATED, ZipFile

import hullchange
from hullchange.answer.cut_pack import CutAnswer
from hullchange.assess.assessment import document_hash
from hullchange.boat.boat import Boat
from hullchange.cache import Cache
from hullchange.comparison.signed_changes import what_changed
from hullchange.cutting.answer import cut_answer
from hullchange.cutting.lists import csv_of, cut_tables, workbook_of
from hullchange.cutting.pack import CutPack, PackStamp
from hullchange.cutting.placements import placements
from hullchange.cutting.progress import PieceSteps, StepRecord, piece_steps
from hullchange.document.document import Document
from hullchange.errors import ModelError
from hullchange.shop.piece import Bar, PlatePiece
from hullchange_api.cutting.jobs import CutJob, Files, PackOrder, files_of
from hullchange_api.review.reviews import Reviews
from hullchange_api.review.sign_off import review_status
from hullchange_api.review.status import signatures_of, status_of_revision
from hullchange_api.store.cutting_records import CuttingRecords
from hullchange_api.wire.cutting import Cutting
from hullchange_api.wire.problems import problem_of
from hullchange_api.wire.review import ReviewStatus

JOBS_KEPT = 6
FILES_KEPT = 3


class Source(NamedTuple):
    """A refit, a revision (None: the working copy), an option (None: the base design)."""

    refit: str
    revision: int | None
    option: str | None


@dataclass(frozen=True)
class StartedJob:
    """A job, and what it was started from: base document, edit, hash, change of each part."""

    job: CutJob
    base: Document
    edit: int | None
    sha256: str
    changes: dict[str, str]


class CutPacks:
    """The cut packs of one server."""

    def __init__(self, reviews: Reviews) -> None:
        """Start nothing yet."""
        self.reviews = reviews
        self.records = CuttingRecords(reviews.copies.refits.database)
        self._started: dict[Source, StartedJob] = {}
        self._answers = Cache(cut_answer, JOBS_KEPT)
        self._files = Cache(files_of, FILES_KEPT)
        self._lock, self._one_job, self._writing = Lock(), Lock(), Lock()

    def begin(self, source: Source) -> Cutting:
        """Start making a pack; an earlier job for the same source is cancelled.

        Raises:
            ModelError: whatever the document is refused for.
        """
        copy = self.reviews.copies.refits.working_copy(source.refit)
        state = copy.state
        boat = self._boat(source)
        base = state.document
        if source.revision is not None:
            base = self.reviews.document(source.refit, source.revision)
        placements = None
        if source.revision is not None:
            placements = self.records.nests(source.refit, source.revision, source.option or "")
        status = self._review_status(source, base).standing
        order = PackOrder(boat.document, _name_of(source), status, placements)
        started = StartedJob(
            CutJob(order, lambda pack: self._store(source, pack)),
            base,
            state.edit if source.revision is None else None,
            document_hash(boat),
            {name: part.change for name, part in boat.parts.items()},
        )
        with self._lock:
            older = self._started.pop(source, None)
            self._started[source] = started
            dropped = [self._started.pop(s) for s in list(self._started)[:-JOBS_KEPT]]
        for one in (older, *dropped):
            if one is not None:
                one.job.cancel()
        started.job.start(self._one_job)
        return self.status(source)

    def cancel(self, source: Source) -> Cutting:
        """Cancel a job; nests found so far stay."""
        started = self._started.get(source)
        if started is not None:
            started.job.cancel()
        return self.status(source)

    def status(self, source: Source) -> Cutting:
        """The state of a pack.

        Raises:
            ModelError: ``unknown-revision``, ``unknown-option``.
        """
        boat = self._boat(source)
        started = self._started.get(source)
        if started is None:
            return Cutting(
                refit=source.refit,
                revision=source.revision,
                option=source.option,
                state="none",
                nests="none",
                said="",
                edit=None,
                document_sha256=None,
                is_outdated=False,
                sentence="No cut pack is made yet.",
                standing=self._status_now(source),
                problem=None,
            )
        job = started.job
        outdated = started.sha256 != document_hash(boat) and bool(
            what_changed(job.order.document, boat.document)
        )
        return Cutting(
            refit=source.refit,
            revision=source.revision,
            option=source.option,
            state=job.state,
            nests=job.nests,
            said=job.progress if job.state == "working" else "",
            edit=started.edit,
            document_sha256=started.sha256,
            is_outdated=outdated,
            sentence=_made_for(source, started.edit, outdated),
            standing=self._review_status(source, started.base),
            problem=None if job.problem is None else problem_of(job.problem),
        )

    def answer(self, source: Source) -> CutAnswer:
        """Everything a page shows of a pack.

        Raises:
            ModelError: ``no-pack``.
        """
        started, pack = self._pack(source)
        return self._answers(pack, started.changes)

    def list_of(self, source: Source, name: str) -> bytes:
        """One list of a pack as CSV, or all of them as a workbook.

        Raises:
            ModelError: ``no-pack``, ``no-file``.
        """
        _, pack = self._pack(source)
        pack = replace(pack, stamp=self._stamp(source, pack))
        tables = cut_tables(pack, self.progress(source))
        if name == "lists.xlsx":
            return workbook_of(pack, tables)
        table = tables.get(name.removesuffix(".csv"))
        if table is None or not name.endswith(".csv"):
            raise ModelError("unknown-file", f"There is no list {name}.")
        return csv_of(pack, table).encode()

    def files(self, source: Source, r12: bool) -> tuple[PackStamp, Files]:
        """The stamp of the files, and every file; this fixes the nests of a revision.

        Raises:
            ModelError: ``no-pack``, ``file-fails-check``, ``cut-ended``.
        """
        _, pack = self._pack(source)
        self._require_stored(source, pack)
        stamp, progress = self._stamp(source, pack), self.progress(source)
        with self._writing:  # a page requests the file names and the zip at the same time
            files = self._files(pack, stamp.state, r12, progress)
        return stamp, files

    def progress(self, source: Source) -> dict[str, PieceSteps]:
        """The progress of every piece of a pack.

        Raises:
            ModelError: ``no-pack``.
        """
        return piece_steps(self.shapes(source), self.records.step_records(source.refit))

    def document(self, source: Source) -> Document:
        """The document of a working copy as it is now, or of a revision.

        Raises:
            ModelError: ``unknown-revision``, ``unknown-option``.
        """
        return self._boat(source).document

    def shapes(self, source: Source) -> dict[str, str]:
        """A digest of each piece's shape, by its id.

        Raises:
            ModelError: ``no-pack``.
        """
        _, pack = self._pack(source)
        rows: tuple[PlatePiece | Bar, ...] = (*pack.pieces, *pack.steel.bars)
        return {row.id: row.shape for row in rows}

    def add_records(self, source: Source, records: Iterable[StepRecord], through: str) -> int:
        """The number of new records, after storing them."""
        count = self.records.add(source.refit, records, through)
        self.reviews.events.publish(source.refit, "shop", count=count)
        return count

    def close(self) -> None:
        """Cancel every job."""
        with self._lock:
            for started in self._started.values():
                started.job.cancel()

    def _pack(self, source: Source) -> tuple[StartedJob, CutPack]:
        started = self._started.get(source)
        pack = None if started is None else started.job.pack
        if started is None or pack is None:
            raise ModelError("no-pack", "There is no cut pack of this yet: start one first.")
        return started, pack

    def _stamp(self, source: Source, pack: CutPack) -> PackStamp:
        """The stamp of a file made now."""
        status = self.status(source)
        state = "stale" if status.is_outdated else status.standing.standing
        return replace(pack.stamp, state=state)

    def _store(self, source: Source, pack: CutPack) -> bool:
        if source.revision is None:
            return True
        text = placements(pack)
        return self.records.store_nests(
            source.refit, source.revision, source.option or "", text
        )

    def _require_stored(self, source: Source, pack: CutPack) -> None:
        if not self._store(source, pack):
            sentence = "This revision has other saved nests: start its pack again."
            raise ModelError("not-possible-now", sentence)

    def _boat(self, source: Source) -> Boat:
        if source.revision is not None:
            return self.reviews.boat(source.refit, source.revision, source.option)
        copy = self.reviews.copies.refits.working_copy(source.refit)
        return self.reviews.copies.boat(copy, copy.state, source.option)

    def _status_now(self, source: Source) -> ReviewStatus:
        copy = self.reviews.copies.refits.working_copy(source.refit)
        return self._review_status(source, copy.state.document)

    def _review_status(self, source: Source, base: Document) -> ReviewStatus:
        if source.revision is not None:
            return status_of_revision(self.reviews, source.refit, source.revision)
        signatures = signatures_of(self.reviews, source.refit, base, hullchange.__version__)
        return review_status(signatures)


def zipped(files: Files) -> bytes:
    """Files as one zip."""
    stream = BytesIO()
    with ZipFile(stream, "w", ZIP_DEFLATED) as packed:
        for name, content in files.items():
            packed.writestr(name, content)
    return stream.getvalue()


def _name_of(source: Source) -> str:
    """The name of a source in its files."""
    revision = "working" if source.revision is None else str(source.revision)
    return revision if source.option is None else f"{revision} {source.option}"


def _made_for(source: Source, edit: int | None, outdated: bool) -> str:
    if source.revision is not None:
        return f"Made for revision {source.revision}."
    since = "; the boat has changed since: make it again" if outdated else ""
    return f"Made for edit {edit}{since}."
