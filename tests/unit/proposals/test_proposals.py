"""Proposals on many hulls: what is built, what gives a reason, what stands beside what."""

import re
from functools import cache

import pytest
from hull_families import FAMILIES, family_hulls
from hulls import demo_hull
from proposal_trial import proposal_trial

from hullchange.errors import ModelError
from hullchange.parts.on_hull import with_fit_findings
from hullchange.parts.registry import KINDS
from hullchange.proposals.proposing import PROPOSERS, proposal
from hullchange.proposals.surroundings import Surroundings

HULLS = 48
STEPPED = FAMILIES.index("stepped-sheer")
LEAST_BUILT = 0.99  # as asked of proposals, where the hull has a place for the kind


@cache
def trial():
    return proposal_trial(HULLS)


def proposed(kind, **around):
    return proposal(kind, Surroundings(demo_hull(), **around))


def example(kind):
    return KINDS[kind].example


def test_there_is_a_proposal_for_every_kind():
    assert PROPOSERS.keys() == KINDS.keys()


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_proposals_build_or_say_why_not(kind):
    suits = HULLS - sum(n for (of, _), n in trial().reasons.items() if of == kind)
    assert trial().built[kind] >= LEAST_BUILT * suits, trial().wrong
    assert suits >= 0.8 * HULLS


@pytest.mark.slow
def test_only_sterns_without_a_transom_have_no_place_for_a_part():
    assert trial().wrong == []
    assert set(trial().reasons) <= {("transom_extension", "no-transom")}


@pytest.mark.slow
def test_houses_keep_their_windows_and_are_not_too_low_for_them():
    assert trial().lost["side_windows"] == trial().lost["door"] == 0
    assert min(trial().houses) >= 0.36


def test_the_old_house_is_the_start_of_the_new_one():
    old = example("deckhouse")
    found = proposed("deckhouse", old=old)
    assert found.dimensions.side_height_m == pytest.approx(old.side_height_m + 0.10)
    assert found.dimensions.x_aft_m == old.x_aft_m
    assert "Like the old house, in its place and as wide, 100 mm higher" in found.sentence


def test_what_is_not_given_of_the_old_house_is_drawn_as_it_fits():
    bare = {"side_windows": None, "front_windows": None, "door": None, "roof_beams": None}
    old = example("deckhouse").model_copy(update=bare)
    found = proposed("deckhouse", old=old)
    assert [key for key in bare if getattr(found.dimensions, key) is None] == []
    assert found.dimensions.side_stiffeners == old.side_stiffeners
    assert "side windows, front windows, door, roof beams" in found.sentence


def test_the_old_cockpit_is_the_start_of_the_new_one():
    old = example("cockpit")
    assert proposed("cockpit", old=old).dimensions == old


def test_a_cockpit_begins_behind_the_house():
    house = example("deckhouse").model_copy(update={"x_aft_m": 8.40})
    found = proposed("cockpit", neighbours={"house": house}).dimensions
    assert 8.40 <= found.x_forward_m < 8.45


def test_a_house_stands_on_the_deck_that_a_cockpit_leaves_free():
    well = example("cockpit").model_copy(update={"x_forward_m": 5.0})
    found = proposed("deckhouse", neighbours={"cockpit": well}).dimensions
    assert found.x_aft_m <= 5.0


def test_a_house_stands_clear_of_a_step_in_the_sheer():
    stepped = next(h for seed, _, h in family_hulls(20, 700) if seed % 8 == STEPPED)
    found = proposal("deckhouse", Surroundings(stepped))
    step = stepped.lines.sheer.knuckles[-1]
    assert found.dimensions.x_forward_m > step
    gaps = [
        float(re.search(r"to ([\d.]+) mm", finding.sentence)[1])
        for finding in with_fit_findings(stepped, found.part).findings
    ]
    assert max(gaps, default=0.0) < 10.0


def test_no_house_is_proposed_where_the_deck_is_taken():
    walls = {"x_forward_m": 0.9, "x_aft_m": 9.4}
    house = example("deckhouse").model_copy(update=walls)
    with pytest.raises(ModelError) as refusal:
        proposed("deckhouse", neighbours={"house": house})
    assert refusal.value.code == "no-free-deck"
    assert "Only" in refusal.value.sentence


def test_a_cockpit_goes_before_a_house_that_leaves_no_room_aft():
    house = example("deckhouse").model_copy(update={"x_forward_m": 7.5, "x_aft_m": 10.4})
    found = proposed("cockpit", neighbours={"house": house}).dimensions
    assert found.x_forward_m + found.seat_well_m[0] <= 7.5


def test_a_mast_needs_a_house_to_stand_on():
    with pytest.raises(ModelError) as refusal:
        proposed("mast_support")
    assert refusal.value.code == "nothing-to-stand-on"


def test_a_second_mast_stands_abaft_the_first():
    around = {"neighbours": {"house": example("deckhouse")}}
    built = proposed("deckhouse", old=example("deckhouse"))
    around["roofs"] = {"house": built.part}
    first = proposed("mast_support", **around).dimensions
    around["neighbours"]["mast-support"] = first
    assert proposed("mast_support", **around).dimensions.x_m > first.x_m + 1.0


@pytest.mark.parametrize("kind", ["transom_extension", "bow_platform"])
def test_an_end_that_carries_one_takes_no_second(kind):
    with pytest.raises(ModelError) as refusal:
        proposed(kind, neighbours={"that-one": example(kind)})
    assert refusal.value.code == "place-taken"
    assert "that one" in refusal.value.sentence
