"""Points by tape from marks: their error, their mirror image, and marks that cannot do it."""

import numpy as np
import pytest
from hulls import random_hull

from hullchange.errors import ModelError
from hullchange.hull_sources.points import TableAsked
from hullchange.hull_sources.tape import fixed, lines_by_tape, require_spread
from hullchange.quantity_text import feet_inches_eighths

MARKS = np.array([[0, 2.5, -1.6], [4, 4.5, -1.6], [10, 2.5, 1.2], [5, 3.0, 1.5]], float)
NAMES = ("A", "B", "C", "D")


def tables(lines, marks=MARKS, noise=0.0, seed=0, write=None):
    """Marks and distances as an owner would write them down."""
    write, draw = write or (lambda v: f"{v:.4f}"), np.random.default_rng(seed)
    head = ["mark;x;y;z"]
    rows = [";".join([n, *map(write, m)]) for n, m in zip(NAMES, marks, strict=False)]
    of_points = ["kind;" + ";".join(NAMES[: len(marks)]) + ";line"]
    for name, kind, points in lines:
        for point in points:
            taped = np.linalg.norm(marks - point, axis=1) + draw.normal(0, noise, len(marks))
            of_points.append(";".join([kind, *map(write, taped), name]))
    return "\n".join(head + rows), "\n".join(of_points)


def hull_lines(seed):
    return [(line.name, line.kind, line.points) for line in random_hull(seed).lines.lines]


@pytest.mark.parametrize("seed", range(4))
def test_exact_distances_give_the_points(seed):
    lines = hull_lines(seed)
    found = lines_by_tape(*tables(lines), TableAsked("m"))
    assert found.not_understood == found.missing == found.notes == ()
    for line, (name, kind, points) in zip(found.lines, lines, strict=True):
        assert (line.name, line.kind) == (name, kind)
        assert np.allclose(line.points, points, atol=0.002)


@pytest.mark.parametrize(
    ("marks", "most"), [(MARKS, 0.016), (MARKS[[0, 1, 3]] * [1, 1, 0] - [0, 0, 1.6], 0.06)]
)
def test_the_error_that_is_said_is_the_error_made(marks, most):
    draw = np.random.default_rng(1)
    points = np.vstack([points for _, _, points in hull_lines(2)])
    ratio, errors = [], []
    for point in points:
        for _ in range(5):
            taped = np.linalg.norm(marks - point, axis=1) + draw.normal(0, 0.005, len(marks))
            fix = fixed(marks, taped)
            off = np.abs(fix.place - point)[1:].max()
            ratio.append(off / fix.error)
            errors.append(fix.error)
    assert 0.7 < np.sqrt(np.mean(np.square(ratio))) < 1.4
    assert np.sqrt(np.mean(np.square(errors))) < most


def test_feet_and_metres_are_the_same_boat():
    lines = hull_lines(3)
    feet = lines_by_tape(*tables(lines, write=feet_inches_eighths))
    metres = lines_by_tape(*tables(lines), TableAsked("m"))
    for one, other in zip(feet.lines, metres.lines, strict=True):
        assert np.allclose(one.points, other.points, atol=0.015)


def test_marks_in_a_line_are_refused():
    row = np.array([[0, 3, -1.6], [5, 3.2, -1.6], [10, 3, -1.6]], float)
    with pytest.raises(ModelError, match="in a line") as caught:
        lines_by_tape(*tables(hull_lines(0), row), TableAsked("m"))
    assert caught.value.code == "marks-in-line"
    with pytest.raises(ModelError, match="three marks") as caught:
        require_spread(row[:2])
    assert caught.value.code == "too-few-marks"


def test_a_mirror_image_that_fits_as_well_is_asked_about():
    slanted = np.array([[0, 0.2, -1.5], [10, 0.2, -1.5], [5, 3.0, 1.3]])
    point = np.array([4.0, 1.5, -1.0])
    fix = fixed(slanted, np.linalg.norm(slanted - point, axis=1))
    assert fix.mirrored is not None
    assert min(np.linalg.norm(p - point) for p in (fix.place, fix.mirrored)) < 1e-6
    found = lines_by_tape(*tables([("sheer", "sheer", [point])], slanted), TableAsked("m"))
    assert "one more mark" in found.notes[0]


def test_a_slip_and_a_missing_distance_are_told_and_the_rest_is_kept():
    marks, distances = tables(hull_lines(0))
    rows = distances.splitlines()
    rows[3] = ";".join(["chine", "9,999", *rows[3].split(";")[2:]])
    rows[4] = ";".join(["fair", "", "", *rows[4].split(";")[3:]])
    rows[5] = ";".join(["fair", "abc", *rows[5].split(";")[2:]])
    found = lines_by_tape(marks, "\n".join(rows), TableAsked("m"))
    assert [(c.row, c.column) for c in found.not_understood] == [
        (4, "all"),
        (5, "all"),
        (6, "A"),
    ]
    assert "measure this point again" in found.not_understood[0].sentence
    assert sum(len(line.points) for line in found.lines) == len(rows) - 3


def test_a_mark_that_is_not_in_the_table_is_asked_for():
    marks, distances = tables(hull_lines(0))
    with pytest.raises(ModelError, match="Which column") as caught:
        lines_by_tape(marks, distances.replace("A;B;C;D", "p;q;r;s"), TableAsked("m"))
    assert caught.value.code == "no-heading"
