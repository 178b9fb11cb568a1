"""Looking whether somebody else has changed the file of an open refit."""

from pathlib import Path
from threading import Event, Thread

from hullchange.errors import ModelError
from hullchange_api.store.refits import Shelf
from hullchange_api.wire.unexpected import words_of

EVERY_SECONDS = 0.5

Stamp = tuple[int, ...]


class Watch:
    """A thread that takes up changed files, so that open pages hear of them."""

    def __init__(self, shelf: Shelf) -> None:
        """Nothing is looked at before it is started."""
        self._shelf = shelf
        self._seen: dict[Path, Stamp] = {}
        self._over = Event()
        self._thread = Thread(target=self._run, name="watch", daemon=True)

    def start(self) -> None:
        """Begin to look."""
        self._thread.start()

    def close(self) -> None:
        """End, and wait until nothing is being taken up."""
        self._over.set()
        if self._thread.is_alive():
            self._thread.join()

    def look(self) -> None:
        """Take up every file that is not as it was when it was last looked at."""
        for copy in self._shelf.open_copies():
            stamp = _stamp(copy.file)
            if stamp != self._seen.get(copy.file):
                self._seen[copy.file] = stamp
                try:
                    copy.take_up_file()
                except (ModelError, OSError):
                    pass  # whoever reads the refit next is told
                except Exception as error:  # see `mistakes`: others are watched on
                    words_of(error, f"looking at {copy.file.name}")

    def _run(self) -> None:
        while not self._over.wait(EVERY_SECONDS):
            self.look()


def _stamp(file: Path) -> Stamp:
    try:
        now = file.stat()
    except OSError:
        return ()
    return (now.st_mtime_ns, now.st_size, now.st_ino)
