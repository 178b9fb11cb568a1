"""Work done once, some time after the last request for it."""

from collections.abc import Callable
from threading import Condition, Thread
from time import monotonic


class Debounced:
    """Work that every request postpones: a drag makes thirty requests a second."""

    def __init__(self, work: Callable[[], None], after_seconds: float) -> None:
        """Start with nothing requested."""
        self._work = work
        self._after = after_seconds
        self._due: float | None = None
        self._is_waiting = False
        self._changed = Condition()

    def request(self) -> None:
        """Do the work after the delay, counted from now."""
        with self._changed:
            self._due = monotonic() + self._after
            if not self._is_waiting:
                self._is_waiting = True
                Thread(target=self._wait, daemon=True).start()

    def cancel(self) -> None:
        """Drop the pending work; a new request schedules it again."""
        with self._changed:
            self._due = None
            self._changed.notify()

    def _wait(self) -> None:
        with self._changed:
            while self._due is not None and (left := self._due - monotonic()) > 0.0:
                self._changed.wait(left)
            self._is_waiting = False
            is_due, self._due = self._due is not None, None
        if is_due:
            self._work()
