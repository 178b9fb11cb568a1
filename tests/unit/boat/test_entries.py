"""The ledger of changes, read again from the document by hand."""

from collections import defaultdict

import numpy as np
import pytest
from refits import assessed, barge_document, boat, demo, demo_answer, demo_document, row, weight

from hullchange.boat.entries import aboard_weight, tank_centre

FUEL, HOUSE = (126.0, (8.35, 0.0, -0.02)), "changes.deckhouse.parts.house"


def sums_by_hand():
    """Mass and moments that the refit adds, straight from the plain document."""
    document, answer = demo_document(), demo_answer()
    total = np.zeros(4)

    def put(mass, at, sign=1.0):
        nonlocal total
        total = total + sign * mass * np.array([1.0, *at])

    rise = document["changes"]["deckhouse"]["parts"]["house"]["side_height_m"] - 0.40
    for change in document["changes"].values():
        for item in change.get("removes", {}).values():
            put(*(FUEL if "aboard" in item else (item["mass_kg"], item["at_m"])), sign=-1.0)
        for item in change.get("adds", {}).values():
            put(item["mass_kg"], item["at_m"])
        for item in change.get("moves", {}).values():
            put(item["mass_kg"], item["at_m"], sign=-1.0)
            x, y, z = item["at_m"]
            put(item["mass_kg"], item.get("to_m", (x, y, z + rise)))
    for part in answer.parts:  # steel with its weld metal, 2 % by the document's own default
        put(1.02 * part.mass_kg, part.centroid_m)
    return total


def test_refit_is_the_survey_and_what_the_document_lists():
    answer = demo_answer()
    before, after = row(answer, "survey-state", "as_found"), row(answer, "survey-state")
    added = sums_by_hand()
    assert after.displacement_kg - before.displacement_kg == pytest.approx(added[0], abs=1e-6)
    changes = sum(change.net_kg for change in answer.changes)
    assert changes == pytest.approx(added[0], abs=1e-9)
    moments = [c.displacement_kg * np.array(c.centre_of_gravity_m) for c in (before, after)]
    # and the fresh water runs aft and to starboard in its tank, 1 m square, by its surface's
    # second moment times the angle
    turned = (after.trim_deg - before.trim_deg, after.heel_deg - before.heel_deg, 0.0)
    running = 1000 / 12 * np.radians(turned)
    assert moments[1] - moments[0] == pytest.approx(added[1:] + running, abs=0.01)
    variant = sum(e.account.numbers for e in demo()[0].entries)
    assert variant == pytest.approx(added, abs=1e-6)


def test_masses_of_every_change():
    document, answer = demo_document(), demo_answer()
    steel = defaultdict(float)
    for part in answer.parts:
        steel[part.change] += part.mass_kg + part.weld_metal_kg + part.paint_kg
    for change in answer.changes:
        plain = document["changes"][change.id]
        off = [
            126 if "aboard" in item else item["mass_kg"]
            for item in plain.get("removes", {}).values()
        ]
        on = [item["mass_kg"] for item in plain.get("adds", {}).values()]
        moved = [item["mass_kg"] for item in plain.get("moves", {}).values()]
        assert change.removed_kg == pytest.approx(sum(off))
        assert change.added_kg == pytest.approx(sum(on) + steel[change.id])
        assert change.moved_kg == pytest.approx(sum(moved))
        assert change.net_kg == pytest.approx(change.added_kg - change.removed_kg)


def test_steel_of_a_part_is_its_plates():
    for part in demo_answer().parts:
        assert part.mass_kg == pytest.approx(7850 * part.volume_m3, rel=1e-9)
        assert part.plate_area_m2 == pytest.approx(sum(p.area_m2 for p in part.plates))
        # a bent plate's mid-surface and its mesh differ by chords only
        assert sum(p.mass_kg for p in part.plates) == pytest.approx(part.mass_kg, rel=2e-3)
        assert part.weld_metal_kg == pytest.approx(0.02 * part.mass_kg)


def test_paint_weighs_by_area():
    painted = demo_document() | {"allowances": {"paint_kg_m2": 0.5, "weld_metal_percent": 0.0}}
    answer = assessed(painted, only="survey-state")
    for part in answer.parts:
        assert part.paint_kg == pytest.approx(0.5 * part.plate_area_m2)
        assert part.weld_metal_kg == 0.0
    roles = {item.path: item.role for item in answer.items}
    assert roles[f"{HOUSE}.paint"] == "allowance"
    assert f"{HOUSE}.weld-metal" not in roles


def test_every_line_of_the_document_is_one_item():
    document = demo_document()
    listed = {
        f"changes.{name}.{group}.{key}"
        for name, change in document["changes"].items()
        for group in ("removes", "adds", "moves", "parts")
        for key in change.get(group, {})
    }
    weld = {f"{path}.weld-metal" for path in listed if ".parts." in path}
    items = demo_answer().items
    assert {item.path for item in items} == listed | weld
    assert len(items) == len(listed | weld)


def test_what_rises_goes_up_with_the_roof_and_no_further():
    rig = next(i for i in demo_answer().items if i.path == "changes.deckhouse.moves.rig")
    assert (rig.at_m, rig.to_m) == ((4.10, 0, 7.20), pytest.approx((4.10, 0, 7.38)))
    assert rig.role == "moved"
    chain = next(i for i in demo_answer().items if i.path.endswith("moves.chain"))
    assert chain.to_m == (1.85, 0, -0.20)
    assert chain.may_lie_x_m == (0.6, 2.2)


def test_where_a_figure_is_from_says_what_it_is_worth():
    items = {item.path: item for item in demo_answer().items}
    adds = "changes.electric-drive.adds"
    assert items[f"{adds}.motor"].plus_minus_kg == 5  # as written
    assert items[HOUSE].plus_minus_kg == pytest.approx(0.05 * items[HOUSE].mass_kg)
    assert items[HOUSE].provenance == "drawn"
    guessed = {"adds": {"stove": {"mass_kg": 40, "at_m": [6, 0, 0]}}}
    plain = barge_document(12, 4, 1, 2.5, 0.2, changes={"galley": guessed})
    (stove,) = boat(plain).entries
    assert stove.weight.sd_mass == pytest.approx(6)  # 15 %
    assert stove.weight.sd_centre == (0.05, 0.05, 0.05)
    weighed = {"mass_kg": 40, "at_m": [6, 0, 0], "from": "weighed"}
    plain = barge_document(12, 4, 1, 2.5, 0.2, changes={"galley": {"adds": {"stove": weighed}}})
    (stove,) = boat(plain).entries
    assert stove.weight.sd_mass == pytest.approx(0.4)
    assert stove.weight.sd_centre == (0.02, 0.02, 0.01)


def test_what_an_added_weight_rises_with():
    rises = {"path": "rig.air_draught_m", "from_m": 15.0}
    lamp = weight(2, (4, 0, 15)) | {"rises_with": rises}
    plain = barge_document(
        12,
        4,
        1,
        2.5,
        0.2,
        rig={"air_draught_m": 16.0},
        changes={"lamp": {"adds": {"lamp": lamp}}},
    )
    (entry,) = boat(plain).entries
    assert entry.weight.centre == pytest.approx((4, 0, 16))
    assert entry.account.numbers == pytest.approx([2, 8, 0, 32])


def test_contents_of_a_tank_lie_level_in_it():
    tank = demo()[0].document.tanks["water"]
    assert tank_centre(tank, 1.0) == pytest.approx((4.70, 0, -0.30))
    assert tank_centre(tank, 0.5) == pytest.approx((4.70, 0, -0.40))
    water = aboard_weight(demo()[0].document, "water")
    assert water.mass == pytest.approx(190)  # fresh
    assert water.centre == pytest.approx((4.70, 0, -0.50 + 0.40 * 190 / 400 / 2))
