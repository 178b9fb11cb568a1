"""Running the server: folder, port, address, browser."""

import os
import signal
import socket
import sys
import threading
import webbrowser
from contextlib import suppress
from importlib.resources import files
from pathlib import Path

import uvicorn

from hullchange.errors import ModelError
from hullchange_api.app import create_app
from hullchange_api.store.shelf import FILE_NAME, Shelf

DEMO = "saltmarrow"
HOST = "127.0.0.1"


def serve(folder: Path, file: Path | None, port: int | None, opens_browser: bool) -> None:
    """Serve until interrupted; the address is printed on a line of its own.

    Args:
        folder: where refits are kept.
        file: a document to serve from where it is and save back to.
        port: 0 or None takes a free one.
        opens_browser: whether to open one once the server answers.

    Raises:
        ModelError: ``port-taken``; whatever the document is refused for.
    """
    folder.mkdir(parents=True, exist_ok=True)
    shelf = Shelf(folder, file)
    if file is not None:
        shelf.working(shelf.ids()[0])
    door = _door(port or 0)
    address = f"http://{HOST}:{door.getsockname()[1]}/"
    app = create_app(shelf)
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning"))
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
    kept.parent.mkdir(parents=True, exist_ok=True)
    kept.write_bytes(text)


def _door(port: int) -> socket.socket:
    door = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        door.bind((HOST, port))
        # who reads the address may knock before the server is ready: it waits
        door.listen()
    except OSError as error:
        door.close()
        sentence = f"Port {port} is taken: choose another with --port, or leave it out."
        raise ModelError("port-taken", sentence) from error
    return door
