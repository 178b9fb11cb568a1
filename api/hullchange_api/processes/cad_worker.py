"""CAD in a process of its own: its kernel holds the interpreter, and the server must answer."""

import multiprocessing
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping
from concurrent.futures import CancelledError, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from threading import Lock
from typing import ParamSpec, TypeVar

from hullchange.boat.boat import BuiltPart
from hullchange.errors import ModelError
from hullchange_api.processes.cad_child import Solids, end_with_parent, load_kernel, solids_of

MOST_KEPT, MOST_IDLE = 4096, 64
"""Answers that are kept, and pending questions that nobody waits for any more."""

LONGEST_S = 300.0
TOO_LONG = "The CAD solids take too long: try again, or simplify the parts."
Arguments = ParamSpec("Arguments")
Returned = TypeVar("Returned")


class CadWorker:
    """One process that builds solids, started on first use; answers kept by the part's key."""

    def __init__(self) -> None:
        """Start nothing yet."""
        self._lock = Lock()
        self._pool: ProcessPoolExecutor | None = None
        self._kept: dict[str, Future[Solids]] = {}
        self._waited_for: Counter[str] = Counter()

    def warm_up(self) -> None:
        """Start the process and let it load the kernel."""
        self._running().submit(load_kernel)

    def begin(self, parts: Mapping[str, BuiltPart]) -> None:
        """Ask for the solids of every part, to be waited for later."""
        self._asked(parts.values())

    def solids(
        self, parts: Mapping[str, BuiltPart], patience: float | None
    ) -> Mapping[str, Solids] | None:
        """The weighed solids of every part by its id; None if they are not ready in time.

        Args:
            parts: by id.
            patience: how long to wait [s]; as long as it takes where None.

        Raises:
            ModelError: ``cad-ended`` where the process died; the next question starts another.
        """
        with self._refused_if_ended(), self._waiting_for(parts.values()) as futures:
            try:
                found = {key: f.result(timeout=patience) for key, f in futures.items()}
            except TimeoutError:
                return None
            return {name: found[part.key] for name, part in parts.items()}

    def solids_at_last(self, parts: Mapping[str, BuiltPart]) -> Mapping[str, Solids]:
        """The weighed solids of every part by its id, waited for.

        Raises:
            ModelError: ``cad-ended``.
        """
        found = self.solids(parts, LONGEST_S)
        if found is None:
            raise ModelError("cad-ended", TOO_LONG)
        return found

    def run(
        self,
        work: Callable[Arguments, Returned],
        *given: Arguments.args,
        **more: Arguments.kwargs,
    ) -> Returned:
        """What a function returns in that process, waited for.

        Raises:
            ModelError: ``cad-ended``; what the function refuses.
        """
        with self._refused_if_ended():
            try:
                return self._running().submit(work, *given, **more).result(timeout=LONGEST_S)
            except TimeoutError as error:
                raise ModelError("cad-ended", TOO_LONG) from error

    def close(self) -> None:
        """End the process."""
        with self._lock:
            if self._pool is not None:
                self._pool.shutdown(wait=False, cancel_futures=True)
                self._pool = None

    @contextmanager
    def _refused_if_ended(self) -> Iterator[None]:
        pool = self._pool
        try:
            yield
        except (BrokenProcessPool, CancelledError) as error:
            with self._lock:
                if self._pool is pool or pool is None:  # else another was started meanwhile
                    self._pool = None
                    self._kept.clear()
            sentence = "The CAD process ended by itself, perhaps for want of memory: ask again."
            raise ModelError("cad-ended", sentence) from error

    @contextmanager
    def _waiting_for(self, parts: Collection[BuiltPart]) -> Iterator[dict[str, Future[Solids]]]:
        """The solids of parts by key; none of them is dropped while somebody waits."""
        keys = Counter({part.key for part in parts})
        with self._lock:
            self._waited_for += keys
        try:
            yield self._asked(parts)
        finally:
            with self._lock:
                self._waited_for -= keys

    def _asked(self, parts: Collection[BuiltPart]) -> dict[str, Future[Solids]]:
        pool = self._running()
        with self._lock:
            futures = {}
            for part in parts:
                future = self._kept.pop(part.key, None)
                if future is None:
                    future = pool.submit(solids_of, part.part.plates)
                futures[part.key] = self._kept[part.key] = future
            self._drop_oldest(futures)
        return futures

    def _drop_oldest(self, present: Collection[str]) -> None:
        """Drop the oldest answers, and pending questions that a drag has left behind."""
        earlier = {k: f for k, f in self._kept.items() if k not in present}
        idle = [k for k, f in earlier.items() if not f.done() and not self._waited_for[k]]
        done = [k for k, f in earlier.items() if f.done()]
        for key in [*done[:-MOST_KEPT], *(k for k in idle[:-MOST_IDLE] if earlier[k].cancel())]:
            del self._kept[key]

    def _running(self) -> ProcessPoolExecutor:
        with self._lock:
            if self._pool is None:
                # spawned, not forked: the server has threads by now
                context = multiprocessing.get_context("spawn")
                self._pool = ProcessPoolExecutor(1, context, end_with_parent)
            return self._pool
