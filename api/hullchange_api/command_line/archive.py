"""``hullchange archive``: a whole refit in one file."""

import argparse
import sys
from pathlib import Path

from hullchange_api.command_line.options import Commands, command_parser, data_option
from hullchange_api.command_line.status import DONE


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = "save a whole refit in one file: document, history, revisions, review, attachments"
    example = "hullchange archive saltmarrow --out saltmarrow.zip"
    parser = command_parser(commands, run, about, example)
    parser.add_argument("refit", metavar="REFIT|FILE", help="its id, or its document")
    parser.add_argument("--out", type=Path, required=True, metavar="FILE.zip")
    data_option(parser)


def run(given: argparse.Namespace) -> int:
    """Write the archive, unless the file exists."""
    from hullchange_api.command_line.data_folder import refit_given
    from hullchange_api.command_line.output_checks import require_new
    from hullchange_api.command_line.progress import progress_shown
    from hullchange_api.store.files import PRIVATE_FILE, atomic_stream

    require_new(given.out)
    with (
        progress_shown("writing the archive"),
        refit_given(given) as (refits, refit),
        atomic_stream(given.out, PRIVATE_FILE) as out,
    ):
        refits.archive(refit, out)
    sys.stdout.write(f"{given.out}\n")
    return DONE
