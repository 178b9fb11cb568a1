"""``hullchange stages``: the stages of the changes, from a filled-in cut list."""

import argparse
import sys
from collections.abc import Iterable
from pathlib import Path

from hullchange_api.command_line.options import Commands, command_parser
from hullchange_api.command_line.status import DONE


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = "find the stage of each change from a filled-in cut list"
    example = "hullchange stages myboat.yaml cut-list.csv"
    parser = command_parser(commands, run, about, example)
    parser.add_argument("file", type=Path, metavar="FILE")
    parser.add_argument("list", type=Path, metavar="LIST", help="filled in, CSV or XLSX")
    parser.add_argument("--write", action="store_true", help="write the stages to FILE")


def run(given: argparse.Namespace) -> int:
    """Print the stage of each part and change; write the stages only with ``--write``."""
    from hullchange.boat.boat import boat_of
    from hullchange.cutting.filled_list import read_filled_list
    from hullchange.cutting.pack import cut_list_rows
    from hullchange.cutting.progress import part_stages, stage_offers
    from hullchange.document.paths import with_value
    from hullchange.document.reading import read_document
    from hullchange.document.yaml_edit import edited_text
    from hullchange_api.command_line.progress import progress_shown
    from hullchange_api.store.files import write_atomically

    filled_list = read_filled_list(given.list.name, given.list.read_bytes())
    with progress_shown("building the steel"):
        reading = read_document(given.file)
        boat = boat_of(reading.document)
        rows = cut_list_rows(boat)
    shapes = {row.id: row.shape for row in rows}
    ticks = filled_list.ticks
    stages = part_stages(rows, {(t.piece, t.step): t.shape for t in ticks if t.done})
    plain, offers = reading.plain, stage_offers(boat.document, stages)
    _warn("not in this boat", (t.piece for t in ticks if t.piece not in shapes))
    _warn(
        "cut before its shape changed",
        (t.piece for t in ticks if shapes.get(t.piece, t.shape) != t.shape),
    )
    _warn("skipped (not a date, initials, x or no)", filled_list.unclear)
    for (change, part), stage in stages.items():
        sys.stdout.write(f"{change}.{part}: {stage}\n")
    for offer in offers:
        plain = with_value(plain, offer.path, offer.stage)
        sys.stdout.write(f"{offer.path}: {offer.before} → {offer.stage}\n")
    if given.write and offers:
        write_atomically(given.file, edited_text(reading.written.text, plain).encode())
        sys.stdout.write(f"{given.file}\n")
    elif offers:
        sys.stdout.write("Nothing was written; add --write to set them.\n")
    return DONE


def _warn(what: str, names: Iterable[str]) -> None:
    """Report which rows of the list are skipped, and why."""
    listed = ", ".join(dict.fromkeys(names))
    if listed:
        sys.stderr.write(f"{what}: {listed}\n")
