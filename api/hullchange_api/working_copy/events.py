"""Server-sent events: every open page learns that something changed."""

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
    """Who listens to which refit. Any thread may publish; the server's loop listens."""

    def __init__(self) -> None:
        """Nobody listens yet."""
        self._lock = Lock()
        self._listeners: list[Listener] = []

    def publish(self, refit: str, kind: str, **fields: str | int) -> None:
        """Send an event to all who listen to a refit; a slow listener loses the oldest."""
        text = _line(kind, **fields)
        with self._lock:
            listeners = [one for one in self._listeners if one[0] == refit]
        _send(listeners, text)

    def close(self) -> None:
        """End every stream, since the server waits for open ones when it stops."""
        with self._lock:
            listeners, self._listeners = self._listeners, []
        _send(listeners, ENDED)

    async def stream(
        self, refit: str, why_shut: Callable[[], str], ends_in_s: float = inf
    ) -> AsyncIterator[str]:
        """The events of a refit from now on, as the lines of an event stream.

        Args:
            refit: its id.
            why_shut: asked before every event; the first answer that is not empty is sent, and
                ends the stream.
            ends_in_s: when it is asked at the latest.
        """
        queue: asyncio.Queue[str] = asyncio.Queue(MOST_WAITING)
        me: Listener = (refit, asyncio.get_running_loop(), queue)
        with self._lock:
            self._listeners = [*self._listeners, me]
            oldest = self._listeners[:-MOST_LISTENERS]
        _send(oldest, ENDED)
        try:
            text = ": listening\n\n"
            ends_at = monotonic() + ends_in_s
            while text != ENDED:
                if why := await asyncio.to_thread(why_shut):
                    yield _line("shut", why=why)
                    return
                yield text
                left = ends_at - monotonic()
                try:
                    patience = min(left if left > 0.0 else inf, KEEP_ALIVE_SECONDS)
                    text = await asyncio.wait_for(queue.get(), patience)
                except TimeoutError:
                    text = ": still there\n\n"
        finally:
            with self._lock:
                self._listeners = [one for one in self._listeners if one is not me]


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
