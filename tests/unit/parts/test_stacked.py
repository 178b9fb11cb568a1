"""Houses on houses: fitted to the roof below, one bulkhead between, nothing counted twice."""

from math import atan2, cos, sin

import numpy as np
import pytest
from any_part import dimensions, plausible_dimensions
from hulls import random_hull
from refits import barge_document, boat, changed, demo_document

from hullchange.errors import DocumentError
from hullchange.geometry.roof_host import roof_z
from hullchange.geometry.surface import intersection, require_closed
from hullchange.input_checks.overlaps import clashes
from hullchange.parts.on_hull import with_fit_findings
from hullchange.parts.part import Site
from hullchange.parts.registry import KINDS
from hullchange.parts.stacked import carried_by

LOW = {
    **{"kind": "deckhouse", "x_forward_m": 3.0, "x_aft_m": 7.0, "side_height_m": 0.5},
    **{"roof_half_breadth_forward_m": 0.9, "roof_half_breadth_aft_m": 0.9},
    **{"tumblehome_deg": 0, "front_rake_deg": 0, "roof_camber_m": 0.1},
    **{"roof_plate_mm": 4, "side_plate_mm": 4, "end_plate_mm": 4},
    "roof_beams": {"spacing_m": 0.5, "flat_mm": [50, 5]},
}
HIGH = {
    **LOW,
    **{"stand": "low", "x_forward_m": 4.0, "x_aft_m": 6.0, "side_height_m": 0.45},
    **{"roof_half_breadth_forward_m": 0.6, "roof_half_breadth_aft_m": 0.6},
    **{"roof_camber_m": 0.06, "roof_beams": None},
}
DECK = 1.0


def plain(high=None, low=None, existing=None, **more):
    """A barge of 12 by 4 m with a low house and one on it."""
    parts = {"high": HIGH | (high or {}), "low": LOW | (low or {})}
    parts = {
        name: {key: value for key, value in part.items() if value is not None}
        for name, part in parts.items()
    }
    if existing is not None:
        more["existing"] = existing
        del parts["low"]
    changes = {"houses": {"parts": parts}}
    return barge_document(12.0, 4.0, 1.0, 2.0, 0.2, changes=changes, **more)


def plates(built, name="high"):
    return {plate.id: plate for plate in built.parts[name].part.plates}


def arch(half, camber):
    """Area over a chord and half the angle, of a roof's arc."""
    radius = (half**2 + camber**2) / (2.0 * camber)
    turn = atan2(half, radius - camber)
    return radius**2 * (turn - sin(turn) * cos(turn)), radius, turn


def test_it_stands_on_the_roof_below_and_rises_with_it():
    for rise in (0.0, 0.2):
        built = boat(plain(low={"side_height_m": 0.5 + rise}))
        low = built.parts["low"].part
        _, radius, _ = arch(0.9, 0.1)
        crown = DECK + 0.5 + rise + 0.1
        side = plates(built)["side-starboard"]
        for edge in side.outer.tagged("deck"):
            foot = side.map.to_boat(edge.spread(20))
            sag = radius - np.sqrt(radius**2 - foot[:, 1] ** 2)
            # the outer face of the roof, half its 4 mm above the middle
            assert foot[:, 2] == pytest.approx(crown - sag + 0.002, abs=3e-5)
        assert low.roof is not None


def test_the_roof_is_where_its_plate_is():
    low = boat(plain()).parts["low"].part
    azimuths = np.linspace(-1.0, 1.0, 9) * low.house.azimuths[-1]
    points = low.roof.to_boat(low.roof.flat_of(azimuths, np.linspace(-1.0, 1.5, 9)))
    assert roof_z(low.roof, points[:, 0], points[:, 1]) == pytest.approx(points[:, 2])


def test_a_roof_of_another_boat_is_met_too():
    """Of the demo's house, which widens, slopes and arches: a cone."""
    doghouse = HIGH | {"stand": "house", "x_forward_m": 5.6, "x_aft_m": 6.8}
    doghouse = {key: value for key, value in doghouse.items() if value is not None}
    parts = demo_document()["changes"]["deckhouse"]["parts"] | {"doghouse": doghouse}
    built = boat(changed(demo_document(), changes__deckhouse__parts=parts))
    roof, side = built.parts["house"].part, plates(built, "doghouse")["side-starboard"]
    (edge,) = side.outer.tagged("deck")
    foot = side.map.to_boat(edge.spread(15))
    outer = roof.roof.offset(roof.roof_thickness / 2.0)
    assert foot == pytest.approx(outer.to_boat(outer.to_flat(foot)), abs=2e-5)
    places = [f.place for f in built.findings if f.code in ("parts-overlap", "edge-apart")]
    assert not [place for place in places if place.endswith(("house", "doghouse"))]


def test_no_volume_counts_twice_and_nobody_is_warned():
    built = boat(plain())
    codes = [f.code for f in built.findings]
    assert "parts-overlap" not in codes
    low, high = built.parts["low"], built.parts["high"]
    for mine in high.bodies:
        for theirs in low.bodies:
            assert intersection(mine.surface, theirs.surface).volume < 1e-9
    # above the lower roof's mid-surface, its arch over the chord between the walls taken off;
    # the walls stand on its outer face, 2 mm higher
    wide = arch(0.9, 0.1)[1]
    under = wide**2 * np.arcsin(0.6 / wide) - 0.6 * np.sqrt(wide**2 - 0.6**2)
    area = 1.2 * 0.452 + arch(0.6, 0.06)[0] - under
    assert high.buoyant_volume == pytest.approx(2.0 * area, rel=1e-3)


def test_two_houses_that_merely_overlap_are_still_warned_of():
    apart = {"stand": None, "x_forward_m": 6.0, "x_aft_m": 8.0}
    codes = [f.code for f in boat(plain(high=apart)).findings]
    assert "parts-overlap" in codes


def test_the_roof_below_is_cut_out_unless_it_is_kept():
    opened, kept = boat(plain()), boat(plain(high={"roof_below": "kept"}))
    hole = plates(kept, "low")["roof"].area_mid - plates(opened, "low")["roof"].area_mid
    # 30 mm inside the walls all round, along the arch
    wide = arch(0.9, 0.1)[1]
    assert hole == pytest.approx(1.94 * 2.0 * wide * np.arcsin(0.57 / wide), rel=1e-3)
    beams = [id for id in plates(opened, "low") if id.startswith("roof-beam")]
    halves = [id for id in beams if id.endswith(("starboard", "port"))]
    assert len(halves) == 2 * 3  # those at 4.5, 5.0 and 5.5 of seven
    assert not [i for i in plates(kept, "low") if i.endswith("beam-4-port")]
    steel = [built.parts["low"].steel.mass for built in (kept, opened)]
    assert steel[0] - steel[1] > hole * 0.004 * 7800
    assert "beam-parted" in [f.code for f in opened.findings]
    assert clashes(opened.parts) == ()


def test_one_bulkhead_after_both_is_made_once_by_the_upper():
    built = boat(plain(high={"x_aft_m": 7.0, "shared_end": "aft"}))
    assert "after-end" not in plates(built, "low")
    after = plates(built)["after-end"]
    below, above = arch(0.9, 0.1), arch(0.6, 0.06)
    wide = below[1]
    low = 1.8 * 0.5 + below[0]
    under = wide**2 * np.arcsin(0.6 / wide) - 0.6 * np.sqrt(wide**2 - 0.6**2)
    high = 1.2 * 0.45 + above[0] - under
    assert after.area_mid == pytest.approx(low + high, rel=2e-3)
    assert clashes(built.parts) == ()
    assert {f.code for f in built.findings} & {"parts-overlap", "edge-apart"} == set()
    door = {"width_m": 0.6, "sill_z_m": 0.9}
    for owner in ("high", "low"):
        with_door = plain(high={"x_aft_m": 7.0, "shared_end": "aft"})
        with_door["changes"]["houses"]["parts"][owner]["door"] = door
        doored = plates(boat(with_door))["after-end"]
        assert after.area_mid - doored.area_mid > 0.6 * 0.7


STEPPED = {
    **{"x_forward_m": 7.0, "x_aft_m": 9.5, "shared_end": "forward"},
    **{"roof_half_breadth_forward_m": 1.0, "roof_half_breadth_aft_m": 1.0},
}


@pytest.mark.parametrize("height", [0.9, 0.3])
def test_two_houses_in_a_step_have_one_bulkhead_between_them(height):
    breadth = {"roof_half_breadth_forward_m": 0.8} if height < 0.5 else {}
    built = boat(plain(high=STEPPED | {"side_height_m": height} | breadth))
    has = [("low", "after-end"), ("high", "front")]
    made = [part for part, end in has if end in plates(built, part)]
    assert made == (["high"] if height > 0.5 else ["low"])
    assert [f.code for f in built.findings if f.code == "parts-overlap"] == []
    assert clashes(built.parts) == ()
    high = built.parts["high"]
    assert high.bodies[0].surface.bounds[0, 2] == pytest.approx(DECK, abs=1e-6)


def test_windows_in_a_front_over_a_lower_roof_stand_clear_of_it():
    windows = {"count": 2, "size_m": [0.4, 0.15]}
    built = boat(plain(high=STEPPED | {"side_height_m": 0.9, "front_windows": windows}))
    front = plates(built)["front"]
    assert len(front.holes) == 2
    for hole in front.holes:
        low = front.map.to_boat(hole.polyline())[:, 2].min()
        assert low > DECK + 0.5 + 0.02


def test_a_spray_cover_keeps_no_water_out_and_its_roof_below():
    built = boat(plain(high={"open_aft": True}))
    assert "after-end" not in plates(built)
    assert built.parts["high"].buoyant_volume == 0.0
    assert plates(built, "low")["roof"].holes == ()


def test_a_mast_on_the_upper_roof_parts_the_beams_of_both():
    support = {
        **{"kind": "mast_support", "x_m": 5.0, "stand": "high", "pad_mm": [300, 300, 10]},
        **{"post_mm": [89, 6], "floor_mm": [400, 300, 10]},
    }
    document = plain(high={"roof_below": "kept"})
    document["changes"]["houses"]["parts"]["mast-support"] = support
    built = boat(document)
    assert "roof-beam-4-port" in plates(built, "low")
    post = plates(built, "mast-support")["post"].surface()
    assert post.bounds[1, 2] > DECK + 1.0


def test_a_house_may_stand_on_one_that_stays_whose_roof_comes_off_there():
    old = {key: value for key, value in LOW.items() if value is not None}
    built = boat(plain(existing={"low": old}))
    assert plates(built)["side-starboard"].surface().bounds[0, 2] > DECK + 0.5
    assert built.existing["low"].part.plates[4].holes == ()
    (line,) = [entry for entry in built.entries if entry.role == "removed"]
    wide = arch(0.9, 0.1)[1]
    area = 1.94 * 2.0 * wide * np.arcsin(0.57 / wide)
    assert line.weight.mass == pytest.approx(area * 0.004 * 7850.0, rel=0.01)
    assert [f.code for f in built.findings if f.code == "parts-overlap"] == []


def test_old_houses_stand_on_each_other_too():
    both = {
        name: {key: value for key, value in part.items() if value is not None}
        for name, part in (("high", HIGH), ("low", LOW))
    }
    document = plain(existing=both)
    del document["changes"]
    built = boat(document)
    low, high = built.existing["low"], built.existing["high"]
    assert intersection(low.bodies[0].surface, high.bodies[0].surface).volume < 1e-9
    assert low.part.plates[-1].id.startswith("roof-beam")
    assert len(next(p for p in low.part.plates if p.id == "roof").holes) == 1


@pytest.mark.parametrize(
    ("high", "code", "place"),
    [
        ({"x_aft_m": 6.9, "shared_end": "aft"}, "shared-end-apart", "x_aft_m"),
        ({"x_aft_m": 7.5}, "house-off-the-deck", "x_aft_m"),
        (STEPPED | {"front_rake_deg": 10}, "shared-end-apart", "x_forward_m"),
        (STEPPED | {"side_height_m": 0.3}, "shared-end-not-covered", "shared_end"),
        (
            {"roof_half_breadth_aft_m": 0.95, "roof_half_breadth_forward_m": 0.95},
            "house-wider-than-deck",
            "roof_half_breadth_aft_m",
        ),
        ({"stand": None, "shared_end": "aft"}, "shared-end", ""),
        ({"open_aft": True, "door": {"width_m": 0.6, "sill_z_m": 1.7}}, "open-end", ""),
    ],
)
def test_what_cannot_stand_there_is_refused_in_words(high, code, place):
    with pytest.raises(DocumentError) as refused:
        boat(plain(high=high))
    (fault,) = refused.value.faults
    assert fault.code == code
    assert fault.place == "changes.houses.parts.high" + (f".{place}" if place else "")
    assert fault.sentence.endswith(".")
    assert "None" not in fault.sentence


def test_nothing_stands_on_what_is_taken_away_or_has_no_roof():
    old = {key: value for key, value in LOW.items() if value is not None}
    gone = plain(existing={"low": old})
    gone["changes"]["houses"]["replaces"] = "existing.low"
    with pytest.raises(DocumentError) as refused:
        boat(gone)
    assert "stands-on-removed" in [fault.code for fault in refused.value.faults]
    flat = plain()
    flat["changes"]["houses"]["parts"]["low"] = {
        **{"kind": "plating", "thickness_mm": 5},
        "corners_m": [[6, 0.2, 0], [7, 0.2, 0], [7, 0.2, 0.5]],
    }
    with pytest.raises(DocumentError) as refused:
        boat(flat)
    assert [fault.code for fault in refused.value.faults] == ["nothing-to-stand-on"]


def test_the_same_house_without_a_stand_is_built_as_before():
    """What stands on the deck does not know of roofs."""
    alone = plain(high={"stand": None, "x_forward_m": 8.0, "x_aft_m": 10.0})
    by_itself = changed(alone, changes__houses__parts__low=None)
    keys = [
        [plate.surface().key for plate in boat(one).parts["high"].part.plates]
        for one in (alone, by_itself)
    ]
    assert keys[0] == keys[1]


@pytest.mark.parametrize("end", ["none", "aft"])
def test_on_hulls_of_any_shape_both_are_closed_and_stand_on_each_other(end):
    house = KINDS["deckhouse"]
    for seed in range(6):
        host, draw = random_hull(7000 + seed), np.random.default_rng(seed)
        low = dimensions("deckhouse", plausible_dimensions("deckhouse", host, draw))
        lower = house.build(low, Site(host))
        span, half = low.x_aft_m - low.x_forward_m, 0.6 * low.roof_half_breadth_forward_m
        high = low.model_copy(
            update={
                **{"stand": "low", "shared_end": end, "side_height_m": 0.4},
                **{"x_forward_m": low.x_forward_m + 0.5 * span, "front_rake_deg": 25.0},
                "x_aft_m": low.x_aft_m - (0.0 if end == "aft" else 0.1 * span),
                **{"roof_half_breadth_forward_m": half, "roof_half_breadth_aft_m": half},
                **{"roof_camber_m": 0.04, "tumblehome_deg": 5.0},
            }
        )
        upper = house.build(high, Site(host, lower))
        assert with_fit_findings(upper.house.host, upper).findings == ()
        carried = carried_by(lower.house, high, upper.house)
        for part in (upper, house.build(low, Site(host, carries=(carried,)))):
            for plate in part.plates:
                require_closed(plate.surface(), plate.id)
