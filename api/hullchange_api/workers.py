"""CAD in a process of its own: its kernel holds the interpreter, and the server must answer."""

import multiprocessing
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from threading import Lock
from typing import ParamSpec, TypeVar

from hullchange.errors import ModelError
from hullchange.study.boat import BuiltPart
from hullchange_api.cad_child import Solids, end_with_parent, load, solids_of

KEPT = 64
LONGEST_S = 300.0
TOO_LONG = "The CAD solids take too long: try again, or simplify the parts."
Given = ParamSpec("Given")
Answer = TypeVar("Answer")


class Workers:
    """One process that builds solids, started on first use; answers kept by the part's key."""

    def __init__(self) -> None:
        """Nothing is started yet."""
        self._lock = Lock()
        self._pool: ProcessPoolExecutor | None = None
        self._kept: dict[str, Future[Solids]] = {}

    def warm_up(self) -> None:
        """Start the process and let it load the kernel."""
        self._running().submit(load)

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
        with self._said_if_ended():
            futures = {name: self._asked(part) for name, part in parts.items()}
            try:
                return {name: f.result(timeout=patience) for name, f in futures.items()}
            except TimeoutError:
                return None

    def solids_at_last(self, parts: Mapping[str, BuiltPart]) -> Mapping[str, Solids]:
        """The same, waited for.

        Raises:
            ModelError: ``cad-ended``.
        """
        found = self.solids(parts, LONGEST_S)
        if found is None:
            raise ModelError("cad-ended", TOO_LONG)
        return found

    def run(
        self, work: Callable[Given, Answer], *given: Given.args, **more: Given.kwargs
    ) -> Answer:
        """What a function answers there, waited for.

        Raises:
            ModelError: ``cad-ended``; what the function refuses.
        """
        with self._said_if_ended():
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
    def _said_if_ended(self) -> Iterator[None]:
        try:
            yield
        except BrokenProcessPool as error:
            with self._lock:
                self._pool = None
                self._kept.clear()
            sentence = "The CAD process ended by itself, perhaps for want of memory: ask again."
            raise ModelError("cad-ended", sentence) from error

    def _asked(self, part: BuiltPart) -> Future[Solids]:
        with self._lock:
            kept = self._kept.get(part.key)
        if kept is None or kept.cancelled():
            kept = self._running().submit(solids_of, part.part.plates)
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
                self._pool = ProcessPoolExecutor(1, context, end_with_parent)
            return self._pool
