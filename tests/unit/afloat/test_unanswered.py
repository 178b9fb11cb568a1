"""One bad condition does not take the others: it is answered under its own name."""

import json
from functools import cache

import pytest
from refits import (
    assessed,
    barge_document,
    boat,
    demo_document,
    row,
    weight,
    with_all,
)

from hullchange.answer.assessment import Assessment, ConditionResult
from hullchange.assess.assessment import assessment
from hullchange.check_pack.files import check_pack
from hullchange.check_pack.values import check_values
from hullchange.check_pack.weight_margin import weight_margin
from hullchange.comparison.comparison import compared
from hullchange.errors import ModelError
from hullchange.explain.explain import explanation, explanations
from hullchange.present.export import exported_tables
from hullchange.present.tables import tables

LOADS = {
    "heavy": (90_000, [5, 0, 0.5]),
    "high": (3000, [5, 0, 14.0]),
    "one-side": (3000, [5, 1.8, 1.2]),
    "end-on": (9000, [11, 0, 1.0]),
}
SUNK, UNFOLLOWED = ("heavy",), ("end-on",)


@cache
def bad_document():
    """Saltmarrow with conditions in which she sinks, capsizes, lists, goes over her end."""
    return with_all(
        demo_document(),
        {
            f"conditions.{name}": {"loads": {"stone": weight(mass, at)}}
            for name, (mass, at) in LOADS.items()
        }
        | {"conditions.heavy-flooded": {"like": "heavy", "floods": ["cockpit"]}}
        | {"targets.dry": {"result": "trim_mm", "condition": "heavy", "at_most_mm": 25}},
    )


@cache
def bad():
    return assessed(bad_document())


def places_of(answer, code):
    return {f.place for f in answer.findings if f.code == code}


def test_every_other_condition_is_answered_as_without_them():
    alone = assessed(demo_document())
    for one in alone.conditions:
        assert row(bad(), one.id, one.stage) == one
    assert bad().changes == alone.changes
    assert bad().waterfall == alone.waterfall


def test_a_boat_that_sinks_has_null_for_every_result_and_a_finding_under_her_name():
    answer = json.loads(bad().model_dump_json())
    (sunk,) = (c for c in answer["conditions"] if (c["id"], c["stage"]) == ("heavy", "refit"))
    assert set(ConditionResult.model_fields) <= set(sunk)
    nothing = {name for name, value in sunk.items() if value is None}
    assert set(sunk) - nothing == {"id", "stage", "unanswered", "code"}
    assert sunk["code"] == "sinks"
    assert places_of(bad(), "sinks") == {"conditions.heavy", "conditions.heavy-flooded"}
    finding = next(f for f in bad().findings if f.code == "sinks")
    assert finding.severity == "fail"
    assert "in condition heavy has no results. She sinks:" in finding.sentence


def test_one_that_cannot_be_followed_keeps_what_is_known_upright():
    here = row(bad(), "end-on")
    assert here.displacement_kg > 20_000
    assert here.righting_levers is None
    assert here.range_deg is None
    assert here.criteria == ()
    assert here.not_followed
    assert places_of(bad(), "levers-incomplete") == {"conditions.end-on"}


def test_one_that_capsizes_is_answered_as_such():
    assert abs(row(bad(), "high").heel_deg) > 170.0
    assert places_of(bad(), "unstable-upright") >= {"conditions.high"}
    assert not places_of(bad(), "unstable-upright") & {
        "conditions.departure",
        "conditions.one-side",
    }


def test_what_is_answered_is_read_again_as_it_was():
    assert Assessment.model_validate_json(bad().model_dump_json()) == bad()


def test_a_target_in_a_condition_she_sinks_in_is_missed():
    target = next(t for t in bad().targets if t.id == "dry")
    assert target.value is None
    finding = next(f for f in bad().findings if f.place == "targets.dry")
    assert "she does not float" in finding.sentence


def test_every_figure_still_opens_and_those_that_are_not_there_say_so():
    document = boat(bad_document()).document
    assert sum(1 for _ in explanations(bad(), document)) > 1000
    for path in ("conditions.heavy.gm_m", "conditions.heavy.refit.plus_minus.gm_m"):
        with pytest.raises(ModelError) as refused:
            explanation(bad(), document, path)
        assert refused.value.code == "no-value"


def test_tables_and_exports_name_her():
    assert "heavy, refit: no results. She sinks:" in tables(bad())
    table = exported_tables(bad())["conditions"]
    reasons = {r[0]: r[-1] for r in table.rows if r[1] == "refit"}
    assert reasons["heavy"].startswith("She sinks")
    assert reasons["departure"] is None
    assert all(len(r) == len(table.columns) for r in table.rows)


def test_the_check_pack_is_made_without_her():
    files = check_pack(check_values(boat(bad_document())))
    assert "heavy,refit" in files["conditions.csv"]
    assert "heavy,refit" in files["growth-margin.csv"]
    assert "heavy,refit" not in files["worst-fills.csv"]
    assert "departure,refit" in files["worst-fills.csv"]


def test_the_limits_leave_her_out_and_say_so():
    margin = weight_margin(boat(with_all(bad_document(), dict.fromkeys(UNFOLLOWED_CONDITIONS))))
    assert "heavy" not in {dot.condition for dot in margin.dots}
    assert any("because she does not float: heavy" in remark for remark in margin.remarks)


UNFOLLOWED_CONDITIONS = ("conditions.end-on", "conditions.high", "conditions.one-side")


def test_two_answers_are_compared_where_one_sinks():
    sound = with_all(bad_document(), {"conditions.heavy.loads.stone.mass_kg": 100})
    document, other = (boat(plain).document for plain in (bad_document(), sound))
    rows = compared(("old", document, bad()), ("new", other, assessed(sound))).rows
    gained = [r for r in rows if r.path == "conditions.heavy" and r.where == "heavy, refit"]
    assert gained[0].before is None
    assert gained[0].after > 10_000


def test_the_reference_condition_must_float():
    plain = {**bad_document(), "reference_condition": "heavy"}
    with pytest.raises(ModelError) as refused:
        assessed(plain)
    assert (refused.value.code, refused.value.place) == ("sinks", "conditions.heavy")
    assert "reference_condition" in refused.value.sentence


def test_a_boat_that_sinks_without_a_change_has_no_effect_of_it():
    # of 123 t that float a barge 40 t come off and 100 t go on: without the first she sinks
    stone = {"removes": {"stone": weight(40_000, (6, 0, -0.5))}}
    more = {"adds": {"engine": weight(100_000, (6, 0, -0.9))}}
    plain = barge_document(12, 4, 1, 2.5, 0.2, changes={"off": stone, "on": more})
    answer = assessed(plain)
    off, on = answer.changes
    assert off.effect is None
    assert on.effect.sinkage_mm > 1000.0
    assert answer.waterfall.leave_one_out_remainder is None
    assert answer.waterfall.total.sinkage_mm > 1000.0


def test_only_the_condition_that_is_looked_at():
    answer = assessment(boat(bad_document()), only="heavy", levers=None)
    assert [c.code for c in answer.conditions] == ["sinks", "sinks"]
    assert answer.lcf_in("heavy") == answer.hull.lcf_m
