"""A float heeled round: a barge by the wall-sided formula, Saltmarrow by invariance."""

from math import cos, degrees, radians, sin, tan

import numpy as np
import pytest
from refits import (
    SEA,
    assessed,
    barge_document,
    boat,
    demo_answer,
    demo_document,
    row,
    rows_of,
    weight,
    with_all,
)

from hullchange.afloat.floats_in_conditions import surveyed_row
from hullchange.afloat.uncertainty_shares import largest
from hullchange.boat.conditions import conditions_of
from hullchange.survey.as_found import surveyed

LENGTH, BEAM, DRAUGHT, DEPTH, VCG = 20.0, 6.0, 1.5, 4.0, -0.3


@pytest.fixture(scope="module")
def barge():
    return row(assessed(barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, VCG)), "survey-state")


@pytest.fixture(scope="module")
def saltmarrow():
    return demo_answer()


def lever(answer, heel_deg, curve="gz_m"):
    levers = answer.righting_levers
    return getattr(levers, curve)[levers.heel_deg.index(heel_deg)]


@pytest.mark.parametrize("heel_deg", [5.0, 10.0, 20.0, -15.0])
def test_a_barge_rights_as_the_wall_sided_formula_says(barge, heel_deg):
    # bilge and deck edge stay where they are up to atan(1.5 / 3) = 26.6 degrees
    bm = BEAM**2 / (12.0 * DRAUGHT)
    gm = -DRAUGHT / 2.0 + bm - VCG
    angle = radians(abs(heel_deg))
    expected = sin(angle) * (gm + bm / 2.0 * tan(angle) ** 2)
    assert lever(barge, heel_deg) == pytest.approx(expected, abs=6e-6)  # rounded to 1e-5


def test_the_plus_minus_of_a_lever_is_that_of_centre_and_mass(barge):
    # VCG 10 mm; her TCG and draught are known from freeboards; deeper B rises and BM falls
    built = boat(barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, VCG))
    spread = surveyed_row(built, surveyed(built)).spread
    mass, _, across, up = np.sqrt(np.diag(spread.slopes.by_weight(spread.of_numbers))[:4])
    deeper = mass / (SEA * LENGTH * BEAM)
    bm = BEAM**2 / (12.0 * DRAUGHT)
    for heel_deg in (0.0, 10.0, 20.0, 90.0):
        angle = radians(heel_deg)
        # on her side B stays half-way up her depth, however deep she is
        walls = 0.5 - bm / DRAUGHT * (1.0 + tan(angle) ** 2 / 2.0) if heel_deg < 26 else 0.0
        by_hand = np.linalg.norm(
            [up * sin(angle), across * cos(angle), deeper * walls * sin(angle)]
        )
        arm = spread.weight_slopes.at(np.array([angle]))[0, 0]
        by_weight = np.sqrt(arm[:4] @ spread.of_numbers @ arm[:4])
        assert by_weight == pytest.approx(by_hand, abs=2e-5)
        plus_minus = lever(barge, heel_deg, "gz_plus_minus_m")
        assert plus_minus == pytest.approx(np.hypot(by_hand, np.linalg.norm(arm[4:])), abs=2e-5)


def test_a_symmetric_boat_rights_alike_on_both_sides(barge):
    levers = barge.righting_levers
    assert levers.gz_m == pytest.approx(levers.gz_m[::-1], abs=2e-5)
    assert barge.vanishing_angle_port_deg == pytest.approx(
        barge.vanishing_angle_starboard_deg, abs=1e-6
    )


def test_deck_edge_goes_under_where_geometry_says(barge):
    expected = degrees(np.arctan((DEPTH - DRAUGHT) / (BEAM / 2.0)))
    # before the bilge comes out the water turns about the centreline
    assert expected > 26.6
    assert barge.deck_edge_angle_deg == pytest.approx(43.0, abs=3.0)


def test_nothing_is_left_unanswered(saltmarrow):
    for answer in saltmarrow.conditions:
        for name in (
            "righting_levers",
            "vanishing_angle_deg",
            "vanishing_angle_without_house_deg",
            "downflooding_angle_deg",
            "critical_opening",
            "range_deg",
            "area_under_gz",
            "deck_edge_angle_deg",
            "roll_period_s",
        ):
            assert getattr(answer, name) is not None, f"{name} of {answer.id}"
        # a well that is full already has no coaming left to go under
        assert (answer.coaming_angle_deg is None) == (answer.id == "cockpit-flooded")
        assert len(answer.openings) == 8
        assert answer.criteria
    assert [t.state for t in saltmarrow.targets].count("not answered yet") == 0


def test_slope_at_upright_is_gm_and_areas_are_energies(saltmarrow):
    for answer in saltmarrow.conditions:
        levers = answer.righting_levers
        at = levers.heel_deg.index(0.0)
        rise = levers.gz_m[at + 1] + levers.gz_m[at - 1]  # to port it is signed to right too
        slope = rise / radians(levers.heel_deg[at + 1] - levers.heel_deg[at - 1])
        # over five degrees the cubic term takes a hundredth or two
        assert slope == pytest.approx(answer.gm_m, rel=0.03)
        assert answer.area_under_gz["energy_gap_m_rad"] < 2e-4


def test_house_and_wells_count_only_where_the_water_reaches_them(saltmarrow):
    answer = row(saltmarrow, "departure")
    for heel_deg in (10.0, 20.0, 30.0):
        assert lever(answer, heel_deg, "gz_without_house_m") == pytest.approx(
            lever(answer, heel_deg), abs=2e-4
        )
    assert lever(answer, 100.0) > lever(answer, 100.0, "gz_without_house_m") + 0.05
    assert answer.vanishing_angle_deg > answer.vanishing_angle_without_house_deg + 5.0
    # a dry cockpit holds her up until its coaming goes under, then it is lost in both
    dry, lost = (
        np.array(getattr(answer.righting_levers, name)) for name in ("gz_well_dry_m", "gz_m")
    )
    beyond = np.abs(answer.righting_levers.heel_deg) > answer.coaming_angle_deg + 5.0
    assert np.abs(dry - lost)[beyond].max() < 2e-3  # read between heels of 5 degrees


def test_an_opening_of_the_house_that_stands_open_makes_the_lever_step():
    broken = with_all(demo_document(), {"openings.side-windows.closing": "none"})
    answer = row(assessed(broken, only="departure"), "departure")
    heels = np.array(answer.righting_levers.heel_deg)
    steps = np.nonzero(np.diff(heels) == 0.0)[0]
    assert len(steps) == 2
    window = next(
        o for o in answer.openings if o.id == "side-windows" and o.side == "starboard"
    )
    assert heels[steps[1]] == pytest.approx(window.immersion_angle_deg, abs=1e-2)
    gz = np.array(answer.righting_levers.gz_m)
    assert gz[steps[1] + 1] <= gz[steps[1]]
    assert answer.vanishing_angle_deg == pytest.approx(
        answer.vanishing_angle_without_house_deg, abs=0.5
    )


def listed(y):
    """A barge with two tonnes off her centreline."""
    lead = {"list": {"adds": {"lead": weight(2000.0, (10.0, y, 0.0))}}}
    plain = barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, VCG, changes=lead)
    return row(assessed(plain), "survey-state")


def test_a_list_to_port_is_judged_as_the_same_list_to_starboard():
    port, starboard = listed(-1.5), listed(1.5)
    assert (port.worse_side, starboard.worse_side) == ("port", "starboard")
    for name, area in starboard.area_under_gz.items():
        if name != "energy_gap_m_rad":
            assert port.area_under_gz[name] == pytest.approx(area, abs=1e-9)
    values = [
        [c.value for c in one.criteria if c.value is not None] for one in (port, starboard)
    ]
    assert values[0] == pytest.approx(values[1], rel=1e-6)
    # the area by the solver's own curve, the lever of a list at upright counted as capsizing
    levers = starboard.righting_levers
    first = levers.heel_deg.index(0.0)
    assert levers.gz_m[first] < 0.0
    heels = np.radians(levers.heel_deg[first : levers.heel_deg.index(30.0) + 1])
    plain = np.trapezoid(levers.gz_m[first : first + len(heels)], heels)
    assert port.area_under_gz["from_0_to_30_deg_m_rad"] == pytest.approx(plain, abs=2e-3)


def test_a_weight_off_the_centreline_tells_the_sides_apart():
    answer = listed(1.5)
    assert answer.worse_side == "starboard"
    # beyond 90 degrees the same weight lies on the other side of the keel and rights her
    assert answer.vanishing_angle_starboard_deg > answer.vanishing_angle_port_deg
    assert lever(answer, 20.0) < lever(answer, -20.0)


def test_a_boat_that_lolls_is_found_resting_there():
    plain = barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, 1.36)
    answer = row(assessed(plain), "survey-state", "as_found")
    bm = BEAM**2 / (12.0 * DRAUGHT)
    gm = -DRAUGHT / 2.0 + bm - 1.36
    assert gm < 0.0
    expected = degrees(np.arctan(np.sqrt(-2.0 * gm / bm)))
    rests = [r.heel_deg for r in answer.rests if r.stable and abs(r.heel_deg) < 60.0]
    assert sorted(map(abs, rests)) == pytest.approx([expected, expected], abs=1e-3)


def test_common_causes_and_shares_add_up(saltmarrow):
    answer = row(saltmarrow, "departure")
    for name in ("displacement_kg", "trim_mm", "heel_deg", "gm_m"):
        shares = [s.share_percent for s in getattr(answer.shares, name)]
        assert shares == sorted(shares, reverse=True)
        assert 40.0 < sum(shares) <= 100.0 + 1e-9
    assert answer.shares.gm_m[0].cause == "survey.vcg"


def test_shares_of_angles_and_levers_are_whole_and_those_of_a_difference(saltmarrow):
    answer = row(saltmarrow, "departure")
    for name in ("vanishing_angle_deg", "greatest_gz_m"):
        figure_shares = getattr(answer.shares, name)
        assert [s.share_percent for s in figure_shares] == sorted(
            (s.share_percent for s in figure_shares), reverse=True
        )
        assert 40.0 < sum(s.share_percent for s in figure_shares) <= 100.0 + 1e-9
    # heeled again with the survey's VCG a third of its doubt higher and lower
    doubt, step = 0.03, 0.01
    ends = [
        row(
            assessed(with_all(demo_document(), {"survey.vcg.z_m": 0.10 + d}), only="departure"),
            "departure",
        )
        for d in (step, -step)
    ]
    for name in ("vanishing_angle_deg", "greatest_gz_m"):
        slope = (getattr(ends[0], name) - getattr(ends[1], name)) / (2.0 * step)
        whole = getattr(answer.heeled_plus_minus, name)
        shares = {s.cause: s.share_percent for s in getattr(answer.shares, name)}
        expected = 100.0 * (slope * doubt / whole) ** 2
        assert shares["survey.vcg"] == pytest.approx(expected, rel=5e-3)


def test_all_shares_together_are_the_whole():
    built = boat(demo_document())
    as_surveyed, departure = surveyed(built), conditions_of(built.document)["departure"]
    for float_ in rows_of(built, as_surveyed, departure):
        heeled = float_.spread.weight_slopes
        for slope in (*float_.spread.slopes.matrix, *heeled.at(np.array([1.0]))[0]):
            shares = largest(float_.causes, slope, len(float_.causes) + 1)
            assert sum(s.share_percent for s in shares) == pytest.approx(100.0, abs=1e-9)
    assert largest(float_.causes, np.full(slope.shape, np.nan)) == ()


def test_a_boat_that_never_rights_has_no_shares_of_her_angle():
    top = {"tower": {"adds": {"lead": weight(60_000, (10, 0, 8))}}}
    result = row(
        assessed(barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, VCG, changes=top)), "survey-state"
    )
    assert result.vanishing_angle_deg == 0.0
    assert result.shares.vanishing_angle_deg == ()
    assert result.shares.gm_m


def test_the_sails_stand_over_the_water_she_floats_in_and_rise_with_the_rig(saltmarrow):
    # the rig by hand: effort 6.47 m and lateral plane 0.72 m from the design waterline
    for stage, rise in (("as_found", 0.0), ("refit", 0.18)):
        here = row(saltmarrow, "departure", stage)
        rule = next(r for r in here.criteria if r.id == "iso12217-stix")
        inputs = {q.name: q.value for q in rule.inputs}
        assert abs(here.sinkage_mm) > 20.0
        # upright she lies as deep as at a list of a third of a degree, to a fiftieth of a mm
        assert inputs["hCE"] == pytest.approx(6.47 + rise - here.sinkage_mm / 1000.0, abs=2e-5)
        assert inputs["hLP"] == pytest.approx(0.72 + here.sinkage_mm / 1000.0, abs=2e-5)
        assert inputs["hCE"] + inputs["hLP"] == pytest.approx(7.19 + rise, abs=1e-9)
