"""Readings that do not fit the others."""

from dataclasses import replace

import numpy as np
import pytest

from hullchange.findings import Severity
from hullchange.hull.lines import LineInput
from hullchange.hull.lines_check import lines_of
from hullchange.hull.readings import deleted_residuals, misfit_findings


def test_deleted_residuals_are_those_of_fits_without_the_point():
    # the long way round: leave each reading out, fit the rest, compare
    x = np.linspace(-1.0, 1.0, 9)
    values = np.exp(x) + 0.01 * np.sin(50.0 * x)
    design = np.vander(x, 4)
    studentised, deleted = deleted_residuals(design, values)
    for i in range(9):
        rest = np.arange(9) != i
        fit, squares, _, _ = np.linalg.lstsq(design[rest], values[rest])
        off = values[i] - design[i] @ fit
        assert deleted[i] == pytest.approx(off, rel=1e-9)
        spread = design[i] @ np.linalg.solve(design[rest].T @ design[rest], design[i])
        scatter = np.sqrt(squares[0] / (8 - 4) * (1.0 + spread))
        assert studentised[i] == pytest.approx(off / scatter, rel=1e-9)


def test_saltmarrow_has_no_misfits(demo_input):
    assert misfit_findings(lines_of(demo_input.lines)) == ()


@pytest.mark.parametrize(
    ("name", "index", "column", "slip", "words"),
    [
        ("lower-chine", 7, 1, 0.10, "wider"),
        ("upper-chine", 9, 1, -0.10, "narrower"),
        ("sheer", 5, 2, 0.05, "higher"),
        ("centreline", 8, 2, -0.10, "lower"),
    ],
)
def test_a_slip_is_found_where_it_is(demo_input, name, index, column, slip, words):
    lines = slipped(demo_input.lines, name, index, column, slip)
    (finding,) = misfit_findings(lines_of(lines))
    assert finding.code == "reading-does-not-fit"
    assert finding.severity is Severity.WARN
    assert finding.place == f"lines.{name}.points_m[{index}]"
    assert f"mm {words} than" in finding.sentence
    difference_mm = float(finding.sentence.split(" mm ")[0].rsplit(" ", 1)[1])
    assert difference_mm == pytest.approx(1000 * abs(slip), rel=0.35)


def slipped(lines, name, index, column, slip):
    def moved(given):
        if given.name != name:
            return given
        points = np.array(given.points)
        points[index, column] += slip
        return replace(given, points=tuple(map(tuple, points.tolist())))

    return tuple(moved(given) for given in lines)


def test_on_fair_lines_most_slips_of_50_mm_are_found_and_few_good_hulls_are_blamed():
    random = np.random.default_rng(5)
    found = 0
    blamed = 0
    trials = 120
    for _ in range(trials):
        lines = noisy_fair_lines(random)
        blamed += len(misfit_findings(lines_of(lines))) > 0
        index, column = int(random.integers(13)), int(random.integers(1, 3))
        slip = 0.05 * random.choice([-1.0, 1.0])
        findings = misfit_findings(lines_of(slipped(lines, "bilge", index, column, slip)))
        found += f"lines.bilge.points_m[{index}]" in {f.place for f in findings}
    # binomial scatter of 120 trials is 0.04; of 400 trials 0.77 and 0.06
    assert found / trials > 0.66
    assert blamed / trials < 0.17


def noisy_fair_lines(random):
    x = np.linspace(0.0, 11.0, 13)
    u = x / 11.0
    breadth = 1.8 * np.sin(np.pi * (0.08 + 0.72 * u))
    rows = [("centreline", "fair", 0.0 * x, -0.9 + 0.9 * (u - 0.45) ** 2)]
    rows += [("bilge", "chine", 0.7 * breadth, -0.3 + 1.2 * (u - 0.45) ** 2)]
    rows += [("sheer", "sheer", breadth, 1.0 + 0.9 * (u - 0.6) ** 2)]
    lines = []
    for name, kind, y, z in rows:
        noise = random.normal(0.0, 0.005, (2, len(x))) * np.array([[name != "centreline"], [1]])
        points = np.column_stack([x, y + noise[0], z + noise[1]])
        lines.append(LineInput(name, kind, tuple(map(tuple, points.tolist()))))
    return tuple(lines)


def test_a_knuckle_is_no_misfit(demo_input):
    keel, lower, upper, sheer = demo_input.lines
    points = np.array(sheer.points)
    points[:, 2] += 0.25 * np.maximum(points[:, 0] - 4.5, 0.0)
    bent = replace(sheer, points=tuple(map(tuple, points.tolist())))
    assert misfit_findings(lines_of((keel, lower, upper, replace(bent, knuckles=(4.5,))))) == ()
