"""What is assumed: what it costs, how many figures are hers, what is not judged."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from refits import demo, demo_answer

from hullchange.assess.assessment import assessment, document_hash
from hullchange.assess.check import base_design_findings
from hullchange.boat.boat import boat_of
from hullchange.boat.figures import figures_of
from hullchange.check_pack.weight_margin import weight_margin
from hullchange.document.options import with_option_value
from hullchange.document.paths import with_value
from hullchange.document.reading import document_of
from hullchange.document.yaml_text import parsed
from hullchange.explain.explain import explanation, explanations
from hullchange.geometry.frame import WaterPlane
from hullchange.hull.shape_error import GUESSED_SHARE, shape_errors
from hullchange.start.first_document import first_document
from hullchange.start.invented import starting_document
from hullchange.start.proportions import FirstDimensions

KETCH = FirstDimensions("canoe-stern", 12.5, 10.4, 3.7, 14_000.0, 1.8, (1.7, 1.1, 1.3), 0.0)
LEVEL = WaterPlane(np.array([0.0, 0.0, 1.0]), 0.0)


def answered(plain, levers=None):
    """Boat and answer; with levers and criteria where ``levers`` is a map."""
    boat = boat_of(document_of(plain))
    return boat, assessment(boat, levers=levers)


@cache
def guessed():
    """Plain values, boat and answer of a boat of which only the dimensions are known."""
    plain = parsed(first_document("Wren", KETCH)).document()
    return plain, *answered(plain)


@cache
def invented():
    """The same of the boat a document starts with."""
    plain = parsed(starting_document("Dot")).document()
    return plain, *answered(plain)


@cache
def all_hers():
    """The guessed boat as if every figure of hers had been measured."""
    plain = {key: value for key, value in guessed()[0].items() if key != "assumed"}
    plain = with_value(plain, "hull.from", {"source": "points"})
    return plain, *answered(plain, map)


def by_path(answer):
    return {one.path: one for one in answer.assumed}


def stability_criteria(answer):
    return [rule for row in answer.floats for rule in row.criteria]


def test_a_boat_of_which_nothing_is_assumed_is_answered_as_before():
    boat, answer = demo()[0], demo_answer()
    assert answer.assumed == ()
    own = answer.own_figures
    assert own.yours == own.all == len(figures_of(boat.document)) > 100
    assert own.next is None
    assert "rests-on-assumed" not in {f.code for f in answer.findings}


def test_what_counts_as_a_figure_is_what_has_to_be_measured():
    document = document_of(
        {
            **{"format": 1, "boat": {"name": "Box"}},
            "hull": {
                **{"kind": "offsets", "length_waterline_m": 8},
                "lines": {
                    "keel": {"kind": "fair", "points_m": [[0, 0, -0.5], [8, 0, -0.5]]},
                    "bilge": {"kind": "chine", "points_m": [[0, 1, -0.5], [8, 1, -0.5]]},
                    "sheer": {"kind": "sheer", "points_m": [[0, 1, 1], [8, 1, 1]]},
                },
            },
            "survey": {
                "marks": {
                    name: {
                        **{"x_m": x, "sheer_z_m": 1, "plus_minus_m": 0.01},
                        "freeboard_m": {"port": 1, "starboard": 1},
                    }
                    for name, x in (("forward", 1), ("aft", 7))
                },
                "vcg": {"z_m": 0, "plus_minus_m": 0.1, "from": "guessed"},
            },
            "tanks": {"water": {"capacity_l": 50, "at_m": [3, 0, 0], "contents": "fresh"}},
            "changes": {"bow": {"adds": {"anchor": {"mass_kg": 20, "at_m": [0, 0, 1]}}}},
        }
    )
    # waterline 1, keel 2 heights, bilge and sheer 4 each, 4 of each mark, height of G 1, tank 4
    assert len(figures_of(document)) == 1 + 2 + 8 + 8 + 1 + 4


def test_each_assumption_costs_its_share_of_the_variance():
    answer = guessed()[2]
    shares, costs = {}, {}
    for share in answer.floats[0].shares.gm_m:
        group = ".".join(share.cause.split(".")[:2])
        shares[group] = shares.get(group, 0.0) + share.share_percent
    for path in ("hull.lines", "hull.appendages", "survey.vcg"):
        costs[path] = by_path(answer)[path].plus_minus.gm_m ** 2
    ratios = [costs[path] / shares[path] for path in costs]
    assert ratios == pytest.approx([ratios[0]] * len(ratios), rel=1e-3)
    known = [one.plus_minus.displacement_kg for one in answer.assumed if one.plus_minus]
    assert np.hypot.reduce(known) == pytest.approx(
        answer.floats[0].plus_minus.displacement_kg, rel=0.05
    )


def test_the_worst_comes_first_and_is_what_to_measure_next():
    answer = guessed()[2]
    known = [one.plus_minus.gm_m for one in answer.assumed if one.plus_minus is not None]
    assert known == sorted(known, reverse=True)
    assert answer.assumed[0].path == "hull.lines"
    assert answer.own_figures.next == answer.assumed[0]
    assert by_path(answer)["survey.marks"].words == "the places of the freeboard marks"


def test_an_invented_hull_is_measured_first_and_says_nothing_of_its_error():
    answer = invented()[2]
    assert answer.own_figures.yours == 0
    assert [one.path for one in answer.assumed[:2]] == ["hull.lines", "survey.marks"]
    assert answer.assumed[0].plus_minus is None


def test_figures_and_assumptions_follow_what_is_entered():
    plain, _, before = guessed()
    plain = with_option_value(
        plain,
        None,
        "survey.vcg",
        {
            **{"z_m": 0.12, "plus_minus_m": 0.02, "from": "inclining"},
        },
    )
    _, answer = answered(plain)
    assert answer.own_figures.yours == before.own_figures.yours + 1
    assert answer.own_figures.all == before.own_figures.all
    assert "survey.vcg" not in by_path(answer)


def test_one_line_that_is_hers_leaves_the_others_each_with_its_cost():
    plain, _, before = guessed()
    line = plain["hull"]["lines"]["sheer"]["points_m"]
    moved = [[x, y, z + 0.001] for x, y, z in line]
    _, answer = answered(with_option_value(plain, None, "hull.lines.sheer.points_m", moved))
    lines = {p: one for p, one in by_path(answer).items() if p.startswith("hull.lines.")}
    assert set(lines) == {
        f"hull.lines.{name}" for name in plain["hull"]["lines"] if name != "sheer"
    }
    together = np.sqrt(sum(one.plus_minus.gm_m**2 for one in lines.values()))
    assert 0.0 < together <= by_path(before)["hull.lines"].plus_minus.gm_m * 1.01
    assert sum(one.figures for one in lines.values()) < by_path(before)["hull.lines"].figures


def test_what_is_gone_is_not_answered():
    plain = guessed()[0]
    _, answer = answered({**plain, "assumed": ["tanks.water", "hull.lines.bilge"]})
    assert answer.assumed == ()
    assert answer.own_figures.yours == answer.own_figures.all


REASONS = {
    "hull.lines": "assumed lines of the hull",
    "hull.appendages.keel.outline_m": "an assumed keel or rudder",
    "survey.marks.aft.freeboard_m.port": "assumed freeboards",
    "survey.vcg": "an assumed height of the centre of gravity",
}


@pytest.mark.slow
@pytest.mark.parametrize("path", REASONS)
def test_no_criterion_is_judged_on_an_assumption_and_each_says_why(path):
    plain = all_hers()[0]
    judged = {r.id for r in stability_criteria(all_hers()[2]) if r.state != "to_be_confirmed"}
    assert judged
    _, answer = answered({**plain, "assumed": [path]}, map)
    for rule in stability_criteria(answer):
        assert rule.state == "to_be_confirmed"
        if rule.value is not None:
            assert (
                rule.remarks[0]
                == f"Depends on {REASONS[path]}: not judged until that is measured."
            )
    before = {f.code for f in all_hers()[2].findings}
    assert {f.code for f in answer.findings} - before == {"rests-on-assumed"}


@pytest.mark.parametrize("path", ["hull.appendages.keel", "survey.vcg"])
def test_targets_and_weight_margin_are_to_be_confirmed_like_the_criteria(path):
    condition = next(iter(all_hers()[0]["conditions"]))
    target = {"result": "gm_m", "condition": condition, "boat": "refit", "at_least": 90.0}
    plain = {**all_hers()[0], "targets": {"stiff": target}}
    boats = {}
    for assumed in ([], [path]):
        boat, answer = answered({**plain, "assumed": assumed} if assumed else plain)
        (judged,) = answer.targets
        missed = [f for f in answer.findings if f.place == "targets.stiff"]
        boats[bool(assumed)] = (judged, missed, weight_margin(boat))
    sure, doubtful = boats[False], boats[True]
    assert (sure[0].state, len(sure[1])) == ("not_met", 1)
    assert (doubtful[0].state, doubtful[1]) == ("to_be_confirmed", [])
    assert doubtful[0].value == sure[0].value
    assert any(line.can_be_judged for line in sure[2].lines)
    assert not any(line.can_be_judged for line in doubtful[2].lines)
    assert doubtful[2].remarks[0].startswith("Depends on")
    assert all(room.sentence.startswith("To be confirmed") for room in doubtful[2].rooms)


@pytest.mark.parametrize("path", ["hull.deck", "survey.marks.aft.x_m", "hull.plating", "tanks"])
def test_what_stability_hardly_rests_on_leaves_criteria_judged(path):
    plain = all_hers()[0]
    _, answer = answered({**plain, "assumed": [path]}, map)
    states = [rule.state for rule in stability_criteria(answer)]
    assert states == [rule.state for rule in stability_criteria(all_hers()[2])]


def test_an_assumed_keel_widens_the_plus_minus_and_moves_no_figure():
    plain, _, hers = all_hers()
    _, answer = answered({**plain, "assumed": ["hull.appendages.keel"]})
    before, after = hers.floats[0], answer.floats[0]
    assert after.gm_m == before.gm_m
    cost = by_path(answer)["hull.appendages.keel"].plus_minus
    assert after.plus_minus.gm_m**2 == pytest.approx(
        before.plus_minus.gm_m**2 + cost.gm_m**2, rel=1e-6
    )
    assert after.plus_minus.displacement_kg > before.plus_minus.displacement_kg


def test_the_cost_of_a_keel_is_that_of_a_thicker_one():
    """A second way: the keel built thicker, she surveyed and floated anew."""
    plain, _, answer = guessed()
    thicker = [
        [at, half * (1.0 + GUESSED_SHARE)]
        for at, half in plain["hull"]["appendages"]["keel"]["half_thickness_m"]
    ]
    path = "hull.appendages.keel.half_thickness_m"
    _, other = answered(with_value(plain, path, thicker))
    was, now = answer.floats[0], other.floats[0]
    only = with_value(plain, "assumed", ["hull.appendages.keel"])
    cost = by_path(answered(only)[1])["hull.appendages.keel"].plus_minus
    assert now.displacement_kg - was.displacement_kg == pytest.approx(
        cost.displacement_kg, rel=0.06
    )
    assert abs(now.gm_m - was.gm_m) == pytest.approx(cost.gm_m, rel=0.1)


def test_errors_of_guessed_appendages_are_the_last_and_by_their_own_volume():
    boat = guessed()[1]
    errors = shape_errors(boat.hull)
    without = shape_errors(replace(boat.hull, guessed=()))
    assert errors.count == without.count + 2
    below = errors.below(LEVEL)
    assert below[:, : without.count] == pytest.approx(without.below(LEVEL))
    keel = boat.hull.appendages["keel"].surface
    assert below[0, -2] == pytest.approx(GUESSED_SHARE * keel.volume, rel=0.01)
    inertia = errors.waterplane_inertia(LEVEL, np.zeros(3))
    assert inertia.shape == (errors.count,)
    assert inertia[-2:].tolist() == [0.0, 0.0]


def test_one_note_says_how_much_is_hers_and_what_to_measure():
    for _, boat, answer in (guessed(), invented()):
        (note,) = [f for f in answer.findings if f.code == "rests-on-assumed"]
        own = answer.own_figures
        assert (note.severity, note.place) == ("note", "hull.lines")
        assert f"{own.yours} of {own.all} figures are yours" in note.sentence
        assert "Measure next: the hull's lines" in note.sentence
        assert len([f for f in base_design_findings(boat.document) if f.code == note.code]) == 1


def test_an_edit_of_what_is_assumed_leaves_the_boats_floats_where_they_are():
    plain, boat, _ = invented()
    changed = with_option_value(plain, None, "changes.drive.adds.motor.mass_kg", 45)
    other = boat_of(document_of(changed))
    assert document_hash(other) != document_hash(boat)
    assert other.unchanged.key == boat.unchanged.key


def test_explanations_say_what_is_assumed_down_to_what_rests_on_it():
    _, boat, answer = guessed()
    document = boat.document
    height = explanation(answer, document, "survey.vcg.z_m")
    assert (height.grade, height.assumed) == ("assumed", True)
    read_off = explanation(answer, document, "survey.marks.aft.freeboard_m.port")
    assert (read_off.grade, read_off.assumed) == ("measured", False)
    lines = explanation(answer, document, "hull.lines")
    assert {one.words for one in lines.inputs} == {"assumed"}
    gm = explanation(answer, document, "conditions.survey-state.as_found.gm_m")
    assert gm.assumed
    assert any(one.assumed for one in gm.inputs)
    constant = explanation(answer, document, "water.density_kg_m3")
    assert not constant.assumed


def test_a_figure_is_assumed_where_something_it_opens_to_is_and_only_there():
    plain = all_hers()[0]
    boat, answer = answered({**plain, "assumed": ["survey.vcg"]}, map)
    every = {one.path: one for one in explanations(answer, boat.document)}
    for one in every.values():
        if one.inputs and not one.path.startswith(("document.", "assumed.", "own_figures.")):
            assert one.assumed == any(every[given.path].assumed for given in one.inputs), (
                one.path
            )
    assert every["conditions.survey-state.as_found.gm_m"].assumed
    assert not every["hull.displacement_at_dwl_kg"].assumed


def test_every_figure_of_what_is_assumed_has_a_rule():
    _, boat, answer = guessed()
    every = {one.path for one in explanations(answer, boat.document)}
    assert {"assumed.hull.lines.plus_minus.gm_m", "own_figures.next.figures"} <= every
