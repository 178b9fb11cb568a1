"""Where the sea comes in first: headline, range, what each rule takes, what is found."""

from functools import cache

import numpy as np
import pytest
from refits import (
    assessed,
    barge_document,
    boat,
    changed,
    demo_answer,
    demo_document,
    row,
    weight,
    with_all,
)

from hullchange.afloat.stability import particulars, particulars_afloat
from hullchange.check_pack.weight_margin import weight_margin
from hullchange.check_pack.worst_cases import growth_margin
from hullchange.geometry.frame import WaterPlane

LENGTH, BEAM, DRAUGHT, DEPTH, VCG = 10.0, 3.0, 0.5, 1.3, 0.2


def hole(y, z, **fields):
    edge = {"edge_m": [[5.0, y, z]], "side": "both", "area_m2": 0.003, "closing": "none"}
    return {**edge, "leads_to": "hull", **fields}


# wall-sided: 0.25 m over the water 1.3 m out goes under at 10.9 degrees, 0.8 m at 31.6
PIPE, HIGH = hole(1.3, 0.25), hole(1.3, 0.75)
LID = hole(0.6, 0.8, closing="weathertight", area_m2=0.3, side="one")


def document(vcg=VCG, **openings):
    return changed(barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, vcg), openings=openings)


@cache
def with_pipe():
    return assessed(document(pipe=PIPE, lid=LID))


def at_reference(answer):
    return row(answer, answer.reference_condition)


def found(answer, code):
    return [f for f in answer.findings if f.code == code]


def test_the_headline_is_the_first_unclosed_opening_however_small():
    here = at_reference(with_pipe())
    assert here.critical_opening == "pipe"
    assert here.critical_opening in {o.id for o in here.openings}
    under = min(o.immersion_angle_deg for o in here.openings if o.id == "pipe")
    assert here.downflooding_angle_deg == under == here.range_deg
    assert under == pytest.approx(10.9, abs=0.05)
    assert here.vanishing_angle_deg > 60.0
    assert here.flooding_sentence.startswith("First unclosed opening under water: pipe, ")
    assert f"{under:.1f}° (30 cm², nothing closes it" in here.flooding_sentence
    lid = next(o for o in here.openings if o.id == "lid")
    assert (
        f"With boards out and hatches open the sea comes in through lid at "
        f"{lid.immersion_angle_deg:.1f}°."
    ) in here.flooding_sentence
    # 7.7 t: 51 cm2 may be under by the sailing code, the pipe has 30, with the lid 3030
    assert here.downflooding_by_area_deg == pytest.approx(lid.immersion_angle_deg)


def test_the_general_criteria_end_at_an_open_pipe_and_say_so():
    rules = {c.id: c for c in at_reference(with_pipe()).criteria}
    for name in ("imo-area-to-30", "imo-area-to-40", "imo-lever-from-30"):
        assert rules[name].state == "not_met"
        assert rules[name].downflooding_opening.startswith("pipe, ")
        assert rules[name].downflooding_by == "is-code"
        assert rules[name].downflooding_angle_deg == pytest.approx(10.9, abs=0.05)
    assert rules["imo-lever-from-30"].value == 0.0
    for name in ("mgn280-steady-heel", "inland-area-0-to-30", "iso12217-stix"):
        assert (rules[name].state, rules[name].grade) == ("to_be_confirmed", "C")
    assert rules["imo-initial-gm"].downflooding_by is None


def test_what_each_rule_takes_stands_with_its_source():
    by = {one.id: one for one in at_reference(with_pipe()).downflooding_by_rule}
    assert len(by) == 7
    for name in ("is-code", "46-cfr-170", "large-yacht", "eu-inland"):
        assert by[name].angle_deg == pytest.approx(10.9, abs=0.05), name
    assert by["uk-sailing"].opening == "lid, starboard"
    assert by["uk-sailing"].undecided == ("lid, starboard",)
    assert by["iso-12217-2"].grade == "C"
    assert all(one.source and one.openings and one.follows for one in by.values())


def test_an_opening_that_floods_early_is_a_failure_and_a_later_one_a_warning():
    (early,) = found(with_pipe(), "opening-floods-early")
    assert (early.severity, early.place) == ("fail", "openings.pipe")
    assert "10.9°" in early.sentence
    assert "40°" in early.sentence
    high = assessed(document(high=hole(0.6, 0.75)))
    (later,) = found(high, "opening-floods")
    assert later.severity == "warn"
    angle = at_reference(high).downflooding_angle_deg
    assert 40.0 < angle < at_reference(high).vanishing_angle_deg
    assert f"{angle:.1f}°" in later.sentence
    own_space = assessed(document(pipe={**PIPE, "progressive": False}))
    assert not found(own_space, "opening-floods-early")
    assert found(own_space, "opening-floods")
    closed = assessed(document(pipe={**PIPE, "closing": "weathertight"}))
    assert not found(closed, "opening-floods")
    assert not found(closed, "opening-floods-early")
    assert found(
        assessed(document(pipe={**PIPE, "closing": "weathertight", "regular": True})),
        "opening-floods-early",
    )


def test_a_closing_takes_it_out_of_range_headline_and_criteria():
    shut = at_reference(assessed(document(pipe={**PIPE, "closing": "weathertight"})))
    assert shut.critical_opening is shut.downflooding_angle_deg is None
    assert shut.range_deg == shut.vanishing_angle_deg
    assert shut.flooding_sentence.startswith("Every opening into the hull can be closed. With")
    assert shut.downflooding_angle_in_use_deg == pytest.approx(10.9, abs=0.05)
    idle = at_reference(
        assessed(document(pipe={**PIPE, "closing": "watertight", "regular": False}))
    )
    assert idle.downflooding_angle_in_use_deg is None
    assert idle.downflooding_angle_all_open_deg == pytest.approx(10.9, abs=0.05)
    assert idle.flooding_sentence == "Every opening into the hull can be closed."
    none = at_reference(assessed(document()))
    assert none.flooding_sentence.startswith("No openings are entered")
    assert none.range_deg == none.vanishing_angle_deg


def test_the_limits_of_vcg_read_the_same_definition():
    lines = {
        key: {line.id: line for line in weight_margin(boat(document(**openings))).lines}
        for key, openings in {
            "open": {"high": HIGH},
            "shut": {"high": {**HIGH, "closing": "weathertight"}},
            "own": {"high": {**HIGH, "progressive": False}},
        }.items()
    }
    code = "imo-area-30-to-40"
    assert max(lines["open"][code].vcg_m) < min(lines["shut"][code].vcg_m) - 0.02
    assert lines["own"][code].vcg_m == pytest.approx(lines["shut"][code].vcg_m)
    assert not lines["open"]["inland-area-0-to-40"].can_be_judged
    assert lines["open"][code].can_be_judged


def test_and_so_do_the_conditions_with_growth():
    for grown in growth_margin(boat(document(pipe=PIPE))):
        assert grown.critical_opening == "pipe"
        assert grown.range_deg == grown.downflooding_angle_deg < 11.0
        assert {c.state for c in grown.criteria if c.id == "imo-area-to-40"} == {"not_met"}


def test_saltmarrow_floods_through_the_vent_that_nothing_closes():
    here = row(demo_answer(), "departure")
    assert (here.critical_opening, here.critical_side) == ("motor-room-vent", "starboard")
    assert here.downflooding_angle_deg == pytest.approx(72.95, abs=0.02)
    assert here.range_deg == here.downflooding_angle_deg
    assert here.flooding_sentence == (
        "First unclosed opening under water: motor room vent, starboard, at "
        f"{here.downflooding_angle_deg:.1f}° (79 cm², "
        "nothing closes it, leads into the hull). With boards out and hatches open the sea "
        "comes in through fore dorade at 85.4°, companionway at 118.6°."
    )
    # 90.8 cm2: the vent and the dorade of one side together
    assert here.downflooding_by_area_deg == pytest.approx(85.4, abs=0.05)
    (vent,) = found(demo_answer(), "opening-floods")
    assert "it goes under at 60.4° in condition cockpit flooded" in vent.sentence


def height_at(answer, opening, heel_deg):
    """Height [m] of an edge above the water, off the curve's own attitude at a heel."""
    levers = answer.righting_levers
    trim, offset = (
        np.interp(heel_deg, levers.heel_deg, column)
        for column in (levers.trim_deg, levers.water_offset_m)
    )
    t, h = np.radians([trim, heel_deg])
    up = np.array([-np.sin(t), -np.cos(t) * np.sin(h), np.cos(t) * np.cos(h)])
    return float((np.array(opening.edge_m) @ up).min() - offset)


CLOSINGS = ("none", "weathertight", "watertight")


@pytest.mark.parametrize("seed", range(8))
def test_any_boat_with_any_openings_says_one_thing_in_every_place(seed):
    draw = np.random.default_rng(seed)
    length, beam = draw.uniform(6.0, 14.0), draw.uniform(2.2, 4.0)
    draught, freeboard = draw.uniform(0.4, 1.0), draw.uniform(0.6, 1.4)
    holes = {
        f"hole-{k}": {
            "edge_m": [[float(draw.uniform(0.2, 0.8) * length), y, float(freeboard * up)]],
            "side": str(draw.choice(["one", "both"])),
            "area_m2": float(draw.uniform(0.0005, 0.3)),
            "closing": str(draw.choice(CLOSINGS)),
            "leads_to": "hull",
            **{
                key: bool(draw.integers(2))
                for key in ("regular", "progressive")
                if draw.integers(2)
            },
        }
        for k, (y, up) in enumerate(
            zip(
                (draw.uniform(-0.5, 0.5, 5) * beam).tolist(),
                draw.uniform(0.8, 1.6, 5),
                strict=True,
            )
        )
    }
    lead = {"pig": {"adds": {"lead": weight(60.0, (length / 2.0, 0.3, 0.0))}}}
    plain = barge_document(length, beam, draught, draught + freeboard, 0.1)
    answer = assessed(changed(plain, openings=holes, changes=lead))
    for here in answer.conditions:
        consistent(here, answer)


def consistent(here, answer):
    """Headline, range, sides, table of openings, rules and findings agree."""
    unclosed = [
        (o.immersion_angle_deg, o)
        for o in here.openings
        if o.closing == "none" and o.immersion_angle_deg is not None
    ]
    angle, first = min(unclosed, key=lambda pair: pair[0], default=(None, None))
    assert here.downflooding_angle_deg == angle
    ends = [end for end in (here.vanishing_angle_deg, angle) if end is not None]
    assert here.range_deg == min(ends)
    if first is not None:
        assert (here.critical_opening, here.critical_side) == (first.id, first.side)
        assert f"at {angle:.1f}°" in here.flooding_sentence
        heel = angle if first.heeled_to == "starboard" else -angle
        assert height_at(here, first, heel) == pytest.approx(0.0, abs=6e-3)  # between heels
        told_of = {f.place for f in answer.findings if f.code.startswith("opening-floods")}
        assert (f"openings.{first.id}" in told_of) or angle >= here.vanishing_angle_deg
    by = {one.id: one for one in here.downflooding_by_rule}
    if angle is not None:
        # what is not closed at all is not closed watertight either
        assert by["46-cfr-170"].angle_deg <= angle + 1e-9
    assert by["uk-sailing"].angle_deg == here.downflooding_by_area_deg
    for rule in here.criteria:
        found = by.get(rule.downflooding_by)
        if rule.downflooding_angle_deg is not None:
            assert rule.downflooding_angle_deg >= found.angle_deg - 1e-9
        if rule.id.startswith("imo-area-to") and rule.downflooding_angle_deg is not None:
            to = next(q.value for q in rule.inputs if q.name == "to")
            assert to == pytest.approx(min(float(rule.id[-2:]), rule.downflooding_angle_deg))
        if found is not None and found.grade == "C":
            assert rule.state == "to_be_confirmed"


def test_an_open_window_of_the_house_is_no_opening_into_the_hull():
    broken = with_all(demo_document(), {"openings.side-windows.closing": "none"})
    here = row(assessed(broken, only="departure"), "departure")
    window = min(o.immersion_angle_deg for o in here.openings if o.id == "side-windows")
    vent = min(o.immersion_angle_deg for o in here.openings if o.id == "motor-room-vent")
    assert window < vent == here.downflooding_angle_deg
    assert here.critical_opening == "motor-room-vent"
    assert here.sides["port"].downflooding_angle_deg > window + 1.0
    assert here.downflooding_angle_all_open_deg == window
    # the Code counts it: it cannot be closed, and whether it floods more is not said
    by = {one.id: one for one in here.downflooding_by_rule}
    assert by["is-code"].angle_deg == window
    assert by["is-code"].undecided


def test_freeboard_counts_from_the_water_she_lies_in():
    built = boat(document())
    about = particulars(built, "refit", (BEAM, BEAM))
    assert about.freeboard == pytest.approx(DEPTH - DRAUGHT)
    afloat = particulars_afloat(about, built, WaterPlane.at(0.1, 0.0, 0.0, LENGTH / 2.0))
    assert afloat.freeboard == pytest.approx(DEPTH - DRAUGHT - 0.1)


def test_a_list_floods_the_lower_vent_first():
    lead = {"list": {"adds": {"lead": weight(200.0, (5.0, -0.5, 0.0))}}}
    here = at_reference(assessed({**document(pipe=PIPE), "changes": lead}))
    assert here.critical_side == "port"
    assert here.downflooding_angle_deg == here.sides["port"].downflooding_angle_deg
    assert here.sides["starboard"].downflooding_angle_deg > here.downflooding_angle_deg


def test_a_boat_without_openings_described_meets_no_rule_that_counts_them():
    def states(*barge):
        answer = assessed(barge_document(*barge))
        return {one.id: one.state for one in row(answer, "survey-state", "as_found").criteria}

    stiff, tender = states(12.0, 4.0, 1.0, 2.5, 0.2), states(10.0, 3.0, 1.2, 2.0, 0.1)
    assert stiff["imo-area-to-30"] == stiff["imo-area-to-40"] == "to_be_confirmed"
    assert stiff["imo-initial-gm"] == "met"  # counts no opening
    assert tender["imo-area-to-30"] == "not_met"  # nor would any opening mend it
