"""Options: what the document says under one, and where an edit made under it lands."""

import copy
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullchange.document.options import with_option, with_option_value
from hullchange.document.paths import value_at, with_value
from hullchange.document.reading import document_of
from hullchange.document.yaml_text import parsed
from hullchange.errors import ModelError

EXAMPLE = Path(__file__).parents[3] / "examples/saltmarrow.yaml"
HOUSE = "changes.deckhouse.parts.house"
BLOCKS = "changes.keel-blocks.adds.blocks"
BATTERY = "changes.electric-drive.adds.battery"


@cache
def example():
    return parsed(EXAMPLE.read_text(encoding="utf-8")).document()


@pytest.fixture
def plain():
    return copy.deepcopy(example())


def option_of(plain, name="balanced"):
    return plain["options"][name]


def seen(plain, path, name="balanced"):
    return value_at(with_option(plain, name), path)


def test_an_option_sets_values_and_merges_changes(plain):
    plain["options"] = {
        "lower": {
            "set": {f"{HOUSE}.side_height_m": 0.5, "changes.arch": None},
            "adds": {
                "bow": {
                    "note": "lighter",
                    "adds": {"anchor": {"mass_kg": 20, "at_m": [0, 0, 1]}},
                },
                "ballast": {"adds": {"iron": {"mass_kg": 300, "at_m": [3.3, 0, -1.2]}}},
            },
        }
    }
    taken = with_option(plain, "lower")
    assert value_at(taken, f"{HOUSE}.side_height_m") == 0.5
    assert "arch" not in taken["changes"]
    assert taken["changes"]["bow"]["adds"]["anchor"]["mass_kg"] == 20
    assert taken["changes"]["bow"]["parts"] == plain["changes"]["bow"]["parts"]
    assert list(taken["changes"])[-1] == "ballast"
    assert value_at(plain, f"{HOUSE}.side_height_m") == 0.58
    assert document_of(taken).changes["ballast"].stage == "proposed"


def test_an_option_that_is_not_there_or_sets_nothing_known_is_refused(plain):
    plain["options"] = {"lower": {"set": {"changes.dekhouse.stage": "agreed"}}}
    with pytest.raises(ModelError) as refused:
        with_option(plain, "lowr")
    assert refused.value.code == "unknown-option"
    assert "lower" in refused.value.sentence
    with pytest.raises(ModelError) as refused:
        with_option(plain, "lower")
    assert (refused.value.code, refused.value.place) == ("unknown-path", "options.lower.set")
    assert "deckhouse" in refused.value.sentence


def test_an_edit_of_what_an_option_sets_changes_the_option_and_not_the_base(plain):
    path = f"{HOUSE}.roof_plate_mm"
    after = with_option_value(plain, "balanced", path, 5)
    assert option_of(after)["set"][path] == 5
    assert value_at(after, path) == value_at(plain, path)
    assert option_of(after)["adds"] == option_of(plain)["adds"]


def test_an_edit_of_what_only_the_base_says_becomes_a_value_of_the_option(plain):
    after = with_option_value(plain, "balanced", f"{HOUSE}.side_height_m", 0.5)
    assert option_of(after)["set"][f"{HOUSE}.side_height_m"] == 0.5
    assert value_at(after, f"{HOUSE}.side_height_m") == 0.58


def test_one_coordinate_of_a_place_that_an_option_sets_whole_is_changed_in_it(plain):
    after = with_option_value(plain, "balanced", f"{BATTERY}.at_m.z", -0.5)
    assert option_of(after)["set"][f"{BATTERY}.at_m"] == [3.7, 0, -0.5]
    assert len(option_of(after)["set"]) == len(option_of(plain)["set"])


def test_a_whole_place_takes_the_place_of_its_coordinates(plain):
    once = with_option_value(plain, "balanced", "changes.bow.adds.anchor.at_m.x", 0.2)
    twice = with_option_value(once, "balanced", "changes.bow.adds.anchor.at_m", [0.3, 0, 1])
    kept = {k: v for k, v in option_of(twice)["set"].items() if "anchor" in k}
    assert kept == {"changes.bow.adds.anchor.at_m": [0.3, 0, 1]}


def test_what_an_option_adds_is_edited_taken_away_and_added_to_there(plain):
    after = with_option_value(plain, "balanced", f"{BLOCKS}.mass_kg", 300)
    assert option_of(after)["adds"]["keel-blocks"]["adds"]["blocks"]["mass_kg"] == 300
    assert option_of(after)["set"] == option_of(plain)["set"]
    after = with_option_value(after, "balanced", "changes.keel-blocks.stage", "agreed")
    assert option_of(after)["adds"]["keel-blocks"]["stage"] == "agreed"
    weight = {"mass_kg": 5, "at_m": [1, 0, 0]}
    after = with_option_value(after, "balanced", "changes.keel-blocks.adds.bolts", weight)
    assert option_of(after)["adds"]["keel-blocks"]["adds"]["bolts"] == weight
    after = with_option_value(after, "balanced", BLOCKS, None)
    assert list(option_of(after)["adds"]["keel-blocks"]["adds"]) == ["bolts"]
    after = with_option_value(after, "balanced", "changes.keel-blocks", None)
    assert "adds" not in option_of(after)
    assert "keel-blocks" not in with_option(after, "balanced")["changes"]


def test_a_new_weight_or_change_made_under_an_option_is_one_the_option_adds(plain):
    weight = {"mass_kg": 40, "at_m": [2, 0, 0]}
    after = with_option_value(plain, "balanced", "changes.bow.adds.windlass", weight)
    after = with_option_value(after, "balanced", "changes.stove", {"stage": "proposed"})
    assert option_of(after)["adds"]["bow"] == {"adds": {"windlass": weight}}
    assert option_of(after)["adds"]["stove"] == {"stage": "proposed"}
    assert after["changes"] == plain["changes"]


def test_what_the_base_has_is_left_out_under_an_option_and_can_come_back(plain):
    gone = with_option_value(plain, "balanced", "changes.arch", None)
    assert "arch" not in with_option(gone, "balanced")["changes"]
    assert gone["changes"] == plain["changes"]
    back = with_option_value(gone, "balanced", "changes.arch", plain["changes"]["arch"])
    assert with_option(back, "balanced") == with_option(plain, "balanced") | {
        "options": back["options"]
    }


def test_an_entry_of_the_base_that_an_option_replaces_is_edited_in_the_option(plain):
    house = {**value_at(plain, HOUSE), "side_height_m": 1.3}
    plain["options"]["tall"] = {"adds": {"deckhouse": {"parts": {"house": house}}}}
    after = with_option_value(plain, "tall", f"{HOUSE}.side_height_m", 0.95)
    assert seen(after, f"{HOUSE}.side_height_m", "tall") == 0.95
    assert "set" not in option_of(after, "tall") or option_of(after, "tall")["set"] == {}
    gone = with_option_value(after, "tall", HOUSE, None)
    assert "house" not in with_option(gone, "tall")["changes"]["deckhouse"]["parts"]


def test_a_value_set_in_what_an_option_adds_is_not_lost(plain):
    plain["options"]["balanced"]["set"][f"{BLOCKS}.mass_kg"] = 120
    assert seen(plain, f"{BLOCKS}.mass_kg") == 120
    assert (
        seen(
            with_option_value(plain, "balanced", f"{BLOCKS}.mass_kg", 90),
            f"{BLOCKS}.mass_kg",
        )
        == 90
    )


def test_a_value_in_what_another_option_adds_is_refused_where_it_stands(plain):
    plain["options"]["other"] = {"set": {f"{BLOCKS}.mass_kg": 100}}
    with pytest.raises(ModelError) as refused:
        with_option(plain, "other")
    assert (refused.value.code, refused.value.place) == ("unknown-path", "options.other.set")


def test_an_entry_taken_out_of_a_list_leaves_the_others(plain):
    path = "hull.lines.sheer.points_m"
    points = value_at(plain, path)
    after = with_option_value(plain, "balanced", f"{path}.3", None)
    assert seen(after, path) == points[:3] + points[4:]
    after = with_option_value(after, "balanced", f"{path}.1", None)
    assert seen(after, path) == [points[0], points[2], *points[4:]]


def test_an_option_that_was_renamed_takes_no_edit_and_none_is_lost_in_the_base(plain):
    plain["options"]["level"] = plain["options"].pop("balanced")
    with pytest.raises(ModelError) as refused:
        with_option_value(plain, "balanced", f"{HOUSE}.side_height_m", 0.5)
    assert refused.value.code == "unknown-option"
    assert "level" in refused.value.sentence


def test_paths_into_the_options_are_set_as_they_stand(plain):
    after = with_option_value(plain, "balanced", "options.low", {"note": "lower"})
    assert after["options"]["low"] == {"note": "lower"}
    path = "options.balanced.adds.keel-blocks.adds.blocks.mass_kg"
    assert seen(with_option_value(plain, "balanced", path, 250), f"{BLOCKS}.mass_kg") == 250


def places(value, steps=()):
    """Steps of every place of a document, groups and lists too."""
    if steps:
        yield steps
    if isinstance(value, dict | list):
        items = value.items() if isinstance(value, dict) else enumerate(value)
        for key, inner in items:
            yield from places(inner, (*steps, str(key)))


def edits(data, document):
    """A path of a document and a value for it: a number, a copy of what is there, or none."""
    inside = {key: value for key, value in document.items() if key in ("changes", "conditions")}
    all_places = [*places(inside), ("water",)]
    steps = all_places[data.draw(st.integers(0, len(all_places) - 1))]
    if steps == ("water",):
        return "water", "fresh"
    there = value_at(document, ".".join(steps))
    value = data.draw(st.sampled_from([0.4321, there, None]))
    if value == 0.4321 and (isinstance(there, dict | list) or len(steps) < 4):
        value = there
    return ".".join(steps), value


def without_empty(value):
    if not isinstance(value, dict):
        return value
    kept = {key: without_empty(inner) for key, inner in value.items() if key != "options"}
    return {key: inner for key, inner in kept.items() if inner != {}}


@given(st.data())
def test_what_was_set_under_an_option_is_what_is_seen_under_it(data):
    plain = {**example(), "options": {"mine": {}, "other": {"set": {"water": "fresh"}}}}
    base = copy.deepcopy(plain)
    entries = [s for s in places({"changes": plain["changes"]}) if len(s) in (2, 4)]
    for steps in data.draw(st.lists(st.sampled_from(entries), max_size=3)):
        adds = plain["options"]["mine"].setdefault("adds", {})
        _, change, *rest = steps
        given_ = copy.deepcopy(value_at(plain, ".".join(steps)))
        if rest and rest[0] in ("removes", "parts", "adds", "moves"):
            adds.setdefault(change, {}).setdefault(rest[0], {})[rest[1]] = given_
        elif not rest:
            adds[data.draw(st.sampled_from([change, f"new-{change}"]))] = given_
    for _ in range(data.draw(st.integers(1, 6))):
        under = with_option(plain, "mine")
        path, value = edits(data, under)
        wanted = with_value(under, path, value)
        plain = with_option_value(plain, "mine", path, value)
        assert without_empty(with_option(plain, "mine")) == without_empty(wanted), path
        assert {k: v for k, v in plain.items() if k != "options"} == {
            k: v for k, v in base.items() if k != "options"
        }
        assert plain["options"]["other"] == {"set": {"water": "fresh"}}
