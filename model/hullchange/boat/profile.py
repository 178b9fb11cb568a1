"""The boat from the side: outlines to draw the profile from."""

from collections.abc import Iterator, Mapping
from typing import Literal

import numpy as np

from hullchange.answer.assessment import MarkOnProfile, Outline, Profile
from hullchange.boat.boat import PARTS_HELD, Boat, BuiltPart
from hullchange.cache import cached
from hullchange.geometry.frame import FloatArray
from hullchange.hull.hull import Hull

Role = Literal["hull", "sheer", "chine", "appendage", "existing", "part"]
FINEST = 1e-3  # [m] points of a drawn line are thinned to this


def profile_of(boat: Boat, centre_of_flotation: float) -> Profile:
    """Outlines in side view, marks, and where the pivot of the trim stands.

    Args:
        boat: what is drawn.
        centre_of_flotation: x [m].
    """
    groups: tuple[tuple[Role, Mapping[str, BuiltPart]], ...] = (
        ("existing", boat.existing),
        ("part", boat.parts),
    )
    parts = [
        outline
        for role, group in groups
        for part in group.values()
        for outline in _part_outlines(part, role)
    ]
    return Profile(
        outlines=(*_hull_outlines(boat.hull), *parts),
        marks=tuple(
            MarkOnProfile(id=name, x_m=mark.x_m, sheer_z_m=mark.sheer_z_m)
            for name, mark in boat.document.survey.marks.items()
        ),
        length_waterline_m=boat.document.hull.length_waterline_m,
        centre_of_flotation_x_m=centre_of_flotation,
    )


@cached(PARTS_HELD)
def _part_outlines(part: BuiltPart, role: Role) -> tuple[Outline, ...]:
    """Drawn with few points as it is, and drawn anew at each step of a drag."""
    return tuple(_outline(part.path, role, p, closed=True) for p in part.part.side_view)


@cached(8)
def _hull_outlines(hull: Hull) -> tuple[Outline, ...]:
    return tuple(_of_hull(hull))


def _of_hull(hull: Hull) -> Iterator[Outline]:
    view = hull.side_view
    for name, points in view.appendages.items():
        yield _outline(name, "appendage", _thinned(points), closed=True)
    yield _outline("hull", "hull", _thinned(view.outline), closed=True)
    for name, points in view.lines.items():
        if name != hull.lines.centreline.name:
            role: Role = "sheer" if name == hull.lines.sheer.name else "chine"
            yield _outline(name, role, _thinned(points), closed=False)


def _outline(name: str, role: Role, points: FloatArray, *, closed: bool) -> Outline:
    return Outline(
        id=name,
        role=role,
        points_m=tuple((round(x, 4), round(z, 4)) for x, z in points.tolist()),
        closed=closed,
    )


def _thinned(points: FloatArray) -> FloatArray:
    """The points that matter: those further than ``FINEST`` from the line of the rest."""
    if len(points) < 3:
        return points
    start, end = points[0], points[-1]
    along = end - start
    length = float(np.hypot(*along))
    away = points - start
    if length < FINEST:
        off = np.hypot(away[:, 0], away[:, 1])
    else:
        off = np.abs(along[0] * away[:, 1] - along[1] * away[:, 0]) / length
    worst = int(np.argmax(off))
    if off[worst] <= FINEST:
        return np.array([start, end])
    return np.concatenate([_thinned(points[: worst + 1])[:-1], _thinned(points[worst:])])
