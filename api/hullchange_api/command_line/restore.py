"""``hullchange restore``: a refit from its archive."""

import argparse
import sys
from pathlib import Path

from hullchange_api.command_line.options import Commands, command_parser, data_option
from hullchange_api.command_line.status import DONE


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = "restore a whole refit from its archive"
    parser = command_parser(commands, run, about, "hullchange restore saltmarrow.zip")
    parser.add_argument("file", type=Path, metavar="FILE.zip")
    parser.add_argument(
        "--name", metavar="NAME", help="new name for it; its old one if left out"
    )
    data_option(parser)


def run(given: argparse.Namespace) -> int:
    """Restore the refit into the data folder."""
    from contextlib import closing

    from hullchange_api.command_line.data_folder import data_folder
    from hullchange_api.command_line.progress import progress_shown
    from hullchange_api.store.refits import Refits

    with (
        progress_shown("restoring the refit"),
        closing(Refits(data_folder(given))) as refits,
        given.file.open("rb") as archive,
    ):
        refit = refits.restore(archive, given.name)
    sys.stdout.write(f"{refits.file(refit)}\n")
    return DONE
