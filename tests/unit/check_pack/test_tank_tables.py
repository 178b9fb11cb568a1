"""Tanks over their fill, and the worst of them."""

import numpy as np
import pytest
from refits import SEA, barge_document, boat, demo

from hullchange.check_pack.tank_tables import capacity, tank_tables, worst_fills
from hullchange.errors import DocumentError

LENGTH, BEAM, DRAUGHT, DEPTH, VCG = 12.0, 4.0, 1.0, 2.5, 0.2
LOW, HIGH, WIDE, LONG = -0.8, 0.4, 3.0, 4.0
TANK = {
    "box_m": {"x": [4.0, 8.0], "y": [-1.5, 1.5], "z": [LOW, HIGH]},
    "capacity_l": 1000 * WIDE * LONG * (HIGH - LOW),
    "density_kg_m3": 900,
}


def barge(**more):
    tanks = {"oil": TANK | more, "bucket": {"at_m": [6, 0, 0], "capacity_l": 9}}
    tanks["bucket"]["contents"] = "fresh"
    return boat(barge_document(LENGTH, BEAM, DRAUGHT, DEPTH, VCG, tanks=tanks))


def gm_by_hand(volume):
    """GM of the barge, level, with so much oil free to move."""
    oil, rigid = 900 * volume, SEA * LENGTH * BEAM * DRAUGHT
    mass = rigid + oil
    draught = mass / SEA / LENGTH / BEAM
    kb = draught / 2 - 1
    kg = (rigid * VCG + oil * (LOW + volume / WIDE / LONG / 2)) / mass
    surface = 900 * LONG * WIDE**3 / 12 * (0 < volume < WIDE * LONG * (HIGH - LOW))
    return kb + BEAM**2 / 12 / draught - kg - surface / mass


def test_a_box_by_hand():
    tables = tank_tables(barge())
    assert list(tables) == ["oil"]
    rows = tables["oil"]
    assert [row.fill for row in rows] == pytest.approx([k / 20 for k in range(21)])
    for row in rows:
        depth = row.fill * (HIGH - LOW)
        assert row.volume == pytest.approx(WIDE * LONG * depth)
        assert row.mass == pytest.approx(900 * row.volume)
        assert row.centre == pytest.approx((6.0, 0.0, LOW + depth / 2), abs=1e-12)
    moments = [row.free_surface_moment for row in rows]
    assert moments[1:-1] == pytest.approx([900 * LONG * WIDE**3 / 12] * 19)
    assert (moments[0], moments[-1]) == (0.0, 0.0)


def test_rows_add_up():
    rows = tank_tables(demo()[0])["water"]
    poured = np.diff([row.mass for row in rows])
    assert poured == pytest.approx([20.0] * 20)
    # each layer adds its moment where it lies
    heights = np.diff([row.mass * row.centre[2] for row in rows]) / poured
    assert heights == pytest.approx([-0.49 + 0.02 * k for k in range(20)])


def test_a_tank_that_holds_less_than_its_box_is_full_at_that():
    small = barge(capacity_l=6000)
    assert capacity(small, "oil") == pytest.approx(6.0)
    full = tank_tables(small)["oil"][-1]
    assert full.mass == pytest.approx(5400)
    assert full.free_surface_moment > 0


def test_the_worst_fill_of_a_barge():
    found = worst_fills(barge())
    assert {(w.condition, w.tank) for w in found} == {("survey-state", "oil")}
    assert {w.stage for w in found} == {"as_found", "refit"}
    volumes = np.linspace(1e-7, WIDE * LONG * (HIGH - LOW) - 1e-7, 20001)
    by_hand = [gm_by_hand(v) for v in volumes]
    for worst in found:
        assert worst.gm_as_filled == pytest.approx(gm_by_hand(0.0), abs=1e-9)
        assert worst.gm == pytest.approx(min(by_hand), abs=1e-6)
        # nearly full: her weight is high then, and the surface still free
        assert worst.volume == pytest.approx(volumes[int(np.argmin(by_hand))], abs=0.01)


def test_a_tank_the_refit_lacks_is_not_filled():
    only_found = worst_fills(barge(boat="as_found"))
    assert [w.stage for w in only_found] == ["as_found"]


def test_a_tank_in_no_place_is_refused():
    with pytest.raises(DocumentError) as refused:
        barge(at_m=[0, 0, 0])
    assert "tank-place" in {fault.code for fault in refused.value.faults}
