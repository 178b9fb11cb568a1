"""The working copy of one refit: edits, undo, and its YAML text on disk.

The answer to an edit does not wait for the disk: a timer writes the text a moment later, so
that a drag becomes one write.  A file that somebody else has changed meanwhile is never
overwritten: our text is kept beside it and theirs is taken up.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path
from threading import RLock, Timer

from hullchange.errors import ModelError
from hullchange.study import paths, reading
from hullchange.study.document import Document
from hullchange.study.yaml_edit import edited
from hullchange_api.schemas import Edit, Remove, Set
from hullchange_api.store.files import write_whole

SAVE_AFTER_SECONDS = 0.3
UNDO_STEPS = 200


@dataclass(frozen=True)
class State:
    """The refit after one edit.

    Attributes:
        edit: counts up with every change, undo and redo included.
        plain: the document as plain values; shared structure, never changed in place.
        document: the same, validated.
        label: what led here, for undo.
        gesture: edits of one gesture are one step of undo.
    """

    edit: int
    plain: reading.Plain
    document: Document
    label: str = ""
    gesture: str | None = None


class WorkingCopy:
    """A refit being worked on, and the file it is kept in."""

    def __init__(self, refit: str, file: Path) -> None:
        """Read the file.

        Raises:
            ModelError: where the document is refused.
        """
        self.refit = refit
        self.file = file
        self._lock = RLock()
        self._saving = RLock()
        self._timer: Timer | None = None
        self._restored: str | None = None
        self._past: list[tuple[State, str]] = []
        self._future: list[tuple[State, str]] = []
        self.trouble = ""
        self._take_up(1)

    @property
    def state(self) -> State:
        """The refit as it is now."""
        with self._lock:
            return self._state

    @property
    def undo_label(self) -> str:
        """What undo would take back, or empty."""
        with self._lock:
            return self._state.label if self._past else ""

    @property
    def redo_label(self) -> str:
        """What redo would do again, or empty."""
        with self._lock:
            return self._future[-1][0].label if self._future else ""

    def apply(self, edit: Edit, expected: int, accept: Callable[[State], None]) -> State:
        """The refit after an edit.

        Args:
            edit: steps that are taken together or not at all.
            expected: number of the edit it was made on.
            accept: raises where the new state cannot be built.

        Raises:
            ModelError: ``overtaken`` where another edit came first; whatever the document's
                reading refuses, and then nothing has changed.
        """
        with self._lock:
            self._require(expected)
            joins = edit.gesture is not None and edit.gesture == self._state.gesture
            if not joins:
                self.save()
            plain = self._state.plain
            for step in edit.steps:
                plain = _stepped(plain, step)
            document = reading.document_of(plain, self.file.parent)
            state = State(expected + 1, plain, document, edit.label, edit.gesture)
            accept(state)
            if not joins:
                self._past = [*self._past[-UNDO_STEPS:], (self._state, self._text)]
            self._future = []
            self._restored = None
            return self._become(state)

    def undo(self, expected: int) -> State:
        """The refit before the last step.

        Raises:
            ModelError: ``overtaken``; ``nothing-to-undo``.
        """
        return self._travel(expected, "undo")

    def redo(self, expected: int) -> State:
        """The refit after the step that was taken back.

        Raises:
            ModelError: ``overtaken``; ``nothing-to-undo``.
        """
        return self._travel(expected, "redo")

    def save(self) -> None:
        """Write what is unsaved; trouble is kept in words, and tried again at the next edit."""
        with self._saving:
            with self._lock:
                if self._timer is not None:
                    self._timer.cancel()
                    self._timer = None
                state, text = self._state, self._restored
            if self._saved_edit == state.edit:
                return
            try:
                # an undone edit brings back the very text, comments and all
                self._write(state, text or edited(self._text, state.plain))
            except OSError as error:
                reason = error.strerror or str(error)
                self.trouble = (
                    f"{self.file.name} could not be written ({reason}): your edits are held "
                    "in memory; make room or allow writing, and they are saved with the next "
                    "edit."
                )

    def take_up_file(self) -> None:
        """Read the file again where somebody else has changed it and nothing is unsaved."""
        with self._lock:
            if self._saved_edit == self._state.edit and self._on_disk() != self._digest:
                self._take_up(self._state.edit + 1)

    def _require(self, expected: int) -> None:
        if expected != self._state.edit:
            sentence = (
                f"The refit is at edit {self._state.edit}, not {expected}: somebody else has "
                "changed it. Load it again; nothing of theirs was overwritten."
            )
            raise ModelError("overtaken", sentence)

    def _become(self, state: State) -> State:
        self._state = state
        if self._timer is not None:
            self._timer.cancel()
        self._timer = Timer(SAVE_AFTER_SECONDS, self.save)
        self._timer.daemon = True
        self._timer.start()
        return state

    def _travel(self, expected: int, direction: str) -> State:
        with self._lock:
            self._require(expected)
            self.save()
            back = direction == "undo"
            source, target = (self._past, self._future) if back else (self._future, self._past)
            if not source:
                raise ModelError("nothing-to-undo", f"There is nothing to {direction}.")
            here = (self._state, self._text)
            there, text = source.pop()
            target.append(here)
            self._restored = text
            return self._become(replace(there, edit=expected + 1, gesture=None))

    def _take_up(self, edit: int) -> None:
        read = reading.read_document(self.file)
        self._text = read.written.text
        self._digest = self._on_disk()
        self._state = State(edit, read.plain, read.document)
        self._saved_edit = edit
        self._restored = None
        self._past, self._future = [], []

    def _on_disk(self) -> str:
        return sha256(self.file.read_bytes()).hexdigest() if self.file.exists() else ""

    def _write(self, state: State, text: str) -> None:
        if self._on_disk() != self._digest:
            beside = self.file.with_suffix(".unsaved.yaml")
            write_whole(beside, text.encode())
            with self._lock:
                self._take_up(self._state.edit + 1)
            self.trouble = (
                f"{self.file.name} was changed by something else; it is loaded as it is now, "
                f"and your edits are kept in {beside.name} beside it."
            )
            return
        write_whole(self.file, text.encode())
        self._text = text
        self._digest = sha256(text.encode()).hexdigest()
        self._saved_edit = state.edit
        self.trouble = ""


def _stepped(plain: reading.Plain, step: Set | Remove) -> reading.Plain:
    if isinstance(step, Remove):
        return paths.without(plain, step.path)
    return paths.with_value(plain, step.path, step.value)
