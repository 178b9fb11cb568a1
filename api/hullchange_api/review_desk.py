"""What the routes of the review share: revisions frozen and read, the review as it stands."""

from pathlib import Path
from tempfile import TemporaryDirectory

import hullchange
from hullchange.errors import ModelError
from hullchange.present.scene import ScenePiece, scene_pieces
from hullchange.study import paths, reading
from hullchange.study.assess import assessment, document_hash
from hullchange.study.boat import Boat, boat_of
from hullchange.study.document import Document
from hullchange.study.lines_file import lines_file
from hullchange.study.memo import Memo
from hullchange.study.profile import profile_of
from hullchange.study.record import recorded
from hullchange.study.results import Assessment
from hullchange.study.yaml_text import parsed
from hullchange_api.desk import Desk, View
from hullchange_api.events import Events
from hullchange_api.review_schemas import Frozen, RevisionCard, WholeStanding
from hullchange_api.schemas import ScenePart
from hullchange_api.store.attachments import Attachments
from hullchange_api.store.revisions import DOCUMENT, RESULTS, Revisions
from hullchange_api.store.said import Said
from hullchange_api.store.shares import Shares
from hullchange_api.store.working import State, WorkingCopy

SOLIDS_WITHIN_SECONDS = 300.0


class ReviewDesk:
    """One server's reviews."""

    def __init__(self, desk: Desk) -> None:
        """Nothing is read yet."""
        database = desk.shelf.database
        self.desk = desk
        self.events = Events()
        self.revisions = Revisions(database)
        self.said = Said(database)
        self.shares = Shares(database)
        self.attachments = Attachments(database)
        self._plain: Memo[reading.Plain] = Memo(16)
        self._boats: Memo[Boat] = Memo(8)
        self._results: Memo[Assessment] = Memo(16)
        desk.shelf.tells = lambda refit, edit: self.events.tell(refit, "edit", edit=edit)

    def freeze(self, copy: WorkingCopy, expected: int, note: str) -> RevisionCard:
        """A new revision of the working copy: every plan assessed, new steel by its solids.

        Raises:
            ModelError: ``overtaken``; ``not-saved``; whatever the document is refused for.
        """
        state, text = copy.to_freeze(expected)
        files = {DOCUMENT: text.encode()}
        name = lines_file(state.plain)
        if name is not None:
            files[f"lines/{name}"] = (copy.file.parent / name).read_bytes()
        for option in (None, *state.document.options):
            files[_results_name(option)] = self._worked_out(copy, state, option)
        plain = self.desk.boat(copy, state, None)
        about: dict[str, str | int] = {
            "edit": state.edit,
            "note": note,
            "tool": hullchange.__version__,
            "document_sha256": document_hash(plain),
        }
        card = self.revisions.freeze(copy.refit, about, files)
        self.events.tell(copy.refit, "revision", number=card.number)
        return card

    def document(self, refit: str, number: int) -> Document:
        """The document of a revision.

        Raises:
            ModelError: ``unknown-revision``.
        """
        return self.boat(refit, number, None).document

    def boat(self, refit: str, number: int, option: str | None) -> Boat:
        """The boat of a revision, drawn by the present version."""
        card = self.revisions.card(refit, number)

        def build() -> Boat:
            files = self.revisions.files(refit, number)
            plain = parsed(files[DOCUMENT].decode()).document()
            planned = plain if option is None else paths.with_option(plain, option)
            with TemporaryDirectory(prefix="hullchange-") as folder:
                for name in files:
                    if name.startswith("lines/"):
                        lines = Path(folder) / name.removeprefix("lines/")
                        lines.parent.mkdir(parents=True, exist_ok=True)
                        lines.write_bytes(files[name])
                return boat_of(reading.document_of(planned, Path(folder)))

        return self._boats.answer((card.sha256, option), build)

    def results(self, refit: str, number: int, option: str | None) -> Assessment:
        """What was worked out when a revision was frozen.

        Raises:
            ModelError: ``unknown-revision``, ``unknown-option``.
        """
        card = self.revisions.card(refit, number)

        def read() -> Assessment:
            kept = self.revisions.files(refit, number).get(_results_name(option))
            if kept is None:
                raise ModelError("unknown-option", f"There is no option {option!r}.", "option")
            return Assessment.model_validate_json(kept)

        return self._results.answer((card.sha256, option), read)

    def frozen(self, refit: str, number: int, view: View, standing: WholeStanding) -> Frozen:
        """A revision as a page shows it.

        Args:
            refit: its id.
            number: of the revision.
            view: what is looked at.
            standing: whether it is signed.

        Raises:
            ModelError: ``unknown-revision``, ``unknown-option``, ``unknown-condition``.
        """
        told = self.results(refit, number, view.option)
        boat = self.boat(refit, number, view.option)
        chosen = view.condition or told.reference_condition
        rows = [row for row in told.conditions if row.id == chosen]
        if not rows:
            sentence = f"There is no condition called {chosen}."
            raise ModelError("unknown-condition", sentence, "condition")
        text = self.revisions.files(refit, number)[DOCUMENT].decode()
        address = f"/api/refits/{refit}/revisions/{number}/meshes"
        return Frozen(
            refit=refit,
            revision=self.revisions.card(refit, number),
            standing=standing,
            document=parsed(text).document(),
            options=tuple(boat.document.options),
            option=view.option,
            condition=chosen,
            assessment=told,
            profile=profile_of(boat, rows[-1].lcf_m),
            scene=tuple(_drawn(piece, address) for piece in scene_pieces(boat)),
            drawn_by=hullchange.__version__,
        )

    def piece(self, refit: str, number: int, mesh: str) -> ScenePiece:
        """A piece of a revision's scene, whichever of its plans it belongs to.

        Raises:
            ModelError: ``unknown-mesh``, ``unknown-revision``.
        """
        options = self.document(refit, number).options
        for option in (None, *options):
            for piece in scene_pieces(self.boat(refit, number, option)):
                if piece.name == mesh:
                    return piece
        raise ModelError("unknown-mesh", "This revision has no such mesh: load it again.")

    def _worked_out(self, copy: WorkingCopy, state: State, option: str | None) -> bytes:
        boat = self.desk.boat(copy, state, option)
        solids = self.desk.workers.solids(boat.parts, SOLIDS_WITHIN_SECONDS)
        if solids is None:
            sentence = "The CAD solids take too long: try again, or simplify the parts."
            raise ModelError("cad-ended", sentence)
        told = assessment(boat, option=option or "", record=lambda: recorded(boat, solids))
        return told.model_dump_json(indent=1).encode()


def _results_name(option: str | None) -> str:
    return f"{RESULTS}.json" if option is None else f"{RESULTS}.{option}.json"


def _drawn(piece: ScenePiece, address: str) -> ScenePart:
    return ScenePart(
        id=piece.id, role=piece.role, change=piece.change, mesh=f"{address}/{piece.name}.glb"
    )
