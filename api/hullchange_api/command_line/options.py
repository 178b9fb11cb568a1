"""Options that several commands share. Imports nothing heavy: ``--help`` must be quick."""

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias

Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"
Run: TypeAlias = Callable[[argparse.Namespace], int]


def command_parser(
    commands: Commands, run: Run, about: str, example: str
) -> argparse.ArgumentParser:
    """The parser of one command, named by the first words of its example.

    Args:
        commands: the parsers of all commands.
        run: does what the command is for, and returns its exit status.
        about: one line for the list of commands.
        example: a whole command line.
    """
    parser = commands.add_parser(
        example.split()[1],
        help=about,
        description=f"{about[0].upper()}{about[1:]}.",
        epilog=f"Example: {example}",
    )
    parser.set_defaults(run=run)
    return parser


def refit_options(parser: argparse.ArgumentParser) -> None:
    """Add FILE, ``--set`` and ``--option``."""
    parser.add_argument("file", type=Path, metavar="FILE")
    parser.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="PATH=VALUE",
        dest="settings",
        help="change one value for this run only; the file is not changed",
    )
    parser.add_argument("--option", metavar="NAME", help="one of the document's options")


def json_option(parser: argparse.ArgumentParser) -> None:
    """Add ``--json``."""
    parser.add_argument("--json", action="store_true", help="print one JSON object")


def quick_option(parser: argparse.ArgumentParser) -> None:
    """Add ``--quick``."""
    quick = "skip the check by CAD solids"
    parser.add_argument("--quick", action="store_true", help=quick)


def writing_options(parser: argparse.ArgumentParser) -> None:
    """Add ``--units`` and ``--decimal``."""
    units = "units of tables and lines plan; imperial is feet, inches, pounds and US gallons"
    choices = ("metric", "imperial")
    parser.add_argument("--units", choices=choices, default=choices[0], help=units)
    decimal = "decimal sign of tables; with a comma, cells are separated by semicolons"
    parser.add_argument("--decimal", choices=("point", "comma"), default="point", help=decimal)


def review_option(parser: argparse.ArgumentParser) -> None:
    """Add ``--data`` for a command that only looks up the review."""
    data = "data folder with the review, which says whether this is signed"
    parser.add_argument("--data", type=Path, metavar="FOLDER", help=data)


def data_option(parser: argparse.ArgumentParser) -> None:
    """Add ``--data``."""
    parser.add_argument(
        "--data", type=Path, metavar="FOLDER", help="data folder, in which refits are kept"
    )


def server_options(parser: argparse.ArgumentParser) -> None:
    """Add ``--data``, ``--port`` and ``--no-browser``."""
    data_option(parser)
    parser.add_argument(
        "--port",
        type=int,
        default=None,
        metavar="N",
        help="port to listen on; 0 for any free one",
    )
    parser.add_argument("--no-browser", action="store_true", help="do not open a browser")


def opens_browser(given: argparse.Namespace) -> bool:
    """Whether to open a browser: only if the address is printed on a terminal."""
    return not given.no_browser and sys.stdout.isatty()
