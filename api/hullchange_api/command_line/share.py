"""``hullchange share``: the pages about a refit as one HTML file."""

import argparse
import sys
from pathlib import Path

from hullchange_api.command_line.options import (
    Commands,
    command_parser,
    quick_option,
    refit_options,
)
from hullchange_api.command_line.status import DONE


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = "write one HTML file to send: the pages, read only, needing no server or network"
    example = "hullchange share myboat.yaml --out myboat.html"
    parser = command_parser(commands, run, about, example)
    refit_options(parser)
    parser.add_argument("--out", type=Path, required=True, metavar="FILE.html")
    parser.add_argument(
        "--for-anybody",
        action="store_true",
        help="a page to show to anybody: her picture, how she floats and what is new; nothing "
        "of the ledger, of costs, notes or the review is in the file",
    )
    quick_option(parser)


def run(given: argparse.Namespace) -> int:
    """Write the file."""
    from hullchange.errors import ModelError
    from hullchange.present.show_page import show_page
    from hullchange_api.command_line.answers import answer_given
    from hullchange_api.command_line.progress import progress_shown
    from hullchange_api.command_line.refit_document import plain_given
    from hullchange_api.review.shared_page import PageContent, shared_page
    from hullchange_api.store.files import write_atomically

    if given.out.suffix.lower() not in (".html", ".htm"):
        raise ModelError("not-a-page", "The file name in --out must end in .html.")
    boat, answer = answer_given(given)
    name, plain = given.file.name, plain_given(given, given.option)
    with progress_shown("drawing the boat and writing the page"):
        page = (
            show_page(boat, answer)
            if given.for_anybody
            else shared_page(PageContent(name, name, plain, boat, answer))
        )
    write_atomically(given.out, page)
    sys.stdout.write(f"{given.out}\n")
    return DONE
