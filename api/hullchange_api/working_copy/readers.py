"""Many readers of one refit, who must not stand in the way of the one who drags it."""

import asyncio
from collections.abc import Callable, Hashable
from threading import Lock

from starlette.concurrency import run_in_threadpool

from hullchange_api.store.working_copy import WorkingCopy

CALM_SECONDS, LOOK_AGAIN_SECONDS = 0.25, 0.05
LOOKS = 600
"""Who drags on for half a minute is waited for no longer."""

Told = tuple[int, bytes]
"""The edit, and the answer as it is sent."""


class Reads:
    """Answers worked out one at a time, each for everybody who asked before it was begun."""

    def __init__(self) -> None:
        """Nobody waits yet."""
        self._turn, self._calm_turn = Lock(), Lock()
        self._waiting: dict[Hashable, asyncio.Task[Told]] = {}

    async def answer(
        self, key: Hashable, work: Callable[[], Told], calm: WorkingCopy | None
    ) -> Told:
        """What ``work`` answers, begun after this was asked.

        Args:
            key: the same for everybody whom the same answer serves.
            work: works it out.
            calm: a refit that is not to be dragged meanwhile, or None.

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
        self, place: Hashable, work: Callable[[], Told], calm: WorkingCopy | None
    ) -> Told:
        def begin() -> Told:
            # who asks for less does not wait for the whole
            with self._turn if calm is None else self._calm_turn:
                del self._waiting[place]
                return work()

        for _ in range(LOOKS):
            if calm is None or not calm.was_dragged_within(CALM_SECONDS):
                break
            await asyncio.sleep(LOOK_AGAIN_SECONDS)
        return await run_in_threadpool(begin)
