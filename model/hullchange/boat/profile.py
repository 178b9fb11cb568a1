"""What the boat is drawn from: outlines from the side, and curves of the bodies that float."""

from collections.abc import Iterator, Mapping
from typing import Literal

import numpy as np

from hullchange.answer.drawing import (
    BodyCurve,
    MarkOnProfile,
    Outline,
    PartHandle,
    Profile,
)
from hullchange.boat.boat import Boat
from hullchange.boat.built import PARTS_HELD, BuiltPart
from hullchange.cache import cached
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.polyline import thinned
from hullchange.geometry.station import starboard_half, station_cuts
from hullchange.geometry.surface import Surface
from hullchange.hull.hull import Hull
from hullchange.parts.registry import KINDS

BodyRole = Literal["section", "midship", "sheer", "keel", "house", "well"]
ProfileRole = Literal["hull", "sheer", "chine", "appendage", "existing", "part"]
FINEST = 1e-3  # [m] points of a drawn line are thinned to this
FINEST_ACROSS = 2e-4  # [m] the same of a section
INSIDE = 1e-6  # [m] so far from the end of a body its end is cut


def profile_of(boat: Boat, centre_of_flotation: float) -> Profile:
    """Outlines in side view, marks, and where the pivot of the trim stands.

    Args:
        boat: what is drawn.
        centre_of_flotation: x [m].
    """
    groups: tuple[tuple[ProfileRole, Mapping[str, BuiltPart]], ...] = (
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
        changes_moment_kgm=_moment(boat, centre_of_flotation),
        body=(
            *_hull_curves(boat.hull, boat.document.hull.length_waterline_m / 2.0),
            *(curve for part in _standing(boat) for curve in _part_curves(part)),
        ),
        handles=tuple(one for part in boat.parts.values() for one in _handles(part)),
    )


def _moment(boat: Boat, x: float) -> float:
    """[kg m] of the changes about a place along the boat."""
    mass, moment = np.zeros(2) + sum(entry.account.numbers[:2] for entry in boat.entries)
    return float(moment - x * mass)


def _standing(boat: Boat) -> Iterator[BuiltPart]:
    """The parts of the refit."""
    replaced = {change.replaces for change in boat.document.changes.values()}
    yield from (part for part in boat.existing.values() if part.path not in replaced)
    yield from boat.parts.values()


@cached(PARTS_HELD)
def _part_curves(part: BuiltPart) -> tuple[BodyCurve, ...]:
    """A house, or a well, cut at its mid-length."""
    curves = []
    for body in part.bodies:
        if body.adds and not part.is_house:
            continue
        middle = float(body.surface.bounds[:, 0].mean())
        curves += _cut(body.surface, middle, "house" if body.adds else "well")
    return tuple(curves)


@cached(8)
def _hull_curves(hull: Hull, middle: float) -> tuple[BodyCurve, ...]:
    """Sections where the sheer was measured and amidships, sheer, and keels seen end on."""
    stations = hull.lines.sheer.points[:, 0].tolist()
    sections = [c for x in stations for c in _cut(hull.surface, x, "section")]
    sheer = thinned(hull.lines.sheer.at_fraction(hull.mesh.fractions), FINEST)
    keels = [
        _curve("keel", part.end_view, both=part.pair or part.plane.is_amidships)
        for part in hull.appendages.values()
    ]
    return (
        *sections,
        _curve("sheer", sheer),
        *keels,
        *_cut(hull.surface, middle, "midship"),
    )


def _cut(surface: Surface, x: float, role: BodyRole) -> list[BodyCurve]:
    """Starboard halves of what a station shows of a body."""
    fore, after = surface.bounds[:, 0].tolist()
    inside = min(max(x, fore + INSIDE), after - INSIDE)
    halves = (starboard_half(outline) for outline in station_cuts(surface, inside))
    return [
        _curve(role, np.insert(thinned(half, FINEST_ACROSS), 0, x, axis=1))
        for half in halves
        if len(half) > 2
    ]


def _curve(role: BodyRole, points: FloatArray, *, both: bool = True) -> BodyCurve:
    found = tuple((round(x, 4), round(y, 4), round(z, 4)) for x, y, z in points.tolist())
    return BodyCurve(role=role, points_m=found, both_sides=both)


@cached(PARTS_HELD)
def _part_outlines(part: BuiltPart, role: ProfileRole) -> tuple[Outline, ...]:
    """Side-view outlines of a part [m]; few points, since every step of a drag redraws it."""
    return tuple(_outline(part.path, role, p, closed=True) for p in part.part.side_view)


@cached(PARTS_HELD)
def _handles(part: BuiltPart) -> tuple[PartHandle, ...]:
    """What can be dragged on a part."""
    return tuple(
        PartHandle(
            path=f"{part.path}.{one.key}",
            index=one.index,
            change=part.change,
            part=part.id,
            kind=part.part.kind,
            at_m=_point(one.at),
            moves_m=_point(one.moves),
            is_main=one.is_main,
        )
        for one in KINDS[part.part.kind].handles(part.dimensions, part.part)
    )


def _point(at: FloatArray) -> tuple[float, float, float]:
    x, y, z = (round(float(v), 4) for v in at)
    return x, y, z


@cached(8)
def _hull_outlines(hull: Hull) -> tuple[Outline, ...]:
    return tuple(_of_hull(hull))


def _of_hull(hull: Hull) -> Iterator[Outline]:
    view = hull.side_view
    # the hull hides the tops of those on the centreline alone
    under: list[Outline] = []
    beside: list[Outline] = []
    for name, points in view.appendages.items():
        outline = _outline(name, "appendage", thinned(points, FINEST), closed=True)
        (under if hull.appendages[name].plane.is_amidships else beside).append(outline)
    yield from under
    yield _outline("hull", "hull", thinned(view.outline, FINEST), closed=True)
    yield from beside
    for name, points in view.lines.items():
        if name != hull.lines.centreline.name:
            role: ProfileRole = "sheer" if name == hull.lines.sheer.name else "chine"
            yield _outline(name, role, thinned(points, FINEST), closed=False)


def _outline(name: str, role: ProfileRole, points: FloatArray, *, closed: bool) -> Outline:
    return Outline(
        id=name,
        role=role,
        points_m=tuple((round(x, 4), round(z, 4)) for x, z in points.tolist()),
        closed=closed,
    )
