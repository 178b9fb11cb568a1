"""Tanks and voids inside a keel: capacity, levels and free surface by hand."""

import pytest
from refits import barge_document, boat, demo, row

from hullchange.assess.assessment import assessment
from hullchange.assess.voids import voids_of
from hullchange.boat.rooms import filled_to, filled_with, void_room
from hullchange.document.reading import document_of
from hullchange.errors import DocumentError, ModelError
from hullchange.present.tables import tables
from hullchange.survey.as_found import tank_of

KEEL = {
    "outline_m": [[3.0, -1.0], [3.0, -2.0], [5.0, -2.0], [5.0, -1.0]],
    "half_thickness_m": 0.11,
}
BALLAST = {"material": "lead shot", "density_kg_m3": 7000.0}


def barge(**more):
    plain = barge_document(10.0, 4.0, 1.0, 2.0, 0.1, **more)
    plain["hull"]["appendages"] = {"keel": KEEL}
    plain["hull"]["plating"] = {"keel": {"thickness_mm": 10.0}}
    return plain


def void(**more):
    return {"within": "keel", "x_m": [3.5, 4.5], "z_m": [-1.8, -1.3], "fill": BALLAST | more}


def only(voids):
    (found,) = voids_of(boat(barge(voids={"ballast": voids})))
    return found


def test_a_void_in_a_box_keel_by_hand():
    """1.0 by 0.20 by 0.5 inside 10 mm plates, five in a hundred taken by floors."""
    found = only(void() | {"taken_by_floors": 0.05})
    assert found.volume_m3 == pytest.approx(0.1 * 0.95, rel=1e-9)
    assert found.full_mass_kg == pytest.approx(0.1 * 0.95 * 7000.0, rel=1e-9)
    assert found.mass_kg == found.full_mass_kg
    assert found.centroid_m == pytest.approx((4.0, 0.0, -1.55), abs=1e-9)
    half = found.levels[5]
    assert half.level_z_m == pytest.approx(-1.55)
    assert half.mass_kg == pytest.approx(found.full_mass_kg / 2.0)
    assert half.centroid_m[2] == pytest.approx(-1.675)


def test_kilograms_to_a_level_and_the_level_for_kilograms_are_inverse():
    to_level = only(void(to_z_m=-1.5))
    assert to_level.mass_kg == pytest.approx(0.3 * 0.2 * 7000.0)
    by_mass = only(void(mass_kg=to_level.mass_kg))
    assert by_mass.level_z_m == pytest.approx(-1.5, abs=1e-9)
    assert by_mass.centroid_m == pytest.approx((4.0, 0.0, -1.65), abs=1e-9)


def test_the_plating_is_that_of_the_void_then_of_the_zone_of_its_name():
    assert only(void() | {"plate_mm": 20.0}).volume_m3 == pytest.approx(0.18 * 0.5)
    plain = barge(voids={"ballast": void()})
    del plain["hull"]["plating"]
    (bare,) = voids_of(boat(plain))
    assert bare.volume_m3 == pytest.approx(0.22 * 0.5)


def test_the_demos_void_level_for_a_mass_and_back():
    room = void_room(demo()[0].document, demo()[0].hull, "keel-forward")
    for share in (0.0, 0.01, 0.3, 0.77, 1.0, 1.3):
        lies = room.with_mass(share * room.full_mass)
        assert room.mass_to(lies.level) == pytest.approx(
            min(share, 1.0) * room.full_mass, abs=1e-6
        )
    assert filled_to(room.room, 5.0).volume == pytest.approx(room.room.volume)
    assert filled_with(room.room, 0.0).centre[2] == pytest.approx(room.room.bounds[0, 2])


def test_a_void_beyond_its_keel_or_overfull_is_said():
    beside = boat(barge(voids={"ballast": void() | {"x_m": [7.0, 8.0]}}))
    assert voids_of(beside) == ()
    answer = assessment(beside, only="survey-state", levers=None)
    assert "void-empty" in [f.code for f in answer.findings]
    over = boat(barge(voids={"ballast": void(mass_kg=900.0)}))
    answer = assessment(over, only="survey-state", levers=None)
    (finding,) = (f for f in answer.findings if f.code == "void-overfull")
    assert finding.place == "voids.ballast.fill.mass_kg"
    assert "700 kg" in finding.sentence
    assert answer.voids[0].mass_kg == pytest.approx(700.0)
    assert "ballast" in tables(answer)


TANK = {
    **{"within": "keel", "x_m": [3.5, 4.5], "z_m": [-1.9, -1.1]},
    **{"capacity_l": 160.0, "contents": "fresh"},
}


def test_a_tank_in_a_keel_holds_what_its_plates_leave():
    keel = boat(barge(tanks={"water": TANK}))
    assert tank_of(keel, "water", 0.0).surface.volume == pytest.approx(0.2 * 0.8, rel=1e-9)
    boxed = {key: value for key, value in TANK.items() if key not in ("x_m", "z_m")}
    boxed["box_m"] = {"x": [3.5, 4.5], "y": [-3.0, 3.0], "z": [-1.9, -1.1]}
    same = boat(barge(tanks={"water": boxed}))
    assert tank_of(same, "water", 0.0).surface.volume == pytest.approx(0.16, rel=1e-9)


def test_its_free_surface_lowers_gm_as_any_tanks_does():
    """Half full of 1000 kg/m3: i = 1.0 x 0.2^3 / 12, over the displacement."""
    plain = barge(tanks={"water": TANK}, conditions={"half": {"fills": {"water": 80.0}}})
    answer = assessment(boat(plain), levers=None)
    half = row(answer, "half")
    lost = 1000.0 * 0.2**3 / 12.0 / half.displacement_kg
    assert half.gm_solid_m - half.gm_m == pytest.approx(lost, rel=1e-6)
    places = [f.code for f in answer.findings if f.place.startswith("tanks.water")]
    assert places == []


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({"within": "skeg"}, "unknown-name"),
        ({"within": None}, "tank-within"),
        ({"z_m": None}, "tank-outline"),
        ({"at_m": [4.0, 0.0, -1.5]}, "tank-place"),
    ],
)
def test_a_tank_in_nothing_is_refused(more, code):
    tank = {key: value for key, value in (TANK | more).items() if value is not None}
    with pytest.raises(DocumentError) as refused:
        document_of(barge(tanks={"water": tank}))
    assert code in [fault.code for fault in refused.value.faults]
    assert all(fault.sentence.endswith(".") for fault in refused.value.faults)


def test_a_tank_where_no_keel_is_is_refused_at_its_place():
    away = boat(barge(tanks={"water": TANK | {"x_m": [7.0, 8.0]}}))
    with pytest.raises(ModelError) as refused:
        tank_of(away, "water", 0.0)
    assert (refused.value.code, refused.value.place) == ("room-empty", "tanks.water")


def test_a_void_filled_twice_is_refused():
    with pytest.raises(DocumentError) as refused:
        document_of(barge(voids={"ballast": void(mass_kg=10.0, to_z_m=-1.5)}))
    assert [fault.code for fault in refused.value.faults] == ["filled-twice"]
