"""Bars: all lengths cut, none longer than the stock, the count proven or bounded."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullchange.shop.bars import bar_plan

KERF = 0.003


def cut(plan):
    return sorted(round(length, 6) for row in plan.cuts for length in row)


def test_two_halves_fill_a_bar_but_for_the_saw():
    plan = bar_plan([2.9985, 2.9985, 3.0], 6.0, KERF)
    assert (len(plan.cuts), plan.bound, plan.proven) == (2, 2, True)


def test_first_fit_is_beaten_where_it_misses():
    lengths = [3.0, 3.0, 2.0, 2.0, 2.0, 2.0, 2.0, 2.0]  # 3+3 | 2+2+2 | 2+2+2
    assert len(bar_plan(lengths, 6.0, 0.0).cuts) == 3
    tricky = [0.51, 0.51, 0.27, 0.27, 0.26, 0.26, 0.23, 0.23, 0.23, 0.23]
    plan = bar_plan(tricky, 1.0, 0.0)
    assert plan.proven
    assert len(plan.cuts) == 3
    assert cut(plan) == sorted(tricky)


@given(
    lengths=st.lists(st.integers(50, 5900), min_size=1, max_size=14),
    stock=st.sampled_from([6.0, 12.0]),
)
def test_every_length_is_cut_once_and_every_bar_is_long_enough(lengths, stock):
    wanted = sorted(length / 1e3 for length in lengths)
    plan = bar_plan(wanted, stock, KERF)
    assert cut(plan) == pytest.approx(wanted)
    assert all(sum(row) + KERF * (len(row) - 1) <= stock + 1e-9 for row in plan.cuts)
    assert plan.bound <= len(plan.cuts) <= plan.bound + 1
    assert min(plan.offcuts(KERF)) >= 0.0


def test_forty_pieces_of_twelve_lengths_are_proven():
    rng = random.Random(1)
    sizes = rng.sample(range(350, 2600, 5), 12)
    lengths = [s / 1e3 for s in sizes] + [rng.choice(sizes) / 1e3 for _ in range(28)]
    plan = bar_plan(lengths, 6.0, KERF)
    assert plan.proven
    assert len(plan.cuts) == plan.bound
