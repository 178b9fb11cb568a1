"""Code of the CAD process. It imports little, so that it starts quickly."""

import multiprocessing
import os
from threading import Thread

import numpy as np

from hullchange.geometry.plate import Plate
from hullchange.geometry.surface import MassProperties, box, mass_properties

Solids = tuple[tuple[str, MassProperties], ...]


def end_with_parent() -> None:
    """Make this process end when its parent does, even if the parent is killed."""
    parent = multiprocessing.parent_process()
    assert parent is not None

    def wait() -> None:
        parent.join()
        os._exit(1)

    Thread(target=wait, daemon=True).start()


def load_kernel() -> None:
    """Load the CAD kernel and the weighing, which takes seconds, before they are needed."""
    from hullchange.parts import solids  # noqa: F401

    mass_properties(box(np.zeros(3), np.ones(3)), 1.0)


def solids_of(plates: tuple[Plate, ...]) -> Solids:
    """Each plate's id and weighed solid."""
    from hullchange.parts import solids

    return tuple(solids.record_of(plates))
