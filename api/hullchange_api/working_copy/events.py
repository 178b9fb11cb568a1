"""Server-sent events, which notify every open page of changes."""

import asyncio
import json
from collections.abc import AsyncIterator, Callable
from contextlib import suppress
from math import inf
from threading import Lock
from time import monotonic

KEEP_ALIVE_SECONDS = 15.0
MOST_WAITING = 100
MOST_LISTENERS = 500
ENDED = ""

Listener = tuple[str, asyncio.AbstractEventLoop, "asyncio.Queue[str]"]


class Events:
    """The listeners of each refit. Any thread may publish; streams run in the event loop."""

    def __init__(self) -> None:
        """Start without listeners."""
        self._lock = Lock()
        self._listeners: list[Listener] = []

    def publish(self, refit: str, kind: str, **fields: str | int) -> None:
        """Send an event to all listeners of a refit; a slow one loses its oldest events."""
        text = _line(kind, **fields)
        with self._lock:
            listeners = [one for one in self._listeners if one[0] == refit]
        _send(listeners, text)

    def close(self) -> None:
        """End every stream: the server waits for open ones when it stops."""
        with self._lock:
            listeners, self._listeners = self._listeners, []
        _send(listeners, ENDED)

    async def stream(
        self, refit: str, why_closed: Callable[[], str], ends_in_s: float = inf
    ) -> AsyncIterator[str]:
        """The events of a refit from now on, as lines of an event stream.

        Args:
            refit: its id.
            why_closed: called before every event; the first result that is not empty is sent,
                and ends the stream.
            ends_in_s: when to call it even without an event.
        """
        queue: asyncio.Queue[str] = asyncio.Queue(MOST_WAITING)
        listener: Listener = (refit, asyncio.get_running_loop(), queue)
        with self._lock:
            self._listeners = [*self._listeners, listener]
            oldest = self._listeners[:-MOST_LISTENERS]
        _send(oldest, ENDED)
        try:
            text = ": listening\n\n"
            ends_at = monotonic() + ends_in_s
            while text != ENDED:
                if why := await asyncio.to_thread(why_closed):
                    yield _line("shut", why=why)
                    return
                yield text
                left = ends_at - monotonic()
                try:
                    timeout = min(left if left > 0.0 else inf, KEEP_ALIVE_SECONDS)
                    text = await asyncio.wait_for(queue.get(), timeout)
                except TimeoutError:
                    text = ": still there\n\n"
        finally:
            with self._lock:
                self._listeners = [one for one in self._listeners if one is not listener]


def _line(kind: str, **fields: str | int) -> str:
    return f"event: {kind}\ndata: {json.dumps(fields)}\n\n"


def _send(listeners: list[Listener], text: str) -> None:
    for _, loop, queue in listeners:
        with suppress(RuntimeError):  # the loop is closed
            loop.call_soon_threadsafe(_put, queue, text)


def _put(queue: "asyncio.Queue[str]", text: str) -> None:
    if queue.full():
        queue.get_nowait()
    queue.put_nowait(text)
