"""What colour each pixel of a picture of a refit is: paint, light, and water over it."""

import numpy as np

from hullchange.geometry.frame import FloatArray, Indices, IntArray, WaterPlane
from hullchange.present.light import Light, light_of, shown
from hullchange.present.sea import Sea, Waters, smooth
from hullchange.present.sheet import (
    EXISTING,
    NEW,
    PAINTED,
    PANE,
    AnyFloats,
    FaceNumbers,
    Faces,
    Pixels,
    ViewSheet,
)

FINER = 2
"""Pixels of the drawing along one of the picture."""
BAND = 128
"""Rows that are coloured at once."""
COATS = [light_of(colour) for colour in ("#8a4338", "#26333c", "#fffcf4")]
"""Antifouling, boot-top, topsides."""
DECK, DEEP = light_of("#dbd0b8"), light_of("#7f9aa2")
STEEL = {NEW: light_of("#d8ccc0"), EXISTING: light_of("#c9c6bd"), PANE: light_of("#39474f")}
DECK_FROM, DECK_ALL, DECK_ABOVE = 0.55, 0.7, 0.25  # rise of a normal, and height [m]
MURK, MURK_SHARE = 0.9, 0.62  # for a metre of depth, and at most
ALIKE = 0.995
"""Least cosine between normals on which the same light falls."""


def coloured(
    faces: Faces, sheet: ViewSheet, afloat: Waters, depth: tuple[Pixels, FaceNumbers]
) -> Pixels:
    """(h, w, 4) colours, with the sea over them; multiplied by their opacity.

    Args:
        faces: what there is to see.
        sheet: where it is seen.
        afloat: how she lies.
        depth: how near what is seen is, and which face.
    """
    light, sea = Light.on(faces, afloat.turned), Sea.around(faces, sheet, afloat.now)
    colours = np.zeros((*sheet.size, 4), np.float32)
    for top in range(0, sheet.size[0], BAND):
        near, seen = depth[0][top : top + BAND], depth[1][top : top + BAND]
        rows, columns = np.nonzero(seen >= 0)
        face = seen[rows, columns]
        x, y = columns + 0.5, rows + top + 0.5
        points = sheet.point(x, y, near[rows, columns])
        normals = _normals(sheet.place(faces.corners[face]), faces.normals[face], x, y)
        away = normals @ sheet.turn[2] < 0.0
        fallen = _fallen(
            light, points, np.where(away[:, None], -normals, normals), (rows, columns)
        )
        lit = fallen * _paint(faces.looks[face], points, normals, afloat)
        band = colours[top : top + BAND]
        band[rows, columns, :3] = shown(_through(afloat.now, points, lit))
        band[rows, columns, 3] = 1.0
        if sea is not None:
            is_wet = seen < 0
            under = (sea.water.height_above(points) < 0.0) & (faces.looks[face] == PAINTED)
            is_wet[rows[under], columns[under]] = True
            sea.lay(band, top, is_wet, light)
    return colours


def _through(water: WaterPlane | None, points: FloatArray, light: FloatArray) -> FloatArray:
    """(n, 3) what is left of light in the depth it comes from, with the water's own."""
    if water is None:
        return light
    depth = np.maximum(-water.height_above(points), 0.0)
    murk = (1.0 - np.exp(-MURK * depth)) * MURK_SHARE
    return light + (DEEP - light) * murk[:, None]


def _normals(
    corners: FloatArray, normals: FloatArray, x: AnyFloats, y: AnyFloats
) -> FloatArray:
    """(n, 3) unit normals at places on faces (n, 3, 3) on the sheet."""
    (ax, ay), (bx, by), (cx, cy) = (corners[:, k, :2].T for k in range(3))
    twice = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
    u = ((x - ax) * (cy - ay) - (cx - ax) * (y - ay)) / twice
    v = ((bx - ax) * (y - ay) - (x - ax) * (by - ay)) / twice
    shares = np.stack([1.0 - u - v, u, v], axis=1)
    mixed = np.einsum("nk,nki->ni", shares, normals)
    unit: FloatArray = mixed / np.maximum(np.linalg.norm(mixed, axis=1, keepdims=True), 1e-9)
    return unit


def _fallen(
    light: Light, points: FloatArray, normals: FloatArray, at: tuple[Indices, ...]
) -> FloatArray:
    """Light on pixels, worked out once for neighbours whose normals are alike."""
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
    looks: IntArray, points: FloatArray, normals: FloatArray, afloat: Waters
) -> FloatArray:
    """(n, 3) light that the faces throw back."""
    paint = np.zeros((len(points), 3))
    for look, colour in STEEL.items():
        paint[looks == look] = colour
    hull = looks == PAINTED
    above = afloat.painted.height_above(points[hull])
    coat = np.array(COATS)[np.searchsorted([0.0, afloat.boot_top], above)]
    slope = (normals[hull, 2] - DECK_FROM) / (DECK_ALL - DECK_FROM)
    deck = (smooth(slope) * (above > DECK_ABOVE))[:, None]
    paint[hull] = coat + (DECK - coat) * deck
    return paint
