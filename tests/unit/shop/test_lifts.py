"""Where old plates hang."""

import numpy as np
import pytest
import shapely

from hullchange.geometry.frame import Frame
from hullchange.geometry.outline import FlatOutline
from hullchange.parts.steelwork import plate
from hullchange.shop.lifts import EDGE, lifting_points
from hullchange.shop.piece import steel_of
from hullchange.shop.quantities import lift_point

FLOOR = Frame(np.zeros(3), np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0]))


def piece(corners, holes=()):
    outer = FlatOutline.polygon([tuple(c) for c in corners])
    (one,) = steel_of({"old": (plate("plate", FLOOR, outer, 4.0, holes),)}, ()).pieces
    return one


@pytest.mark.parametrize(("mass", "count"), [(20.0, 2), (25.0, 2), (25.1, 4), (300.0, 4)])
def test_it_hangs_level_from_steel(mass, count):
    one = piece([(0, 0), (2, 0), (1.4, 0.9), (0, 0.8)])
    hung = lifting_points(one, mass)
    assert len(hung) == count
    assert np.allclose(hung.mean(axis=0), lift_point(one))
    for x, y in hung:
        assert one.region.exterior.distance(shapely.Point(x, y)) >= EDGE - 1e-9


def test_a_rectangle_hangs_at_0_29_of_its_sides():
    hung = lifting_points(piece([(0, 0), (2, 0), (2, 1), (0, 1)]), 100.0)
    assert np.allclose(np.sort(hung[:, 0]), [0.42, 0.42, 1.58, 1.58])
    assert np.allclose(np.sort(hung[:, 1]), [0.21, 0.21, 0.79, 0.79])


def test_a_narrow_frame_is_slung():
    hole = FlatOutline.polygon([(0.04, 0.04), (1.96, 0.04), (1.96, 0.96), (0.04, 0.96)])
    assert len(lifting_points(piece([(0, 0), (2, 0), (2, 1), (0, 1)], (hole,)), 10.0)) == 0
