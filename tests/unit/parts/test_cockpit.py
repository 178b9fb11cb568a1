"""Cockpit: plates and wells by hand, what it takes from the hull, refusals and findings."""

from dataclasses import replace
from math import pi

import numpy as np
import pytest

from hullchange.parts.cockpit import DRAIN_TO_EDGE, cockpit
from hullchange.parts.parameters import Drains
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS

DEMO = KINDS["cockpit"].example


def changed(**values):
    return DEMO.model_copy(update=values)


def plates_of(dimensions, host):
    return {plate.id: plate for plate in cockpit(dimensions, Site(host)).plates}


def test_plates_by_hand(host):
    areas = {name: plate.area_mid for name, plate in plates_of(DEMO, host).items()}
    assert areas["sole"] == pytest.approx(1.95 * 0.80 - 2 * pi * 0.025**2)
    assert areas["foot-well-side-port"] == pytest.approx(1.95 * 0.45)
    assert areas["foot-well-forward"] == pytest.approx(0.80 * 0.45)
    assert areas["seat-starboard"] == pytest.approx(2.40 * 0.40)
    assert areas["bridge-forward"] == pytest.approx(0.25 * 0.80)
    assert areas["bridge-after"] == pytest.approx(0.20 * 0.80)
    assert areas["well-side-starboard"] == pytest.approx(2.40 * (1.34 - 0.80))
    under_the_deck = np.trapezoid(
        host.deck_z(7.0, np.linspace(-0.8, 0.8, 2001)) - 0.80, dx=1.6 / 2000
    )
    assert areas["well-end-forward"] == pytest.approx(under_the_deck, rel=1e-6)
    assert areas["well-end-after"] == pytest.approx(1.60 * (1.34 - 0.80))


def test_its_forward_end_reaches_the_cambered_deck(host):
    """And nothing of it stands above: a house's after end stands on the deck over it."""
    for camber in (0.0, 0.06, 0.2):
        boat = replace(host, camber=camber)
        end = plates_of(DEMO, boat)["well-end-forward"]
        for edge in end.outer.tagged("deck"):
            at = end.map.to_boat(edge.spread(80))
            assert at[:, 2] == pytest.approx(boat.deck_z(at[:, 0], at[:, 1]), abs=5e-5)


def test_a_coaming_below_the_crown_is_raised_to_the_deck(host):
    boat = replace(host, camber=0.3)
    plates = plates_of(changed(coaming_top_z_m=1.16, deck_z_m=1.13), boat)
    for name in ("well-end-after", "well-side-starboard"):
        at = plates[name].map.to_boat(plates[name].outer.polyline(1e-4))
        top = at[at[:, 2] > 0.9]
        deck = boat.deck_z(top[:, 0], top[:, 1])
        assert top[:, 2] == pytest.approx(np.maximum(deck, 1.16), abs=2e-4)


def test_levels_follow_from_the_depths(host):
    plates = plates_of(DEMO, host)
    middle = {name: plate.surface().bounds.mean(axis=0) for name, plate in plates.items()}
    assert middle["seat-port"][2] == pytest.approx(0.80)
    assert middle["sole"][2] == pytest.approx(0.35)
    assert middle["seat-port"][1] == pytest.approx(-middle["seat-starboard"][1])


def test_flats_stand_under_seats_and_sole(host):
    plates = plates_of(DEMO, host)
    sole = [p for name, p in plates.items() if name.startswith("sole-flat")]
    seats = [p for name, p in plates.items() if name.startswith("seat-flat")]
    assert len(sole) == 6  # 1.95 m at no more than 0.30
    assert len(seats) == 14  # 2.40 m at 0.30: seven each side of the foot well
    assert sole[0].surface().bounds[1, 2] == pytest.approx(0.35 - 0.002)
    assert sole[0].area_mid == pytest.approx(0.80 * 0.04)
    assert seats[0].area_mid == pytest.approx(0.40 * 0.04)


def test_flats_bridge_the_well_where_there_is_no_foot_well(host):
    shorter = changed(foot_well_m=(1.0, 0.8, 0.45), foot_well_forward_m=7.9)
    flats = [p for p in cockpit(shorter, Site(host)).plates if p.id.startswith("seat-flat")]
    across = [p for p in flats if p.area_mid == pytest.approx(1.60 * 0.04)]
    assert len(across) == 3  # at x 7.3, 7.6 and 9.1


def test_the_well_it_takes_by_hand(host):
    (body,) = cockpit(DEMO, Site(host)).bodies
    assert not body.adds
    seats, foot = 2.40 * 1.60 * (1.34 - 0.80), 1.95 * 0.80 * 0.45
    assert body.surface.volume == pytest.approx(seats + foot, abs=1e-9)


def test_a_flush_well_still_reaches_above_the_deck(host):
    (body,) = cockpit(changed(coaming_top_z_m=1.13), Site(host)).bodies
    deck = host.deck_z(np.linspace(7.0, 9.4, 9), np.zeros(9)).max()
    assert body.surface.bounds[1, 2] > deck


def test_a_forward_coaming(host):
    areas = {
        name: p.area_mid for name, p in plates_of(changed(forward_coaming=True), host).items()
    }
    assert areas["well-end-forward"] == pytest.approx(areas["well-end-after"])


def test_a_foot_well_as_long_and_wide_as_the_seats(host):
    bare = changed(foot_well_m=(2.40, 1.60, 0.2), foot_well_forward_m=7.0, drains=None)
    part = cockpit(bare, Site(host))
    assert not any(p.id.startswith(("seat", "bridge")) for p in part.plates)
    assert part.bodies[0].surface.volume == pytest.approx(2.4 * 1.6 * (0.54 + 0.2), abs=1e-9)


@pytest.mark.parametrize(("count", "forward"), [(1, 0), (2, 0), (3, 1), (4, 2)])
def test_drains_lie_in_the_corners(host, count, forward):
    sole = plates_of(changed(drains=Drains(count=count, diameter_mm=50)), host)["sole"]
    places = np.array([hole.centroid for hole in sole.holes])
    assert len(places) == count
    assert (places[:, 0] < 1.0).sum() == forward
    assert np.abs(places[:, 1] - 0.40).sum() == pytest.approx(
        2 * (count // 2) * (0.40 - 0.025 - DRAIN_TO_EDGE)
    )


@pytest.mark.parametrize(
    ("values", "code", "place"),
    [
        ({"coaming_top_z_m": 1.0}, "coaming-below-deck", "coaming_top_z_m"),
        ({"foot_well_forward_m": 6.9}, "foot-well-outside-seat-well", "foot_well_m"),
        ({"x_forward_m": 9.5, "foot_well_forward_m": 9.6},
         "cockpit-off-the-deck", "x_forward_m"),
        ({"seat_well_m": (2.4, 3.6, 0.33)}, "well-wider-than-deck", "seat_well_m"),
        ({"foot_well_m": (1.95, 0.8, 1.6)}, "well-through-the-hull", "foot_well_m"),
        ({"foot_well_m": (0.5, 0.3, 0.3), "drains": Drains(count=4, diameter_mm=300)},
         "hole-outside-outline", "drains"),
        ({"foot_well_m": (0.5, 0.45, 0.3), "drains": Drains(count=4, diameter_mm=200)},
         "holes-overlap", "drains"),
    ],
)  # fmt: skip
def test_refusals(host, refusal, values, code, place):
    refused = refusal(lambda: cockpit(changed(**values), Site(host)))
    assert (refused.code, refused.place) == (code, place)


def test_how_far_it_comes_through_the_hull_is_reported(host, refusal):
    deep = changed(foot_well_m=(1.95, 0.8, 1.6))
    x, y = np.meshgrid(np.linspace(7.25, 9.20, 40), np.linspace(-0.4, 0.4, 21))
    deepest = (host.bottom_z(x, y) - (0.80 - 1.6)).max() * 1e3
    assert f"{deepest:.0f} mm" in refusal(lambda: cockpit(deep, Site(host))).sentence


def test_findings(host):
    assert cockpit(DEMO, Site(host)).findings == ()
    (typed,) = cockpit(changed(deck_z_m=1.20), Site(host)).findings
    assert (typed.code, typed.place) == ("deck-height-differs", "deck_z_m")
    depth = 0.80 - float(host.bottom_z(9.20, 0.40)) - 0.02
    (tight,) = cockpit(changed(foot_well_m=(1.95, 0.8, round(depth, 3))), Site(host)).findings
    assert (tight.code, tight.place) == ("no-room-for-flats", "stiffeners.flat_mm")
