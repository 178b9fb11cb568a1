"""The steady heel and the range of a sailing monohull, and her margin for growth.

Source: UK MGN 280, 11.8 (sailing monohulls): range at least 90 deg or by table 11.9.5, the
    greater; steady heel above 15 deg where GZ meets 0.5 WLO cos^1.3, WLO = GZf / cos^1.3 f,
    f the downflooding angle or 60 deg; a margin for growth of up to 5 % of lightweight, at
    the upper deck amidships.
    UK Code of Practice for sailing vessels, 11.1.1.3: the same steady heel.
Seen: opened; table 11.9.5 from memory; which openings flood is read in the UK Code alone (it
    breaks off in what was seen of MGN 280), so that MGN 280's own is to be confirmed.
Known: no published number was found; the worked values are our own, on
    GZ = 0.72 sin(180 heel / 118). The margin is taken of the displacement, which is more.
"""

from math import cos, radians, sin

import numpy as np
import pytest
from refits import SEA, barge_document, boat
from stability import answer, facts, opening, sine_levers

from hullchange.check_pack.worst_cases import growth_margin
from hullchange.criteria.criterion import CriterionState
from hullchange.criteria.levers import SideLevers
from hullchange.criteria.mgn280 import RULES, wind_lever_upright


def found(code, **given):
    return answer(RULES, f"mgn280-{code}", facts(**given))


def steady_heel(**given):
    remembered = found("steady-heel", **given)
    assert remembered.state is CriterionState.TO_BE_CONFIRMED
    steady = answer(RULES, "uk-sailing-steady-heel", facts(**given))
    assert steady.value == remembered.value
    return steady


def test_the_gust_that_heels_her_to_sixty_degrees():
    upright, flooded = wind_lever_upright(sine_levers(), radians(75.0))
    assert upright == pytest.approx(1.7722, abs=5e-5)
    assert flooded == pytest.approx(radians(60.0))


def test_steady_heel():
    steady = steady_heel()
    assert steady.value == pytest.approx(39.85, abs=5e-3)
    assert steady.state is CriterionState.MET
    # the two levers are equal there
    heel = radians(steady.value)
    wind = 0.5 * 1.77216 * cos(heel) ** 1.3
    assert 0.72 * sin(heel * 180.0 / 118.0) == pytest.approx(wind, abs=1e-4)


@pytest.mark.parametrize("flooded_deg", [40.0, 50.0, 60.0, 75.0])
def test_levers_that_rise_as_the_wind_falls_leave_half_the_flooding_angle(flooded_deg):
    # GZ = cos^1.3 h . h / f up to f: the gust lever meets it at f / 2, in closed form
    least = min(flooded_deg, 60.0)
    heel = np.radians(np.arange(0.0, 180.5, 0.5))
    near = np.minimum(heel, radians(80.0))
    gz = np.cos(near) ** 1.3 * near / radians(least)
    slope = (np.cos(near) - 1.3 * near * np.sin(near)) * np.cos(near) ** 0.3 / radians(least)
    levers = SideLevers(heel, gz, np.where(heel < near + 1e-9, slope, 0.0))
    steady = steady_heel(levers=levers, openings=[opening("hatch", 0.5, flooded_deg)])
    assert steady.value == pytest.approx(least / 2.0, abs=1e-4)


def test_an_opening_that_floods_early_lowers_it():
    low = steady_heel(openings=[opening("hatch", 0.5, 25.0)])
    half = 0.72 * sin(radians(25.0 * 180.0 / 118.0)) / cos(radians(25.0)) ** 1.3 / 2.0
    heel = radians(low.value)
    assert 0.72 * sin(heel * 180.0 / 118.0) == pytest.approx(half * cos(heel) ** 1.3)
    assert low.state is CriterionState.NOT_MET


def test_without_a_lever_at_the_flooding_angle_no_steady_heel_is_safe():
    gone = steady_heel(levers=sine_levers(0.5, 55.0))
    assert (gone.value, gone.state) == (0.0, CriterionState.NOT_MET)
    assert "No righting lever is left" in gone.remarks[0]


@pytest.mark.parametrize(
    ("vanishing_deg", "state"), [(118.0, CriterionState.MET), (89.0, CriterionState.NOT_MET)]
)
def test_range(vanishing_deg, state):
    reach = found("range-90", levers=sine_levers(0.7, vanishing_deg))
    assert reach.value == pytest.approx(vanishing_deg, abs=1e-6)
    assert reach.state is state
    assert "superstructure" in reach.remarks[-1]


def test_a_curve_that_ends_early_does_not_right_her_from_every_angle():
    whole = sine_levers(0.3, 200.0)
    short = SideLevers(whole.heel[:121], whole.gz[:121], whole.slope[:121])
    every = "She rights herself from any heel."
    assert every in found("range-90", levers=whole).remarks
    assert every not in found("range-90", levers=short).remarks
    assert found("range-90", levers=short).value == pytest.approx(120.0)


def test_the_table_from_memory_is_never_met_or_not_met():
    for vanishing_deg in (80.0, 118.0, 170.0):
        table = found("range-table", levers=sine_levers(0.7, vanishing_deg))
        assert table.state is CriterionState.TO_BE_CONFIRMED
    # 90 + 60 (24 - 12) / 17
    assert table.limit == pytest.approx(132.353, abs=5e-4)


def test_growth_margin_on_a_barge_by_hand():
    length, beam, draught, depth, vcg = 12.0, 4.0, 1.0, 2.5, 0.2
    mass, deck = SEA * length * beam * draught, depth - draught
    rows = growth_margin(boat(barge_document(length, beam, draught, depth, vcg)))
    assert [row.stage for row in rows] == ["as_found", "refit"]
    for row in rows:
        added, deeper = 0.05 * mass, 1.05 * draught
        assert row.displacement_kg == pytest.approx(1.05 * mass)
        height = (mass * vcg + added * deck) / (mass + added)
        assert row.centre_of_gravity_m == pytest.approx((6, 0, height), abs=1e-9)
        gm = deeper / 2 - draught + beam**2 / 12 / deeper - height
        assert row.gm_m == pytest.approx(gm)
        assert row.righting_levers is not None
        assert row.vanishing_angle_deg is not None
