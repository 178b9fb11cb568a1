"""``hullchange explain``: how one figure is derived."""

import argparse
import sys

from hullchange_api.command_line.options import (
    Commands,
    command_parser,
    json_option,
    refit_options,
)
from hullchange_api.command_line.status import DONE


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = "show how a figure is derived: formula, inputs, source, grade"
    example = "hullchange explain myboat.yaml conditions.departure.gm_m"
    parser = command_parser(commands, run, about, example)
    refit_options(parser)
    path = "path of a result, or of a value in the document"
    parser.add_argument("path", metavar="PATH", help=path)
    parser.add_argument(
        "--deep", action="store_true", help="show how each input is derived too"
    )
    json_option(parser)


def run(given: argparse.Namespace) -> int:
    """Print the explanation in words or as JSON."""
    from functools import partial

    from hullchange.assess.held import held_where
    from hullchange.explain.explain import explanation
    from hullchange.explain.in_words import explanation_lines
    from hullchange_api.command_line.answers import quick_answer

    boat, answer = quick_answer(given)
    explained = partial(explanation, held_where(answer, boat, given.path), boat.document)
    if given.json:
        sys.stdout.write(explained(given.path).model_dump_json(indent=1) + "\n")
    else:
        lines = explanation_lines(given.path, explained, deep=given.deep)
        sys.stdout.writelines(f"{line}\n" for line in lines)
    return DONE
