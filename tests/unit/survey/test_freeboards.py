"""Freeboards to plane, mass and centre, on a box whose answer is plain arithmetic."""

from dataclasses import replace

import numpy as np
import pytest

from hullchange.errors import ModelError
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane
from hullchange.geometry.surface import box
from hullchange.survey.freeboards import (
    FreeboardReading,
    displaced_to_weight,
    fitted_plane,
    weighed_afloat,
)

DENSITY = 1025.0
BARGE = box(np.array([0.0, -2.0, -1.5]), np.array([12.0, 2.0, 1.0]))
MARKS = ((0.5, 1.0), (6.0, 1.0), (11.0, 1.0))


def readings_at(plane, sd=0.005, noise=None):
    points = [(x, side, z) for x, z in MARKS for side in (-2.0, 2.0)]
    heights = plane.height_above(np.array(points))
    errors = np.zeros(len(points)) if noise is None else noise.normal(0.0, sd, len(points))
    return tuple(
        FreeboardReading(
            f"mark {i // 2}", "port" if p[1] < 0 else "starboard", p, float(h + e), sd
        )
        for i, (p, h, e) in enumerate(zip(points, heights, errors, strict=True))
    )


def immersed(plane):
    below = integrals_below(BARGE, plane)
    return below.volume, below.buoyancy_centre


def empty(_):
    """No tank has anything in it."""
    return np.zeros(4)


def test_exact_freeboards_give_the_plane_back():
    plane = WaterPlane.at(0.12, 0.02, -0.015, 6.0)
    fitted = fitted_plane(readings_at(plane), 6.0)
    assert fitted.plane.sinkage(6.0) == pytest.approx(0.12, abs=1e-12)
    assert fitted.plane.trim == pytest.approx(0.02, abs=1e-12)
    assert fitted.plane.heel == pytest.approx(-0.015, abs=1e-12)
    assert fitted.chi_square == pytest.approx(0.0, abs=1e-12)
    assert fitted.agreement == "the readings agree with the hull"


def test_upright_barge_weighs_length_times_breadth_times_draught():
    fitted = fitted_plane(readings_at(WaterPlane.at(-0.5, 0.0, 0.0, 6.0)), 6.0)
    found = weighed_afloat(fitted, immersed, DENSITY, 0.1, empty, 6.0)
    mass = DENSITY * 12.0 * 4.0 * 1.0
    assert found.numbers == pytest.approx([mass, 6.0 * mass, 0.0, 0.1 * mass], abs=1e-6 * mass)


def test_centre_of_gravity_lies_on_the_vertical_through_buoyancy():
    plane = WaterPlane.at(-0.4, 0.015, 0.03, 6.0)
    fitted = fitted_plane(readings_at(plane), 6.0)
    found = weighed_afloat(fitted, immersed, DENSITY, 0.3, empty, 6.0)
    _, buoyancy = immersed(plane)
    arm = found.numbers[1:] / found.numbers[0] - buoyancy
    assert np.linalg.norm(np.cross(arm, plane.up)) < 1e-12
    assert found.numbers[3] / found.numbers[0] == pytest.approx(0.3)


def test_covariance_agrees_with_reading_again_and_again():
    truth = WaterPlane.at(-0.5, 0.01, 0.01, 6.0)
    fitted = fitted_plane(readings_at(truth), 6.0)
    by_water = weighed_afloat(fitted, immersed, DENSITY, 0.1, empty, 6.0).by_water
    noise = np.random.default_rng(5)
    drawn = np.array(
        [
            weighed_afloat(
                fitted_plane(readings_at(truth, noise=noise), 6.0),
                immersed,
                DENSITY,
                0.1,
                empty,
                6.0,
            ).numbers
            for _ in range(600)
        ]
    )
    expected = np.sqrt(np.diag(by_water @ fitted.covariance @ by_water.T))
    # a standard deviation from 600 draws is good to 1/sqrt(1200) = 3 %; four of those
    assert drawn.std(axis=0) == pytest.approx(expected, rel=0.12)


def test_mean_chi_square_is_the_degrees_of_freedom():
    noise = np.random.default_rng(11)
    plane = WaterPlane.at(-0.5, 0.01, 0.01, 6.0)
    values = [fitted_plane(readings_at(plane, noise=noise), 6.0).chi_square for _ in range(400)]
    # variance of chi-square is twice its degrees of freedom: sd of the mean 0.12
    assert np.mean(values) == pytest.approx(3.0, abs=0.5)


def test_a_slip_of_fifty_millimetres_is_reported():
    readings = list(readings_at(WaterPlane.at(-0.5, 0.01, 0.01, 6.0)))
    first = readings[0]
    readings[0] = FreeboardReading(
        first.mark, first.side, first.at, first.freeboard + 0.05, first.sd
    )
    fitted = fitted_plane(tuple(readings), 6.0)
    assert "contradict" in fitted.agreement
    assert int(np.argmax(np.abs(fitted.residuals))) in (
        0,
        2,
        4,
    )  # one side cannot be told apart


@pytest.mark.parametrize("heel", [0.0, 0.05])
def test_her_centre_goes_up_along_the_vertical(heel):
    fitted = fitted_plane(readings_at(WaterPlane.at(-0.5, 0.01, heel, 6.0)), 6.0)
    low, high = (weighed_afloat(fitted, immersed, DENSITY, z, empty, 6.0) for z in (0.0, 0.1))
    assert (high.numbers - low.numbers) / 0.1 == pytest.approx(low.by_height)
    assert low.by_height[0] == 0.0
    assert low.by_height[3] == pytest.approx(low.numbers[0])
    # to the side that she lists to, where a weight straight over buoyancy goes down to
    assert low.by_height[2] / low.numbers[0] == pytest.approx(-np.tan(heel), abs=1e-4)


def test_what_is_displaced_more_is_weighed_straight_over_it():
    plane = WaterPlane.at(-0.5, 0.02, 0.03, 6.0)
    volume, centre = immersed(plane)
    weighed = displaced_to_weight(plane, 0.4) @ (volume * np.array([1.0, *centre]))
    arm = weighed[1:] / weighed[0] - centre
    assert weighed[0] == volume
    assert weighed[3] == pytest.approx(0.4 * volume)
    assert np.linalg.norm(np.cross(arm, plane.up)) < 1e-12


def test_liquids_run_with_the_water_that_was_read():
    fitted = fitted_plane(readings_at(WaterPlane.at(-0.5, 0.0, 0.0, 6.0)), 6.0)

    def slack(plane):
        # half a tonne that runs a metre for each radian
        return 500.0 * np.array([1.0, 6.0, plane.heel, 0.2])

    dry, wet = (
        weighed_afloat(fitted, immersed, DENSITY, 0.1, liquids, 6.0)
        for liquids in (empty, slack)
    )
    assert wet.numbers == pytest.approx(dry.numbers)
    assert wet.solid == pytest.approx(dry.numbers - slack(fitted.plane))
    apart = wet.by_water - dry.by_water
    assert apart[2] == pytest.approx([0.0, 0.0, -500.0], abs=1e-3)


@pytest.mark.parametrize("kept", [slice(0, 2), slice(0, 6, 2)])
def test_freeboards_that_fix_no_plane_are_refused(kept):
    readings = readings_at(WaterPlane.at(-0.5, 0.0, 0.0, 6.0))[kept]
    with pytest.raises(ModelError) as refusal:
        fitted_plane(readings, 6.0)
    assert refusal.value.code == "too-few-freeboards"


FACTORS = [-1000.0, -10.0, -1.0, 0.0, 0.1, 1.0, 3.0, 10.0, 1000.0]


@pytest.mark.parametrize("factor", FACTORS)
@pytest.mark.parametrize("which", [(0,), (3,), (4,), (0, 1), (4, 5), (2, 3), (1, 2)])
def test_a_slip_of_a_freeboard_has_an_answer_or_a_sentence(which, factor):
    readings = list(readings_at(WaterPlane.at(-0.5, 0.01, 0.01, 6.0)))
    for n in which:
        readings[n] = replace(readings[n], freeboard=factor * readings[n].freeboard)
    if abs(factor) < 3.0 and factor != -1.0:
        fitted = fitted_plane(tuple(readings), 6.0)
        assert np.isfinite(fitted.covariance).all()
        assert max(abs(fitted.plane.trim), abs(fitted.plane.heel)) < np.radians(30.0)
    elif abs(factor) >= 10.0:
        with pytest.raises(ModelError) as refused:
            fitted_plane(tuple(readings), 6.0)
        assert refused.value.code == "freeboards-apart"
        assert refused.value.place in {
            f"survey.marks.{readings[n].mark}.freeboard_m.{readings[n].side}" for n in which
        }


def test_a_decimal_slip_is_named():
    readings = list(readings_at(WaterPlane.at(-0.082, 0.0, 0.0, 6.0)))
    readings[5] = replace(readings[5], freeboard=9.18)
    with pytest.raises(ModelError, match=r"mark 2, starboard.*9,180 mm.*1,082 mm") as refused:
        fitted_plane(tuple(readings), 6.0)
    assert refused.value.place == "survey.marks.mark 2.freeboard_m.starboard"


def test_a_dry_hull_is_refused():
    fitted = fitted_plane(readings_at(WaterPlane.at(-3.0, 0.0, 0.0, 6.0)), 6.0)
    with pytest.raises(ModelError) as refusal:
        weighed_afloat(fitted, lambda _: (0.0, np.zeros(3)), DENSITY, 0.1, empty, 6.0)
    assert refusal.value.code == "dry-survey"
