"""Levers by other methods: booleans of the body with the water, and strips across the hull.

Source: manifold3d 3 (boolean of the body with a block of water, weighed by trimesh 5); a strip
    integration of its own kind (`tests/support/strips.py`): sections clipped by the water,
    added up along the boat, sinkage and trim by scipy.
Seen: opened (documentation), run here.
Known: nothing is printed: the methods must agree, the boolean to round-off, the strips to the
    chords of the mesh. Saltmarrow's liquids are frozen here.
"""

from functools import cache, reduce
from math import cos, radians, sin

import bodies
import numpy as np
import pytest
import strips
import trimesh
from refits import demo

from hullchange.afloat.at_rest import afloat
from hullchange.boat.variants import refit
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading
from hullchange.floating.levers import righting_levers
from hullchange.geometry.surface import box, difference, intersection, union
from hullchange.hull.sections import half_sections

WATER = 1025.0
EIGHT = np.radians([-150.0, -95.0, -40.0, -8.0, 15.0, 62.0, 110.0, 175.0])
LENGTH = 11.0


@cache
def saltmarrow():
    """Hull and what floats of the refit at departure, and her levers at eight heels."""
    boat, found, conditions = demo()
    rest = afloat(boat, found, refit(boat), conditions["departure"]).rest
    loading = Loading(rest.mass, rest.centre_of_gravity)
    curve = righting_levers(rest.envelope, loading, rest.water_density, EIGHT, rest.plane)
    assert {piece.adds for piece in rest.envelope.pieces} == {True, False}
    return boat, curve


def assert_boolean_meets(whole, curve, loading):
    """At every heel of a curve: volume, lever and no trimming lever, by a boolean."""
    for plane, heel, to_port in zip(curve.planes, curve.heels, curve.to_port, strict=True):
        wet = intersection(whole, bodies.water_below(plane))
        body = trimesh.Trimesh(wet.vertices, wet.faces, process=False)
        assert body.is_watertight
        assert body.volume * WATER == pytest.approx(loading.mass, rel=1e-9)
        arm = body.center_mass - loading.centre
        across = np.array([0.0, cos(heel), sin(heel)])
        assert arm @ across == pytest.approx(to_port, abs=1e-8)
        assert arm @ np.cross(across, plane.up) == pytest.approx(0.0, abs=1e-8)


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
    assert_boolean_meets(whole, righting_levers(envelope, loading, WATER, EIGHT), loading)


def test_booleans_of_saltmarrow_at_eight_heels():
    boat, curve = saltmarrow()
    raw = [body for part in boat.parts.values() for body in part.part.bodies]
    adding = [piece.surface for piece in boat.hull_bodies]
    adding += [body.surface for body in raw if body.adds]
    taking = [body.surface for body in raw if not body.adds]
    whole = reduce(difference, taking, reduce(union, adding))
    assert_boolean_meets(whole, curve, curve.boats[0].loading)


def test_strips_of_saltmarrow_at_eight_heels():
    # the canoe body by its lines, not by the mesh that floats; all else by its own mesh
    boat, curve = saltmarrow()
    hull, held = boat.hull, curve.boats[0]
    x, width = strips.strip_middles(hull.transom_x - hull.length, hull.transom_x, 300)
    sides = half_sections(hull.lines, x)
    across = sides[:, -1:, 0] * np.linspace(1.0, 0.0, 13)[1:]
    deck = hull.deck_z(np.broadcast_to(x[:, None], across.shape), across)
    halves = np.concatenate([sides, np.stack([across, deck], axis=2)], axis=1)
    others = [strips.of_mesh(p.surface, p.adds, 120) for p in held.envelope.pieces[1:]]
    whole = strips.joined([strips.of_halves(x, width, halves), *others])
    for heel, to_port, near in zip(EIGHT, curve.to_port, curve.planes, strict=True):
        start = [near.trim + 0.01, near.offset - 0.01]
        volume = held.loading.mass / WATER
        lever, trim = strips.balanced_at_heel(whole, volume, held.loading.centre, heel, start)
        assert lever == pytest.approx(to_port, abs=2e-4)  # chords of 14 000 triangles
        assert trim == pytest.approx(near.trim, abs=radians(0.005))


def half_sections_of_a_chine_hull(x):
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


def test_strips_of_a_chine_hull():
    loading = Loading(9500.0, np.array([6.0, 0.04, 0.1]))
    fine = np.linspace(0.0, LENGTH, 401)
    hull = bodies.lofted(fine, half_sections_of_a_chine_hull(fine))
    heels = np.radians([-120.0, -30.0, 5.0, 20.0, 45.0, 90.0, 135.0])
    curve = righting_levers(Envelope((Piece(hull, True, "hull"),)), loading, WATER, heels)
    x, width = strips.strip_middles(0.0, LENGTH, 400)
    whole = strips.of_halves(x, width, half_sections_of_a_chine_hull(x))
    for here, heel in zip(curve.planes, heels, strict=True):
        start = [here.trim + 0.01, here.offset - 0.01]
        lever, trim = strips.balanced_at_heel(
            whole, loading.mass / WATER, loading.centre, heel, start
        )
        assert curve.at(heel).to_port == pytest.approx(lever, abs=5e-5)  # chords of 28 mm
        assert trim == pytest.approx(here.trim, abs=radians(0.002))
