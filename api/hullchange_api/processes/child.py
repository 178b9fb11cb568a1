"""Work in a process of its own, which can be ended at any moment and does not outlive us."""

import multiprocessing
import os
import signal
import sys
from collections.abc import Callable, Iterator
from multiprocessing.connection import Connection

from hullchange_api.processes.cad_child import end_with_parent

POLITE = 10
"""How much a long piece of work steps back behind the server [of nice]."""


class Child:
    """One piece of work in a process of its own, and what it tells."""

    def __init__(self, work: Callable[..., None], *given: object) -> None:
        """Start it: ``work`` is called with a function that tells, and what is given."""
        # spawned, not forked: the server has threads by the time anybody asks
        context = multiprocessing.get_context("spawn")
        self._ours, theirs = context.Pipe(duplex=False)
        self._process = context.Process(target=_at_work, args=(theirs, work, given))
        self._process.daemon = True
        self._process.start()
        theirs.close()

    def told(self) -> Iterator[object]:
        """What it tells, until it ends."""
        try:
            while True:
                yield self._ours.recv()
        except EOFError:
            self._process.join()
            self._ours.close()

    def stop(self) -> None:
        """End it; what it has told so far stays."""
        self._process.terminate()


def _at_work(pipe: Connection, work: Callable[..., None], given: tuple[object, ...]) -> None:
    end_with_parent()
    # leaving in good order ends the programs that were started here
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    os.nice(POLITE)
    work(pipe.send, *given)
