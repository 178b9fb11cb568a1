"""``hullchange new``: a commented starting document."""

import argparse
import sys
from pathlib import Path

from hullchange_api.command_line.options import Commands, command_parser
from hullchange_api.command_line.status import DONE

NUMBERS = {
    "length_m": "length over all",
    "waterline_m": "length of the waterline",
    "beam_m": "greatest beam",
    "displacement_kg": "displacement as she floats, with everything aboard",
    "draught_m": "draught to the lowest point of the keel",
    "transom_m": "breadth of the transom at the deck; 0 for a canoe stern",
}


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = (
        "write a commented document to start from: from your boat's dimensions, or an invented "
        "boat"
    )
    example = (
        "hullchange new myboat.yaml --hull-type multi-chine --length-m 11.2 --waterline-m 9.3 "
        "--beam-m 3.4 --displacement-kg 9500 --draught-m 1.6 --freeboards-m 1.4 1.0 1.1 "
        "--transom-m 2.2 --keel long"
    )
    parser = command_parser(commands, run, about, example)
    parser.add_argument("file", type=Path, metavar="FILE")
    group = parser.add_argument_group("dimensions", "give all of them, or none")
    types = ("single-chine", "multi-chine", "round", "canoe-stern")
    group.add_argument("--hull-type", choices=types)
    for name, about_it in NUMBERS.items():
        option = f"--{name.replace('_', '-')}"
        group.add_argument(option, type=float, metavar="N", help=about_it)
    three = ("STEM", "LEAST", "STERN")
    group.add_argument(
        "--freeboards-m",
        type=float,
        nargs=3,
        metavar=three,
        help="freeboard at the stem, at its lowest, and at the stern",
    )
    group.add_argument("--keel", choices=("fin", "long", "twin"))


def run(given: argparse.Namespace) -> int:
    """Write the document, unless the file exists."""
    from hullchange_api.command_line.output_checks import require_new
    from hullchange_api.command_line.progress import progress_shown
    from hullchange_api.store.files import write_atomically

    require_new(given.file)
    name = given.file.stem.replace("-", " ").replace("_", " ").strip().capitalize()
    with progress_shown("drawing a hull of these dimensions"):
        text = _text(given, name or "Boat")
    write_atomically(given.file, text.encode())
    sys.stdout.write(f"{given.file}\n")
    return DONE


def _text(given: argparse.Namespace, name: str) -> str:
    """The document: of the dimensions given, or of an invented boat where none is."""
    from hullchange.errors import ModelError
    from hullchange.start.first_document import first_document
    from hullchange.start.invented import starting_document
    from hullchange.start.proportions import FirstDimensions

    known = {
        key: getattr(given, key) for key in ("hull_type", *NUMBERS, "freeboards_m", "keel")
    }
    missing = [f"--{key.replace('_', '-')}" for key, value in known.items() if value is None]
    if len(missing) == len(known):
        return starting_document(name)
    if missing:
        sentence = f"Give all dimensions or none; missing: {', '.join(missing)}."
        raise ModelError("dimensions-missing", sentence)
    return first_document(
        name,
        FirstDimensions(
            given.hull_type,
            given.length_m,
            given.waterline_m,
            given.beam_m,
            given.displacement_kg,
            given.draught_m,
            tuple(given.freeboards_m),
            given.transom_m,
            given.keel,
        ),
    )
