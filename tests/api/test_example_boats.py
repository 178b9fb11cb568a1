"""Every example boat: checked, assessed, put in files, frozen, and floated by hand.

Bounds are one's own: by hand the lines are straight between readings.
"""

import json
from functools import cache
from pathlib import Path

import agreement
import pytest
from by_hand import by_hand
from fastapi.testclient import TestClient
from other_boats import LOCAL, command_result, faults_of_cutting, faults_of_sharing
from refits import row
from reviewing import Party

from hullchange.boat.boat import boat_of
from hullchange.boat.line_readings import readings_of
from hullchange.document.options import with_option
from hullchange.document.reading import document_of, read_document
from hullchange.refit import read
from hullchange_api.app import create_app
from hullchange_api.serving import add_demo
from hullchange_api.store.refits import Refits

FOLDER = Path(__file__).parents[2] / "examples"
NAMES = sorted(file.stem for file in FOLDER.glob("*.yaml"))
NEW = ("brackwren", "fernskerry")
SEEN = {
    "side_height_forward_m", "shared_end", "open_aft", "roof_below", "stand", "pair",
    "cant_deg", "compartments", "taped", "read_again", "within", "to_z_m", "bulwark",
    "hull_plate", "inclining", "rolls",
}  # fmt: skip
"""What the grammar has and the demo does not show."""


def file_of(name):
    return FOLDER / f"{name}.yaml"


@cache
def plain_of(name):
    return read_document(file_of(name)).plain


@pytest.mark.parametrize("name", NAMES)
def test_nothing_fails_and_no_reading_of_the_lines_is_blamed(name):
    checked = command_result("check", file_of(name), "--json")
    assert checked.status == 0
    findings = json.loads(checked.out)["findings"]
    assert len(findings) <= 4
    assert not [f for f in findings if f["place"].startswith("hull")]
    report = readings_of(read_document(file_of(name)).document)
    assert report.worst
    assert not any(point.normal and abs(point.normal) > 0.03 for point in report.points)


@pytest.mark.parametrize("name", NAMES)
def test_she_weighs_and_stands_as_by_hand(name):
    condition = plain_of(name)["reference_condition"]
    found = row(read(file_of(name)).assess(condition), condition, "as_found")
    hand = by_hand(plain_of(name))
    assert found.displacement_kg == pytest.approx(hand.mass, rel=0.015)
    assert found.centre_of_gravity_m[0] == pytest.approx(hand.lcb, abs=0.03)
    # the metacentre over the centre of gravity; liquids aboard lower it a little
    assert found.gm_m + found.centre_of_gravity_m[2] == pytest.approx(hand.km, abs=0.03)


@pytest.mark.slow
@pytest.mark.parametrize("name", NEW)
def test_she_is_assessed_cut_and_shared(name, tmp_path):
    file = tmp_path / f"{name}.yaml"
    file.write_bytes(file_of(name).read_bytes())
    quick = command_result("assess", file, "--quick", "--json")
    assert (quick.status, quick.err) == (0, "")
    answer = json.loads(quick.out)
    plain = plain_of(name)
    faults = [
        *agreement.incomplete_results(plain, answer),
        *agreement.contradictory_verdicts(plain, answer),
        *faults_of_cutting(file, answer),
        *faults_of_sharing(file, answer),
    ]
    assert faults == []
    assert {p["id"] for p in answer["parts"]} == {
        part for change in plain["changes"].values() for part in change.get("parts", {})
    }
    for c in answer["conditions"]:
        assert 0.4 < c["gm_m"] < 1.1
        assert 110.0 < c["vanishing_angle_deg"] < 143.0


@pytest.mark.parametrize("name", NEW)
def test_each_option_builds(name):
    options = plain_of(name)["options"]
    assert len(options) == 2
    for option in options:
        built = boat_of(document_of(with_option(plain_of(name), option), FOLDER))
        assert built.parts


def test_what_the_demo_does_not_say_is_said_here():
    text = "".join(file_of(name).read_text(encoding="utf-8") for name in NEW)
    assert {word for word in SEEN if word not in text} == set()


@pytest.mark.slow
def test_the_demo_offers_all_three_and_each_freezes(tmp_path):
    add_demo(tmp_path)
    with TestClient(create_app(Refits(tmp_path, None, "saltmarrow")), base_url=LOCAL) as client:
        assert [card["id"] for card in client.get("/api/refits").json()] == ["saltmarrow", *NEW]
        offered = {card["id"]: card["about"] for card in client.get("/api/examples").json()}
        assert list(offered) == ["saltmarrow", *NEW]
        assert "single-chine steel sloop" in offered["brackwren"]
        assert "four-chine steel ketch" in offered["fernskerry"]
        for name in NEW:
            made = Party(client, name).freeze("as first drawn")
            assert made.status_code == 201, made.text


def test_an_example_that_was_deleted_stays_away(tmp_path):
    add_demo(tmp_path)
    refits = Refits(tmp_path, None, "saltmarrow")
    refits.delete("brackwren")
    refits.close()
    add_demo(tmp_path)
    assert Refits(tmp_path).ids() == ("fernskerry", "saltmarrow")
