"""``hullchange export``: files for other programs."""

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
    about = "write files for other programs: STEP with part ids, glTF, tables, lines plan"
    parser = command_parser(commands, run, about, "hullchange export myboat.yaml --out files")
    refit_options(parser)
    parser.add_argument("--out", type=Path, required=True, metavar="FOLDER")
    writing_options(parser)
    review_option(parser)


def run(given: argparse.Namespace) -> int:
    """Write the files."""
    from hullchange.present.writing import Writing
    from hullchange_api.command_line.answers import recorded_answer
    from hullchange_api.command_line.data_folder import status_given
    from hullchange_api.command_line.output_checks import require_own_folder
    from hullchange_api.command_line.progress import progress_shown
    from hullchange_api.processes.child import uninterrupted
    from hullchange_api.review.exports import NAMES, Exports, origin_of
    from hullchange_api.store.files import write_all

    writing = Writing(given.units, given.decimal)
    require_own_folder(given, NAMES)
    state = status_given(given).standing
    with recorded_answer(given) as (boat, answer, worker):
        origin = origin_of(boat, given.option, state=state)
        exports = Exports(origin, boat, lambda: answer, worker)
        with progress_shown("writing files") as report:
            files: dict[str, bytes] = {}
            for number, name in enumerate(exports.names, 1):
                report(f"writing {name}, {number} of {len(exports.names)}")
                files[name] = exports.file(name, None, writing)
    with uninterrupted():
        write_all(given.out, files)
    sys.stdout.writelines(f"{given.out / name}\n" for name in files)
    return DONE
