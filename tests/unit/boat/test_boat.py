"""The document made into a boat: parts built once, faults in one go, bodies counted once."""

import pytest
from refits import (
    assessed,
    barge_document,
    boat,
    demo,
    demo_document,
    row,
    weight,
    with_all,
)

from hullchange.boat.variants import (
    as_found,
    refit,
    with_changes,
    without_change,
    without_entries,
    without_part,
    without_part_gross,
)
from hullchange.errors import DocumentError
from hullchange.floating.envelope import Envelope

HOUSE = "changes.deckhouse.parts.house"
STATE = "survey-state"


def names(variant):
    return [piece.id for piece in variant.bodies]


def test_a_part_is_built_again_only_when_it_differs():
    # what was built last is kept, whatever was built before
    one, two = boat(demo_document()), boat(demo_document())
    assert one.hull is two.hull
    taller = boat(with_all(demo_document(), {f"{HOUSE}.side_height_m": 0.6}))
    assert taller.parts["cockpit"].part is one.parts["cockpit"].part
    assert taller.parts["house"].part is not one.parts["house"].part
    # what stands on the house stands higher
    low, high = (b.parts["mast-support"] for b in (one, taller))
    assert high.key != low.key
    assert high.steel.centroid[2] > low.steel.centroid[2]


def test_everything_that_cannot_be_built_is_listed_at_once():
    wrong = {
        f"{HOUSE}.side_height_m": 0.2,
        "changes.cockpit.parts.cockpit.foot_well_m": [1.95, 0.8, 2.0],
        "existing.old-cockpit.foot_well_m": [1.55, 0.72, 2.0],
    }
    with pytest.raises(DocumentError) as refused:
        boat(with_all(demo_document(), wrong))
    places = {fault.place.rsplit(".", 1)[0] for fault in refused.value.faults}
    assert {"changes.cockpit.parts.cockpit", "existing.old-cockpit"} <= places
    assert any(place.startswith(HOUSE) for place in places)
    # what was to stand on the house is not blamed for it
    assert not any("mast-support" in place for place in places)
    assert all(fault.sentence.endswith(".") for fault in refused.value.faults)


def test_parts_come_in_the_documents_order():
    assert list(demo()[0].parts) == [
        "house",
        "mast-support",
        "cockpit",
        "extension",
        "platform",
    ]
    assert [p.change for p in demo()[0].parts.values()] == [
        "deckhouse",
        "deckhouse",
        "cockpit",
        "transom",
        "bow",
    ]


def test_each_boat_has_the_bodies_it_floats_on():
    built = demo()[0]
    assert set(names(as_found(built))) == {"old-house", "old-cockpit"}
    assert set(names(refit(built))) == {"house", "cockpit", "extension"}
    some = with_changes(built, ["cockpit"])
    assert set(names(some)) == {"old-house", "cockpit"}
    assert {e.change for e in some.entries} == {"cockpit"}
    assert set(names(without_change(built, "deckhouse"))) == {
        "old-house",
        "cockpit",
        "extension",
    }


def test_leaving_a_part_out_puts_back_what_it_took_the_place_of():
    built = demo()[0]
    whole = refit(built)
    net, gross = (f(built, "house", whole) for f in (without_part, without_part_gross))
    assert set(names(net)) == {"old-house", "cockpit", "extension"}
    assert set(names(gross)) == {"cockpit", "extension"}
    left_net = {e.weight.path for e in whole.entries} - {e.weight.path for e in net.entries}
    left_gross = {e.weight.path for e in whole.entries} - {e.weight.path for e in gross.entries}
    # rig and roof gear come down in both; the old roof goes back on in one alone
    assert left_gross == {
        HOUSE,
        f"{HOUSE}.weld-metal",
        "changes.deckhouse.moves.rig",
        "changes.deckhouse.moves.roof-gear",
    }
    assert left_net == left_gross | {
        "changes.deckhouse.removes.roof",
        "changes.deckhouse.removes.sides",
    }
    support = without_part(built, "mast-support", whole)
    assert set(names(support)) == set(names(whole))  # the old house does not come back for it


def test_undoing_a_line_leaves_the_volumes():
    built = demo()[0]
    whole = refit(built)
    bare = without_entries(whole.entries, whole)
    assert bare.entries == ()
    assert bare.bodies == whole.bodies
    assert whole.taken_off == {"fuel"}
    assert bare.taken_off == frozenset()


def test_a_new_house_floats_with_the_volume_it_says():
    built = demo()[0]
    for variant, bodies in ((as_found(built), built.existing), (refit(built), built.parts)):
        whole = Envelope((*built.hull_bodies, *variant.bodies)).volume
        bare = Envelope(built.hull_bodies).volume
        volume = sum(part.buoyant_volume for part in bodies.values())
        assert whole - bare == pytest.approx(volume, abs=1e-9)


def extension(**more):
    return {
        "kind": "transom_extension",
        "length_m": 1.0,
        "bottom_forward_z_m": -0.5,
        "bottom_aft_z_m": -0.5,
        "platform_z_m": 0.5,
        "plate_mm": 4,
    } | more


def test_volume_that_two_parts_share_is_counted_once_and_reported():
    def barge_with(*parts, **adds):
        change = {"parts": {f"part-{k}": p for k, p in enumerate(parts)}, "adds": adds}
        return assessed(barge_document(12, 4, 1, 2.5, 0.2, changes={"aft": change}))

    one, two = barge_with(extension()), barge_with(extension(), extension(length_m=0.6))
    assert [f.code for f in two.findings].count("parts-overlap") == 1
    assert "parts-overlap" not in {f.code for f in one.findings}
    second = two.parts[1]
    assert second.buoyant_volume_m3 == pytest.approx(0.0, abs=1e-6)
    # the second adds its steel and lifts nothing: a weight in its place does the same
    steel = weight(1.02 * second.mass_kg, second.centroid_m)
    here, there = row(two, STATE), row(barge_with(extension(), steel=steel), STATE)
    for key in ("displacement_kg", "sinkage_mm", "trim_mm", "gm_m"):
        assert getattr(here, key) == pytest.approx(getattr(there, key), abs=1e-6)


def test_findings_of_a_part_stand_at_its_path():
    built = demo()[0]
    for part in built.parts.values():
        assert all(f.place.startswith(part.path) for f in part.findings)
        assert part.path == f"changes.{part.change}.parts.{part.id}"
