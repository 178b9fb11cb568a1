"""A barge by the whole chain: every figure is plain arithmetic."""

from math import atan, cos, degrees, hypot, radians, sin, sqrt, tan

import pytest
from refits import SEA, assessed, barge_document, row, weight, with_all
from scipy.optimize import brentq

LENGTH, BEAM, DRAUGHT, DEPTH, VCG = 12.0, 4.0, 1.0, 2.5, 0.2
MASS = SEA * LENGTH * BEAM * DRAUGHT
BM, BML = BEAM**2 / 12 / DRAUGHT, LENGTH**2 / 12 / DRAUGHT
GM, GML = -DRAUGHT / 2 + BM - VCG, -DRAUGHT / 2 + BML - VCG
TINY = 1e-7


def barge(**more):
    return barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, VCG, **more)


def refit(adds=None, moves=None, removes=None, **more):
    """The barge after one change, in the survey state."""
    change = {"adds": adds or {}, "moves": moves or {}, "removes": removes or {}}
    return row(assessed(barge(changes={"cargo": change}, **more)), "survey-state")


def tangent_of(shift, gm, bm):
    """Tangent of the angle at which straight sides balance a shift of the centre [m]."""
    return brentq(lambda t: t * (gm + bm * t**2 / 2) - shift, -1.0, 1.0, xtol=1e-15)


@pytest.fixture(scope="module")
def answer():
    return assessed(barge())


def test_hull_at_the_design_waterline(answer):
    hull = answer.hull
    assert hull.displacement_at_dwl_kg == pytest.approx(49_200)
    assert hull.kg_per_cm == pytest.approx(492)
    assert hull.trim_moment_kgm_per_cm == pytest.approx(MASS * BML / LENGTH / 100)
    assert (hull.lcb_m, hull.lcf_m, hull.vcb_m) == pytest.approx((6, 6, -0.5))
    assert (hull.km_m, hull.km_longitudinal_m) == pytest.approx((BM - 0.5, BML - 0.5))
    assert (hull.length_m, hull.beam_m, hull.draught_m) == pytest.approx((12, 4, 1))
    assert (hull.length_waterline_m, hull.beam_waterline_m) == pytest.approx((12, 4))
    assert hull.waterplane_area_m2 == pytest.approx(48)
    assert hull.wetted_area_m2 == pytest.approx(48 + 2 * DRAUGHT * (LENGTH + BEAM))
    coefficients = [getattr(hull, f"{of}_coefficient") for of in ("block", "prismatic")]
    coefficients += [hull.midship_coefficient, hull.waterplane_coefficient]
    assert coefficients == pytest.approx([1, 1, 1, 1])


def test_level_as_found(answer):
    found, here = answer.survey, row(answer, "survey-state", "as_found")
    assert found.displacement_kg == here.displacement_kg == pytest.approx(MASS, rel=1e-12)
    assert found.centre_of_gravity_m == pytest.approx((6, 0, VCG), abs=TINY)
    assert [r.freeboard_mm for r in found.residuals] == pytest.approx([1500] * 4)
    assert here.centre_of_gravity_m == pytest.approx((6, 0, VCG), abs=TINY)
    flat = [here.sinkage_mm, here.trim_mm, here.heel_deg, here.sinkage_bow_mm]
    assert flat == pytest.approx([0, 0, 0, 0], abs=1e-6)
    assert here.gm_m == here.gm_solid_m == pytest.approx(GM)
    assert here.km_m == pytest.approx(BM - 0.5)
    assert here.vcg_above_keel_m == pytest.approx(VCG + DRAUGHT)
    assert here.kg_per_cm == pytest.approx(492)
    assert here.trim_moment_kgm_per_cm == pytest.approx(MASS * GML / LENGTH / 100)
    assert here.lcf_m == pytest.approx(6)
    assert [f.freeboard_mm for f in here.freeboards] == pytest.approx([1500] * 4, abs=1e-6)
    assert [(f.mark, f.side) for f in here.freeboards] == [
        (mark, side) for mark in ("forward", "aft") for side in ("port", "starboard")
    ]


def test_a_weight_at_the_centre_of_flotation_sinks_her_without_trim():
    after = refit(adds={"lead": weight(984, (6, 0, -0.9))})
    assert after.sinkage_mm == pytest.approx(20, abs=1e-6)  # 984 kg at 492 kg per cm
    assert after.sinkage_bow_mm == pytest.approx(20, abs=1e-6)
    assert after.sinkage_stern_mm == pytest.approx(20, abs=1e-6)
    assert (after.trim_mm, after.heel_deg) == pytest.approx((0, 0), abs=1e-6)
    height = (MASS * VCG - 984 * 0.9) / (MASS + 984)
    assert after.centre_of_gravity_m == pytest.approx((6, 0, height))
    assert after.change.displacement_kg == pytest.approx(984)
    assert after.change.vcg_m == pytest.approx(height - VCG)
    draught = DRAUGHT + 0.02
    gm = -DRAUGHT + draught / 2 + BEAM**2 / 12 / draught - height
    assert after.gm_m == pytest.approx(gm)
    assert after.change.gm_m == pytest.approx(gm - GM)
    assert [f.freeboard_mm for f in after.change.freeboards] == pytest.approx([-20] * 4)


def test_a_weight_moved_along_trims_her_and_weighs_nothing():
    crate = weight(1000, (3, 0, 0)) | {"to_m": [9, 0, 0]}
    after = refit(moves={"crate": crate})
    assert after.displacement_kg == pytest.approx(MASS, rel=1e-12)
    assert after.change.displacement_kg == pytest.approx(0, abs=1e-6)
    tangent = tangent_of(6000 / MASS, GML, BML)
    assert after.trim_mm == pytest.approx(1000 * LENGTH * tangent, abs=1e-6)
    assert after.trim_deg == pytest.approx(degrees(atan(tangent)), abs=1e-9)
    assert after.sinkage_mm == pytest.approx(0, abs=1e-6)
    assert after.sinkage_stern_mm == pytest.approx(500 * LENGTH * tangent, abs=1e-6)
    assert after.sinkage_bow_mm == pytest.approx(-500 * LENGTH * tangent, abs=1e-6)
    # freeboard is read along the vertical, from the sheer at x 1.2 and 10.8
    trim = atan(tangent)
    freeboards = [1000 * (1.5 * cos(trim) - (x - 6) * sin(trim)) for x in (1.2, 10.8)]
    read = [f.freeboard_mm for f in after.freeboards]
    assert read == pytest.approx([freeboards[0]] * 2 + [freeboards[1]] * 2, abs=1e-6)


def test_a_weight_moved_across_lists_her_to_that_side():
    crate = weight(1000, (6, 0, 0)) | {"to_m": [6, 1.5, 0]}
    after = refit(moves={"crate": crate})
    tangent = tangent_of(1500 / MASS, GM, BM)
    assert after.heel_deg == pytest.approx(degrees(atan(tangent)), abs=1e-9)
    assert after.heel_deg > 0
    assert after.trim_mm == pytest.approx(0, abs=1e-6)
    by_side = {f.side: f.freeboard_mm for f in after.freeboards}
    heel = atan(tangent)
    assert by_side["starboard"] == pytest.approx(1000 * (1.5 * cos(heel) - 2 * sin(heel)))
    assert by_side["port"] == pytest.approx(1000 * (1.5 * cos(heel) + 2 * sin(heel)))
    port = refit(moves={"crate": crate | {"to_m": [6, -1.5, 0]}})
    assert port.heel_deg == pytest.approx(-after.heel_deg, abs=1e-9)


def test_gm_of_a_listed_boat_is_that_of_the_boat_upright():
    # 3.75 t moved 1.9 m to one side
    crate = weight(3750, (6, 0, 0)) | {"to_m": [6, 1.9, 0]}
    level, after = row(assessed(barge()), "survey-state"), refit(moves={"crate": crate})
    assert after.heel_deg > 10.0
    assert after.gm_m == pytest.approx(GM, abs=1e-9)
    assert after.gm_solid_m == pytest.approx(GM, abs=1e-9)
    assert after.km_m == pytest.approx(level.km_m, abs=1e-9)
    assert after.roll_period_s == pytest.approx(level.roll_period_s)
    assert after.change.gm_m == pytest.approx(0.0, abs=1e-9)
    tangent = tan(radians(after.heel_deg))
    # straight sides: I over the slanting waterline, B and G along the slanting vertical
    bm = BM / cos(radians(after.heel_deg)) ** 3
    low = BM * tangent
    above = (-DRAUGHT / 2 + BM * tangent**2 / 2 - VCG) * cos(radians(after.heel_deg))
    aside = (low - 3750 * 1.9 / MASS) * sin(radians(after.heel_deg))
    assert after.gm_at_rest_m == pytest.approx(bm + above - aside, abs=1e-9)
    assert after.gm_at_rest_m > after.gm_m + 0.05
    # mass and height alone blur GM upright: a place across does not
    blurred = refit(moves={"crate": crate | {"plus_minus_m": [0.0, 0.3, 0.0]}})
    assert blurred.plus_minus.heel_deg > 1.5 * after.plus_minus.heel_deg
    assert blurred.plus_minus.gm_m == pytest.approx(after.plus_minus.gm_m, rel=1e-6)


def test_the_rule_on_initial_gm_reads_it_upright_however_she_lists():
    # GM 0.04 m upright; 2 t a metre to one side, and she lies at 19 degrees, where it is 0.27
    crate = weight(2012, (6, 0, 0.793)) | {"to_m": [6, 1, 0.793]}
    high = barge_document(
        LENGTH, BEAM, DRAUGHT, DEPTH, 0.793, changes={"cargo": {"moves": {"crate": crate}}}
    )
    after = row(assessed(high), "survey-state")
    assert after.heel_deg == pytest.approx(19.0, abs=0.1)
    assert after.gm_at_rest_m > 0.15
    rule = next(r for r in after.criteria if r.id == "imo-initial-gm")
    assert rule.value == after.gm_m == pytest.approx(0.0403, abs=1e-4)
    assert rule.state.startswith("not")


def test_what_is_raised_takes_its_moment_off_gm():
    rig = weight(500, (6, 0, 4)) | {"to_m": [6, 0, 5]}
    after = refit(moves={"rig": rig})
    assert after.change.gm_m == pytest.approx(-500 / MASS)
    assert after.change.vcg_m == pytest.approx(500 / MASS)


def test_fresh_water_lifts_her_less():
    after = refit(conditions={"survey-state": {"water": "fresh"}})
    assert after.displacement_kg == pytest.approx(MASS, rel=1e-12)
    assert after.water_density_kg_m3 == 1000
    assert after.sinkage_mm == pytest.approx(25, abs=1e-6)  # 1 m times 1.025
    assert after.kg_per_cm == pytest.approx(480)
    # common practice: displacement over forty times the kilograms per centimetre
    assert after.sinkage_mm == pytest.approx(10 * MASS / 492 / 40, abs=1e-6)


def test_a_survey_of_a_trimmed_and_listed_barge():
    trim, heel = 0.02, 0.03
    marks = barge()["survey"]["marks"]
    slope = tan(trim)
    # level athwartships first: the wet part is a trapezium along her length
    level = {
        f"survey.marks.{mark}.freeboard_m.{side}": (
            1.5 * cos(trim) - (marks[mark]["x_m"] - 6) * sin(trim)
        )
        for mark in marks
        for side in ("port", "starboard")
    }
    found = assessed(with_all(barge(), level)).survey
    assert found.trim_mm == pytest.approx(1000 * LENGTH * slope, abs=1e-6)
    assert found.displacement_kg == pytest.approx(MASS)
    along = 6 + BML * slope + (VCG + 0.5 - BML * slope**2 / 2) * -slope
    assert found.centre_of_gravity_m == pytest.approx((along, 0, VCG), abs=1e-6)
    assert found.residuals[0].residual_mm == pytest.approx(0, abs=1e-6)
    listed = {
        f"survey.marks.{mark}.freeboard_m.{side}": 1.5 * cos(heel) - sign * 2 * sin(heel)
        for mark in marks
        for side, sign in (("port", -1), ("starboard", 1))
    }
    found = assessed(with_all(barge(), listed)).survey
    assert found.heel_deg == pytest.approx(degrees(heel), abs=1e-7)
    slope = tan(heel)
    across = BM * slope + (VCG + 0.5 - BM * slope**2 / 2) * -slope
    assert found.centre_of_gravity_m == pytest.approx((6, across, VCG), abs=1e-6)


def test_readings_in_error_by_a_twist_leave_it_as_residual():
    twist = {"forward": (0.01, -0.01), "aft": (-0.01, 0.01)}
    readings = {
        f"survey.marks.{mark}.freeboard_m.{side}": 1.5 + error
        for mark, errors in twist.items()
        for side, error in zip(("port", "starboard"), errors, strict=True)
    }
    found = assessed(with_all(barge(), readings)).survey
    assert [abs(r.residual_mm) for r in found.residuals] == pytest.approx([10] * 4, abs=0.01)
    # four residuals of two standard deviations on one degree of freedom
    assert found.chi_square == pytest.approx(16, abs=0.05)
    assert found.degrees_of_freedom == 1
    assert found.displacement_kg == pytest.approx(MASS, rel=1e-5)


def test_plus_minus_of_the_survey_by_hand():
    sd = 0.004
    found = assessed(barge(survey={"plus_minus_m": sd})).survey
    shape = found.hull_shape_displacement_kg
    # four readings: the mean's error times kilograms per metre, with the hull's own
    of_readings = 49_200 * sd / 2
    assert found.plus_minus.displacement_kg == pytest.approx(hypot(of_readings, shape))
    assert found.plus_minus.sinkage_mm == pytest.approx(1000 * sd / 2)
    # trim from two pairs 9.6 m apart, over 12 m; heel from two sides 4 m apart
    assert found.plus_minus.trim_mm == pytest.approx(1000 * sd * LENGTH / 9.6)
    assert found.plus_minus.heel_deg == pytest.approx(degrees(sd / 4))
    assert found.plus_minus.vcg_m == pytest.approx(0.01, rel=1e-6)


def test_a_mark_read_worse_counts_for_less():
    good = assessed(barge()).survey.plus_minus
    worse = {"survey.marks.aft.plus_minus_m": 0.05}
    poor = assessed(with_all(barge(), worse)).survey.plus_minus
    assert poor.trim_mm > 5 * good.trim_mm
    sd = sqrt(0.005**2 / 2 + 0.05**2 / 2)
    assert poor.trim_mm == pytest.approx(1000 * sd * LENGTH / 9.6)


def inclined_barge(vcg, heels, water=None, **more):
    """The barge with readings that a centre of gravity at ``vcg`` would have given."""
    draught = DRAUGHT * SEA / (water or SEA)
    gm = -DRAUGHT + draught / 2 + BEAM**2 / 12 / draught - vcg
    readings = [
        {"moment_kgm": MASS * gm * tan(radians(heel)), "heel_deg": heel} for heel in heels
    ]
    test = {"readings": readings} | ({"water": {"density_kg_m3": water}} if water else {})
    return barge(survey={"vcg": None, "inclining": test}, **more)


@pytest.mark.parametrize("water", [None, 1000.0])
def test_an_inclining_gives_back_the_height_it_was_made_from(water):
    answer = assessed(inclined_barge(0.317, (-1.5, -0.8, 0.0, 0.8, 1.5), water))
    assert answer.survey.centre_of_gravity_m[2] == pytest.approx(0.317, abs=1e-7)
    assert row(answer, "survey-state").gm_m == pytest.approx(BM - 0.5 - 0.317, abs=1e-7)
    assert "vcg-typed" not in {f.code for f in answer.findings}
    assert answer.survey.vcg_from.startswith("inclining")
    # 1 % of the moments, and 0.05 deg of five heels up to 1.5
    share = hypot(0.01, 0.05 / 1.5 / sqrt(5))
    gm = BM - 0.5 - 0.317
    spread = answer.survey.plus_minus
    of_mass = spread.displacement_kg / answer.survey.displacement_kg
    # GM times displacement was measured: of the hull only its displacement is in doubt
    # (in other water what she gains of KM on the way is the hull's again)
    within = 0.01 if water is None else 0.05
    assert spread.gm_m == pytest.approx(gm * hypot(share, of_mass), rel=within)
    # KM is the hull's: 12 mm of beam are worth 5 mm of it
    assert spread.vcg_m > 1.05 * spread.gm_m


def test_an_inclining_measures_gm_with_the_slack_tank_in_it():
    tank = {
        "box_m": {"x": [5, 7], "y": [-1, 1], "z": [-0.9, -0.3]},
        "capacity_l": 2400,
        "contents": "fresh",
    }
    aboard = {"aboard": {"water": {"tank": "water", "fill_l": 1200}}}
    solid = assessed(barge(survey=aboard, tanks={"water": tank}))
    here = row(solid, "survey-state", "as_found")
    lost = 1000 * (2 * 2**3 / 12) / MASS
    assert here.gm_solid_m - here.gm_m == pytest.approx(lost)
    readings = [
        {"moment_kgm": MASS * here.gm_m * tan(radians(h)), "heel_deg": h} for h in (-1, 0, 1)
    ]
    survey = aboard | {"vcg": None, "inclining": {"readings": readings}}
    again = assessed(barge(survey=survey, tanks={"water": tank}))
    assert again.survey.centre_of_gravity_m[2] == pytest.approx(VCG, abs=1e-7)
    assert row(again, "survey-state", "as_found").gm_m == pytest.approx(here.gm_m, abs=1e-7)
