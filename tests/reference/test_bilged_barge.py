"""A box barge with a compartment open to the sea, by the method of lost buoyancy.

Source: the lost-buoyancy method of the textbooks, as in Barrass and Derrett, Ship Stability for
Masters and Mates, "Bilging of compartments"; sinkage x = μ v / (A − μ a).
Seen: memory; the formulas are derived again here from Archimedes.
Known: -
"""

import pytest
from refits import assessed, barge_document, boat, demo_document, row
from scipy.optimize import fsolve

from hullchange.errors import DocumentError, ModelError

LENGTH, BEAM, DRAUGHT, DEPTH, VCG = 40.0, 8.0, 2.0, 5.0, 0.4
SEA = 1025.0


def barge(permeability=1.0, x=(15.0, 25.0), floods=("compartments.hold",), **more):
    plain = barge_document(
        LENGTH,
        BEAM,
        DRAUGHT,
        DEPTH,
        VCG,
        conditions={"intact": {}, "bilged": {"floods": list(floods)}},
        reference_condition="intact",
    )
    hold = {"x_m": list(x), "permeability": permeability} | more
    plain["hull"]["compartments"] = {"hold": hold}
    return plain


def answered(plain):
    answer = assessed(plain, levers=None)
    return row(answer, "intact"), row(answer, "bilged")


@pytest.mark.parametrize("permeability", [1.0, 0.85, 0.6])
def test_an_amidships_compartment_by_hand(permeability):
    intact, bilged = answered(barge(permeability))
    lost = permeability * 10.0
    sinkage = DRAUGHT * lost / (LENGTH - lost)
    draught = DRAUGHT + sinkage
    assert bilged.displacement_kg == pytest.approx(intact.displacement_kg, rel=1e-9)
    assert bilged.sinkage_mm == pytest.approx(1000.0 * sinkage, rel=1e-6)
    assert bilged.trim_mm == pytest.approx(0.0, abs=1e-6)
    # KM = KB + BM, BM of what is left of the waterplane over the same displacement
    inertia = (LENGTH - lost) * BEAM**3 / 12.0
    km = draught / 2.0 + inertia / (LENGTH * BEAM * DRAUGHT)
    assert bilged.km_m == pytest.approx(km - DRAUGHT, rel=1e-6)
    assert bilged.gm_m == pytest.approx(km - DRAUGHT - VCG, rel=1e-6)
    (flooded,) = bilged.flooded
    assert flooded.room_m3 == pytest.approx(10.0 * BEAM * DEPTH, rel=1e-9)
    assert flooded.water_m3 == pytest.approx(lost * BEAM * draught, rel=1e-6)
    assert intact.flooded == ()


def test_an_end_compartment_trims_her_as_statics_say():
    """A wall-sided barge without her first 6 m: sinkage and trim from Archimedes, exactly."""
    end = 6.0
    _, bilged = answered(barge(x=(0.0, end)))
    left, middle = LENGTH - end, (LENGTH + end) / 2.0
    away = LENGTH / 2.0 - middle  # of the weight from the middle of what is left, aft positive

    def unbalanced(given):
        draught, slope = given  # at the middle of what is left; deeper aft positive
        x = slope * left**2 / (12.0 * draught)
        z = draught / 2.0 + slope * x / 2.0
        lever = (x - away) + slope * (z - (VCG + DRAUGHT))
        return draught * left - DRAUGHT * LENGTH, lever

    draught, slope = fsolve(unbalanced, (2.4, -0.05), xtol=1e-12)
    trim = 1000.0 * slope * LENGTH
    assert trim < -500.0  # by the bow
    assert bilged.trim_mm == pytest.approx(trim, rel=1e-6)
    at_amidships = draught + slope * (LENGTH / 2.0 - middle)
    assert bilged.sinkage_mm == pytest.approx(1000.0 * (at_amidships - DRAUGHT), rel=1e-6)


def test_a_wing_compartment_lists_her_to_its_side():
    """The sea in one side: what is left of the waterplane lies to the other."""
    _, bilged = answered(barge(x=(10.0, 30.0), y_m=[1.0, 4.0]))
    assert bilged.heel_deg > 1.0
    _, port = answered(barge(x=(10.0, 30.0), y_m=[-4.0, -1.0]))
    assert port.heel_deg == pytest.approx(-bilged.heel_deg, abs=1e-6)


def test_a_low_compartment_has_no_free_communication_above_its_top():
    """Under a watertight flat that stays under water: KM loses no waterplane."""
    intact, bilged = answered(barge(z_m=[-2.0, -1.2]))
    sinkage = 10.0 * 0.8 / LENGTH
    assert bilged.sinkage_mm == pytest.approx(1000.0 * sinkage, rel=1e-6)
    assert bilged.waterplane_area_m2 == pytest.approx(intact.waterplane_area_m2, rel=1e-9)


def test_lost_buoyancy_and_added_water_come_to_rest_alike():
    """A second road: the same water carried as a weight, at the sea's own level."""
    _, bilged = answered(barge(x=(4.0, 9.0)))
    water = bilged.flooded[0].water_m3
    plain = barge(x=(4.0, 9.0))
    sides = {"x": [4.0, 9.0], "y": [-BEAM / 2, BEAM / 2], "z": [-DRAUGHT, DEPTH - DRAUGHT]}
    tank = {"box_m": sides, "capacity_l": 190_000.0, "density_kg_m3": SEA}
    plain["tanks"] = {"hold": tank}
    plain["conditions"] = {"intact": {}, "bilged": {"fills": {"hold": 1000.0 * water}}}
    _, filled = answered(plain)
    assert filled.sinkage_mm == pytest.approx(bilged.sinkage_mm, abs=0.01)
    assert filled.trim_mm == pytest.approx(bilged.trim_mm, abs=0.01)
    assert filled.displacement_kg > bilged.displacement_kg


def test_levers_feel_it_and_both_ways_of_naming_it_are_one():
    answer = assessed(barge())
    intact, bilged = row(answer, "intact"), row(answer, "bilged")
    assert bilged.greatest_gz_m < intact.greatest_gz_m
    by_path = row(assessed(barge(floods=("hull.compartments.hold",))), "bilged")
    assert by_path.gm_m == bilged.gm_m
    assert "floods-nothing" not in [finding.code for finding in answer.findings]


def test_two_that_share_room_lose_it_once():
    plain = barge(floods=("compartments.hold", "compartments.other"))
    plain["hull"]["compartments"]["other"] = {"x_m": [20.0, 25.0], "permeability": 1.0}
    _, both = answered(plain)
    _, alone = answered(barge())
    assert both.sinkage_mm == pytest.approx(alone.sinkage_mm, rel=1e-9)


def test_what_cannot_flood_is_refused_in_words():
    with pytest.raises(DocumentError) as refused:
        boat(barge(floods=("compartments.hald",)))
    (fault,) = refused.value.faults
    assert (fault.code, fault.place) == ("unknown-name", "conditions.bilged.floods.0")
    assert "compartments.hold" in fault.sentence
    with pytest.raises(ModelError) as nowhere:
        assessed(barge(x=(50.0, 60.0)), levers=None)
    assert (nowhere.value.code, nowhere.value.place) == ("room-empty", "hull.compartments.hold")


def test_a_hull_of_any_shape_loses_what_lies_between_its_bulkheads():
    """Permeability by slices against the whole, on the demo's own hull."""
    found = []
    for share in (1.0, 0.5):
        compartment = {"x_m": [-1.0, 1.5], "permeability": share}
        peak = {"boat": "refit", "floods": ["compartments.peak"]}
        plain = demo_document()
        plain = plain | {
            "hull": plain["hull"] | {"compartments": {"peak": compartment}},
            "conditions": plain["conditions"] | {"peak": peak},
        }
        found.append(row(assessed(plain, levers=None, only="peak"), "peak").flooded[0])
    assert found[1].room_m3 == pytest.approx(found[0].room_m3, rel=1e-3)
