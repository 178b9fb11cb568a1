"""What is not known: slopes against solving again, plus/minus against drawing at random."""

from dataclasses import replace
from math import degrees, hypot, sqrt

import numpy as np
import pytest
from refits import assessed, barge_document, demo, demo_answer, row, rows_of, weight
from resurveyed import results

from hullchange.afloat.at_rest import afloat
from hullchange.afloat.floats_in_conditions import surveyed_row
from hullchange.afloat.slopes import ROWS, height_sd, plus_minus, slopes_of
from hullchange.afloat.uncertainty_shares import causes_of
from hullchange.boat.entries import aboard_weight
from hullchange.boat.variants import as_found, refit
from hullchange.boat.weights import sum_of_move, sum_of_weight
from hullchange.floating.equilibrium import equilibrium
from hullchange.survey.as_found import amidships

STATE = "survey-state"
LENGTH = 10.15


def nudged(rest, numbers):
    loading = replace(rest.loading, mass=numbers[0], centre=numbers[1:] / numbers[0])
    return equilibrium(rest.envelope, loading, rest.water_density, rest.plane)


@pytest.mark.parametrize("condition", [STATE, "departure"])
@pytest.mark.parametrize("variant", [as_found, refit])
def test_slopes_are_those_of_solving_again(variant, condition):
    built, as_surveyed, conditions = demo()
    rest = afloat(built, as_surveyed, variant(built), conditions[condition]).rest
    x = amidships(built)
    slopes = slopes_of(rest, x, LENGTH, as_surveyed.shape).matrix[:, :4]
    here = rest.loading.mass * np.array([1.0, *rest.loading.centre])
    steps = np.array([20.0, 20.0, 2.0, 20.0])
    again = np.stack(
        [
            (
                results(nudged(rest, here + step), x, LENGTH)
                - results(nudged(rest, here - step), x, LENGTH)
            )
            / (2 * step.sum())
            for step in np.diag(steps)
        ],
        axis=1,
    )
    scale = np.abs(again).max(axis=1, keepdims=True)
    # a step of 20 kg bends the slopes by parts in ten thousand
    assert slopes / scale == pytest.approx(again / scale, abs=2e-3)


def test_plus_minus_names_its_figures():
    covariance = np.diag(np.arange(1.0, 9.0) ** 2)
    result = plus_minus(covariance)
    assert (result.displacement_kg, result.lcg_m, result.tcg_m, result.vcg_m) == (1, 2, 3, 4)
    assert (result.sinkage_mm, result.trim_mm) == (5000, 6000)
    assert result.heel_deg == pytest.approx(degrees(7))
    assert result.gm_m == 8
    # sinkage 5 m and trim 6 m by themselves; with one cause they add up aft and cancel forward
    assert result.sinkage_bow_mm == result.sinkage_stern_mm == pytest.approx(1000 * hypot(5, 3))
    covariance[4, 5] = covariance[5, 4] = 30.0
    result = plus_minus(covariance)
    assert (result.sinkage_bow_mm, result.sinkage_stern_mm) == pytest.approx((2000, 8000))
    assert len(ROWS) == 8


def test_a_freeboard_errs_with_sinkage_trim_and_heel():
    covariance = np.zeros((8, 8))
    covariance[4, 4] = 0.003**2
    assert height_sd(covariance, 0.1, 1.5) == pytest.approx(0.003)
    covariance[4, 4], covariance[5, 5] = 0.0, 0.01**2
    assert height_sd(covariance, 1.0, 1.5) == pytest.approx(0.005)
    assert height_sd(covariance, 0.5, 1.5) == pytest.approx(0.0)
    covariance[5, 5], covariance[6, 6] = 0.0, 0.002**2
    assert height_sd(covariance, 0.5, -1.5) == pytest.approx(0.003)
    # deeper and by the stern together: aft both count, forward they cancel
    covariance = np.zeros((8, 8))
    covariance[4:6, 4:6] = [[1e-6, 2e-6], [2e-6, 4e-6]]
    assert height_sd(covariance, 1.0, 0.0) == pytest.approx(0.002)
    assert height_sd(covariance, 0.0, 0.0) == pytest.approx(0.0, abs=1e-9)


def drawn_account(entry, draw):
    """A line of the ledger with its mass and place drawn at random."""
    weight = entry.weight

    def at():
        return tuple(np.array(weight.centre) + draw.normal(0.0, weight.sd_centre))

    mass = weight.mass + draw.normal(0.0, weight.sd_mass)
    exact = replace(weight, mass=mass, centre=at(), sd_mass=0.0, sd_centre=(0.0, 0.0, 0.0))
    if entry.role != "moved":
        gained = sum_of_weight(exact).numbers
        return -gained if entry.role == "removed" else gained
    to = tuple(np.array(entry.to) + draw.normal(0.0, weight.sd_centre))
    return sum_of_move(exact, to).numbers


def drawn_together(entries, draw):
    """What one scale, 0.5 %, and one datum, 5 mm, put on the lines they have in common."""
    scale = 1.0 + draw.normal(0.0, 0.005)
    along, up = draw.normal(0.0, 0.005, 2)
    apart = np.zeros(4)
    for entry in entries:
        x, y, z = entry.weight.centre
        mass = entry.weight.mass * (scale if entry.weight.provenance == "weighed" else 1.0)
        shifted = replace(entry.weight, mass=mass, centre=(x + along, y, z + up))
        if entry.role == "moved":
            a, b, c = entry.to
            gained = sum_of_move(shifted, (a + along, b, c + up))
        else:
            gained = sum_of_weight(shifted)
        apart += (-1.0 if entry.role == "removed" else 1.0) * gained.numbers
    return apart - sum(entry.account.numbers for entry in entries)


def test_plus_minus_agrees_with_drawing_at_random():
    built, as_surveyed, conditions = demo()
    rows = {r.stage: r for r in rows_of(built, as_surveyed, conditions["departure"])}
    old, new = rows["as_found"], rows["refit"]
    draw = np.random.default_rng(3)
    root = np.linalg.cholesky(as_surveyed.solid.covariance + 1e-9 * np.eye(4))
    loads = conditions["departure"].loads
    fixed_old = old.afloat.weights.account.numbers
    fixed_new = new.afloat.weights.account.numbers
    x, count = amidships(built), 250
    figures = np.zeros((count, 2, 8))
    lines = sum(entry.account.numbers for entry in built.entries)
    on_board = sum(sum_of_weight(load).numbers for load in loads)
    gear = aboard_weight(built.document, "gear")  # left out at departure
    for n in range(count):
        found = root @ draw.normal(size=4)
        # loads and what is left ashore err alike in both boats
        shared = found - on_board + drawn_sum(loads, draw)
        shared = shared + sum_of_weight(gear).numbers - drawn_sum([gear], draw)
        refitted = sum(drawn_account(entry, draw) for entry in built.entries) - lines
        refitted = refitted + drawn_together(built.entries, draw)
        for k, (row_of, numbers) in enumerate(
            ((old, fixed_old + shared), (new, fixed_new + shared + refitted))
        ):
            figures[n, k] = results(nudged(row_of.rest, numbers), x, LENGTH)
    # a standard deviation of 250 draws is good to 4.5 %: four of those
    for k, one in enumerate((old, new)):
        covariance = one.spread.slopes.by_weight(one.spread.of_numbers)
        assert figures[:, k].std(axis=0) == pytest.approx(
            np.sqrt(np.diag(covariance)), rel=0.18
        )
    weights, apart = new.afloat.weights, new.spread.slopes - old.spread.slopes
    covariance = apart.by_weight(weights.shared.covariance)
    covariance = covariance + new.spread.slopes.by_weight(weights.changed.covariance)
    drawn = (figures[:, 1] - figures[:, 0]).std(axis=0)
    assert drawn == pytest.approx(np.sqrt(np.diag(covariance)), rel=0.18)


def drawn_sum(weights, draw):
    return sum(
        sum_of_weight(
            replace(
                w,
                mass=w.mass + draw.normal(0.0, w.sd_mass),
                centre=tuple(np.array(w.centre) + draw.normal(0.0, w.sd_centre)),
            )
        ).numbers
        for w in weights
    )


def test_what_both_boats_share_cancels_in_the_change():
    for condition in demo_answer().conditions:
        if condition.change is None:
            continue
        old = row(demo_answer(), condition.id, "as_found").plus_minus
        new, change = condition.plus_minus, condition.change.plus_minus
        for key in ("displacement_kg", "lcg_m", "vcg_m", "trim_mm", "sinkage_mm", "gm_m"):
            apart = sqrt(getattr(old, key) ** 2 + getattr(new, key) ** 2)
            assert getattr(change, key) < 0.85 * apart, (condition.id, key)
        before = row(demo_answer(), condition.id, "as_found")
        for now, was in zip(condition.change.freeboards, before.freeboards, strict=True):
            assert (now.mark, now.side) == (was.mark, was.side)
            assert 0 < now.plus_minus_mm < 12


def test_a_weight_that_is_known_leaves_the_change_known():
    lead = {"cargo": {"adds": {"lead": weight(500, (6, 0, 0))}}}
    result = row(assessed(barge_document(12, 4, 1, 2.5, 0.2, changes=lead)), STATE)
    assert result.change.plus_minus.displacement_kg == pytest.approx(0.0, abs=1e-6)
    # her lines give her waterplane to 0.15 % or so, and the lead sinks her 10 mm
    assert result.change.plus_minus.sinkage_mm == pytest.approx(0.015, abs=0.005)
    # her stiffness is as unknown before as after, nearly: the difference is second order
    assert result.change.plus_minus.gm_m < 0.05 * result.plus_minus.gm_m
    assert result.plus_minus.displacement_kg == pytest.approx(
        row(assessed(barge_document(12, 4, 1, 2.5, 0.2)), STATE).plus_minus.displacement_kg
    )


def test_a_doubtful_weight_by_hand():
    doubt = {"plus_minus_kg": 50.0, "plus_minus_m": [0.0, 0.0, 0.0]}
    lead = {"cargo": {"adds": {"lead": weight(500, (10, 0, 0.2), **doubt)}}}
    change = row(assessed(barge_document(12, 4, 1, 2.5, 0.2, changes=lead)), STATE).change
    spread = change.plus_minus
    assert spread.displacement_kg == pytest.approx(50)
    assert spread.sinkage_mm == pytest.approx(50 / 49.2, rel=1e-3)
    # 50 kg at 4 m aft of the middle over 463 kg m per cm
    assert spread.trim_mm == pytest.approx(10 * 200 / 463.3, rel=0.02)
    aft = next(f for f in change.freeboards if f.mark == "aft")
    forward = next(f for f in change.freeboards if f.mark == "forward")
    assert aft.plus_minus_mm == pytest.approx(50 / 49.2 + 0.4 * 4.317, rel=0.02)
    assert forward.plus_minus_mm == pytest.approx(abs(50 / 49.2 - 0.4 * 4.317), rel=0.05)


def test_places_of_a_moved_weight_by_hand():
    known = {"plus_minus_m": [0.10, 0.0, 0.0]}
    safe = {"safe": weight(500, (4, 0, 0.2), **known) | {"to_m": [8, 0, 0.2]}}
    spread = refitted({"cargo": {"moves": safe}}).change.plus_minus
    # 50 kg m for each of both places, over 463 kg m per cm
    assert spread.trim_mm == pytest.approx(10 * 50 * sqrt(2) / 463.3, rel=0.02)
    assert spread.lcg_m == pytest.approx(50 * sqrt(2) / 49_200, rel=0.02)


def test_the_survey_says_what_the_boat_as_found_says():
    built, as_surveyed, _ = demo()
    here = surveyed_row(built, as_surveyed)
    spread = demo_answer().survey.plus_minus
    assert spread == plus_minus(here.spread.covariance)
    assert spread == row(demo_answer(), STATE, "as_found").plus_minus
    # what was read afloat is as good as the readings, whatever her lines are worth
    of_water = as_surveyed.fitted.covariance
    assert spread.sinkage_mm == pytest.approx(1000 * sqrt(of_water[0, 0]), rel=1e-3)
    assert spread.trim_mm == pytest.approx(1000 * LENGTH * sqrt(of_water[1, 1]), rel=1e-3)
    assert spread.heel_deg == pytest.approx(degrees(sqrt(of_water[2, 2])), rel=1e-3)
    # 5 mm on six readings: the mean's error a little over 2 mm
    assert spread.sinkage_mm == pytest.approx(5 / sqrt(6), rel=0.05)
    assert spread.vcg_m == pytest.approx(0.03, rel=0.1)
    weighed = as_surveyed.covariance[0, 0]
    assert spread.displacement_kg == pytest.approx(sqrt(weighed))
    assert demo_answer().survey.hull_shape_displacement_kg < spread.displacement_kg


def refitted(changes, **allowances):
    """Result of a barge of 12 by 4 m with changes, in the condition as surveyed."""
    plain = barge_document(12, 4, 1, 2.5, 0.2, changes=changes, allowances=allowances)
    return row(assessed(plain), STATE)


def test_two_weights_of_one_scale_and_a_swap_by_hand():
    lead = {"lead": weight(100, (8, 0, 0))}
    two = {"cargo": {"adds": lead | {"more": weight(100, (4, 0, 0))}}}
    swap = {"cargo": {"adds": lead, "removes": {"iron": weight(100, (4, 0, 0))}}}
    result = refitted(two, scale_percent=2.0)
    assert result.change.plus_minus.displacement_kg == pytest.approx(4.0)
    result = refitted(swap, scale_percent=2.0)
    assert result.change.plus_minus.displacement_kg == pytest.approx(0.0, abs=1e-6)
    # 2 kg over 4 m, over 463 kg m per cm
    assert result.change.plus_minus.trim_mm == pytest.approx(10 * 8 / 463.3, rel=0.02)
    guessed = {"cargo": {"adds": {"lead": weight(100, (8, 0, 0)) | {"from": "guessed"}}}}
    result = refitted(guessed, scale_percent=2.0)
    assert result.change.plus_minus.displacement_kg == pytest.approx(0.0, abs=1e-6)


def test_one_datum_by_hand():
    cargo = {"cargo": {"adds": {"lead": weight(500, (6, 0, 0))}}}
    result = refitted(cargo, datum_mm=100.0)
    # 500 kg by 0.1 m, over 463 kg m per cm
    assert result.change.plus_minus.trim_mm == pytest.approx(10 * 50 / 463.3, rel=0.03)
    assert result.change.plus_minus.heel_deg == pytest.approx(0.0, abs=1e-4)
    swap = {"cargo": cargo["cargo"] | {"removes": {"iron": weight(500, (6, 0, 1))}}}
    result = refitted(swap, datum_mm=100.0)
    # no mass is gained: what is left is her stiffness, as unknown before as after
    assert result.change.plus_minus.trim_mm == pytest.approx(0.0, abs=0.05)


def test_causes_add_up_to_all_that_is_not_known():
    built, as_surveyed, conditions = demo()
    for condition in conditions.values():
        for one in rows_of(built, as_surveyed, condition):
            weights = one.afloat.weights
            causes = dict(causes_of(as_surveyed, weights, condition))
            known = {"plate tolerance", "one scale", "one datum"}
            assert known < causes.keys()
            covariance = weights.account.covariance
            scale = np.sqrt(np.outer(np.diag(covariance), np.diag(covariance)))
            assert sum(causes.values()) / scale == pytest.approx(covariance / scale)
            if one.stage == "refit":
                assert all(causes[name].any() for name in known)


def test_what_lines_share_is_among_the_shares():
    lead = {"cargo": {"adds": {"lead": weight(500, (9, 0, 1))}}}
    every_share = refitted(lead, scale_percent=90.0, datum_mm=900.0).shares
    assert every_share.displacement_kg[0].cause == "one scale"
    shares = {share.cause: share.share_percent for share in every_share.trim_mm}
    assert {"one scale", "one datum"} < shares.keys()
    assert sum(shares.values()) == pytest.approx(100.0)
    assert all(share > 0.0 for share in shares.values())
