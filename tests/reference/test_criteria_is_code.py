"""General criteria on a lever curve that can be integrated by hand.

Source: IMO 2008 Intact Stability Code (MSC.267(85)), part A, 2.2: area to 30 deg at least
    0.055, to 40 deg 0.090, between them 0.030 m rad; 0.20 m at 30 deg or more; largest at
    25 deg or more; GM at least 0.15 m. Part B, 3.6.2.8: the curve is cut short at downflooding.
Seen: opened as UK MGN 280, 11.3.6, and as IS Code part B, 3.6.2; part A quoted alike elsewhere.
Known: the worked curve GZ = 0.72 sin(180 heel / 118) is our own, its integrals exact; an older
    text prefers the largest lever beyond 30 deg.
"""

from math import cos, pi, radians

import pytest
from stability import answer, facts, opening, sine_levers

from hullchange.criteria.criterion import CriterionState
from hullchange.criteria.imo import RULES
from hullchange.findings import Grade

FINE = 1e-9  # the cubic between points one degree apart


def found(code, **given):
    return answer(RULES, f"imo-{code}", facts(**given))


def by_hand(low_deg, high_deg, peak=0.72, vanishing_deg=118.0):
    turn = pi / radians(vanishing_deg)
    return peak / turn * (cos(turn * radians(low_deg)) - cos(turn * radians(high_deg)))


@pytest.mark.parametrize(
    ("code", "printed", "bounds", "limit"),
    [
        ("area-to-30", 0.14272, (0, 30), 0.055),
        ("area-to-40", 0.24329, (0, 40), 0.090),
        ("area-30-to-40", 0.10057, (30, 40), 0.030),
    ],
)
def test_areas(code, printed, bounds, limit):
    area = found(code)
    assert area.value == pytest.approx(printed, abs=5e-6)
    assert area.value == pytest.approx(by_hand(*bounds), abs=FINE)
    assert (area.limit, area.unit, area.state) == (limit, "m rad", CriterionState.MET)


def test_areas_are_cut_at_downflooding():
    hatch = [opening("hatch", 0.5, 35.0)]
    assert found("area-to-40", openings=hatch).value == pytest.approx(by_hand(0, 35), abs=FINE)
    assert found("area-30-to-40", openings=hatch).value == pytest.approx(
        by_hand(30, 35), abs=FINE
    )
    early = found("area-30-to-40", openings=[opening("hatch", 0.5, 28.0)])
    assert (early.value, early.state) == (0.0, CriterionState.NOT_MET)


def test_the_lever_at_thirty_degrees_on_a_curve_that_peaks_before():
    # 0.51585 m is GZ at 30 deg; the largest beyond it is the peak at 59 deg
    assert sine_levers().at(radians(30.0)) == pytest.approx(0.51585, abs=5e-6)
    assert found("lever-from-30").value == pytest.approx(0.72, abs=FINE)
    falling = found("lever-from-30", levers=sine_levers(0.25, 50.0))
    assert falling.value == pytest.approx(0.25 * 0.9510565163, abs=1e-6)


def test_no_lever_counts_once_she_has_flooded_or_turned_over():
    flooded = found("lever-from-30", openings=[opening("hatch", 0.5, 29.0)])
    assert (flooded.value, flooded.state) == (0.0, CriterionState.NOT_MET)
    assert found("lever-from-30", levers=sine_levers(0.5, 29.0)).value == 0.0


def test_heel_of_the_largest_lever():
    peak = found("heel-of-largest-lever")
    assert peak.value == pytest.approx(59.0, abs=1e-6)
    early = found("heel-of-largest-lever", levers=sine_levers(0.4, 49.0))
    assert early.value == pytest.approx(24.5, abs=1e-4)
    assert early.state is CriterionState.NOT_MET
    cut = found("heel-of-largest-lever", openings=[opening("hatch", 0.5, 24.0)])
    assert cut.value == pytest.approx(24.0)
    assert cut.state is CriterionState.NOT_MET


def test_initial_gm():
    # the slope of the curve at rest
    assert sine_levers().slope[0] == pytest.approx(1.0983, abs=5e-5)
    assert found("initial-gm", gm=0.15).state is CriterionState.MET
    assert found("initial-gm", gm=0.1499).state is CriterionState.NOT_MET


def test_all_six_are_grade_a_and_name_their_source():
    assert [rule.criterion.grade for rule in RULES] == [Grade.A] * 6
    limits = [answer(RULES, rule.criterion.id, facts()).limit for rule in RULES]
    assert limits == [0.055, 0.090, 0.030, 0.20, 25.0, 0.15]
    clauses = [rule.criterion.clause for rule in RULES]
    assert clauses == ["2.2.1"] * 3 + ["2.2.2", "2.2.3", "2.2.4"]
