"""A queue for reads by many pages, so that they do not slow down a drag."""

import asyncio
from collections.abc import Callable, Hashable
from threading import Lock

from starlette.concurrency import run_in_threadpool

from hullchange_api.store.working_copy import WorkingCopy

CALM_SECONDS, CHECK_EVERY_SECONDS = 0.25, 0.05
MOST_CHECKS = 600
"""Half a minute; a longer drag is not waited for."""

EditAndBody = tuple[int, bytes]
"""The edit number and the response body."""


class ReadQueue:
    """Calculates answers one at a time, each shared by all who asked before it started."""

    def __init__(self) -> None:
        """Start with an empty queue."""
        self._turn, self._calm_turn = Lock(), Lock()
        self._waiting: dict[Hashable, asyncio.Task[EditAndBody]] = {}

    async def answer(
        self, key: Hashable, work: Callable[[], EditAndBody], dragged: WorkingCopy | None
    ) -> EditAndBody:
        """The answer of ``work``, started after this call.

        Args:
            key: equal for all calls that share an answer.
            work: calculates the answer.
            dragged: a refit whose drag to wait out first, or None.

        Raises:
            ModelError: whatever ``work`` refuses.
        """
        place = (asyncio.get_running_loop(), key)
        task = self._waiting.get(place)
        if task is None:
            task = asyncio.create_task(self._worked_out(place, work, dragged))
            self._waiting[place] = task
        return await asyncio.shield(task)

    async def _worked_out(
        self, place: Hashable, work: Callable[[], EditAndBody], dragged: WorkingCopy | None
    ) -> EditAndBody:
        def begin() -> EditAndBody:
            # a partial answer does not wait for a full one
            with self._turn if dragged is None else self._calm_turn:
                del self._waiting[place]
                return work()

        for _ in range(MOST_CHECKS):
            if dragged is None or not dragged.was_dragged_within(CALM_SECONDS):
                break
            await asyncio.sleep(CHECK_EVERY_SECONDS)
        return await run_in_threadpool(begin)
