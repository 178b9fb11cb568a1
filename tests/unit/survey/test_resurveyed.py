"""Plus/minus of what was measured: against surveying and floating her again in her true hull.

The lines are drawn in error, the same readings are taken in that hull, and she floats in it.
"""

from functools import cache
from math import degrees, radians, tan

import numpy as np
import pytest
from refits import assessed, barge_document, boat, demo_document, row, rows_of, weight, with_all
from resurveyed import (
    HEELS,
    floated,
    levers,
    skiff_document,
    with_lines_wrong,
    with_readings_wrong,
)

from hullchange.afloat.floats_in_conditions import surveyed_row
from hullchange.afloat.slopes import ROWS
from hullchange.boat.conditions import conditions_of
from hullchange.survey.as_found import surveyed

MASS, GM = 1025.0 * 12 * 4, 0.63
TANK = {
    "box_m": {"x": [5, 7], "y": [-1.6, 1.6], "z": [-0.9, -0.3]},
    "capacity_l": 3840,
    "contents": "fresh",
}
LISTED = {"forward": (1.55, 1.5), "aft": (1.48, 1.43)}


@cache
def barge(kind):
    """A barge by the stern with a list and cargo to come, as a kind of survey found her."""
    cargo = {"cargo": {"adds": {"lead": weight(1500, (8, 0.4, -0.6))}}}
    crew = weight(900, (3, -0.3, 0.8))
    more = {
        "changes": cargo,
        "conditions": {
            "survey-state": {},
            "loaded": {"water": "fresh", "loads": {"crew": crew}},
        },
    }
    test = {
        "readings": [
            {"moment_kgm": MASS * GM * tan(radians(heel)), "heel_deg": heel}
            for heel in (-1.5, -0.8, 0.0, 0.8, 1.5)
        ]
    }
    if "slack" in kind:
        more["tanks"] = {"water": TANK}
    survey = {"aboard": {"water": {"tank": "water", "fill_l": 1900}}} if "slack" in kind else {}
    if "inclined" in kind:
        survey |= {"vcg": None, "inclining": test}
    if "fresh" in kind:
        test["water"] = {"density_kg_m3": 1000.0}
    marks = {
        f"survey.marks.{mark}.freeboard_m.{side}": read
        for mark, reads in LISTED.items()
        for side, read in zip(("port", "starboard"), reads, strict=True)
    }
    return with_all(barge_document(12, 4, 1, 2.5, 0.2, survey=survey, **more), marks)


BOATS = {
    "Saltmarrow": demo_document,
    "a skiff": lambda: skiff_document(3),
    "a barge": lambda: barge("level"),
    "a barge, a tank slack": lambda: barge("slack"),
    "a barge, inclined with a tank slack": lambda: barge("inclined, slack"),
    "a barge, inclined in fresh water": lambda: barge("inclined, fresh"),
}
CONDITION = {"Saltmarrow": "departure"}


def old_and_new_rows(plain, condition):
    built = boat(plain)
    as_surveyed = surveyed(built)
    return rows_of(built, as_surveyed, conditions_of(built.document)[condition])


@pytest.mark.parametrize("name", BOATS)
def test_each_wrong_hull_does_what_the_slopes_of_its_errors_say(name):
    plain, condition = BOATS[name](), CONDITION.get(name, "loaded")
    draw = np.random.default_rng(17)
    old, new = old_and_new_rows(plain, condition)
    before = floated(plain, with_lines_wrong(plain, draw, 0.0).plain, condition)[0, :, :8]
    wrongs = [with_lines_wrong(plain, draw) for _ in range(6)]
    moved = np.array([floated(plain, w.plain, condition)[0, :, :8] - before for w in wrongs])
    errors = np.array([w.errors for w in wrongs])
    by_slopes = [r.spread.slopes.matrix[:, 4:] for r in (old, new)]
    for slopes, gained in (
        (by_slopes[0], moved[:, 0]),
        (by_slopes[1], moved[:, 1]),
        (by_slopes[1] - by_slopes[0], moved[:, 1] - moved[:, 0]),
    ):
        expected, sd = errors @ slopes.T, np.linalg.norm(slopes, axis=1)
        # second order, how the splining is drawn out, and the place of a mark on a wrong sheer
        finest = np.array([0.5, 2e-4, 1e-4, 2e-4, 5e-5, 1e-4, radians(0.012), 5e-4])
        assert np.abs(gained - expected).max(axis=0) / (0.2 * sd + finest) == pytest.approx(
            np.zeros(8), abs=1.0
        )


@pytest.mark.parametrize("name", [name for name in BOATS if name != "Saltmarrow"])
def test_other_freeboards_weigh_her_as_their_slopes_say(name):
    # 4 mm less all round, by the stern and to port: what her inclining says goes along
    plain = BOATS[name]()
    marks = plain["survey"]["marks"]
    before = surveyed(boat(plain))
    other = {
        f"survey.marks.{mark}.freeboard_m.{side}": read - 0.004 * (1.0 + along + across)
        for mark, along in zip(marks, (-0.5, 0.5), strict=True)
        for side, across in (("port", 0.5), ("starboard", -0.5))
        for read in (marks[mark]["freeboard_m"][side],)
    }
    after = surveyed(boat(with_all(plain, other)))
    amidships = plain["hull"]["length_waterline_m"] / 2.0
    was, now = (
        np.array([f.fitted.plane.sinkage(amidships), f.fitted.plane.trim, f.fitted.plane.heel])
        for f in (before, after)
    )
    mass = before.solid.mass
    gained = (after.solid.numbers - before.solid.numbers) / mass
    by_slopes = before.by_water @ (now - was) / mass
    assert gained == pytest.approx(by_slopes, abs=1e-4)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["a skiff", "a barge", "a barge, inclined with a tank slack"])
def test_plus_minus_is_that_of_surveying_again_and_again(name):
    plain, conditions = BOATS[name](), ("survey-state", "loaded")
    draw, count = np.random.default_rng(5), 150
    every = np.array(
        [
            floated(
                plain,
                with_readings_wrong(with_lines_wrong(plain, draw).plain, draw),
                *conditions,
            )
            for _ in range(count)
        ]
    )
    answer = assessed(plain, levers=None)
    for number, condition in enumerate(conditions):
        figures = every[:, number]
        old, new = (row(answer, condition, stage) for stage in ("as_found", "refit"))
        apart = figures[:, 1] - figures[:, 0]
        for result, drawn in ((old, figures[:, 0]), (new, figures[:, 1]), (new.change, apart)):
            agrees(result, drawn)


def agrees(result, drawn):
    """Require plus/minus of a result to agree with draws (n, 8 + f)."""
    assert result.plus_minus_by == "linear"
    units = np.array([1, 1, 1, 1, 1000, 1000, degrees(1), 1])
    stated = np.array(list(result.plus_minus.model_dump().values()))[:8]
    finest = np.array([0.1, 1e-4, 1e-4, 2e-4, 0.02, 0.05, 0.002, 2e-4])
    # a standard deviation of 150 draws is good to 5.8 %: three and a half of those
    sd = drawn[:, :8].std(axis=0) * units
    assert (np.abs(sd - stated) - 0.2 * stated - finest).max() < 0.0, (sd, stated)
    freeboards = np.array([f.plus_minus_mm for f in result.freeboards])
    assert 1000.0 * drawn[:, 8:].std(axis=0) == pytest.approx(freeboards, rel=0.2, abs=0.1)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "condition"), [("a barge", "loaded"), ("Saltmarrow", "departure")]
)
def test_levers_of_each_wrong_hull_are_what_their_slopes_say(name, condition):
    plain = BOATS[name]()
    draw = np.random.default_rng(23)
    _, new = old_and_new_rows(plain, condition)
    before = levers(plain, with_lines_wrong(plain, draw, 0.0).plain, condition)
    wrongs = [with_lines_wrong(plain, draw) for _ in range(5)]
    gained = np.array([levers(plain, w.plain, condition) - before for w in wrongs])
    slopes = new.spread.weight_slopes.at(HEELS)[:, 0, 4:]
    by_slopes, sd = (
        np.array([w.errors for w in wrongs]) @ slopes.T,
        np.linalg.norm(slopes, axis=1),
    )
    assert np.abs(gained - by_slopes).max(axis=0) / (0.2 * sd + 1e-4) == pytest.approx(
        np.zeros(len(HEELS)), abs=1.0
    )


@pytest.mark.parametrize("name", BOATS)
def test_as_she_lay_her_lines_and_her_centre_take_nothing_from_what_was_read(name):
    built = boat(BOATS[name]())
    as_surveyed = surveyed(built)
    here = surveyed_row(built, as_surveyed).spread
    rows = [ROWS.index(row) for row in ("sinkage", "trim", "heel")]
    assert here.slopes.matrix[rows, 4:] == pytest.approx(0.0, abs=1e-9)
    covariance = here.covariance[np.ix_(rows, rows)]
    length = built.document.hull.length_waterline_m
    scale = np.array([1.0, length, 1.0])
    read = as_surveyed.fitted.covariance * np.outer(scale, scale)
    sd = np.sqrt(np.diag(read))
    assert covariance / np.outer(sd, sd) == pytest.approx(read / np.outer(sd, sd), abs=2e-3)


def test_a_slack_tank_does_not_widen_a_list_that_was_read():
    lists = [
        assessed(barge(kind), levers=None).survey.plus_minus.heel_deg
        for kind in ("level", "slack")
    ]
    assert lists[1] == pytest.approx(lists[0], rel=1e-3)


@pytest.mark.parametrize("name", ["Saltmarrow", "a barge"])
def test_the_owner_is_sent_to_what_would_help(name):
    answer = assessed(BOATS[name](), levers=None, only="survey-state")
    shares = row(answer, "survey-state", "as_found").shares
    for of in (shares.trim_mm, shares.heel_deg):
        assert of[0].cause == "survey.marks"
        assert of[0].share_percent > 99.0
    lines = next(s for s in shares.displacement_kg if s.cause == "hull.lines")
    survey = answer.survey
    by_lines = (survey.hull_shape_displacement_kg / survey.plus_minus.displacement_kg) ** 2
    assert lines.share_percent == pytest.approx(100.0 * by_lines)


def test_an_inclined_boat_is_sent_to_her_inclining():
    answer = assessed(barge("inclined"), levers=None, only="survey-state")
    shares = row(answer, "survey-state", "as_found").shares
    assert shares.gm_m[0].cause == "survey.inclining"
