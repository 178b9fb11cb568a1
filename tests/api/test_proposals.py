"""Parts proposed for a change, tried before they are added, and offers where one is refused."""

import json

import pytest
from other_refits import other_refit
from refits import SALTMARROW

from hullchange.parts.registry import KINDS
from hullchange.proposals.appendages import APPENDAGE_KINDS

HOUSE = "changes.deckhouse.parts.house"
SEED = 11


@pytest.fixture
def other(serve):
    """A page over a boat unlike the demo, with one empty change and nothing on her deck."""
    plain = other_refit(SEED).plain
    plain = plain | {"existing": {}, "changes": {"works": {}}, "options": {}, "targets": {}}
    plain |= {"openings": {}, "conditions": {}}
    plain.pop("reference_condition", None)
    page = serve(json.dumps(plain))
    assert page.read().status_code == 200, page.read().text
    return page


def proposed(page, **query):
    response = page.client.get(f"{page.address}/proposals", params=query)
    assert response.status_code == 200, response.text
    return {one["kind"]: one for one in response.json()}


def tried(page, change, one, **more):
    body = {"change": change, "name": one["name"], "dimensions": one["dimensions"], **more}
    return page.client.post(f"{page.address}/proposals/trial", json=body)


def test_every_kind_proposes_itself_for_a_change(other):
    found = proposed(other, change="works")
    assert found.keys() == KINDS.keys()
    for kind, one in found.items():
        assert one["sentence"]
        if one["dimensions"] is not None:
            assert one["dimensions"]["kind"] == kind
    assert found["mast_support"]["dimensions"] is None
    assert "add the house first" in found["mast_support"]["sentence"]


def test_what_is_proposed_is_taken_and_the_next_heeds_it(other):
    for kind in ("deckhouse", "cockpit", "bow_platform", "mast_support"):
        one = proposed(other, change="works", kind=kind)[kind]
        trial = tried(other, "works", one)
        assert trial.status_code == 200, trial.text
        assert trial.json()["mass_kg"] > 0.0
        path = f"changes.works.parts.{one['name']}"
        answer = other.put({path: one["dimensions"]})
        assert answer.status_code == 200, answer.text
        (part,) = (p for p in answer.json()["assessment"]["parts"] if p["id"] == one["name"])
        assert part["mass_kg"] == pytest.approx(trial.json()["mass_kg"], rel=1e-9)
    parts = other.read().json()["document"]["changes"]["works"]["parts"]
    assert parts["cockpit"]["x_forward_m"] >= parts["house"]["x_aft_m"]
    assert parts["mast-support"]["stand"] == "house"
    assert proposed(other, change="works")["deckhouse"]["name"] == "house-2"


def test_a_trial_changes_nothing(other):
    one = proposed(other, change="works", kind="deckhouse")["deckhouse"]
    before = other.read().json()
    assert tried(other, "works", one).status_code == 200
    assert other.read().json() == before


def test_a_refused_trial_offers_what_builds(other, refused):
    one = proposed(other, change="works", kind="deckhouse")["deckhouse"]
    one["dimensions"]["side_height_m"] = 0.06
    problem = refused(tried(other, "works", one), 422, "window-taller-than-wall")
    assert problem["offers"]
    for offer in problem["offers"]:
        for step in offer["values"]:
            steps = step["path"].removeprefix("changes.works.parts.house.").split(".")
            inside = one["dimensions"]
            for key in steps[:-1]:
                inside = inside[key]
            inside[steps[-1]] = step["value"]
        assert tried(other, "works", one).status_code == 200


def test_a_refused_edit_offers_the_nearest_value(serve, refused):
    page = serve(SALTMARROW.read_text(encoding="utf-8"))
    page.read()
    answer = page.put({f"{HOUSE}.side_height_m": 0.05})
    problem = refused(answer, 422, "window-taller-than-wall")
    (offer, *_) = problem["offers"]
    assert offer["sentence"] == "side height 0.47 m works."
    assert [step["path"] for step in offer["values"]] == [f"{HOUSE}.side_height_m"]
    assert page.read().json()["edit"] == 1, "an offer is never applied by itself"
    assert page.put({s["path"]: s["value"] for s in offer["values"]}).status_code == 200


def test_a_house_moved_from_under_its_mast_is_offered_nearer(serve, refused):
    page = serve(SALTMARROW.read_text(encoding="utf-8"))
    page.read()
    problem = refused(page.put({f"{HOUSE}.x_forward_m": 4.05}), 422, "pad-off-the-roof")
    (offer, *_) = problem["offers"]
    (step,) = offer["values"]
    assert step["path"] == f"{HOUSE}.x_forward_m"
    assert 2.9 < step["value"] < 4.05
    assert page.put({step["path"]: step["value"]}).status_code == 200


def test_an_old_part_that_nothing_replaces_is_the_start(serve):
    page = serve(SALTMARROW.read_text(encoding="utf-8"))
    page.read()
    gone = {"changes.cockpit": None, "changes.anew": {}, "conditions.cockpit-flooded": None}
    gone |= {"targets.aft-when-flooded": None}
    assert page.put(gone).status_code == 200
    one = proposed(page, change="anew", kind="cockpit")["cockpit"]
    assert one["replaces"] == "existing.old-cockpit"
    assert one["dimensions"]["seat_well_m"] == [1.95, 1.48, 0.32]
    trial = tried(page, "anew", one, replaces=one["replaces"])
    assert trial.status_code == 200
    assert not any("share" in sentence for sentence in trial.json()["findings"])
    beside = tried(page, "anew", one)
    assert any("old cockpit" in sentence for sentence in beside.json()["findings"])


def test_a_new_mast_support_does_not_stand_on_an_old_house(other):
    house = proposed(other, change="works", kind="deckhouse")["deckhouse"]["dimensions"]
    assert other.put({"existing.old-house": house}).status_code == 200
    one = proposed(other, change="works", kind="mast_support")["mast_support"]
    assert one["dimensions"] is None
    assert "old house is an old one" in one["sentence"]


def test_an_old_part_is_proposed_as_it_may_have_stood(other):
    house = proposed(other, change="works", kind="deckhouse")["deckhouse"]["dimensions"]
    assert other.put({"changes.works.parts.house": house}).status_code == 200
    one = proposed(other, kind="deckhouse")["deckhouse"]
    assert one["replaces"] == ""
    assert one["dimensions"]["x_forward_m"] == house["x_forward_m"]
    assert other.put({f"existing.{one['name']}": one["dimensions"]}).status_code == 200


@pytest.mark.parametrize(
    ("query", "code"),
    [
        ({"change": "nobody"}, "unknown-change"),
        ({"change": "bow", "kind": "sail"}, "unknown-kind"),
        ({"change": "bow", "replaces": "existing.mast"}, "replaces-nothing"),
    ],
)
def test_what_is_not_there_is_refused(saltmarrow, refused, query, code):
    answer = saltmarrow.client.get(f"{saltmarrow.address}/proposals", params=query)
    refused(answer, 422, code)


def test_appendages_to_begin_from_are_put_in_as_assumed_and_taken_out_in_one_step(other):
    before = other.read().json()
    answer = other.client.get(f"{other.address}/proposals/appendages")
    assert answer.status_code == 200, answer.text
    found = {one["kind"]: one for one in answer.json()}
    assert found.keys() == APPENDAGE_KINDS.keys()
    assert all(one["title"] and one["sentence"] for one in found.values())
    taken = before["document"]["hull"].get("appendages", {})
    laid = found["bilge_keels"]["appendages"] | found["twin_rudders"]["appendages"]
    assert laid.keys().isdisjoint(taken)
    paths = [f"hull.appendages.{name}" for name in laid]
    steps = {f"hull.appendages.{name}": given for name, given in laid.items()}
    after = other.put(steps | {"assumed": paths})
    assert after.status_code == 200, after.text
    document = after.json()["document"]
    assert document["hull"]["appendages"]["bilge-keels"]["pair"] is True
    assert document["assumed"] == paths
    undone = other.undo()
    assert undone.json()["document"] == before["document"]


def raised(page, **query):
    return page.client.get(f"{page.address}/proposals/raised-house", params=query)


@pytest.mark.parametrize("boat", ["brackwren", "saltmarrow"])
def test_one_press_raises_the_old_house_and_one_undo_lowers_it(serve, boat):
    page = serve((SALTMARROW.parent / f"{boat}.yaml").read_text(encoding="utf-8"))
    before = page.read().json()["document"]
    answer = raised(page, replaces="existing.old-house", forward_m=0.05, aft_m=0.2)
    assert answer.status_code == 200, answer.text
    values = {step["path"]: step["value"] for step in answer.json()["values"]}
    after = page.put(values)
    assert after.status_code == 200, after.text
    house = after.json()["document"]["changes"]["deckhouse"]["parts"]["house"]
    assert house["side_height_aft_m"] - house["side_height_forward_m"] > 0.1
    assert page.undo().json()["document"] == before


def test_what_is_no_house_is_not_raised(saltmarrow, refused):
    answer = raised(saltmarrow, replaces="existing.old-cockpit", forward_m=0.1, aft_m=0.1)
    refused(answer, 422, "not-a-house")


def test_other_refusals_offer_nothing(page, refused):
    problem = refused(page.put({"changes.drive.adds.motor.mass_kg": -1}), 422, "out-of-range")
    assert problem["offers"] == []
