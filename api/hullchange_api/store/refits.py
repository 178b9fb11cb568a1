"""All refits of one server: those in its data folder, and the file it was started with."""

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from threading import Lock
from typing import IO
from unicodedata import normalize

from sqlalchemy import func, select

from hullchange.document.lines_file import lines_file, with_lines
from hullchange.document.reading import document_of, text_of
from hullchange.document.yaml_edit import edited_text
from hullchange.document.yaml_text import parsed
from hullchange.errors import ModelError
from hullchange.latin import document_key
from hullchange.start.invented import starting_document
from hullchange_api.store import tables
from hullchange_api.store.archive import restore_archive, write_archive
from hullchange_api.store.database import Database
from hullchange_api.store.files import DELETED, FILE_NAME, make_private, write_atomically
from hullchange_api.store.journal import Journal
from hullchange_api.store.plain_zip import PlainZip
from hullchange_api.store.refit_lock import RefitLock, document_lock
from hullchange_api.store.working_copy import RefitState, WorkingCopy

LONGEST_ID, MOST_SUFFIXES = 60, 100


class Refits:
    """Refits by id, opened on first use.

    The data folder holds the database and one folder per refit; the file given at start stays
    where it is.
    """

    def __init__(self, folder: Path, file: Path | None = None, first: str = "") -> None:
        """Read nothing yet.

        Args:
            folder: the data folder, made if missing.
            file: a refit document elsewhere, saved in place.
            first: id of the one listed first, where it is there and no file is given.
        """
        self.database = Database(folder)
        self.on_change: Callable[[str, int], None] = lambda *_: None
        """Called with a refit's id and edit after every change to its working copy."""
        self.on_file_trouble: Callable[[str], None] = lambda _: None
        """Called with a refit's id when an error with its file appears, changes or goes."""
        self.on_save: Callable[[str, int], None] = lambda *_: None
        """Called with a refit's id and the edit that was written to its file."""
        self.require_answerable: Callable[[WorkingCopy, RefitState], None] = lambda *_: None
        """Called with a state that another program wrote; may refuse it."""
        self._folder, self._first = folder, first
        self._lock, self._making = Lock(), Lock()
        self._open: dict[str, WorkingCopy] = {}
        self._locks: dict[str, tuple[RefitLock, ...]] = {}
        self._files: dict[str, Path] = {}
        if file is not None:
            self._files[self._id_of(file.resolve())] = file.resolve()

    def ids(self) -> tuple[str, ...]:
        """Ids of all refits, the one given at start first.

        Raises:
            ModelError: ``unreadable``.
        """
        try:
            stored = sorted(
                (p.parent.name for p in self._folder.glob(f"*/{FILE_NAME}")),
                key=lambda name: (name != self._first, name),
            )
        except OSError as error:
            sentence = f"The folder {self._folder.name} cannot be read ({error.strerror})."
            raise ModelError("unreadable", f"{sentence} Allow reading it.") from error
        return tuple(dict.fromkeys([*self._files, *stored]))

    def file(self, refit: str) -> Path:
        """The file of a refit's document."""
        return self._files.get(refit, self._folder / refit / FILE_NAME)

    def working_copy(self, refit: str) -> WorkingCopy:
        """The working copy of a refit.

        Raises:
            ModelError: ``unknown-refit``; ``open-elsewhere``; whatever its document is refused
                for.
        """
        with self._lock:
            if refit not in self._open:
                if refit not in self.ids():
                    raise ModelError("unknown-refit", f"There is no refit {refit}.")
                self._open[refit] = self._opened(refit)
            return self._open[refit]

    def open_copies(self) -> tuple[WorkingCopy, ...]:
        """The working copies that are open."""
        with self._lock:
            return tuple(self._open.values())

    def begin(self, name: str) -> WorkingCopy:
        """A new refit from the commented starting document: name as typed, a new id.

        Raises:
            ModelError: as ``begin_with``.
        """
        return self.begin_with(starting_document(name))

    def copy(
        self, refit: str, name: str, still_wanted: Callable[[], None] = lambda: None
    ) -> WorkingCopy:
        """A copy of a refit's working copy under another name, without its history.

        Args:
            refit: the one that is copied.
            name: the boat's name in the copy.
            still_wanted: as in ``begin_with``.

        Raises:
            ModelError: ``unknown-refit``, and as ``begin_with``.
        """
        copy = self.working_copy(refit)
        copy.save()
        plain = with_lines(copy.state.plain, copy.state.document.hull)
        text = edited_text(text_of(copy.file), plain)
        return self.begin_with(text, name, still_wanted)

    def begin_with(
        self,
        text: str,
        name: str | None = None,
        still_wanted: Callable[[], None] = lambda: None,
    ) -> WorkingCopy:
        """A new refit from the text of a document, its comments kept: a new id.

        Args:
            text: YAML of a document whose lines stand in it.
            name: the boat's name, in place of the one in the document.
            still_wanted: refuses once nobody waits for it any more.

        Raises:
            ModelError: ``refit-exists`` if another has the name; ``bad-name`` if it has no
                letter or digit; ``lines-elsewhere``; ``not-saved``; what the document is
                refused for, and then nothing is written.
        """
        plain = parsed(text).document()
        if elsewhere := lines_file(plain):
            sentence = (
                f"Her lines are in a separate file, {elsewhere}, which is not here: put them "
                "into the document, or restore her from an archive, which contains both."
            )
            raise ModelError("lines-elsewhere", sentence, "hull.lines.file")
        if name is not None:
            boat = document_of(plain).boat.model_copy(update={"name": name})
            plain = {**plain, "boat": boat.model_dump(mode="json", exclude_none=True)}
            text = edited_text(text, plain)
        named = document_of(plain).boat.name
        still_wanted()
        with self._making:
            self.database.require_in_place()
            try:
                refit = self._free_id(named)
                file = self.file(refit)
                make_private(file.parent)
                write_atomically(file, text.encode())
            except OSError as error:
                sentence = (
                    f"The refit could not be written ({error.strerror}): free some space."
                )
                raise ModelError("not-saved", sentence) from error
        return self.working_copy(refit)

    def archive(self, refit: str, out: IO[bytes]) -> None:
        """Write a whole refit as one archive.

        Raises:
            ModelError: ``unknown-refit``, ``bad-file-name``, ``not-saved``.
        """
        with self._lock:
            copy = self._open.get(refit)
        if copy is not None:
            copy.save()
            copy.wait_until_stored()
        elif refit not in self.ids():
            raise ModelError("unknown-refit", f"There is no refit {refit}.")
        try:
            write_archive(self.database, refit, self.file(refit), out)
        except OSError as error:
            sentence = f"The archive could not be written ({error.strerror}): free some space."
            raise ModelError("not-saved", sentence) from error

    def restore(self, stream: IO[bytes], name: str | None = None) -> str:
        """The id of a refit restored from its archive.

        Args:
            stream: the archive.
            name: a new name for the refit; None for the one it had.

        Raises:
            ModelError: ``refit-exists``, ``bad-name``; whatever an archive is refused for, and
                then nothing is written.
        """
        archive = PlainZip(stream)
        refit = refit_id(name or archive.manifest.refit)
        with self._making:
            self._require_free(refit)
            restore_archive(self.database, self._folder / refit, archive)
        return refit

    def close(self) -> None:
        """Save pending edits, and release the locks."""
        with self._lock:
            for copy in self._open.values():
                copy.close()
            self._open.clear()
            for refit in tuple(self._locks):
                self._unlock(refit)
            self.database.close()

    def deleted(self) -> tuple[str, ...]:
        """Ids of deleted refits, which can be restored."""
        return tuple(sorted(p.parent.name for p in self._deleted_folder.glob(f"*/{FILE_NAME}")))

    def delete(self, refit: str) -> None:
        """Delete a refit; ``bring_back`` undoes it.

        Raises:
            ModelError: ``unknown-refit``; ``not-possible-now`` if it is signed, or its
                document is a file of the owner's own; ``open-elsewhere``, ``not-saved``.
        """
        with self._making, self._lock:
            self._require_deletable(refit)
            copy = self._open.pop(refit, None)
            if copy is None:
                self._locks[refit] = (RefitLock(self._folder, refit),)
            else:
                copy.close()
            try:
                self._move(self._folder / refit, self._deleted_folder / refit)
            finally:
                self._unlock(refit)

    def bring_back(self, refit: str) -> None:
        """Restore a deleted refit as it was.

        Raises:
            ModelError: ``unknown-refit``; ``refit-exists`` if another has its id by now;
                ``not-saved``.
        """
        with self._making:
            if refit not in self.deleted():
                raise ModelError("unknown-refit", f"There is no deleted refit {refit}.")
            self._require_free(refit)
            self._move(self._deleted_folder / refit, self._folder / refit)

    def name_of(self, refit: str) -> str:
        """The name of a boat, deleted or not; empty if its document cannot be read."""
        copy = self._open.get(refit)
        if copy is not None:
            return copy.state.document.boat.name
        is_deleted = refit not in self.ids()
        file = self._deleted_folder / refit / FILE_NAME if is_deleted else self.file(refit)
        with suppress(ModelError):
            return document_of(parsed(text_of(file)).document(), file.parent).boat.name
        return ""

    @property
    def _deleted_folder(self) -> Path:
        return self._folder / DELETED

    def _require_deletable(self, refit: str) -> None:
        if refit not in self.ids():
            raise ModelError("unknown-refit", f"There is no refit {refit}.")
        if refit in self._files:
            sentence = (
                f"{self.file(refit)} is your own file and is not deleted from here: "
                "delete it yourself."
            )
            raise ModelError("not-possible-now", sentence)
        if self.database.exists and self._is_signed(refit):
            sentence = "A boat with a signature cannot be deleted."
            raise ModelError("not-possible-now", sentence)

    def _is_signed(self, refit: str) -> bool:
        signed = select(func.count()).where(tables.Signature.refit == refit)
        with self.database.reading() as session:
            return bool(session.scalar(signed))

    def _move(self, old: Path, new: Path) -> None:
        try:
            make_private(new.parent)
            old.rename(new)
        except OSError as error:
            sentence = f"The refit could not be moved ({error.strerror}): allow writing there."
            raise ModelError("not-saved", sentence) from error

    def _unlock(self, refit: str) -> None:
        for lock in self._locks.pop(refit, ()):
            lock.close()

    def _require_free(self, refit: str) -> None:
        if refit in self.ids() or (self._folder / refit).exists():
            sentence = f"A refit {refit} already exists: choose another name."
            raise ModelError("refit-exists", sentence, "name")

    def _free_id(self, name: str) -> str:
        """An id that no refit has or had; refuses a name that another boat has."""
        with self.database.reading() as session:
            had = {*session.scalars(select(tables.Refit.id)), *self.ids(), *self.deleted()}
        for refit in _ids_for(name):
            if refit in self.ids() and _comparable(self.name_of(refit)) == _comparable(name):
                sentence = f"A boat {name} already exists: choose another name."
                raise ModelError("refit-exists", sentence, "name")
            if refit not in had and not (self._folder / refit).exists():
                return refit
        raise ModelError("refit-exists", "Too many boats have this name: choose another.")

    def _opened(self, refit: str) -> WorkingCopy:
        elsewhere = self._files.get(refit)
        self._locks[refit] = (RefitLock(self._folder, refit),)
        journal = Journal(self.database, refit, str(elsewhere or ""))
        try:
            if elsewhere is not None:
                self._locks[refit] += (document_lock(elsewhere, refit),)
            copy = WorkingCopy(refit, self.file(refit), journal)
        except BaseException:
            journal.close()
            self._unlock(refit)
            raise
        copy.on_change = lambda: self.on_change(refit, copy.state.edit)
        copy.on_file_trouble = lambda: self.on_file_trouble(refit)
        copy.on_save = lambda edit: self.on_save(refit, edit)
        copy.require_answerable = lambda state: self.require_answerable(copy, state)
        return copy

    def _id_of(self, file: Path) -> str:
        """The id under which a file's history is stored; a file that was moved keeps it."""
        known = self._known_files() if self.database.exists else {}
        stored = next((refit for refit, path in known.items() if path == str(file)), None)
        if stored is not None:
            return stored
        ids = _ids_for(file.stem)
        for refit in ids:
            other = known.get(refit, str(file))
            in_folder = (self._folder / refit / FILE_NAME).exists()
            if not in_folder and (other == str(file) or not Path(other).exists()):
                return refit
        return ids[0]

    def refit_of(self, file: Path) -> str | None:
        """The refit whose document a file is; None if the data folder does not know it."""
        file = file.resolve()
        if file.name == FILE_NAME and file.parent.parent == self._folder.resolve():
            return file.parent.name
        known = self._known_files() if self.database.exists else {}
        return next((refit for refit, path in known.items() if path == str(file)), None)

    def _known_files(self) -> dict[str, str]:
        with self.database.reading() as session:
            rows = session.execute(select(tables.Refit.id, tables.Refit.file))
            return {refit: file for refit, file in rows if file}


def refit_id(name: str) -> str:
    """The id of a refit called ``name``, in any script: lower case, ASCII, hyphens.

    Raises:
        ModelError: ``bad-name``.

    >>> refit_id("Salt Marrow II"), refit_id("Åse"), refit_id("Чайка"), refit_id("船")
    ('salt-marrow-ii', 'ase', 'chayka', 'boat')
    """
    key = document_key(name, "boat")
    if not key:
        raise ModelError("bad-name", "Give the refit a name with letters or digits.", "name")
    return key[:LONGEST_ID].strip("-")


def _comparable(name: str) -> str:
    """A name for comparison: case, spaces and punctuation removed."""
    return "".join(filter(str.isalnum, normalize("NFC", name).casefold()))


def _ids_for(name: str) -> tuple[str, ...]:
    """Candidate ids for a name, the plainest first."""
    plain = refit_id(name)
    return (plain, *(f"{plain}-{number}" for number in range(2, MOST_SUFFIXES)))
