"""Bars: all lengths cut, none longer than the stock, the choice proven or bounded."""

import itertools
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullchange.shop import bars
from hullchange.shop.bars import StockLength, bar_plan

KERF = 0.003


def stock_of(*lengths):
    return [StockLength(length, length) for length in lengths]


def cut(plan):
    return sorted(round(length, 6) for bar in plan.bars for length in bar.cuts)


def lengths_taken(plan):
    return sorted(bar.stock.length for bar in plan.bars)


def least_by_hand(lengths, stock, kerf):
    """The least cost by trying every way to put lengths together: for a few of them."""
    if not lengths:
        return 0.0
    first, *others = lengths
    best = float("inf")
    for count in range(len(others) + 1):
        for chosen in itertools.combinations(range(len(others)), count):
            row = [first, *(others[k] for k in chosen)]
            needed = sum(row) + kerf * (len(row) - 1)
            costs = [one.cost for one in stock if one.length >= needed - 1e-6]
            if costs:
                rest = [size for k, size in enumerate(others) if k not in chosen]
                best = min(best, min(costs) + least_by_hand(rest, stock, kerf))
    return best


def test_two_halves_fill_a_bar_but_for_the_saw():
    plan = bar_plan([2.9985, 2.9985, 3.0], stock_of(6.0), KERF)
    assert (len(plan.bars), plan.least, plan.proven) == (2, 12.0, True)


def test_first_fit_is_beaten_where_it_misses():
    lengths = [3.0, 3.0, 2.0, 2.0, 2.0, 2.0, 2.0, 2.0]  # 3+3 | 2+2+2 | 2+2+2
    assert len(bar_plan(lengths, stock_of(6.0), 0.0).bars) == 3
    tricky = [0.51, 0.51, 0.27, 0.27, 0.26, 0.26, 0.23, 0.23, 0.23, 0.23]
    plan = bar_plan(tricky, stock_of(1.0), 0.0)
    assert plan.proven
    assert len(plan.bars) == 3
    assert cut(plan) == sorted(tricky)


@given(
    lengths=st.lists(st.integers(50, 5900), min_size=1, max_size=14),
    stock=st.sampled_from([(6.0,), (12.0,), (6.0, 3.0), (7.5, 6.0, 2.0)]),
)
def test_every_length_is_cut_once_and_every_bar_is_long_enough(lengths, stock):
    wanted = sorted(length / 1e3 for length in lengths)
    plan = bar_plan(wanted, stock_of(*stock), KERF)
    assert cut(plan) == pytest.approx(wanted)
    for bar in plan.bars:
        assert sum(bar.cuts) + KERF * (len(bar.cuts) - 1) <= bar.stock.length + 1e-6
        assert bar.offcut(KERF) >= 0.0
    assert plan.least <= plan.cost * (1.0 + 1e-9)
    if len(stock) == 1:
        assert plan.cost <= plan.least + stock[0] * (1.0 + 1e-9)


@given(
    lengths=st.lists(st.integers(300, 2900), min_size=1, max_size=6),
    dearer=st.floats(0.5, 2.0),
)
def test_of_several_lengths_the_least_cost_is_found_and_the_bound_holds(lengths, dearer):
    stock = [StockLength(3.0, 3.0), StockLength(2.0, 2.0 * dearer), StockLength(4.5, 4.5)]
    wanted = [length / 1e3 for length in lengths]
    plan = bar_plan(wanted, stock, KERF)
    least = least_by_hand(wanted, stock, KERF)
    assert plan.least <= least * (1.0 + 1e-9)
    assert plan.proven
    assert plan.cost == pytest.approx(least)


def test_two_lengths_in_stock_are_both_used():
    plan = bar_plan([2.9, 2.9, 2.9], stock_of(6.0, 3.0), KERF)
    assert lengths_taken(plan) == [3.0, 6.0]
    assert (plan.cost, plan.proven) == (9.0, True)
    assert lengths_taken(bar_plan([5.5, 1.0], stock_of(6.0, 1.2), KERF)) == [1.2, 6.0]


def test_a_long_bar_at_a_low_price_is_taken_for_short_lengths_too():
    plan = bar_plan([1.0], [StockLength(6.0, 5.0), StockLength(2.0, 6.0)], KERF)
    assert lengths_taken(plan) == [6.0]


def test_a_length_of_the_whole_bar_needs_no_cut():
    plan = bar_plan([6.0000000001, 6.0], stock_of(6.0, 3.0), KERF)
    assert lengths_taken(plan) == [6.0, 6.0]


@pytest.mark.parametrize("stock", [(6.0,), (6.0, 4.0)])
def test_forty_pieces_of_twelve_lengths_are_proven(stock):
    rng = random.Random(1)
    sizes = rng.sample(range(350, 2600, 5), 12)
    lengths = [s / 1e3 for s in sizes] + [rng.choice(sizes) / 1e3 for _ in range(28)]
    plan = bar_plan(lengths, stock_of(*stock), KERF)
    assert plan.proven or plan.cost < 1.02 * plan.least
    assert plan.proven or len(stock) > 1


@pytest.mark.parametrize(
    "stock",
    [stock_of(6.0), stock_of(6.0, 4.0), [StockLength(6.0, 6.2), StockLength(4.0, 4.0)]],
)
def test_the_bound_of_ways_found_is_that_of_all_ways(stock, monkeypatch):
    rng = random.Random(3)
    sizes = rng.sample(range(700, 2600, 5), 9)
    lengths = [rng.choice(sizes) / 1e3 for _ in range(24)]
    whole = bar_plan(lengths, stock, KERF)
    monkeypatch.setattr(bars, "MOST_PATTERNS", 10)
    some = bar_plan(lengths, stock, KERF)
    assert whole.proven
    assert some.least <= whole.cost * (1.0 + 1e-9)
    assert some.least > 0.97 * whole.cost
    assert whole.cost <= some.cost * (1.0 + 1e-9)
    assert some.cost < 1.04 * whole.cost
    assert cut(some) == sorted(lengths)


def test_many_lengths_of_two_kinds_of_bar_come_within_one_bar_of_the_bound():
    rng = random.Random(2)
    lengths = [rng.randrange(50, 2400) / 1e3 for _ in range(40)]
    plan = bar_plan(lengths, [StockLength(6.0, 6.0), StockLength(4.0, 4.1)], KERF)
    assert plan.least <= plan.cost <= plan.least + 4.1
    assert cut(plan) == sorted(lengths)


def test_many_short_lengths_are_laid_on_the_cheapest_mix_that_takes_them():
    lengths = [0.05 + 0.0108 * k for k in range(52)]  # 16.9 m
    three = [StockLength(6.0, 9.6), StockLength(4.0, 6.2), StockLength(2.5, 3.75)]
    plan = bar_plan(lengths, three, KERF)
    assert (plan.proven, lengths_taken(plan)) == (True, [2.5] * 7)


def test_what_is_left_of_a_bar_lacks_a_cut_for_every_length():
    bar = bars.SawnBar(StockLength(6.0, 6.0), (2.0, 1.5))
    assert bar.offcut(0.003) == pytest.approx(2.494)
    assert bars.SawnBar(StockLength(3.5, 3.5), (2.0, 1.5)).offcut(0.003) == 0.0
