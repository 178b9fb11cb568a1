"""Progress and elapsed time of long work, on standard error if that is a terminal."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event, Lock, Thread
from time import monotonic

EVERY_SECONDS = 1.0
WIDEST = 78
CLEAR = "\r" + " " * WIDEST + "\r"


@contextmanager
def progress_shown(first: str, *, ticks: bool = True) -> Iterator[Callable[[str], None]]:
    """A function that shows a progress message; the line is cleared at the end.

    Args:
        first: the first message.
        ticks: update the seconds from a thread; not for work that forks the process.
    """
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    line, over = _Line(first), Event()

    def run() -> None:
        while not over.wait(EVERY_SECONDS):
            line.show()

    thread = Thread(target=run, daemon=True)
    if ticks:
        thread.start()
    try:
        yield line.change
    finally:
        over.set()
        if ticks:
            thread.join()
        sys.stderr.write(CLEAR)
        sys.stderr.flush()


class _Line:
    """One terminal line, overwritten in place."""

    def __init__(self, words: str) -> None:
        self._started = monotonic()
        self._lock = Lock()
        self.change(words)

    def change(self, words: str) -> None:
        self._words = words
        self.show()

    def show(self) -> None:
        seconds = f" … {monotonic() - self._started:.0f} s"
        words = self._words[: WIDEST - len(seconds)]
        with self._lock:
            sys.stderr.write(f"\r{words + seconds:<{WIDEST}}")
            sys.stderr.flush()
