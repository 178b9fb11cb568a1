"""Scallops: what is cut away is a sector about the corner, straight sides or not."""

from math import pi

import pytest

from hullchange.geometry.outline import FlatOutline, Line, Spline
from hullchange.geometry.scallop import SCALLOP, scalloped

SQUARE = ((0.0, 0.0), (0.4, 0.0), (0.4, 0.3), (0.0, 0.3))


@pytest.mark.parametrize("corner", SQUARE)
@pytest.mark.parametrize("corners", [SQUARE, SQUARE[::-1]])
def test_a_quarter_of_a_circle_is_taken_from_a_square_corner(corner, corners):
    cut = scalloped(FlatOutline.polygon(corners), corner, 0.03, 0.004)
    assert cut.area == pytest.approx(0.12 - pi * 0.03**2 / 4.0, abs=1e-12)
    assert cut.perimeter == pytest.approx(1.4 - 0.06 + pi * 0.03 / 2.0, abs=1e-12)
    (arc,) = cut.tagged(SCALLOP)
    assert arc.centre == pytest.approx(corner, abs=1e-12)


def test_a_corner_that_turns_inwards_loses_three_quarters():
    shape = ((0.0, 0.0), (0.4, 0.0), (0.4, 0.4), (0.2, 0.4), (0.2, 0.2), (0.0, 0.2))
    cut = scalloped(FlatOutline.polygon(shape), (0.2, 0.2), 0.03, 0.004)
    assert cut.area == pytest.approx(0.12 - 0.75 * pi * 0.03**2, abs=1e-12)


def test_a_side_that_bends_is_cut_at_the_radius_and_keeps_its_run():
    curve = Spline(tuple((0.1 * k, -0.05 * (0.1 * k) ** 2) for k in range(5)), "bottom")
    shape = FlatOutline((curve, Line(curve.end, (0.0, 0.5)), Line((0.0, 0.5), (0.0, 0.0))))
    cut = scalloped(shape, (0.0, 0.0), 0.03, 0.004)
    (arc,) = cut.tagged(SCALLOP)
    assert arc.radius == pytest.approx(0.03, abs=1e-9)
    assert shape.area - cut.area == pytest.approx(pi * 0.03**2 / 4.0, abs=1e-6)
    (bottom,) = cut.tagged("bottom")
    assert bottom.length == pytest.approx(curve.length - 0.03, abs=1e-6)


def test_a_short_side_keeps_two_thirds_and_a_small_relief_is_left_out():
    small = FlatOutline.polygon(((0.0, 0.0), (0.06, 0.0), (0.06, 0.3), (0.0, 0.3)))
    (arc,) = scalloped(small, (0.0, 0.0), 0.03, 0.004).tagged(SCALLOP)
    assert arc.radius == pytest.approx(0.02)
    assert scalloped(small, (0.0, 0.0), 0.03, 0.021) is small
    assert scalloped(small, (0.0, 0.0), 0.0, 0.004) is small
