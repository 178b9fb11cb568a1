"""CAD in its own process: its kernel holds the interpreter lock, which the server needs."""

import multiprocessing
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping
from concurrent.futures import CancelledError, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from threading import Lock
from typing import ParamSpec, TypeVar

from hullchange.boat.built import BuiltPart
from hullchange.errors import ModelError
from hullchange_api.processes.cad_child import Solids, end_with_parent, load_kernel, solids_of
from hullchange_api.processes.child import starting

MOST_KEPT, MOST_IDLE = 4096, 64
"""Results to cache; pending requests to leave when nobody waits for them any more."""

TIMEOUT_S = 300.0
TOO_LONG = "The CAD solids are taking too long: try again, or simplify the parts."
Arguments = ParamSpec("Arguments")
Returned = TypeVar("Returned")


class CadWorker:
    """One process that builds solids, started on first use; results are cached by part key."""

    def __init__(self) -> None:
        """Start nothing yet."""
        self._lock = Lock()
        self._pool: ProcessPoolExecutor | None = None
        self._cached: dict[str, Future[Solids]] = {}
        self._waited_for: Counter[str] = Counter()

    def warm_up(self) -> None:
        """Start the process, and have it load the kernel."""
        with starting():
            self._running().submit(load_kernel)

    def begin(self, parts: Mapping[str, BuiltPart]) -> None:
        """Request the solids of every part, to be waited for later."""
        self._requested(parts.values())

    def solids(
        self, parts: Mapping[str, BuiltPart], timeout_s: float | None
    ) -> Mapping[str, Solids] | None:
        """The weighed solids of every part by its id; None if they are not ready in time.

        Args:
            parts: by id.
            timeout_s: how long to wait [s]; None for as long as it takes.

        Raises:
            ModelError: ``cad-ended`` if the process died; the next request starts another.
        """
        with self._refused_if_ended(), self._waiting_for(parts.values()) as futures:
            try:
                found = {key: f.result(timeout=timeout_s) for key, f in futures.items()}
            except TimeoutError:
                return None
            return {name: found[part.key] for name, part in parts.items()}

    def wait_for_solids(self, parts: Mapping[str, BuiltPart]) -> Mapping[str, Solids]:
        """The weighed solids of every part by its id; waits until they are ready.

        Raises:
            ModelError: ``cad-ended``.
        """
        found = self.solids(parts, TIMEOUT_S)
        if found is None:
            raise ModelError("cad-ended", TOO_LONG)
        return found

    def run(
        self,
        work: Callable[Arguments, Returned],
        *given: Arguments.args,
        **more: Arguments.kwargs,
    ) -> Returned:
        """The result of a function run in that process; waits for it.

        Raises:
            ModelError: ``cad-ended``; whatever the function refuses.
        """
        with self._refused_if_ended():
            try:
                return self._running().submit(work, *given, **more).result(timeout=TIMEOUT_S)
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
                    self._cached.clear()
            sentence = "The CAD process stopped, perhaps for lack of memory: try again."
            raise ModelError("cad-ended", sentence) from error

    @contextmanager
    def _waiting_for(self, parts: Collection[BuiltPart]) -> Iterator[dict[str, Future[Solids]]]:
        """The solids of parts by key; none of them is dropped while a caller waits."""
        keys = Counter({part.key for part in parts})
        with self._lock:
            self._waited_for += keys
        try:
            yield self._requested(parts)
        finally:
            with self._lock:
                self._waited_for -= keys

    def _requested(self, parts: Collection[BuiltPart]) -> dict[str, Future[Solids]]:
        pool = self._running()
        with self._lock:
            futures = {}
            for part in parts:
                future = self._cached.pop(part.key, None)
                if future is None:
                    future = pool.submit(solids_of, part.part.plates)
                futures[part.key] = self._cached[part.key] = future
            self._drop_oldest(futures)
        return futures

    def _drop_oldest(self, present: Collection[str]) -> None:
        """Drop the oldest results, and pending requests that a drag has left behind."""
        earlier = {k: f for k, f in self._cached.items() if k not in present}
        idle = [k for k, f in earlier.items() if not f.done() and not self._waited_for[k]]
        done = [k for k, f in earlier.items() if f.done()]
        for key in [*done[:-MOST_KEPT], *(k for k in idle[:-MOST_IDLE] if earlier[k].cancel())]:
            del self._cached[key]

    def _running(self) -> ProcessPoolExecutor:
        with self._lock:
            if self._pool is None:
                # spawned, not forked: the server has threads by now
                context = multiprocessing.get_context("spawn")
                self._pool = ProcessPoolExecutor(1, context, end_with_parent)
            return self._pool
