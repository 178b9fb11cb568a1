"""``hullchange tables``: the check pack as CSV files."""

import argparse
import sys
from pathlib import Path

from hullchange_api.command_line.options import (
    Commands,
    command_parser,
    refit_options,
    review_option,
    writing_options,
)
from hullchange_api.command_line.status import DONE


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = "write tables as CSV for an engineer who checks the results by another method"
    example = "hullchange tables myboat.yaml --out check"
    parser = command_parser(commands, run, about, example)
    refit_options(parser)
    parser.add_argument("--out", type=Path, required=True, metavar="FOLDER")
    review_option(parser)
    writing_options(parser)


def run(given: argparse.Namespace) -> int:
    """Write the files, and print the ratios and the weight margin in words."""
    from hullchange.check_pack.files import check_pack, cover_lines
    from hullchange.check_pack.values import check_values
    from hullchange.present.writing import Writing
    from hullchange_api.command_line.data_folder import status_given
    from hullchange_api.command_line.output_checks import require_own_folder
    from hullchange_api.command_line.progress import progress_shown
    from hullchange_api.command_line.refit_document import boat_given
    from hullchange_api.processes.child import uninterrupted
    from hullchange_api.store.files import write_all

    with progress_shown("calculating the tables"):
        values = check_values(boat_given(given), given.option or "")
    writing = Writing(given.units, given.decimal)
    files = check_pack(values, status_given(given).standing, writing)
    require_own_folder(given, files)
    with uninterrupted():
        write_all(given.out, {name: text.encode() for name, text in files.items()})
    sys.stdout.writelines(f"{given.out / name}\n" for name in files)
    sys.stdout.writelines(f"{line}\n" for line in cover_lines(values))
    return DONE
