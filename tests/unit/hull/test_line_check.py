"""Readings that do not fit the others, on hulls on which the check was not tuned."""

from dataclasses import replace

import numpy as np
import pytest
from every_hull import every_hull
from line_families import (
    DrawnHull,
    DrawnLine,
    as_read,
    drawn_hull,
    exact,
    line_inputs,
    thinned,
)
from line_trial import checked, hull_lines, is_named, slipped, suspects, taped_as_asked

from hullchange.errors import DocumentError
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.line_causes import cause_of, swapped_digits
from hullchange.hull.line_check import LineCheck, Off, Reading
from hullchange.hull.line_process import HALF_BREADTH, HEIGHT, Field
from hullchange.hull.line_report import line_report
from hullchange.hull.lines_check import lines_of
from hullchange.hull.taped import MeasuredPoint, Taped, straight

SD = 0.005  # [m]
TRIANGLES = 800
TRIED = 12
GROSS = 0.09  # [m]
SPARSE = (4, 5, 7, 9)
CANOE_STERNS = range(3, 75, 6)


def test_what_a_reading_stands_off_is_what_the_others_predict():
    # the long way round: leave each reading out, predict it from the others
    field = Field(lines_of(line_inputs(drawn_hull(0), exact(drawn_hull(0)))).lines, HEIGHT)
    whole = field.covariance(field.mean)
    inverse = np.linalg.inv(whole)
    for n in range(0, len(field.values), 5):
        rest = np.delete(np.arange(len(field.values)), n)
        weights = np.linalg.solve(whole[np.ix_(rest, rest)], whole[rest, n])
        off = field.values[n] - weights @ field.values[rest]
        assert (inverse @ field.values)[n] / inverse[n, n] == pytest.approx(off, abs=1e-6)


def test_the_fit_follows_its_slopes():
    hull = drawn_hull(1)
    points = as_read(hull, SD, np.random.default_rng(1))
    field = Field(lines_of(line_inputs(hull, points)).lines, HALF_BREADTH)
    theta = field.mean + 0.1
    _, slopes = field._cost(theta)
    for n in range(len(theta)):
        step = np.zeros(len(theta))
        step[n] = 1e-5
        rise = (field._cost(theta + step)[0] - field._cost(theta - step)[0]) / 2e-5
        assert slopes[n] == pytest.approx(rise, rel=1e-3, abs=1e-3)


def test_slips_of_60_mm_are_named_and_clean_lines_are_not_blamed():
    # a small version of tests/bench/bench_line_check.py: there 95 %, 88 % and 0.2 % of 500
    rng = np.random.default_rng(7)
    inner, every, blamed, lines = [], [], 0, 0
    for seed in range(600, 600 + TRIED):
        hull = drawn_hull(seed)
        points = as_read(hull, SD, rng)
        clean = checked(hull, points)
        blamed += len({off.reading.line for off in suspects(clean)})
        lines += len(points)
        tapes = taped_as_asked(hull, clean, SD, rng)
        for _ in range(2):
            wrong, reading = slipped(points, rng, "60")
            without = checked(hull, wrong)
            off = next(o for o in without.offs() if o.reading == reading)
            if not off.is_end and not off.is_turn:
                inner.append(is_named(without, reading))
            every.append(is_named(checked(hull, wrong, tapes), reading))
    assert blamed <= 0.02 * lines
    assert np.mean(inner) >= 0.90
    assert np.mean(every) >= 0.82


def test_canoe_sterns_are_not_blamed():
    rng = np.random.default_rng(11)
    for seed in CANOE_STERNS:
        hull = drawn_hull(seed)
        assert hull.family == "canoe-stern"
        assert suspects(checked(hull, as_read(hull, SD, rng))) == []


@pytest.mark.parametrize("ends", [False, True], ids=["even", "closer-to-the-ends"])
@pytest.mark.parametrize("sd", [0.0, SD], ids=["exact", "read"])
def test_lines_of_few_points_are_not_blamed(ends, sd):
    # a small version of tests/bench/bench_line_check.py: under 1 % for every count there
    blamed, lines = 0, 0
    for count in SPARSE:
        for seed in range(8000, 8008):
            hull = thinned(drawn_hull(seed), count, ends)
            rng = np.random.default_rng([seed, count])
            points = as_read(hull, sd, rng) if sd else exact(hull)
            blamed += len({off.reading.line for off in suspects(checked(hull, points))})
            lines += len(points)
    assert blamed <= 0.01 * lines


@pytest.mark.parametrize(("seed", "count"), [(7034, 5), (7013, 6), (7024, 8)])
def test_an_end_far_from_the_next_readings_is_not_blamed(seed, count):
    hull = thinned(drawn_hull(seed), count, ends=True)
    points = as_read(hull, SD, np.random.default_rng(seed - 7000))
    assert suspects(checked(hull, points)) == []


def test_hulls_of_other_makers_are_not_blamed_whole_or_thinned():
    for seed, (name, hull) in enumerate(every_hull(12)):
        drawn = DrawnHull(
            name,
            tuple(
                DrawnLine(one.name, one.kind, one.points, one.knuckles)
                for one in hull.lines.lines
            ),
        )
        for few in (drawn, thinned(drawn, 7), thinned(drawn, 7, ends=True)):
            points = as_read(few, SD, np.random.default_rng(seed))
            assert suspects(checked(few, points)) == [], name
            assert suspects(checked(few, exact(few))) == [], name


def test_a_slip_inside_a_line_of_nine_points_is_still_named():
    rng = np.random.default_rng(5)
    named = []
    for seed in range(8000, 8012):
        hull = thinned(drawn_hull(seed), 9)
        points = as_read(hull, SD, rng)
        line = len(points) - 1
        index = len(points[line]) // 2
        points[line][index, HALF_BREADTH] += 0.15
        check = checked(hull, points)
        named.append(is_named(check, Reading(line, index, HALF_BREADTH)))
    assert np.mean(named) >= 0.8


@pytest.mark.parametrize(("few", "hulls", "least"), [(99, 5, 0.95), (8, 12, 0.6)])
def test_gross_slips_inside_lines_are_named_and_their_cause_is_said(few, hulls, least):
    # a small version of tests/bench/bench_line_check.py
    rng, named, causes = np.random.default_rng(3), [], []
    for seed in range(8100, 8100 + hulls):
        hull = thinned(drawn_hull(seed), few)
        points = as_read(hull, SD, rng)
        for kind in ("digits", "sign", "wrong-line"):
            wrong, reading = slipped(points, rng, kind)
            last = len(points[reading.line]) - 1
            moved = np.abs(wrong[reading.line] - points[reading.line]).max()
            if moved < GROSS or not 2 <= reading.index <= last - 2:
                continue
            first = suspects(checked(hull, wrong))[:1]
            named.append([off.reading for off in first] == [reading])
            if named[-1]:
                causes.append(cause_of(hull_lines(hull, wrong), first[0]))
    assert np.mean(named) >= least
    assert np.mean([bool(words) for words in causes]) >= 0.8


def test_a_sheer_that_may_step_is_blamed_for_what_is_no_step():
    for seed in range(8200, 8203):
        hull = drawn_hull(seed)
        points = as_read(hull, SD, np.random.default_rng(seed))
        middle = len(points[-1]) // 2
        points[-1][middle, HEIGHT] *= -1.0
        check = checked(hull, points)
        first = [off.reading for off in suspects(check)[:1]]
        assert first == [Reading(len(points) - 1, middle, HEIGHT)]


def test_no_sound_hull_is_refused_for_the_errors_of_its_readings():
    for seed in range(200):
        hull = drawn_hull(seed)
        drawn, rng = line_inputs(hull, exact(hull)), np.random.default_rng([seed, 9])
        try:
            lines_of(drawn)
        except DocumentError:  # as drawn she crosses herself
            continue
        read = hull_of(HullInput(line_inputs(hull, as_read(hull, SD, rng))), TRIANGLES)
        assert read.surface.volume == pytest.approx(
            hull_of(HullInput(drawn), TRIANGLES).surface.volume, rel=0.015
        )


def test_saltmarrow_has_no_slips(demo_input):
    assert line_report(lines_of(demo_input.lines).lines, (), frozenset()).findings == ()


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
    lines = moved(demo_input.lines, name, index, column, slip)
    (finding,) = line_report(lines_of(lines).lines, (), frozenset()).findings
    assert (finding.code, finding.place) == (
        "reading-does-not-fit",
        f"lines.{name}.points_m[{index}]",
    )
    assert f"mm {words} than" in finding.sentence
    difference_mm = float(finding.sentence.split(" mm ")[0].rsplit(" ", 1)[1])
    assert difference_mm == pytest.approx(1000 * abs(slip), rel=0.2)


def moved(lines, name, index, column, slip):
    def with_slip(given):
        if given.name != name:
            return given
        points = np.array(given.points)
        points[index, column] += slip
        return replace(given, points=tuple(map(tuple, points.tolist())))

    return tuple(with_slip(given) for given in lines)


def test_two_slips_of_one_hull_are_both_named_and_nothing_else(demo_input):
    once = moved(demo_input.lines, "sheer", 5, HEIGHT, 0.10)
    twice = moved(once, "lower-chine", 9, HEIGHT, -0.12)
    findings = line_report(lines_of(twice).lines, (), frozenset()).findings
    places = {finding.place for finding in findings}
    assert places == {"lines.sheer.points_m[5]", "lines.lower-chine.points_m[9]"}


def test_a_point_that_was_read_again_is_not_blamed(demo_input):
    lines = lines_of(moved(demo_input.lines, "sheer", 5, HEIGHT, 0.10)).lines
    report = line_report(lines, (), frozenset({(3, 5)}))
    assert report.findings == ()
    point = next(p for p in report.points if p.place == "lines.sheer.points_m[5]")
    assert (point.height, point.half_breadth) == (None, None)
    assert "measured again" in point.not_judged


def test_a_knuckle_is_no_slip(demo_input):
    keel, lower, upper, sheer = demo_input.lines
    points = np.array(sheer.points)
    points[:, 2] += 0.25 * np.maximum(points[:, 0] - 4.5, 0.0)
    bent = replace(sheer, points=tuple(map(tuple, points.tolist())), knuckles=(4.5,))
    lines = lines_of((keel, lower, upper, bent)).lines
    assert line_report(lines, (), frozenset()).findings == ()


def test_a_line_that_is_too_short_or_too_long_is_not_judged_and_says_so(demo_input):
    keel, lower, *others = lines_of(demo_input.lines).lines
    short = replace(lower, points=lower.points[::5])
    report = line_report((keel, short, *others), (), frozenset())
    reasons = {p.not_judged for p in report.points if ".lower-chine." in p.place}
    assert all("fewer than 5 points" in reason for reason in reasons)
    dense = [replace(line, points=dense_points(line.points)) for line in demo_input.lines]
    report = line_report(lines_of(tuple(dense)).lines, (), frozenset())
    assert report.findings == ()
    assert all("too many readings" in p.not_judged for p in report.points)
    assert report.asked == ()


def dense_points(points):
    found = np.array(points)
    x = np.linspace(found[0, 0], found[-1, 0], 80)
    rows = np.column_stack([x, *(np.interp(x, found[:, 0], found[:, c]) for c in (1, 2))])
    return tuple(map(tuple, rows.tolist()))


def test_a_taped_distance_finds_a_slip_at_an_end_that_nothing_else_can(demo_input):
    lines = lines_of(moved(demo_input.lines, "sheer", 14, HALF_BREADTH, 0.06)).lines
    assert line_report(lines, (), frozenset()).findings == ()
    true, _ = straight(lines_of(demo_input.lines).lines, breadth(0.0))
    report = line_report(lines, (breadth(true),), frozenset())
    codes = [finding.code for finding in report.findings]
    assert codes == ["reading-does-not-fit", "taped-does-not-fit"]
    reading, tape = report.findings
    assert reading.place == "lines.sheer.points_m[14]"
    assert "60 mm wider" in reading.sentence
    assert tape.place == "taped.breadth-aft"
    assert "120 mm more" in tape.sentence
    assert tape.sentence.count("sheer at x") == 2


def breadth(distance):
    end = MeasuredPoint(3, 14)
    return Taped(end, replace(end, is_port=True), distance, SD, "breadth-aft")


def test_a_taped_distance_that_fits_says_nothing_and_is_not_asked_for_again(demo_input):
    lines = lines_of(demo_input.lines).lines
    report = line_report(lines, (), frozenset())
    first, _ = report.asked[0]
    assert all(why.endswith("no other reading can.") for _, why in report.asked)
    taped = replace(first.tape, name="first")
    again = line_report(lines, (taped,), frozenset())
    assert again.findings == ()
    assert again.tapes[0].fits
    pairs = [(asked.tape.first, asked.tape.second) for asked, _ in again.asked]
    assert (taped.first, taped.second) not in pairs


def test_the_misfit_of_a_tape_moves_with_the_readings_as_it_says(demo_input):
    given = demo_input.lines
    tape = Taped(MeasuredPoint(2, 3), MeasuredPoint(3, 4, is_port=True), 2.0, SD)
    for name, line, index in (("upper-chine", 2, 3), ("sheer", 3, 4)):
        for column in (HALF_BREADTH, HEIGHT):
            check = LineCheck(lines_of(given).lines, (tape,))
            after = LineCheck(lines_of(moved(given, name, index, column, 1e-4)).lines, (tape,))
            rise = (after.rows.misfit - check.rows.misfit)[0] / 1e-4
            n = check.readings.index(Reading(line, index, column))
            assert check.rows.by_reading[0, n] == pytest.approx(rise, abs=1e-3)


@pytest.mark.parametrize(
    ("slip", "words"),
    [
        ("digits", "two digits swapped"),
        ("sign", "wrong sign"),
        ("metre", "1 m misread"),
        ("line", "the reading of lower chine entered here"),
        ("station", "the reading of the next station"),
        ("exchanged", "swapped with lower chine"),
    ],
)
def test_a_slip_that_people_make_is_named(demo_input, slip, words):
    points = {line.name: np.array(line.points) for line in demo_input.lines}
    upper, lower = points["upper-chine"], points["lower-chine"]
    index = 8
    was = float(upper[index, HALF_BREADTH])
    if slip == "digits":
        far = [v for v in swapped_digits(was) if 0.04 < abs(v - was) < 0.8]
        upper[index, HALF_BREADTH] = far[0]
        words = f"{was:.3f} read as {far[0]:.3f}, {words}"
    elif slip == "sign":
        index = 4
        upper[index, HEIGHT] *= -1.0
    elif slip == "metre":
        upper[index, HALF_BREADTH] -= 1.0
    elif slip == "line":
        upper[index, HALF_BREADTH] = lower[index, HALF_BREADTH]
    elif slip == "station":
        index = 3
        upper[index, HALF_BREADTH] = upper[index + 1, HALF_BREADTH]
    else:
        kept = upper[index, HEIGHT]
        upper[index, HEIGHT], lower[index, HEIGHT] = lower[index, HEIGHT], kept
    lines = lines_of(demo_input.lines).lines
    wrong = tuple(replace(line, points=points[line.name]) for line in lines)
    findings = line_report(wrong, (), frozenset()).findings
    mine = [f for f in findings if f.place == f"lines.upper-chine.points_m[{index}]"]
    assert any(words in finding.sentence for finding in mine), findings


@pytest.mark.parametrize(
    ("value", "off", "sd", "cause"),
    [
        (0.0, -0.5, 0.005, ""),  # a datum, not a misread tape
        (1.62, 0.5, 0.005, "1.120 read as 1.620, 0.5 m misread?"),
        (1.62, 0.14, 0.03, ""),  # 0.1 m misread is not what explains it
        (2.052, 1.72, 0.03, "0.252 read as 2.052, two digits swapped?"),  # gross: 80 mm away
    ],
)
def test_a_misread_tape_is_named_only_where_it_explains_the_reading(
    demo_input, value, off, sd, cause
):
    lines = list(lines_of(demo_input.lines).lines)
    points = lines[3].points.copy()
    points[7, HALF_BREADTH] = value
    lines[3] = replace(lines[3], points=points)
    found = Off(Reading(3, 7, HALF_BREADTH), off, sd, True, True, False, False)
    assert cause_of(tuple(lines), found) == cause
