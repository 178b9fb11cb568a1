"""The command that reads a cut list that came back, and offers the stages it makes."""

import argparse
import sys
from collections.abc import Iterable

from hullchange.boat.boat import boat_of
from hullchange.document.paths import with_value
from hullchange.document.reading import read_document
from hullchange_api.command_line.main import DONE
from hullchange_api.store.files import write_whole


def stages(given: argparse.Namespace) -> int:
    """What a filled cut list makes of the stage of each change; written only when asked."""
    from hullchange.cutting.filled_list import filled
    from hullchange.cutting.pack import rows_to_cut
    from hullchange.cutting.progress import far_by_list, stage_offers
    from hullchange.document.yaml_edit import edited

    reading = read_document(given.file)
    boat = boat_of(reading.document)
    said = filled(given.list.name, given.list.read_bytes())
    rows = rows_to_cut(boat)
    shapes = {row.id: row.shape for row in rows}
    done = {(t.piece, t.step): t.shape for t in said.ticks if t.done}
    far = far_by_list(rows, done)
    plain, offers = reading.plain, stage_offers(boat.document, far)
    _tell("not in this boat", (t.piece for t in said.ticks if t.piece not in shapes))
    _tell(
        "cut to another shape than now",
        (t.piece for t in said.ticks if shapes.get(t.piece, t.shape) != t.shape),
    )
    _tell("not counted, being no date, initials, x or no", said.unclear)
    for (change, part), stage in far.items():
        sys.stdout.write(f"{change}.{part}: {stage}\n")
    for offer in offers:
        plain = with_value(plain, offer.path, offer.stage)
        sys.stdout.write(f"{offer.path}: {offer.before} -> {offer.stage}\n")
    if given.write and offers:
        text = edited(reading.written.text, plain)
        write_whole(given.file, text.encode())
        sys.stdout.write(f"{given.file}\n")
    elif offers:
        sys.stdout.write("Nothing is written: add --write to set them.\n")
    return DONE


def _tell(what: str, names: Iterable[str]) -> None:
    """Which rows of the list count for nothing, and why."""
    listed = ", ".join(dict.fromkeys(names))
    if listed:
        sys.stderr.write(f"{what}: {listed}\n")
