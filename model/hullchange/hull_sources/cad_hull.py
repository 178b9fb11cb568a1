"""Lines of a hull that comes from a CAD file, as triangles of one of its bodies."""

from dataclasses import dataclass, replace

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray, Indices
from hullchange.hull_sources.cloud import LONGEST, SHORTEST
from hullchange.hull_sources.cloud_files import sampled
from hullchange.hull_sources.found import FoundLines
from hullchange.hull_sources.scan import ScanMarks, lines_of_scan
from hullchange.quantity_text import UNITS, known_unit

CAD_ENDINGS = ("step", "stp", "iges", "igs")
FACING_UP = 0.8  # of a normal, from which a face above water is deck
DECK_CLEAR = 0.01  # of the length above water, from which it may be
WORTH = (
    "The lines follow the surface of the file within ±5 mm, and its displacement within 1 % "
    "(own trial); check with a tape that the file is the boat as built."
)


@dataclass(frozen=True, eq=False)
class CadBody:
    """A body of a file in triangles.

    Attributes:
        vertices: (n, 3) [mm] as far as the file says its unit.
        faces: (m, 3) of them.
        count: number of bodies in the file.
        number: of this one, from 1, by falling area.
    """

    vertices: FloatArray
    faces: Indices
    count: int
    number: int


@dataclass(frozen=True)
class CadAsked:
    """What the owner says about a CAD file.

    Attributes:
        waterline: [m] height of the waterline in the file, which has z up.
        unit: of its numbers, "" if the file says it rightly.
        bow_aft: whether the bow is at the larger x; None to take the finer end.
    """

    waterline: float
    unit: str = ""
    bow_aft: bool | None = None


def lines_of_cad(body: CadBody, asked: CadAsked) -> FoundLines:
    """The lines of the hull that a body is, its deck left out.

    Raises:
        ModelError: ``no-scale``, ``unit-missing``, ``no-hull``; those of ``lines_of_scan``.
    """
    unit = asked.unit or "mm"
    if known_unit(unit) not in ("m", "cm", "mm", "ft", "in"):
        sentence = f"{asked.unit!r} is not a unit for a CAD file: choose m, cm, mm, ft or in."
        raise ModelError("unit-missing", sentence)
    vertices = body.vertices * float(UNITS["length"][known_unit(unit)])
    long = float(np.ptp(vertices[:, 0])) if len(vertices) else 0.0
    if not SHORTEST <= long <= LONGEST:
        sentence = (
            f"Read in {unit}, the body is {long:,.3g} m long in x, which is not a boat's "
            f"length here ({SHORTEST:.0f} to {LONGEST:.0f} m): choose the file's unit, or "
            f"which of its {body.count} bodies is the hull."
        )
        raise ModelError("no-scale", sentence)
    a, b, c = vertices[body.faces].transpose(1, 0, 2)
    normal = np.cross(b - a, c - a)
    upright = np.abs(normal[:, 2]) > FACING_UP * np.linalg.norm(normal, axis=1)
    low = np.minimum(np.minimum(a[:, 2], b[:, 2]), c[:, 2])
    deck = upright & (low > asked.waterline + DECK_CLEAR * long)
    points = sampled(vertices, body.faces[~deck])
    (x, y, _), (x2, y2, _) = vertices.min(axis=0), vertices.max(axis=0)
    corners = np.array([[x, y], [x, y2], [x2, y], [x2, y2]])
    marks = np.column_stack([corners, np.full(4, asked.waterline)])
    bow = None
    if asked.bow_aft is not None:
        bow = np.array([x2 if asked.bow_aft else x, 0.0, asked.waterline])
    found = lines_of_scan(points, ScanMarks(marks, bow))
    which = f"Body {body.number} of {body.count} in the file, the largest first."
    notes = (which, *found.notes) if body.count > 1 else found.notes
    return replace(found, source="step", worth=WORTH, notes=notes)
