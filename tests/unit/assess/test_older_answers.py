"""Stored answers: what follows from them is filled in, and the boat is held at each degree."""

import json

import pytest
from refits import demo, demo_answer, row

from hullchange.answer.assessment import Assessment
from hullchange.assess import older_answers
from hullchange.assess.older_answers import completed, held_in, is_complete

NEW = {
    "Assessment": ("totals",),
    "conditions": ("upside_down", "water_offset_m", "freeboards_at_marks", "held"),
    "change": ("sinkage_bow_mm", "sinkage_stern_mm", "trim_deg"),
    "items": ("kept_at", "name", "rises_with"),
}


def without(group, *names):
    """A group of an answer without some of its figures."""
    return {name: value for name, value in group.items() if name not in names}


def of_an_older_version():
    """The demo's answer without what older versions did not tell."""
    told = without(json.loads(demo_answer().model_dump_json()), *NEW["Assessment"])
    for condition in told["conditions"]:
        if condition["change"]:
            condition["change"] = without(condition["change"], *NEW["change"])
        condition["plus_minus"] = without(condition["plus_minus"], *NEW["change"])
        condition["openings"] = [
            without(opening, "immersion_angles_deg") for opening in condition["openings"]
        ]
    told["conditions"] = [without(one, *NEW["conditions"]) for one in told["conditions"]]
    told["items"] = [without(item, *NEW["items"]) for item in told["items"]]
    told["parts"] = [without(part, "mass_counted_kg") for part in told["parts"]]
    for part in told["parts"]:
        part["effect"] = without(part["effect"], "freeboard_aft_mm")
    return Assessment.model_validate_json(json.dumps(told))


def test_an_older_answer_is_read_and_completed():
    old, new = of_an_older_version(), demo_answer()
    assert not is_complete(old)
    found = completed(old, demo()[0])
    assert is_complete(found)
    assert found.totals.net_kg == pytest.approx(new.totals.net_kg)
    assert [p.mass_counted_kg for p in found.parts] == pytest.approx(
        [p.mass_counted_kg for p in new.parts]
    )
    assert [(i.kept_at, i.name, i.rises_with) for i in found.items] == [
        (i.kept_at, i.name, i.rises_with) for i in new.items
    ]
    for was, now in zip(found.floats, new.floats, strict=True):
        assert was.upside_down is now.upside_down
        assert was.water_offset_m == pytest.approx(now.water_offset_m, abs=1e-9)
        assert was.freeboards_at_marks == now.freeboards_at_marks
        if now.change is not None:
            for name in NEW["change"]:
                new_change = getattr(now.change, name)
                assert getattr(was.change, name) == pytest.approx(new_change, abs=1e-9)
        # apart from one another sinkage and trim are wider than together
        assert was.plus_minus.sinkage_bow_mm > 0.5 * now.plus_minus.sinkage_bow_mm


def test_what_nothing_follows_from_stays_untold():
    found = completed(of_an_older_version(), demo()[0])
    assert found.parts[0].effect.freeboard_aft_mm is None
    assert row(found, "departure").openings[0].immersion_angles_deg is None


def test_a_stored_boat_is_held_as_she_was_worked_out():
    stored = demo_answer().looking_at("")
    found = held_in(stored, demo()[0], "departure")
    assert row(found, "departure").held == row(demo_answer(), "departure").held
    assert row(found, "survey-state").held is None


def test_levers_of_another_version_are_read_between_their_own_heels(monkeypatch):
    def other_version(*_):
        return demo_answer().conditions

    stored = demo_answer().looking_at("")
    rows = tuple(_with_lever(one, 0.003) for one in stored.conditions)
    stored = stored.model_copy(update={"conditions": rows})
    monkeypatch.setattr(older_answers, "condition_answers", other_version)
    found, exact = row(held_in(stored, demo()[0], "departure"), "departure"), demo_answer()
    levers = found.righting_levers
    for side, turn in (("port", -1.0), ("starboard", 1.0)):
        held, now = found.held[side], row(exact, "departure").held[side]
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
