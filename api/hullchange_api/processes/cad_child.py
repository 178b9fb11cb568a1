"""Code of the CAD process. It imports little, so that it starts quickly."""

import multiprocessing
import os
import signal
from threading import Thread
from typing import TYPE_CHECKING

import numpy as np

from hullchange.geometry.plate import Plate
from hullchange.geometry.surface import MassProperties, box, mass_properties

if TYPE_CHECKING:  # both are imported when they are asked for
    from hullchange.hull_sources.cad_hull import CadBody
    from hullchange.hull_sources.pdf_page import PagePicture

Solids = tuple[tuple[str, MassProperties], ...]


def end_with_parent() -> None:
    """Make this process end when its parent does, even if that is killed, not by Ctrl-C."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    assert parent is not None

    def wait() -> None:
        parent.join()
        os._exit(1)

    Thread(target=wait, daemon=True).start()


def load_kernel() -> None:
    """Load the CAD kernel and the weighing, which takes seconds, before they are needed."""
    from hullchange.cad import solids  # noqa: F401

    mass_properties(box(np.zeros(3), np.ones(3)), 1.0)


def body_of(name: str, content: bytes, number: int) -> "CadBody":
    """A body of a STEP or IGES file in triangles."""
    from hullchange.hull_sources.cad_file import cad_body

    return cad_body(name, content, number)


def page_of(content: bytes, number: int) -> "PagePicture":
    """A page of a PDF as a picture."""
    from hullchange.hull_sources.pdf_page import page_picture

    return page_picture(content, number)


def solids_of(plates: tuple[Plate, ...]) -> Solids:
    """Each plate's id and weighed solid."""
    from hullchange.cad import solids

    return tuple(solids.record_of(plates))
