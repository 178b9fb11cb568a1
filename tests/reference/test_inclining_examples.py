"""Inclining arithmetic against a published question and a worked value.

Source: a United States Coast Guard deck licence question (published 2018-02-19): 30 long tons
    moved 30 ft, pendulum of 28 ft reads 12 in, 4000 long tons, KM 27.64 ft; GM 6.30 ft and
    KG 21.34 ft are the listed answer.
Seen: quoted elsewhere; the arithmetic was done again.
Known: the example's units are feet and long tons; GM = w d L / (W x) needs them alike only.
"""

from math import atan2, degrees

import pytest

from hullchange.errors import ModelError
from hullchange.survey.inclining import inclined_stiffness


def test_coast_guard_question():
    heel_deg = degrees(atan2(1.0, 28.0))
    result = inclined_stiffness((-900.0, 0.0, 900.0), (-heel_deg, 0.0, heel_deg))
    gm = result.stiffness / 4000.0
    assert gm == pytest.approx(6.30, abs=0.005)
    assert 27.64 - gm == pytest.approx(21.34, abs=0.005)


def test_sixty_kilograms_on_a_two_metre_pendulum():
    # check value 4.5: 60 kg x 3.2 m, 10 500 kg, 2.000 m pendulum, 38 mm
    heel_deg = degrees(atan2(0.038, 2.0))
    result = inclined_stiffness((-192.0, 0.0, 192.0), (-heel_deg, 0.0, heel_deg))
    assert result.stiffness / 10_500.0 == pytest.approx(0.9624, abs=5e-5)
    assert heel_deg == pytest.approx(1.088, abs=5e-4)


def test_a_list_before_the_test_does_not_matter():
    result = inclined_stiffness((-100.0, 0.0, 100.0), (-0.5, 0.5, 1.5))
    straight = inclined_stiffness((-100.0, 0.0, 100.0), (-1.0, 0.0, 1.0))
    assert result.stiffness == pytest.approx(straight.stiffness, rel=2e-4)
    assert result.intercept == pytest.approx(0.00873, abs=1e-5)


@pytest.mark.parametrize(
    ("moments", "heels", "code"),
    [
        ((0.0, 100.0), (0.0, 1.0), "too-few-heels"),
        ((-100.0, 0.0, 100.0), (1.0, 0.0, -1.0), "inclined-backwards"),
    ],
)
def test_readings_that_say_nothing_are_refused(moments, heels, code):
    with pytest.raises(ModelError) as refusal:
        inclined_stiffness(moments, heels)
    assert refusal.value.code == code
