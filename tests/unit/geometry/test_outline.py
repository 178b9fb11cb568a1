"""Outlines: areas and centroids by hand, invariance, refusals."""

from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullchange.errors import ModelError
from hullchange.geometry.outline import (
    Arc,
    Circle,
    FlatOutline,
    Line,
    Spline,
    flat_points,
    is_convex,
    lies_within,
    sound_rings,
)
from hullchange.geometry.surface import flat_triangles


def enclosed(ring):
    """Area of straight pieces."""
    x, y = ring.T
    return 0.5 * float(x @ np.roll(y, -1) - np.roll(x, -1) @ y)


SQUARE = FlatOutline.rectangle((0.0, 0.0), (2.0, 2.0))


def test_a_triangle():
    triangle = FlatOutline.polygon(((0.0, 0.0), (3.0, 0.0), (0.0, 4.0)))
    assert triangle.area == pytest.approx(6.0, abs=1e-15)
    assert triangle.centroid == pytest.approx((1.0, 4.0 / 3.0), abs=1e-15)
    assert triangle.perimeter == pytest.approx(12.0, abs=1e-15)


def test_a_rectangle_with_rounded_corners():
    window = FlatOutline.rectangle((1.0, 2.0), (1.62, 2.24), 0.06)
    assert window.area == pytest.approx(0.62 * 0.24 - (4.0 - pi) * 0.06**2, abs=1e-15)
    assert window.centroid == pytest.approx((1.31, 2.12), abs=1e-12)
    assert window.perimeter == pytest.approx(2 * (0.50 + 0.12) + 2 * pi * 0.06, abs=1e-14)


@pytest.mark.parametrize("radius", [0.0, 5e-324, 1e-12, 1e-8])
def test_a_radius_of_no_size_leaves_the_corner_sharp(radius):
    window = FlatOutline.rectangle((1.0, 2.0), (1.62, 2.24), radius)
    assert len(window.polyline()) == 4
    assert window.area == pytest.approx(0.62 * 0.24, rel=1e-12)


def test_a_corner_typed_twice_is_one():
    corners = [(0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)]
    for again in ([*corners, corners[0]], [*corners, corners[-1]], [corners[0], *corners]):
        assert FlatOutline.polygon(again) == FlatOutline.polygon(corners)
    near = [*corners, (1e-8, 1e-8)]
    assert len(FlatOutline.polygon(near).segments) == 4
    assert len(FlatOutline.polygon([(0.0, 0.0), (1.0, 0.0), (1.0, 0.0)]).segments) == 3


def test_a_half_disc():
    half = FlatOutline(
        (Arc((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)), Line((-1.0, 0.0), (1.0, 0.0)))
    )
    assert half.area == pytest.approx(pi / 2.0, abs=1e-15)
    assert half.centroid == pytest.approx((0.0, 4.0 / (3.0 * pi)), abs=1e-15)


def test_an_arc_takes_the_side_of_its_third_point():
    bulge, dent = (
        FlatOutline((Line((0.0, 0.0), (2.0, 0.0)), Line((2.0, 0.0), (2.0, 1.0)),
                 Arc((2.0, 1.0), (1.0, 1.0 + rise), (0.0, 1.0)), Line((0.0, 1.0), (0.0, 0.0))))
        for rise in (1.0, -0.5)
    )  # fmt: skip
    assert bulge.area == pytest.approx(2.0 + pi / 2.0, abs=1e-14)
    # a segment of sagitta 1/2 on a chord of 2: radius 5/4, half angle asin(4/5)
    segment = 1.25**2 * (np.arcsin(0.8) - 0.8 * 0.6)
    assert dent.area == pytest.approx(2.0 - segment, abs=1e-14)


def test_a_circle():
    circle = FlatOutline.circle((3.0, -1.0), 0.5)
    assert circle.area == pytest.approx(pi / 4.0, abs=1e-15)
    assert circle.centroid == pytest.approx((3.0, -1.0))
    assert circle.perimeter == pytest.approx(pi)


def test_a_parabola_is_its_own_spline():
    x = np.linspace(1.0, -1.0, 3)
    arch = FlatOutline(
        (Spline(flat_points(np.stack([x, 1.0 - x**2], axis=1))), Line((-1.0, 0.0), (1.0, 0.0)))
    )
    assert arch.area == pytest.approx(4.0 / 3.0, abs=1e-15)
    assert arch.centroid == pytest.approx((0.0, 2.0 / 5.0), abs=1e-15)
    # 2 * integral of sqrt(1 + 4 x^2) from 0 to 1
    curved = sqrt(5.0) + np.arcsinh(2.0) / 2.0
    assert arch.perimeter == pytest.approx(2.0 + curved, abs=1e-7)  # Gauss on one smooth piece


@pytest.mark.parametrize("count", [4, 5, 13])
def test_a_cubic_is_its_own_spline(count):
    x = np.linspace(0.0, 2.0, count)
    curve = Spline(flat_points(np.stack([x, x**3 - x], axis=1)))
    below = FlatOutline((curve, Line((2.0, 6.0), (2.0, -2.0)), Line((2.0, -2.0), (0.0, -2.0)),
                     Line((0.0, -2.0), (0.0, 0.0))))  # fmt: skip
    assert below.area == pytest.approx(4.0 + 4.0 - 2.0, abs=1e-13)
    first_moment = 2.0**5 / 5.0 - 2.0**3 / 3.0 + 4.0
    assert below.centroid[0] == pytest.approx(first_moment / 6.0, abs=1e-13)


def test_a_spline_nears_a_circle_with_the_fourth_power():
    """Not a circle, so the spline is off, by a sixteenth for half the spacing."""
    errors = []
    for count in (9, 17, 33):
        angle = np.linspace(0.0, pi, count)
        points = flat_points(np.stack([np.cos(angle), np.sin(angle)], axis=1))
        half = FlatOutline((Spline(points), Line(points[-1], points[0])))
        errors.append(abs(half.area - pi / 2.0))
    assert np.log2(errors[0] / errors[1]) > 3.7
    assert np.log2(errors[1] / errors[2]) > 3.7


def mixed(scale=1.0, at=(0.0, 0.0)):
    """Every kind of segment once."""

    def p(x, y):
        return at[0] + scale * x, at[1] + scale * y

    return FlatOutline(
        (
            Line(p(0.0, 0.0), p(2.0, 0.0)),
            Arc(p(2.0, 0.0), p(2.2, 0.5), p(2.0, 1.0)),
            Spline((p(2.0, 1.0), p(1.5, 1.1), p(1.0, 1.3), p(0.5, 1.1), p(0.0, 1.0))),
            Line(p(0.0, 1.0), p(0.0, 0.0)),
        )
    )


@given(st.floats(0.1, 10.0), st.floats(-20.0, 20.0), st.floats(-20.0, 20.0))
def test_moved_and_scaled(scale, x, y):
    one, other = mixed(), mixed(scale, (x, y))
    assert other.area == pytest.approx(scale**2 * one.area, rel=1e-9)
    assert other.perimeter == pytest.approx(scale * one.perimeter, rel=1e-9)
    moved = np.array(one.centroid) * scale + (x, y)
    assert other.centroid == pytest.approx(moved, abs=1e-7)


def test_run_backwards_it_encloses_the_same():
    one = mixed()
    back = FlatOutline(tuple(s.reversed() for s in reversed(one.segments)))
    assert back.area == pytest.approx(one.area, abs=1e-14)
    assert back.centroid == pytest.approx(one.centroid, abs=1e-14)
    assert enclosed(back.polyline()) > 0.0


def test_split_in_two_and_put_together():
    one = mixed()
    cut = Line((1.0, 0.0), (1.0, 1.3))
    line, arc, spline, side = one.segments
    # a spline cut at its middle is another spline, so the cut runs beside it
    right = FlatOutline(
        (Line((1.0, 0.0), line.end), arc, Line(arc.end, cut.end), cut.reversed())
    )
    left = FlatOutline((Line(line.start, cut.start), cut, Line(cut.end, spline.end), side))
    straight = FlatOutline((line, arc, Line(arc.end, cut.end), Line(cut.end, spline.end), side))
    assert left.area + right.area == pytest.approx(straight.area, abs=1e-14)


@pytest.mark.parametrize("outline", [mixed(), FlatOutline.rectangle((0, 0), (1, 1), 0.3)])
def test_points_keep_to_the_tolerance(outline):
    for tolerance in (1e-3, 1e-4):
        ring, fine = outline.polyline(tolerance), outline.polyline(1e-7)
        side = np.roll(ring, -1, axis=0) - ring
        away = fine[:, None] - ring[None]
        share = np.clip((away * side).sum(-1) / (side**2).sum(-1), 0.0, 1.0)
        gap = np.linalg.norm(away - share[..., None] * side, axis=-1).min(axis=1)
        assert gap.max() <= tolerance * 1.001


def test_a_polygon_of_an_arc_keeps_its_area():
    for tolerance in (0.05, 0.005):
        for outline in (
            FlatOutline.circle((0.3, 0.2), 0.5),
            FlatOutline.rectangle((0.0, 0.0), (1.0, 0.6), 0.3),
            FlatOutline(
                (Arc((1.0, 0.0), (0.8, 0.6), (0.6, 0.8)), Line((0.6, 0.8), (1.0, 0.0)))
            ),
        ):
            assert enclosed(outline.polyline(tolerance)) == pytest.approx(
                outline.area, rel=1e-12
            )


def test_tags_are_kept():
    outline = FlatOutline(
        (Line((0, 0), (1, 0), "deck"), Line((1, 0), (0, 1)), Line((0, 1), (0, 0)))
    )
    assert outline.tagged("deck") == (outline.segments[0],)


def test_equal_outlines_are_one():
    assert mixed() == mixed()
    assert hash(mixed()) == hash(mixed())
    assert mixed() != mixed(1.1)


def test_triangles_fill_the_region_between_the_rings():
    rings = sound_rings(mixed(), (FlatOutline.circle((0.7, 0.5), 0.2),))
    points, faces = np.concatenate(rings), flat_triangles(rings)
    areas = [enclosed(points[face]) for face in faces]
    assert min(areas) > 0.0
    assert sum(areas) == pytest.approx(enclosed(rings[0]) + enclosed(rings[1]), abs=1e-12)
    assert set(faces.ravel()) == set(range(len(points)))


def test_a_star_that_turns_left_twice_round_is_not_convex():
    angle = np.arange(5) * 4.0 * pi / 5.0
    star = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    assert not is_convex(star)
    assert is_convex(star[[0, 3, 1, 4, 2]])


def refusal(build):
    with pytest.raises(ModelError) as refused:
        build()
    assert refused.value.sentence.endswith(".")
    return refused.value.code


def test_an_open_outline_is_refused():
    gap = (
        Line((0.0, 0.0), (1.0, 0.0)),
        Line((1.0, 0.0), (0.0, 1.0)),
        Line((0.0, 0.9), (0.0, 0.0)),
    )
    assert refusal(lambda: FlatOutline(gap)) == "outline-open"


def test_an_outline_that_crosses_itself_is_refused():
    bow_tie = FlatOutline.polygon(((0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0)))
    assert refusal(lambda: sound_rings(bow_tie, ())) == "outline-crosses-itself"
    angle = np.arange(5) * 4.0 * pi / 5.0
    star = FlatOutline.polygon(flat_points(np.stack([np.cos(angle), np.sin(angle)], axis=1)))
    assert refusal(lambda: sound_rings(star, ())) == "outline-crosses-itself"


@pytest.mark.parametrize(
    "hole",
    [
        FlatOutline.circle((5.0, 5.0), 0.1),
        FlatOutline.circle((2.0, 1.0), 0.1),
        FlatOutline.circle((1.0, 1.0), 3.0),
        FlatOutline.polygon(((0.0, 0.5), (0.5, 0.5), (0.5, 1.0))),
    ],
    ids=["outside", "over the edge", "around it", "touching"],
)
def test_a_hole_that_is_not_inside_is_refused(hole):
    assert refusal(lambda: sound_rings(SQUARE, (hole,))) == "hole-outside-outline"


def test_overlapping_holes_are_refused():
    holes = tuple(FlatOutline.circle((x, 1.0), 0.2) for x in (0.8, 1.1))
    assert refusal(lambda: sound_rings(SQUARE, holes)) == "holes-overlap"
    inside = (FlatOutline.circle((1.0, 1.0), 0.5), FlatOutline.circle((1.0, 1.0), 0.2))
    assert refusal(lambda: sound_rings(SQUARE, inside)) == "holes-overlap"


def test_within():
    assert lies_within(SQUARE, FlatOutline.circle((1.0, 1.0), 0.5))
    assert not lies_within(SQUARE, FlatOutline.circle((1.0, 1.9), 0.5))
    assert not lies_within(FlatOutline((Circle((1.0, 1.0), 0.5),)), SQUARE)
