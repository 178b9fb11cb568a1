"""Hydrostatics upright: a barge by hand, coefficients, sections, refusals."""

import bodies
import numpy as np
import pytest

from hullchange.errors import ModelError
from hullchange.floating.envelope import Envelope, Piece
from hullchange.floating.hydrostatics import hydrostatics, section_area, waterline_outline
from hullchange.geometry.frame import WaterPlane, up_vector
from hullchange.geometry.surface import box, difference, prism

WATER = 1025.0


def alone(surface):
    return Envelope((Piece(surface, adds=True, id="hull"),))


def test_a_barge_by_hand():
    barge = bodies.barge(10.0, 4.0, 2.0, draught=0.5)
    answer = hydrostatics(alone(barge), barge, 10.0, WATER)
    assert answer.displacement == pytest.approx(20.0 * WATER)
    assert (answer.lcb, answer.lcf) == pytest.approx((0.0, 0.0), abs=1e-14)
    assert answer.vcb == pytest.approx(-0.25)
    assert answer.waterplane_area == pytest.approx(40.0)
    assert answer.km_transverse == pytest.approx(-0.25 + 16.0 / (12.0 * 0.5))
    assert answer.km_longitudinal == pytest.approx(-0.25 + 100.0 / (12.0 * 0.5))
    assert answer.kg_per_cm == pytest.approx(410.0)
    assert answer.trim_moment_per_cm == pytest.approx(20.0 * WATER * (100 / 6) / 10.0 / 100.0)
    assert (answer.length_waterline, answer.beam_waterline) == pytest.approx((10.0, 4.0))
    assert answer.draught == pytest.approx(0.5)
    assert answer.wetted_area == pytest.approx(40.0 + 28.0 * 0.5)
    assert answer.block_coefficient == pytest.approx(1.0)
    assert answer.prismatic_coefficient == pytest.approx(1.0)
    assert answer.midship_coefficient == pytest.approx(1.0)
    assert answer.waterplane_coefficient == pytest.approx(1.0)


@pytest.mark.parametrize("fore_x", [0.0, 3.0])
def test_the_midship_section_lies_half_way_along_the_waterline(fore_x):
    # a wedge 2 m broad forward, 4 m aft, 10 m long and 1 m deep: half-way it is 3 m broad
    plan = [(0.0, -1.0), (10.0, -2.0), (10.0, 2.0), (0.0, 1.0)]
    wedge = prism(np.array(plan) + [fore_x, 0.0], -1.0, 0.5)
    answer = hydrostatics(alone(wedge), wedge, 10.0, WATER)
    assert answer.displacement == pytest.approx(30.0 * WATER)
    assert answer.midship_coefficient == pytest.approx(3.0 / 4.0)
    assert answer.prismatic_coefficient == pytest.approx(30.0 / (3.0 * 10.0))
    assert answer.block_coefficient == pytest.approx(30.0 / (10.0 * 4.0))


def test_another_waterline():
    barge = bodies.barge(10.0, 4.0, 2.0, draught=0.5)
    answer = hydrostatics(alone(barge), barge, 10.0, WATER, waterline_z=0.3)
    assert answer.displacement == pytest.approx(32.0 * WATER)
    assert answer.vcb == pytest.approx(-0.1)
    assert answer.draught == pytest.approx(0.8)


def test_a_keel_counts_for_the_boat_and_not_for_the_coefficients():
    hull = bodies.yacht(40)
    fin = bodies.fin(hull)
    both = Envelope((*alone(hull).pieces, Piece(fin, adds=True, id="keel")))
    bare, keeled = (hydrostatics(e, hull, 10.0, WATER) for e in (alone(hull), both))
    gained = keeled.displacement - bare.displacement
    assert gained == pytest.approx(fin.volume * WATER, rel=1e-9)
    assert keeled.block_coefficient == bare.block_coefficient
    assert keeled.prismatic_coefficient == bare.prismatic_coefficient
    assert bare.block_coefficient == pytest.approx(
        bare.prismatic_coefficient * bare.midship_coefficient
    )
    assert keeled.draught == pytest.approx(2.0)
    assert keeled.midship_coefficient == bare.midship_coefficient  # by the hull's own draught
    # both sides and both ends of the fin come, the strip it stands on goes
    z = fin.vertices[:, 2].max() + 2.0
    assert bare.wetted_area < keeled.wetted_area < bare.wetted_area + 2.0 * 3.24 * z


@pytest.mark.parametrize(
    ("below", "area"), [(-1.0, 0.0), (0.25, 0.75), (0.5, 1.5), (1.0, 3.0), (1.2, 3.6), (9, 6)]
)
def test_section_of_a_box_below_a_height(below, area):
    barge = bodies.barge(10.0, 3.0, 2.0, cells=3)
    assert section_area(barge, 0.1, below) == pytest.approx(area, abs=1e-14)


def test_section_of_a_prism_and_of_a_hollow_one():
    prism = bodies.prism(10.0, 3.0, 2.0)
    # similar triangles: a quarter of the area at half the depth
    assert section_area(prism, 1.0, 2.0) == pytest.approx(3.0)
    assert section_area(prism, 1.0, 1.0) == pytest.approx(0.75)
    hole = box(np.array([-9.0, -0.2, 1.2]), np.array([9.0, 0.2, 1.6]))
    hollow = difference(prism, hole)
    assert section_area(hollow, 1.0, 2.0) == pytest.approx(3.0 - 0.16)
    assert section_area(hollow, 1.0, 1.4) == pytest.approx(3.0 * 0.49 - 0.08)


def test_sections_add_up_to_the_volume():
    hull, water = bodies.yacht(40), 0.2
    low, high = hull.bounds[:, 0]
    stations = np.linspace(low, high, 501)
    middle = (stations[1:] + stations[:-1]) / 2.0
    volume = sum(section_area(hull, float(x), water) for x in middle) * (high - low) / 500.0
    whole = alone(hull).integrals(WaterPlane(up_vector(0.0, 0.0), water)).volume
    assert volume == pytest.approx(whole, rel=1e-4)  # midpoint rule


def test_the_inside_lies_to_the_left_of_the_outline():
    barge = bodies.barge(10.0, 4.0, 2.0, draught=0.5)
    edges = waterline_outline(barge, WaterPlane(up_vector(0.0, 0.0), 0.0))
    x, y = edges[:, :, 0], edges[:, :, 1]
    assert (x[:, 0] * y[:, 1] - x[:, 1] * y[:, 0]).sum() / 2.0 == pytest.approx(40.0)


@pytest.mark.parametrize(("water", "code"), [(-2.0, "no-volume"), (5.0, "no-waterplane")])
def test_a_waterline_that_misses_the_hull(water, code):
    barge = bodies.barge(10.0, 4.0, 2.0, draught=0.5)
    with pytest.raises(ModelError) as refusal:
        hydrostatics(alone(barge), barge, 10.0, WATER, waterline_z=water)
    assert refusal.value.code == code
