"""Lines traced over pictures: scale, residuals, three views joined, and what is refused."""

from itertools import islice

import numpy as np
import pytest
from hulls import random_hull
from other_hulls import hull_of as other_hull

from hullchange.errors import ModelError
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput
from hullchange.hull_sources.drawing import TracedCurve, TracedView, lines_of_drawing
from hullchange.hull_sources.picture_plane import picture_plane
from hullchange.hull_sources.preview import previewed
from hullchange.plain_words import id_in_words

LEVEL = WaterPlane(np.array([0.0, 0.0, 1.0]), 0.0)
PIXEL = 0.005  # [m]
COLUMNS = {"profile": [0, 2], "plan": [0, 1], "body": [1, 2]}


def shot(places, tilt_deg, centre):
    """Pixels of places on a plane seen from some way off, leaning about its upright axis."""
    away = places - centre
    x = away[:, 0] * np.cos(np.radians(tilt_deg))
    far = 20.0 + away[:, 0] * np.sin(np.radians(tilt_deg))
    return np.column_stack([x, -away[:, 1]]) / far[:, None] * 20.0 / PIXEL + 900.0


def spread(places):
    low, high = places.min(axis=0) - 0.2, places.max(axis=0) + 0.2
    shares = [(0, 0), (1, 0), (0, 1), (1, 1), (0.45, 0.02), (0.5, 1)]
    return low + np.array(shares) * (high - low)


def traced(view, lines, draw, *, tilt_deg=0.0, is_flat=True, per_line=None):
    """A view of lines, every pick with the shake of a hand."""
    columns = COLUMNS[view]
    every = np.vstack([line.points for line in lines])[:, columns]
    centre = every.mean(axis=0)

    def picked(places):
        return shot(places, tilt_deg, centre) + draw.normal(0.0, 1.0, places.shape)

    curves = []
    for line in lines:
        points = line.points if per_line is None else line.at_fraction(per_line)
        if view == "body":
            curves += [
                TracedCurve(line.name, picked(p[None, columns]), line.kind, float(p[0]))
                for p in points[1:-1]
            ]
        else:
            curves.append(TracedCurve(line.name, picked(points[:, columns]), line.kind))
    marks = spread(every)
    return TracedView(view, picked(marks), marks, is_flat, tuple(curves))


def volume(lines):
    return integrals_below(hull_of(HullInput(tuple(lines)), 4000).surface, LEVEL).volume


def views_of(hull, seed, **how):
    draw, lines = np.random.default_rng(seed), hull.lines.lines
    return (
        traced("profile", lines, draw, **how),
        traced("plan", lines[1:], draw, **how),
        traced("body", lines[1:], draw, **how),
    )


@pytest.mark.parametrize("seed", [*range(8), 9])
@pytest.mark.parametrize(
    "how", [{}, {"tilt_deg": 8.0, "is_flat": False}], ids=["scan", "photo"]
)
def test_a_traced_drawing_gives_the_displacement_within_two_percent(seed, how):
    hull = random_hull(seed)
    true = integrals_below(hull.surface, LEVEL).volume
    found = lines_of_drawing(views_of(hull, seed, **how))
    assert volume(found.lines) == pytest.approx(true, rel=0.02)
    for line, drawn in zip(found.lines, hull.lines.lines, strict=True):
        assert np.array(line.points)[[0, -1]] == pytest.approx(drawn.points[[0, -1]], abs=0.03)
    assert found.missing == ()
    assert 0.003 < found.plus_minus < 0.02
    assert all("agree within" in note for note in found.notes)


def test_a_curve_traced_in_many_points_loses_its_shake():
    hull = random_hull(3)
    how = {"per_line": np.linspace(0.0, 1.0, 150)}
    draw, lines = np.random.default_rng(0), hull.lines.lines
    views = (
        traced("profile", lines, draw, **how),
        traced("plan", lines[1:], draw, **how),
    )
    found = lines_of_drawing(views)
    assert max(len(line.points) for line in found.lines) <= 30
    assert volume(found.lines) == pytest.approx(
        integrals_below(hull.surface, LEVEL).volume, rel=0.02
    )


@pytest.mark.parametrize(("tilt_deg", "is_flat"), [(0.0, True), (8.0, False)])
def test_the_error_that_is_said_is_the_error_made(tilt_deg, is_flat):
    draw = np.random.default_rng(7)
    grid = np.stack(np.meshgrid(np.linspace(0, 10, 6), np.linspace(-0.6, 1.4, 4)), -1)
    places = grid.reshape(-1, 2)
    marks, centre = spread(places), places.mean(axis=0)
    ratio = []
    for _ in range(60):
        picks = shot(marks, tilt_deg, centre) + draw.normal(0, 1.0, marks.shape)
        plane = picture_plane(picks, marks, is_flat=is_flat)
        points = shot(places, tilt_deg, centre) + draw.normal(0, 1.0, places.shape)
        off = np.linalg.norm(plane.placed(points) - places, axis=1) / np.sqrt(2.0)
        ratio.append(off / plane.errors(points))
    assert 0.7 < np.sqrt(np.mean(np.square(ratio))) < 1.2


ROW = np.column_stack([np.linspace(0, 10, 6), np.full(6, 0.5)])
BOX = spread(np.array([[0.0, -0.6], [10.0, 1.4]]))


@pytest.mark.parametrize(
    ("marks", "is_flat", "code"),
    [
        (np.empty((0, 2)), True, "no-scale"),
        (BOX[:2], True, "too-few-marks"),
        (BOX[:4], False, "too-few-marks"),
        (ROW[:3], True, "marks-in-line"),
        (ROW, False, "marks-in-line"),
        (np.vstack([ROW[:5], [[5.0, 1.4]]]), False, "marks-in-line"),
    ],
)
def test_marks_that_cannot_do_it_are_refused(marks, is_flat, code):
    pixels = marks / PIXEL
    with pytest.raises(ModelError) as caught:
        picture_plane(pixels, marks, is_flat=is_flat)
    assert caught.value.code == code


def test_marks_of_which_two_are_swapped_disagree():
    with pytest.raises(ModelError, match="The marks disagree") as caught:
        picture_plane(BOX[[1, 0, 2, 3, 4, 5]] / PIXEL, BOX, is_flat=True)
    assert caught.value.code == "marks-disagree"


def test_a_line_in_one_view_only_and_a_missing_end_are_asked_for():
    profile, plan, _ = views_of(random_hull(1), 1)
    name = plan.curves[0].line
    short = TracedCurve(name, plan.curves[0].pixels[:-3], plan.curves[0].kind)
    cut = TracedView("plan", plan.mark_pixels, plan.mark_places, True, (short,))
    found = lines_of_drawing((profile, cut))
    words = f"Line {id_in_words(name)} ends at x"
    assert any(words in sentence for sentence in found.missing)
    assert any("in the plan too" in sentence for sentence in found.missing)
    assert previewed(found).size is None


def test_a_section_without_its_station_is_asked_for():
    *_, body = views_of(random_hull(1), 1)
    lost = TracedCurve("sheer", body.curves[0].pixels)
    view = TracedView("body", body.mark_pixels, body.mark_places, True, (lost,))
    with pytest.raises(ModelError, match="At which station") as caught:
        lines_of_drawing((view,))
    assert caught.value.code == "station-missing"


def test_a_refusal_names_its_view():
    view = TracedView("plan", np.empty((0, 2)), np.empty((0, 2)), True, ())
    with pytest.raises(ModelError, match="Plan: The picture has no scale"):
        lines_of_drawing((view,))


def round_hull():
    """A round hull of the test makers."""
    for seed in range(200):
        form, plain = other_hull(np.random.default_rng(seed))
        if form.kind == "round":
            lines = tuple(
                LineInput(name, line["kind"], tuple(map(tuple, line["points_m"])))
                for name, line in plain["lines"].items()
            )
            yield hull_of(HullInput(lines, 0.05, 1.5), 4000)


@pytest.mark.parametrize("number", range(3))
def test_a_round_hull_is_traced_by_its_sections(number):
    hull = next(islice(round_hull(), number, None))
    draw, lines = np.random.default_rng(number), hull.lines.lines
    ends = (lines[0], lines[-1])
    profile = traced("profile", ends, draw)
    plan = traced("plan", ends[1:], draw)
    marks = traced("body", lines[1:], draw)
    centre = np.vstack([line.points for line in lines[1:]])[:, [1, 2]].mean(axis=0)
    stations = np.linspace(hull.fore_x + 0.06 * hull.length, hull.transom_x - 1e-3, 11)
    curves = []
    for x in stations:
        section = hull.section(float(x))
        step = np.r_[0.0, np.cumsum(np.linalg.norm(np.diff(section, axis=0), axis=1))]
        at = np.linspace(0.0, step[-1], 12)
        places = np.column_stack([np.interp(at, step, column) for column in section.T])
        pixels = shot(places, 0.0, centre) + draw.normal(0.0, 1.0, places.shape)
        curves.append(TracedCurve("section", pixels, None, float(x)))
    body = TracedView("body", marks.mark_pixels, marks.mark_places, True, tuple(curves))
    found = lines_of_drawing((profile, plan, body))
    assert [line.name for line in found.lines][1:-1] == [f"girth-{k}" for k in range(1, 6)]
    assert found.missing == ()
    true = integrals_below(hull.surface, LEVEL).volume
    assert volume(found.lines) == pytest.approx(true, rel=0.02)


def test_too_few_sections_are_asked_for():
    hull = random_hull(1)
    draw = np.random.default_rng(0)
    view = traced("body", hull.lines.lines[1:], draw)
    few = tuple(
        TracedCurve("section", c.pixels.repeat(4, 0), None, 1.0) for c in view.curves[:2]
    )
    body = TracedView("body", view.mark_pixels, view.mark_places, True, few)
    found = lines_of_drawing((traced("profile", hull.lines.lines[:1], draw), body))
    assert any("Trace at least 5 sections" in sentence for sentence in found.missing)
