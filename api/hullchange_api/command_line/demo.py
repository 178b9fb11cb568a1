"""``hullchange demo``: the server with the demo refit and the other examples."""

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
    about = "serve the demo refit and open the browser"
    server_options(command_parser(commands, run, about, "hullchange demo"))


def run(given: argparse.Namespace) -> int:
    """Serve the examples, the demo first; a fresh copy each time unless ``--data`` is given."""
    from contextlib import ExitStack
    from tempfile import TemporaryDirectory

    from hullchange_api.command_line.progress import progress_shown

    with (
        TemporaryDirectory(prefix="hullchange-demo-") as temporary,
        ExitStack() as starting,
    ):
        starting.enter_context(progress_shown("starting the server"))
        from hullchange_api import serving
        from hullchange_api.store.examples import DEMO

        folder = given.data or Path(temporary)
        serving.add_demo(folder)
        address = serving.ListenAddress(port=given.port)
        opens = opens_browser(given)
        started = starting.close
        serving.serve(folder, None, address, opens_browser=opens, first=DEMO, started=started)
    return DONE
