"""What differs between two answers, by group; small differences are marked."""

import pytest

from hullchange.assess.assessment import assessment
from hullchange.boat.boat import boat_of
from hullchange.comparison.comparison import compared
from hullchange.document.paths import with_value
from hullchange.document.reading import document_of
from hullchange.document.yaml_text import parsed
from hullchange.start.invented import starting_document

MOTOR = "changes.drive.adds.motor.mass_kg"
SHELF = "changes.drive.parts.battery-shelf"


def assessed_boat(name, tmp_path, **values):
    """Name, document and answer of the starting boat with other values."""
    plain = parsed(starting_document("Dot")).document()
    for path, value in values.items():
        plain = with_value(plain, path, value)
    boat = boat_of(document_of(plain, tmp_path))
    return name, boat.document, assessment(boat)


@pytest.fixture(scope="module")
def first(tmp_path_factory):
    return assessed_boat("revision 1", tmp_path_factory.mktemp("first"))


def rows_of_group(comparison, group):
    return [row for row in comparison.rows if row.group == group]


def test_nothing_differs(first):
    comparison = compared(first, ("revision 2", *first[1:]))
    assert comparison.rows == ()
    assert comparison.sentence == "No differences: same document, same results."


def test_a_weight_and_what_it_does(first, tmp_path):
    comparison = compared(first, assessed_boat("the working copy", tmp_path, **{MOTOR: 60.0}))
    assert (comparison.before, comparison.after) == ("revision 1", "the working copy")
    [weight] = rows_of_group(comparison, "weights")
    assert (weight.path, weight.before, weight.after, weight.unit) == (MOTOR, 45.0, 60.0, "kg")
    assert weight.where == "drive: motor"
    assert (
        rows_of_group(comparison, "dimensions")
        == rows_of_group(comparison, "parts")
        == rows_of_group(comparison, "plates")
        == []
    )
    rows = rows_of_group(comparison, "results")
    [displacement] = [
        r for r in rows if r.what == "displacement" and r.where == "cruising, refit"
    ]
    assert displacement.after - displacement.before == pytest.approx(15.0)
    assert not displacement.is_small
    assert not [r for r in rows if r.where == "hull"]
    assert [r.group for r in comparison.rows] == sorted(
        (r.group for r in comparison.rows), key=["weights", "results", "criteria"].index
    )


def test_a_small_difference_is_folded(first, tmp_path):
    comparison = compared(first, assessed_boat("b", tmp_path, **{MOTOR: 45.2}))
    assert {row.is_small for row in rows_of_group(comparison, "results")} == {True}
    assert not rows_of_group(comparison, "weights")[0].is_small


def test_steel_that_changes_comes_and_goes(first, tmp_path):
    thicker = compared(first, assessed_boat("b", tmp_path, **{f"{SHELF}.thickness_mm": 5}))
    assert [r.path for r in rows_of_group(thicker, "dimensions")] == [f"{SHELF}.thickness_mm"]
    assert "mass" in [r.what for r in rows_of_group(thicker, "parts")]
    assert "thickness" in [r.what for r in rows_of_group(thicker, "plates")]
    without = assessed_boat("b", tmp_path, **{"changes.drive.parts": {}})
    [gone] = rows_of_group(compared(first, without), "parts")
    assert (gone.path, gone.after) == ("parts.battery-shelf", None)
    [new] = rows_of_group(compared(without, first), "parts")
    assert new.before is None


def test_another_version_is_reported(first):
    name, document, assessed = first
    later = assessed.model_copy(update={"hullchange": "9.9.9"})
    answer = compared(first, (name, document, later))
    assert [(r.group, r.after) for r in answer.rows] == [("tool", "9.9.9")]
    assert "another version" in answer.sentence


def test_a_formula_that_changed_is_named_once(first):
    name, document, assessed = first
    refit = [c for c in assessed.conditions if c.criteria][-1]
    criterion = refit.criteria[0]
    other = criterion.model_copy(update={"formula": "another", "state": "not_met"})
    conditions = tuple(
        c.model_copy(update={"criteria": (other, *c.criteria[1:])}) if c is refit else c
        for c in assessed.conditions
    )
    answer = compared(
        first, (name, document, assessed.model_copy(update={"conditions": conditions}))
    )
    assert [r.what for r in rows_of_group(answer, "formulas")] == [
        f"{criterion.title}: formula"
    ]
    if criterion.state != "not_met":
        assert [r.after.startswith("not met") for r in rows_of_group(answer, "criteria")] == [
            True
        ]


def test_freeboards_are_shown_as_they_were_and_as_they_are(first, tmp_path):
    heavier = assessed_boat("b", tmp_path, **{MOTOR: 400.0})
    rows = [
        r for r in rows_of_group(compared(first, heavier), "results") if "freeboard" in r.what
    ]
    pairs = {(r.path, r.where, r.what): (r.before, r.after) for r in rows}
    assert pairs
    for (path, where, what), pair in pairs.items():
        found = []
        for _, _, answer in (first, heavier):
            (here,) = [
                c
                for c in answer.conditions
                if f"conditions.{c.id}.freeboards" == path
                and where.endswith({"as_found": "as found"}.get(c.stage, c.stage))
            ]
            known = {f"freeboard {f.mark}, {f.side}": f for f in here.freeboards}
            found.append(known[what].freeboard_mm)
        assert pair == pytest.approx(tuple(found))
        assert abs(pair[1] - pair[0]) > 1.0
