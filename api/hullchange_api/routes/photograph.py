"""The refit laid into a photograph that the owner took; the photograph stays in the browser."""

import numpy as np
from fastapi import APIRouter

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.photograph.solving import PickedMark, Solved
from hullchange.present.photograph import Photographed, offered_marks, photographed
from hullchange.units import mm_of_m
from hullchange_api.routes.dependencies import Condition, CopiesDep, CopyDep, Option
from hullchange_api.wire.photograph import (
    MarkOff,
    PhotographFace,
    PhotographPlace,
    PhotographResult,
    PhotographToSolve,
    PhotographWaterline,
)

router = APIRouter(
    prefix="/api/refits/{refit}/revisions/working/photograph", tags=["working copy"]
)


@router.get("/places")
def list_photograph_places(
    copies: CopiesDep, copy: CopyDep, option: Option = None
) -> tuple[PhotographPlace, ...]:
    """Places of known coordinates on the boat as found."""
    boat = copies.boat(copy, copy.state, option)
    return tuple(PhotographPlace(id=m.id, name=m.name, at_m=m.at) for m in offered_marks(boat))


@router.post("")
def lay_into_photograph(
    asked: PhotographToSolve,
    copies: CopiesDep,
    copy: CopyDep,
    condition: Condition = None,
    option: Option = None,
) -> PhotographResult:
    """Solve the camera from marks, and see the refit with it."""
    boat = copies.boat(copy, copy.state, option)
    known = {mark.id: mark.at for mark in offered_marks(boat)}
    marks = []
    for mark in asked.marks:
        place = mark.place_m or known.get(mark.id)
        if place is None:
            sentence = f"The mark {mark.id!r} has no place: give place_m, or an offered id."
            raise ModelError("unknown-name", sentence, f"marks.{mark.id}")
        marks.append(PickedMark(mark.id, np.array(place), np.array(mark.at_px)))
    wanted = condition or boat.document.reference_condition
    if wanted not in boat.document.conditions:
        raise ModelError("unknown-condition", f"There is no condition {wanted!r}.", "condition")
    size = asked.width_px, asked.height_px
    return _result(photographed(boat, tuple(marks), size, wanted), tuple(marks))


def _result(seen: Photographed, marks: tuple[PickedMark, ...]) -> PhotographResult:
    found = seen.solved
    places = np.array([mark.at for mark in marks])
    return PhotographResult(
        off_px=found.rms,
        off_mm=mm_of_m(float(np.sqrt(np.mean(found.off_at_boat**2)))),
        away_m=float(np.linalg.norm(found.camera.at - places.mean(axis=0))),
        marks=_off(found, marks, found.camera.pixels(places)),
        faces=tuple(
            PhotographFace(
                role=face.role,
                id=face.id,
                light=round(face.light, 3),
                points_px=tuple(_pixel(p) for p in face.pixels),
            )
            for face in seen.faces
        ),
        waterlines=tuple(
            PhotographWaterline(
                id=stage, pieces_px=tuple((_pixel(a), _pixel(b)) for a, b in pieces)
            )
            for stage, pieces in seen.waterlines.items()
        ),
    )


def _off(found: Solved, marks: tuple[PickedMark, ...], seen: FloatArray) -> tuple[MarkOff, ...]:
    return tuple(
        MarkOff(id=mark.id, off_px=float(off), off_mm=mm_of_m(float(at)), seen_px=_pixel(pixel))
        for mark, off, at, pixel in zip(marks, found.off, found.off_at_boat, seen, strict=True)
    )


def _pixel(place: FloatArray) -> tuple[float, float]:
    u, v = (round(float(c), 1) for c in place)
    return (u, v)
