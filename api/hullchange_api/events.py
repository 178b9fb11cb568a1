"""Word to every open page that something changed: server-sent events."""

import asyncio
import json
from collections.abc import AsyncIterator
from threading import Lock

STILL_THERE_SECONDS = 15.0
MOST_WAITING = 100
MOST_LISTENERS = 500

Listener = tuple[str, asyncio.AbstractEventLoop, "asyncio.Queue[str]"]


class Events:
    """Who listens to which refit. Told by any thread, heard in the server's loop."""

    def __init__(self) -> None:
        """Nobody listens yet."""
        self._lock = Lock()
        self._listeners: list[Listener] = []

    def tell(self, refit: str, kind: str, **what: str | int) -> None:
        """Tell everybody who listens to a refit; whoever lags behind hears less of it."""
        text = f"event: {kind}\ndata: {json.dumps(what)}\n\n"
        with self._lock:
            listeners = [one for one in self._listeners if one[0] == refit]
        for _, loop, queue in listeners:
            if not loop.is_closed():
                loop.call_soon_threadsafe(_put, queue, text)

    async def heard(self, refit: str) -> AsyncIterator[str]:
        """What is told of a refit from now on, as the lines of an event stream."""
        queue: asyncio.Queue[str] = asyncio.Queue(MOST_WAITING)
        me: Listener = (refit, asyncio.get_running_loop(), queue)
        with self._lock:
            self._listeners = [*self._listeners[-MOST_LISTENERS:], me]
        try:
            yield ": listening\n\n"
            while True:
                try:
                    yield await asyncio.wait_for(queue.get(), STILL_THERE_SECONDS)
                except TimeoutError:
                    yield ": still there\n\n"
        finally:
            with self._lock:
                self._listeners = [one for one in self._listeners if one is not me]


def _put(queue: "asyncio.Queue[str]", text: str) -> None:
    if queue.full():
        queue.get_nowait()
    queue.put_nowait(text)
