"""Drain area and drain time of a cockpit.

Source: 46 CFR 178.450 (drainage of cockpit vessels); French order of 23 November 1987,
    Division 240 (cockpits: 100 mm left after three minutes; sill 400 mm); Torricelli's law.
Seen: both opened.
Known: the metric line of 46 CFR 178.450 multiplies by 4389.12 where it must divide. No
    published worked example was found; 82.0 cm2, 285.7 s and 0.700 t m are our own, the second
    also by numerical integration.
"""

from math import pi, sqrt

import bodies
import numpy as np
import pytest
from scipy.integrate import quad

from hullchange.criteria.cockpit import (
    M2_PER_M3,
    Emptied,
    Recess,
    RecessLayer,
    StaysWet,
    drain_time,
    drainage,
    level_after,
    required_drainage,
    sill_height,
    standing_water,
)
from hullchange.criteria.criterion import CriterionState
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.equilibrium import Loading, Tank, equilibrium
from hullchange.geometry.surface import box

WELL = Recess((RecessLayer(3.2, 0.45),), length=2.0, sole_above_sea=0.1)
TWO_60_MM = 2.0 * pi * 0.03**2
STEPPED = Recess(
    (RecessLayer(1.56, 0.45), RecessLayer(3.84, 0.33)), length=2.4, sole_above_sea=0.1
)


def test_an_inch_per_foot_is_a_division():
    cm2_per_m3 = M2_PER_M3 * 1e4
    assert cm2_per_m3 == pytest.approx(227.84, abs=5e-3)
    assert 1e6 / cm2_per_m3 == pytest.approx(4389.12, abs=5e-3)


def test_required_area():
    # a deck of 12 m: LC = 8 m, ratio 2.0 / 8.0
    assert WELL.volume == pytest.approx(1.44)
    assert WELL.volume * 1025.0 == pytest.approx(1476.0)
    asked = required_drainage(WELL, 12.0)
    assert asked * 1e4 == pytest.approx(82.0, abs=0.05)


def test_what_a_full_cockpit_weighs_and_does_to_gm():
    # 2.0 x 1.6 x 0.45 m of sea: 1476 kg, free-surface moment rho l b^3 / 12
    ship = Envelope((Piece(bodies.barge(12.0, 4.0, 2.0, draught=1.0), True, "ship"),))
    well = box(np.array([-1.0, -0.8, 0.3]), np.array([1.0, 0.8, 0.75]))
    # a hair below the brim, where its surface still reaches both sides
    water = Tank(well, 0.999 * WELL.volume, 1025.0)
    rest = equilibrium(ship, Loading(40_000.0, np.zeros(3), (water,)), 1025.0)
    assert water.mass == pytest.approx(0.999 * 1476.0)
    moment = rest.mass * (rest.gm_transverse_solid - rest.gm_transverse)
    assert moment == pytest.approx(700.0, abs=0.5)


def test_the_drains_against_the_text():
    small = drainage(WELL, TWO_60_MM, 12.0)
    assert (small.value, small.limit) == pytest.approx((56.55, 82.02), abs=5e-3)
    assert small.state is CriterionState.NOT_MET
    assert "must divide" in small.remarks[0]
    assert drainage(WELL, 1.5 * TWO_60_MM, 12.0).state is CriterionState.MET


def test_torricelli():
    time = drain_time(WELL, TWO_60_MM)
    assert time.seconds == pytest.approx(285.7, abs=0.05)
    flow = 0.6 * TWO_60_MM * sqrt(2.0 * 9.80665)
    numerical = quad(lambda h: 3.2 / (flow * sqrt(h)), 0.0, 0.45)[0]
    assert time.seconds == pytest.approx(numerical, rel=1e-8)


def test_a_stepped_cockpit_is_its_layers_one_after_the_other():
    flow = 0.6 * TWO_60_MM * sqrt(2.0 * 9.80665)
    upper = quad(lambda h: 3.84 / (flow * sqrt(h)), 0.45, 0.78)[0]
    lower = quad(lambda h: 1.56 / (flow * sqrt(h)), 0.0, 0.45)[0]
    assert drain_time(STEPPED, TWO_60_MM).seconds == pytest.approx(upper + lower, rel=1e-8)
    split = Recess(
        (RecessLayer(1.56, 0.2), RecessLayer(1.56, 0.25), RecessLayer(3.84, 0.33)), 2.4, 0.1
    )
    assert drain_time(split, TWO_60_MM).seconds == pytest.approx(upper + lower, rel=1e-8)
    assert drain_time(STEPPED, TWO_60_MM, 0.45).seconds == pytest.approx(upper, rel=1e-8)


@pytest.mark.parametrize("sole", [0.1, -0.05])
@pytest.mark.parametrize("level", [0.7, 0.45, 0.3, 0.1])
def test_level_and_time_are_one_another_backwards(sole, level):
    well = Recess(STEPPED.layers, 2.4, sole)
    time = drain_time(well, TWO_60_MM, level)
    assert isinstance(time, Emptied)
    assert level_after(well, TWO_60_MM, time.seconds) == pytest.approx(level, abs=1e-12)


def test_a_sole_below_the_sea_stays_wet():
    low = Recess(WELL.layers, 2.0, -0.12)
    assert drain_time(low, TWO_60_MM) == StaysWet(0.12)
    assert level_after(low, TWO_60_MM, 1e6) == pytest.approx(0.12)
    assert isinstance(drain_time(low, TWO_60_MM, 0.2), Emptied)
    under = Recess(WELL.layers, 2.0, -1.0)
    assert drain_time(under, TWO_60_MM) == StaysWet(0.45)
    assert level_after(under, TWO_60_MM, 60.0) == pytest.approx(0.45)


def test_without_drains_it_stays_full():
    assert drain_time(WELL, 0.0) == StaysWet(pytest.approx(0.45))
    assert level_after(WELL, 0.0, 1e6) == pytest.approx(0.45)


def test_three_minutes():
    # the root of the level falls evenly, to nought in 285.72 s
    left = standing_water(WELL, TWO_60_MM)
    assert left.value == pytest.approx(0.45 * (1.0 - 180.0 / 285.72) ** 2, abs=5e-6)
    assert left.state is CriterionState.MET
    assert standing_water(WELL, TWO_60_MM / 2.0).state is CriterionState.NOT_MET
    assert standing_water(Recess(WELL.layers, 2.0, -0.12), 1.0).state is CriterionState.NOT_MET


def test_sill():
    assert sill_height(0.400).state is CriterionState.MET
    assert sill_height(0.399).state is CriterionState.NOT_MET
