"""Reads of one refit by many pages, which must not slow down the page that drags it."""

import asyncio
from collections.abc import Callable, Hashable
from threading import Lock

from starlette.concurrency import run_in_threadpool

from hullchange_api.store.working_copy import WorkingCopy

CALM_SECONDS, CHECK_EVERY_SECONDS = 0.25, 0.05
MOST_CHECKS = 600
"""A drag of more than half a minute is not waited for."""

EditAndBody = tuple[int, bytes]
"""The edit, and the answer as it is sent."""


class ReadQueue:
    """Answers worked out one at a time, each for all who asked before it was started."""

    def __init__(self) -> None:
        """Nobody waits yet."""
        self._turn, self._calm_turn = Lock(), Lock()
        self._waiting: dict[Hashable, asyncio.Task[EditAndBody]] = {}

    async def answer(
        self, key: Hashable, work: Callable[[], EditAndBody], calm: WorkingCopy | None
    ) -> EditAndBody:
        """The answer of ``work``, started after this call.

        Args:
            key: equal for all whom the same answer serves.
            work: works the answer out.
            calm: a refit whose drag is waited for first, or None.

        Raises:
            ModelError: whatever ``work`` refuses.
        """
        place = (asyncio.get_running_loop(), key)
        task = self._waiting.get(place)
        if task is None:
            task = asyncio.create_task(self._worked_out(place, work, calm))
            self._waiting[place] = task
        return await asyncio.shield(task)

    async def _worked_out(
        self, place: Hashable, work: Callable[[], EditAndBody], calm: WorkingCopy | None
    ) -> EditAndBody:
        def begin() -> EditAndBody:
            # a short answer does not wait for a whole one
            with self._turn if calm is None else self._calm_turn:
                del self._waiting[place]
                return work()

        for _ in range(MOST_CHECKS):
            if calm is None or not calm.was_dragged_within(CALM_SECONDS):
                break
            await asyncio.sleep(CHECK_EVERY_SECONDS)
        return await run_in_threadpool(begin)
