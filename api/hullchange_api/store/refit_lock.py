"""Locks that let one process at a time open a refit: two would overwrite each other."""

from getpass import getuser
from hashlib import sha256
from pathlib import Path
from tempfile import gettempdir

from filelock import FileLock, Timeout

from hullchange.errors import ModelError
from hullchange_api.store.files import LOCK, PRIVATE_FILE, make_private


class RefitLock:
    """A refit locked by this process until released, or until the process ends or is killed."""

    def __init__(self, folder: Path, refit: str, name: str = "") -> None:
        """Take the lock.

        Args:
            folder: of the lock file, made if missing.
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
                f"{refit} is open in another hullchange, and the two would overwrite each "
                "other: use that one's pages, or stop it first."
            )
            raise ModelError("open-elsewhere", sentence) from error
        except OSError as error:
            sentence = (
                f"The folder {folder.name} cannot be written ({error}): free some space or "
                "allow writing there."
            )
            raise ModelError("not-saved", sentence) from error

    def close(self) -> None:
        """Release the lock."""
        self._lock.release()


def document_lock(file: Path, refit: str) -> RefitLock:
    """A lock on a document, whichever data folder its refit is kept in.

    Raises:
        ModelError: as ``RefitLock``.
    """
    folder = Path(gettempdir()) / f"hullchange-locks-{_account()}"
    return RefitLock(folder, refit, sha256(str(file).encode()).hexdigest())


def _account() -> str:
    """Name of the user account, which may be missing in a container."""
    try:
        return getuser()
    except (ImportError, KeyError, OSError):  # depends on the system and the version of Python
        return "nameless"
