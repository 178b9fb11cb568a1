"""The refit laid into a photograph: its camera is found from the marks in the document."""

from typing import Annotated

import numpy as np
from fastapi import APIRouter, Query

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.photograph.solving import PickedMark, Solved
from hullchange.present.photograph import Photographed, offered_marks, photographed
from hullchange.units import mm_of_m
from hullchange_api.routes.dependencies import (
    Condition,
    CopiesDep,
    CopyDep,
    Option,
    ReviewsDep,
    WorkingOrNumber,
)
from hullchange_api.wire.photograph import (
    MarkOff,
    PhotographFace,
    PhotographPlace,
    PhotographResult,
    PhotographWaterline,
    PhotographWeight,
)
from hullchange_api.working_copy.access import for_reviewers

router = APIRouter(prefix="/api/refits/{refit}/revisions", tags=["working copy"])
NameOf = Annotated[str, Query(max_length=200, description="key under photographs")]


@router.get("/working/photograph/places")
def list_photograph_places(
    copies: CopiesDep, copy: CopyDep, option: Option = None
) -> tuple[PhotographPlace, ...]:
    """Places of known coordinates on the boat as found."""
    boat = copies.boat(copy, copy.state, option)
    return tuple(PhotographPlace(id=m.id, name=m.name, at_m=m.at) for m in offered_marks(boat))


@router.get("/{revision}/photograph")
@for_reviewers
def lay_into_photograph(
    name: NameOf,
    copy: CopyDep,
    reviews: ReviewsDep,
    revision: WorkingOrNumber,
    condition: Condition = None,
    option: Option = None,
) -> PhotographResult:
    """Solve the camera from the marks of a photograph, and see the refit with it."""
    boat = (
        reviews.copies.boat(copy, copy.state, option)
        if revision == "working"
        else reviews.boat(copy.refit, revision, option)
    )
    photograph = boat.document.photographs.get(name)
    if photograph is None:
        sentence = f"There is no photograph {name!r} in this boat's document."
        raise ModelError("unknown-name", sentence, "name")
    wanted = condition or boat.document.reference_condition
    if wanted not in boat.document.conditions:
        raise ModelError("unknown-condition", f"There is no condition {wanted!r}.", "condition")
    return _result(photographed(boat, photograph, wanted))


def _result(seen: Photographed) -> PhotographResult:
    found, marks = seen.solved, seen.marks
    places = np.array([mark.at for mark in marks])
    return PhotographResult(
        off_px=found.rms,
        off_mm=mm_of_m(float(np.sqrt(np.mean(found.off_at_boat**2)))),
        away_m=float(np.linalg.norm(found.camera.at - places.mean(axis=0))),
        marks=_off(found, marks),
        faces=tuple(
            PhotographFace(
                role=face.role,
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
        weights=tuple(
            PhotographWeight(id=one.id, mass_kg=one.kg, at_px=_pixel(one.pixel))
            for one in seen.weights
        ),
    )


def _off(found: Solved, marks: tuple[PickedMark, ...]) -> tuple[MarkOff, ...]:
    return tuple(
        MarkOff(id=mark.id, name=mark.name, off_px=float(off), off_mm=mm_of_m(float(at)))
        for mark, off, at in zip(marks, found.off, found.off_at_boat, strict=True)
    )


def _pixel(place: FloatArray) -> tuple[float, float]:
    u, v = (round(float(c), 1) for c in place)
    return (u, v)
