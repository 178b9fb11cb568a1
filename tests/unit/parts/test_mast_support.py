"""Mast support: pad on the crown, post from floor to roof, floor on the bottom, refusals."""

from dataclasses import replace
from math import pi

import numpy as np
import pytest

from hullchange.geometry.outline import FlatOutline
from hullchange.parts.mast_support import mast_support
from hullchange.parts.on_hull import inside_bottom
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS

DEMO = KINDS["mast_support"].example


def changed(**values):
    return DEMO.model_copy(update=values)


@pytest.fixture
def site(host):
    house = KINDS["deckhouse"]
    return Site(host, house.build(house.example, Site(host)))


def plates_of(dimensions, site):
    return {plate.id: plate for plate in mast_support(dimensions, site).plates}


def test_the_pad_lies_on_the_roof_all_over(site):
    pad = plates_of(DEMO, site)["pad"]
    roof = site.stand.roof
    outer = roof.offset(site.stand.roof_thickness / 2.0)
    flat = pad.outer.polyline()
    below = pad.map.to_boat(flat) - 0.006 * pad.map.outward(pad.map.azimuth(flat))
    assert outer.to_boat(outer.to_flat(below)) == pytest.approx(below, abs=1e-9)
    assert pad.volume == pytest.approx(0.340 * 0.300 * 0.012)
    middle = pad.map.to_boat(pad.flat_centroid)[0]
    assert middle[[0, 1]] == pytest.approx([4.10, 0.0], abs=5e-3)


def test_the_post_reaches_from_floor_to_roof(site):
    plates = plates_of(DEMO, site)
    low, high = plates["post"].surface().bounds
    under = site.stand.roof.offset(-site.stand.roof_thickness / 2.0)
    turn = np.linspace(0.0, 2.0 * pi, 9)
    ring = np.column_stack(
        [4.10 + 0.0445 * np.cos(turn), 0.0445 * np.sin(turn), np.full(9, high[2])]
    )
    over = (under.to_boat(under.to_flat(ring)) - ring)[:, 2]
    assert over.max() == pytest.approx(-over.min(), abs=2e-5)  # half of it in, half of it off
    assert over.max() < 0.00125  # half the roof's 2.5 mm and less
    length = high[2] - low[2]
    assert plates["post"].volume == pytest.approx(pi * 0.083 * 0.006 * length)
    assert plates["floor"].surface().bounds[1, 2] == pytest.approx(low[2])


def test_the_floor_stands_inside_the_bottom_plating(site, host):
    floor = plates_of(DEMO, site)["floor"]
    for edge in floor.outer.tagged("bottom"):
        points = floor.map.to_boat(edge.spread(20))
        inside = [
            inside_bottom(host, points[:, 0] + half, points[:, 1]) for half in (-5e-3, 5e-3)
        ]
        assert points[:, 2] == pytest.approx(np.max(inside, axis=0), abs=6e-5)
        # 5 mm of plating, square to its slope
        assert (points[:, 2] - host.bottom_z(points[:, 0], points[:, 1])).min() > 5e-3
    slope = (float(host.bottom_z(4.1, 0.2)) - float(host.bottom_z(4.1, 0.0))) / 0.2
    scallop = 0.03**2 * (pi / 2.0 - np.arctan(slope))
    assert floor.area_mid == pytest.approx(
        0.4 * 0.3 - 0.2**2 * slope - scallop, rel=1e-3
    )  # the bottom rises a little along the floor's thickness
    foot = max(
        float(inside_bottom(host, np.array([x]), np.zeros(1))[0]) for x in (4.095, 4.105)
    )
    assert floor.surface().bounds[1, 2] - foot == pytest.approx(0.3)


def test_plating_that_nobody_gave_is_reported(site, host):
    bare = Site(replace(host, plating=0.0), site.stand)
    (finding,) = mast_support(DEMO, bare).findings
    assert (finding.code, finding.place) == ("plating-unknown", "floor_mm")
    assert mast_support(DEMO, site).findings == ()


def test_it_rises_with_the_roof(host, site):
    house = KINDS["deckhouse"]
    higher = house.example.model_copy(update={"side_height_m": 0.68})
    raised = Site(host, house.build(higher, Site(host)))
    before, after = (plates_of(DEMO, s)["post"].thickness for s in (site, raised))
    assert after - before == pytest.approx(0.10, abs=2e-3)  # wider below, so the camber counts


def test_nothing_to_stand_on(host, refusal):
    refused = refusal(lambda: mast_support(DEMO, Site(host)))
    assert (refused.code, refused.place) == ("nothing-to-stand-on", "stand")
    flat = KINDS["plating"]
    plate = flat.build(flat.example, Site(host))
    assert refusal(lambda: mast_support(DEMO, Site(host, plate))).code == "nothing-to-stand-on"


@pytest.mark.parametrize(
    ("values", "code", "place"),
    [
        ({"x_m": 7.5}, "pad-off-the-roof", "x_m"),
        ({"x_m": 3.35}, "pad-off-the-roof", "x_m"),
        ({"pad_mm": (340.0, 2500.0, 12.0)}, "pad-off-the-roof", "x_m"),
        ({"post_mm": (80.0, 40.0)}, "post-without-bore", "post_mm"),
        ({"floor_mm": (2500.0, 300.0, 10.0)}, "floor-runs-out", "floor_mm"),
    ],
)
def test_refusals(site, refusal, values, code, place):
    refused = refusal(lambda: mast_support(changed(**values), site))
    assert (refused.code, refused.place) == (code, place)


def test_another_plate_of_the_house_does_not_carry_the_pad(site, refusal):
    wide = FlatOutline.rectangle((-9.0, -9.0), (9.0, 9.0))
    plates = (*site.stand.plates, replace(site.stand.plates[0], outer=wide, holes=()))
    stand = replace(site.stand, plates=plates)
    off = changed(x_m=7.5)
    assert refusal(lambda: mast_support(off, Site(site.host, stand))).code == "pad-off-the-roof"


def test_a_floor_up_to_the_roof(host, refusal):
    house = KINDS["deckhouse"]
    low = house.example.model_copy(
        update={"side_height_m": 0.1, "roof_camber_m": 0.01, "side_windows": None,
                "front_windows": None, "door": None}
    )  # fmt: skip
    shallow = type(host)(sheer_sag=0.0, camber=0.0)
    site = Site(shallow, house.build(low, Site(shallow)))
    tall = changed(floor_mm=(400.0, 1985.0, 10.0))
    assert refusal(lambda: mast_support(tall, site)).code == "floor-above-roof"
