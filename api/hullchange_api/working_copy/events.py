"""Word to every open page that something changed: server-sent events."""

import asyncio
import json
from collections.abc import AsyncIterator, Callable
from contextlib import suppress
from math import inf
from threading import Lock
from time import monotonic

STILL_THERE_SECONDS = 15.0
MOST_WAITING = 100
MOST_LISTENERS = 500
ENDED = ""

Listener = tuple[str, asyncio.AbstractEventLoop, "asyncio.Queue[str]"]


class Events:
    """Who listens to which refit. Told by any thread, heard in the server's loop."""

    def __init__(self) -> None:
        """Nobody listens yet."""
        self._lock = Lock()
        self._listeners: list[Listener] = []

    def tell(self, refit: str, kind: str, **what: str | int) -> None:
        """Tell everybody who listens to a refit; whoever lags behind hears less of it."""
        text = _line(kind, **what)
        with self._lock:
            listeners = [one for one in self._listeners if one[0] == refit]
        _say(listeners, text)

    def close(self) -> None:
        """End every stream, since a server waits for what it answers."""
        with self._lock:
            listeners, self._listeners = self._listeners, []
        _say(listeners, ENDED)

    async def heard(
        self, refit: str, why_shut: Callable[[], str], ends_in_s: float = inf
    ) -> AsyncIterator[str]:
        """What is told of a refit from now on, as the lines of an event stream.

        Args:
            refit: its id.
            why_shut: asked before every word; the first answer that is not empty is told, and
                ends the stream.
            ends_in_s: when it is asked at the latest.
        """
        queue: asyncio.Queue[str] = asyncio.Queue(MOST_WAITING)
        me: Listener = (refit, asyncio.get_running_loop(), queue)
        with self._lock:
            self._listeners = [*self._listeners, me]
            late = self._listeners[:-MOST_LISTENERS]
        _say(late, ENDED)
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
                    patience = min(left if left > 0.0 else inf, STILL_THERE_SECONDS)
                    text = await asyncio.wait_for(queue.get(), patience)
                except TimeoutError:
                    text = ": still there\n\n"
        finally:
            with self._lock:
                self._listeners = [one for one in self._listeners if one is not me]


def _line(kind: str, **what: str | int) -> str:
    return f"event: {kind}\ndata: {json.dumps(what)}\n\n"


def _say(listeners: list[Listener], text: str) -> None:
    for _, loop, queue in listeners:
        with suppress(RuntimeError):  # a loop that is closed hears nothing
            loop.call_soon_threadsafe(_put, queue, text)


def _put(queue: "asyncio.Queue[str]", text: str) -> None:
    if queue.full():
        queue.get_nowait()
    queue.put_nowait(text)
