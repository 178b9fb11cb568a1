"""Tanks by box, by plan and as a compartment of the hull."""

from pathlib import Path

import numpy as np
import pytest

from hullchange.assess.assessment import assessment
from hullchange.boat.boat import boat_of
from hullchange.document.paths import with_value
from hullchange.document.reading import document_of, read_document
from hullchange.errors import DocumentError, ModelError
from hullchange.geometry.surface import prism, require_closed
from hullchange.survey.as_found import tank_of

SALTMARROW = read_document(Path(__file__).parents[3] / "examples" / "saltmarrow.yaml")
OUTLINE = [[4.20, -0.50], [5.20, -0.50], [5.20, 0.50], [4.20, 0.50]]


def boat_with(tank):
    plain = with_value(SALTMARROW.plain, "tanks.water", tank)
    return boat_of(document_of(plain, SALTMARROW.folder))


def survey_gm(boat):
    answer = assessment(boat, only="survey-state", levers=None)
    return [row.gm_m for row in answer.conditions]


def test_a_plan_with_the_sides_of_the_box_is_the_box():
    plan = {"outline_m": OUTLINE, "z_m": [-0.5, -0.1], "capacity_l": 400, "contents": "fresh"}
    boxed = boat_of(SALTMARROW.document)
    assert tank_of(boat_with(plan), "water", 0.1).surface.volume == pytest.approx(0.4)
    assert survey_gm(boat_with(plan)) == pytest.approx(survey_gm(boxed), abs=1e-9)


def test_a_plan_listed_the_other_way_round_holds_as_much():
    triangle = np.array([[0.0, 0.0], [2.0, 0.0], [0.0, 1.0]])
    for outline in (triangle, triangle[::-1]):
        body = prism(outline, -0.5, 0.5)
        require_closed(body, "a prism")
        assert body.volume == pytest.approx(1.0)


def test_a_compartment_ends_at_the_hull():
    box = {"x": [4.2, 5.2], "y": [-3.0, 3.0], "z": [-2.0, 0.0]}
    tank = {"box_m": box, "within": "hull", "capacity_l": 2000, "contents": "fresh"}
    boat = boat_with(tank)
    inside = tank_of(boat, "water", 0.1).surface
    # by hand: the mean half section below the waterline, from chine to chine straight
    areas = []
    for x in np.linspace(4.2, 5.2, 21):
        section = boat.hull.section(float(x))
        wet = np.array([p for p in section if p[1] <= 0.0])
        above = section[len(wet)]
        share = -wet[-1, 1] / (above[1] - wet[-1, 1])
        edge = wet[-1] + share * (above - wet[-1])
        y, z = np.vstack([wet, edge]).T
        areas.append(2.0 * np.trapezoid(y, z))
    assert inside.volume == pytest.approx(np.trapezoid(areas, dx=0.05), rel=2e-3)


@pytest.mark.parametrize(
    ("tank", "code"),
    [
        ({"outline_m": OUTLINE, "capacity_l": 400, "contents": "fresh"}, "tank-outline"),
        ({"capacity_l": 400, "contents": "fresh"}, "tank-place"),
    ],
)
def test_a_tank_without_a_shape_or_place_is_refused(tank, code):
    with pytest.raises(DocumentError) as refusal:
        boat_with(tank)
    assert code in [fault.code for fault in refusal.value.faults]


def test_a_plan_without_area_is_refused():
    with pytest.raises(ModelError) as refusal:
        prism(np.array([[0.0, 0.0], [1.0, 0.0], [2.0, 0.0]]), 0.0, 1.0)
    assert refusal.value.code == "not-a-volume"
