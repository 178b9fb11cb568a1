"""The still picture: painted to her water, open where the deck is, always the same."""

import struct
import zlib
from dataclasses import replace

import numpy as np
import pytest
from other_refits import other_refit
from refits import boat, capsizing_answer, capsizing_document, demo, demo_answer

from hullchange.document.yaml_text import parsed
from hullchange.geometry.frame import WaterPlane
from hullchange.present.paint import FINER
from hullchange.present.picture import boat_picture, picture_in, sheet_of
from hullchange.present.scene import scene_pieces
from hullchange.present.sea import Waters
from hullchange.present.sheet import PAINTED, depths, drawn_of, waterline
from hullchange.start.invented import starting_document

LARGEST_BYTES = 250_000
WIDE = 1600


def pixels_of(png):
    """(h, w, 4) of a file whose rows are not filtered."""
    assert png.startswith(b"\x89PNG\r\n\x1a\n")
    width, height, depth, colours = struct.unpack_from(">IIBB", png, 16)
    assert (depth, colours) == (8, 6)
    size = png.index(b"IDAT")
    (length,) = struct.unpack_from(">I", png, size - 4)
    rows = np.frombuffer(zlib.decompress(png[size + 4 : size + 4 + length]), np.uint8)
    return rows.reshape(height, 1 + 4 * width)[:, 1:].reshape(height, width, 4).astype(int)


def at_rest(answer):
    return [row for row in answer.floats if row.id == answer.reference_condition]


def antifouling(pixels):
    red, _, blue, opacity = np.moveaxis(pixels, 2, 0)
    return (opacity == 255) & (red > blue + 60)


@pytest.mark.parametrize("deeper", [0.0, 0.2])
def test_the_boot_top_lies_at_the_water_she_floats_in(deeper):
    built, now = demo()[0], at_rest(demo_answer())[-1]
    now = now.model_copy(update={"water_offset_m": now.water_offset_m + deeper})
    afloat, faces = Waters.of(built, now, None), drawn_of(built)[0]
    sheet = sheet_of(faces, afloat.turned, WIDE)
    pixels = pixels_of(boat_picture(built, now, wide_px=WIDE))
    coats = {"antifouling": -0.05, "boot-top": afloat.boot_top / 2, "topsides": 0.25}
    found = {}
    for coat, height in coats.items():
        level = WaterPlane(afloat.now.up, afloat.now.offset + height)
        points = waterline(faces, level).mean(axis=1)
        x, y, _ = points.T
        at = sheet.place(points[(y < -0.4) & (x > 4.0) & (x < 8.0)]) / FINER
        found[coat] = np.median(pixels[at[:, 1].astype(int), at[:, 0].astype(int)], axis=0)
    assert found["boot-top"][:3].max() < 70
    assert found["topsides"][:3].min() > 170
    redness = {coat: colour[0] - colour[2] for coat, colour in found.items()}
    assert redness["antifouling"] > redness["boot-top"] + 8
    assert 70 < found["antifouling"][0] < 170


def test_the_well_is_open():
    built = demo()[0]
    faces = drawn_of(built)[0]
    sheet = sheet_of(faces, np.eye(3), 400)
    (x0, y0, x1, y1) = max(
        (box for piece in scene_pieces(built) for box in piece.opens),
        key=lambda box: box[2] - box[0],
    )
    middle = np.array([(x0 + x1) / 2, (y0 + y1) / 2, 1.2])  # about the deck's height
    column, row, _ = sheet.place(middle[None])[0].astype(int)

    def looked_at(some):
        return some.looks[depths(some, sheet)[1][row, column]]

    assert looked_at(faces) != PAINTED
    assert looked_at(replace(faces, wells=faces.wells[:0])) == PAINTED


def test_a_keel_below_a_well_stays_whole():
    built = boat(other_refit(24).plain)  # her keel swells upwards below the well
    faces = drawn_of(built)[0]
    ((x0, _, x1, _),) = faces.wells
    middle = faces.corners.mean(axis=1)
    low = (middle[:, 2] < 0.0) & (faces.normals[:, :, 2].mean(axis=1) > 0.6)
    assert (low & (middle[:, 0] > x0) & (middle[:, 0] < x1)).any()
    assert not (faces.deck & low).any()


def test_it_is_small_transparent_around_her_and_always_the_same():
    built, answer = demo()[0], demo_answer()
    picture = picture_in(built, answer.floats, answer.reference_condition)
    boat_picture.answers.forget()
    assert picture_in(built, answer.floats, answer.reference_condition) == picture
    assert len(picture) < LARGEST_BYTES
    pixels = pixels_of(picture)
    assert pixels.shape[1] == WIDE
    assert pixels[0, :, 3].max() < 10
    assert (pixels[..., 3] == 255).mean() > 0.15


def test_upside_down_her_keel_is_on_top():
    built = boat(capsizing_document())
    (before, now) = at_rest(capsizing_answer())
    assert now.upside_down
    red = antifouling(pixels_of(boat_picture(built, now, before, wide_px=400)))
    rows = np.nonzero(red.any(axis=1))[0]
    assert rows.mean() < 0.5 * red.shape[0]


def test_a_hull_alone_that_does_not_float_is_drawn_without_a_sea():
    bare = boat({**parsed(starting_document("Dot")).document(), "changes": {}})
    pixels = pixels_of(boat_picture(bare, None, wide_px=400))
    opacity = pixels[..., 3]
    assert antifouling(pixels).mean() > 0.02
    assert ((opacity > 0) & (opacity < 255)).mean() < 0.05  # the rims of lines alone
