"""``hullchange assess``: the full assessment."""

import argparse
import sys

from hullchange_api.command_line.options import (
    Commands,
    command_parser,
    json_option,
    quick_option,
    refit_options,
)
from hullchange_api.command_line.status import status_of


def add_to(commands: Commands) -> None:
    """Add the command."""
    example = (
        "hullchange assess myboat.yaml "
        "--set changes.deckhouse.parts.house.side_height_m=0.5 --json"
    )
    parser = command_parser(
        commands, run, "assess the refit: weight, float, trim, stability and findings", example
    )
    refit_options(parser)
    json_option(parser)
    quick_option(parser)


def run(given: argparse.Namespace) -> int:
    """Print the assessment as tables or as JSON."""
    from hullchange_api.command_line.answers import answer_given

    _, answer = answer_given(given)
    if given.json:
        sys.stdout.write(answer.model_dump_json(indent=1) + "\n")
    else:
        from hullchange.present.tables import tables

        sys.stdout.write(tables(answer))
    return status_of(answer.findings)
