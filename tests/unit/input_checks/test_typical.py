"""Slips of the decimal point are asked about, wherever they stand; good boats are not."""

import json

import pytest
from other_refits import other_refit
from refits import boat, demo_document, with_all

from hullchange.assess.check import check_document
from hullchange.assess.document_findings import input_check_findings
from hullchange.survey.as_found import surveyed

HOUSE = "changes.deckhouse.parts.house"
ADDS, RIG = "changes.electric-drive.adds", "changes.deckhouse.moves.rig"
BANK = "changes.electric-drive.removes.lead-acid-bank"
ASKS = {
    "heavy",
    "inclining-scatters",
    "lies-elsewhere",
    "mark-off-the-sheer",
    "odd-plus-minus",
    "off-its-part",
    "off-the-boat",
    "old-steel",
    "opening-inside",
    "opening-off-the-boat",
    "rises-far",
    "tank-capacity",
    "tank-out-of-place",
    "unusual",
    "void-out-of-place",
}
"""Codes of what is asked because it looks like a slip."""


def asked(plain):
    """(code, place, sentence) of what is asked about."""
    built = boat(plain)
    findings = input_check_findings(built, surveyed(built))
    return [(f.code, f.place, f.sentence) for f in findings if f.code in ASKS]


PLANTED = [
    # parts that exist and parts that are new
    ("existing.old-cockpit.coaming_top_z_m", 13.4, "unusual", "13.4 m; -0.51 to 3 m"),
    (f"{HOUSE}.roof_camber_m", 0.60, "unusual", "House, roof camber: 0.6 m; 0.02 to 0.2 m"),
    ("existing.old-house.roof_camber_m", 0.60, "unusual", "Old house, roof camber: 0.6 m"),
    ("changes.bow.parts.platform.top_plate_mm", 60, "unusual", "60 mm; 2 to 8 mm is typical"),
    (f"{HOUSE}.roof_beams.flat_mm", [500, 5], "unusual", "flat, depth: 500 mm"),
    ("existing.old-cockpit.drains.diameter_mm", 300, "unusual", "300 mm; 25 to 80 mm"),
    # hull, rig, tanks, stock
    ("hull.deck.camber_m", 0.006, "unusual", "Camber: 0.006 m; 0.015 to 0.22 m is typical"),
    ("hull.plating.topsides.thickness_mm", 40, "unusual", "Topsides, thickness: 40 mm"),
    ("hull.plating.topsides.thickness_mm", 0.4, "unusual", "Topsides, thickness: 0.4 mm"),
    ("rig.mainsail.foot_m", 44.0, "unusual", "Foot: 44 m"),
    ("tanks.water.box_m.z", [-1.5, -0.1], "tank-capacity", "shape holds 1,400 l"),
    ("openings.companionway.area_m2", 4.5, "unusual", "4.5 m2"),
    ("voids.keel-forward.x_m", [0.29, 3.8], "void-out-of-place", "mm beyond keel"),
    ("stock.plates.plate-4.sizes_m", [[30.0, 1.5]], "unusual", "sizes, length: 30 m"),
    ("stock.bars.tube-89-6.tube_mm", [89, 60], "unusual", "thickness or wall: 60 mm"),
    ("allowances", {"weld_metal_percent": 20}, "unusual", "Weld metal: 20 %"),
    # weights
    (f"{BANK}.at_m", [6.15, -3.5, -0.2], "off-the-boat", "lies 1,638 mm outside the hull"),
    (f"{BANK}.at_m", [6.15, -0.35, -2.0], "off-the-boat", "lies 1,274 mm below the hull"),
    (f"{BANK}.at_m", [13.0, -0.35, -0.2], "off-the-boat", "mm astern of the boat"),
    (f"{BANK}.at_m", [11.3, -0.35, -1.4], "off-the-boat", "mm below the hull"),
    ("changes.deckhouse.removes.linings.at_m", [5, 0, 15.5], "off-the-boat", "above the deck"),
    ("changes.deckhouse.removes.roof.at_m", [0.495, 0, 1.6], "off-its-part", "is removed 2,"),
    ("changes.deckhouse.removes.roof.mass_kg", 2360, "old-steel", "removed weighs 2,488 kg"),
    (f"{BANK}.mass_kg", 1710, "heavy", "Lead acid bank weighs 1,710 kg, 14 % of the boat"),
    (f"{BANK}.plus_minus_kg", 300, "odd-plus-minus", "171 ± 300 kg"),
    ("conditions.departure.loads.crew.mass_kg", 3300, "heavy", "Crew weighs 3,300 kg"),
    ("conditions.departure.loads.stores.at_m", [5.9, 5.0, 0.1], "off-the-boat", "outside"),
    ("tanks.fuel.at_m", [8.35, 3.0, -0.02], "off-the-boat", "outside the hull"),
    (
        f"{ADDS}.battery.at_m",
        [7.5, 0, -0.38],
        "lies-elsewhere",
        "7.5 m, outside the range from",
    ),
    (f"{RIG}.rises_with.from_m", 4.0, "rises-far", "comes down 3,420 mm with"),
    # survey and openings
    ("survey.marks.aft.sheer_z_m", 1.606, "mark-off-the-sheer", "entered at 1.606 m"),
    ("survey.marks.aft.x_m", 11.9, "mark-off-the-sheer", "950 mm beyond the end of the sheer"),
    ("survey.plus_minus_m", 0.05, "unusual", "0.05 m"),
    ("openings.companionway.edge_m", [[6.0, 0, 0.5]], "opening-inside", "mm below the deck"),
]


@pytest.mark.parametrize(
    ("path", "value", "code", "words"), PLANTED, ids=[f"{p[0]}={p[1]}" for p in PLANTED]
)
def test_a_slip_is_asked_about_at_its_place(path, value, code, words):
    questions = asked(with_all(demo_document(), {path: value}))
    places = [place for c, place, s in questions if c == code and words in s]
    assert places != [], questions
    thing = ".".join(path.split(".")[:2])
    assert [place for place in places if not place.startswith(thing)] == []


def test_nothing_is_asked_of_the_demo():
    assert asked(demo_document()) == []


@pytest.mark.parametrize(
    ("path", "at"),
    [
        (f"{BANK}.at_m", [11.3, -0.35, -0.1]),  # hung on the transom, lower than its foot
        ("changes.arch.adds.mizzen", {"mass_kg": 60.0, "at_m": [9.5, 0, 6.0], "from": "drawn"}),
    ],
)
def test_nothing_is_asked_of_what_hangs_astern_or_stands_high(path, at):
    assert asked(with_all(demo_document(), {path: at})) == []


@pytest.mark.parametrize("seed", range(0, 40, 5))
def test_nothing_is_asked_of_boats_unlike_the_demo(seed):
    assert asked(other_refit(seed).plain) == []


def test_a_centre_of_gravity_above_the_metacentre_is_asked_about():
    high = boat(with_all(demo_document(), {"survey.vcg.z_m": 1.9}))
    (finding,) = [
        f for f in input_check_findings(high, surveyed(high)) if f.code == "vcg-out-of-reach"
    ]
    assert finding.place == "survey.vcg.z_m"
    assert "above her metacentre" in finding.sentence


def test_a_reading_of_an_inclining_off_the_line_is_asked_about():
    readings = [{"moment_kgm": 160.0 * a, "heel_deg": a} for a in (-1.4, -0.7, 0.0, 0.7, 1.4)]
    by_path = {"survey.vcg": None, "survey.inclining": {"readings": readings}}
    assert asked(with_all(demo_document(), by_path)) == []
    readings[3]["moment_kgm"] = 1120.0
    questions = asked(with_all(demo_document(), by_path))
    assert [place for _, place, _ in questions] == ["survey.inclining.readings.3"]
    assert "1120 kg·m and 0.7°" in questions[0][2]


def test_a_slip_in_an_option_is_asked_about_by_check(tmp_path):
    plain = with_all(
        demo_document(),
        {"options.balanced.set": {f"{ADDS}.battery.at_m": [3.7, 4.0, -0.4]}},
    )
    file = tmp_path / "boat.yaml"
    file.write_text(json.dumps(plain), encoding="utf-8")
    findings = [f for f in check_document(file) if f.place == "options.balanced"]
    assert [f.code for f in findings] == ["off-the-boat"]
    assert findings[0].sentence.startswith("In this option: Battery lies 2,")


def test_a_slip_in_what_an_option_adds_is_asked_about():
    lead = "options.balanced.adds.keel-blocks.adds.blocks"
    questions = asked(with_all(demo_document(), {f"{lead}.at_m": [3.5, 3.0, -1.12]}))
    assert [place for _, place, _ in questions] == [f"{lead}.at_m"]
