"""What would meet a missed target, tried by doing it; what is usual to ask."""

import pytest
from refits import assessed, demo_document, with_all

LEVEL = {"result": "trim_mm", "condition": "survey-state", "between": [-25, 25]}


def asked(target, **more):
    """The demo with one target, and her answer to it."""
    plain = with_all(demo_document(), {"targets": {"one": target}, **more})
    answer = assessed(plain)
    return plain, answer.targets[0]


@pytest.mark.parametrize(
    ("target", "bow"),
    [
        (LEVEL, False),
        (LEVEL | {"between": [300, 320]}, True),
        ({"result": "freeboards.aft", "condition": "departure", "at_least_mm": 1060}, False),
    ],
)
def test_a_weight_moved_as_proposed_brings_about_what_was_said(target, bow):
    plain, missed = asked(target)
    moves = missed.way_out.moves
    assert missed.way_out.direction == ("aft" if bow else "forward")
    assert moves
    for move in moves:
        place = [move.to_x_m, *value_at(plain, move.path)[1:]]
        _, then = asked(target, **{move.path: place})
        brings = move.value - missed.value
        assert then.value - missed.value == pytest.approx(brings, rel=0.1)
        low, high = target.get("between", (1060, 5000))
        assert move.is_enough == (low <= move.value <= high)


def value_at(plain, path):
    for key in path.split("."):
        plain = plain[key]
    return plain


def test_a_move_stops_at_its_range_or_within_the_bound():
    _, missed = asked(LEVEL)
    battery = next(m for m in missed.way_out.moves if m.name == "battery")
    assert battery.to_x_m == pytest.approx(3.5)
    _, missed = asked(LEVEL | {"between": [-25, 105]})
    battery = next(m for m in missed.way_out.moves if m.name == "battery")
    assert battery.is_enough
    assert 100.0 < battery.value < 105.0


def test_list_and_a_mark_amidships_name_what_weight_would_do():
    plain = demo_document()
    upright = {"result": "heel_deg", "condition": "survey-state", "between": [-0.1, 0.1]}
    _, listed = asked(upright)
    assert listed.way_out.direction == "to port"
    assert listed.way_out.moves == ()
    crate = {"mass_kg": 50.0, "plus_minus_kg": 0.0, "from": "weighed"}
    far = listed.way_out.moment_kgm / 50.0
    shifted = crate | {"at_m": [5.0, 0.0, 0.0], "to_m": [5.0, -far, 0.0]}
    _, then = asked(upright, **{"changes.ground-tackle.moves.crate": shifted})
    assert abs(then.value) < 0.1
    dry = {"result": "freeboards.midships", "condition": "survey-state", "at_least_mm": 1120}
    _, deep = asked(dry)
    assert deep.way_out.direction == "off"
    at = plain["survey"]["marks"]["midships"]["x_m"]
    ashore = {"mass_kg": deep.way_out.mass_kg, "at_m": [at, 0, 0], "from": "weighed"}
    _, then = asked(dry, **{"changes.ground-tackle.removes.ashore": ashore})
    assert then.value >= 1120


def test_what_is_usual_to_ask_leaves_out_what_is_asked_and_goes_with_her_length():
    answer = assessed(with_all(demo_document(), {"targets": {"one": LEVEL}}))
    usual = {(one.condition, one.result): one for one in answer.usual_targets}
    assert ("survey-state", "trim_mm") not in usual
    assert usual["departure", "trim_mm"].at_most == 25
    assert usual["departure", "heel_deg"].at_least == -0.5
    found = answer.condition("departure", "as_found").freeboards_at_marks[0]
    least = usual["departure", f"freeboards.{found.mark}"].at_least
    assert found.mean_mm - 60 < least < found.mean_mm - 40
    assert {one.stage for one in answer.usual_targets} == {"refit"}
