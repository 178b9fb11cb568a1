"""``hullchange new``: a commented starting document."""

import argparse
import sys
from pathlib import Path

from hullchange_api.command_line.options import Commands, command_parser
from hullchange_api.command_line.status import DONE


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = "write a commented starting document"
    parser = command_parser(commands, run, about, "hullchange new myboat.yaml")
    parser.add_argument("file", type=Path, metavar="FILE")


def run(given: argparse.Namespace) -> int:
    """Write the document, unless the file exists."""
    from hullchange.document.start import starting_document
    from hullchange_api.command_line.output_checks import require_new
    from hullchange_api.store.files import write_atomically

    require_new(given.file)
    name = given.file.stem.replace("-", " ").replace("_", " ").strip().capitalize()
    write_atomically(given.file, starting_document(name or "Boat").encode())
    sys.stdout.write(f"{given.file}\n")
    return DONE
