"""Watching the files of open refits for changes made by other programs."""

from pathlib import Path
from threading import Event, Thread

from hullchange_api.store.refits import Refits
from hullchange_api.wire.unexpected import Background

EVERY_SECONDS = 0.5

Stamp = tuple[int, ...]


class Watch:
    """A thread that loads changed files, so that open pages are notified."""

    def __init__(self, refits: Refits) -> None:
        """Prepare a thread; it watches nothing until started."""
        self._refits = refits
        self._seen: dict[Path, Stamp] = {}
        self._stopped = Event()
        self._thread = Thread(target=self._run, name="watch", daemon=True)

    def start(self) -> None:
        """Start watching."""
        self._thread.start()

    def close(self) -> None:
        """Stop, after waiting for a file that is being loaded."""
        self._stopped.set()
        if self._thread.is_alive():
            self._thread.join()

    def check(self) -> None:
        """Load every file that has changed since the last check."""
        for copy in self._refits.open_copies():
            stamp = _stamp(copy.file)
            if stamp != self._seen.get(copy.file):
                self._seen[copy.file] = stamp
                with Background(f"looking at {copy.file.name}"):  # its next reader is refused
                    copy.load_changed_file()

    def _run(self) -> None:
        while not self._stopped.wait(EVERY_SECONDS):
            self.check()


def _stamp(file: Path) -> Stamp:
    try:
        now = file.stat()
    except OSError:
        return ()
    return (now.st_mtime_ns, now.st_size, now.st_ino)
