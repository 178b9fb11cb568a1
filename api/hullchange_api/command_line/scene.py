"""``hullchange scene``: the refit as one glTF file."""

import argparse
import sys
from pathlib import Path

from hullchange_api.command_line.options import Commands, command_parser, refit_options
from hullchange_api.command_line.status import DONE


def add_to(commands: Commands) -> None:
    """Add the command."""
    example = "hullchange scene myboat.yaml --out myboat.glb"
    parser = command_parser(commands, run, "write the refit as a 3D model (glTF)", example)
    refit_options(parser)
    parser.add_argument("--out", type=Path, required=True, metavar="FILE.glb")


def run(given: argparse.Namespace) -> int:
    """Write the file."""
    from hullchange.errors import ModelError
    from hullchange.present.scene import whole_scene
    from hullchange_api.command_line.progress import progress_shown
    from hullchange_api.command_line.refit_document import boat_given
    from hullchange_api.store.files import write_atomically

    if given.out.suffix.lower() != ".glb":
        raise ModelError("not-a-scene", "The file name in --out must end in .glb.")
    with progress_shown("building the boat and drawing it"):
        scene = whole_scene(boat_given(given))
    write_atomically(given.out, scene)
    sys.stdout.write(f"{given.out}\n")
    return DONE
