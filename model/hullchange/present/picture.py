"""A still picture of a refit that needs no browser: the boat afloat, painted, edges drawn."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hullchange.answer.assessment import ConditionResult
from hullchange.boat.boat import Boat
from hullchange.cache import cached
from hullchange.geometry.frame import FloatArray, WaterPlane, up_vector
from hullchange.present.light import Light, from_srgb, srgb
from hullchange.present.png import png
from hullchange.present.sheet import (
    EXISTING,
    NEW,
    PAINTED,
    PANE,
    Faces,
    Lines,
    Pixels,
    Sheet,
    depths,
    drawn_of,
    facing,
    outline,
    waterline,
)
from hullchange.units import rad_of_deg

EYE, UP = np.array([-0.62, -0.86, 0.36]), np.array([0.0, 0.0, 1.0])
KEEL_UP = np.diag([1.0, -1.0, -1.0])
FINER = 2
"""Pixels of the drawing along one of the picture."""
SHARE, HIGHEST = 0.9, 0.75  # of the picture's width
TOPSIDES, BOOT_TOP, ANTIFOULING, DECK = "#fffcf4", "#26333c", "#8a4338", "#dbd0b8"
STEEL = {NEW: "#d8ccc0", EXISTING: "#c9c6bd", PANE: "#39474f"}
SEA, DEEP, INK, FORMER = "#93b0b8", "#7f9aa2", "#1c2630", "#fff4cf"
BREADTH, NARROWEST, BROADEST = 0.0085, 0.04, 0.18  # of the boot-top: share of length; [m]
OUTLINE, EDGE, FINE, WATER, HALO = 2.4, 1.4, 0.95, 1.9, 4.4  # [px] at 1600 of width
USUAL_WIDTH, USUAL_LENGTH = 1600.0, 10.0  # [px], [m]: what lines and dashes are meant for
DASH, PERIOD = 0.13, 0.23  # [m]
UNDER_WATER = 0.45
"""Share of ink that is seen of a line under water."""
EDGE_ON = 0.05
STEEPEST = 60.0
"""[deg] of heel up to which she is painted to the water she lies in."""
BAND = 128
"""Rows that are coloured at once."""


@dataclass(frozen=True, eq=False)
class _Afloat:
    """How she lies: the waters, None where they are unknown, and to which she is painted."""

    now: WaterPlane | None
    before: WaterPlane | None
    painted: WaterPlane
    turned: FloatArray
    length: float

    @property
    def boot_top(self) -> float:
        """Breadth of the boot-top [m]."""
        return min(BROADEST, max(NARROWEST, self.length * BREADTH))


@cached(16)
def boat_picture(
    boat: Boat,
    now: ConditionResult | None,
    before: ConditionResult | None = None,
    *,
    wide_px: int = 1600,
) -> bytes:
    """The refit from her port bow as a PNG on a transparent ground.

    Args:
        boat: everything built.
        now: how she floats; None where she does not.
        before: how she floated: its waterline is dashed.
        wide_px: width of the picture.
    """
    faces, lines = drawn_of(boat)
    afloat = _afloat(boat, now, before)
    turn = facing(EYE, UP) @ afloat.turned
    wide = FINER * wide_px
    points = faces.corners.reshape(-1, 3)
    sheet = Sheet.around(turn, points, wide, SHARE, HIGHEST * wide)
    near, seen = depths(faces, sheet)
    colours = _coloured(faces, sheet, afloat, (near, seen))
    _ink(colours, near, sheet, _strokes(faces, lines, sheet, afloat))
    high, across = (n // FINER for n in sheet.size)
    mean = colours.reshape(high, FINER, across, FINER, 4).mean(axis=(1, 3))
    opacity = mean[..., 3:]
    mean[..., :3] /= np.where(opacity > 0.0, opacity, 1.0)
    return png(np.round(mean.clip(0.0, 1.0) * 255.0).astype(np.uint8))


def _afloat(
    boat: Boat, now: ConditionResult | None, before: ConditionResult | None
) -> _Afloat:
    water = None if now is None else _water(now)
    is_over = now is not None and bool(now.upside_down)
    is_steep = water is not None and abs(np.degrees(water.heel)) > STEEPEST
    former = None if before is None or before.upside_down else _water(before)
    return _Afloat(
        now=water,
        before=former,
        painted=WaterPlane(UP, 0.0) if water is None or is_over or is_steep else water,
        turned=KEEL_UP if is_over else np.eye(3),
        length=boat.hull.length,
    )


def _water(row: ConditionResult) -> WaterPlane | None:
    if row.water_offset_m is None:
        return None
    up = up_vector(rad_of_deg(row.trim_deg), rad_of_deg(row.heel_deg))
    return WaterPlane(up, row.water_offset_m)


def _coloured(
    faces: Faces, sheet: Sheet, afloat: _Afloat, buffer: tuple[Pixels, NDArray[np.int32]]
) -> Pixels:
    """(h, w, 4) colours, with the sea over them; multiplied by their opacity."""
    light, sea = Light.on(faces, afloat.turned), _Sea.around(faces, sheet, afloat)
    corners = sheet.place(faces.corners)
    colours = np.zeros((*sheet.size, 4), np.float32)
    for top in range(0, sheet.size[0], BAND):
        near, seen = (one[top : top + BAND] for one in buffer)
        band = colours[top : top + BAND]
        rows, columns = np.nonzero(seen >= 0)
        x, y = columns + 0.5, rows + top + 0.5
        face = seen[rows, columns]
        points = sheet.point(x, y, near[rows, columns])
        normals = _normals(corners[face], faces.normals[face], x, y)
        shown = normals * np.where(normals @ sheet.turn[2] < 0.0, -1.0, 1.0)[:, None]
        fallen = _fallen(light, points, shown, (rows, columns))
        looks = faces.looks[face]
        lit = fallen * _paint(looks, points, normals, afloat)
        under = np.zeros(len(points), dtype=bool)
        if afloat.now is not None:
            depth = np.maximum(-afloat.now.height_above(points), 0.0)
            under = (depth > 0.0) & (looks == PAINTED)
            murk = ((1.0 - np.exp(-0.9 * depth)) * 0.62)[:, None]
            lit = lit + (from_srgb(DEEP) - lit) * murk
        band[rows, columns, :3], band[rows, columns, 3] = srgb(lit), 1.0
        if sea is not None:
            wet = seen < 0
            wet[rows[under], columns[under]] = True
            sea.lay(band, top, wet, light)
    return colours


def _normals(corners: FloatArray, normals: FloatArray, x: FloatArray, y: FloatArray) -> FloatArray:
    """(n, 3) unit normals at places on faces (n, 3, 3) on the sheet."""
    (ax, ay), (bx, by), (cx, cy) = (corners[:, k, :2].T for k in range(3))
    twice = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
    u = ((x - ax) * (cy - ay) - (cx - ax) * (y - ay)) / twice
    v = ((bx - ax) * (y - ay) - (x - ax) * (by - ay)) / twice
    shares = np.stack([1.0 - u - v, u, v], axis=1)
    mixed = np.einsum("nk,nki->ni", shares, normals)
    return mixed / np.maximum(np.linalg.norm(mixed, axis=1, keepdims=True), 1e-9)


def _fallen(
    light: Light, points: FloatArray, normals: FloatArray, at: tuple[NDArray[np.int64], ...]
) -> FloatArray:
    """Light on each pixel, worked out once for neighbours of one picture's pixel on one face."""
    rows, columns = at
    width = int(columns.max(initial=0)) // FINER + 1
    block = (rows // FINER) * width + columns // FINER
    first, which = np.unique(block, return_index=True, return_inverse=True)[1:]
    chief = first[which]
    like = np.einsum("ni,ni->n", normals, normals[chief]) > 0.995
    apart = np.flatnonzero(~like)
    asked = np.concatenate([first, apart])
    found = light.falls_on(points[asked], normals[asked])
    fallen = found[which]
    fallen[apart] = found[len(first) :]
    return fallen


def _paint(
    looks: NDArray[np.int32], points: FloatArray, normals: FloatArray, afloat: _Afloat
) -> FloatArray:
    """(n, 3) light that the faces throw back."""
    paint = np.zeros((len(points), 3))
    for look, colour in STEEL.items():
        paint[looks == look] = from_srgb(colour)
    hull = looks == PAINTED
    above = afloat.painted.height_above(points[hull])
    coats = [from_srgb(colour) for colour in (ANTIFOULING, BOOT_TOP, TOPSIDES)]
    coat = np.array(coats)[np.searchsorted([0.0, afloat.boot_top], above)]
    slope = np.clip((normals[hull, 2] - 0.55) / 0.15, 0.0, 1.0)
    deck = (slope * slope * (3.0 - 2.0 * slope) * (above > 0.25))[:, None]
    paint[hull] = coat + (from_srgb(DECK) - coat) * deck
    return paint


@dataclass(frozen=True, eq=False)
class _Sea:
    """A calm sea that fades out around her, with her shadow on it."""

    sheet: Sheet
    water: WaterPlane
    middle: FloatArray
    axes: FloatArray

    @classmethod
    def around(cls, faces: Faces, sheet: Sheet, afloat: _Afloat) -> "_Sea | None":
        """The sea she floats in; None where it is seen edge on, from below or not at all."""
        water = afloat.now
        if water is None or water.up @ sheet.turn[2] < EDGE_ON:
            return None
        points = faces.corners.reshape(-1, 3)
        aft = np.array([1.0, 0.0, 0.0]) - water.up[0] * water.up
        aft /= np.linalg.norm(aft)
        along, across = points @ aft, points @ np.cross(water.up, aft)
        half = 1.75 * (along.max() - along.min()) / 2.0
        wide = max(0.62 * half, 2.4 * float(np.abs(across).max()))
        middle = aft * (along.max() + along.min()) / 2.0
        return cls(sheet, water, middle, np.array([aft / half, np.cross(water.up, aft) / wide]))

    def lay(self, band: Pixels, top: int, wet: NDArray[np.bool_], light: Light) -> None:
        """Lays it over pixels of a band of rows."""
        rows, columns = np.nonzero(wet)
        x, y = columns + 0.5, rows + top + 0.5
        flat = self.sheet.point(x, y, np.zeros(len(x)))
        eye = self.sheet.turn[2]
        near = -self.water.height_above(flat) / (self.water.up @ eye)
        points = flat + near[:, None] * eye
        away = np.linalg.norm((points - self.middle) @ self.axes.T, axis=1)
        fade = np.clip((1.0 - away) / 0.7, 0.0, 1.0)
        height, width = self.sheet.size
        rim = np.minimum(np.minimum(x, width - x), np.minimum(y, height - y)) / (0.1 * width)
        rim = np.clip(rim, 0.0, 1.0)
        share = _smooth(fade) * _smooth(rim)
        some = share > 0.004
        rows, columns, points, share = rows[some], columns[some], points[some], share[some]
        up = np.broadcast_to(self.water.up, points.shape)
        dark = 0.13 * (1.0 - light.sun(points, up)) * share
        cover = 0.5 * share
        colour = np.array([int(SEA[k : k + 2], 16) / 255.0 for k in (1, 3, 5)])
        under = band[rows, columns]
        under = under * (1.0 - cover)[:, None]
        under[:, :3] += colour * cover[:, None]
        under[:, 3] += cover
        under *= (1.0 - dark)[:, None]
        under[:, 3] += dark
        band[rows, columns] = under


def _smooth(share: FloatArray) -> FloatArray:
    return share * share * (3.0 - 2.0 * share)


@dataclass(frozen=True, eq=False)
class _Stroke:
    """Lines of one ink: width [px] at the usual size, opacity, nearness [px], dashed or not."""

    segments: FloatArray
    width: float
    opacity: float = 1.0
    nearer: float = 3.0
    ink: str = INK
    dashed: bool = False


def _strokes(faces: Faces, lines: Lines, sheet: Sheet, afloat: _Afloat) -> Iterator[_Stroke]:
    """All lines, those drawn over others last."""
    rim = outline(faces, sheet.turn[2])
    for stroke in (
        _Stroke(lines.of_hull, FINE, 0.5),
        _Stroke(lines.bars, FINE, 0.6, nearer=-3.0),
        _Stroke(lines.plates, EDGE),
        _Stroke(rim, OUTLINE, nearer=5.0),
    ):
        yield from _by_water(stroke, afloat.now)
    if afloat.now is not None:
        yield _Stroke(waterline(faces, afloat.now), WATER, 0.85, nearer=5.0)
    if afloat.before is not None:
        former = waterline(faces, afloat.before)
        yield _Stroke(former, HALO, 0.55, nearer=5.0)
        yield _Stroke(former, WATER, nearer=5.0, ink=FORMER, dashed=True)


def _by_water(stroke: _Stroke, water: WaterPlane | None) -> Iterator[_Stroke]:
    """The stroke above the water, and fainter below it."""
    from dataclasses import replace

    if water is None:
        yield stroke
        return
    under = water.height_above(stroke.segments.mean(axis=1)) < -1e-3
    yield replace(stroke, segments=stroke.segments[~under])
    yield replace(
        stroke, segments=stroke.segments[under], opacity=stroke.opacity * UNDER_WATER
    )


def _ink(colours: Pixels, near: Pixels, sheet: Sheet, strokes: Iterator[_Stroke]) -> None:
    from hullchange.present.depth_buffer import rule

    usual = sheet.size[1] / USUAL_WIDTH
    for stroke in strokes:
        inked = np.zeros(sheet.size, np.float32)
        dash = (np.inf, np.inf)
        if stroke.dashed:
            metre = sheet.scale * np.hypot(sheet.turn[0, 0], 0.0)
            dash = DASH * metre, PERIOD * metre
        pen = np.array([stroke.width * usual / 2.0, stroke.nearer * usual / 2.0 / sheet.scale, *dash])
        rule(sheet.place(stroke.segments), pen, near, inked)
        rows, columns = np.nonzero(inked)
        share = (inked[rows, columns] * stroke.opacity)[:, None]
        ink = np.array([*(int(stroke.ink[k : k + 2], 16) / 255.0 for k in (1, 3, 5)), 1.0])
        under = colours[rows, columns]
        colours[rows, columns] = under + (ink - under) * share
