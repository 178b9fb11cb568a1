"""``hullchange serve``: the server with its store."""

import argparse
from pathlib import Path

from hullchange_api.command_line.options import (
    Commands,
    command_parser,
    opens_browser,
    server_options,
)
from hullchange_api.command_line.status import DONE


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = "open your boats in the browser; with FILE the boat in that file, saved back to it"
    parser = command_parser(commands, run, about, "hullchange serve myboat.yaml")
    parser.add_argument("file", type=Path, nargs="?", metavar="FILE")
    host = (
        "address of this computer that others can reach; the pages then open by a secret link"
    )
    parser.add_argument("--host", default="127.0.0.1", metavar="ADDRESS", help=host)
    secret = "ask for the secret link on this computer too"
    parser.add_argument("--secret-link", action="store_true", help=secret)
    server_options(parser)


def run(given: argparse.Namespace) -> int:
    """Serve until interrupted."""
    from contextlib import ExitStack

    from hullchange_api.command_line.progress import progress_shown

    with ExitStack() as starting:
        starting.enter_context(progress_shown("starting the server"))
        from hullchange_api import serving
        from hullchange_api.command_line.data_folder import data_folder

        address = serving.ListenAddress(given.host, given.port, given.secret_link)
        folder, opens = data_folder(given), opens_browser(given)
        started = starting.close
        serving.serve(folder, given.file, address, opens_browser=opens, started=started)
    return DONE
