"""The command line: ``hullchange COMMAND``. Reading the help imports nothing heavy."""

import argparse
import gc
import io
import multiprocessing
import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

import hullchange
from hullchange_api.command_line import (
    archive,
    assess,
    check,
    cut,
    demo,
    explain,
    export,
    lines,
    merge,
    new,
    restore,
    scene,
    serve,
    share,
    stages,
    tables,
)
from hullchange_api.command_line.status import DONE, REFUSED, STOPPED

if TYPE_CHECKING:
    from hullchange.errors import DocumentError

GC_THRESHOLD = 100_000
"""Objects allocated before the garbage collector runs; high, since most commands end soon."""

COMMANDS = (
    *(demo, new, lines, check, assess, explain, scene, share, tables),
    *(cut, stages, export, archive, restore, merge, serve),
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Exit status: 0 done, 1 done with findings of severity fail, 2 refused."""
    given = _parser().parse_args(arguments)
    gc.set_threshold(GC_THRESHOLD)
    for stream in (sys.stdout, sys.stderr):
        _write_utf8(stream)
    return _run(given)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="hullchange",
        description="What a refit does to a steel yacht's weight, float and trim, "
        "before the first cut.",
    )
    parser.add_argument("--version", action="version", version=hullchange.__version__)
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for command in COMMANDS:
        command.add_to(commands)
    return parser


def _write_utf8(stream: object) -> None:
    """Make a standard stream write UTF-8 and plain line feeds, whatever the system's default.

    Otherwise ``≥`` is an error on a system with a code page, and JSON is not UTF-8.
    """
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(encoding="utf-8", errors=stream.errors, newline="\n")


def _run(given: argparse.Namespace) -> int:
    """Exit status of a command; a refusal prints one sentence per fault to standard error."""
    from hullchange.errors import DocumentError, ModelError

    try:
        status: int = given.run(given)
        sys.stdout.flush()
    except DocumentError as error:
        for fault in error.faults:
            line = f"line {fault.line}: " if fault.line else ""
            place = f"{fault.place}: " if fault.place else ""
            _refuse(f"{_file_of(given)}{line}{place}{fault.sentence}")
        _offer(given, error)
        return REFUSED
    except ModelError as error:
        _refuse(f"{_file_of(given)}{error}")
        return REFUSED
    except BrokenPipeError:
        # the reader closed the pipe, as `head` does: keep the final flush from failing
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except KeyboardInterrupt:
        for child in multiprocessing.active_children():
            child.terminate()
        _refuse(f"hullchange {given.command} was stopped. No file is left half-written.")
        return STOPPED
    except OSError as error:
        _refuse(f"{error.filename or given.command}: {error.strerror or error}.")
        return REFUSED
    return status


def _offer(given: argparse.Namespace, error: "DocumentError") -> None:
    """Print what would build instead, if a part of a document was refused."""
    from hullchange_api.command_line.refit_document import offers_given

    if getattr(given, "file", None) is None:
        return
    for offer in offers_given(given, error):
        _refuse(f"{_file_of(given)}{offer.values[0][0]}: {offer.sentence}")


def _refuse(sentence: str) -> None:
    sys.stderr.write(f"{sentence}\n")


def _file_of(given: argparse.Namespace) -> str:
    file = getattr(given, "file", None)
    return f"{file}: " if file is not None else ""
