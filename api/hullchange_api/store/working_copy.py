"""The working copy of one refit: edits, undo, and its YAML text on disk.

Every edit is kept in the database as it is made; the YAML file follows a moment later.  A file
that somebody else has changed is never overwritten: both edits are merged, or theirs is taken
up and our text is kept beside it.  Whoever takes both locks takes ``_saving`` first.
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

from hullchange.document import reading
from hullchange.document.differences import merged
from hullchange.document.document import Document
from hullchange.document.matching import PlainDocument
from hullchange.document.options import landed
from hullchange.document.yaml_edit import edited
from hullchange.document.yaml_text import parsed
from hullchange.errors import ModelError
from hullchange_api.store.debounce import Later
from hullchange_api.store.files import GONE, free_name, sweep, write_whole
from hullchange_api.store.history import History, Step
from hullchange_api.store.journal import Journal
from hullchange_api.wire.unexpected import words_of
from hullchange_api.wire.working_copy import Edit

SAVE_AFTER_SECONDS = 1.0
HELD = "Your edits are held in memory, and are kept with the next one that can be."


@dataclass(frozen=True, eq=False)
class State:
    """The refit after one edit.

    Attributes:
        edit: counts up with every change, undo and redo included.
        plain: the document as plain values; shared structure, never changed in place.
        document: the same, validated.
    """

    edit: int
    plain: PlainDocument
    document: Document


class WorkingCopy:
    """A refit being worked on, and the file it is kept in."""

    def __init__(self, refit: str, file: Path, journal: Journal) -> None:
        """Take up what was kept, and read the file.

        Args:
            refit: its id.
            file: its document.
            journal: where its history is kept.

        Raises:
            ModelError: where the document is refused.
        """
        self.refit = refit
        self.file = file
        self._journal = journal
        self.changed: Callable[[], None] = lambda: None
        """Called after every change, by whatever thread made it."""
        self.said: Callable[[], None] = lambda: None
        """Called when other trouble with the file is to be told, or none any more."""
        self.wrote: Callable[[int], None] = lambda _: None
        """Called with the edit that the file holds, when it was written."""
        self.accept: Callable[[State], None] = lambda _: None
        """Raises where a state that somebody else wrote cannot be shown."""
        self._lock = RLock()
        self._saving = RLock()
        self._later = Later(self.save, SAVE_AFTER_SECONDS)
        self._beside: Path | None = None
        self._file_trouble = self._store_trouble = ""
        self._is_held_off = self._is_closed = False
        self._keeping: Future[None] | None = None
        self._state: State
        self._history: History
        self._text = self._digest = ""
        self._saved_edit = 0
        self._changed_at = -inf
        sweep(file)
        kept = journal.read()
        if kept is None:
            self._begin()
        else:
            self._resume(kept)

    @property
    def state(self) -> State:
        """The refit as it is now."""
        return self._state

    @property
    def undo_label(self) -> str:
        """What undo would take back, or empty."""
        return self._history.undo_label

    @property
    def redo_label(self) -> str:
        """What redo would do again, or empty."""
        return self._history.redo_label

    def was_dragged_within(self, seconds: float) -> bool:
        """Whether a step of a gesture came in the last seconds."""
        is_dragged = self._history.present.gesture is not None
        return is_dragged and monotonic() < self._changed_at + seconds

    @property
    def trouble(self) -> str:
        """Why the last save was refused and what became of the edits, or empty."""
        return self._store_trouble or self._file_trouble

    def holds(self, edit: int) -> bool:
        """Whether the file holds an edit, so that nothing of it can be lost any more."""
        return not self.trouble and self._saved_edit >= edit

    def apply(
        self,
        edit: Edit,
        expected: int,
        accept: Callable[[State], None],
        option: str | None = None,
    ) -> State:
        """The refit after an edit.

        Args:
            edit: steps that are taken together or not at all.
            expected: number of the edit it was made on.
            accept: raises where the new state cannot be built.
            option: under which the steps are meant, None for the base design.

        Raises:
            ModelError: ``overtaken`` where another edit came first; whatever the document's
                reading refuses, and then nothing has changed.
        """
        joins = self._joins(edit)
        # a drag does not wait for the file
        with nullcontext() if joins else self._saving, self._lock:
            if not joins:
                self.save()
            self._require(expected)
            joins = joins and self._joins(edit)
            plain = self._state.plain
            for one in edit.steps:
                plain = landed(plain, option, one.path, getattr(one, "value", None))
            state = State(expected + 1, plain, self._document(plain))
            accept(state)
            step = Step(plain, edit.label, edit.gesture)
            return self._become(state, self._history.after(step, joins=joins))

    def undo(self, expected: int) -> State:
        """The refit before the last step.

        Raises:
            ModelError: ``overtaken``; ``nothing-to-undo``.
        """
        return self._travel(expected, -1)

    def redo(self, expected: int) -> State:
        """The refit after the step that was taken back.

        Raises:
            ModelError: ``overtaken``; ``nothing-to-undo``.
        """
        return self._travel(expected, 1)

    def save(self) -> None:
        """Write what is unsaved; trouble is kept in words, and tried again at the next edit."""
        with self._saving:
            with self._lock:
                self._later.cancel()
                state = self._state
            if self._saved_edit == state.edit:
                return
            try:
                self._text = edited(self._text, state.plain)
                self._write(state)
            except Exception as error:  # see `mistakes`: written by itself
                self._say(self._held(words_of(error, f"writing {self.file.name}")))

    def to_freeze(self, expected: int) -> tuple[State, str]:
        """The refit as it is and its text, exactly as the file says it or will.

        Raises:
            ModelError: ``overtaken``; ``cannot-save``.
        """
        with self._saving, self._lock:
            self.save()
            self._require(expected)
            return self._state, edited(self._text, self._state.plain)

    def settle(self) -> None:
        """Wait until every edit so far is kept in the database, or say in words why not."""
        while (keeping := self._keeping) is not None:
            try:
                keeping.result()
                self._store_trouble = ""
            except CancelledError:
                continue
            except Exception as error:  # see `mistakes`: kept by itself
                self._store_trouble = f"{words_of(error, 'keeping it')} {HELD}"
            return

    def take_up_file(self) -> None:
        """Take up what somebody else has changed in the file; what cannot be read is said.

        Raises:
            ModelError: ``unreadable`` where the file cannot be opened.
        """
        if self._changed_outside():
            with self._saving, self._lock:
                if self._changed_outside():
                    self._meet(self._state)
        elif not self._is_closed and self._on_disk() == "":
            self._say(f"{self.file.name} {GONE}", is_held_off=True)
        elif self._file_trouble:  # the file is as it was: what waits for it can be written
            self.save()
            if self._is_held_off:
                self._say("")

    def close(self) -> None:
        """Write what is unsaved and end the writing thread; nothing is taken any more."""
        with self._saving, self._lock:
            self.save()
            self._is_closed = True
        self._journal.close()

    def _begin(self) -> None:
        self._digest = self._on_disk()
        read = reading.read_document(self.file)
        self._text, step = read.written.text, Step(read.plain, text=read.written.text)
        self._state = State(1, read.plain, read.document)
        self._saved_edit = 1
        self._history = History(1, (step,), 0, 0, self._text, self._digest)
        self._keep(self._history)

    def _resume(self, kept: History) -> None:
        plain = kept.present.plain
        self._history = kept
        self._state = State(kept.edit, plain, self._document(plain))
        self._text = kept.present.text or kept.file_text
        # the last words may have been "about to be written" and no more
        unwritten = self._on_disk() in ("", kept.before_sha256)
        self._digest = kept.before_sha256 if unwritten else kept.file_sha256
        self._saved_edit = kept.edit if kept.is_in_file and not unwritten else -1
        self.take_up_file()
        self.save()

    def _joins(self, edit: Edit) -> bool:
        return edit.gesture is not None and edit.gesture == self._history.present.gesture

    def _document(self, plain: PlainDocument) -> Document:
        return reading.document_of(plain, self.file.parent)

    def _held(self, reason: str) -> str:
        remedy = "make room or allow writing, and the file follows with the next edit."
        kept = f"could not be written ({reason}): your edits are kept in the data folder"
        return f"{self.file.name} {kept}; {remedy}"

    def _require(self, expected: int) -> None:
        if self._is_closed:
            raise ModelError("unknown-refit", f"{self.refit} was closed: load it again.")
        if expected != self._state.edit:
            sentence = (
                f"The refit is at edit {self._state.edit}, not {expected}: somebody else has "
                "changed it. Load it again; nothing of theirs was overwritten."
            )
            raise ModelError("overtaken", sentence)

    def _become(self, state: State, history: History) -> State:
        self._state = state
        self._changed_at = monotonic()
        self._keep(history)
        self._later.ask()
        self.changed()
        return state

    def _keep(self, history: History) -> None:
        """Begin to keep a history; one that waits to be written is worth nothing any more."""
        older, self._history = self._keeping, history
        self._keeping = self._journal.keep(history)
        if older is not None:
            older.cancel()

    def _travel(self, expected: int, by: int) -> State:
        with self._saving, self._lock:
            self.save()
            self._require(expected)
            history = self._history.travelled(by)
            if history is None:
                direction = "undo" if by < 0 else "redo"
                raise ModelError("nothing-to-undo", f"There is nothing to {direction}.")
            there = history.present
            state = State(history.edit, there.plain, self._document(there.plain))
            # an undone edit brings back the very text, comments and all
            self._text = there.text or self._text
            return self._become(state, history)

    def _on_disk(self) -> str:
        """Digest of the file, or empty where there is none.

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
        """A file that is gone is no other file: it is written again."""
        return self._on_disk() not in ("", self._digest)

    def _write(self, state: State) -> None:
        if self._changed_outside():
            with self._lock:
                self._meet(state)
            return
        with self._lock:
            if self._state is state:  # else the step is being dragged on
                self._keep(self._history.to_be_written(self._text))
        # the store knows what the file is about to hold before it holds it
        self.settle()
        content = self._text.encode()
        write_whole(self.file, content)
        self._digest = sha256(content).hexdigest()
        self._saved_edit = state.edit
        self._say("")
        self.wrote(state.edit)

    def _meet(self, state: State) -> None:
        """Take up a file that somebody else has changed, merged with what is unsaved here."""
        on_disk = self._on_disk()
        is_saved = self._saved_edit == state.edit
        try:
            read = reading.read_document(self.file)
            self.accept(State(state.edit + 1, read.plain, read.document))
        except Exception as error:  # see `mistakes`: files are read by themselves
            why = words_of(error, f"reading {self.file.name}")
            kept = (
                "she is shown as it was last read, and your next edits are kept beside it"
                if is_saved
                else f"{self._set_aside(state)} and here"
            )
            self._say(
                f"{self.file.name} was changed by something else and cannot be taken up now "
                f"({why}); {kept}. Put it right, and it is taken up.",
                is_held_off=True,
            )
            return
        plain, document, trouble = read.plain, read.document, ""
        if not is_saved:
            try:
                base = parsed(self._history.file_text).document()
                plain = merged(base, state.plain, read.plain)
                document = self._document(plain)
                self.accept(State(state.edit + 1, plain, document))
            except Exception as error:  # as above
                why = words_of(error, f"merging {self.file.name}")
                plain, document = read.plain, read.document
                trouble = (
                    f"{self.file.name} was changed by something else; it is loaded as it is "
                    f"now, and {self._set_aside(state)}. {why}"
                )
                self._beside = None
        self._say(trouble)
        self._take_up(State(state.edit + 1, plain, document), read, on_disk)

    def _take_up(self, state: State, read: reading.ReadDocument, on_disk: str) -> None:
        text = self._text = read.written.text
        is_theirs = state.plain == read.plain
        label = f"{self.file.name} changed outside"
        step = Step(state.plain, label, text=text if is_theirs else None)
        self._digest = on_disk
        self._become(state, self._history.taken_up(step, text, on_disk))
        if is_theirs:
            self._saved_edit = state.edit

    def _say(self, trouble: str, *, is_held_off: bool = False) -> None:
        is_news = trouble != self._file_trouble
        self._file_trouble, self._is_held_off = trouble, is_held_off
        if is_news:
            self.said()

    def _set_aside(self, state: State) -> str:
        """Keep our text beside the file, and say so."""
        self._beside = self._beside or free_name(self.file)
        write_whole(self._beside, edited(self._text, state.plain).encode())
        return f"your edits are kept in {self._beside.name} beside it"
