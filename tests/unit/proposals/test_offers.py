"""What is offered in place of refused dimensions: it builds, and is the nearest that does."""

import numpy as np
import pytest
from every_hull import every_hull
from hulls import demo_hull
from proposal_trial import offered, proposed_on, refusal_of, strayed, with_offer

from hullchange.errors import ModelError
from hullchange.parts.registry import KINDS
from hullchange.proposals.measures import Leaf, measures_of
from hullchange.proposals.offers import MOST_BUILDS, offers
from hullchange.proposals.proposing import proposal
from hullchange.proposals.surroundings import Surroundings

HOUSE = KINDS["deckhouse"].example


def on_demo(kind, refused, goods):
    around = Surroundings(demo_hull())
    return list(offered(kind, refused, refusal_of(kind, refused, around), around, goods))


def test_the_lowest_side_that_builds_is_offered():
    low = HOUSE.model_copy(update={"side_height_m": 0.05})
    ((offer, changed, refusal), *_) = on_demo("deckhouse", low, (HOUSE,))
    assert (refusal, offer.values[0][0]) == (None, "side_height_m")
    assert offer.sentence == f"side height {changed.side_height_m:g} m works."
    lower = changed.model_copy(update={"side_height_m": changed.side_height_m - 0.01})
    assert refusal_of("deckhouse", lower, Surroundings(demo_hull())) is not None


def test_a_number_in_a_row_is_offered_with_its_row():
    wide = KINDS["cockpit"].example.model_copy(update={"seat_well_m": (2.4, 3.9, 0.33)})
    ((offer, changed, refusal), *_) = on_demo("cockpit", wide, (KINDS["cockpit"].example,))
    assert refusal is None
    assert (offer.values[0][0], changed.seat_well_m[0]) == ("seat_well_m", 2.4)
    assert 2.0 < changed.seat_well_m[1] < 3.9
    assert offer.sentence.startswith("seat well: width")


def test_a_number_in_a_group_is_offered_with_its_path():
    panes = HOUSE.side_windows.model_copy(update={"lower_edge_z_m": 1.9})
    high = HOUSE.model_copy(update={"side_windows": panes})
    ((offer, _, refusal), *_) = on_demo("deckhouse", high, ())
    assert refusal is None
    assert offer.values[0][0] == "side_windows.lower_edge_z_m"


def test_two_values_are_offered_where_one_does_not_help():
    wrong = HOUSE.model_copy(update={"x_forward_m": 12.5, "roof_camber_m": 1.9})
    ((offer, _, refusal), *_) = on_demo("deckhouse", wrong, (HOUSE,))
    assert refusal is None
    assert {path for path, _ in offer.values} == {"x_forward_m", "roof_camber_m"}


def test_everything_proposed_is_offered_where_no_two_values_help():
    wrong = HOUSE.model_copy(
        update={"x_forward_m": 12.5, "roof_camber_m": 1.9, "roof_half_breadth_aft_m": 5.0}
    )
    ((offer, changed, refusal),) = on_demo("deckhouse", wrong, (HOUSE,))
    assert refusal is None
    assert changed == HOUSE
    assert offer.sentence == "The dimensions proposed for this hull work."


def test_a_group_that_does_not_fit_is_offered_left_out():
    bare = HOUSE.model_copy(update={"side_windows": None, "side_height_m": 0.12, "door": None})
    bare = bare.model_copy(update={"front_windows": None})
    assert refusal_of("deckhouse", bare, Surroundings(demo_hull())) is None
    glazed = bare.model_copy(update={"side_windows": HOUSE.side_windows})
    found = on_demo("deckhouse", glazed, (bare,))
    assert found
    assert all(refusal is None for *_, refusal in found)


def test_the_house_to_stand_on_is_offered():
    built = proposal("deckhouse", Surroundings(demo_hull()))
    around = Surroundings(demo_hull(), {"house": built.dimensions}, {"house": built.part})
    support = proposal("mast_support", around).dimensions
    adrift = support.model_copy(update={"stand": None})
    error = refusal_of("mast_support", adrift, around)
    ((offer, _, refusal), *_) = offered("mast_support", adrift, error, around, (support,))
    assert refusal is None
    assert (offer.sentence, offer.values) == ("stand house works.", (("stand", "house"),))


def test_few_builds_are_tried():
    tries = []

    def never(dimensions):
        tries.append(dimensions)
        raise ModelError("no", "No.")

    assert offers(HOUSE, "side_height_m", (HOUSE,), never) == ()
    assert len(tries) <= MOST_BUILDS + 1


def test_measures_have_the_step_and_unit_of_their_form():
    measures = measures_of(type(HOUSE))
    assert measures[Leaf(("side_height_m",))].words(0.62) == "side height 0.62 m"
    assert measures[Leaf(("roof_camber_m",))].step == 0.005
    assert measures[Leaf(("side_windows", "count"))].on_grid(2.4) == 2
    assert measures[Leaf(("side_windows", "size_m", 1))].label == "side windows, size: height"


@pytest.mark.slow
@pytest.mark.parametrize("moved", [1, 4])
def test_no_strayed_part_is_refused_without_an_offer_that_builds(moved):
    draw = np.random.default_rng(moved)
    refusals = 0
    for _, host in every_hull(8, 500):
        for kind, found, around in proposed_on(host):
            if isinstance(found, ModelError):
                continue
            wrong = strayed(found.dimensions, draw, moved)
            error = wrong and refusal_of(kind, wrong, around)
            if not error:
                continue
            refusals += 1
            rows = list(offered(kind, wrong, error, around, (found.dimensions,)))
            assert rows, f"{kind}: {error}"
            assert [refusal for *_, refusal in rows if refusal] == []
            assert all(changed == with_offer(wrong, offer) for offer, changed, _ in rows)
    assert refusals > 5
