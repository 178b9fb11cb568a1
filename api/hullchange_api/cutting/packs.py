"""What the routes about cutting share: packs being made, their files, how far the steel is."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from io import BytesIO
from threading import Lock
from typing import NamedTuple
from zipfile import ZIP_DEFLATED, ZipFile

import hullchange
from hullchange.answer.cut_pack import CutAnswer
from hullchange.assess.assessment import document_hash
from hullchange.assess.signed_changes import what_changed
from hullchange.boat.boat import Boat
from hullchange.cutting.answer import cut_answer
from hullchange.cutting.lists import csv_of, cut_tables, workbook_of
from hullchange.cutting.pack import CutPack, PackStamp
from hullchange.cutting.placements import placements
from hullchange.cutting.progress import PieceSteps, Word, progress_of
from hullchange.document.document import Document
from hullchange.errors import ModelError
from hullchange.memo import Memo
from hullchange.shop.piece import Bar, PlatePiece
from hullchange_api.cutting.jobs import CutJob, Files, Order, files_of
from hullchange_api.review.reviews import ReviewDesk
from hullchange_api.review.sign_off import standing_of
from hullchange_api.review.status import signatures_of, standing_of_revision
from hullchange_api.store.cutting_records import Shop
from hullchange_api.wire.cutting import Cutting
from hullchange_api.wire.problems import problem_of
from hullchange_api.wire.review import WholeStanding

JOBS_KEPT = 6
WRITTEN_KEPT = 3


class Source(NamedTuple):
    """Whose steel: a refit, a revision (None: the working copy), a plan (None: the drawing)."""

    refit: str
    revision: int | None
    option: str | None


@dataclass(frozen=True)
class Begun:
    """A job, and what it was begun from: document as drawn, edit, parts by change."""

    job: CutJob
    base: Document
    edit: int | None
    sha256: str
    changes: dict[str, str]


class CuttingDesk:
    """One server's cut packs."""

    def __init__(self, review: ReviewDesk) -> None:
        """Nothing is started yet."""
        self.review = review
        self.shop = Shop(review.desk.shelf.database)
        self._begun: dict[Source, Begun] = {}
        self._answers = Memo(cut_answer, JOBS_KEPT)
        self._written = Memo(files_of, WRITTEN_KEPT)
        self._lock, self._gate, self._writing = Lock(), Lock(), Lock()

    def begin(self, source: Source) -> Cutting:
        """Start to make a pack; one of the same steel that is being made is ended.

        Raises:
            ModelError: what the document is refused for.
        """
        copy = self.review.desk.shelf.working(source.refit)
        state = copy.state
        boat = self._boat(source)
        base = state.document
        if source.revision is not None:
            base = self.review.document(source.refit, source.revision)
        kept = None
        if source.revision is not None:
            kept = self.shop.nests(source.refit, source.revision, source.option or "")
        said = self._standing(source, base).standing
        order = Order(boat.document, _named(source), said, kept)
        begun = Begun(
            CutJob(order, lambda pack: self._keep(source, pack)),
            base,
            state.edit if source.revision is None else None,
            document_hash(boat),
            {name: part.change for name, part in boat.parts.items()},
        )
        with self._lock:
            older = self._begun.pop(source, None)
            self._begun[source] = begun
            dropped = [self._begun.pop(s) for s in list(self._begun)[:-JOBS_KEPT]]
        for one in (older, *dropped):
            if one is not None:
                one.job.cancel()
        begun.job.start(self._gate)
        return self.status(source)

    def cancel(self, source: Source) -> Cutting:
        """End the making of a pack; nests that were found stay."""
        begun = self._begun.get(source)
        if begun is not None:
            begun.job.cancel()
        return self.status(source)

    def status(self, source: Source) -> Cutting:
        """How a pack is doing.

        Raises:
            ModelError: ``unknown-revision``, ``unknown-option``.
        """
        boat = self._boat(source)
        begun = self._begun.get(source)
        if begun is None:
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
                standing=self._standing_now(source),
                problem=None,
            )
        job = begun.job
        outdated = begun.sha256 != document_hash(boat) and bool(
            what_changed(job.order.document, boat.document)
        )
        return Cutting(
            refit=source.refit,
            revision=source.revision,
            option=source.option,
            state=job.state,
            nests=job.nests,
            said=job.said if job.state == "working" else "",
            edit=begun.edit,
            document_sha256=begun.sha256,
            is_outdated=outdated,
            sentence=_made_for(source, begun.edit, outdated),
            standing=self._standing(source, begun.base),
            problem=None if job.problem is None else problem_of(job.problem),
        )

    def answer(self, source: Source) -> CutAnswer:
        """Everything a page shows of a pack.

        Raises:
            ModelError: ``no-pack``.
        """
        begun, pack = self._made(source)
        return self._answers(pack, begun.changes)

    def list_of(self, source: Source, name: str) -> bytes:
        """One list of a pack as CSV, or all of them as a workbook.

        Raises:
            ModelError: ``no-pack``, ``no-file``.
        """
        _, pack = self._made(source)
        pack = replace(pack, stamp=self._stamp(source, pack))
        tables = cut_tables(pack, self.far(source))
        if name == "lists.xlsx":
            return workbook_of(pack, tables)
        table = tables.get(name.removesuffix(".csv"))
        if table is None or not name.endswith(".csv"):
            raise ModelError("unknown-file", f"There is no list called {name}.")
        return csv_of(pack, table).encode()

    def files(self, source: Source, r12: bool) -> tuple[PackStamp, Files]:
        """What the files carry as of now, and every file; a revision's nests stay from now on.

        Raises:
            ModelError: ``no-pack``, ``file-fails-check``, ``cut-ended``.
        """
        _, pack = self._made(source)
        self._require_kept(source, pack)
        stamp, far = self._stamp(source, pack), self.far(source)
        with self._writing:  # a page asks for the names and for the zip, both at once
            files = self._written(pack, stamp.state, r12, far)
        return stamp, files

    def far(self, source: Source) -> dict[str, PieceSteps]:
        """How far every piece of a pack is.

        Raises:
            ModelError: ``no-pack``.
        """
        return progress_of(self.shapes(source), self.shop.words(source.refit))

    def document(self, source: Source) -> Document:
        """The document of a working copy or a revision as it is now.

        Raises:
            ModelError: ``unknown-revision``, ``unknown-option``.
        """
        return self._boat(source).document

    def shapes(self, source: Source) -> dict[str, str]:
        """Sign of every piece's shape by its id.

        Raises:
            ModelError: ``no-pack``.
        """
        _, pack = self._made(source)
        rows: tuple[PlatePiece | Bar, ...] = (*pack.pieces, *pack.steel.bars)
        return {row.id: row.shape for row in rows}

    def say(self, source: Source, words: Iterable[Word], through: str) -> int:
        """Take words on the steel, and answer how many were new."""
        count = self.shop.say(source.refit, words, through)
        self.review.events.tell(source.refit, "shop", count=count)
        return count

    def close(self) -> None:
        """End what is being made."""
        with self._lock:
            for begun in self._begun.values():
                begun.job.cancel()

    def _made(self, source: Source) -> tuple[Begun, CutPack]:
        begun = self._begun.get(source)
        pack = None if begun is None else begun.job.pack
        if begun is None or pack is None:
            raise ModelError("no-pack", "No cut pack is made of this yet: start one first.")
        return begun, pack

    def _stamp(self, source: Source, pack: CutPack) -> PackStamp:
        """What a file made now carries."""
        status = self.status(source)
        state = "stale" if status.is_outdated else status.standing.standing
        return replace(pack.stamp, state=state)

    def _keep(self, source: Source, pack: CutPack) -> bool:
        if source.revision is None:
            return True
        text = placements(pack)
        return self.shop.keep(source.refit, source.revision, source.option or "", text)

    def _require_kept(self, source: Source, pack: CutPack) -> None:
        if not self._keep(source, pack):
            sentence = "Other nests are kept for this revision: start its pack again."
            raise ModelError("not-possible-now", sentence)

    def _boat(self, source: Source) -> Boat:
        if source.revision is not None:
            return self.review.boat(source.refit, source.revision, source.option)
        copy = self.review.desk.shelf.working(source.refit)
        return self.review.desk.boat(copy, copy.state, source.option)

    def _standing_now(self, source: Source) -> WholeStanding:
        copy = self.review.desk.shelf.working(source.refit)
        return self._standing(source, copy.state.document)

    def _standing(self, source: Source, base: Document) -> WholeStanding:
        if source.revision is not None:
            return standing_of_revision(self.review, source.refit, source.revision)
        said = signatures_of(self.review, source.refit, base, hullchange.__version__)
        return standing_of(said)


def zipped(files: Files) -> bytes:
    """Files as one zip."""
    stream = BytesIO()
    with ZipFile(stream, "w", ZIP_DEFLATED) as packed:
        for name, content in files.items():
            packed.writestr(name, content)
    return stream.getvalue()


def _named(source: Source) -> str:
    """What a file calls it."""
    revision = "working" if source.revision is None else str(source.revision)
    return revision if source.option is None else f"{revision} {source.option}"


def _made_for(source: Source, edit: int | None, outdated: bool) -> str:
    if source.revision is not None:
        return f"Made for revision {source.revision}."
    since = "; the boat has changed since: make it again" if outdated else ""
    return f"Made for edit {edit}{since}."
