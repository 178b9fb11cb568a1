"""Accounts: weights as four numbers with their covariance."""

import numpy as np
import pytest

from hullchange.boat.weights import (
    NOTHING,
    Weight,
    error_of_datum,
    error_of_scale,
    sum_of_move,
    sum_of_weight,
    total,
)


def random_weights(count, seed=1):
    draw = np.random.default_rng(seed)
    return [
        Weight(
            f"w{i}",
            float(draw.uniform(1, 500)),
            tuple(draw.uniform(-5, 5, 3).tolist()),
            float(draw.uniform(0, 20)),
            tuple(draw.uniform(0, 0.1, 3).tolist()),
        )
        for i in range(count)
    ]


def test_two_weights_balance_between_them():
    both = total(
        [sum_of_weight(Weight("a", 10, (0, 0, 0))), sum_of_weight(Weight("b", 30, (4, 0, 2)))]
    )
    assert both.mass == 40
    assert both.centre == (3.0, 0.0, 1.5)


def test_removing_what_was_added_restores_the_numbers():
    weights = [sum_of_weight(w) for w in random_weights(12)]
    everything = total(weights)
    back = everything - weights[3] - weights[7]
    kept = total(w for i, w in enumerate(weights) if i not in (3, 7))
    assert back.numbers == pytest.approx(kept.numbers, abs=1e-10)


def test_what_is_taken_away_leaves_its_uncertainty():
    weight = sum_of_weight(Weight("a", 100, (1, 2, 3), 5.0))
    assert (NOTHING - weight).covariance[0, 0] == 25.0


def test_both_places_of_a_move_err_by_themselves():
    # 100 kg known exactly, each of both places to 20, 30 and 40 mm
    move = sum_of_move(Weight("safe", 100, (4, 0, 1), 0.0, (0.02, 0.03, 0.04)), (6, 1, 1))
    of_one = 100 * np.array([0.02, 0.03, 0.04])
    assert move.covariance[0] == pytest.approx(np.zeros(4))
    assert move.covariance[1:, 1:] == pytest.approx(np.diag(2.0 * of_one**2))
    # taken off here and put on there, the mass by itself, is the same
    off, on = (
        sum_of_weight(Weight("safe", 100, at, 0.0, (0.02, 0.03, 0.04)))
        for at in ((4, 0, 1), (6, 1, 1))
    )
    assert move.packed == pytest.approx((on - off).packed)


def test_a_move_has_no_mass_and_carries_the_moment():
    move = sum_of_move(Weight("rig", 268, (4.1, 0, 7.2), 15.0), (4.1, 0.0, 7.38))
    assert move.numbers == pytest.approx([0, 0, 0, 268 * 0.18])
    # 15 kg over 0.18 m
    assert np.sqrt(move.covariance[3, 3]) == pytest.approx(15 * 0.18)


def test_covariance_agrees_with_drawing_at_random():
    weight = Weight("a", 200.0, (3.0, -0.5, 1.0), 8.0, (0.05, 0.03, 0.02))
    draw = np.random.default_rng(7)
    mass = draw.normal(weight.mass, weight.sd_mass, 400_000)
    centre = draw.normal(weight.centre, weight.sd_centre, (400_000, 3))
    numbers = np.column_stack([mass, mass[:, None] * centre])
    drawn, covariance = np.cov(numbers.T), sum_of_weight(weight).covariance
    scale = np.sqrt(np.outer(np.diag(covariance), np.diag(covariance)))
    # 1/sqrt(400000) is 0.0016; the product of both errors, left out, is 0.002 of its moment
    assert np.abs(drawn - covariance).max() / scale.max() < 0.01


def test_masses_of_one_scale_err_together():
    one = sum_of_weight(Weight("a", 100, (2, 0, 1)))
    for count in (1, 2, 5):
        error = error_of_scale(total([one] * count), 0.01)
        # 1 kg each, all the same way: 2 kg m along each, 1 kg m up
        assert np.sqrt(np.diag(error.covariance)) == pytest.approx([count, 2 * count, 0, count])
        assert not error.numbers.any()


def test_a_swap_on_one_scale_errs_by_its_moment_alone():
    off, on = Weight("old", 100, (2, 0, 1)), Weight("new", 100, (5, 0, 1))
    error = error_of_scale(sum_of_weight(on) - sum_of_weight(off), 0.01)
    moved = error_of_scale(sum_of_move(off, on.centre), 0.01)
    assert np.sqrt(np.diag(error.covariance)) == pytest.approx([0, 3, 0, 0])
    assert moved.covariance == pytest.approx(error.covariance)


def test_the_order_and_splitting_of_weights_leave_what_they_share():
    weights = random_weights(6)
    halves = [Weight(w.path, w.mass / 2, w.centre) for w in weights for _ in range(2)]
    for shared in (error_of_scale, error_of_datum):
        whole = shared(total(sum_of_weight(w) for w in weights), 0.005)
        split = shared(total(sum_of_weight(w) for w in reversed(halves)), 0.005)
        assert split.covariance == pytest.approx(whole.covariance)


def test_one_datum_shifts_what_is_gained():
    gained = sum_of_weight(Weight("new", 300, (5, 1, 1))) - sum_of_weight(
        Weight("old", 100, (2, 0, 0))
    )
    # 200 kg by 5 mm, along and up
    covariance = error_of_datum(gained, 0.005).covariance
    assert np.sqrt(np.diag(covariance)) == pytest.approx([0, 1, 0, 1])
    swap = sum_of_weight(Weight("new", 100, (5, 1, 1))) - sum_of_weight(
        Weight("old", 100, (2, 0, 0))
    )
    assert not error_of_datum(swap, 0.005).covariance.any()
    move = sum_of_move(Weight("rig", 268, (4, 0, 7)), (5, 0, 7))
    assert not error_of_datum(move, 0.005).covariance.any()
