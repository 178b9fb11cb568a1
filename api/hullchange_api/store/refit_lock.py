"""One process at a time has a refit open: two would write over one another."""

import sqlite3
from getpass import getuser
from hashlib import sha256
from pathlib import Path
from tempfile import gettempdir

from hullchange.errors import ModelError
from hullchange_api.store.files import LOCK, PRIVATE_FILE, make_private


class Sole:
    """A refit held by this process until it is let go, or the process ends however it ends."""

    def __init__(self, folder: Path, refit: str, lock: str = "") -> None:
        """Take hold; SQLite's lock is one that every system has and lets go of at the end.

        Args:
            folder: where the lock is, made where it is missing.
            refit: its id.
            lock: its name; the refit's where none is given.

        Raises:
            ModelError: ``open-elsewhere``; ``not-saved`` where the folder cannot be written.
        """
        try:
            make_private(folder)
            file = folder / f"{lock or refit}{LOCK}"
            file.touch(PRIVATE_FILE)
            self._held = sqlite3.connect(
                file,
                timeout=0.0,
                isolation_level=None,
                check_same_thread=False,
            )
            self._held.execute("BEGIN EXCLUSIVE")
        except (OSError, sqlite3.Error) as error:
            if getattr(error, "sqlite_errorcode", None) == sqlite3.SQLITE_BUSY:
                sentence = (
                    f"Another hullchange has {refit} open, and two would write over one "
                    "another: use that one's pages, or end it first."
                )
                raise ModelError("open-elsewhere", sentence) from error
            sentence = (
                f"The folder {folder.name} cannot be written ({error}): make room or allow "
                "writing there."
            )
            raise ModelError("not-saved", sentence) from error

    def close(self) -> None:
        """Let go."""
        self._held.close()


def locked_file(file: Path, refit: str) -> Sole:
    """A document held by this process, whichever data folder its refit is kept in.

    Raises:
        ModelError: as ``Sole`` does.
    """
    folder = Path(gettempdir()) / f"hullchange-locks-{getuser()}"
    return Sole(folder, refit, sha256(str(file).encode()).hexdigest())
