"""One process at a time has a refit open: two would overwrite each other."""

from getpass import getuser
from hashlib import sha256
from pathlib import Path
from tempfile import gettempdir

from filelock import FileLock, Timeout

from hullchange.errors import ModelError
from hullchange_api.store.files import LOCK, PRIVATE_FILE, make_private


class RefitLock:
    """A refit held by this process until it is released, or the process ends in any way."""

    def __init__(self, folder: Path, refit: str, name: str = "") -> None:
        """Take the lock.

        Args:
            folder: where the lock's file is, made if it is missing.
            refit: its id.
            name: of the file; the refit's id if empty.

        Raises:
            ModelError: ``open-elsewhere``; ``not-saved`` if the folder cannot be written.
        """
        # taken and released by different threads
        file = folder / f"{name or refit}{LOCK}"
        self._lock = FileLock(file, timeout=0.0, mode=PRIVATE_FILE, thread_local=False)
        try:
            make_private(folder)
            self._lock.acquire()
        except Timeout as error:
            sentence = (
                f"Another hullchange has {refit} open, and two would write over one "
                "another: use that one's pages, or end it first."
            )
            raise ModelError("open-elsewhere", sentence) from error
        except OSError as error:
            sentence = (
                f"The folder {folder.name} cannot be written ({error}): make room or allow "
                "writing there."
            )
            raise ModelError("not-saved", sentence) from error

    def close(self) -> None:
        """Release the lock."""
        self._lock.release()


def document_lock(file: Path, refit: str) -> RefitLock:
    """A document held by this process, in whichever data folder its refit is kept.

    Raises:
        ModelError: as ``RefitLock``.
    """
    folder = Path(gettempdir()) / f"hullchange-locks-{_account()}"
    return RefitLock(folder, refit, sha256(str(file).encode()).hexdigest())


def _account() -> str:
    """Name of the account; a container may run under one that has no name."""
    try:
        return getuser()
    except (ImportError, KeyError, OSError):  # as the system and the version of Python have it
        return "nameless"
