"""Flooded wells: the water in them cut out again by other means, and a barge by hand."""

from dataclasses import replace

import numpy as np
import pytest
import trimesh
from refits import (
    SEA,
    assessed,
    barge_document,
    boat,
    changed,
    demo,
    demo_answer,
    demo_document,
    row,
    with_all,
)

from hullchange.afloat.at_rest import afloat
from hullchange.boat.conditions import conditions_of
from hullchange.boat.variants import as_found, refit
from hullchange.boat.wells import filled_to_spill, wells_of
from hullchange.geometry.frame import WaterPlane, up_vector

FLOODED = "cockpit-flooded"


def water_by_boxes(cockpit, plane, sill):
    """Volume and centre of what stands in seat well and foot well, cut by trimesh."""
    length, width, depth = cockpit["seat_well_m"]
    foot_length, foot_width, foot_depth = cockpit["foot_well_m"]
    deck, top = cockpit["deck_z_m"], cockpit["coaming_top_z_m"]
    x, foot_x = cockpit["x_forward_m"], cockpit["foot_well_forward_m"]
    half, narrow = width / 2, foot_width / 2
    seats = [[x, -half, deck - depth], [x + length, half, top]]
    foot = [
        [foot_x, -narrow, deck - depth - foot_depth],
        [foot_x + foot_length, narrow, deck - depth],
    ]
    rim = [(a, b, top) for a in (x, x + length) for b in (-half, half)]
    level = min(float(np.dot(plane.up, p)) for p in [*rim, *sill])
    wet = [
        trimesh.creation.box(bounds=bounds).slice_plane(plane.up * level, -plane.up, cap=True)
        for bounds in (seats, foot)
    ]
    volume = sum(w.volume for w in wet)
    return volume, sum(w.volume * w.center_mass for w in wet) / volume


@pytest.mark.parametrize(
    ("stage", "path"), [("as_found", "existing.old-cockpit"), ("refit", "cockpit")]
)
def test_saltmarrow_floods_her_own_well_to_its_lowest_rim(stage, path):
    built, as_surveyed, conditions = demo()
    variant = as_found(built) if stage == "as_found" else refit(built)
    rest = afloat(built, as_surveyed, variant, conditions[FLOODED]).rest
    document = demo_document()
    cockpit = (
        document["existing"]["old-cockpit"]
        if stage == "as_found"
        else document["changes"]["cockpit"]["parts"]["cockpit"]
    )
    sill = document["openings"]["companionway"]["edge_m"]
    volume, centre = water_by_boxes(cockpit, rest.plane, sill)
    (water,) = [t for t in rest.loading.tanks if t.name == path.rsplit(".", 1)[-1]]
    assert water.liquid_volume == pytest.approx(volume, abs=1e-8)
    dry = row(demo_answer(), "departure", stage)
    wet = row(demo_answer(), FLOODED, stage)
    mass = SEA * volume
    assert wet.displacement_kg - dry.displacement_kg == pytest.approx(mass, abs=1e-4)
    moment = wet.displacement_kg * np.array(wet.centre_of_gravity_m)
    before = dry.displacement_kg * np.array(dry.centre_of_gravity_m)
    # the drinking water runs about a little too: 1000/12 kg m a radian
    turned = np.radians([wet.trim_deg - dry.trim_deg, wet.heel_deg - dry.heel_deg, 0.0])
    assert moment - before == pytest.approx(mass * centre + 1000 / 12 * turned, abs=0.3)
    # she floats on all of her shell, the well not taken out: weight and water agree
    shell = [*built.hull_bodies, *(b for b in variant.bodies if b.adds)]
    displaced = sum(volume_below(b.surface, rest.plane) for b in shell)
    assert SEA * displaced == pytest.approx(wet.displacement_kg, abs=1e-4)


def volume_below(surface, plane):
    if (plane.height_above(surface.vertices) >= 0.0).all():
        return 0.0
    body = trimesh.Trimesh(surface.vertices, surface.faces, process=False)
    return body.slice_plane(plane.up * plane.offset, -plane.up, cap=True).volume


def test_flooding_costs_stiffness_and_after_freeboard():
    for stage in ("as_found", "refit"):
        dry, wet = (row(demo_answer(), name, stage) for name in ("departure", FLOODED))
        assert wet.gm_m < dry.gm_m
        assert wet.gm_solid_m - wet.gm_m > dry.gm_solid_m - dry.gm_m
        aft = [f.freeboard_mm for f in wet.freeboards if f.mark == "aft"]
        assert max(aft) < min(f.freeboard_mm for f in dry.freeboards if f.mark == "aft")


@pytest.mark.parametrize(
    "name",
    ["cockpit", "old-cockpit", "existing.old-cockpit", "changes.cockpit.parts.cockpit"],
)
def test_either_name_or_path_floods_the_well_each_boat_has(name):
    document = with_all(demo_document(), {f"conditions.{FLOODED}.floods": [name]})
    built = boat(document)
    flooded = conditions_of(built.document)[FLOODED]
    for variant, well in ((as_found(built), "old-cockpit"), (refit(built), "cockpit")):
        assert [w.name for w in wells_of(built, variant, flooded)] == [well]


COCKPIT = {
    "kind": "cockpit",
    "x_forward_m": 5.0,
    "deck_z_m": 1.5,
    "coaming_top_z_m": 1.7,
    "seat_well_m": [2.0, 2.0, 0.5],
    "foot_well_m": [1.0, 1.0, 1.3],
    "foot_well_forward_m": 5.5,
    "plate_mm": 5,
}


def flooded_barge(cockpit=COCKPIT, **more):
    """A barge with a well amidships, its foot well's sole below the sea."""
    return barge_document(
        12,
        4,
        1,
        2.5,
        0.2,
        changes={"well": {"parts": {"well": cockpit}}},
        conditions={"survey-state": {}, "flooded": {"floods": ["well"]}},
        **more,
    )


def test_a_flooded_well_does_not_lose_its_buoyancy_as_well():
    answer = assessed(flooded_barge())
    dry, wet = row(answer, "survey-state"), row(answer, "flooded")
    boxes = 2.0 * 2.0 * 0.7 + 1.0 * 1.0 * 1.3  # to the coaming's top, level
    steel = answer.changes[0].added_kg
    # her own steel trims her a hair: 0.03 mm of 4 m2 of well spill
    assert wet.displacement_kg == pytest.approx(49_200 + steel + SEA * boxes, abs=0.3)
    # straight sides: she sinks by what came in, over her own waterplane
    assert wet.sinkage_mm == pytest.approx((steel + SEA * boxes) / 49.2, abs=0.01)
    assert dry.sinkage_mm > steel / 49.2  # the open well's foot takes volume from below the sea


def test_the_water_of_a_brim_full_well_is_free_and_no_lid_holds_it():
    # her old well: surveyed with it she floats level, so that it fills to the brim all round
    surveyed = barge_document(
        12,
        4,
        1,
        2.5,
        0.2,
        existing={"well": COCKPIT},
        conditions={"survey-state": {}, "flooded": {"floods": ["well"]}},
    )
    wet = row(assessed(surveyed), "flooded", "as_found")
    # textbook free surface, i / volume, of 2 m by 2 m
    inertia, volume = 2.0 * 2.0**3 / 12.0, wet.displacement_kg / SEA
    assert wet.gm_solid_m - wet.gm_m == pytest.approx(inertia / volume, rel=1e-6)


def test_a_companionway_spills_before_the_coaming():
    opening = {
        "edge_m": [[5.0, -0.3, 1.55]],
        "side": "both",
        "area_m2": 0.4,
        "closing": "weathertight",
        "leads_to": "hull",
    }
    boxes = 2.0 * 2.0 * 0.55 + 1.0 * 1.0 * 1.3
    answer = assessed(flooded_barge(openings={"door": opening}))
    steel = answer.changes[0].added_kg
    wet = row(answer, "flooded")
    # level but for the well's own steel: 2 mm over 2 m of well
    assert wet.displacement_kg - 49_200 - steel == pytest.approx(SEA * boxes, rel=2e-3)
    # one that only the old boat had, or that lies elsewhere, spills nothing
    for other in ({"boat": "as_found"}, {"edge_m": [[3.0, 0.0, 1.2]]}):
        answer = assessed(flooded_barge(openings={"door": opening | other}))
        full = SEA * (2.0 * 2.0 * 0.7 + 1.3)
        assert row(answer, "flooded").displacement_kg - 49_200 - steel == pytest.approx(
            full, abs=0.3
        )


def test_the_sill_stands_where_it_rises_to():
    opening = {
        "edge_m": [[5.0, 0.0, 1.5]],
        "area_m2": 0.4,
        "closing": "none",
        "leads_to": "hull",
        "rises_with": {"path": "rig.air_draught_m", "from_m": 10.0},
    }
    plain = flooded_barge(openings={"door": opening}, rig={"air_draught_m": 10.1})
    steel = assessed(plain).changes[0].added_kg
    wet = row(assessed(plain), "flooded").displacement_kg - 49_200 - steel
    assert wet == pytest.approx(SEA * (4 * 0.6 + 1.3), rel=2e-3)


def test_where_the_sea_stands_above_the_rim_it_stands_in_the_well():
    built = boat(flooded_barge())
    flooded = conditions_of(built.document)["flooded"]
    (well,) = wells_of(built, refit(built), flooded)
    level = WaterPlane(np.array([0.0, 0.0, 1.0]), -1.0)
    assert filled_to_spill(well, level, SEA).liquid_volume == pytest.approx(4.1)
    low = replace(well, spills=np.array([[5.0, 0.0, 1.2]]))
    assert filled_to_spill(low, level, SEA).liquid_volume == pytest.approx(4 * 0.2 + 1.3)
    high_sea = WaterPlane(level.up, 1.4)
    assert filled_to_spill(low, high_sea, SEA).liquid_volume == pytest.approx(4 * 0.4 + 1.3)
    # upside down it is empty, to the last rounding
    for heel in np.linspace(2.6, 3.7, 12):
        over = WaterPlane(up_vector(0.01, heel), -3.0)
        assert 0.0 <= filled_to_spill(well, over, SEA).liquid_volume < 1e-12


def test_she_may_sink_of_it_and_that_is_reported():
    # a foot well as long as the boat nearly, and little freeboard left
    plain = changed(flooded_barge(), conditions__flooded__loads={"lead": {"mass_kg": 70_000.0}})
    plain = with_all(plain, {"conditions.flooded.loads.lead.at_m": [6.0, 0.0, -0.9]})
    answer = assessed(plain)
    (place,) = {f.place for f in answer.findings if f.code == "sinks"}
    assert place == "conditions.flooded"
    assert all(c.id == "flooded" or c.displacement_kg for c in answer.conditions)
