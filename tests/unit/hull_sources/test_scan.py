"""Scans of known hulls give their displacement; what is no hull is refused in one sentence."""

from pathlib import Path
from types import MappingProxyType

import numpy as np
import pytest
from hulls import random_hull
from other_hulls import hull_of as other_hull
from scans import sampled, scan_of

from hullchange.document.reading import read_document
from hullchange.errors import ModelError
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput
from hullchange.hull_sources.scan import ScanMarks, lines_of_scan

EXAMPLES = Path(__file__).parents[3] / "examples"
LEVEL = WaterPlane(np.array([0.0, 0.0, 1.0]), 0.0)


def marks_of(scan, *, chines=False):
    picks = MappingProxyType(scan.chines if chines else {})
    return ScanMarks(scan.waterline, scan.bow, picks)


def figures(hull):
    """Volume, and LCB from the forward perpendicular."""
    below = integrals_below(hull.surface, LEVEL)
    return below.volume, below.buoyancy_centre[0]


def seaworthy(seed):
    """A hull of the test makers that floats at her design waterline."""
    _, plain = other_hull(np.random.default_rng(seed))
    lines = tuple(
        LineInput(name, line["kind"], tuple(map(tuple, line["points_m"])))
        for name, line in plain["lines"].items()
    )
    return hull_of(HullInput(lines, 0.05, 1.5), 14_000)


@pytest.mark.slow
@pytest.mark.parametrize("seed", [1, 2, 4])
@pytest.mark.parametrize("chines", [False, True])
def test_a_scan_gives_displacement_and_lcb(seed, chines):
    hull = seaworthy(seed)
    scan = scan_of(hull, seed)
    found = lines_of_scan(scan.points, marks_of(scan, chines=chines))
    built = hull_of(HullInput(found.lines, 0.05, 1.5), 14_000)
    volume, lcb = figures(hull)
    mine, my_lcb = figures(built)
    assert mine == pytest.approx(volume, rel=0.02)
    assert my_lcb == pytest.approx(lcb, abs=0.03)
    assert built.length == pytest.approx(hull.length, abs=0.04 * hull.length)
    if chines:
        assert {line.name for line in found.lines} >= set(scan.chines)


def test_a_scan_without_noise_and_strays_is_nearly_exact():
    hull = seaworthy(1)
    scan = scan_of(hull, 1, noise=0.0, strays=0.0, mark_noise=0.0)
    found = lines_of_scan(scan.points, marks_of(scan, chines=True))
    volume, lcb = figures(hull)
    mine, my_lcb = figures(hull_of(HullInput(found.lines, 0.05, 1.5), 14_000))
    assert mine == pytest.approx(volume, rel=0.006)
    assert my_lcb == pytest.approx(lcb, abs=0.015)
    assert any("missing from the scan" in note for note in found.notes)


@pytest.mark.parametrize("seed", [1, 3])
def test_a_mark_at_the_stem_is_the_forward_perpendicular_of_a_blunt_one(seed):
    plain = read_document(EXAMPLES / "fernskerry.yaml").plain["hull"]["lines"]
    lines = tuple(
        LineInput(name, line["kind"], tuple(map(tuple, line["points_m"])))
        for name, line in plain.items()
    )
    hull = hull_of(HullInput(lines), 14_000)
    scan = scan_of(hull, seed, at_stem=True)
    found = lines_of_scan(scan.points, marks_of(scan))
    volume, lcb = figures(hull)
    mine, my_lcb = figures(hull_of(HullInput(found.lines), 14_000))
    assert mine == pytest.approx(volume, rel=0.01)
    assert my_lcb == pytest.approx(lcb, abs=0.012)


def ball(draw, count=20_000):
    points = draw.normal(size=(count, 3))
    return 2.0 * points / np.linalg.norm(points, axis=1)[:, None]


def car(draw):
    """A lopsided heap of boxes about as long as a boat."""
    boxes = [((0, 0, 0), (6, 1.8, 1)), ((1, 0.9, 1), (3, 1.8, 2.2)), ((4, 0, 0), (5, 3.0, 0.4))]
    found = []
    for low, high in boxes:
        points = draw.uniform(low, high, (6000, 3))
        axis = draw.integers(0, 3, 6000)
        side = np.where(draw.random(6000) < 0.5, np.array(low)[axis], np.array(high)[axis])
        points[np.arange(6000), axis] = side
        found.append(points)
    return np.vstack(found)


LEVEL_MARKS = np.array([[1.0, 1.0, 0.3], [1.0, -1.0, 0.3], [4.0, 1.0, 0.3]])


@pytest.mark.parametrize(
    ("points", "code"),
    [
        (ball, "no-hull"),
        (car, "no-hull"),
        (lambda draw: ball(draw, 300), "too-few-points"),
        (lambda draw: 1000.0 * car(draw), "no-scale"),
        (lambda draw: 0.001 * car(draw), "no-scale"),
        (lambda draw: draw.uniform(0, 8, (20_000, 3)), "no-hull"),
        (
            lambda draw: np.column_stack([draw.uniform(0, 9, (9000, 2)), np.zeros(9000)]),
            "no-hull",
        ),
    ],
)
def test_a_scan_of_something_else_is_refused_in_one_sentence(points, code):
    with pytest.raises(ModelError) as caught:
        lines_of_scan(points(np.random.default_rng(0)), ScanMarks(LEVEL_MARKS))
    assert caught.value.code == code
    assert len(caught.value.sentence) < 260


@pytest.mark.parametrize("count", [0, 1, 2])
def test_three_marks_are_asked_for(count):
    points = car(np.random.default_rng(0))
    with pytest.raises(ModelError, match="three marks") as caught:
        lines_of_scan(points, ScanMarks(LEVEL_MARKS[:count]))
    assert caught.value.code == "too-few-marks"


def test_marks_in_a_line_are_refused():
    row = np.array([[0.0, 1.0, 0.0], [3.0, 1.0, 0.0], [6.0, 1.01, 0.0]])
    with pytest.raises(ModelError) as caught:
        lines_of_scan(car(np.random.default_rng(0)), ScanMarks(row))
    assert caught.value.code == "marks-in-line"


def test_marks_that_are_far_from_level_are_refused():
    leaning = np.array([[1.0, 1.0, 0.3], [1.0, -1.0, 2.3], [4.0, 1.0, 0.3]])
    with pytest.raises(ModelError, match="leans 45° from level") as caught:
        lines_of_scan(car(np.random.default_rng(0)), ScanMarks(leaning))
    assert caught.value.code == "marks-not-level"


def test_one_side_alone_is_refused():
    hull = random_hull(1)
    points, _ = sampled(hull.surface, 20_000, np.random.default_rng(0))
    marks = np.array([[1.0, 0.5, 0.0], [1.0, -0.5, 0.0], [4.0, 0.5, 0.0]])
    with pytest.raises(ModelError) as caught:
        lines_of_scan(points[points[:, 1] > 0.05], ScanMarks(marks))
    assert caught.value.code == "no-hull"
