"""Assumed values over HTTP and on the command line: new boats, edits that make them hers."""

import json
from pathlib import Path

import pytest

from hullchange.document.assumed import is_assumed
from hullchange.document.reading import read_document
from hullchange.document.yaml_text import parsed
from hullchange.start.first_document import first_document
from hullchange.start.proportions import FirstDimensions
from hullchange_api.command_line.main import main

EXAMPLES = Path(__file__).parents[2] / "examples"
TABLE = (EXAMPLES / "saltmarrow-lines.csv").read_text(encoding="utf-8")
NUMBERS = {
    **{"hull_type": "round", "length_m": 9.4, "waterline_m": 7.9, "beam_m": 3.1},
    **{"displacement_kg": 5600.0, "draught_m": 1.5, "freeboard_forward_m": 1.2},
    **{"freeboard_least_m": 0.85, "freeboard_aft_m": 0.95, "transom_m": 1.6, "keel": "fin"},
}
WREN = FirstDimensions("round", 9.4, 7.9, 3.1, 5600.0, 1.5, (1.2, 0.85, 0.95), 1.6, "fin")
OPTIONS = (
    *("--hull-type", "round", "--length-m", "9.4", "--waterline-m", "7.9", "--beam-m", "3.1"),
    *("--displacement-kg", "5600", "--draught-m", "1.5", "--transom-m", "1.6"),
    *("--freeboards-m", "1.2", "0.85", "0.95", "--keel", "fin"),
)


def assumed_of(answer):
    return answer.json()["document"].get("assumed", [])


def begun(page, **more):
    return page.client.post("/api/refits", json={"name": "Wren", **more})


def test_a_refit_begins_from_her_dimensions(page):
    card = begun(page, dimensions=NUMBERS)
    assert card.status_code == 201, card.text
    refit = card.json()["id"]
    body = page.client.get(f"/api/refits/{refit}/revisions/working").json()
    assert body["document"] == parsed(first_document("Wren", WREN)).document()
    own = body["assessment"]["own_figures"]
    assert (own["yours"], own["next"]["path"]) == (7, "hull.lines")
    assert body["assessment"]["assumed"][0]["plus_minus"]["gm_m"] > 0.1
    rules = [r for c in body["assessment"]["conditions"] for r in c["criteria"]]
    assert {rule["state"] for rule in rules} == {"to_be_confirmed"}


def test_without_dimensions_all_of_the_invented_boat_is_assumed(page):
    refit = begun(page).json()["id"]
    body = page.client.get(f"/api/refits/{refit}/revisions/working").json()
    own = body["assessment"]["own_figures"]
    assert own["yours"] == 0
    assert own["all"] > 50


@pytest.mark.parametrize(
    ("wrong", "code", "words"),
    [
        ({"draught_m": 0.5}, "dimensions-disagree", "with a fin keel from"),
        ({"beam_m": 1.2, "transom_m": 0.5}, "dimensions-disagree", ""),
        (
            {"displacement_kg": 0},
            "bad-request",
            "Displacement is 0 kg; it must be more than 0 kg.",
        ),
        ({"beam_m": -4}, "bad-request", "Beam is -4 m; it must be more than 0 m."),
        ({"keel": "wing"}, "bad-request", ""),
        ({"sail": 3}, "bad-request", ""),
    ],
)
def test_dimensions_that_cannot_be_are_refused_and_nothing_is_begun(
    page, refused, wrong, code, words
):
    before = page.client.get("/api/refits").json()
    answer = begun(page, dimensions=NUMBERS | wrong)
    assert words in refused(answer, 422, code)["detail"]
    assert page.client.get("/api/refits").json() == before


def test_an_edit_makes_a_value_hers_in_one_step_that_can_be_undone(page):
    before = assumed_of(page.read())
    assert "survey.vcg" in before
    after = page.put({"survey.vcg.z_m": 0.07})
    assert not is_assumed("survey.vcg.z_m", assumed_of(after))
    assert after.json()["edit"] == 2
    assert "assumed:" in page.saved()
    assert assumed_of(page.undo()) == before
    assert not is_assumed("survey.vcg.z_m", assumed_of(page.redo()))


def test_every_edit_of_one_gesture_counts_and_the_drag_is_answered_with_the_count(page):
    for height in (0.06, 0.07, 0.08):
        after = page.put({"survey.vcg.z_m": height}, gesture="drag")
    assert not is_assumed("survey.vcg.z_m", assumed_of(after))
    assert after.json()["assessment"]["own_figures"]["yours"] == 1
    assert "survey.vcg" in assumed_of(page.undo())


def test_lines_from_a_table_are_hers_and_guessed_lines_are_not(page):
    guess = {
        key: value
        for key, value in NUMBERS.items()
        if key not in ("draught_m", "keel", "displacement_kg")
    }
    sources = "/api/refits/dot/hull-sources"
    preview = page.client.post(
        f"{sources}/dimensions", json=guess | {"displacement_kg": 4900}
    ).json()
    lines = {
        name: {key: line[key] for key in ("kind", "points_m", "knuckles_at_x_m")}
        for name, line in preview["lines"].items()
    }
    origin = {"plus_minus_m": preview["plus_minus_m"]}
    for source, assumed in (("dimensions", True), ("drawing", False), ("dimensions", True)):
        seen = page.read().json()["edit"]
        taken = page.client.post(
            f"{sources}/lines",
            json={"lines": lines, "origin": origin | {"source": source}},
            headers={"If-Match": f'"{seen}"'},
        )
        assert taken.status_code == 200, taken.text
        listed = assumed_of(taken)
        assert is_assumed("hull.lines.sheer.points_m.3", listed) is assumed
        assert "survey.vcg" in listed
        assert taken.json()["edit"] == seen + 1
    page.read()
    table = page.write("POST", "/lines", json={"csv": TABLE})
    assert table.status_code == 200, table.text
    assert not is_assumed("hull.lines.sheer.points_m.3", assumed_of(table))


def test_what_is_set_under_an_option_is_hers_there_alone(page):
    page.put({"options.low": {"note": "ballast"}})
    after = page.put({"hull.deck.camber_m": 0.06}, query={"option": "low"})
    assert not is_assumed("hull.deck.camber_m", assumed_of(after))
    assert is_assumed("hull.deck.camber_m", assumed_of(page.read()))


def test_a_path_that_does_not_exist_is_refused_at_its_place(page, refused):
    problem = refused(page.put({"assumed": ["hull.lins"]}), 422, "unknown-name")
    assert problem["faults"][0]["place"] == "assumed.0"


def test_a_new_document_begins_from_dimensions_on_the_command_line(tmp_path, capsys):
    file = tmp_path / "wren.yaml"
    assert main(["new", str(file), *OPTIONS]) == 0
    assert file.read_text(encoding="utf-8") == first_document("Wren", WREN)
    assert read_document(file).document.boat.name == "Wren"
    capsys.readouterr()
    assert main(["check", str(file), "--json"]) == 0
    assert "rests-on-assumed" in json.dumps(json.loads(capsys.readouterr().out))


@pytest.mark.parametrize("without", range(0, 8, 2))
def test_half_of_the_dimensions_is_refused_and_names_the_others(tmp_path, capsys, without):
    file = tmp_path / "wren.yaml"
    words = [*OPTIONS[:without], *OPTIONS[without + 2 :]]
    assert main(["new", str(file), *words]) != 0
    assert OPTIONS[without] in capsys.readouterr().err
    assert not file.exists()
