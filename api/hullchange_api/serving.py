"""Running the server: folder, port, address, browser."""

import errno
import os
import secrets
import signal
import socket
import sys
import threading
import webbrowser
from contextlib import suppress
from dataclasses import dataclass
from importlib.resources import files
from ipaddress import ip_address
from pathlib import Path

import uvicorn
from fastapi import FastAPI

from hullchange.errors import ModelError
from hullchange_api.app import create_app
from hullchange_api.store.files import FILE_NAME, keep_private, make_private, write_whole
from hullchange_api.store.refits import Shelf
from hullchange_api.store.watch import Watch
from hullchange_api.timeouts import Patient
from hullchange_api.working_copy.events import Events

DEMO = "saltmarrow"
LOOPBACK = "127.0.0.1"
SECRET_BYTES = 32
OPEN_TO_OTHERS = (
    "can be looked into by other accounts of this computer, since it holds other things too "
    "or is not yours to close. What hullchange keeps in it is readable by you alone."
)


@dataclass(frozen=True)
class Place:
    """Where the server is to be reached, and how.

    Attributes:
        host: an address of this machine.
        port: 0 or None takes a free one.
        has_secret_link: whether the owner's pages open by a secret link on loopback too.
    """

    host: str = LOOPBACK
    port: int | None = None
    has_secret_link: bool = False


class Server(uvicorn.Server):
    """A server whose open pages hear of files that change, and are let go before it ends."""

    def __init__(self, app: FastAPI) -> None:
        """Nothing is served or watched yet."""
        super().__init__(uvicorn.Config(app, http=Patient, log_level="warning"))
        self._events: Events = app.state.review.events
        self._watch = Watch(app.state.desk.shelf)

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Begin."""
        await super().startup(sockets)
        self._watch.start()

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """End in good order: a stream that stays open would be waited for."""
        self._watch.close()
        self._events.close()
        await super().shutdown(sockets)


def serve(folder: Path, file: Path | None, place: Place, *, opens_browser: bool) -> None:
    """Serve until interrupted; the address is printed on a line of its own.

    Away from loopback, and where it is asked for, the address holds a secret, without which
    nobody is the owner.

    Args:
        folder: where refits are kept.
        file: a document to serve from where it is and save back to.
        place: where to be reached.
        opens_browser: whether to open one once the server answers.

    Raises:
        ModelError: ``port-taken``, ``host-not-here``; whatever the document is refused for.
    """
    make_private(folder)
    if not keep_private(folder):
        sys.stderr.write(f"{folder} {OPEN_TO_OTHERS}\n")
    shelf = Shelf(folder, file)
    if file is not None:
        shelf.working(shelf.ids()[0])
    door = _door(place)
    host, port = door.getsockname()[:2]
    is_here_alone = ip_address(host).is_loopback
    has_secret = place.has_secret_link or not is_here_alone
    secret = secrets.token_urlsafe(SECRET_BYTES) if has_secret else None
    base = f"http://{_in_address(host)}:{port}/"
    address = f"{base}#/owner/{secret}" if secret else base
    names = () if is_here_alone else _own_names(place.host)
    app = create_app(shelf, secret, names, "" if is_here_alone else base)
    server = Server(app)
    sys.stdout.write(f"{address}\n")
    sys.stdout.flush()
    threading.Thread(target=app.state.desk.warm_up).start()
    if opens_browser:
        threading.Timer(1.0, webbrowser.open, (address,)).start()
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # both end her in good order
    with suppress(KeyboardInterrupt):
        server.run(sockets=[door])


def data_folder() -> Path:
    """Where refits are kept where no folder is named: the user's own data folder."""
    given = os.environ.get("XDG_DATA_HOME")
    return (Path(given) if given else Path.home() / ".local" / "share") / "hullchange"


def lay_out_demo(folder: Path) -> None:
    """Put the demo refit into a data folder, unless it is there already.

    The source tree's examples come first, the copy packed into the wheel otherwise.
    """
    kept = folder / DEMO / FILE_NAME
    if kept.exists():
        return
    source = Path(__file__).parents[2] / "examples" / f"{DEMO}.yaml"
    text = (
        source.read_bytes()
        if source.is_file()
        else (files("hullchange_api") / "examples" / f"{DEMO}.yaml").read_bytes()
    )
    make_private(folder)
    make_private(kept.parent)
    write_whole(kept, text)


def _door(place: Place) -> socket.socket:
    port = place.port or 0
    try:
        family, kind, protocol, _, address = socket.getaddrinfo(
            place.host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )[0]
    except OSError as error:
        sentence = f"No address is known for {place.host}: give --host one of this machine."
        raise ModelError("host-not-here", sentence) from error
    # asyncio sends small answers at once where it is told the protocol, else 40 ms later
    door = socket.socket(family, kind, protocol)
    door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        door.bind(address)
        # who reads the address may knock before the server is ready: it waits
        door.listen()
    except OSError as error:
        door.close()
        if error.errno == errno.EADDRNOTAVAIL:
            sentence = f"{place.host} is no address of this machine: give --host one that is."
            raise ModelError("host-not-here", sentence) from error
        sentence = f"Port {port} is taken: choose another with --port, or leave it out."
        raise ModelError("port-taken", sentence) from error
    return door


def _in_address(host: str) -> str:
    """A host as it stands in an address; for all of this machine's, the one seen outside."""
    address = ip_address(host)
    if address.is_unspecified:
        known, family = "192.0.2.1", socket.AF_INET  # kept for examples: nothing is sent
        if address.version == 6:
            known, family = "2001:db8::1", socket.AF_INET6
        with socket.socket(family, socket.SOCK_DGRAM) as outwards, suppress(OSError):
            outwards.connect((known, 9))
            address = ip_address(outwards.getsockname()[0])
    return f"[{address}]" if address.version == 6 else str(address)


def _own_names(host: str) -> tuple[str, ...]:
    """Names this machine may be called by; nobody else can lead them to another page."""
    own = socket.gethostname().lower()
    return (host.lower(), own, f"{own}.local")
