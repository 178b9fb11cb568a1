"""Writing files whole."""

import os
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from errno import EACCES
from glob import escape
from pathlib import Path
from typing import IO

from hullchange.errors import ModelError

FILE_NAME = "refit.yaml"
"""The document of a refit that is kept in the data folder."""

UNFINISHED = ".part"


def write_whole(file: Path, content: bytes) -> None:
    """Write a file so that a reader sees the old one or the new one, never a half.

    When it is over, the new one outlives a power cut.

    Raises:
        OSError: where the folder cannot be written; the old file is untouched.
    """
    with written_whole(file) as stream:
        stream.write(content)


@contextmanager
def written_whole(file: Path) -> Iterator[IO[bytes]]:
    """A stream whose content becomes the file when it ends, or nothing does.

    Raises:
        OSError: where the folder cannot be written; the old file is untouched.
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
        mode = file.stat().st_mode & 0o777 if file.exists() else 0o644
        Path(name).chmod(mode)
        Path(name).replace(file)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    _synchronise(file.parent)


def write_all(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files below a folder, made where it is missing: all of them, or none.

    Args:
        folder: where they go.
        files: content by path in it.

    Raises:
        ModelError: ``folder-not-written`` where a folder cannot be made or written in.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(UNFINISHED, ".", folder) as aside:
            staged = {Path(aside) / str(k): folder / name for k, name in enumerate(files)}
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
            f"Nothing is written: {error.filename or folder} cannot be a folder to write in "
            f"({error.strerror}). Name another, or allow writing there."
        )
        raise ModelError("folder-not-written", sentence) from error
    _synchronise(folder)


def sweep(file: Path) -> None:
    """Take away what a process that was killed while it wrote a file has left beside it."""
    with suppress(OSError):  # where nothing can be taken away, nothing can be written either
        for unfinished in file.parent.glob(f".{escape(file.name)}.*{UNFINISHED}"):
            unfinished.unlink()


def _synchronise(folder: Path) -> None:
    """Put the names of a folder on the disk, where the system lets one open a folder."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
