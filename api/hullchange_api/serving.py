"""Running the server: data folder, address, browser."""

import errno
import secrets
import signal
import socket
import sys
import threading
import webbrowser
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from ipaddress import ip_address
from pathlib import Path

import uvicorn
from fastapi import FastAPI

from hullchange.errors import ModelError
from hullchange_api.app import create_app
from hullchange_api.store.examples import DEMO, example_text, examples
from hullchange_api.store.files import (
    DELETED,
    FILE_NAME,
    keep_private,
    make_private,
    write_atomically,
)
from hullchange_api.store.refits import Refits
from hullchange_api.store.watch import Watch
from hullchange_api.timeouts import TimedConnection
from hullchange_api.working_copy.events import Events

LOOPBACK = "127.0.0.1"
SECRET_BYTES = 32
OPEN_TO_OTHERS = (
    "can be opened by other accounts on this computer, because it contains other files or "
    "belongs to someone else. The files hullchange keeps in it can be read only by you."
)


@dataclass(frozen=True)
class ListenAddress:
    """Where the server can be reached, and how.

    Attributes:
        host: an address of this machine.
        port: 0 or None takes a free one.
        has_secret_link: whether the owner's pages open by a secret link on loopback too.
    """

    host: str = LOOPBACK
    port: int | None = None
    has_secret_link: bool = False


class Server(uvicorn.Server):
    """A server that notifies open pages of file changes and ends their streams as it stops."""

    def __init__(self, app: FastAPI) -> None:
        """Serve and watch nothing yet."""
        super().__init__(uvicorn.Config(app, http=TimedConnection, log_level="warning"))
        self._events: Events = app.state.reviews.events
        self._watch = Watch(app.state.copies.refits)

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Start serving and watching."""
        await super().startup(sockets)
        self._watch.start()

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Stop; open streams are ended first, since the server would wait for them."""
        self._watch.close()
        self._events.close()
        await super().shutdown(sockets)


def serve(
    folder: Path,
    file: Path | None,
    listen: ListenAddress,
    *,
    opens_browser: bool,
    first: str = "",
    started: Callable[[], None] = lambda: None,
) -> None:
    """Serve until interrupted; print the address on a line of its own.

    The address holds a secret if others can reach it, or if that is asked for. Without the
    secret nobody is the owner.

    Args:
        folder: where refits are kept.
        file: a document to serve from where it is and save back to.
        listen: where to listen.
        opens_browser: open the address in a browser.
        first: id of the refit that opens first, where no file is given.
        started: called just before the address is printed.

    Raises:
        ModelError: ``port-taken``, ``host-not-here``; whatever the document is refused for.
    """
    make_private(folder)
    if not keep_private(folder):
        sys.stderr.write(f"{folder} {OPEN_TO_OTHERS}\n")
    refits = Refits(folder, file, first)
    if file is not None:
        refits.working_copy(refits.ids()[0])
    listening = _listening_socket(listen)
    host, port = listening.getsockname()[:2]
    is_here_alone = ip_address(host).is_loopback
    has_secret = listen.has_secret_link or not is_here_alone
    secret = secrets.token_urlsafe(SECRET_BYTES) if has_secret else None
    base = f"http://{_in_address(host)}:{port}/"
    address = f"{base}#/owner/{secret}" if secret else base
    names = () if is_here_alone else _own_names(listen.host)
    app = create_app(refits, secret, names, "" if is_here_alone else base)
    server = Server(app)
    started()
    sys.stdout.write(f"{address}\n")
    sys.stdout.flush()
    stopped = threading.Event()
    threading.Thread(target=_warm_up, args=(app, stopped)).start()
    if opens_browser:
        threading.Timer(1.0, webbrowser.open, (address,)).start()
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # both stop it in good order
    with suppress(KeyboardInterrupt):
        server.run(sockets=[listening])
    stopped.set()
    _tell("hullchange has stopped.")


def _warm_up(app: FastAPI, stopped: threading.Event) -> None:
    """Make the first page quick, and say when it is."""
    _tell("Getting the first page ready; it opens already, only slower.")
    app.state.copies.warm_up()
    if not stopped.is_set():
        _tell("Ready. Press Ctrl-C here to stop.")


def _tell(sentence: str) -> None:
    """A line on standard error if that is a terminal."""
    if sys.stderr.isatty():
        sys.stderr.write(f"{sentence}\n")
        sys.stderr.flush()


def add_demo(folder: Path) -> None:
    """Put the demo refit and the other examples into a data folder.

    One that is there is left alone; of the others, one that was deleted stays away.
    """
    for card in examples():
        document = folder / card.id / FILE_NAME
        is_deleted = card.id != DEMO and (folder / DELETED / card.id).exists()
        if document.exists() or is_deleted:
            continue
        make_private(folder)
        make_private(document.parent)
        write_atomically(document, example_text(card.id).encode())


def _listening_socket(listen: ListenAddress) -> socket.socket:
    port = listen.port or 0
    try:
        family, kind, protocol, _, address = socket.getaddrinfo(
            listen.host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )[0]
    except OSError as error:
        sentence = (
            f"No address is known for {listen.host}: give --host an address of this computer."
        )
        raise ModelError("host-not-here", sentence) from error
    # asyncio sends small answers at once if it is told the protocol, else 40 ms later
    listening = socket.socket(family, kind, protocol)
    if sys.platform != "win32":  # there it would let two servers share one port
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind(address)
        # from now on a connection waits until the server is ready
        listening.listen()
    except OSError as error:
        listening.close()
        if error.errno == errno.EADDRNOTAVAIL:
            sentence = (
                f"{listen.host} is not an address of this computer: give --host one that is."
            )
            raise ModelError("host-not-here", sentence) from error
        sentence = f"Port {port} is in use: choose another with --port, or leave it out."
        raise ModelError("port-taken", sentence) from error
    return listening


def _in_address(host: str) -> str:
    """A host as an address writes it; for all addresses, the one that others reach."""
    address = ip_address(host)
    if address.is_unspecified:
        known, family = "192.0.2.1", socket.AF_INET  # reserved for examples: nothing is sent
        if address.version == 6:
            known, family = "2001:db8::1", socket.AF_INET6
        with socket.socket(family, socket.SOCK_DGRAM) as outwards, suppress(OSError):
            outwards.connect((known, 9))
            address = ip_address(outwards.getsockname()[0])
    return f"[{address}]" if address.version == 6 else str(address)


def _own_names(host: str) -> tuple[str, ...]:
    """Names of this machine; nobody else can point them at another page."""
    own = socket.gethostname().lower()
    return (host.lower(), own, f"{own}.local")
