"""Bow platform: the top by hand, how it lies on the deck, brackets on the stem, refusals."""

from math import pi

import numpy as np
import pytest

from hullchange.parts.bow_platform import bow_platform
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS

DEMO = KINDS["bow_platform"].example


def changed(**values):
    return DEMO.model_copy(update=values)


def plates_of(dimensions, host):
    return {plate.id: plate for plate in bow_platform(dimensions, Site(host)).plates}


def test_the_top_by_hand(host):
    area = plates_of(DEMO, host)["top"].area_mid
    slot = 0.09 * (0.42 - 0.045) + pi * 0.045**2 / 2
    corners = 2 * (1 - pi / 4) * 0.08**2
    assert area == pytest.approx(0.95 * 0.46 - slot - corners, abs=1e-12)
    whole = plates_of(changed(roller_slot_mm=None, corner_radius_m=0.0), host)["top"]
    assert whole.area_mid == pytest.approx(0.95 * 0.46, abs=1e-12)


def test_its_underside_lies_on_the_deck(host):
    top = plates_of(DEMO, host)["top"]
    frame = top.map.frame
    below = frame.origin + frame.normal * 0.003  # its own normal points down
    for x in (host.stem_x + 0.30, host.stem_x):
        run = (x - below[0]) / frame.u[0]
        on = below + run * frame.u
        assert on[2] == pytest.approx(float(host.deck_z(x, 0.0)), abs=1e-12)
    assert top.surface().bounds[0, 0] == pytest.approx(host.stem_x + 0.30 - 0.95, abs=0.01)


def test_cheeks_stand_on_it_beside_the_slot(host):
    plates = plates_of(DEMO, host)
    cheek = plates["cheek-starboard"].surface().bounds
    assert cheek[:, 1] == pytest.approx([0.045, 0.055])
    top = plates["top"].map.frame
    heights = (plates["cheek-port"].surface().vertices - top.origin) @ -top.normal
    assert (heights.min(), heights.max()) == pytest.approx((0.003, 0.103))


def test_brackets_lie_on_the_shell_at_their_own_breadth(demo):
    """Their inner face, the first to meet it, touches all along; no face enters the hull."""
    plates = plates_of(DEMO, demo)
    bracket, top = plates["bracket-starboard"], plates["top"].map.frame
    middle = float(bracket.map.frame.origin[1])
    shell = bracket.outer.tagged("hull")
    points = np.concatenate([bracket.map.to_boat(edge.spread(60)) for edge in shell])
    assert points[:, 0].min() == pytest.approx(demo.stem_x)  # her stem is blunt at the top
    points = points[points[:, 0] > demo.stem_x + 1e-6]
    for face, off in ((-1.0, 2e-5), (1.0, np.inf)):
        half_breadth = [
            np.interp(z, *demo.section(x + 1e-9)[:, ::-1].T, left=0.0) for x, _, z in points
        ]
        clear = middle + face * 0.005 - np.array(half_breadth)
        assert clear.min() > -2e-5
        assert clear.max() < off
    (leg,) = bracket.outer.tagged("platform")
    (scallop,) = bracket.outer.tagged("scallop")
    root = bracket.map.to_boat(np.array([scallop.centre]))[0]
    assert root[2] - points[:, 2].min() == pytest.approx(DEMO.bracket_m[1], abs=1e-6)
    assert leg.length + scallop.radius == pytest.approx(DEMO.bracket_m[0])
    ends = bracket.map.to_boat(np.array([leg.start, leg.end]))
    assert (ends - top.origin) @ -top.normal == pytest.approx(-0.003, abs=1e-9)


def test_brackets_where_the_hull_begins_behind_the_platform(demo, refusal):
    wide = changed(width_m=2.0, roller_slot_mm=None, on_deck_m=0.2)
    refused = refusal(lambda: bow_platform(wide, Site(demo)))
    assert (refused.code, refused.place) == ("bracket-misses-hull", "bracket_m")
    deep = changed(length_m=2.4, bracket_m=(2.0, 2.45))
    assert refusal(lambda: bow_platform(deep, Site(demo))).code == "bracket-misses-hull"


def test_without_a_slot_the_cheeks_stand_at_a_quarter_of_the_width(host):
    plates = plates_of(changed(roller_slot_mm=None), host)
    assert plates["cheek-starboard"].surface().bounds[:, 1].mean() == pytest.approx(0.46 / 4)


def test_a_stem_that_bulges_into_the_brackets(demo, refusal):
    deep = changed(length_m=2.4, bracket_m=(2.0, 2.3))
    refused = refusal(lambda: bow_platform(deep, Site(demo)))
    assert (refused.code, refused.place) == ("bracket-behind-stem", "bracket_m")


@pytest.mark.parametrize(
    ("values", "code", "place"),
    [
        ({"on_deck_m": 0.94}, "platform-without-overhang", "length_m"),
        ({"bracket_m": (0.66, 0.2)}, "bracket-longer-than-overhang", "bracket_m"),
        ({"roller_slot_mm": (430.0, 500.0)}, "slot-too-wide", "roller_slot_mm"),
        ({"roller_slot_mm": (90.0, 940.0)}, "slot-too-long", "roller_slot_mm"),
        ({"roller_slot_mm": (90.0, 40.0)}, "slot-too-long", "roller_slot_mm"),
        ({"corner_radius_m": 0.2}, "corner-radius-too-large", "corner_radius_m"),
    ],
)
def test_refusals(host, refusal, values, code, place):
    refused = refusal(lambda: bow_platform(changed(**values), Site(host)))
    assert (refused.code, refused.place) == (code, place)
