"""The command line: ``hullchange COMMAND``. Reading the help imports nothing heavy."""

import argparse
import gc
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TypeAlias

import hullchange

DONE, FAILED, REFUSED = 0, 1, 2
RUBBISH = 100_000  # objects made before rubbish is looked for: a command is short
Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


def main(arguments: Sequence[str] | None = None) -> int:
    """Exit status: 0 done, 1 done with findings of severity fail, 2 refused."""
    given = _parser().parse_args(arguments)
    gc.set_threshold(RUBBISH)
    from hullchange_api.command_line import commands

    return commands.run(given)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="hullchange",
        description="What a refit does to a steel yacht's weight, float and trim, "
        "before the first cut.",
    )
    parser.add_argument("--version", action="version", version=hullchange.__version__)
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    _demo(commands)
    _new(commands)
    _check(commands)
    _assess(commands)
    _explain(commands)
    _scene(commands)
    _share(commands)
    _tables(commands)
    _cut(commands)
    _stages(commands)
    _export(commands)
    _archive(commands)
    _restore(commands)
    _merge(commands)
    _serve(commands)
    return parser


def _demo(commands: Commands) -> None:
    about = "serve the demo refit and open the browser"
    _server_options(_command(commands, "demo", about, "hullchange demo"))


def _new(commands: Commands) -> None:
    about = "write a commented starting document"
    new = _command(commands, "new", about, "hullchange new myboat.yaml")
    new.add_argument("file", type=Path, metavar="FILE")


def _check(commands: Commands) -> None:
    about = "read a document and list everything that is wrong or missing in one go"
    check = _command(commands, "check", about, "hullchange check myboat.yaml")
    check.add_argument("file", type=Path, metavar="FILE")
    check.add_argument("--json", action="store_true", help="print one JSON object")


def _assess(commands: Commands) -> None:
    example = (
        "hullchange assess myboat.yaml "
        "--set changes.deckhouse.parts.house.side_height_m=0.5 --json"
    )
    assess = _command(commands, "assess", "the whole assessment", example)
    _study_options(assess)
    assess.add_argument("--json", action="store_true", help="print one JSON object")
    _quick_option(assess)


def _explain(commands: Commands) -> None:
    about = "a figure opened: formula, what it was made from, source, grade"
    example = "hullchange explain myboat.yaml conditions.departure.gm_m"
    explain = _command(commands, "explain", about, example)
    _study_options(explain)
    path = "of a result, or of a value of the document"
    explain.add_argument("path", metavar="PATH", help=path)
    explain.add_argument("--deep", action="store_true", help="open every input in turn")
    explain.add_argument("--json", action="store_true", help="print one JSON object")


def _scene(commands: Commands) -> None:
    example = "hullchange scene myboat.yaml --out myboat.glb"
    scene = _command(commands, "scene", "the refit as glTF", example)
    _study_options(scene)
    scene.add_argument("--out", type=Path, required=True, metavar="FILE.glb")


def _share(commands: Commands) -> None:
    about = "one HTML file to send: the pages, read only, with no server and no network"
    share = _command(commands, "share", about, "hullchange share myboat.yaml --out myboat.html")
    _study_options(share)
    share.add_argument("--out", type=Path, required=True, metavar="FILE.html")
    _quick_option(share)


def _tables(commands: Commands) -> None:
    about = "what an engineer needs for her own method, as CSV files"
    tables = _command(commands, "tables", about, "hullchange tables myboat.yaml --out check")
    _study_options(tables)
    tables.add_argument("--out", type=Path, required=True, metavar="FOLDER")
    _review_option(tables)


def _cut(commands: Commands) -> None:
    about = "outlines, nests and lists for the cutter, the yard and a hand torch"
    cut = _command(commands, "cut", about, "hullchange cut myboat.yaml --out cut")
    _study_options(cut)
    cut.add_argument("--out", type=Path, required=True, metavar="FOLDER")
    cut.add_argument("--quick", action="store_true", help="the first nests that hold")
    _review_option(cut)
    twin = "add a twin of every DXF in R12, which says no unit"
    cut.add_argument("--r12", action="store_true", help=twin)


def _stages(commands: Commands) -> None:
    about = "what a cut list that comes back makes of the stage of each change"
    stages = _command(commands, "stages", about, "hullchange stages myboat.yaml cut-list.csv")
    stages.add_argument("file", type=Path, metavar="FILE")
    stages.add_argument("list", type=Path, metavar="LIST", help="filled in, CSV or XLSX")
    stages.add_argument("--write", action="store_true", help="write the stages into FILE")


def _export(commands: Commands) -> None:
    about = "files for other programs: STEP with part ids, glTF, ledger and conditions"
    export = _command(commands, "export", about, "hullchange export myboat.yaml --out files")
    _study_options(export)
    export.add_argument("--out", type=Path, required=True, metavar="FOLDER")
    _review_option(export)


def _archive(commands: Commands) -> None:
    about = "all of a refit in one file: document, history, revisions, review, attachments"
    example = "hullchange archive saltmarrow --out saltmarrow.zip"
    archive = _command(commands, "archive", about, example)
    archive.add_argument("refit", metavar="REFIT|FILE", help="its id, or its document")
    archive.add_argument("--out", type=Path, required=True, metavar="FILE.zip")
    _data_option(archive)


def _restore(commands: Commands) -> None:
    about = "take a refit up again from its archive: all of it or nothing"
    restore = _command(commands, "restore", about, "hullchange restore saltmarrow.zip")
    restore.add_argument("file", type=Path, metavar="FILE.zip")
    restore.add_argument("--name", metavar="NAME", help="to call it by, where not as it was")
    _data_option(restore)


def _merge(commands: Commands) -> None:
    about = "take up what was said in a shared page: each item once, and what does not fit"
    example = "hullchange merge saltmarrow saltmarrow-review.json"
    merge = _command(commands, "merge", about, example)
    merge.add_argument("refit", metavar="REFIT|FILE", help="its id, or its document")
    merge.add_argument("review", type=Path, metavar="REVIEW.json")
    _data_option(merge)


def _serve(commands: Commands) -> None:
    about = "the server with its store; with FILE the boat in that file, saved back to it"
    serve = _command(commands, "serve", about, "hullchange serve myboat.yaml")
    serve.add_argument("file", type=Path, nargs="?", metavar="FILE")
    host = "an address of this machine that others reach; its pages then open by a secret link"
    serve.add_argument("--host", default="127.0.0.1", metavar="ADDRESS", help=host)
    secret = "open the owner's pages by a secret link on this computer too"
    serve.add_argument("--secret-link", action="store_true", help=secret)
    _server_options(serve)


def _command(
    commands: Commands,
    name: str,
    about: str,
    example: str,
) -> argparse.ArgumentParser:
    return commands.add_parser(
        name,
        help=about,
        description=f"{about[0].upper()}{about[1:]}.",
        epilog=f"Example: {example}",
    )


def _study_options(command: argparse.ArgumentParser) -> None:
    command.add_argument("file", type=Path, metavar="FILE")
    command.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="PATH=VALUE",
        dest="settings",
        help="change one value for this run; the file stays as it is",
    )
    command.add_argument("--option", metavar="NAME", help="one of the document's options")


def _quick_option(command: argparse.ArgumentParser) -> None:
    quick = "leave out the CAD solids, and say so"
    command.add_argument("--quick", action="store_true", help=quick)


def _review_option(command: argparse.ArgumentParser) -> None:
    data = "where the review is kept that says whether this is signed"
    command.add_argument("--data", type=Path, metavar="FOLDER", help=data)


def _data_option(command: argparse.ArgumentParser) -> None:
    command.add_argument("--data", type=Path, metavar="FOLDER", help="where refits are kept")


def _server_options(command: argparse.ArgumentParser) -> None:
    _data_option(command)
    command.add_argument(
        "--port", type=int, default=None, metavar="N", help="0 takes a free one"
    )
    command.add_argument("--no-browser", action="store_true", help="open no browser")


if __name__ == "__main__":
    sys.exit(main())
