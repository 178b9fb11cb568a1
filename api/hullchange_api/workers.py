"""CAD in a process of its own: its kernel holds the interpreter, and the server must answer."""

import multiprocessing
import os
from collections.abc import Mapping
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from threading import Lock, Thread

from hullchange.errors import ModelError
from hullchange.geometry.surface import Weighed
from hullchange.study.boat import BuiltPart

Solids = tuple[tuple[str, Weighed], ...]
KEPT = 64


def _end_with_parent() -> None:
    """See to it that this process does not outlive a server that was killed."""
    parent = multiprocessing.parent_process()
    assert parent is not None

    def wait() -> None:
        parent.join()
        os._exit(1)

    Thread(target=wait, daemon=True).start()


def _warm() -> None:
    from hullchange.parts import solids  # noqa: F401 - seconds of import, before anybody waits


def _solids_of(part: BuiltPart) -> Solids:
    from hullchange.parts import solids

    return tuple(solids.record_of(part.part.plates))


class Workers:
    """One process that builds solids, started on first use; answers kept by the part's key."""

    def __init__(self) -> None:
        """Nothing is started yet."""
        self._lock = Lock()
        self._pool: ProcessPoolExecutor | None = None
        self._kept: dict[str, Future[Solids]] = {}

    def warm_up(self) -> None:
        """Start the process and let it load the kernel."""
        self._running().submit(_warm)

    def begin(self, parts: Mapping[str, BuiltPart]) -> None:
        """Ask for the solids of every part, to be waited for later."""
        for part in parts.values():
            self._asked(part)

    def solids(
        self, parts: Mapping[str, BuiltPart], patience: float | None
    ) -> Mapping[str, Solids] | None:
        """The weighed solids of every part by its id; None where they are not ready yet.

        Args:
            parts: by id.
            patience: how long to wait [s]; as long as it takes where None.

        Raises:
            ModelError: ``cad-ended`` where the process died; the next question starts another.
        """
        try:
            futures = {name: self._asked(part) for name, part in parts.items()}
            return {name: future.result(timeout=patience) for name, future in futures.items()}
        except TimeoutError:
            return None
        except BrokenProcessPool as error:
            with self._lock:
                self._pool = None
                self._kept.clear()
            sentence = "The CAD process ended by itself, perhaps for want of memory: ask again."
            raise ModelError("cad-ended", sentence) from error

    def close(self) -> None:
        """End the process."""
        with self._lock:
            if self._pool is not None:
                self._pool.shutdown(wait=False, cancel_futures=True)
                self._pool = None

    def _asked(self, part: BuiltPart) -> Future[Solids]:
        with self._lock:
            kept = self._kept.get(part.key)
        if kept is None or kept.cancelled():
            kept = self._running().submit(_solids_of, part)
            with self._lock:
                self._kept[part.key] = kept
                for stale in list(self._kept)[:-KEPT]:
                    self._kept.pop(stale).cancel()
        return kept

    def _running(self) -> ProcessPoolExecutor:
        with self._lock:
            if self._pool is None:
                # spawned, not forked: the server has threads by the time anybody asks
                context = multiprocessing.get_context("spawn")
                self._pool = ProcessPoolExecutor(1, context, _end_with_parent)
            return self._pool
