"""Lines: splined lengthwise, split at knuckles, refused by code."""

from dataclasses import replace

import numpy as np
import pytest

from hullchange.errors import DocumentError
from hullchange.hull.hull import hull_of
from hullchange.hull.lines import HullLine, LineInput
from hullchange.hull.lines_check import lines_of


def curve(values, knuckles=(), x=(0.0, 1.0, 2.0, 4.0, 7.0)):
    points = np.column_stack([x, values, values])
    return HullLine("bilge", "chine", points, knuckles)


def test_a_cubic_is_followed_exactly():
    x = np.array([0.0, 1.0, 2.0, 4.0, 7.0])
    between = np.linspace(0.0, 7.0, 50)
    found = curve(1.0 + x**3, x=x).at(between)
    assert found[:, 0] == pytest.approx(1.0 + between**3, rel=1e-13)


@pytest.mark.parametrize(("count", "power"), [(2, 1), (3, 2)])
def test_few_points_give_a_straight_line_or_a_parabola(count, power):
    x = np.array([0.0, 2.0, 5.0])[:count]
    found = curve(1.0 + x**power, x=x).at(np.array([1.5]))
    assert found[0] == pytest.approx(1.0 + 1.5**power, rel=1e-14)


def test_a_knuckle_splits_the_curve_and_nothing_rings_through_it():
    values = np.array([1.0, 2.0, 3.0, 3.0, 3.0])
    bent = curve(values, knuckles=(2.0,))
    assert bent.at(np.array([1.5, 3.0, 6.0]))[:, 0].tolist() == [2.5, 3.0, 3.0]
    assert abs(curve(values).at(np.array([3.0]))[0, 0] - 3.0) > 0.05


def test_beyond_its_ends_a_line_runs_straight_on():
    x = np.array([0.0, 1.0, 2.0, 4.0, 7.0])
    found = curve(10.0 + x * x, x=x).at(np.array([-2.0, 7.0, 9.0]))
    assert found[:, 1] == pytest.approx([10.0, 59.0, 59.0 + 2 * 14.0], rel=1e-13)


def test_points_may_run_from_stern_to_bow(demo_input):
    turned = tuple(replace(given, points=given.points[::-1]) for given in demo_input.lines)
    one, other = hull_of(demo_input), hull_of(replace(demo_input, lines=turned))
    assert one.surface.key == other.surface.key
    assert one.key != other.key, "their points are found at other places of the document"
    assert other.lines.lines[1].place(3) == "lines.lower-chine.points_m[11]"


def faults_of(lines):
    with pytest.raises(DocumentError) as refusal:
        lines_of(lines)
    return [(fault.code, fault.place) for fault in refusal.value.faults]


@pytest.mark.parametrize(
    ("name", "index", "point", "code"),
    [
        ("lower-chine", 3, (-0.6, 0.30, -0.08), "line-not-monotone"),
        ("centreline", 3, (5e-324, 0.0, -0.2), "line-not-monotone"),
        ("lower-chine", 3, (0.75, -0.30, -0.08), "negative-half-breadth"),
        ("centreline", 4, (1.5, 0.05, -0.53), "centreline-off-centre"),
        ("upper-chine", 6, (3.5, 1.57, -0.70), "lines-cross"),
    ],
)
def test_a_wrong_point_is_named(demo_input, with_point, name, index, point, code):
    faults = faults_of(with_point(demo_input, name, index, point).lines)
    assert (code, f"lines.{name}.points_m[{index}]") in faults
    assert {code} == {c for c, _ in faults}


def test_everything_wrong_is_listed_in_one_go(demo_input, with_point):
    given = with_point(demo_input, "lower-chine", 3, (0.75, -0.30, -0.08))
    given = with_point(given, "sheer", 5, (1.0, 1.57, 1.23))
    short = LineInput("rail", "chine", ((0.0, 1.0, 1.0),))
    lines = (*given.lines[:3], short, given.lines[3])
    assert faults_of(lines) == [
        ("negative-half-breadth", "lines.lower-chine.points_m[3]"),
        ("line-too-short", "lines.rail.points_m"),
        ("line-not-monotone", "lines.sheer.points_m[5]"),
    ]


@pytest.mark.parametrize("missing", [slice(1, None), slice(None, 3), slice(0, 0)])
def test_centreline_and_sheer_must_be_there(demo_input, missing):
    assert ("line-missing", "lines") in faults_of(demo_input.lines[missing])


def test_lines_in_the_wrong_order_cross(demo_input):
    keel, lower, upper, sheer = demo_input.lines
    assert [code for code, _ in faults_of((keel, upper, lower, sheer))] == ["lines-cross"]


def level(name, breadth, z):
    return LineInput(name, "chine", ((0.0, breadth, z), (10.0, breadth, z)))


def test_a_section_that_crosses_itself_is_refused(box_input):
    keel, _, sheer = box_input.lines
    tunnel = (keel, level("skeg", 1.5, -1.6), level("inner", 1.2, -0.8), sheer)
    assert lines_of(tunnel)
    crossed = (keel, level("skeg", 1.5, -1.6), level("inner", 0.5, -1.4), sheer)
    assert faults_of(crossed) == [("lines-cross", "lines.inner")]


def test_a_curve_that_dips_through_the_centreline_asks_for_a_knuckle(box_input):
    x = (0.0, 2.0, 4.0, 6.0, 8.0, 10.0)
    breadth = (0.0, 0.0, 0.0, 1.0, 2.0, 2.0)
    keel, _, sheer = box_input.lines
    points = tuple((a, b, -1.0) for a, b in zip(x, breadth, strict=True))
    lines = (keel, LineInput("bilge", "chine", points), sheer)
    assert faults_of(lines) == [("negative-half-breadth", "lines.bilge.points_m[2]")]
    assert lines_of((keel, LineInput("bilge", "chine", points, (4.0, 8.0)), sheer))


def test_a_knuckle_needs_a_point(demo_input):
    keel, lower, upper, sheer = demo_input.lines
    lines = (keel, replace(lower, knuckles=(3.5, 4.2)), upper, sheer)
    assert faults_of(lines) == [
        ("knuckle-without-point", "lines.lower-chine.knuckles_at_x_m[1]")
    ]


def test_an_upright_stem_asks_for_a_knuckle_on_each_line_that_needs_one():
    def line(name, kind, *points, knuckles=()):
        return LineInput(name, kind, points, knuckles)

    def sharpie(knuckles):
        stem = (0.02, 0.76), (0.05, 0.08)
        chine = [(-0.05, *stem[0]), (0.0, *stem[1]), (1.0, 0.4, -0.1), (3.0, 0.78, -0.18)]
        sheer = [(-0.05, 0.03, 0.8), (0.0, 0.09, 0.79), (1.0, 0.6, 0.7), (3.0, 1.0, 0.62)]
        keel = [(-0.05, 0.0, 0.75), (0.0, 0.0, 0.05), (1.0, 0.0, -0.12), (3.0, 0.0, -0.2)]
        return (
            line("centreline", "fair", *keel, (6.0, 0.0, 0.0), knuckles=knuckles),
            line("chine", "chine", *chine, (6.0, 0.6, 0.02), knuckles=knuckles),
            line("sheer", "sheer", *sheer, (6.0, 0.8, 0.65)),
        )

    with pytest.raises(DocumentError) as refusal:
        lines_of(sharpie(()))
    faults = {fault.place: fault for fault in refusal.value.faults}
    names = ("centreline", "chine")  # her sheer has no corner
    assert sorted(faults) == [f"lines.{name}.points_m[1]" for name in names]
    for fault in faults.values():
        assert fault.code == "line-swings"
        assert "turns a corner at x 0.00 m" in fault.sentence
        assert "knuckles_at_x_m" in fault.sentence
    assert len(lines_of(sharpie((0.0,))).lines) == 3
