"""A still picture of a refit that needs no browser: afloat, painted, with her edges drawn."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from hullchange.answer.assessment import ConditionResult
from hullchange.boat.boat import Boat
from hullchange.cache import cached
from hullchange.geometry.frame import FloatArray, WaterPlane
from hullchange.present.light import shown_of
from hullchange.present.paint import FINER, coloured
from hullchange.present.png import png
from hullchange.present.sea import UP, Waters
from hullchange.present.sheet import (
    DrawnLines,
    Faces,
    Pixels,
    ViewSheet,
    depths,
    drawn_of,
    facing,
    outline,
    waterline,
)

EYE = np.array([-0.62, -0.86, 0.36])
SHARE, HIGHEST = 0.86, 0.75  # of the picture's width
INK, FORMER = "#1c2630", "#fff4cf"
OUTLINE, EDGE, FINE, WATER, HALO = 2.9, 1.5, 1.0, 1.9, 4.4  # [px] at the usual width
USUAL_WIDTH, USUAL_LENGTH = 1600.0, 10.0  # [px], [m]: what lines and dashes are meant for
DASH, PERIOD = 0.13, 0.23  # [m] at the usual length
CLEAR, BEHIND = 2.5, 16.0  # [px] at the usual width
STEPS = 127
"""Levels of a colour, less one; a file of twice as many is half as large again."""
UNDER_WATER = 0.45
"""Share of ink that is seen of a line under water."""


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
    afloat = Waters.of(boat, now, before)
    sheet = sheet_of(faces, afloat.turned, wide_px)
    near, seen = depths(faces, sheet)
    colours = coloured(faces, sheet, afloat, (near, seen))
    for stroke in _strokes(faces, lines, sheet, afloat):
        _ink(colours, near, sheet, stroke)
    shifts = [(k, m) for k in range(FINER) for m in range(FINER)]
    mean = np.mean([colours[k::FINER, m::FINER] for k, m in shifts], axis=0)
    opacity = mean[..., 3:]
    mean[..., :3] /= np.where(opacity > 0.0, opacity, 1.0)
    levels = np.round(mean.clip(0.0, 1.0) * STEPS) * (255.0 / STEPS)
    return png(np.round(levels).astype(np.uint8))


def sheet_of(faces: Faces, turned: FloatArray, wide_px: int) -> ViewSheet:
    """The sheet on which the boat is drawn, finer than her picture.

    Args:
        faces: what there is to see.
        turned: (3, 3) turn of the boat [-].
        wide_px: width of the picture.
    """
    wide = FINER * wide_px
    points = faces.corners.reshape(-1, 3)
    return ViewSheet.around(facing(EYE, UP) @ turned, points, wide, SHARE, HIGHEST * wide)


def picture_in(
    boat: Boat, floats: tuple[ConditionResult, ...], condition: str, *, wide_px: int = 1600
) -> bytes:
    """The refit in a condition, her waterline as found dashed.

    Args:
        boat: everything built.
        floats: how she floats in each condition and stage.
        condition: its name.
        wide_px: width of the picture.
    """
    rows = {row.stage: row for row in floats if row.id == condition}
    before = rows.get("as_found")
    now = rows.get("refit") or before
    return boat_picture(boat, now, None if now is before else before, wide_px=wide_px)


@dataclass(frozen=True, eq=False)
class _Stroke:
    """Lines of one ink.

    Attributes:
        segments: (n, 2, 3) [m].
        width: [px] at the usual width.
        opacity: 0 to 1.
        nearer: how much nearer than the faces they lie [px] at the usual width.
        ink: as #rrggbb.
        longer: dashes are so many times as long as usual; inf for a full line.
    """

    segments: FloatArray
    width: float
    opacity: float = 1.0
    nearer: float = 1.5
    ink: str = INK
    longer: float = np.inf


def _strokes(
    faces: Faces, lines: DrawnLines, sheet: ViewSheet, afloat: Waters
) -> Iterator[_Stroke]:
    """All lines, those drawn over others last."""
    rim = outline(faces, sheet.turn[2])
    for stroke in (
        _Stroke(lines.of_hull, FINE, 0.5),
        _Stroke(lines.bars, FINE, 0.6, nearer=-BEHIND),
        _Stroke(lines.plates, EDGE),
        _Stroke(rim, OUTLINE, nearer=CLEAR),
    ):
        yield from _by_water(stroke, afloat.now)
    if afloat.now is not None:
        yield _Stroke(waterline(faces, afloat.now), WATER, 0.85, nearer=CLEAR)
    if afloat.before is not None:
        former = waterline(faces, afloat.before)
        yield _Stroke(former, HALO, 0.55, nearer=CLEAR)
        yield _Stroke(
            former, WATER, nearer=CLEAR, ink=FORMER, longer=afloat.length / USUAL_LENGTH
        )


def _by_water(stroke: _Stroke, water: WaterPlane | None) -> Iterator[_Stroke]:
    """The stroke above the water, and fainter below it."""
    if water is None:
        yield stroke
        return
    under = water.height_above(stroke.segments.mean(axis=1)) < -1e-3
    yield replace(stroke, segments=stroke.segments[~under])
    yield replace(stroke, segments=stroke.segments[under], opacity=stroke.opacity * UNDER_WATER)


def _ink(colours: Pixels, near: Pixels, sheet: ViewSheet, stroke: _Stroke) -> None:
    from hullchange.present.depth_buffer import draw_lines  # imports the compiler

    usual = sheet.size[1] / USUAL_WIDTH
    pen = [stroke.width * usual / 2.0, stroke.nearer * usual / sheet.scale]
    metre = sheet.scale * float(sheet.turn[0, 0])
    pen += [length * stroke.longer * metre for length in (DASH, PERIOD)]
    inked = np.zeros(sheet.size, np.float32)
    draw_lines(sheet.place(stroke.segments), np.array(pen), near, inked)
    rows, columns = np.nonzero(inked)
    share = (inked[rows, columns] * stroke.opacity)[:, None]
    under, ink = colours[rows, columns], np.array([*shown_of(stroke.ink), 1.0])
    colours[rows, columns] = under + (ink - under) * share
