"""The working copy of one refit: edits, undo, and its YAML text on disk.

The answer to an edit does not wait for the disk: a timer writes the text a moment later, so
that a drag becomes one write.  A file that somebody else has changed meanwhile is never
overwritten: our text is kept beside it and theirs is taken up.

Whoever takes both locks takes ``_saving`` first.
"""

from collections.abc import Callable
from contextlib import nullcontext
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
MOST_SET_ASIDE = 100


@dataclass(frozen=True, eq=False)
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
        self._text = self._digest = ""
        self._saved_edit = 0
        self._beside: Path | None = None
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
        joins = self._joins(edit)
        # a drag does not wait for the disk
        with nullcontext() if joins else self._saving, self._lock:
            if not joins:
                self.save()
            self._require(expected)
            joins = joins and self._joins(edit)
            plain = self._state.plain
            for step in edit.steps:
                plain = _stepped(plain, step)
            document = reading.document_of(plain, self.file.parent)
            state = State(expected + 1, plain, document, edit.label, edit.gesture)
            accept(state)
            if not joins:
                self._past = [*self._past[-UNDO_STEPS:], (self._state, self._text)]
            self._future = []
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
                state = self._state
            if self._saved_edit == state.edit:
                return
            try:
                self._text = edited(self._text, state.plain)
                self._write(state)
            except OSError as error:
                self.trouble = self._held(error.strerror or str(error))
            except ModelError as error:
                self.trouble = self._held(str(error))

    def take_up_file(self) -> None:
        """Read the file again where somebody else has changed it and nothing is unsaved."""
        with self._lock:
            if self._saved_edit == self._state.edit and self._changed_outside():
                self._take_up(self._state.edit + 1)

    def _joins(self, edit: Edit) -> bool:
        return edit.gesture is not None and edit.gesture == self._state.gesture

    def _held(self, reason: str) -> str:
        return (
            f"{self.file.name} could not be written ({reason}): your edits are held in memory; "
            "make room or allow writing, and they are saved with the next edit."
        )

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
        with self._saving, self._lock:
            self.save()
            self._require(expected)
            back = direction == "undo"
            source, target = (self._past, self._future) if back else (self._future, self._past)
            if not source:
                raise ModelError("nothing-to-undo", f"There is nothing to {direction}.")
            target.append((self._state, self._text))
            # an undone edit brings back the very text, comments and all
            there, self._text = source.pop()
            return self._become(replace(there, edit=expected + 1, gesture=None))

    def _take_up(self, edit: int) -> None:
        read = reading.read_document(self.file)
        self._text = read.written.text
        self._digest = self._on_disk()
        self._state = State(edit, read.plain, read.document)
        self._saved_edit = edit
        self._past, self._future = [], []

    def _on_disk(self) -> str:
        return sha256(self.file.read_bytes()).hexdigest()

    def _changed_outside(self) -> bool:
        """A file that is gone is no other file: it is written again."""
        return self.file.exists() and self._on_disk() != self._digest

    def _write(self, state: State) -> None:
        if self._changed_outside():
            self._set_aside()
            return
        content = self._text.encode()
        write_whole(self.file, content)
        self._digest = sha256(content).hexdigest()
        self._saved_edit = state.edit
        self.trouble = ""

    def _set_aside(self) -> None:
        """Keep our text beside a file that somebody else has changed, and take up theirs."""
        with self._lock:
            self._text = edited(self._text, self._state.plain)
            self._beside = self._beside or self._free_name()
            write_whole(self._beside, self._text.encode())
            kept = f"your edits are kept in {self._beside.name} beside it"
            try:
                self._take_up(self._state.edit + 1)
            except ModelError as error:
                self.trouble = (
                    f"{self.file.name} was changed by something else and cannot be read now "
                    f"({error}); {kept} and here."
                )
                return
            self._beside = None
            self.trouble = (
                f"{self.file.name} was changed by something else; it is loaded as it is now, "
                f"and {kept}."
            )

    def _free_name(self) -> Path:
        numbers = ("", *(f"-{number}" for number in range(2, MOST_SET_ASIDE)))
        paths = [self.file.with_suffix(f".unsaved{number}.yaml") for number in numbers]
        return next((path for path in paths if not path.exists()), paths[-1])


def _stepped(plain: reading.Plain, step: Set | Remove) -> reading.Plain:
    if isinstance(step, Remove):
        return paths.without(plain, step.path)
    return paths.with_value(plain, step.path, step.value)
