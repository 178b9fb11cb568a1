"""``hullchange merge``: a review written on a shared page."""

import argparse
import sys
from pathlib import Path

from hullchange_api.command_line.options import Commands, command_parser, data_option
from hullchange_api.command_line.status import DONE, FAILED


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = (
        "add the comments and signatures from a shared page to the review, without duplicates"
    )
    example = "hullchange merge saltmarrow saltmarrow-review.json"
    parser = command_parser(commands, run, about, example)
    parser.add_argument("refit", metavar="REFIT|FILE", help="its id, or its document")
    parser.add_argument("review", type=Path, metavar="REVIEW.json")
    data_option(parser)


def run(given: argparse.Namespace) -> int:
    """Merge the review file, and print how many items are new and what does not fit."""
    from hullchange.errors import ModelError
    from hullchange_api.command_line.data_folder import refit_given
    from hullchange_api.command_line.progress import progress_shown
    from hullchange_api.review.review_file import merge, review_file
    from hullchange_api.review.reviews import Reviews
    from hullchange_api.working_copy.working_copies import WorkingCopies

    file = review_file(given.review)
    with progress_shown("merging the review"), refit_given(given) as (refits, refit):
        try:
            merged = merge(Reviews(WorkingCopies(refits)), refit, file)
        except ModelError as error:
            if error.code != "open-elsewhere":
                raise
            name = Path(given.review).name
            sentence = (
                f"{refit} is open in another hullchange: drop {name} on its Review page "
                "instead, or close it first."
            )
            raise ModelError(error.code, sentence) from error
    sys.stdout.write(f"{merged.new_count} new, {merged.known_count} already there.\n")
    sys.stdout.writelines(f"{conflict}\n" for conflict in merged.conflicts)
    return FAILED if merged.conflicts else DONE
