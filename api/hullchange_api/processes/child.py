"""Work in its own process, which can be stopped at any moment and ends with its parent."""

import multiprocessing
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from multiprocessing import resource_tracker
from multiprocessing.connection import Connection

from hullchange_api.processes.cad_child import end_with_parent

NICENESS = 10
"""How far long work yields to the server, on a system that supports it."""


@contextmanager
def uninterrupted() -> Iterator[None]:
    """A moment in which Ctrl-C is ignored, so that files are written all or not at all."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def starting() -> Iterator[None]:
    """While processes are started that Ctrl-C shall not reach from their first moment."""
    if sys.platform == "win32":
        yield
        return
    resource_tracker.ensure_running()  # it would let Ctrl-C through again when it starts
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


class Child:
    """Work in its own process, and the messages it sends."""

    def __init__(self, work: Callable[..., None], *arguments: object) -> None:
        """Start it: ``work`` is called with a function that sends messages, and arguments."""
        # spawned, not forked: the server has threads by now
        context = multiprocessing.get_context("spawn")
        self._receiver, sender = context.Pipe(duplex=False)
        self._process = context.Process(target=_run, args=(sender, work, arguments))
        self._process.daemon = True
        self._process.start()
        sender.close()

    def messages(self) -> Iterator[object]:
        """The messages it sends, until it ends."""
        try:
            while True:
                yield self._receiver.recv()
        except EOFError:
            self._process.join()
            self._receiver.close()

    def stop(self) -> None:
        """End it; messages sent so far can still be read."""
        self._process.terminate()


def _run(pipe: Connection, work: Callable[..., None], arguments: tuple[object, ...]) -> None:
    end_with_parent()
    # an orderly exit ends the programs that this process started
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))
    give_way()
    work(pipe.send, *arguments)


def give_way() -> None:
    """Lower this process's priority, on a system that can."""
    if sys.platform != "win32":
        os.nice(NICENESS)
