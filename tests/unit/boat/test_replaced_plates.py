"""The old plate that a new plate of the hull takes the place of comes off, once."""

import pytest
from refits import barge_document, boat, weight

from hullchange.assess.assessment import assessment
from hullchange.cutting.comes_off import coming_off
from hullchange.cutting.comes_off_sheets import cut_out_table
from hullchange.explain.explain import explanations
from hullchange.materials import STEEL_DENSITY

SIDE = {
    "kind": "hull_plate",
    "x_forward_m": 3.0,
    "x_aft_m": 5.0,
    "lower_line": "bilge",
    "upper_line": "sheer",
    "plate_mm": 5.0,
    "old_plate_mm": 4.0,
}
# sides of the barge: 2 m long, 1.5 m high; half a thickness of the new plate is not missed
MASS = 2.0 * 2.0 * 1.5 * 0.004 * STEEL_DENSITY


def repaired(removes=None, **other):
    change = {"parts": {"side": SIDE | other}, "removes": removes or {}}
    return boat(barge_document(8.0, 3.0, 0.5, 1.5, 0.1, changes={"repair": change}))


def removed(built):
    return [e for e in built.entries if e.role == "removed"]


def codes(built):
    return [f.code for f in built.findings]


def test_it_is_removed_by_its_dimensions_with_what_they_are_worth():
    (line,) = removed(repaired())
    assert line.weight.mass == pytest.approx(MASS, rel=1e-3)
    assert line.weight.sd_mass == pytest.approx(0.05 * line.weight.mass)
    assert line.weight.centre == pytest.approx((4.0, 0.0, 0.25), abs=1e-6)
    assert (line.replaced_by, line.weight.path) == (
        "side",
        "changes.repair.parts.side.old-plate",
    )
    assert line.account.mass == pytest.approx(-line.weight.mass)
    (one,) = removed(repaired(side="port"))
    assert one.weight.mass == pytest.approx(MASS / 2.0, rel=1e-3)
    assert one.weight.centre[1] < -1.4


def test_what_the_owner_has_under_removes_is_counted_in_its_place():
    listed = {"plate": weight(MASS + 5.0, (4.0, 0.0, 0.2), replaced_by="side")}
    built = repaired(listed)
    (line,) = removed(built)
    assert line.weight.mass == MASS + 5.0
    (finding,) = [f for f in built.findings if f.code == "old-plate-listed"]
    assert (finding.severity, finding.place) == ("note", "changes.repair.removes")
    heavy = {"plate": weight(2.0 * MASS, (4.0, 0.0, 0.2), replaced_by="side")}
    (finding,) = [f for f in repaired(heavy).findings if f.code == "old-plate-listed"]
    assert finding.severity == "warn"


def test_a_weight_that_may_be_the_same_steel_is_reported():
    near = {"plate": weight(MASS + 20.0, (4.2, 0.0, 0.2))}
    built = repaired(near)
    assert len(removed(built)) == 2
    (finding,) = [f for f in built.findings if f.code == "old-plate-twice"]
    assert finding.place == "changes.repair.removes.plate"
    assert "replaced_by: side" in finding.sentence
    assert "old-plate-twice" not in codes(repaired({"tank": weight(MASS, (7.0, 0.0, 0.2))}))
    assert "old-plate-twice" not in codes(repaired({"bolt": weight(2.0, (4.0, 0.0, 0.2))}))


def test_it_has_its_row_and_its_lift_points_on_the_sheet_of_what_comes_off():
    (off,) = coming_off(repaired())
    assert {plate.piece.part for plate in off.plates} == {"old-side"}
    assert [p.mass for p in off.plates] == pytest.approx([MASS / 2.0] * 2, rel=1e-3)
    for plate in off.plates:
        assert plate.hung_aboard[:, 1] == pytest.approx(plate.centre[1], abs=1e-3)
        assert plate.hung_aboard.mean(axis=0) == pytest.approx(plate.centre, abs=0.01)
    rows = cut_out_table([off]).rows
    assert [row[2] for row in rows] == [
        "old plate old-side.starboard",
        "old plate old-side.port",
        "ledger",
    ]
    assert off.finding is None


def test_its_mass_and_place_open_down_to_the_dimensions():
    built = repaired()
    answer = assessment(built)
    line = next(item for item in answer.items if item.path.endswith(".old-plate"))
    opened = {one.path: one for one in explanations(answer, built.document)}
    mass = opened[f"items.{line.path}.mass_kg"]
    by_symbol = {
        symbol: [i.value for i in mass.inputs if i.symbol == symbol] for symbol in "ρsA"
    }
    (density,), (thickness,), areas = by_symbol.values()
    assert mass.value == pytest.approx(density * thickness * sum(areas) / 1000.0)
    assert opened[f"items.{line.path}.at_m.x"].value == pytest.approx(4.0)
