"""Writing files atomically, and keeping them private."""

import os
import stat
import sys
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from errno import EACCES
from glob import escape
from pathlib import Path
from typing import IO

from hullchange.errors import ModelError

MEGABYTE = 1024 * 1024
FILE_NAME = "refit.yaml"
"""The document of a refit in the data folder."""

DATABASE, LOCK, RESTORING, DELETED = "hullchange.db", ".lock", ".restoring-", ".deleted"
"""Names, prefixes and suffixes of everything else in a data folder."""

UNFINISHED = ".part"
MOST_COPIES = 100
GONE = (
    "is gone: deleted, moved or renamed. The boat is safe in the data folder, and the file is "
    "written again with your next edit."
)
PRIVATE_FOLDER, PRIVATE_FILE, OTHERS = 0o700, 0o600, 0o077


def write_atomically(file: Path, content: bytes) -> None:
    """Write a file so that a reader sees the old content or the new, never a part.

    Afterwards the new content survives a power cut.

    Raises:
        OSError: if the folder cannot be written; the old file is untouched.
    """
    with atomic_stream(file) as stream:
        stream.write(content)


@contextmanager
def atomic_stream(file: Path, mode: int | None = None) -> Iterator[IO[bytes]]:
    """A stream whose content replaces the file when the block ends without an error.

    Args:
        file: to be written.
        mode: its permissions; None for those it had, or for a new file those of its folder.

    Raises:
        OSError: if the folder cannot be written; the old file is untouched.
    """
    try:
        prefix = f".{file.name}."
        handle, name = tempfile.mkstemp(UNFINISHED, prefix, file.parent)
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(file)) from error
    try:
        with os.fdopen(handle, "wb") as stream:
            yield stream
            stream.flush()
            os.fsync(stream.fileno())
        Path(name).chmod(_mode_of(file) if mode is None else mode)
        Path(name).replace(file)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    _synchronise(file.parent)


def _mode_of(file: Path) -> int:
    """A file's permissions: as before, or for a new file readable by its folder's readers."""
    if file.exists():
        return file.stat().st_mode & 0o777
    return PRIVATE_FILE | (0o044 & file.parent.stat().st_mode)


def make_private(folder: Path) -> None:
    """Make a folder that only its owner can open, unless it exists.

    Raises:
        OSError: if it cannot be made.
    """
    folder.mkdir(mode=PRIVATE_FOLDER, parents=True, exist_ok=True)


def keep_private(folder: Path) -> bool:
    """Whether a data folder is private to its owner, after making private what is ours.

    That is everything hullchange keeps in the folder, and the folder itself unless it holds
    other things too or is shared (sticky bit). On Windows permissions are inherited from the
    user's profile, and mode bits mean nothing.
    """
    if sys.platform == "win32":
        return True
    ours = [path for path in folder.iterdir() if _is_ours(path)]
    for path in (inner for one in ours for inner in (one, *one.rglob("*"))):
        _restrict(path)
    mode = folder.stat().st_mode
    if len(ours) == len(list(folder.iterdir())) and not mode & stat.S_ISVTX:
        _restrict(folder)
    return not folder.stat().st_mode & OTHERS


def _is_ours(path: Path) -> bool:
    if path.is_symlink():
        return False
    if path.is_dir():
        return (path / FILE_NAME).is_file() or path.name.startswith((RESTORING, DELETED))
    return path.name.startswith(DATABASE) or LOCK in path.suffix


def _restrict(path: Path) -> None:
    """Deny others access to a file or folder, if the system allows it."""
    mode = path.lstat().st_mode
    if mode & OTHERS and not path.is_symlink():
        with suppress(OSError):
            path.chmod(stat.S_IMODE(mode) & ~OTHERS)


def write_all(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files below a folder, made if missing: all of them, or none.

    Args:
        folder: where they go.
        files: content by path below the folder.

    Raises:
        ModelError: ``folder-not-written`` if a folder cannot be made or written in.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(UNFINISHED, ".", folder) as temporary:
            staged = {Path(temporary) / str(k): folder / name for k, name in enumerate(files)}
            for file, content in zip(staged, files.values(), strict=True):
                with file.open("wb") as stream:
                    stream.write(content)
                    os.fsync(stream.fileno())
            for below in {file.parent for file in staged.values()}:
                below.mkdir(parents=True, exist_ok=True)
                if not os.access(below, os.W_OK):
                    raise PermissionError(EACCES, os.strerror(EACCES), str(below))
            for file, goal in staged.items():
                file.replace(goal)
    except OSError as error:
        sentence = (
            f"Nothing was written: {error.filename or folder} cannot be used as a folder "
            f"({error.strerror}). Choose another, or allow writing there."
        )
        raise ModelError("folder-not-written", sentence) from error
    _synchronise(folder)


def free_name(file: Path) -> Path:
    """An unused name beside a file for a copy of it; the last candidate if all are used."""
    numbers = ("", *(f"-{number}" for number in range(2, MOST_COPIES)))
    paths = [file.with_suffix(f".unsaved{number}.yaml") for number in numbers]
    return next((path for path in paths if not path.exists()), paths[-1])


def remove_unfinished(file: Path) -> None:
    """Remove temporary files that a process left beside a file when it was killed."""
    with suppress(OSError):  # where nothing can be removed, nothing can be written either
        for unfinished in file.parent.glob(f".{escape(file.name)}.*{UNFINISHED}"):
            unfinished.unlink()


def _synchronise(folder: Path) -> None:
    """Flush the names in a folder to disk, if the system lets one open a folder."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
