"""Triangles of a body in a STEP or IGES file.

Knows the CAD kernel, and is imported where a file is read: by the server in another process.
"""

from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

import cadquery as cq
import numpy as np
from OCP.IFSelect import IFSelect_RetDone
from OCP.IGESControl import IGESControl_Reader
from OCP.Standard import Standard_Failure
from OCP.STEPControl import STEPControl_Reader

from hullchange.errors import ModelError
from hullchange.hull_sources.cad_hull import CAD_ENDINGS, CadBody
from hullchange.hull_sources.cloud_files import LARGEST_FILE, MEGABYTE

DEFLECTION_SHARE = 1e-4  # of the length, that triangles may be off the surface
TURN = 0.1  # [rad] from one triangle to the next


def cad_body(name: str, content: bytes, number: int = 1) -> CadBody:
    """A body of a STEP or IGES file in triangles.

    Args:
        name: of the file; its ending says the format.
        content: its bytes.
        number: which body, from 1 by falling area.

    Raises:
        ModelError: ``too-large``, ``not-a-cad-file``, ``unknown-body``.
    """
    ending = name.lower().rpartition(".")[2]
    if ending not in CAD_ENDINGS:
        sentence = f"A CAD file ends in {', '.join(CAD_ENDINGS)}; {name[-40:]!r} does not."
        raise ModelError("not-a-cad-file", sentence)
    if len(content) > LARGEST_FILE:
        most = LARGEST_FILE // MEGABYTE
        sentence = f"A CAD file may be {most} MB here: leave out everything but the hull."
        raise ModelError("too-large", sentence)
    bodies = _bodies(_shape(ending, content))
    if not 1 <= number <= len(bodies):
        sentence = f"There is no body {number}: the file has {len(bodies)}."
        raise ModelError("unknown-body", sentence)
    body = bodies[number - 1]
    box = body.BoundingBox()
    size = max(box.xlen, box.ylen, box.zlen)
    vertices, faces = body.tessellate(DEFLECTION_SHARE * size, TURN)
    points = np.array([[v.x, v.y, v.z] for v in vertices], float).reshape(-1, 3)
    triangles = np.array(faces, np.int64).reshape(-1, 3)
    return CadBody(points, triangles, len(bodies), number)


def _shape(ending: str, content: bytes) -> cq.Shape:
    """All that a file holds, in millimetres as far as it says its unit."""
    reader = STEPControl_Reader() if ending in ("step", "stp") else IGESControl_Reader()
    damaged = ModelError("not-a-cad-file", "The CAD file cannot be read: save the hull again.")
    with TemporaryDirectory() as folder:
        path = Path(folder) / f"hull.{ending}"
        path.write_bytes(content)
        try:
            if reader.ReadFile(str(path)) != IFSelect_RetDone:
                raise damaged
            reader.TransferRoots()
            shape = reader.OneShape()
        except Standard_Failure as error:
            raise damaged from error
    if shape.IsNull():
        raise damaged
    return cq.Shape.cast(shape)


def _bodies(shape: cq.Shape) -> list[cq.Shape]:
    """Solids, the largest first; else all faces as one, then each shell of several."""
    solids, shells = shape.Solids(), shape.Shells()
    if solids:
        return _by_falling_area(solids)
    if not shape.Faces():
        sentence = "The CAD file contains no surface: save the hull as surfaces or as a solid."
        raise ModelError("not-a-cad-file", sentence)
    whole = cq.Compound.makeCompound(shape.Faces())
    return [whole, *(_by_falling_area(shells) if len(shells) > 1 else ())]


def _by_falling_area(bodies: Sequence[cq.Shape]) -> list[cq.Shape]:
    return sorted(bodies, key=lambda body: -float(body.Area()))
