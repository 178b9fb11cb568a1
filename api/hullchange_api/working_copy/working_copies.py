"""The refits of a server, their answers and meshes, and the CAD worker."""

import gc
from base64 import b64encode
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace

from hullchange.answer.assessment import Assessment, RecordResult
from hullchange.answer.drawing import Outline
from hullchange.assess.assessment import assessment
from hullchange.assess.check import require_afloat
from hullchange.assess.held import held_in, held_where
from hullchange.boat.boat import Boat, boat_of
from hullchange.boat.cad_record import record_result
from hullchange.boat.profile import profile_of
from hullchange.cache import cached
from hullchange.document.document import Document
from hullchange.document.options import with_option
from hullchange.document.references import still_needed_error
from hullchange.errors import DocumentError, ModelError
from hullchange.explain.explain import explanation
from hullchange.explain.record import Explanation
from hullchange.present.scene import ScenePiece, piece_glb, scene_pieces
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.store.refits import Refits
from hullchange_api.store.working_copy import RefitState, WorkingCopy
from hullchange_api.wire.unexpected import Background
from hullchange_api.wire.working_copy import (
    Edit,
    RecordAnswer,
    RefitCard,
    ScenePart,
    Set,
    Working,
)
from hullchange_api.working_copy.part_trials import document_shown, offering

RECORD_WAIT_SECONDS = 1.0
BOATS_HELD, ASSESSMENTS_HELD = 32, 16
"""Boats, which share unchanged parts; assessments, up to 1 MB each."""
TEXT_BYTES, MESH_BYTES = 32_000_000, 64_000_000
"""Response bodies, 0.7 MB each, or 1.1 MB with two hundred plates; meshes, 3 kB for a plate and
80 kB for a deckhouse."""
GC_THRESHOLD = 50_000
"""Objects allocated before the garbage collector runs."""


@dataclass(frozen=True)
class View:
    """What a page shows: condition and option (None if none is chosen), levers or not."""

    condition: str | None = None
    option: str | None = None
    levers: bool = False

    def after(self, old: Document, new: Document) -> "View":
        """The view after an edit, without a condition or option that the edit removed."""
        lost_condition = (
            self.condition in old.conditions and self.condition not in new.conditions
        )
        lost_option = self.option in old.options and self.option not in new.options
        return View(
            None if lost_condition else self.condition,
            None if lost_option else self.option,
            self.levers,
        )


class WorkingCopies:
    """The working copies of one server, and everything calculated from them."""

    def __init__(self, refits: Refits) -> None:
        """Load and start nothing yet."""
        self.refits = refits
        refits.require_answerable = lambda copy, state: require_afloat(
            self.boat(copy, state, None)
        )
        self.cad = CadWorker()
        self._closed = False

    def answer(
        self, copy: WorkingCopy, view: View, *, full: bool, seen: Boat | None = None
    ) -> Working:
        """The working copy with its answer.

        Args:
            copy: the refit.
            view: what the page shows; the reference condition if none is chosen.
            full: all conditions with righting levers, and the effect of every item; otherwise
                the chosen condition.
            seen: the boat of the last answer; meshes that it lacked are included, and effects
                that have not changed since are left out of a partial answer.

        Raises:
            ModelError: whatever the model refuses.
        """
        return _working(self._page(copy, view, full=full, seen=seen))

    def answer_text(self, copy: WorkingCopy, view: View, *, full: bool) -> tuple[int, bytes]:
        """The edit number, and the answer as JSON; the same bytes for every reader.

        Args:
            copy: the refit.
            view: what the page shows.
            full: as in `answer`.

        Raises:
            ModelError: whatever the model refuses.
        """
        page = self._page(copy, view, full=full, seen=None)
        return page.state.edit, _text(page)

    def assessed(self, copy: WorkingCopy, state: RefitState, option: str | None) -> Assessment:
        """The full assessment of a state.

        Raises:
            ModelError: whatever the model refuses.
        """
        boat = self.boat(copy, state, option)
        return self._assessed(boat, View(option=option), full=True)

    def record(self, copy: WorkingCopy, option: str | None) -> RecordAnswer:
        """The CAD record of the working copy, or a pending one."""
        state = copy.state
        boat = self.boat(copy, state, option)
        solids = self.cad.solids(boat.parts, RECORD_WAIT_SECONDS)
        record = (
            RecordResult(state="pending") if solids is None else record_result(boat, solids)
        )
        return RecordAnswer(edit=state.edit, record=record)

    def explanation(self, copy: WorkingCopy, option: str | None, path: str) -> Explanation:
        """How a figure of the working copy's full answer is derived.

        Raises:
            ModelError: ``unknown-path``, ``no-value``; whatever the model refuses.
        """
        state = copy.state
        boat = self.boat(copy, state, option)
        answer = self._assessed(boat, View(None, option), full=True)
        return explanation(held_where(answer, boat, path), boat.document, path)

    def document(self, copy: WorkingCopy, option: str | None) -> Document:
        """The document of the working copy, with an option applied."""
        return document_shown(copy.state, option, str(copy.file.parent))

    def boat(self, copy: WorkingCopy, state: RefitState, option: str | None) -> Boat:
        """The boat of a state, with an option applied."""
        return _boat(state, option, str(copy.file.parent))

    def edited(
        self, copy: WorkingCopy, edit: Edit, expected: int, option: str | None
    ) -> Working:
        """The working copy after an edit; refused unless the new boat can be built and floats.

        Raises:
            ModelError: if refused; nothing has changed then.
        """
        before = copy.state
        view = View(edit.condition, option, edit.levers)
        seen: Boat | None = None
        with suppress(ModelError):  # an edit may repair a boat that could not be built
            seen = self.boat(copy, copy.state_before(edit), view.option)

        def answerable(state: RefitState) -> None:
            view_after = view.after(before.document, state.document)
            folder, option = str(copy.file.parent), view_after.option
            with offering(
                lambda: document_shown(state, option, folder),
                lambda: document_shown(before, view.option, folder),
            ):
                boat = self.boat(copy, state, option)
            self._assessed(boat, view_after, full=False, before=seen)
            if edit.gesture is None:  # a drag is answered for the chosen condition only
                require_afloat(self.boat(copy, state, None))

        try:
            state = copy.apply(edit, expected, answerable, option)
        except DocumentError as error:
            if any(isinstance(step, Set) for step in edit.steps):
                raise
            raise still_needed_error(error) from error
        view_after = view.after(before.document, state.document)
        return self.answer(copy, view_after, full=False, seen=seen)

    def moved(
        self, copy: WorkingCopy, move: Callable[[int], RefitState], expected: int, view: View
    ) -> Working:
        """The working copy after undo or redo.

        Args:
            copy: the refit.
            move: its undo or redo.
            expected: number of the edit that the page has seen.
            view: what the page shows.

        Raises:
            ModelError: if refused; nothing has changed then.
        """
        state = copy.state
        _require_condition(self.boat(copy, state, view.option), view.condition)
        view_after = view.after(state.document, move(expected).document)
        return self.answer(copy, view_after, full=False)

    def card(self, refit: str) -> RefitCard:
        """A refit as listed."""
        try:
            copy = self.refits.working_copy(refit)
        except ModelError:  # opening it reports the error
            file = self.refits.file(refit)
            return RefitCard(id=refit, name=refit, kept_in=file.name, path=str(file))
        name = copy.state.document.boat.name
        return RefitCard(id=refit, name=name, kept_in=copy.file.name, path=str(copy.file))

    def outlines(self, refit: str) -> tuple[Outline, ...]:
        """The refit from the side, for a small picture.

        Raises:
            ModelError: whatever its document is refused for.
        """
        copy = self.refits.working_copy(refit)
        boat = self.boat(copy, copy.state, None)
        return profile_of(boat, 0.0).outlines

    def warm_up(self) -> None:
        """Calculate one answer and load the CAD kernel before the first page asks."""
        for refit in self.refits.ids()[:1]:
            with Background(f"answering {refit} for the first time"):  # its page is refused
                copy = self.refits.working_copy(refit)
                self.answer(copy, View(), full=True)
                if not self._closed:
                    self.record(copy, None)
        # what is alive now stays alive: scanning it at every collection would add a tenth to
        # the time of an answer during a drag
        gc.collect()
        gc.freeze()
        gc.set_threshold(GC_THRESHOLD)

    def mesh(self, name: str) -> bytes:
        """A mesh by its name, a hash; built when first requested.

        Raises:
            ModelError: ``unknown-mesh``.
        """
        for pieces in scene_pieces.answers.all().values():
            for piece in pieces:
                if piece.name == name:
                    return _mesh(piece)
        raise ModelError("unknown-mesh", "This mesh is no longer available: reload.")

    def close(self) -> None:
        """Save pending edits, and stop the CAD worker."""
        self._closed = True
        self.refits.close()
        self.cad.close()

    def _assessed(
        self, boat: Boat, view: View, *, full: bool, before: Boat | None = None
    ) -> Assessment:
        return _assessed(boat, view, full, None if full else before)

    def _page(
        self, copy: WorkingCopy, view: View, *, full: bool, seen: Boat | None
    ) -> "_AnswerInputs":
        state = copy.state
        boat = self.boat(copy, state, view.option)
        chosen = view.condition or boat.document.reference_condition
        view = replace(view, condition=chosen)
        # the edit is stored in the database while this runs
        self._assessed(boat, view, full=full, before=seen)
        copy.wait_until_stored()
        return _AnswerInputs(
            copy.refit,
            (str(copy.file.parent), copy.file.name),
            state,
            (copy.undo_label, copy.redo_label),
            copy.is_saved(state.edit),
            copy.trouble,
            view,
            full,
            seen,
        )


@dataclass(frozen=True)
class _AnswerInputs:
    """Everything an answer depends on.

    Attributes:
        refit: its id.
        file: folder and name of its document.
        state: the refit after an edit.
        labels: of the steps that undo and redo would apply to.
        is_saved: whether the file holds the edit.
        trouble: why saving or loading failed, or empty.
        view: what the page shows; its condition is never None.
        full: as in `WorkingCopies.answer`, like ``seen``.
        seen: the boat before the edit, or before the gesture that it goes on with.
    """

    refit: str
    file: tuple[str, str]
    state: RefitState
    labels: tuple[str, str]
    is_saved: bool
    trouble: str
    view: View
    full: bool
    seen: Boat | None


def _working(page: _AnswerInputs) -> Working:
    state, option, (undo, redo) = page.state, page.view.option, page.labels
    boat = _boat(state, option, page.file[0])
    answer = _assessed(boat, page.view, page.full, None if page.full else page.seen)
    chosen = page.view.condition or boat.document.reference_condition
    return Working(
        refit=page.refit,
        edit=state.edit,
        kept_in=page.file[1],
        can_undo=bool(undo),
        can_redo=bool(redo),
        undo_label=undo,
        redo_label=redo,
        saved=page.is_saved,
        trouble=page.trouble,
        document=with_option(state.plain, option),
        options=tuple(state.document.options),
        option=option,
        condition=chosen,
        partial=not page.full,
        assessment=held_in(answer, boat, chosen),
        profile=profile_of(boat, answer.lcf_in(chosen)),
        scene=_scene(boat, page.seen),
    )


@cached(TEXT_BYTES, len)
def _text(page: _AnswerInputs) -> bytes:
    return _working(page).model_dump_json(by_alias=True).encode()


def _scene(boat: Boat, seen: Boat | None) -> tuple[ScenePart, ...]:
    """The parts of a boat's scene, with the meshes that ``seen`` lacked."""
    pieces = scene_pieces(boat)
    known = {piece.name for piece in (scene_pieces(seen) if seen else pieces)}
    return tuple(_scene_part(piece, sent=piece.name not in known) for piece in pieces)


def _scene_part(piece: ScenePiece, *, sent: bool) -> ScenePart:
    glb = ""
    if sent:
        with suppress(ModelError):  # requesting it by its path reports the refusal
            glb = b64encode(_mesh(piece)).decode()
    return ScenePart(
        id=piece.id,
        role=piece.role,
        change=piece.change,
        mesh=f"/api/meshes/{piece.name}.glb",
        glb=glb,
        opens_m=piece.opens,
    )


@cached(MESH_BYTES, len)
def _mesh(piece: ScenePiece) -> bytes:
    return piece_glb(piece)


@cached(BOATS_HELD)
def _boat(state: RefitState, option: str | None, folder: str) -> Boat:
    return boat_of(document_shown(state, option, folder))


def _assessed(boat: Boat, view: View, full: bool, before: Boat | None) -> Assessment:
    _require_condition(boat, view.condition)
    only = "" if full else view.condition or boat.document.reference_condition
    return _assessment(boat, view.option or "", only, full or view.levers, before)


@cached(ASSESSMENTS_HELD)
def _assessment(
    boat: Boat, option: str, only: str, levers: bool, before: Boat | None
) -> Assessment:
    each = map if levers else None
    return assessment(boat, option=option, only=only, levers=each, before=before)


def _require_condition(boat: Boat, condition: str | None) -> None:
    if condition is not None and condition not in boat.document.conditions:
        sentence = f"There is no condition {condition}."
        raise ModelError("unknown-condition", sentence, "condition")
