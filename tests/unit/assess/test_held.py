"""The boat held at every degree: against the boat solved for there, by side, with openings."""

from functools import cache
from math import radians, sin, tan

import numpy as np
import pytest
from other_refits import other_refit
from refits import assessed, barge_document, boat, demo, demo_answer, row

from hullchange.afloat.floats_in_conditions import answers_of
from hullchange.afloat.stability import stability_of
from hullchange.assess.held import DEGREES, held_everywhere, held_in, held_where
from hullchange.boat.conditions import conditions_of
from hullchange.document.reading import document_of
from hullchange.survey.as_found import surveyed

SIDES = {"port": -1.0, "starboard": 1.0}
TENTH_MM, HUNDREDTH_DEG = 1e-4, 0.01


def stability(built, condition, stage="refit"):
    """Her levers in a condition, as the answer comes from them."""
    answers = answers_of(built, surveyed(built), conditions_of(built.document)[condition])
    (one,) = (answer.row for answer in answers if answer.row.stage == stage)
    return one, stability_of(built, one, (3.0, 3.0))


def held_of(plain, condition, stage="refit"):
    """A boat of a plain document held at every degree."""
    return row(held_in(assessed(plain), boat(plain), condition), condition, stage).held


@cache
def departure_row(stage="refit"):
    return row(held_in(demo_answer(), demo()[0], "departure"), "departure", stage)


@pytest.mark.parametrize("side", SIDES)
def test_every_degree_is_as_solved_for_there(side):
    built = demo()[0]
    _, heeled = stability(built, "departure")
    held = departure_row().held[side]
    assert held.heel_deg == tuple((SIDES[side] * DEGREES + 0.0).tolist())
    for k in range(0, 181, 3):
        exact = heeled.counted.at(radians(held.heel_deg[k]))
        assert abs(held.gz_m[k] - SIDES[side] * exact.to_port) < TENTH_MM
        assert abs(held.trim_deg[k] - np.degrees(exact.trim)) < HUNDREDTH_DEG
        assert abs(held.water_offset_m[k] - exact.offset) < TENTH_MM
        bare = heeled.bare.at(radians(held.heel_deg[k]))
        assert abs(held.gz_without_house_m[k] - SIDES[side] * bare.to_port) < TENTH_MM


@pytest.mark.slow
@pytest.mark.parametrize("seed", [1, 3])
def test_so_it_is_of_other_boats(seed, tmp_path):
    built = boat(other_refit(seed).plain)
    name = built.document.reference_condition
    _, heeled = stability(built, name)
    for side, turn in SIDES.items():
        held = held_of(other_refit(seed).plain, name)[side]
        for k in range(0, len(held.heel_deg), 7):
            exact = heeled.counted.at(radians(held.heel_deg[k]))
            off = abs(held.gz_m[k] - turn * exact.to_port)
            is_step = held.heel_deg.count(held.heel_deg[k]) > 1
            assert off < TENTH_MM or is_step
    assert document_of(other_refit(seed).plain, tmp_path)


def off_the_lever(held, turn):
    """[m] by how much B lies further out than G than the righting lever says, at each heel."""
    out = np.array(held.buoyancy_across_m) - np.array(held.gravity_across_m)
    return np.abs(turn * out - np.array(held.gz_m))


@pytest.mark.parametrize("seed", range(6))
def test_buoyancy_acts_the_righting_lever_further_out_than_weight(seed):
    plain = other_refit(seed).plain
    found = held_in(assessed(plain), boat(plain), boat(plain).document.reference_condition)
    rows = [one for one in found.floats if one.held]
    for one in rows:
        for side, turn in SIDES.items():
            assert off_the_lever(one.held[side], turn).max() < 3.0 * TENTH_MM


def test_weight_and_buoyancy_are_level_with_what_floats():
    held = departure_row().held["starboard"]
    one, heeled = stability(demo()[0], "departure")
    centre, up = one.rest.centre_of_gravity, heeled.counted.at(0.0).plane
    assert held.gravity_across_m[0] == pytest.approx(centre[1], abs=TENTH_MM)
    height = up.up @ centre - up.offset
    assert held.gravity_above_sea_m[0] == pytest.approx(height, abs=1e-3)
    assert max(held.buoyancy_above_sea_m) < 0.0
    # liquids run to the low side
    level = [np.cos(radians(h)) * centre[1] + np.sin(radians(h)) * centre[2] for h in (0, 30)]
    assert held.gravity_across_m[30] > level[1]


def test_the_heels_of_the_curve_are_the_same_in_both():
    one = departure_row()
    levers = one.righting_levers
    for side, turn in SIDES.items():
        held = one.held[side]
        for heel, gz, sd in zip(
            levers.heel_deg, levers.gz_m, levers.gz_plus_minus_m, strict=True
        ):
            if heel * turn > 0.0 and heel in held.heel_deg:
                k = held.heel_deg.index(heel)
                assert (held.gz_m[k], held.gz_plus_minus_m[k]) == pytest.approx((gz, sd))


def test_what_rights_from_one_side_of_a_list_capsizes_from_the_other():
    plain = barge_document(12.0, 4.0, 1.0, 2.5, 0.6)
    plain["survey"]["marks"]["aft"]["freeboard_m"] = {"port": 1.52, "starboard": 1.48}
    plain["survey"]["marks"]["forward"]["freeboard_m"] = {"port": 1.52, "starboard": 1.48}
    held = held_of(plain, "survey-state", "as_found")
    port, starboard = held["port"], held["starboard"]
    assert port.heel_deg[0] == starboard.heel_deg[0] == 0.0
    assert starboard.gz_m[0] < 0.0 < port.gz_m[0]
    assert port.gz_m[0] == pytest.approx(-starboard.gz_m[0])


def test_trim_and_sinkage_are_those_of_the_water_s_plane():
    held = departure_row().held["starboard"]
    length = demo()[0].document.hull.length_waterline_m
    for k in (0, 20, 77):
        trim, offset = radians(held.trim_deg[k]), held.water_offset_m[k]
        assert held.trim_mm[k] == pytest.approx(1e3 * length * tan(trim), abs=0.2)
        depth = offset + length / 2.0 * sin(trim)
        assert held.sinkage_mm[k] == pytest.approx(1e3 * depth, abs=0.2)


def test_openings_go_under_one_after_the_other_at_their_angles():
    one = departure_row()
    for side in SIDES:
        held = one.held[side]
        for k, heel in enumerate(held.heel_deg):
            if abs(heel) > 90.0:  # some come up again
                break
            for n, opening in enumerate(one.openings):
                angle = opening.immersion_angles_deg[side]
                is_under = angle is not None and angle < abs(heel)
                assert (n in held.openings_under[k]) == is_under
        upright = held.next_opening[0]
        lowest = min(range(len(one.openings)), key=lambda n: one.openings[n].height_mm)
        assert one.openings[upright].id == one.openings[lowest].id
        assert held.openings_under[180]
        assert [
            o for o, h in zip(held.next_opening, held.next_opening_m, strict=True) if h
        ] == [o for o in held.next_opening if o is not None]


def test_the_refit_says_how_much_each_lever_has_changed():
    before = departure_row("as_found").held
    after = departure_row().held
    for side in SIDES:
        assert before[side].gz_change_m is None
        assert after[side].gz_change_m[30] == pytest.approx(
            after[side].gz_m[30] - before[side].gz_m[30], abs=1e-9
        )


def test_of_one_condition_alone_she_is_held():
    found = held_in(demo_answer(), demo()[0], "departure")
    held = {(r.id, r.stage) for r in found.floats if r.held is not None}
    assert held == {("departure", "as_found"), ("departure", "refit")}
    assert all(r.held is None for r in demo_answer().floats)
    path = "conditions.departure.refit.held.port.gz_m.3"
    assert held_where(demo_answer(), demo()[0], path) == found
    assert held_where(demo_answer(), demo()[0], "hull.length_m") is demo_answer()
    every = held_everywhere(demo_answer(), demo()[0])
    assert all(r.held is not None for r in every.floats)


def test_levers_of_another_version_are_read_between_their_own_heels():
    rows = tuple(_with_lever(one, 0.003) for one in demo_answer().conditions)
    stored = demo_answer().model_copy(update={"conditions": rows})
    found = row(held_in(stored, demo()[0], "departure"), "departure")
    levers = found.righting_levers
    for side, turn in (("port", -1.0), ("starboard", 1.0)):
        held, now = found.held[side], departure_row().held[side]
        assert held.heel_deg == now.heel_deg
        for heel, gz in zip(levers.heel_deg, levers.gz_m, strict=True):
            if heel * turn > 0.0 and heel in held.heel_deg:
                assert held.gz_m[held.heel_deg.index(heel)] == pytest.approx(gz)
        assert held.gz_m[0] == pytest.approx(turn * levers.gz_m[levers.heel_deg.index(0.0)])
        assert (
            max(abs(a - b) for a, b in zip(held.sinkage_mm, now.sinkage_mm, strict=True)) < 5.0
        )
        # a lever is straight between two heels, not on the curve
        assert held.openings_under[60] == now.openings_under[60]


def _with_lever(one, by):
    levers = one.righting_levers
    moved = levers.model_copy(update={"gz_m": tuple(gz + by for gz in levers.gz_m)})
    return one.model_copy(update={"righting_levers": moved})
