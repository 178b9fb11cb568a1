"""Writing files whole."""

import os
import tempfile
from pathlib import Path


def write_whole(file: Path, content: bytes) -> None:
    """Write a file so that a reader sees the old one or the new one, never a half.

    Raises:
        OSError: where the folder cannot be written; the old file is untouched.
    """
    try:
        handle, name = tempfile.mkstemp(dir=file.parent, prefix=f".{file.name}.")
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(file)) from error
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        mode = file.stat().st_mode & 0o777 if file.exists() else 0o644
        Path(name).chmod(mode)
        Path(name).replace(file)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
