"""What differs between two documents, and one made of two people's edits."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hullchange.comparison.differences import differences, merged
from hullchange.errors import ModelError

BASE = {"a": {"x": 1, "y": [1, 2]}, "b": {"c": {"d": "word"}}, "flag": True}


def rows_between(before, after):
    return [(d.path, d.before, d.after) for d in differences(before, after)]


def test_each_value_by_its_path():
    after = {"a": {"x": 2, "y": [1, 3]}, "b": {"e": 5}, "flag": 1}
    assert rows_between(BASE, after) == [
        ("a.x", 1, 2),
        ("a.y", [1, 2], [1, 3]),
        ("b.e", None, 5),
        ("b.c", {"d": "word"}, None),
        ("flag", True, 1),
    ]


def test_order_and_spelling_of_a_number_are_no_difference():
    assert rows_between(BASE, {"flag": True, **BASE, "a": {"y": [1.0, 2], "x": 1.0}}) == []


def test_edits_of_different_things_are_merged():
    ours = {**BASE, "a": {"x": 2, "y": [1, 2]}, "new": {"n": 1}}
    theirs = {"a": {"x": 1, "y": [9]}, "b": BASE["b"]}
    assert merged(BASE, ours, theirs) == {
        "a": {"x": 2, "y": [9]},
        "b": BASE["b"],
        "new": {"n": 1},
    }


def test_the_same_edit_on_both_sides_is_one():
    ours = {**BASE, "flag": False}
    assert merged(BASE, ours, ours) == ours


@pytest.mark.parametrize(
    ("ours", "theirs", "place"),
    [
        ({"a": {"x": 2}}, {"a": {"x": 3}}, "a x"),
        ({"a": {"x": 2}}, {}, "a x"),
        ({}, {"a": {"x": 2}}, "a"),
        ({"a": {"x": 1, "n": {"p": 1}}}, {"a": {"x": 1, "n": {"p": 2}}}, "a n"),
    ],
)
def test_edits_that_meet_are_refused_and_named(ours, theirs, place):
    with pytest.raises(ModelError) as refused:
        merged({"a": {"x": 1}}, ours, theirs)
    assert refused.value.code == "edited-on-both-sides"
    assert f" {place}, " in refused.value.sentence


def test_of_many_that_meet_some_are_named():
    base, ours, theirs = ({str(k): v for k in range(7)} for v in (0, 1, 2))
    with pytest.raises(ModelError, match="0, 1, 2, 3 and 3 more"):
        merged(base, ours, theirs)


LEAVES = st.one_of(st.integers(0, 3), st.lists(st.integers(0, 2), max_size=2))
TREES = st.dictionaries(
    st.sampled_from("abc"),
    st.recursive(LEAVES, lambda inner: st.dictionaries(st.sampled_from("abc"), inner)),
)


@given(TREES, TREES)
def test_one_side_alone_is_taken_whole(base, edited):
    assert merged(base, edited, base) == edited
    assert merged(base, base, edited) == edited
    assert merged(base, edited, edited) == edited
    assert (differences(base, edited) == ()) == (base == edited)
