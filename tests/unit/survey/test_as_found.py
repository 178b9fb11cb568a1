"""Saltmarrow as found, weighed again by other means: own plane, own strips, other slicing."""

import numpy as np
import pytest
import trimesh
from refits import (
    SEA,
    assessed,
    barge_document,
    boat,
    demo,
    demo_answer,
    demo_document,
    row,
    weight,
    with_all,
)
from scipy.interpolate import CubicSpline

from hullchange.errors import DocumentError, ModelError
from hullchange.survey.as_found import amidships, mark_points, surveyed

SIDES = ("port", "starboard")


def fitted_by_hand():
    """Water z = a + b x + c y through the readings by plain least squares."""
    document = demo_document()
    sheer = np.array(document["hull"]["lines"]["sheer"]["points_m"])
    breadth = CubicSpline(sheer[:, 0], sheer[:, 1])
    rows, heights = [], []
    for mark in document["survey"]["marks"].values():
        for side, sign in (("port", -1.0), ("starboard", 1.0)):
            rows.append([1.0, mark["x_m"], sign * float(breadth(mark["x_m"]))])
            heights.append(mark["sheer_z_m"] - mark["freeboard_m"][side])
    return np.linalg.lstsq(np.array(rows), np.array(heights), rcond=None)[0]


def canoe_body_by_strips(a, b, stations=4000):
    """Volume and its moment along of the canoe body below z = a + b x, upright.

    Lines splined lengthwise, straight across between them; trapezia between stations.
    """
    lines = demo_document()["hull"]["lines"].values()
    points = [np.array(line["points_m"]) for line in lines]
    x = np.linspace(points[0][0, 0], points[0][-1, 0], stations)
    y = np.array([CubicSpline(p[:, 0], p[:, 1])(x) for p in points])
    z = np.array([CubicSpline(p[:, 0], p[:, 2])(x) for p in points])
    depth = a + b * x - z
    area = np.zeros_like(x)
    for (y0, d0), (y1, d1) in zip(
        zip(y[:-1], depth[:-1], strict=True), zip(y[1:], depth[1:], strict=True), strict=True
    ):
        # a strip from one line up to the next, as far as it is wet
        wet = np.clip(d0 / np.where(d0 == d1, 1.0, d0 - d1), 0.0, 1.0)
        wet = np.where(d0 <= 0.0, 0.0, np.where(d1 >= 0.0, 1.0, wet))
        height = (d0 - d1) * wet
        area += height * (2 * y0 + (y1 - y0) * wet)
    return np.trapezoid(area, x), np.trapezoid(area * x, x)


def below(surface, plane):
    """Volume and centre below a plane, by trimesh's slicing with caps."""
    body = trimesh.Trimesh(surface.vertices, surface.faces, process=False)
    wet = body.slice_plane(plane.up * plane.offset, -plane.up, cap=True)
    return wet.volume, wet.center_mass


def test_water_by_plain_least_squares():
    a, b, c = fitted_by_hand()
    plane = demo()[1].fitted.plane
    # freeboard is read along the vertical, the plain fit along z: 1.4 m x 0.006^2 / 2
    assert plane.water_height(0.0) == pytest.approx(a, abs=5e-5)
    assert plane.water_height(10.15) == pytest.approx(a + 10.15 * b, abs=5e-5)
    assert np.tan(plane.heel) == pytest.approx(c, abs=1e-6)  # deeper to starboard


def test_canoe_body_by_a_sum_of_strips():
    a, b, _ = fitted_by_hand()
    volume, moment = canoe_body_by_strips(a, b)
    built, as_surveyed, _ = demo()
    sliced, centre = below(built.hull.surface, as_surveyed.fitted.plane)
    # the hull that floats is made of 14 000 triangles: chords take 0.03 % off
    assert sliced == pytest.approx(volume, rel=4e-4)
    assert centre[0] == pytest.approx(moment / volume, abs=2e-3)


def test_survey_weighed_by_slicing_every_body():
    built, as_surveyed, _ = demo()
    plane = as_surveyed.fitted.plane
    bodies = [
        (body.surface, 1.0 if body.adds else -1.0)
        for body in (
            *built.hull_bodies,
            *(b for p in built.existing.values() for b in p.bodies),
        )
    ]
    wet = [
        (sign, *below(surface, plane))
        for surface, sign in bodies
        if is_in_water(surface, plane)
    ]
    volume = sum(sign * v for sign, v, _ in wet)
    centre = sum(sign * v * c for sign, v, c in wet) / volume
    survey = demo_answer().survey
    assert len(wet) == 3  # hull, keel, skeg: house and well are dry
    assert survey.displacement_kg == pytest.approx(SEA * volume, rel=1e-9)
    x, y, z = survey.centre_of_gravity_m
    # weight stands over buoyancy, at the height that was typed
    above = centre + plane.up * (0.10 - centre[2]) / plane.up[2]
    assert (x, y, z) == pytest.approx(above, abs=1e-8)


def is_in_water(surface, plane):
    return (plane.height_above(surface.vertices) < 0.0).any()


def test_survey_in_words_and_residuals():
    survey = demo_answer().survey
    assert survey.agreement == "the readings agree with the hull"
    assert survey.degrees_of_freedom == 3
    plane = demo()[1].fitted.plane
    for residual in survey.residuals:
        mark = demo_document()["survey"]["marks"][residual.mark]
        assert residual.freeboard_mm == 1000 * mark["freeboard_m"][residual.side]
    heights = np.concatenate([plane.height_above(p) for p in mark_points(demo()[0]).values()])
    read = np.array([r.freeboard_mm for r in survey.residuals])
    assert [r.residual_mm for r in survey.residuals] == pytest.approx(read - 1000 * heights)
    assert survey.chi_square == pytest.approx(
        sum((r.residual_mm / 5.0) ** 2 for r in survey.residuals)
    )
    share = survey.plus_minus.displacement_kg / survey.displacement_kg
    assert 0.003 < share < 0.01  # 5 mm at every mark is about 1 % at the worst


def test_afloat_in_the_survey_state_she_lies_as_she_was_read():
    answer = demo_answer()
    here = row(answer, "survey-state", "as_found")
    for key in ("sinkage_mm", "trim_mm", "heel_deg"):
        assert getattr(here, key) == pytest.approx(getattr(answer.survey, key), abs=1e-6)
    assert here.displacement_kg == pytest.approx(answer.survey.displacement_kg, rel=1e-12)
    assert here.gm_m == answer.survey.gm_m


def test_marks_stand_at_the_sheer():
    built = demo()[0]
    forward = mark_points(built)["forward"]
    assert forward[0, 1] == -forward[1, 1] < 0
    assert forward[:, 2] == pytest.approx([1.386, 1.386])
    assert amidships(built) == pytest.approx(5.075)


def test_existing_parts_float_in_the_boat_as_found():
    plain = barge_document(12, 4, 1, 2.5, 0.2)
    bare = surveyed(boat(plain))
    platform = {
        "kind": "transom_extension",
        "length_m": 1.0,
        "bottom_forward_z_m": -0.5,
        "bottom_aft_z_m": -0.5,
        "platform_z_m": 0.5,
        "plate_mm": 4,
    }
    longer = surveyed(boat(plain | {"existing": {"platform": platform}}))
    # plate thickness apart, a box 1 m long, 4 m wide and half a metre deep
    more = longer.afloat.numbers - bare.afloat.numbers
    assert more[0] == pytest.approx(SEA * 2.0, rel=0.02)
    assert more[1] / more[0] == pytest.approx(12.5, abs=0.05)


def test_what_was_aboard_is_inside_the_survey():
    plain = barge_document(12, 4, 1, 2.5, 0.2)
    aboard = plain["survey"] | {"aboard": {"gear": weight(400, (5, 0, 0))}}
    with_gear, without = surveyed(boat(plain | {"survey": aboard})), surveyed(boat(plain))
    assert with_gear.solid.mass == pytest.approx(without.solid.mass)
    assert with_gear.aboard["gear"].numbers == pytest.approx([400, 2000, 0, 0])


DRY = {f"marks.{m}.freeboard_m.{s}": 9.0 for m in ("forward", "aft") for s in SIDES}


@pytest.mark.parametrize(
    ("survey", "code"),
    [
        pytest.param({"marks.forward.x_m": 10.75}, "too-few-freeboards", id="at one place"),
        pytest.param(DRY, "dry-survey", id="dry"),
    ],
)
def test_a_survey_that_fixes_nothing_is_refused(survey, code):
    changes = {f"survey.{path}": value for path, value in survey.items()}
    with pytest.raises(ModelError) as refused:
        surveyed(boat(with_all(barge_document(12, 4, 1, 2.5, 0.2), changes)))
    assert refused.value.code == code
    assert refused.value.place.startswith("survey")


@pytest.mark.parametrize(
    ("readings", "code"),
    [
        ([(0, 0), (100, 1.0)], "too-few-heels"),
        ([(-100, 1.0), (0, 0), (100, -1.0)], "inclined-backwards"),
    ],
)
def test_an_inclining_that_says_nothing_is_refused(readings, code):
    test = {"readings": [{"moment_kgm": m, "heel_deg": h} for m, h in readings]}
    plain = barge_document(12, 4, 1, 2.5, 0.2, survey={"vcg": None, "inclining": test})
    with pytest.raises((ModelError, DocumentError)) as refused:
        surveyed(boat(plain))
    assert refused.value.code == code
    assert refused.value.place == "survey.inclining.readings"


def test_the_same_survey_is_worked_out_once():
    assert surveyed(boat(demo_document())) is surveyed(boat(demo_document()))
    assert assessed(demo_document(), only="survey-state").survey == demo_answer().survey
