"""The working copy of one refit: edits, undo, and its YAML text on disk.

Every edit is stored in the database as it is made; the YAML file follows shortly after. A
file that another program has changed is never overwritten: both are merged, or the file is
loaded and our text saved beside it. A thread that needs both locks takes ``_saving`` first.
"""

from collections.abc import Callable
from concurrent.futures import CancelledError, Future
from contextlib import nullcontext
from dataclasses import dataclass
from hashlib import sha256
from math import inf
from pathlib import Path
from threading import RLock
from time import monotonic

from hullchange.comparison.differences import merged
from hullchange.document import matching, reading
from hullchange.document.document import Document
from hullchange.document.options import with_option_value
from hullchange.document.yaml_edit import edited_text
from hullchange.document.yaml_text import parsed
from hullchange.errors import ModelError
from hullchange_api.store.debounce import Debounced
from hullchange_api.store.files import GONE, free_name, remove_unfinished, write_atomically
from hullchange_api.store.history import History, UndoStep
from hullchange_api.store.journal import Journal
from hullchange_api.wire.unexpected import Background, error_message
from hullchange_api.wire.working_copy import Edit

SAVE_AFTER_SECONDS = 1.0
HELD = "Your edits are held in memory and are saved with the next one that succeeds."


@dataclass(frozen=True, eq=False)
class RefitState:
    """The refit after one edit.

    Attributes:
        edit: counts up with every change, undo and redo included.
        plain: the document as plain values; shared structure, never changed in place.
        document: those values, validated.
    """

    edit: int
    plain: matching.PlainDocument
    document: Document


class WorkingCopy:
    """A refit being edited, and its file."""

    def __init__(self, refit: str, file: Path, journal: Journal) -> None:
        """Load the stored history, and read the file.

        Args:
            refit: its id.
            file: its document.
            journal: where its history is stored.

        Raises:
            ModelError: if the document is refused.
        """
        self.refit = refit
        self.file = file
        self._journal = journal
        self.on_change: Callable[[], None] = lambda: None
        """Called after every change, by the thread that made it."""
        self.on_file_trouble: Callable[[], None] = lambda: None
        """Called when an error with the file appears, changes or goes."""
        self.on_save: Callable[[int], None] = lambda _: None
        """Called with the edit that was written to the file."""
        self.require_answerable: Callable[[RefitState], None] = lambda _: None
        """Called with a state that another program wrote; may refuse it."""
        self._lock, self._saving = RLock(), RLock()
        self._save_later = Debounced(self.save, SAVE_AFTER_SECONDS)
        self._copy_file: Path | None = None
        self._file_trouble = self._store_trouble = ""
        self._is_on_hold = self._is_closed = False
        self._storing: Future[None] | None = None
        self._state: RefitState
        self._before_gesture: RefitState
        self._history: History
        self._text = self._digest = ""
        self._saved_edit = 0
        self._changed_at = -inf
        remove_unfinished(file)
        stored = journal.read()
        if stored is None:
            self._start()
        else:
            self._resume(stored)

    @property
    def state(self) -> RefitState:
        """The refit as it is now."""
        return self._state

    @property
    def undo_label(self) -> str:
        """Label of the step that undo would undo, or empty."""
        return self._history.undo_label

    @property
    def redo_label(self) -> str:
        """Label of the step that redo would redo, or empty."""
        return self._history.redo_label

    def was_dragged_within(self, seconds: float) -> bool:
        """Whether the last step is part of a gesture, at most some seconds [s] ago."""
        is_dragged = self._history.present.gesture is not None
        return is_dragged and monotonic() < self._changed_at + seconds

    @property
    def trouble(self) -> str:
        """Why saving or loading failed and what became of the edits, or empty."""
        return self._store_trouble or self._file_trouble

    def is_saved(self, edit: int) -> bool:
        """Whether the file holds an edit."""
        return not self.trouble and self._saved_edit >= edit

    def state_before(self, edit: Edit) -> RefitState:
        """The refit before an edit, or before the gesture that the edit goes on with."""
        return self._before_gesture if self._joins(edit) else self._state

    def apply(
        self,
        edit: Edit,
        expected: int,
        accept: Callable[[RefitState], None],
        option: str | None = None,
    ) -> RefitState:
        """The refit after an edit.

        Args:
            edit: steps that are applied together or not at all.
            expected: number of the edit it is based on.
            accept: refuses a state that cannot be built.
            option: the option that the steps belong to, None for the base design.

        Raises:
            ModelError: ``overtaken`` if another edit came first; whatever the document is
                refused for, and then nothing has changed.
        """
        joins = self._joins(edit)
        # a drag does not wait for the file
        with nullcontext() if joins else self._saving, self._lock:
            if not joins:
                self.save()
            self._require_current(expected)
            joins = joins and self._joins(edit)
            plain = self._state.plain
            for one in edit.steps:
                plain = with_option_value(plain, option, one.path, getattr(one, "value", None))
            state = RefitState(expected + 1, plain, self._document(plain))
            accept(state)
            self._before_gesture = self._before_gesture if joins else self._state
            step = UndoStep(plain, edit.label, edit.gesture)
            return self._set_state(state, self._history.after(step, joins=joins))

    def undo(self, expected: int) -> RefitState:
        """The refit before the last step.

        Raises:
            ModelError: ``overtaken``; ``nothing-to-undo``.
        """
        return self._move(expected, -1)

    def redo(self, expected: int) -> RefitState:
        """The refit after the step that was undone; refused as `undo` is."""
        return self._move(expected, 1)

    def save(self) -> None:
        """Save pending edits; if that fails, `trouble` says why, and the next edit retries."""
        with self._saving:
            with self._lock:
                self._save_later.cancel()
                state = self._state
            if self._saved_edit == state.edit:
                return
            with Background(f"writing {self.file.name}") as work:
                self._text = edited_text(self._text, state.plain)
                self._write(state)
            if work.error:
                self._set_file_trouble(self._not_written(work.message))

    def for_freezing(self, expected: int) -> tuple[RefitState, str]:
        """The present state and its text, exactly as it is or will be in the file.

        Raises:
            ModelError: ``overtaken``; ``cannot-save``.
        """
        with self._saving, self._lock:
            self.save()
            self._require_current(expected)
            return self._state, edited_text(self._text, self._state.plain)

    def wait_until_stored(self) -> None:
        """Wait until every edit so far is stored; if that fails, `trouble` says why."""
        while (storing := self._storing) is not None:
            try:
                error = storing.exception()
            except CancelledError:
                continue
            self._store_trouble = (
                f"{error_message(error, 'keeping it')} {HELD}" if error else ""
            )
            return

    def load_changed_file(self) -> None:
        """Load changes by another program from the file; if that fails, `trouble` says why.

        Raises:
            ModelError: ``unreadable`` if the file cannot be opened.
        """
        if self._changed_outside():
            with self._saving, self._lock:
                if self._changed_outside():
                    self._load_or_merge(self._state)
        elif not self._is_closed and self._on_disk() == "":
            self._set_file_trouble(f"{self.file.name} {GONE}", is_on_hold=True)
        elif self._file_trouble:  # unchanged: pending edits can be written now
            self.save()
            if self._is_on_hold:
                self._set_file_trouble("")

    def close(self) -> None:
        """Save pending edits, end the writer thread, and refuse edits from now on."""
        with self._saving, self._lock:
            self.save()
            self._is_closed = True
        self._journal.close()

    def _start(self) -> None:
        self._digest = self._on_disk()
        read = reading.read_document(self.file)
        self._text, step = read.written.text, UndoStep(read.plain, text=read.written.text)
        self._state = RefitState(1, read.plain, read.document)
        self._saved_edit = 1
        self._history = History(1, (step,), 0, 0, self._text, self._digest)
        self._store(self._history)

    def _resume(self, stored: History) -> None:
        plain = stored.present.plain
        self._history = stored
        self._state = RefitState(stored.edit, plain, self._document(plain))
        self._text = stored.present.text or stored.file_text
        # the process may have ended after storing the text and before writing it
        unwritten = self._on_disk() in ("", stored.before_sha256)
        self._digest = stored.before_sha256 if unwritten else stored.file_sha256
        self._saved_edit = stored.edit if stored.is_in_file and not unwritten else -1
        self.load_changed_file()
        self.save()

    def _joins(self, edit: Edit) -> bool:
        return edit.gesture is not None and edit.gesture == self._history.present.gesture

    def _document(self, plain: matching.PlainDocument) -> Document:
        return reading.document_of(plain, self.file.parent)

    def _not_written(self, reason: str) -> str:
        remedy = "free some space or allow writing, and the file follows with the next edit."
        state = f"could not be written ({reason}): your edits are kept in the data folder"
        return f"{self.file.name} {state}; {remedy}"

    def _require_current(self, expected: int) -> None:
        if self._is_closed:
            raise ModelError("unknown-refit", f"{self.refit} was closed: reload it.")
        if expected != self._state.edit:
            sentence = (
                f"Someone else edited first: the refit is at edit {self._state.edit}, not "
                f"{expected}. Reload it; nothing was overwritten."
            )
            raise ModelError("overtaken", sentence)

    def _set_state(self, state: RefitState, history: History) -> RefitState:
        self._state = state
        self._changed_at = monotonic()
        self._store(history)
        self._save_later.request()
        self.on_change()
        return state

    def _store(self, history: History) -> None:
        """Start storing a history; an older one still in the queue is cancelled."""
        older, self._history = self._storing, history
        self._storing = self._journal.store(history)
        if older is not None:
            older.cancel()

    def _move(self, expected: int, by: int) -> RefitState:
        with self._saving, self._lock:
            self.save()
            self._require_current(expected)
            history = self._history.moved(by)
            if history is None:
                direction = "undo" if by < 0 else "redo"
                raise ModelError("nothing-to-undo", f"There is nothing to {direction}.")
            step = history.present
            state = RefitState(history.edit, step.plain, self._document(step.plain))
            # undo restores the text exactly, with its comments
            self._text = step.text or self._text
            return self._set_state(state, history)

    def _on_disk(self) -> str:
        """Digest of the file, or empty if there is none.

        Raises:
            ModelError: ``unreadable``.
        """
        try:
            return sha256(self.file.read_bytes()).hexdigest()
        except FileNotFoundError:
            return ""
        except OSError as error:
            sentence = f"{self.file.name} cannot be read ({error.strerror}): allow reading."
            raise ModelError("unreadable", sentence) from error

    def _changed_outside(self) -> bool:
        """Whether another program changed the file; a missing file is simply written again."""
        return self._on_disk() not in ("", self._digest)

    def _write(self, state: RefitState) -> None:
        if self._changed_outside():
            with self._lock:
                self._load_or_merge(state)
            return
        with self._lock:
            if self._state is state:  # else a drag is going on
                self._store(self._history.to_be_written(self._text))
        self.wait_until_stored()  # before the file is written
        content = self._text.encode()
        write_atomically(self.file, content)
        self._digest = sha256(content).hexdigest()
        self._saved_edit = state.edit
        self._set_file_trouble("")
        self.on_save(state.edit)

    def _load_or_merge(self, state: RefitState) -> None:
        """Load a file that another program has changed, merged with pending edits."""
        on_disk = self._on_disk()
        is_saved = self._saved_edit == state.edit
        with Background(f"reading {self.file.name}") as work:
            read = reading.read_document(self.file)
            self.require_answerable(RefitState(state.edit + 1, read.plain, read.document))
        if work.error:
            shown = (
                "the last good version is shown, and your next edits are kept beside it"
                if is_saved
                else f"{self._save_copy(state)} and here"
            )
            self._set_file_trouble(
                f"{self.file.name} was changed outside, has an error and was not loaded "
                f"({work.message}); {shown}. Fix it and it loads by itself.",
                is_on_hold=True,
            )
            return
        plain, document, trouble = read.plain, read.document, ""
        if not is_saved:
            with Background(f"merging {self.file.name}") as work:
                base = parsed(self._history.file_text).document()
                plain = merged(base, state.plain, read.plain)
                document = self._document(plain)
                self.require_answerable(RefitState(state.edit + 1, plain, document))
            if work.error:
                plain, document = read.plain, read.document
                trouble = (
                    f"{self.file.name} was changed outside; it is loaded as it is now, and "
                    f"{self._save_copy(state)}. {work.message}"
                )
                self._copy_file = None
        self._set_file_trouble(trouble)
        self._load(RefitState(state.edit + 1, plain, document), read, on_disk)

    def _load(self, state: RefitState, read: reading.ReadDocument, on_disk: str) -> None:
        text = self._text = read.written.text
        is_as_read = state.plain == read.plain
        label = f"{self.file.name} changed outside"
        step = UndoStep(state.plain, label, text=text if is_as_read else None)
        self._digest = on_disk
        self._set_state(state, self._history.loaded(step, text, on_disk))
        if is_as_read:
            self._saved_edit = state.edit

    def _set_file_trouble(self, trouble: str, *, is_on_hold: bool = False) -> None:
        has_changed = trouble != self._file_trouble
        self._file_trouble, self._is_on_hold = trouble, is_on_hold
        if has_changed:
            self.on_file_trouble()

    def _save_copy(self, state: RefitState) -> str:
        """Save our text in a copy beside the file; a sentence that names the copy."""
        self._copy_file = self._copy_file or free_name(self.file)
        write_atomically(self._copy_file, edited_text(self._text, state.plain).encode())
        return f"your edits are kept in {self._copy_file.name} beside it"
