"""How long the server waits for the other side of a connection."""

import asyncio

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

SILENT_SECONDS = 20.0
"""Without a sign of the request that is awaited, or of the answer being taken."""

LONGEST_SECONDS = 600.0
"""From the first sign of a request to its last: an archive over a slow network."""

LOOK_AGAIN_SECONDS = 2.0


class Patient(H11Protocol):
    """A connection that is closed where the other side falls silent: each costs a descriptor.

    It may be silent while it is answered, however long that takes, and hear events for days.
    """

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to wait for a request."""
        super().connection_made(transport)
        self._begun = self._heard = self._moved = self.loop.time()
        self._unsent = 0
        self._look()

    def data_received(self, data: bytes) -> None:
        """Take a piece of a request."""
        self._heard = self.loop.time()
        if self.conn.their_state is h11.IDLE and not self.conn.trailing_data[0]:
            self._begun = self._heard
        super().data_received(data)

    def _look(self) -> None:
        if self.transport.is_closing():
            return
        now, unsent = self.loop.time(), self.transport.get_write_buffer_size()
        if unsent != self._unsent or not unsent:
            self._unsent, self._moved = unsent, now
        if self.conn.their_state not in (h11.IDLE, h11.SEND_BODY):
            self._begun = self._heard = now  # they wait for us
        silent = now - min(self._heard, self._moved)
        if silent > SILENT_SECONDS or now - self._begun > LONGEST_SECONDS:
            self.transport.abort()
            return
        self.loop.call_later(LOOK_AGAIN_SECONDS, self._look)
