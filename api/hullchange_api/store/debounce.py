"""Something done once, a while after it was last asked for."""

from collections.abc import Callable
from threading import Condition, Thread
from time import monotonic


class Later:
    """Asked again before its time, it waits anew: a drag asks thirty times a second."""

    def __init__(self, work: Callable[[], None], after_seconds: float) -> None:
        """Nothing is asked for yet."""
        self._work = work
        self._after = after_seconds
        self._due: float | None = None
        self._waits = False
        self._moved = Condition()

    def ask(self) -> None:
        """Do it when the time is over, counted from now."""
        with self._moved:
            self._due = monotonic() + self._after
            if not self._waits:
                self._waits = True
                Thread(target=self._wait, daemon=True).start()

    def cancel(self) -> None:
        """Do not do it, unless it is asked for again."""
        with self._moved:
            self._due = None
            self._moved.notify()

    def _wait(self) -> None:
        with self._moved:
            while self._due is not None and (left := self._due - monotonic()) > 0.0:
                self._moved.wait(left)
            self._waits = False
            is_due, self._due = self._due is not None, None
        if is_due:
            self._work()
