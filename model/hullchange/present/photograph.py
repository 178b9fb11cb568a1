"""The refit laid into an owner's photograph: marks offered, parts and waterlines as seen.

What is drawn is sorted from far to near; hull and what stays are drawn too, as what hides the
parts behind them. The waterlines run where the hull is turned to the camera. Of a new weight
without a shape its centre is shown, where it lies outside hull and houses.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

import numpy as np

from hullchange.afloat.person import water_of
from hullchange.answer.wire import Stage
from hullchange.assess.assessment import assessment
from hullchange.boat.boat import Boat
from hullchange.boat.built import BuiltPart
from hullchange.document.photographs import Photograph
from hullchange.geometry.frame import FloatArray, WaterPlane
from hullchange.geometry.surface import Surface
from hullchange.hull.hull import Hull
from hullchange.photograph.camera import Camera
from hullchange.photograph.solving import PickedMark, Solved, solved
from hullchange.plain_words import id_in_words
from hullchange.present.sheet import cut_by

FINEST = 0.5
"""[m] longest edge of a triangle that is sorted by its middle."""
STANDS_ON = 0.3
"""[m] by which parts are taken as nearer, so that the deck they stand on does not hide them."""
SMALLEST = 1.0
"""[px2] of a triangle that is drawn."""
MOST_HALVED = 6
LIGHT = np.array([-0.35, 0.45, 0.82])  # from ahead, to starboard and above
LEAST_LIGHT = 0.45  # share of it in the shade
SIDES = (("port", -1.0), ("starboard", 1.0))
FaceRole = Literal["hides", "part", "glass"]


@dataclass(frozen=True)
class OfferedMark:
    """A place on the boat that can be found in a photograph.

    Attributes:
        id: its key.
        name: in words.
        at: place [m].
    """

    id: str
    name: str
    at: tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class Face:
    """A triangle as the camera sees it.

    Attributes:
        role: whether it is drawn as steel or dark glass, or hides what is behind it.
        id: of the part, or hull.
        light: share of full light, 0 to 1 [-].
        pixels: (3, 2) [px].
    """

    role: FaceRole
    id: str
    light: float
    pixels: FloatArray


def offered_marks(boat: Boat) -> tuple[OfferedMark, ...]:
    """Places that are known of the boat as found, for a camera to be solved from."""
    return tuple(
        OfferedMark(key, name, (float(at[0]), float(at[1]), float(at[2])))
        for key, name, at in (*_of_hull(boat), *_of_houses(boat), *_of_keels(boat.hull))
    )


_Named = tuple[str, str, FloatArray]


def _of_hull(boat: Boat) -> Iterator[_Named]:
    hull = boat.hull
    stem, transom = (hull.sheer(np.array([x]))[0] for x in (hull.stem_x, hull.transom_x))
    yield "stem-head", "stem head, on the centreline", stem * [1.0, 0.0, 1.0]
    yield from _of_stern(transom, hull.transom_outline()[0])
    for (name, mark), (side, sign) in product(boat.document.survey.marks.items(), SIDES):
        breadth = float(hull.sheer(np.array([mark.x_m]))[0, 1])
        at = np.array([mark.x_m, sign * breadth, mark.sheer_z_m])
        words = name.replace("-", " ")
        yield f"mark-{name}-{side}", f"freeboard mark {words} at the sheer, {side}", at


def _of_stern(corner: FloatArray, foot: FloatArray) -> Iterator[_Named]:
    """Corners and foot of the transom; the end of the deck where the stern is pointed."""
    if corner[1] < POINTED_M:
        yield (
            "stern-head",
            "after end of the deck, on the centreline",
            corner * [1, 0, 1],
        )
        return
    for side, sign in SIDES:
        yield f"transom-{side}", f"transom corner at the deck, {side}", corner * [1, sign, 1]
    yield "transom-foot", "foot of the transom, on the centreline", foot * [1.0, 0.0, 1.0]


POINTED_M = 0.15
"""Half-breadth of the deck at its end below which two corners cannot be told apart."""


def _of_houses(boat: Boat) -> Iterator[_Named]:
    for name, part in boat.existing.items():
        house, words = part.part.house, name.replace("-", " ")
        if house is None:
            continue
        corners = (
            ("forward-roof", "forward corner of the roof", house.front_top),
            ("after-roof", "after corner of the roof", house.after_top),
            ("forward-foot", "forward corner at the deck", house.front_foot),
            ("after-foot", "after corner at the deck", house.after_foot),
        )
        for key, of, row in corners:
            for (side, _), at in zip(SIDES, (row[0], row[-1]), strict=True):
                yield f"{name}-{key}-{side}", f"{words}: {of}, {side}", at


def _of_keels(hull: Hull) -> Iterator[_Named]:
    """Both ends of the lowest edge of each keel and rudder on the centreline."""
    for name, outline in hull.side_view.appendages.items():
        if not hull.appendages[name].plane.is_amidships:
            continue
        low = outline[outline[:, 1] < outline[:, 1].min() + 0.02]
        words = name.replace("-", " ")
        for key, (x, z) in (
            ("forward", low[low[:, 0].argmin()]),
            ("after", low[low[:, 0].argmax()]),
        ):
            at = np.array([x, 0.0, z])
            yield f"{name}-{key}", f"{words}: {key} end of the lowest edge", at


def faces_seen(boat: Boat, camera: Camera) -> tuple[Face, ...]:
    """What is turned to the camera, from far to near: new parts, and what hides them."""
    gone = {change.replaces for change in boat.document.changes.values()}
    stays = [part for part in boat.existing.values() if part.path not in gone]
    solids: list[tuple[FaceRole, str, Surface]] = [("hides", "hull", boat.hull.drawing_surface)]
    solids += [("hides", name, part.surface) for name, part in boat.hull.appendages.items()]
    for part in stays:
        solids += [("hides", part.id, surface) for _, surface in _outside(part)]
    for part in boat.parts.values():
        solids += [(role, part.id, surface) for role, surface in _outside(part)]
    found = [one for role, name, solid in solids for one in faces_of(role, name, solid, camera)]
    return tuple(face for _, face in sorted(_needed(found), key=lambda one: -one[0]))


def _needed(found: list[tuple[float, Face]]) -> list[tuple[float, Face]]:
    """Without what hides nothing: beside all parts in the picture, or behind them."""
    parts = [(away, face) for away, face in found if face.role != "hides"]
    if not parts:
        return []
    places = np.array([face.pixels for _, face in parts]).reshape(-1, 2)
    low, high, farthest = places.min(axis=0), places.max(axis=0), max(d for d, _ in parts)
    return parts + [
        (away, face)
        for away, face in found
        if face.role == "hides"
        and away < farthest
        and (face.pixels.max(axis=0) > low).all()
        and (face.pixels.min(axis=0) < high).all()
    ]


def _outside(part: BuiltPart) -> Iterator[tuple[FaceRole, Surface]]:
    """The surfaces of a part's plates that show outside, and of the panes in its walls."""
    for plate in part.part.plates:
        if plate.kind == "plate":
            yield "part", plate.surface()
        for hole in plate.holes if part.is_house and plate.id != "roof" else ():
            yield "glass", replace(plate, outer=hole, holes=()).surface()


def faces_of(
    role: FaceRole, name: str, surface: Surface, camera: Camera
) -> list[tuple[float, Face]]:
    """What of a closed surface is turned to a camera, each with its distance [m].

    Args:
        role: of its faces.
        name: of what it is.
        surface: closed.
        camera: that looks at it.
    """
    corners = _halved(surface.vertices[surface.faces])
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normals, axis=1)
    middle = corners.mean(axis=1)
    depths = camera.depth(corners.reshape(-1, 3)).reshape(-1, 3)
    faces_it = ((camera.at - middle) * normals).sum(axis=1) > 0.0
    kept = np.flatnonzero(faces_it & (size > 1e-9) & (depths.min(axis=1) > 0.1))
    pixels = camera.pixels(corners[kept].reshape(-1, 3)).reshape(-1, 3, 2)
    away = np.linalg.norm(middle[kept] - camera.at, axis=1)
    away -= STANDS_ON if role != "hides" else 0.0
    lit = np.clip((normals[kept] / size[kept, None]) @ LIGHT, 0.0, 1.0)
    light = LEAST_LIGHT + (1.0 - LEAST_LIGHT) * lit
    return [
        (float(d), Face(role, name, float(b), p))
        for d, b, p in zip(away, light, pixels, strict=True)
        if _area(p) > SMALLEST
    ]


def _area(triangle: FloatArray) -> float:
    """Area [px2] of a triangle (3, 2) [px]."""
    (ax, ay), (bx, by) = (triangle[1:] - triangle[0]).tolist()
    return float(abs(ax * by - ay * bx)) / 2.0


def _halved(triangles: FloatArray) -> FloatArray:
    """Triangles (n, 3, 3) [m], halved across their longest edges until these are short."""
    for _ in range(MOST_HALVED):
        edges = np.linalg.norm(triangles - np.roll(triangles, -1, axis=1), axis=2)
        long = edges.max(axis=1) > FINEST
        if not long.any():
            break
        cut, which = triangles[long], edges[long].argmax(axis=1)
        row = np.arange(len(cut))
        a, b, c = (cut[row, (which + k) % 3] for k in range(3))
        half = (a + b) / 2.0
        halves = [np.stack([a, half, c], axis=1), np.stack([half, b, c], axis=1)]
        triangles = np.concatenate([triangles[~long], *halves])
    return triangles


def waterline_seen(hull: Hull, water: WaterPlane, camera: Camera) -> tuple[FloatArray, ...]:
    """Pieces (2, 2) [px] of the waterline where the hull is turned to the camera.

    Args:
        hull: of the boat.
        water: that she lies in.
        camera: that looks at her.
    """
    corners = hull.drawing_surface.vertices[hull.drawing_surface.faces]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    turned = ((camera.at - corners.mean(axis=1)) * normals).sum(axis=1) > 0.0
    ends = cut_by(water, corners[turned])
    before = (camera.depth(ends.reshape(-1, 3)) > 0.1).reshape(-1, 2).all(axis=1)
    return tuple(camera.pixels(ends[before].reshape(-1, 3)).reshape(-1, 2, 2))


@dataclass(frozen=True, eq=False)
class SeenWeight:
    """A new weight of which no shape is known.

    Attributes:
        id: its path.
        kg: mass [kg].
        pixel: (2,) [px] of its centre.
    """

    id: str
    kg: float
    pixel: FloatArray


def weights_seen(boat: Boat, camera: Camera) -> tuple[SeenWeight, ...]:
    """New weights without a shape that lie outside hull and houses, before the camera."""
    houses = [part for part in boat.parts.values() if part.is_house]
    rooms = [body.surface.bounds for part in houses for body in part.part.bodies]
    found = []
    for entry in boat.entries:
        at = np.array([entry.to])
        if entry.role != "added" or camera.depth(at)[0] <= 0.1:
            continue
        is_inside = any((low <= at[0]).all() and (at[0] <= high).all() for low, high in rooms)
        if not is_inside and not _is_in_hull(boat.hull, at[0]):
            found.append(SeenWeight(entry.weight.path, entry.weight.mass, camera.pixels(at)[0]))
    return tuple(found)


def _is_in_hull(hull: Hull, at: FloatArray) -> bool:
    x, y, z = at.tolist()
    if not hull.stem_x < x < hull.transom_x:
        return False
    breadth = float(hull.sheer(np.array([x]))[0, 1])
    return bool(abs(y) < breadth and z < float(hull.deck_z(np.array([x]), np.array([y]))[0]))


@dataclass(frozen=True, eq=False)
class Photographed:
    """The refit as a photograph's camera sees her.

    Attributes:
        marks: that it was found from.
        solved: the camera and how well it fits.
        faces: from far to near.
        waterlines: (2, 2) [px] pieces of each boat's waterline, by stage, where upright.
        weights: new ones without a shape.
    """

    marks: tuple[PickedMark, ...]
    solved: Solved
    faces: tuple[Face, ...]
    waterlines: Mapping[Stage, tuple[FloatArray, ...]]
    weights: tuple[SeenWeight, ...]


def picked_marks(boat: Boat, photograph: Photograph) -> tuple[PickedMark, ...]:
    """The marks of a photograph whose places are known: offered ones, and the owner's own."""
    known = {mark.id: mark for mark in offered_marks(boat)}
    size = np.array([photograph.width_px, photograph.height_px])
    marks = []
    for key, mark in photograph.marks.items():
        offered = known.get(key)
        place = mark.place_m or (offered and offered.at)
        if place is not None:
            name = id_in_words(key) if offered is None else offered.name
            pixel = np.array(mark.at_percent) / 100.0 * size
            marks.append(PickedMark(key, name, np.array(place), pixel))
    return tuple(marks)


def photographed(boat: Boat, photograph: Photograph, condition: str) -> Photographed:
    """The refit as the camera sees her that sees marks where they were picked.

    Args:
        boat: everything built.
        photograph: with its marks.
        condition: whose waterlines are drawn.

    Raises:
        ModelError: as ``solved``; where she cannot be floated.
    """
    marks = picked_marks(boat, photograph)
    found = solved(marks, (photograph.width_px, photograph.height_px))
    answer = assessment(boat, only=condition, levers=None)
    waters = {row.stage: water for row in answer.floats if (water := water_of(row)) is not None}
    lines = {
        stage: waterline_seen(boat.hull, water, found.camera) for stage, water in waters.items()
    }
    faces, weights = faces_seen(boat, found.camera), weights_seen(boat, found.camera)
    return Photographed(marks, found, faces, lines, weights)
