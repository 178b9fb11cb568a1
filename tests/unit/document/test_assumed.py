"""What is assumed: edits make values the owner's, and leave the others as they are."""

import copy
from pathlib import Path

import numpy as np
import pytest

from hullchange.comparison.differences import differences, merged
from hullchange.document.assumed import holds_assumed, is_assumed
from hullchange.document.options import with_option, with_option_value
from hullchange.document.paths import value_at, with_value
from hullchange.document.reading import document_of, read_document
from hullchange.document.yaml_edit import edited_text
from hullchange.document.yaml_text import parsed
from hullchange.errors import DocumentError
from hullchange.start.invented import starting_document

SALTMARROW = Path(__file__).parents[3] / "examples/saltmarrow.yaml"
TEXT = starting_document("Dot")
SEED = 15


@pytest.fixture
def plain():
    return parsed(TEXT).document()


def leaves(value, path=""):
    """Path of every number of a plain value."""
    if isinstance(value, dict | list):
        entries = value.items() if isinstance(value, dict) else enumerate(value)
        for key, inner in entries:
            yield from leaves(inner, f"{path}.{key}" if path else str(key))
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield path


def point_of(path):
    """The point a number belongs to, as far as it belongs to one."""
    head, _, last = path.rpartition(".")
    return head if last.isdigit() else path


def assumed_leaves(plain):
    return {path for path in leaves(plain) if is_assumed(path, plain.get("assumed", ()))}


def test_a_document_without_assumed_values_is_hashed_as_before():
    document = read_document(SALTMARROW).document
    assert "assumed" not in document.model_dump_json(by_alias=True)
    with_some = document.model_copy(update={"assumed": ("hull.lines",)})
    assert "assumed" in with_some.model_dump_json(by_alias=True)


def test_every_value_of_the_invented_boat_is_listed(plain):
    own = {path for path in leaves(plain) if not path.startswith(("format", "assumed"))}
    assert own - assumed_leaves(plain) == {"survey.plus_minus_m"}  # common practice, no boat's


def test_a_number_that_is_set_is_hers_and_all_others_stay_assumed(plain):
    every = sorted(assumed_leaves(plain))
    draw = np.random.default_rng(SEED)
    for path in draw.choice(every, 80, replace=False):
        before = assumed_leaves(plain)
        after = with_option_value(plain, None, path, value_at(plain, path) + 0.01)
        own = {other for other in before if point_of(other) == point_of(path)}
        # a deviation goes with the figure whose entry is split
        own |= {other for other in before if ".plus_minus" in other}
        left = assumed_leaves(after)
        assert path not in left
        assert before - own <= left <= before, path
        document_of(after)


def test_numbers_set_one_after_another_end_with_nothing_assumed(plain):
    for path in sorted(assumed_leaves(plain)):
        plain = with_option_value(plain, None, path, value_at(plain, path))
    assert assumed_leaves(plain) == set()
    assert all(
        path.startswith(("hull.plating", "changes")) for path in plain.get("assumed", ())
    )


@pytest.mark.parametrize("path", ["survey.vcg", "hull.lines", "hull", "survey", "tanks.water"])
def test_a_group_that_is_set_whole_is_hers(plain, path):
    after = with_option_value(plain, None, path, copy.deepcopy(value_at(plain, path)))
    assert not holds_assumed(path, after["assumed"])
    assert len(after["assumed"]) < len(plain["assumed"])


def test_of_a_line_set_whole_the_points_that_stayed_are_still_guessed(plain):
    points = plain["hull"]["lines"]["chine"]["points_m"]
    new = [*points[:4], [3.0, 1.03, -0.11], *points[5:]]
    after = with_option_value(plain, None, "hull.lines.chine.points_m", new)
    chine = [p for p in after["assumed"] if p.startswith("hull.lines.chine")]
    expected = [f"hull.lines.chine.points_m.{k}" for k in range(len(points)) if k != 4]
    assert sorted(chine) == sorted(expected)
    again = with_option_value(after, None, "hull.lines.chine.points_m", [*new, [9.0, 0.5, 0.3]])
    assert set(again["assumed"]) == set(after["assumed"])


def test_a_point_taken_away_moves_those_behind_it(plain):
    at_four = with_option_value(plain, None, "hull.lines.chine.points_m.4.y", 1.03)
    after = with_option_value(at_four, None, "hull.lines.chine.points_m.1", None)
    points = after["hull"]["lines"]["chine"]["points_m"]
    assert points[3][1] == 1.03
    assumed = after["assumed"]
    assert [
        is_assumed(f"hull.lines.chine.points_m.{k}", assumed) for k in range(len(points))
    ] == [k != 3 for k in range(len(points))]


def test_something_new_in_an_assumed_group_is_hers(plain):
    after = with_option_value(plain, None, "changes.bow", {"stage": "proposed"})
    assert is_assumed("changes.drive.removes.engine.mass_kg", after["assumed"])
    assert not is_assumed("changes.bow", after["assumed"])


def test_what_is_taken_away_is_assumed_no_more(plain):
    after = with_option_value(plain, None, "tanks", {})
    assert "tanks" not in after["assumed"]
    empty = with_option_value(plain, None, "assumed", None)
    assert "assumed" not in empty


def test_the_list_can_be_set_as_it_stands(plain):
    after = with_option_value(plain, None, "assumed", ["survey.vcg"])
    assert after["assumed"] == ["survey.vcg"]


def test_what_an_option_sets_is_hers_under_the_option_alone(plain):
    plain = with_value(plain, "options", {"inclined": {"set": {"survey.vcg.z_m": 0.11}}})
    assert not is_assumed("survey.vcg.z_m", with_option(plain, "inclined")["assumed"])
    edited = with_option_value(plain, "inclined", "hull.deck.camber_m", 0.07)
    assert edited["assumed"] == plain["assumed"]
    seen = with_option(edited, "inclined")["assumed"]
    assert not is_assumed("hull.deck.camber_m", seen)
    assert is_assumed("hull.deck.at_half_breadth_m", seen)


def test_an_edit_keeps_the_comments_of_the_file(plain):
    after = with_option_value(plain, None, "hull.lines.sheer.points_m.2.z", 0.99)
    text = edited_text(TEXT, after)
    assert parsed(text).document() == after
    gone = [line for line in TEXT.splitlines() if "#" in line and line not in text.splitlines()]
    assert gone == []


def test_edits_of_two_people_are_merged_and_both_make_values_hers(plain):
    ours = with_option_value(plain, None, "survey.vcg.z_m", 0.07)
    theirs = with_option_value(plain, None, "hull.lines.sheer.points_m.2.z", 0.97)
    theirs = with_option_value(
        theirs, None, "hull.deck", {"camber_m": 0.06, "at_half_breadth_m": 1}
    )
    both = merged(plain, ours, theirs)
    assert assumed_leaves(both) == assumed_leaves(ours) & assumed_leaves(theirs)
    added = {**ours, "assumed": [*ours["assumed"], "water"]}
    assert "water" in merged(plain, added, theirs)["assumed"]
    nothing = {key: value for key, value in theirs.items() if key != "assumed"}
    assert "assumed" not in merged(plain, ours, nothing)


def test_a_value_that_differs_is_told_and_the_list_only_by_itself(plain):
    after = with_option_value(plain, None, "survey.vcg.z_m", 0.07)
    assert [change.path for change in differences(plain, after)] == ["survey.vcg.z_m"]
    confirmed = {**plain, "assumed": ["hull.lines"]}
    assert [change.path for change in differences(plain, confirmed)] == ["assumed"]


@pytest.mark.parametrize(
    ("path", "named"),
    [
        ("hull.lins", "lines"),
        ("survey.vcg.z", "z_m"),
        ("survey.marks.aft.freeboard_m.left", "port"),
        ("everything", "known"),
    ],
)
def test_a_path_the_grammar_does_not_know_is_refused(plain, path, named):
    with pytest.raises(DocumentError) as refusal:
        document_of({**plain, "assumed": ["hull.lines", path]})
    (fault,) = refusal.value.faults
    assert (fault.code, fault.place) == ("unknown-name", "assumed.1")
    assert named in fault.sentence


@pytest.mark.parametrize(
    "path",
    [
        "survey.inclining.readings.0.heel_deg",
        "hull.lines.bilge.points_m.3",
        "existing.house.side_height_m",
        "changes.drive.removes.keel.mass_kg",
        "hull.appendages.skeg.half_thickness_m",
    ],
)
def test_a_value_that_is_gone_is_no_fault(plain, path):
    assert document_of({**plain, "assumed": [path]}).assumed == (path,)


@pytest.mark.parametrize("wrong", [5, "hull.lines", [5], [""], {"hull": True}])
def test_a_list_of_something_else_is_refused_in_words(plain, wrong):
    with pytest.raises(DocumentError) as refusal:
        document_of({**plain, "assumed": wrong})
    assert all(fault.place.startswith("assumed") for fault in refusal.value.faults)
