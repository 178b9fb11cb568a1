"""Loops of lines and arcs: the same steel as the outline, within a tenth of a millimetre."""

from math import pi, sqrt

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from hullchange.geometry.outline import FlatOutline, Line, Spline
from hullchange.shop.contour import FIT_TOLERANCE, contour_of, polygon_of


def test_a_rounded_rectangle_keeps_its_arcs():
    contour = contour_of(FlatOutline.rectangle((0.0, 0.0), (0.62, 0.24), 0.06))
    assert len(contour.nodes) == 8
    assert contour.nodes[:, 2].max() == pytest.approx(sqrt(2.0) - 1.0)
    assert contour.radii[np.isfinite(contour.radii)] == pytest.approx(0.06)
    assert contour.area == pytest.approx(0.62 * 0.24 - (4.0 - pi) * 0.06**2, rel=1e-12)
    assert contour.perimeter == pytest.approx(2.0 * 0.86 - 8.0 * 0.06 + 2.0 * pi * 0.06)


def test_a_circle_is_two_half_circles():
    contour = contour_of(FlatOutline.circle((1.0, 2.0), 0.05))
    assert len(contour.nodes) == 2
    assert contour.area == pytest.approx(pi * 0.05**2)
    assert contour.perimeter == pytest.approx(2.0 * pi * 0.05)
    assert np.hypot(*(contour.points - [1.0, 2.0]).T) == pytest.approx(0.05)


def test_an_outline_that_runs_clockwise_is_turned_round():
    outline = FlatOutline.rounded(((0, 0), (0, 1), (2, 1), (2, 0)), (0.1, 0.2, 0.3, 0.0))
    assert not outline.runs_left
    assert contour_of(outline).area == pytest.approx(outline.area, rel=1e-12)


def arch(rise, skew):
    x = np.linspace(0.0, 2.0, 9)
    y = 1.0 + rise * np.sin(pi * x / 2.0) + skew * x**3 / 8.0
    top = Spline(tuple(zip(x[::-1].tolist(), y[::-1].tolist(), strict=True)))
    sides = Line((0.0, 0.0), (2.0, 0.0)), Line((2.0, 0.0), top.start), top
    return FlatOutline((*sides, Line(top.end, (0.0, 0.0))))


@given(rise=st.floats(-0.5, 0.5), skew=st.floats(-0.5, 0.5))
def test_arcs_stay_within_the_tolerance_of_a_spline(rise, skew):
    outline = arch(rise, skew)
    contour = contour_of(outline)
    dense = shapely.LinearRing(outline.polyline(1e-6))
    away = shapely.hausdorff_distance(dense, shapely.LinearRing(contour.points))
    assert away <= FIT_TOLERANCE + 15e-6  # the chords that both are compared by
    assert contour.area == pytest.approx(outline.area, rel=2e-4)
    assert contour.perimeter == pytest.approx(outline.perimeter, rel=2e-5)
    assert len(contour.nodes) < 70


def test_a_tighter_tolerance_takes_more_arcs():
    counts = [len(contour_of(arch(0.3, 0.2), t).nodes) for t in (1e-3, 1e-4, 1e-5)]
    assert counts == sorted(counts)
    assert counts[0] < counts[2]


@given(angle=st.floats(-3.0, 3.0), over=st.booleans())
def test_moving_and_turning_over_changes_no_size(angle, over):
    contour = contour_of(arch(0.3, 0.2))
    moved = contour.placed(angle, np.array([3.0, -1.0]), over)
    assert moved.area == pytest.approx(contour.area, rel=1e-9)
    assert moved.perimeter == pytest.approx(contour.perimeter, rel=1e-9)
    assert shapely.Polygon(moved.points).area == pytest.approx(contour.area, rel=1e-4)


def test_holes_are_taken_out_of_the_polygon():
    rings = FlatOutline.rectangle((0, 0), (2, 1)), FlatOutline.circle((1.0, 0.5), 0.2)
    region = polygon_of(tuple(contour_of(ring) for ring in rings))
    assert region.area == pytest.approx(2.0 - pi * 0.04, rel=1e-4)
