"""What may still be added, against arithmetic and against her floated with it."""

import numpy as np
import pytest
from refits import (
    SEA,
    assessed,
    barge_document,
    boat,
    demo,
    demo_answer,
    demo_document,
    row,
    with_all,
)

from hullchange.afloat.any_displacement import HeeledRound
from hullchange.afloat.at_rest import envelope_of
from hullchange.afloat.stability import particulars
from hullchange.assess.criteria import NONE_DESCRIBED
from hullchange.boat.hull_hydrostatics import hull_result
from hullchange.boat.variants import refit
from hullchange.check_pack.weight_margin import weight_margin
from hullchange.criteria.catalogue import RULES
from hullchange.criteria.facts import with_vcg_raised
from hullchange.errors import ModelError

LENGTH, BEAM, DRAUGHT, DEPTH, VCG = 12.0, 4.0, 1.0, 2.5, 0.2


@pytest.fixture(scope="module")
def result():
    return weight_margin(demo()[0])


def line(result, name):
    return next(one for one in result.lines if one.id == name)


def test_the_limit_by_gm_of_a_barge_by_hand():
    result = weight_margin(boat(barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, VCG)))
    by_gm = line(result, "imo-initial-gm")
    mass = SEA * LENGTH * BEAM * DRAUGHT
    assert by_gm.displacement_kg == pytest.approx(np.linspace(0.95 * mass, 1.05 * mass, 5))
    draughts = [m / SEA / LENGTH / BEAM for m in by_gm.displacement_kg]
    highest = [d / 2 - 1 + BEAM**2 / 12 / d - 0.15 for d in draughts]
    assert by_gm.vcg_m == pytest.approx(highest, abs=2e-5)
    assert all(by_gm.found)
    (dot,) = result.dots
    assert (dot.displacement_kg, dot.vcg_m, dot.vcg_fluid_m) == pytest.approx((mass, VCG, VCG))
    assert [room.place for room in result.rooms] == [
        "the deck amidships",
        "an arch",
        "the cabin",
    ]
    assert result.rooms[0].height_m == pytest.approx(DEPTH - DRAUGHT)


def test_lines_reach_beyond_every_condition(result):
    masses = [dot.displacement_kg for dot in result.dots]
    assert [dot.condition for dot in result.dots] == [
        name for name in demo()[2] if name != "cockpit-flooded"
    ]
    assert "cockpit flooded" in result.remarks[-1]
    for one in result.lines:
        assert one.displacement_kg[0] == pytest.approx(0.95 * min(masses))
        assert one.displacement_kg[-1] == pytest.approx(1.05 * max(masses))
        assert len(one.vcg_m) == len(one.found) == 5
    assert len(result.lines) >= 15


def test_a_dot_is_raised_by_free_surfaces(result):
    answer = row(assessed(demo_document(), only="departure", levers=None), "departure")
    dot = next(d for d in result.dots if d.condition == "departure")
    assert dot.displacement_kg == pytest.approx(answer.displacement_kg)
    assert dot.vcg_m == pytest.approx(answer.centre_of_gravity_m[2])
    raised = answer.gm_solid_m - answer.gm_m
    assert raised > 0.005
    assert dot.vcg_fluid_m - dot.vcg_m == pytest.approx(raised)


def test_a_dot_says_how_far_it_lies_below_each_line_as_drawn(result):
    drawn = {one.id: one for one in result.lines}
    for dot in result.dots:
        assert {margin.id for margin in dot.margins} == drawn.keys()
        for margin in dot.margins:
            one = drawn[margin.id]
            limit = np.interp(dot.displacement_kg, one.displacement_kg, one.vcg_m)
            assert margin.limit_m == pytest.approx(limit, abs=1e-6)
            assert margin.left_mm == pytest.approx(1000 * (limit - dot.vcg_fluid_m), abs=2e-3)
        order = [(not drawn[one.id].can_be_judged, one.left_mm) for one in dot.margins]
        assert order == sorted(order)


@pytest.mark.parametrize("k", [0, 2, 4])
def test_at_the_limit_the_criterion_is_just_met_with_her_trim_free(result, k):
    built = demo()[0]
    hull = hull_result(built)
    about = particulars(built, "refit", (hull.beam_m, hull.beam_waterline_m))
    heeled = HeeledRound(built, "refit", envelope_of(built, refit(built)), SEA, about)
    limits = [one for one in result.lines if one.found[k]]
    assert len(limits) >= 15
    rules = {rule.criterion.id: rule for rule in RULES}
    mass = result.lines[0].displacement_kg[k]
    answers = demo_answer().conditions
    dry = [c for c in answers if c.stage == "refit" and c.id != "cockpit-flooded"]
    dry.sort(key=lambda c: c.displacement_kg)
    masses, centres = zip(
        *[(c.displacement_kg, c.centre_of_gravity_m) for c in dry], strict=True
    )
    x, y = (np.interp(mass, masses, [centre[way] for centre in centres]) for way in (0, 1))
    for one in limits:
        facts = heeled.facts(mass, np.array([x, y, one.vcg_m[k]]))
        # her trim goes along with 5 mm of height at most: she is on one side of it, then not
        sides = [rules[one.id].answer(with_vcg_raised(facts, dz)) for dz in (-0.005, 0.005)]
        assert [side.keeps_the_limit for side in sides] == [True, False], one.id


@pytest.mark.parametrize(
    ("condition", "place"), [("survey-state", "an arch"), ("arrival", "the roof")]
)
def test_with_that_weight_aboard_the_criterion_is_at_its_limit(result, condition, place):
    room = next(r for r in result.rooms if (r.condition, r.place) == (condition, place))
    assert room.fails_first == "inland-wind-heel"
    assert not room.up_to_there_none_fails
    assert f"may take {room.mass_kg // 10 * 10:.0f} kg" in room.sentence
    own = row(demo_answer(), condition).centre_of_gravity_m
    load = {"mass_kg": room.mass_kg, "at_m": [own[0], 0, room.height_m]}
    loaded = with_all(demo_document(), {f"conditions.{condition}.loads.piled": load})
    answer = row(assessed(loaded, only=condition), condition)
    wind = next(c for c in answer.criteria if c.id == "inland-wind-heel")
    # five displacements with straight lines between, below a line that bends down: her limit
    # comes out low if at all
    assert 0.99 * wind.limit < wind.value < 1.005 * wind.limit


def test_low_in_the_cabin_no_criterion_fails(result):
    room = next(r for r in result.rooms if (r.condition, r.place) == ("departure", "the cabin"))
    assert room.up_to_there_none_fails
    assert room.fails_first == ""
    assert room.mass_kg == pytest.approx(0.05 * 13621.1, abs=0.1)


def test_without_a_dry_condition_of_the_refit_there_is_no_limit():
    only_found = barge_document(
        LENGTH, BEAM, DRAUGHT, DEPTH, VCG, conditions={"survey-state": {"boat": "as_found"}}
    )
    with pytest.raises(ModelError) as refused:
        weight_margin(boat(only_found))
    assert refused.value.code == "no-limits"


@pytest.mark.parametrize("plain", [demo_document(), barge_document(12, 4, 1, 2.5, 0.2)])
def test_what_is_to_be_confirmed_there_is_not_judged_here(plain):
    """A rule whose openings are not known sets no mass that the owner is told she may add."""
    without = {key: value for key, value in plain.items() if key != "openings"}
    built = boat(without)
    result = weight_margin(built)
    afloat = [c for c in assessed(without).conditions if c.stage == "refit"]
    undecided = {one.id for c in afloat for one in c.criteria if NONE_DESCRIBED in one.remarks}
    assert undecided
    judged = {one.id for one in result.lines if one.can_be_judged}
    assert judged
    assert not judged & undecided
    named = {room.fails_first for room in result.rooms} - {""}
    assert named <= judged
