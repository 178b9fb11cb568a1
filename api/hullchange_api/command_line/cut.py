"""``hullchange cut``: the packs for the cutter, the yard and a hand torch."""

import argparse
import sys
from pathlib import Path

from hullchange_api.command_line.options import (
    Commands,
    command_parser,
    refit_options,
    review_option,
)
from hullchange_api.command_line.status import DONE

_ALWAYS = "note.txt"  # of the files that every pack has


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = "write outlines, nests and lists for the cutter, the yard and a hand torch"
    parser = command_parser(commands, run, about, "hullchange cut myboat.yaml --out cut")
    refit_options(parser)
    parser.add_argument("--out", type=Path, required=True, metavar="FOLDER")
    parser.add_argument(
        "--quick",
        action="store_true",
        help="take the first nests that work, without improving them",
    )
    review_option(parser)
    twin = "add a copy of each DXF in R12 format, which states no unit"
    parser.add_argument("--r12", action="store_true", help=twin)


def run(given: argparse.Namespace) -> int:
    """Write the packs, and print the findings and the review status."""
    from hullchange.cutting.files import cut_files
    from hullchange.cutting.pack import GOOD, QUICK, cut_pack
    from hullchange_api.command_line.data_folder import status_given
    from hullchange_api.command_line.output_checks import (
        require_empty_or_with,
        require_own_folder,
    )
    from hullchange_api.command_line.progress import progress_shown
    from hullchange_api.command_line.refit_document import boat_given
    from hullchange_api.processes.child import uninterrupted
    from hullchange_api.store.files import write_all

    require_empty_or_with(given.out, _ALWAYS)
    status = status_given(given)
    effort = QUICK if given.quick else GOOD
    with progress_shown("building the steel") as report:
        pack = cut_pack(boat_given(given), effort, report, state=status.standing)
        files = cut_files(pack, r12=given.r12, report=report)
    require_own_folder(given, files)
    with uninterrupted():
        write_all(given.out, files)
    for finding in pack.findings:
        sys.stdout.write(f"{finding.severity}: {finding.place}: {finding.sentence}\n")
    lines = (status.sentence, *status.conflicts, str(given.out / _ALWAYS))
    sys.stdout.writelines(f"{line}\n" for line in lines)
    return DONE
