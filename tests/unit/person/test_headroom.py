"""Headroom: by hand in a house on a flat deck, in raised and stacked houses, against rays."""

from copy import deepcopy
from math import cos, radians, sqrt, tan

import numpy as np
import pytest
import trimesh
from other_refits import other_refit
from refits import barge_document, boat, demo_document

from hullchange.afloat.person_aboard import aboard, sole_of
from hullchange.person.headroom import OFF_CENTRE, below, headroom, proposed_sole, underside

DECK, HEIGHT, CAMBER, HALF = 1.0, 0.6, 0.08, 1.0
HOUSE = {
    **{"kind": "deckhouse", "x_forward_m": 3.0, "x_aft_m": 7.0, "side_height_m": HEIGHT},
    **{"roof_half_breadth_forward_m": HALF, "roof_half_breadth_aft_m": HALF},
    **{"tumblehome_deg": 0, "front_rake_deg": 30, "roof_camber_m": CAMBER},
    **{"roof_plate_mm": 4, "side_plate_mm": 3, "end_plate_mm": 3},
    "roof_beams": {"spacing_m": 0.5, "flat_mm": [50, 5]},
}
AT_A_STATION = 2e-6  # [m] stations are told to a micrometre, and a front is steep
TAKEN = 0.002 + 0.050 + 0.020  # half the plate, beam, lining


def barge(house=HOUSE, person=None, more=None):
    """The person in the refit of a flat-decked barge with a house on her."""
    parts = {"house": house} | (more or {})
    plain = barge_document(10.0, 4.0, 1.0, 2.0, 0.2, changes={"new": {"parts": parts}})
    plain["person"] = {"lining_mm": 20, "sole_z_m": -0.5} | (person or {})
    return aboard(boat(plain))


def room(boats, name="house"):
    (house,) = (h for h in boats[1].houses if h.id == name)
    return headroom(house, sole_of(boats), boats[1].person.lining_mm / 1000)


def test_under_a_cylinder_by_hand():
    found = room(barge())
    crown = DECK + HEIGHT + CAMBER - TAKEN + 0.5
    radius = (HALF**2 + CAMBER**2) / (2 * CAMBER) - TAKEN
    aside = crown - (radius - sqrt(radius**2 - OFF_CENTRE**2))
    assert found.least(found.middle)[0] == pytest.approx(crown, abs=AT_A_STATION)
    assert found.least(found.off_centre)[0] == pytest.approx(aside, abs=AT_A_STATION)


def test_under_a_raked_front_by_hand():
    """Before the roof begins the front is overhead, its plate and lining square to it."""
    found, rake = room(barge()), radians(30)
    first = found.x[0] - 3.0 - (0.0015 + 0.020) / cos(rake)
    assert first == pytest.approx(0.0, abs=1e-5)
    k = 3
    by_hand = DECK + (found.x[k] - found.x[0]) / tan(rake) + 0.5
    assert found.roofed[k] == 0.0
    assert found.middle[k] == pytest.approx(by_hand, abs=1e-5)


def test_a_sole_that_slopes_takes_what_it_rises():
    found = room(barge(person={"sole_z_m": None, "sole_points_m": [[4.0, -0.5], [7.0, -0.2]]}))
    level = room(barge())
    least, x = found.least(found.middle)
    assert x == pytest.approx(found.x[-1])
    rise = 0.3 * (x - 4.0) / 3.0
    assert level.least(level.middle)[0] - least == pytest.approx(rise, abs=AT_A_STATION)


def test_where_she_cannot_stand_upright_by_hand():
    x, height = np.array([0.0, 1.0, 2.0, 3.0]), np.array([2.0, 1.6, 1.6, 2.0])
    ((start, end),) = below(height, x, 1.8)
    assert (start, end) == pytest.approx((0.5, 2.5))
    assert below(height, x, 1.5) == []


def test_house_on_house_is_as_high_as_both_where_the_roof_is_cut_out():
    upper = {k: v for k, v in HOUSE.items() if k != "roof_beams"}
    upper |= {"x_forward_m": 5.0, "x_aft_m": 6.5, "stand": "house", "side_height_m": 0.3}
    upper |= {"roof_half_breadth_forward_m": 0.6, "roof_half_breadth_aft_m": 0.6}
    boats = barge(more={"upper": upper})
    low, high = room(boats), room(boats, "upper")
    alone = room(barge())
    at = np.interp(5.9, low.x, low.middle)
    assert at == pytest.approx(np.interp(5.9, high.x, high.middle), abs=1e-6)
    assert at > np.interp(5.9, alone.x, alone.middle) + 0.3
    assert low.least(low.middle)[0] == pytest.approx(alone.least(alone.middle)[0])
    kept = room(barge(more={"upper": upper | {"roof_below": "kept"}}))
    assert kept.middle == pytest.approx(alone.middle)


def test_a_spray_cover_and_a_boat_without_a_house_have_no_headroom():
    cover = {k: v for k, v in HOUSE.items() if k != "door"} | {"open_aft": True}
    assert barge(cover)[1].houses == ()
    plain = barge_document(10.0, 4.0, 1.0, 2.0, 0.2, person={"height_m": 1.7})
    assert aboard(boat(plain))[1].houses == ()


def test_a_sole_is_assumed_where_the_hull_is_wide_enough():
    hull = barge()[1].hull
    assert proposed_sole(hull, 3.0, 7.0) == pytest.approx(-1.0 + 0.1)


def rays(one, house, lining):
    """Heights of what rays up from the deck meet first, and the same by the roof's formula."""
    part = next(p for p in one.parts if p.id == house.id)
    plates = [
        p.surface() for p in part.part.plates if p.id in {"roof", "front"} or "side-s" in p.id
    ]
    plates = [s for s in plates if len(s.faces)]
    mesh = trimesh.util.concatenate(
        [trimesh.Trimesh(s.vertices, s.faces, process=False) for s in plates]
    )
    found = headroom(house, np.array([[0.0, 0.0], [1.0, 0.0]]), lining)
    x = found.x[found.roofed > 0][1:-1:4]
    for y in (0.0137, 0.2, OFF_CENTRE):
        z = underside(house, x, np.full(len(x), y), 0.0)
        low = np.interp(x, house.shape.side_foot[:, 0], house.shape.side_foot[:, 2]) + 0.02
        starts = np.column_stack([x, np.full(len(x), y), np.minimum(low, z - 0.01)])
        at, ray, _ = mesh.ray.intersects_location(
            starts, np.tile([0.0, 0.0, 1.0], (len(x), 1)), multiple_hits=False
        )
        yield from zip(z[ray], at[:, 2], strict=True)


def bare_rays(seed):
    """The rays in the houses of a random boat, their beams and stiffeners left out."""
    plain = deepcopy(other_refit(seed).plain)
    plain["person"] = {}
    parts = [
        part
        for change in plain["changes"].values()
        for part in change.get("parts", {}).values()
    ]
    for house in (part for part in parts if part["kind"] == "deckhouse"):
        house.pop("roof_beams", None)
        house.pop("side_stiffeners", None)
    _, refit = aboard(boat(plain))
    for house in refit.houses:
        if not (house.upper or house.given.stand or house.given.roof_beams):
            yield from rays(refit, house, 0.0)


@pytest.mark.slow
def test_rays_up_meet_the_roof_where_headroom_says():
    """Houses of random boats without beams: the first steel overhead, to the mesh's chords."""
    pairs = np.array([pair for seed in range(0, 60, 4) for pair in bare_rays(seed)])
    pairs = pairs[np.isfinite(pairs[:, 0])]
    assert len(pairs) > 60
    assert pairs[:, 0] == pytest.approx(pairs[:, 1], abs=2e-3)


def test_the_demo_gains_headroom_by_what_her_house_is_raised():
    plain = deepcopy(demo_document())
    plain["person"] = {"sole_z_m": -0.4}
    boats = aboard(boat(plain))
    old, new = (headroom(one.houses[0], sole_of(boats), 0.0) for one in boats)
    # 180 mm higher, 50 mm beams in both or none: what hangs under the roof differs too
    depth = {one.stage: one.houses[0].given for one in boats}
    beams = [
        0.0 if g.roof_beams is None else g.roof_beams.flat_mm[0] / 1000 for g in depth.values()
    ]
    plates = [g.roof_plate_mm / 2000 for g in depth.values()]
    gain = new.least(new.middle)[0] - old.least(old.middle)[0]
    by_hand = 0.18 - (beams[1] - beams[0]) - (plates[1] - plates[0])
    assert gain == pytest.approx(by_hand, abs=5e-3)
