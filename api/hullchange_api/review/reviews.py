"""The reviews of a server: revisions, comments, signatures, links, attachments."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from pydantic import ValidationError

import hullchange
from hullchange.answer.assessment import Assessment
from hullchange.assess.assessment import assessment, document_hash
from hullchange.assess.held import held_in, held_where
from hullchange.boat.boat import Boat, boat_of
from hullchange.boat.cad_record import record_result
from hullchange.boat.profile import profile_of
from hullchange.cache import Cache
from hullchange.comparison.comparison import Comparison, compared
from hullchange.comparison.older_answers import completed, is_complete
from hullchange.document import reading
from hullchange.document.document import Document
from hullchange.document.lines_file import lines_file
from hullchange.document.matching import PlainDocument
from hullchange.document.options import with_option
from hullchange.document.yaml_text import parsed
from hullchange.errors import ModelError
from hullchange.explain.explain import explanation
from hullchange.explain.record import Explanation
from hullchange.present.scene import ScenePiece, scene_pieces
from hullchange_api.store.attachments import Attachments
from hullchange_api.store.review_records import ReviewRecords
from hullchange_api.store.revisions import DOCUMENT, RESULTS, Revisions
from hullchange_api.store.share_links import ShareLinks
from hullchange_api.store.working_copy import RefitState, WorkingCopy
from hullchange_api.wire.review import Compared, Frozen, ReviewStatus, RevisionCard
from hullchange_api.wire.working_copy import ScenePart
from hullchange_api.working_copy.events import Events
from hullchange_api.working_copy.working_copies import View, WorkingCopies


@dataclass(frozen=True, eq=False)
class _Frozen:
    """A revision to read; what is built from it is cached by its hash."""

    card: RevisionCard
    files: Callable[[], dict[str, bytes]]

    @property
    def key(self) -> str:
        """Hash over the tool's version and every file."""
        return self.card.sha256


class Reviews:
    """The reviews of every refit of one server."""

    def __init__(self, copies: WorkingCopies) -> None:
        """Load nothing yet."""
        database = copies.refits.database
        self.copies = copies
        self.events = Events()
        self.revisions = Revisions(database)
        self.records = ReviewRecords(database)
        self.share_links = ShareLinks(database)
        self.attachments = Attachments(database)
        self._boat = Cache(_boat, 8)
        self._results = Cache(_results, 16)
        copies.refits.on_change = lambda refit, edit: self.events.publish(
            refit, "edit", edit=edit
        )
        copies.refits.on_save = lambda refit, edit: self.events.publish(
            refit, "saved", edit=edit
        )
        copies.refits.on_file_trouble = lambda refit: self.events.publish(refit, "file")

    def freeze(
        self,
        copy: WorkingCopy,
        expected: int,
        note: str,
        still_wanted: Callable[[], None] = lambda: None,
    ) -> RevisionCard:
        """A new revision of the working copy, each option assessed with the CAD record.

        Args:
            copy: to be frozen.
            expected: edit it is at.
            note: what the revision is for.
            still_wanted: refuses once nobody waits for it any more.

        Raises:
            ModelError: ``overtaken``; ``stopped``; ``not-saved``; whatever the document is
                refused for.
        """
        state, text = copy.for_freezing(expected)
        files = {DOCUMENT: text.encode()}
        name = lines_file(state.plain)
        if name is not None:
            files[f"lines/{name}"] = (copy.file.parent / name).read_bytes()
        for option in (None, *state.document.options):
            files[_results_name(option)] = self._results_json(copy, state, option)
            still_wanted()
        boat = self.copies.boat(copy, state, None)
        about: dict[str, str | int] = {
            "edit": state.edit,
            "note": note,
            "tool": hullchange.__version__,
            "document_sha256": document_hash(boat),
        }
        card = self.revisions.freeze(copy.refit, about, files)
        self.events.publish(copy.refit, "revision", number=card.number)
        return card

    def document(self, refit: str, number: int) -> Document:
        """The document of a revision.

        Raises:
            ModelError: ``unknown-revision``.
        """
        return self.boat(refit, number, None).document

    def plain(self, refit: str, number: int) -> PlainDocument:
        """The document of a revision as written.

        Raises:
            ModelError: ``unknown-revision``.
        """
        return _plain(self.revisions.files(refit, number))

    def boat(self, refit: str, number: int, option: str | None) -> Boat:
        """The boat of a revision, built by the present version."""
        return self._boat(self._frozen(refit, number), option)

    def results(self, refit: str, number: int, option: str | None) -> Assessment:
        """The assessment of a revision as it was frozen.

        Raises:
            ModelError: ``unknown-revision``, ``unknown-option``, ``results-unreadable``.
        """
        return self._results(self._frozen(refit, number), option)

    def explanation(
        self, refit: str, number: int, option: str | None, path: str
    ) -> Explanation:
        """How a figure of a revision as it was frozen is derived.

        Raises:
            ModelError: ``unknown-path``, ``no-value``; ``unknown-revision``,
                ``unknown-option``.
        """
        boat = self.boat(refit, number, option)
        answer = held_where(self.results(refit, number, option), boat, path)
        return explanation(answer, boat.document, path)

    def frozen(self, refit: str, number: int, view: View, status: ReviewStatus) -> Frozen:
        """A revision as a page shows it.

        Args:
            refit: its id.
            number: of the revision.
            view: what the page shows.
            status: its review status.

        Raises:
            ModelError: ``unknown-revision``, ``unknown-option``, ``unknown-condition``.
        """
        answer = self.results(refit, number, view.option)
        boat = self.boat(refit, number, view.option)
        chosen = view.condition or answer.reference_condition
        if chosen not in {row.id for row in answer.conditions}:
            sentence = f"There is no condition {chosen}."
            raise ModelError("unknown-condition", sentence, "condition")
        return Frozen(
            refit=refit,
            revision=self.revisions.card(refit, number),
            standing=status,
            document=with_option(self.plain(refit, number), view.option),
            options=tuple(boat.document.options),
            option=view.option,
            condition=chosen,
            assessment=held_in(answer, boat, chosen),
            profile=profile_of(boat, answer.lcf_in(chosen)),
            scene=self._scene(refit, number, view.option),
            drawn_by=hullchange.__version__,
        )

    def since(
        self, copy: WorkingCopy, before: int, after: int | None, option: str | None
    ) -> Compared:
        """The differences between a revision and a later one, or the working copy.

        Raises:
            ModelError: ``unknown-revision``, ``unknown-option``; whatever the model refuses.
        """
        old, scene_before = self._side(copy.refit, before, option)
        if after is None:
            state = copy.state
            answer = self.copies.answer(copy, View(None, option), full=True)
            new = ("the working copy", state.document, answer.assessment)
            scene_after = answer.scene
        else:
            new, scene_after = self._side(copy.refit, after, option)
        return Compared(
            comparison=compared(old, new), scene_before=scene_before, scene_after=scene_after
        )

    def compared(self, refit: str, before: int, after: int, option: str | None) -> Comparison:
        """The differences between an earlier revision and a later one.

        Raises:
            ModelError: ``unknown-revision``, ``unknown-option``.
        """
        sides = (self._side(refit, number, option)[0] for number in (before, after))
        return compared(*sides)

    def _side(
        self, refit: str, number: int, option: str | None
    ) -> tuple[tuple[str, Document, Assessment], tuple[ScenePart, ...]]:
        answer = self.results(refit, number, option)
        side = (f"revision {number}", self.document(refit, number), answer)
        return side, self._scene(refit, number, option)

    def _scene(self, refit: str, number: int, option: str | None) -> tuple[ScenePart, ...]:
        address = f"/api/refits/{refit}/revisions/{number}/meshes"
        pieces = scene_pieces(self.boat(refit, number, option))
        return tuple(_drawn(piece, address) for piece in pieces)

    def piece(self, refit: str, number: int, mesh: str) -> ScenePiece:
        """A piece of a revision's scene, from any of its options.

        Raises:
            ModelError: ``unknown-mesh``, ``unknown-revision``.
        """
        options = self.document(refit, number).options
        for option in (None, *options):
            for piece in scene_pieces(self.boat(refit, number, option)):
                if piece.name == mesh:
                    return piece
        raise ModelError("unknown-mesh", "This revision has no such mesh: reload it.")

    def _frozen(self, refit: str, number: int) -> "_Frozen":
        card = self.revisions.card(refit, number)
        return _Frozen(card, lambda: self.revisions.files(refit, number))

    def _results_json(self, copy: WorkingCopy, state: RefitState, option: str | None) -> bytes:
        boat = self.copies.boat(copy, state, option)
        solids = self.copies.cad.wait_for_solids(boat.parts)
        answer = assessment(
            boat, option=option or "", record=lambda: record_result(boat, solids)
        )
        return answer.model_dump_json(indent=1).encode()


def _plain(files: Mapping[str, bytes]) -> PlainDocument:
    return parsed(files[DOCUMENT].decode()).document()


def _boat(frozen: _Frozen, option: str | None) -> Boat:
    files = frozen.files()
    plain = _plain(files)
    plain = with_option(plain, option)
    with TemporaryDirectory(prefix="hullchange-") as folder:
        for name in files:
            if name.startswith("lines/"):
                lines = Path(folder) / name.removeprefix("lines/")
                lines.parent.mkdir(parents=True, exist_ok=True)
                lines.write_bytes(files[name])
        return boat_of(reading.document_of(plain, Path(folder)))


def _results(frozen: _Frozen, option: str | None) -> Assessment:
    results, card = frozen.files().get(_results_name(option)), frozen.card
    if results is None:
        raise ModelError("unknown-option", f"There is no option {option!r}.", "option")
    try:
        answer = Assessment.model_validate_json(results)
    except ValidationError as error:
        sentence = (
            f"Revision {card.number} was made with hullchange {card.tool} and cannot be read "
            "by this version: use that one."
        )
        raise ModelError("results-unreadable", sentence) from error
    return answer if is_complete(answer) else completed(answer, _boat(frozen, option))


def _results_name(option: str | None) -> str:
    return f"{RESULTS}.json" if option is None else f"{RESULTS}.{option}.json"


def _drawn(piece: ScenePiece, address: str) -> ScenePart:
    return ScenePart(
        id=piece.id,
        role=piece.role,
        change=piece.change,
        mesh=f"{address}/{piece.name}.glb",
        opens_m=piece.opens,
    )
