"""Where every piece of a pack lies, as a text that is kept, so that no nest is made again."""

import json
from dataclasses import replace
from math import radians
from typing import Any

import numpy as np

from hullchange.cutting.blanks import thickness_mm
from hullchange.cutting.nests import plate_nests
from hullchange.cutting.pack import CutPack
from hullchange.errors import ModelError
from hullchange.shop.nest import Nest, Placement, Sheet, require_sound
from hullchange.units import deg_of_rad, mm_of_m


def placements(pack: CutPack) -> str:
    """Sheets and what lies on them, as JSON."""
    rows = [
        {
            "thickness_mm": mm_of_m(plates.thickness),
            "sheet": number,
            "stock": nest.sheet.name,
            "outline_m": nest.sheet.outline.tolist(),
            "price": nest.sheet.price,
            "leftover": nest.sheet.leftover,
            "pieces": [
                {"id": p.id, "turn_deg": deg_of_rad(p.angle), "shift_m": list(p.shift)}
                for p in nest.places
            ],
        }
        for plates in pack.plates
        for number, nest in enumerate(plates.nests, 1)
    ]
    stamp = pack.stamp
    whole = {
        "boat": stamp.boat,
        "document_sha256": stamp.document,
        "revision": stamp.revision,
        "state": stamp.state,
        "nests": rows,
    }
    return json.dumps(whole, indent=1) + "\n"


def with_placements(pack: CutPack, kept: str) -> CutPack:
    """The same pieces where a kept text has them.

    Args:
        pack: of the same document.
        kept: as ``placements`` wrote it.

    Raises:
        ModelError: ``nest-fails-check`` where this version draws the pieces otherwise.
    """
    by_thickness: dict[float, list[Nest]] = {}
    for entry in json.loads(kept)["nests"]:
        by_thickness.setdefault(round(entry["thickness_mm"], 3), []).append(_nest(entry))
    ids = {
        (mm, place.id)
        for mm, nests in by_thickness.items()
        for nest in nests
        for place in nest.places
    }
    if not ids <= {(thickness_mm(piece), piece.id) for piece in pack.pieces}:
        sentence = (
            "The saved nests of this revision contain pieces that this version draws "
            "differently: cut from the files written then, or freeze the refit again."
        )
        raise ModelError("nest-fails-check", sentence)
    plates = []
    for mm in sorted({thickness_mm(piece) for piece in pack.pieces}):
        own = [piece for piece in pack.pieces if thickness_mm(piece) == mm]
        row = plate_nests(own, by_thickness.get(mm, []), pack.stock, pack.spacing)
        require_sound(row.nests, row.shapes, pack.spacing)
        plates.append(row)
    return replace(pack, plates=tuple(plates))


def _nest(row: dict[str, Any]) -> Nest:
    sheet = Sheet(row["stock"], np.array(row["outline_m"]), row["price"], row["leftover"])
    return Nest(
        sheet,
        tuple(
            Placement(p["id"], radians(p["turn_deg"]), (p["shift_m"][0], p["shift_m"][1]))
            for p in row["pieces"]
        ),
    )
