"""What is drawn of a boat as faces and lines, and where they lie on a sheet."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hullchange.boat.boat import Boat
from hullchange.geometry.frame import BoolArray, FloatArray, IntArray, WaterPlane, cross
from hullchange.present.gltf import Drawn
from hullchange.present.scene import GLASS, ScenePiece, scene_pieces
from hullchange.present.shading import shaded

PAINTED, NEW, EXISTING, PANE = range(4)
DECK_SLOPE = 0.6
"""Least rise of a normal on what a well leaves open."""
Pixels = NDArray[np.float32]
FaceNumbers = NDArray[np.int32]
AnyFloats = NDArray[np.floating]


@dataclass(frozen=True, eq=False)
class Faces:
    """Triangles in the boat.

    Attributes:
        corners: (n, 3, 3) [m].
        normals: (n, 3, 3) unit vectors at the corners.
        looks: (n,) PAINTED, NEW, EXISTING or PANE.
        wells: (k, 4) x0, y0, x1, y1 [m] in plan: the deck is open there.
    """

    corners: FloatArray
    normals: FloatArray
    looks: IntArray
    wells: FloatArray

    @property
    def deck(self) -> BoolArray:
        """(n,) those of the deck; a keel's upper side, under the waterline, is none."""
        rise, height = self.normals[:, :, 2].mean(axis=1), self.corners[:, :, 2].min(axis=1)
        return np.asarray((self.looks == PAINTED) & (rise > DECK_SLOPE) & (height > 0.0))


@dataclass(frozen=True, eq=False)
class DrawnLines:
    """Segments (n, 2, 3) [m] by what they are."""

    of_hull: FloatArray
    plates: FloatArray
    bars: FloatArray


@dataclass(frozen=True, eq=False)
class ViewSheet:
    """Where places of the boat lie on a sheet that is looked at along parallel rays.

    Attributes:
        turn: (3, 3) rows to the right, up, and to the eye, in the boat [-].
        scale: [px/m].
        origin: (2,) [px] of the boat's origin.
        size: height and width [px].
    """

    turn: FloatArray
    scale: float
    origin: FloatArray
    size: tuple[int, int]

    @classmethod
    def around(
        cls, turn: FloatArray, points: FloatArray, wide: int, share: float, highest: float
    ) -> "ViewSheet":
        """So that the points cover a share of the width, the same blank above and below.

        Args:
            turn: (3, 3) as of the sheet [-].
            points: (n, 3) [m].
            wide: [px].
            share: of the width [-].
            highest: [px]; the points cover less of the width where they are higher.
        """
        across = points @ turn[:2].T
        low, high = across.min(axis=0), across.max(axis=0)
        size = np.maximum(high - low, 1e-6)
        blank = wide * (1.0 - share)
        scale = float(min(wide * share / size[0], (highest - blank) / size[1]))
        height = round(size[1] * scale + blank)
        height += height % 2
        middle = (low + high) / 2.0 * scale
        origin = np.array([wide / 2.0 - middle[0], height / 2.0 + middle[1]])
        return cls(turn, scale, origin, (height, wide))

    def place(self, points: FloatArray) -> FloatArray:
        """(..., 3) places on the sheet of points (..., 3) [m]: pixels, and nearness [m]."""
        seen = points @ self.turn.T
        seen[..., 0] = self.origin[0] + self.scale * seen[..., 0]
        seen[..., 1] = self.origin[1] - self.scale * seen[..., 1]
        return seen

    def point(self, x: AnyFloats, y: AnyFloats, near: AnyFloats) -> FloatArray:
        """(n, 3) [m] points of the boat at places on the sheet."""
        right, up = (x - self.origin[0]) / self.scale, (self.origin[1] - y) / self.scale
        points: FloatArray = np.stack([right, up, near], axis=1) @ self.turn
        return points


def facing(eye: FloatArray, up: FloatArray) -> FloatArray:
    """(3, 3) the turn [-] of a sheet, looked at from ``eye`` (3,) with ``up`` (3,) upwards."""
    towards = eye / np.linalg.norm(eye)
    right = np.cross(up, towards)
    right /= np.linalg.norm(right)
    return np.array([right, np.cross(towards, right), towards])


def depths(faces: Faces, sheet: ViewSheet) -> tuple[Pixels, FaceNumbers]:
    """How near what is seen at each pixel is [m] (h, w), and which face it is, -1 for none."""
    from hullchange.present.depth_buffer import fill

    corners, deck = sheet.place(faces.corners), faces.deck
    numbers = np.arange(len(corners), dtype=np.int32)
    layers = []
    for chosen in (~deck, deck):
        near = np.full(sheet.size, -np.inf, np.float32)
        seen = np.full(sheet.size, -1, np.int32)
        fill(corners[chosen], numbers[chosen], near, seen)
        layers.append((near, seen))
    (near, seen), (deck_near, deck_seen) = layers
    rows, columns = np.nonzero(deck_near > near)
    found = deck_near[rows, columns]
    x, y, _ = sheet.point(columns + 0.5, rows + 0.5, found).T
    is_whole = np.ones(len(x), dtype=bool)
    for x0, y0, x1, y1 in faces.wells:
        is_whole &= ~((x > x0) & (x < x1) & (y > y0) & (y < y1))
    rows, columns = rows[is_whole], columns[is_whole]
    near[rows, columns], seen[rows, columns] = found[is_whole], deck_seen[rows, columns]
    return near, seen


def drawn_of(boat: Boat) -> tuple[Faces, DrawnLines]:
    """What there is to see of a refit, without what it replaces."""
    pieces = [piece for piece in scene_pieces(boat) if piece.role != "replaced"]
    drawn = [(piece, one) for piece in pieces for one in piece.drawn()]
    corners, normals, looks = zip(*(_faces(piece, one) for piece, one in drawn), strict=True)
    wells = [box for piece in pieces for box in piece.opens]
    faces = Faces(
        np.concatenate(corners),
        np.concatenate(normals),
        np.concatenate(looks),
        np.array(wells, dtype=float).reshape(-1, 4),
    )
    return faces, DrawnLines(*(np.concatenate(list(_lines(drawn, kind))) for kind in range(3)))


def _faces(piece: ScenePiece, one: Drawn) -> tuple[FloatArray, FloatArray, IntArray]:
    if one.smooth:
        smooth = shaded([(one.vertices, one.faces)])[0]
        corners, normals = smooth.vertices[smooth.faces], smooth.normals[smooth.faces]
    else:
        corners = one.vertices[one.faces]
        areas = cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        long = np.linalg.norm(areas, axis=1, keepdims=True)
        normals = np.repeat((areas / np.maximum(long, 1e-12))[:, None], 3, axis=1)
    look = EXISTING if piece.role == "existing" else NEW
    if one.material != "steel":
        look = PANE if one.material == GLASS else PAINTED
    return corners, normals, np.full(len(corners), look, np.int32)


def _lines(drawn: list[tuple[ScenePiece, Drawn]], kind: int) -> Iterator[FloatArray]:
    yield np.zeros((0, 2, 3))
    for _, one in drawn:
        if one.lines is not None and kind == 0:
            yield one.lines
        of = 1 if one.extras.get("kind", "plate") == "plate" else 2
        if one.edges is not None and kind == of:
            yield one.vertices[one.edges]


def outline(faces: Faces, eye: FloatArray) -> FloatArray:
    """(n, 2, 3) [m] edges of the painted hull between a face towards the eye and one away."""
    corners = faces.corners[faces.looks == PAINTED]
    grid = np.round(corners.reshape(-1, 3) * 2e3).astype(np.int64)
    names = np.unique(grid, axis=0, return_inverse=True)[1].reshape(-1, 3)
    ends = np.sort(np.stack([names, np.roll(names, -1, axis=1)], axis=2).reshape(-1, 2))
    where = np.stack([corners, np.roll(corners, -1, axis=1)], axis=2).reshape(-1, 2, 3)
    areas = cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    is_towards = np.repeat(areas @ eye > 0.0, 3)
    order = np.lexsort(ends.T)
    same = np.flatnonzero((ends[order][1:] == ends[order][:-1]).all(axis=1))
    turns = is_towards[order[same]] != is_towards[order[same + 1]]
    found: FloatArray = where[order[same[turns]]]
    return found


def waterline(faces: Faces, water: WaterPlane) -> FloatArray:
    """(n, 2, 3) [m] where a water cuts the painted hull and its appendages."""
    return cut_by(water, faces.corners[faces.looks == PAINTED])


def cut_by(water: WaterPlane, corners: FloatArray) -> FloatArray:
    """(n, 2, 3) [m] where a water cuts triangles with corners (m, 3, 3) [m]."""
    height = water.height_above(corners.reshape(-1, 3)).reshape(-1, 3)
    under = height < 0.0
    count = under.sum(axis=1)
    crossed = (count == 1) | (count == 2)
    is_alone = np.where((count == 1)[:, None], under, ~under)[crossed]
    first, row = is_alone.argmax(axis=1), np.arange(int(crossed.sum()))
    a, b, c = (corners[crossed][row, (first + k) % 3] for k in range(3))
    za, zb, zc = (height[crossed][row, (first + k) % 3][:, None] for k in range(3))
    return np.stack([a + (b - a) * za / (za - zb), a + (c - a) * za / (za - zc)], axis=1)
