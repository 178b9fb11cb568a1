"""What floats: pieces that touch and never overlap, and bodies cut to a hull."""

import bodies
import numpy as np
import pytest

from hullchange.errors import ModelError
from hullchange.floating.envelope import Envelope, Piece, hull_piece, trimmed
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane, up_vector
from hullchange.geometry.surface import Surface, box, difference, intersection, union
from hullchange.parts.part import Body

HULL = bodies.yacht(48)
FIN = bodies.fin(HULL)
NOTHING = Surface.unchecked(np.zeros((0, 3)), np.zeros((0, 3), np.int32))
PLANES = [
    WaterPlane(up_vector(trim, heel), offset)
    for trim, heel, offset in [(0.0, 0.0, 0.0), (0.03, 0.4, 0.2), (-0.1, 2.0, 0.3), (0.2, 3, 0)]
]
HOUSE = Body(
    bodies.moved(bodies.barge(3.0, 2.0, 1.2, cells=4), np.array([5.0, 0.1, 0.6])), adds=True
)
WELL = Body(
    bodies.moved(bodies.barge(1.5, 1.0, 1.2, cells=4), np.array([9.0, 0.0, 0.5])), adds=False
)


def pieces(*surfaces):
    return tuple(Piece(s, adds=True, id=str(k)) for k, s in enumerate(surfaces))


def same(below, other):
    assert below.volume == pytest.approx(other.volume, rel=1e-11)
    assert below.buoyancy_centre == pytest.approx(other.buoyancy_centre, abs=1e-10)
    assert below.waterplane_area == pytest.approx(other.waterplane_area, rel=1e-10)
    assert below.waterplane_inertia == pytest.approx(other.waterplane_inertia, abs=1e-8)


@pytest.mark.parametrize("plane", PLANES)
def test_hull_and_keel_are_one_body(plane):
    envelope = Envelope(pieces(HULL, FIN))
    same(envelope.integrals(plane), integrals_below(union(HULL, FIN), plane))


def test_a_keel_that_was_not_cut_counts_twice():
    plane = PLANES[0]
    raw = box(np.array([4.0, -0.12, -2.0]), np.array([7.0, 0.12, 0.0]))
    twice = Envelope(pieces(HULL, raw)).integrals(plane).volume
    overlap = integrals_below(intersection(HULL, raw), plane).volume
    assert overlap > 0.1
    once = Envelope(pieces(HULL, FIN)).integrals(plane).volume
    assert twice - once == pytest.approx(overlap, rel=1e-9)


@pytest.mark.parametrize("plane", PLANES)
def test_what_takes_is_taken(plane):
    well = trimmed(WELL, HULL)
    envelope = Envelope((*pieces(HULL), Piece(well, adds=False, id="well")))
    same(envelope.integrals(plane), integrals_below(difference(HULL, WELL.surface), plane))
    assert envelope.volume == pytest.approx(HULL.volume - well.volume, rel=1e-12)


@pytest.mark.parametrize("plane", PLANES)
@pytest.mark.parametrize("body", [HOUSE, WELL], ids=["house", "well"])
def test_cut_with_a_piece_of_the_hull_as_with_all_of_it(body, plane):
    whole = (difference if body.adds else intersection)(body.surface, HULL)
    cut = trimmed(body, HULL)
    same_or_dry(integrals_below(cut, plane), integrals_below(whole, plane))
    assert len(hull_piece(HULL, body.surface.bounds).faces) < len(HULL.faces) / 2


def same_or_dry(below, other):
    if other.volume == 0.0:
        assert below.volume == 0.0
    else:
        same(below, other)


def test_dragging_a_dimension_meets_the_same_piece_of_the_hull():
    low, high = HOUSE.surface.bounds
    taller = np.array([low, high + [0.0, 0.0, 0.4]])
    assert hull_piece(HULL, taller) is hull_piece(HULL, HOUSE.surface.bounds)


def test_nothing_left_of_a_body_changes_nothing():
    inside = Body(
        bodies.moved(bodies.barge(1.0, 0.5, 0.3), np.array([5.0, 0.0, 0.0])), adds=True
    )
    away = Body(
        bodies.moved(bodies.barge(1.0, 0.5, 0.3), np.array([50.0, 0.0, 0.0])), adds=False
    )
    left = [trimmed(body, HULL) for body in (inside, away)]
    assert [len(surface.faces) for surface in left] == [0, 0]
    envelope = Envelope(pieces(HULL, *left))
    same(envelope.integrals(PLANES[1]), integrals_below(HULL, PLANES[1]))
    assert envelope.bounds == pytest.approx(HULL.bounds)


def test_the_key_tells_bodies_apart():
    house = Piece(trimmed(HOUSE, HULL), adds=True, id="house")
    hull = pieces(HULL)
    assert Envelope((*hull, house)).key != Envelope(hull).key
    turned = Piece(house.surface, adds=False, id="house")
    assert Envelope((*hull, turned)).key != Envelope((*hull, house)).key


def test_only_the_outside_is_wetted():
    low, high = (box(np.array([0.0, 0, z]), np.array([1.0, 1, z + 1.0])) for z in (0, 1))
    envelope = Envelope(pieces(low, high))
    plane = WaterPlane(up_vector(0.0, 0.0), 1.5)
    assert integrals_below(envelope.outside, plane).wetted_area == pytest.approx(7.0)
    assert envelope.integrals(plane).wetted_area == pytest.approx(9.0)


def test_no_volume_is_refused():
    with pytest.raises(ModelError) as refusal:
        Envelope(pieces(NOTHING))
    assert refusal.value.code == "no-volume"
