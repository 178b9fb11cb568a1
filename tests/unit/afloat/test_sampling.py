"""Drawn answers against floating her anew in every draw, where GM is large and where not."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from refits import (
    assessed,
    barge_document,
    boat,
    demo,
    demo_answer,
    demo_document,
    row,
    rows_of,
    weight,
    with_all,
)

from hullchange.afloat.floats_in_conditions import answers_of
from hullchange.afloat.sampling import COUNT, draws_of
from hullchange.afloat.stability import vanishing_deg
from hullchange.afloat.uncertainty import GM, HEEL
from hullchange.afloat.whole_circle import COARSE_CIRCLE
from hullchange.assess.assessment import assessment
from hullchange.assess.stability import with_stability
from hullchange.boat.conditions import conditions_of
from hullchange.boat.hull_hydrostatics import hull_result
from hullchange.floating.equilibrium import equilibrium
from hullchange.floating.levers import righting_levers
from hullchange.floating.sampled_levers import sampled_levers
from hullchange.survey.as_found import surveyed

DRAWN = 16
"""Draws that are floated anew."""


@cache
def tender_boat():
    """Saltmarrow with her centre of gravity 0.9 m higher than she has it."""
    return boat(with_all(demo_document(), {"survey.vcg.z_m": 1.0}))


@cache
def tender_answer():
    return assessment(tender_boat(), only="departure")


def spread_of(built, condition, stage="refit"):
    rows = rows_of(built, surveyed(built), conditions_of(built.document)[condition])
    return next(r for r in rows if r.stage == stage).spread


def tender_barge(vcg=0.82, **more):
    """A box of GM 13 mm, known to 30 mm; a weight to one side where asked."""
    survey = {"vcg": {"z_m": vcg, "plus_minus_m": 0.03, "from": "weighed"}}
    return barge_document(12, 4, 1, 2.5, vcg, survey=survey, **more)


def solved_again(spread, change):
    """Heel [deg], GM upright, vanishing angle [deg], sinkage, trim: each solved for again."""
    rest, loading = spread.rest, spread.rest.loading
    numbers = loading.mass * np.array([1.0, *loading.centre]) + change[:4]
    other = replace(loading, mass=numbers[0], centre=numbers[1:] / numbers[0])
    upright = equilibrium(rest.envelope, other, rest.water_density).upright
    there = equilibrium(rest.envelope, other, rest.water_density, upright.plane)
    levers = righting_levers(
        rest.envelope, other, rest.water_density, COARSE_CIRCLE, upright.plane
    )
    return [
        np.degrees(there.plane.heel),
        upright.gm_transverse,
        min(vanishing_deg(levers, side) for side in ("port", "starboard")),
        there.plane.sinkage(spread.amidships_x),
        there.plane.trim_between_perpendiculars(spread.length),
    ]


def drawn_of(spread, changes):
    """Vanishing angles [deg], and greatest levers [m] to the side she lists to, as answered."""
    levers = sampled_levers(spread.levers, spread.weight_slopes, changes)
    sides = [levers.vanishing(side) for side in ("port", "starboard")]
    return np.degrees(np.minimum(*sides)), levers.greatest("starboard")


CASES = {
    "saltmarrow stiff": (lambda: demo()[0], "departure", "refit"),
    "saltmarrow tender": (lambda: tender_boat(), "departure", "refit"),
    "barge tender": (lambda: boat(tender_barge()), "survey-state", "as_found"),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES)
def test_drawn_answers_are_those_of_floating_anew(case):
    made, condition, stage = CASES[case]
    built = made()
    spread = spread_of(built, condition, stage)
    # weights alone: lines are drawn and floated anew in test_resurveyed
    changes = spread.draws.together[:DRAWN] * (np.arange(spread.draws.shared.shape[1]) < 4)
    again = np.array([solved_again(spread, change) for change in changes])
    results = spread.results(changes)
    vanishing, greatest = drawn_of(spread, changes)
    # with less than a millimetre left to hold her up a draw may fall either way
    sure = np.abs(greatest) > 0.001
    assert np.count_nonzero(sure) >= 0.8 * DRAWN
    assert results[:, GM] == pytest.approx(again[:, 1], abs=0.0015)
    heel, _, vanishes, sinkage, trim = again[sure].T
    # levers run straight between a quarter of a degree, and trim answers to first order
    assert np.degrees(results[sure, HEEL]) == pytest.approx(heel, abs=0.3)
    assert vanishing[sure] == pytest.approx(vanishes, abs=0.3)
    assert results[sure, 4] == pytest.approx(sinkage, abs=0.001)
    assert results[sure, 5] == pytest.approx(trim, abs=0.001)


@pytest.mark.parametrize("stage", ["as_found", "refit"])
def test_where_gm_is_large_slopes_and_draws_say_the_same(stage):
    spread = spread_of(demo()[0], "departure", stage)
    assert not spread.doubtful
    linear = np.sqrt(np.diag(spread.slopes.covariance(spread.of_numbers)))
    # a standard deviation of 500 draws is good to 3.2 %: three of those
    assert np.std(spread.drawn, axis=0) == pytest.approx(linear, rel=0.1)


def test_where_gm_is_large_angles_say_the_same():
    built = demo()[0]
    floats = answers_of(built, surveyed(built), conditions_of(built.document)["departure"])
    hull = hull_result(built)
    beam = (hull.beam_m, hull.beam_waterline_m)
    for one in floats:
        heeled = with_stability(built, one.row, one.answer, beam)
        by_slopes = heeled.spread.plus_minus
        assert by_slopes.by == "linear"
        drawn = np.std(heeled.spread.drawn, axis=0)
        linear = (
            by_slopes.vanishing_angle_deg,
            by_slopes.downflooding_angle_deg,
            by_slopes.range_deg,
            by_slopes.greatest_gz_m,
        )
        # port and starboard vanish nearly alike: the smaller of both bends a little
        assert drawn == pytest.approx(linear, rel=0.12)


def test_draws_have_the_covariance_they_are_drawn_from():
    weights = spread_of(demo()[0], "departure").there.weights
    draws = draws_of(weights)
    assert draws.shared.shape == draws.changed.shape == (COUNT, 4 + weights.shape.errors.count)
    lines = draws.shared[:, 4:]
    assert lines.std(axis=0) == pytest.approx(np.ones(lines.shape[1]), rel=0.02)
    assert not draws.changed[:, 4:].any()
    for all_drawn, account in (
        (draws.shared, weights.shared),
        (draws.changed, weights.changed),
    ):
        drawn = all_drawn[:, :4]
        covariance = account.covariance
        scale = np.sqrt(np.outer(np.diag(covariance), np.diag(covariance)))
        assert np.cov(drawn.T) / scale == pytest.approx(covariance / scale, abs=0.15)
        # spread evenly: each column's mean is nought far closer than at random
        sd = np.sqrt(np.diag(covariance))
        assert np.abs(drawn.mean(axis=0) / sd).max() < 0.01
    assert np.corrcoef(draws.shared[:, 3], draws.changed[:, 3])[0, 1] == pytest.approx(
        0.0, abs=0.15
    )


def test_both_boats_share_the_draws_of_the_boat_as_found():
    old, new = (spread_of(tender_boat(), "stripped", s) for s in ("as_found", "refit"))
    assert np.array_equal(old.draws.shared, new.draws.shared)
    assert not old.draws.changed.any()
    # at departure the old boat's fuel is hers alone, and still they nearly are
    old, new = (spread_of(tender_boat(), "departure", s) for s in ("as_found", "refit"))
    alike = np.corrcoef(old.drawn[:, GM], new.drawn[:, GM])[0, 1]
    assert alike > 0.9


def test_a_change_is_drawn_with_what_both_boats_share():
    result = row(tender_answer(), "departure")
    assert result.plus_minus_by == result.change.plus_minus_by == "sampled"
    old, new = (spread_of(tender_boat(), "departure", s) for s in ("as_found", "refit"))
    draws = new.draws
    after, before = new.results(draws.together), old.results(draws.shared)
    alike = old.alike(before) & new.alike(after)
    assert alike.mean() > 0.9
    apart = (after - before)[alike, GM]
    assert result.change.plus_minus.gm_m == pytest.approx(np.std(apart), rel=0.01)
    assert result.change.plus_minus.gm_m < 0.3 * result.plus_minus.gm_m
    heeled = result.change.heeled
    assert heeled.plus_minus.by == "sampled"
    before = row(tender_answer(), "departure", "as_found")
    assert heeled.vanishing_angle_deg == pytest.approx(
        result.vanishing_angle_deg - before.vanishing_angle_deg
    )
    apart = np.hypot(
        result.heeled_plus_minus.vanishing_angle_deg,
        before.heeled_plus_minus.vanishing_angle_deg,
    )
    assert heeled.plus_minus.vanishing_angle_deg < 0.7 * apart


def test_a_stiff_boat_has_plus_minus_by_slopes_and_a_tender_one_by_draws():
    for result in demo_answer().conditions:
        assert (result.plus_minus_by, result.sampled) == ("linear", None)
        assert result.heeled_plus_minus.by == "linear"
        assert result.change is None or result.change.plus_minus_by == "linear"
    result = row(tender_answer(), "departure")
    drawn = result.sampled
    assert result.heeled_plus_minus.by == "sampled"
    assert drawn.draws == COUNT
    assert drawn.why.startswith("GM upright is +0.1")
    for low, middle, high in (
        drawn.gm_upright_m,
        drawn.heel_deg,
        drawn.heel_either_side_deg,
        drawn.vanishing_angle_deg,
        drawn.range_deg,
        drawn.greatest_gz_m,
    ):
        assert low <= middle <= high
    low, middle, high = drawn.gm_upright_m
    assert (high - low) / 2.0 / 1.645 == pytest.approx(result.plus_minus.gm_m, rel=0.1)
    assert drawn.vanishing_angle_deg[1] == pytest.approx(result.vanishing_angle_deg, abs=1.0)


def test_levers_that_hardly_fall_are_drawn_though_gm_is_well_known():
    result = row(tender_answer(), "departure", "as_found")
    assert result.plus_minus_by == "linear"
    assert result.heeled_plus_minus.by == "sampled"
    assert result.sampled.why == "her righting levers are nearly flat where they vanish"


def test_the_share_that_does_not_stay_upright_is_a_finding():
    answer = assessed(tender_barge())
    state = row(answer, "survey-state", "as_found")
    assert state.gm_m == pytest.approx(0.0133, abs=2e-4)
    # GM by hand: 13 +/- 30 mm, so that a third of a normal spread lies below nought
    assert state.sampled.unstable_percent == pytest.approx(33.0, abs=1.5)
    assert state.sampled.capsized_percent == 0.0
    sentences = [f for f in answer.findings if f.code == "may-be-unstable"]
    assert {f.place for f in sentences} == {"conditions.survey-state"}
    percent = f"In {state.sampled.unstable_percent:.0f} % of the sampled weight combinations"
    assert all(f.severity == "warn" for f in sentences)
    assert all(f.sentence.startswith(percent) for f in sentences)
    stiff = assessed(barge_document(12, 4, 1, 2.5, 0.2))
    assert not [f for f in stiff.findings if f.code == "may-be-unstable"]


@pytest.mark.parametrize("starboard_low_m", [0.0, 0.02])
def test_a_list_that_was_read_stands_however_little_gm_is_left(starboard_low_m):
    # GM 133 +/- 31 mm: drawn, and still she lay on the day as her freeboards say
    read = {
        f"survey.marks.{mark}.freeboard_m.{side}": 1.5 + way * starboard_low_m
        for mark in ("forward", "aft")
        for side, way in (("port", 1.0), ("starboard", -1.0))
    }
    answer = assessed(with_all(tender_barge(0.7), read), levers=None)
    here = row(answer, "survey-state", "as_found")
    assert here.plus_minus_by == "sampled"
    assert answer.survey.plus_minus == here.plus_minus
    # four readings of 5 mm, 4 m apart
    assert here.plus_minus.heel_deg == pytest.approx(np.degrees(0.005 / 4), rel=0.03)


def test_an_unstable_boat_has_plus_minus_by_draws_too():
    result = row(assessed(tender_barge(0.9)), "survey-state", "as_found")
    assert result.plus_minus_by == "sampled"
    assert result.sampled.unstable_percent > 95.0
    low, _, high = result.sampled.heel_either_side_deg
    # BM 1.33, GM -0.067 +/- 0.03: lolls at atan(sqrt(2 x 0.067 / 1.33)), 17.5 degrees
    assert low < 17.5 < high
    assert low > 8.0
    assert high < 26.0
    # to which side is a toss-up, and no part of the plus/minus: 90 % lie within 3.3 of it
    assert result.plus_minus.heel_deg == pytest.approx((high - low) / 3.29, rel=0.15)


def test_the_same_document_gives_the_same_draws():
    first = row(assessed(tender_barge()), "survey-state", "as_found")
    again = row(assessed(tender_barge()), "survey-state", "as_found")
    assert first.sampled == again.sampled


def test_a_boat_known_exactly_has_draws_without_spread():
    lead = {"cargo": {"adds": {"lead": weight(500, (6, 0, 1.0))}}}
    survey = {
        "plus_minus_m": 0.005,
        "vcg": {"z_m": 0.9, "plus_minus_m": 0.0, "from": "weighed"},
    }
    plain = barge_document(12, 4, 1, 2.5, 0.9, survey=survey, changes=lead)
    result = row(assessed(plain), "survey-state")
    assert result.plus_minus_by == "sampled"
    assert result.change.plus_minus.displacement_kg == pytest.approx(0.0, abs=1e-6)


def test_upright_alone_the_same_is_drawn():
    fast = row(assessed(tender_barge(), levers=None), "survey-state", "as_found")
    full = row(assessed(tender_barge()), "survey-state", "as_found")
    assert fast.plus_minus == full.plus_minus
    assert fast.sampled.gm_upright_m == full.sampled.gm_upright_m
    assert fast.sampled.vanishing_angle_deg is None


def test_a_boat_that_goes_over_her_end_is_reported_in_a_sentence_in_every_condition():
    answer = assessed(with_all(demo_document(), {"survey.vcg.z_m": 20.0}))
    findings = [f for f in answer.findings if f.code == "levers-incomplete"]
    assert len(findings) == len(answer.conditions)
    assert all("tips end over end or fills. Correct the height" in f.sentence for f in findings)
