"""A person aboard in the answer: figures, targets, what is assumed, and every figure opened."""

from copy import deepcopy
from functools import cache

import pytest
from refits import assessed, demo_document, row

from hullchange.document.reading import document_of
from hullchange.explain.explain import explanation
from hullchange.explain.places import figures
from hullchange.explain.rules_person import PERSON_RULES

HELM = {"x_m": 8.9, "floor_z_m": 0.9, "seat_z_m": 1.35}


def with_person(person, **targets):
    plain = deepcopy(demo_document())
    plain["person"] = person
    plain["targets"] = {
        name: {"condition": "departure", **target} for name, target in targets.items()
    }
    return plain


@cache
def short_of_room():
    """A tall person over a high sole, so that she stoops, with her helm and a target."""
    return with_person(
        {"height_m": 2.2, "sole_z_m": -0.4, "helm": HELM},
        see={"result": "sight_blind_m", "at_most": 10},
        stand={"result": "headroom_least_m", "at_least": 2.0},
    )


@cache
def answer():
    return assessed(short_of_room())


def test_without_a_person_nothing_is_told_of_one():
    plain = deepcopy(demo_document())
    del plain["person"]
    found = assessed(plain)
    assert found.person is None
    assert row(found, "departure").headroom_least_m is None
    assert "person" not in document_of(plain).model_dump(by_alias=True)


def test_every_figure_of_a_person_opens_and_no_rule_is_idle():
    document, opened = document_of(short_of_room()), set()
    for spot in figures(answer()):
        if spot.pattern in PERSON_RULES:
            found = explanation(answer(), document, spot.path)
            assert found.value == spot.number
            assert found.inputs, spot.path
            for given in found.inputs:
                explanation(answer(), document, given.path)
            opened.add(spot.pattern)
    assert opened == set(PERSON_RULES)


def test_figures_of_a_condition_are_those_told_at_length():
    departure, person = row(answer(), "departure"), answer().person
    sights = {s.posture: s for s in person.sights if (s.id, s.stage) == ("departure", "refit")}
    assert departure.sight_blind_m == sights["standing"].blind_m
    assert departure.sight_blind_seated_m == sights["seated"].blind_m
    assert departure.sight_blind_m < departure.sight_blind_seated_m
    (house,) = (h for h in person.headroom if h.stage == "refit")
    assert departure.headroom_least_m == house.least_m
    assert house.spare_m == pytest.approx(house.least_m - 2.2)
    assert {low.where for low in house.low} == {"middle", "off centre"}


def test_targets_are_judged_and_the_distance_asked_is_among_the_changes():
    see, stand = answer().targets
    assert (see.value, see.state) == (row(answer(), "departure").sight_blind_m, "not_met")
    assert stand.state == "met"
    changes = {
        change.id: change
        for sight in answer().person.sights
        if (sight.id, sight.stage, sight.posture) == ("departure", "refit", "standing")
        for change in sight.changes
    }
    assert changes["target"].blind_m == 10
    assert changes["target"].eye_higher_m > 0
    assert changes["4-lengths"].eye_higher_m < changes["2-lengths"].eye_higher_m + 1e-12


def test_what_rests_on_an_assumed_sole_or_helm_is_to_be_confirmed_and_said():
    found = assessed(
        with_person(
            {},
            see={"result": "sight_blind_m", "at_most": 2000},
            stand={"result": "headroom_least_m", "at_least": 1.0},
        )
    )
    assert [t.state for t in found.targets] == ["to_be_confirmed", "to_be_confirmed"]
    assert {"sole-assumed", "helm-assumed"} <= {f.code for f in found.findings}
    assert (found.person.sole_given, found.person.helms[0].given) == ("assumed", "assumed")


@pytest.mark.parametrize(
    ("person", "code"),
    [
        ({"height_m": 2.4, "sole_z_m": -0.2}, "headroom-short"),
        ({"sole_z_m": -2.0}, "sole-below-hull"),
        ({"sole_z_m": -0.4, "helm": {"x_m": 5.0, "floor_z_m": -0.4}}, "no-water-in-sight"),
        ({"sole_z_m": -0.4, "helm": {"x_m": 8.8, "floor_z_m": 0.0}}, "no-water-in-sight"),
    ],
)
def test_what_is_wrong_with_where_she_stands_is_said(person, code):
    assert code in {f.code for f in assessed(with_person(person)).findings}


def test_a_boat_without_house_and_cockpit_has_a_person_without_figures():
    plain = with_person({"height_m": 1.7})
    plain["existing"], plain["changes"], plain["options"] = {}, {}, {}
    plain["openings"], plain["rig"] = {}, {}
    plain["conditions"] = {"survey-state": {}}
    plain.pop("reference_condition", None)
    found = assessed(plain).person
    assert (found.headroom, found.helms, found.sights, found.sole) == ((), (), (), ())
