"""Wells that spill as she heels, and the virtual rise of G beside liquids that move."""

from math import radians, sin, tan

import numpy as np
import pytest
from refits import SEA, assessed, barge_document, demo_answer, row

from hullchange.present.tables import tables

FLOODED = "cockpit-flooded"
LENGTH, BEAM, DRAUGHT, DEPTH, VCG = 20.0, 6.0, 1.5, 4.0, -0.3


@pytest.mark.parametrize("stage", ["as_found", "refit"])
def test_a_flooded_well_spills_as_she_heels(stage):
    answer = row(demo_answer(), FLOODED, stage)
    wells = answer.wells_full
    heels = np.array(wells.heel_deg)
    water = np.array(wells.water_kg)
    to_starboard = (heels >= 0.0) & (heels <= 70.0)
    assert (np.diff(water[to_starboard]) < 0.0).all()
    # at rest it is as full as the answer upright says
    dry = row(demo_answer(), "departure", stage)
    taken = answer.displacement_kg - dry.displacement_kg
    assert water[heels == 0.0][0] == pytest.approx(taken, rel=0.01)
    # what spilled on the way weighs no more on the low side: she rights better than full
    fixed = dict(zip(answer.righting_levers.heel_deg, answer.righting_levers.gz_m, strict=True))
    gz = dict(zip(wells.heel_deg, wells.gz_m, strict=True))
    assert gz[0.0] == pytest.approx(fixed[0.0], abs=2e-3)
    assert gz[40.0] > fixed[40.0] + 0.01
    assert abs(wells.vanishing_angle_deg - answer.vanishing_angle_deg) < 15.0


@pytest.mark.parametrize("stage", ["as_found", "refit"])
def test_a_well_full_of_sea_is_a_well_lost(stage):
    # with the rim under water it is one whether the sea in it weighs, or it does not float her
    answer, dry = (row(demo_answer(), name, stage) for name in (FLOODED, "departure"))
    wells, levers = answer.wells_full, dry.righting_levers
    lost = dict(zip(levers.heel_deg, levers.gz_m, strict=True))
    heels = (100.0, 130.0, 150.0, 180.0)
    for heel, gz, water in zip(wells.heel_deg, wells.gz_m, wells.water_kg, strict=True):
        if abs(heel) in heels:
            mass = dry.displacement_kg
            assert gz * (mass + water) / mass == pytest.approx(lost[heel], abs=2e-5)


def test_a_condition_that_floods_nothing_has_no_such_curve():
    assert row(demo_answer(), "departure").wells_full is None
    assert "wells as full as each heel allows" in tables(demo_answer())


def slack(width):
    tank = {
        "box_m": {"x": [5.0, 15.0], "y": [-width / 2, width / 2], "z": [-1.0, 1.0]},
        "capacity_l": 20_000.0 * width,
        "contents": "fresh",
    }
    return barge_document(
        LENGTH,
        BEAM,
        DRAUGHT,
        DEPTH,
        VCG,
        tanks={"water": tank},
        survey={"aboard": {"water": {"tank": "water", "fill_l": 10_000.0 * width}}},
    )


def test_the_virtual_rise_of_a_box_tank_by_hand():
    answer = row(assessed(slack(1.0)), "survey-state")
    surface = answer.free_surface
    inertia, volume = 10.0 * 1.0**3 / 12.0, LENGTH * BEAM * DRAUGHT
    rise = inertia * 1000.0 / (SEA * volume)
    assert surface.rise_mm == pytest.approx(1000.0 * rise, rel=1e-6)
    assert answer.gm_solid_m - answer.gm_m == pytest.approx(rise, rel=1e-6)
    # wall-sided tank: the liquid's own tan^2 term is what the rise leaves out
    angle = radians(surface.heel_deg)
    expected = 1000.0 * rise / 2.0 * tan(angle) ** 2 * sin(angle)
    assert surface.difference_mm == pytest.approx(expected, rel=1e-3)
    assert surface.gz_virtual_m - surface.gz_m == pytest.approx(expected / 1000.0, rel=1e-3)


def test_every_condition_shows_both_methods():
    text = tables(demo_answer())
    assert "GZ at 30°" in text
    for answer in demo_answer().conditions:
        surface = answer.free_surface
        assert surface.rise_mm == pytest.approx(1000.0 * (answer.gm_solid_m - answer.gm_m))
        levers = answer.righting_levers
        at = 30.0 if answer.worse_side == "starboard" else -30.0
        assert surface.gz_m == pytest.approx(levers.gz_m[levers.heel_deg.index(at)], abs=2e-5)
        if answer.id == "stripped":
            assert surface.difference_mm == 0.0
