"""How long the server waits for the other side of a connection."""

import asyncio

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

SILENT_SECONDS = 20.0
"""With no byte of the request arriving and none of the answer leaving."""

LONGEST_SECONDS = 600.0
"""From the first byte of a request to its last: an archive over a slow network."""

CHECK_EVERY_SECONDS = 2.0


class TimedConnection(H11Protocol):
    """A connection that is closed if the other side goes silent: each costs a descriptor.

    It may be silent while the server answers, however long that takes, or streams events.
    """

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Start to wait for a request."""
        super().connection_made(transport)
        self._started = self._heard = self._moved = self.loop.time()
        self._unsent = 0
        self._check()

    def data_received(self, data: bytes) -> None:
        """Take a piece of a request."""
        self._heard = self.loop.time()
        if self.conn.their_state is h11.IDLE and not self.conn.trailing_data[0]:
            self._started = self._heard
        super().data_received(data)

    def _check(self) -> None:
        if self.transport.is_closing():
            return
        now, unsent = self.loop.time(), self.transport.get_write_buffer_size()
        if unsent != self._unsent or not unsent:
            self._unsent, self._moved = unsent, now
        if self.conn.their_state not in (h11.IDLE, h11.SEND_BODY):
            self._started = self._heard = now  # the other side waits for us
        silent = now - min(self._heard, self._moved)
        if silent > SILENT_SECONDS or now - self._started > LONGEST_SECONDS:
            self.transport.abort()
            return
        self.loop.call_later(CHECK_EVERY_SECONDS, self._check)
