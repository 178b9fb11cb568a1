"""Levers by other roads: booleans of the body with the water, and strips across the hull.

Source: manifold3d 3 (boolean of the body with a block of water, weighed by trimesh 5); a strip
    integration of its own kind, written here: sections clipped by the water, Simpson along x,
    sinkage and trim by scipy.
Seen: opened (documentation), run here.
Known: nothing is printed: the roads must meet, the boolean to round-off, the strips to the
    chords of the mesh.
"""

from math import cos, radians, sin

import bodies
import numpy as np
import pytest
import trimesh
from scipy.integrate import simpson
from scipy.optimize import root

from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading
from hullchange.floating.levers import righting_levers
from hullchange.geometry.surface import Surface, box, difference, intersection, union

WATER = 1025.0
EIGHT = np.radians([-150.0, -95.0, -40.0, -8.0, 15.0, 62.0, 110.0, 175.0])
LENGTH = 11.0


def water_below(plane, size=60.0):
    """A block of water whose surface is the plane."""
    block = box(np.array([-size, -size, -size]), np.array([size, size, 0.0]))
    side = np.cross(plane.up, [1.0, 0.0, 0.0])
    side /= np.linalg.norm(side)
    axes = np.array([np.cross(side, plane.up), side, plane.up])
    return Surface.unchecked(block.vertices @ axes + plane.up * plane.offset, block.faces)


def test_booleans_at_eight_heels():
    hull = bodies.yacht(40)
    house = box(np.array([4.0, -0.9, 0.8]), np.array([6.5, 0.9, 1.9]))
    well = box(np.array([7.5, -0.8, 0.6]), np.array([9.5, 0.8, 2.0]))
    keel = box(np.array([4.0, -0.12, -2.0]), np.array([7.0, 0.12, 0.0]))
    # cut once for the envelope; the whole body is made of the raw ones, so that no two touch
    pieces = (Piece(hull, True, "hull"), Piece(bodies.fin(hull), True, "keel"))
    cut = (difference(house, hull), intersection(well, hull))
    envelope = Envelope((*pieces, Piece(cut[0], True, "house"), Piece(cut[1], False, "well")))
    whole = difference(union(union(hull, keel), house), well)
    loading = Loading(9000.0, np.array([5.8, 0.03, -0.05]))
    curve = righting_levers(envelope, loading, WATER, EIGHT)
    for plane, heel, to_port in zip(curve.planes, EIGHT, curve.to_port, strict=True):
        wet = intersection(whole, water_below(plane))
        body = trimesh.Trimesh(wet.vertices, wet.faces, process=False)
        assert body.is_watertight
        assert body.volume * WATER == pytest.approx(9000.0, rel=1e-9)
        arm = body.center_mass - loading.centre
        across = np.array([0.0, cos(heel), sin(heel)])
        assert arm @ across == pytest.approx(to_port, abs=1e-8)
        assert arm @ np.cross(across, plane.up) == pytest.approx(0.0, abs=1e-8)


def half_sections(x):
    """(n, 5, 2) keel, chine, bilge, sheer, deck of a fair double-chine hull."""
    s = np.asarray(x) / LENGTH
    fore = 1.0 - (1.0 - s) ** 2.5
    width = 1.85 * fore * (1.0 - 0.25 * s**3)
    keel = -0.7 + 1.5 * (1.0 - s) ** 4 + 0.6 * s**4
    sheer = 1.1 + 0.3 * (1.0 - s) ** 2
    low = [0.55 * width, keel + 0.3 * fore + 0.02]
    high = [0.9 * width, 0.5 * keel + 0.5 * sheer]
    rows = [[0.0 * s, keel], low, high, [width, sheer], [0.0 * s, sheer + 0.06 * width]]
    return np.moveaxis(np.array(rows), 2, 0)


def clipped(section, up, offset):
    """Area and first moments (y, z) of a section below up . (y, z) = offset."""
    whole = np.vstack([section, (section * [-1.0, 1.0])[-2:0:-1]])
    heights = whole @ up - offset
    wet = []
    for k in range(len(whole)):
        here, there = heights[k - 1], heights[k]
        if here * there < 0.0:
            wet.append(whole[k - 1] + here / (here - there) * (whole[k] - whole[k - 1]))
        if there <= 0.0:
            wet.append(whole[k])
    if len(wet) < 3:
        return np.zeros(3)
    a = np.array(wet)
    b = np.roll(a, -1, axis=0)
    twice = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    return np.array([twice.sum() / 2.0, *(twice @ (a + b) / 6.0)])


def stripped(x, sections, heel, trim, offset):
    """Volume and first moments of a hull below the water, strip by strip."""
    ups = np.array([-cos(trim) * sin(heel), cos(trim) * cos(heel)])
    rows = [clipped(s, ups, offset + sin(trim) * p) for p, s in zip(x, sections, strict=True)]
    area, y, z = np.array(rows).T
    return np.array([simpson(v, x=x) for v in (area, area * x, y, z)])


@pytest.mark.slow
def test_strips_of_a_chine_hull():
    loading = Loading(9500.0, np.array([6.0, 0.04, 0.1]))
    volume = loading.mass / WATER
    fine = np.linspace(0.0, LENGTH, 401)
    hull = bodies.lofted(fine, half_sections(fine))
    envelope = Envelope((Piece(hull, True, "hull"),))
    heels = np.radians([-120.0, -30.0, 5.0, 20.0, 45.0, 90.0, 135.0])
    curve = righting_levers(envelope, loading, WATER, heels)
    x = np.linspace(0.0, LENGTH, 161)
    sections = half_sections(x)
    for heel, near in zip(heels, curve.planes, strict=True):
        along = np.array([-1.0, 0.0, 0.0])

        def missing(state, heel=heel, along=along):
            trim, offset = state
            whole = stripped(x, sections, heel, trim, offset)
            lever = whole[1:] - whole[0] * loading.centre
            aft = cos(trim) * along + sin(trim) * np.array([0.0, sin(heel), -cos(heel)])
            return [whole[0] - volume, lever @ aft]

        found = root(missing, [near.trim + 0.01, near.offset - 0.01], tol=1e-10)
        assert found.success
        whole = stripped(x, sections, heel, *found.x)
        arm = whole[1:] / whole[0] - loading.centre
        lever = arm @ np.array([0.0, cos(heel), sin(heel)])
        here = curve.at(heel)
        assert here.to_port == pytest.approx(lever, abs=1e-4)  # chords of 28 mm
        assert here.trim == pytest.approx(found.x[0], abs=radians(0.02))
