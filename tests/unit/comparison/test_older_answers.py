"""Stored answers: what follows from them is filled in, and the boat is held at each degree."""

import json

import pytest
from refits import demo, demo_answer, row

from hullchange.answer.assessment import Assessment
from hullchange.comparison.older_answers import completed, is_complete

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
    answer = without(json.loads(demo_answer().model_dump_json()), *NEW["Assessment"])
    for condition in answer["conditions"]:
        if condition["change"]:
            condition["change"] = without(condition["change"], *NEW["change"])
        condition["plus_minus"] = without(condition["plus_minus"], *NEW["change"])
        condition["openings"] = [
            without(opening, "immersion_angles_deg") for opening in condition["openings"]
        ]
    answer["conditions"] = [without(one, *NEW["conditions"]) for one in answer["conditions"]]
    answer["items"] = [without(item, *NEW["items"]) for item in answer["items"]]
    answer["parts"] = [without(part, "mass_counted_kg") for part in answer["parts"]]
    for part in answer["parts"]:
        part["effect"] = without(part["effect"], "freeboard_aft_mm")
    return Assessment.model_validate_json(json.dumps(answer))


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


def test_what_nothing_follows_from_is_not_reported():
    found = completed(of_an_older_version(), demo()[0])
    assert found.parts[0].effect.freeboard_aft_mm is None
    assert row(found, "departure").openings[0].immersion_angles_deg is None
