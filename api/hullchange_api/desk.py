"""What the routes share: the refits, the answers to them, the meshes drawn, the CAD workers."""

from hullchange.errors import ModelError
from hullchange.present.scene import ScenePiece, piece_glb, scene_pieces
from hullchange.study import paths, reading
from hullchange.study.assess import assessment
from hullchange.study.boat import Boat, boat_of
from hullchange.study.memo import Memo
from hullchange.study.profile import profile_of
from hullchange.study.record import recorded
from hullchange.study.results import RecordResult
from hullchange_api.schemas import Edit, RecordAnswer, RefitCard, ScenePart, Working
from hullchange_api.store.shelf import Shelf
from hullchange_api.store.working import State, WorkingCopy
from hullchange_api.workers import Workers

PATIENCE_SECONDS = 1.0
MESHES_KEPT = 2000


class Desk:
    """One server's refits and everything worked out from them."""

    def __init__(self, shelf: Shelf) -> None:
        """Nothing is read or started yet."""
        self.shelf = shelf
        self.workers = Workers()
        self._boats: Memo[Boat] = Memo(32)
        self._pieces: dict[str, ScenePiece] = {}
        self._meshes: Memo[bytes] = Memo(MESHES_KEPT)

    def answer(
        self, copy: WorkingCopy, condition: str | None, option: str | None, *, full: bool
    ) -> Working:
        """The working copy with its answer.

        Args:
            copy: the refit.
            condition: the one answered first; the reference condition where None.
            option: one of the document's options.
            full: all conditions and the effect of every item; otherwise the chosen condition.

        Raises:
            ModelError: what the model refuses.
        """
        state = copy.state
        boat = self.boat(copy, state, option)
        chosen = condition or boat.document.reference_condition
        if chosen not in boat.document.conditions:
            sentence = f"There is no condition called {chosen}."
            raise ModelError("unknown-condition", sentence, "condition")
        told = assessment(boat, option=option or "", only="" if full else chosen)
        return Working(
            refit=copy.refit,
            edit=state.edit,
            kept_in=copy.file.name,
            can_undo=bool(copy.undo_label),
            can_redo=bool(copy.redo_label),
            undo_label=copy.undo_label,
            redo_label=copy.redo_label,
            saved=not copy.trouble,
            trouble=copy.trouble,
            document=dict(state.plain),
            options=tuple(state.document.options),
            option=option,
            condition=chosen,
            partial=not full,
            assessment=told,
            profile=profile_of(boat, [c for c in told.conditions if c.id == chosen][-1].lcf_m),
            scene=tuple(self._drawn(piece) for piece in scene_pieces(boat)),
        )

    def record(self, copy: WorkingCopy, option: str | None) -> RecordAnswer:
        """The CAD record of the working copy, or word that it is not ready."""
        state = copy.state
        boat = self.boat(copy, state, option)
        solids = self.workers.solids(boat.parts, PATIENCE_SECONDS)
        record = RecordResult(state="pending") if solids is None else recorded(boat, solids)
        return RecordAnswer(edit=state.edit, record=record)

    def boat(self, copy: WorkingCopy, state: State, option: str | None) -> Boat:
        """The boat of a state, with an option applied."""

        def build() -> Boat:
            if option is None:
                return boat_of(state.document)
            plain = paths.with_option(state.plain, option)
            return boat_of(reading.document_of(plain, copy.file.parent))

        return self._boats.answer((copy.refit, state.edit, option), build)

    def try_edit(
        self, copy: WorkingCopy, edit: Edit, expected: int, option: str | None
    ) -> None:
        """Apply an edit, unless the boat it leads to cannot be built.

        Raises:
            ModelError: what is refused; then nothing has changed.
        """

        def buildable(state: State) -> None:
            self.boat(copy, state, option)

        copy.apply(edit, expected, buildable)

    def card(self, refit: str) -> RefitCard:
        """A refit for the list."""
        copy = self.shelf.working(refit)
        return RefitCard(id=refit, name=copy.state.document.boat.name, kept_in=copy.file.name)

    def warm_up(self) -> None:
        """Answer once and load the CAD kernel, so that the first user does not wait."""
        for refit in self.shelf.ids()[:1]:
            copy = self.shelf.working(refit)
            self.answer(copy, None, None, full=True)
            self.record(copy, None)

    def mesh(self, name: str) -> bytes:
        """A mesh by the hash that is its name, drawn when it is first asked for.

        Raises:
            ModelError: ``unknown-mesh``.
        """
        piece = self._pieces.get(name)
        if piece is None:
            raise ModelError("unknown-mesh", "This mesh is not kept any more: load again.")
        return self._meshes.answer(name, lambda: piece_glb(piece))

    def close(self) -> None:
        """Write what is unsaved and end the workers."""
        self.shelf.close()
        self.workers.close()

    def _drawn(self, piece: ScenePiece) -> ScenePart:
        self._pieces[piece.name] = piece
        for stale in list(self._pieces)[:-MESHES_KEPT]:
            del self._pieces[stale]
        return ScenePart(
            id=piece.id,
            role=piece.role,
            change=piece.change,
            mesh=f"/api/meshes/{piece.name}.glb",
        )
