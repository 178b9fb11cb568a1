"""A figure opened, over HTTP, in the one file and by the command line."""

import json
import re
from base64 import b64decode
from gzip import decompress
from itertools import groupby

import pytest
from refits import boat
from reviewing import MOTOR, Party, solids_here

from hullchange.assess.assessment import assessment
from hullchange.assess.held import held_everywhere
from hullchange.document.yaml_text import parsed
from hullchange.explain.explain import explanation, explanations
from hullchange.start.invented import starting_document
from hullchange_api.command_line.main import main
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.review.shared_page import PageContent, shared_page

GM = "conditions.survey-state.refit.gm_m"


def ask(page, path, **query):
    return page.client.get(f"{page.address}/explanation", params={"path": path, **query})


def test_a_figure_of_the_working_copy_opens_as_the_model_has_it(page):
    built = boat(parsed(starting_document("Dot")).document())
    expected = explanation(assessment(built), built.document, GM)
    answer = ask(page, GM)
    assert answer.status_code == 200
    assert answer.json() == expected.model_dump(mode="json")
    for given in expected.inputs:
        assert ask(page, given.path).json()["value"] == given.value


def test_an_option_is_opened_with_its_own_numbers(page):
    page.put({"options": {"light": {"set": {MOTOR: 31.0}}}})
    path = f"items.{MOTOR}"
    assert ask(page, path, option="light").json()["value"] == 31.0
    assert ask(page, path).json()["value"] != 31.0


@pytest.mark.parametrize(
    ("path", "query", "status", "code"),
    [
        ("nothing", {}, 422, "unknown-path"),
        ("conditions.survey-state.as_found.change", {}, 422, "no-value"),
        (GM, {"option": "none"}, 422, "unknown-option"),
        ("x" * 1001, {}, 422, "bad-request"),
    ],
)
def test_what_is_no_figure_is_refused(page, refused, path, query, status, code):
    refused(ask(page, path, **query), status, code)


def test_after_an_edit_the_figure_is_the_new_boats(page):
    path = f"document.{MOTOR}"
    before = ask(page, "conditions.survey-state.displacement_kg").json()["value"]
    page.put({MOTOR: 50})
    assert ask(page, path).json()["value"] == 50
    after = ask(page, "conditions.survey-state.displacement_kg").json()["value"]
    assert after != before


@pytest.mark.slow
def test_a_reviewer_opens_the_figures_of_the_revision_alone(page, monkeypatch, refused):
    monkeypatch.setattr(CadWorker, "solids", solids_here)
    owner = Party(page.client)
    owner.freeze("one")
    frozen = ask(page, f"items.{MOTOR}").json()
    page.put({MOTOR: 50})
    owner.freeze("two")
    reviewer, _ = owner.shared(1)

    def explained(who, revision, path=f"items.{MOTOR}"):
        address = f"{who.address}/revisions/{revision}/explanation"
        return who.client.get(address, params={"path": path})

    assert explained(reviewer, 1).json()["value"] == frozen["value"] != 50
    assert explained(reviewer, 1, "record.parts.battery-shelf.mass_kg").json()["inputs"]
    rows = reviewer.get("/revisions/1").json()["assessment"]["conditions"]
    row = next(row for row in rows if row["held"])
    lever = explained(
        reviewer, 1, f"conditions.{row['id']}.{row['stage']}.held.starboard.gz_m.22"
    )
    assert lever.json()["value"] == row["held"]["starboard"]["gz_m"][22]
    refused(explained(reviewer, 2), 403, "not-shared")
    refused(explained(reviewer, "working"), 403, "not-shared")
    refused(explained(owner, 3), 404, "unknown-revision")


@pytest.mark.slow
def test_the_one_file_holds_everything_that_opens(tmp_path):
    for name, text in {
        "index.html": '<script src="./assets/a.js"></script><link href="./assets/a.css">',
        "one-file.js": "",
        "assets/a.css": "",
        "licenses.md": "",
    }.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text)
    plain = parsed(starting_document("Dot")).document()
    built = boat(plain)
    assessed = held_everywhere(assessment(built), built)
    page = shared_page(
        PageContent("dot.yaml", "dot.yaml", plain, built, assessed), tmp_path
    ).decode()

    def packed(name):
        block = re.search(rf'id="{name}">(.*?)</script>', page, re.DOTALL)[1]
        return json.loads(decompress(b64decode(block)))

    assert packed("explanations") == {
        one.path: one.model_dump(mode="json") for one in explanations(assessed, built.document)
    }
    assert packed("held") == {
        name: {row.stage: row.model_dump(mode="json")["held"] for row in rows}
        for name, rows in groupby(assessed.floats, lambda row: row.id)
    }
    files = packed("files")
    levers = {f"levers.csv?condition={row.id}" for row in assessed.floats}
    metric = levers | {"lines.csv", "offsets.csv", "lines-plan.svg"}
    feet = {f"{name}{'&' if '?' in name else '?'}units=imperial" for name in metric}
    assert files.keys() == metric | feet
    for drawing in ("lines-plan.svg", "lines-plan.svg?units=imperial"):
        assert files.pop(drawing).startswith("<svg ")
    assert all(text.startswith("boat,Dot\n") for text in files.values())
    assert "x_m" in files["offsets.csv"]
    assert "x_ft" in files["offsets.csv?units=imperial"]


def test_the_command_line_says_it_in_words_or_json(tmp_path, capsys):
    file = tmp_path / "dot.yaml"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    path = "conditions.survey-state.trim_deg"
    assert main(["explain", str(file), path]) == 0
    shown = capsys.readouterr().out.splitlines()
    assert shown[0].startswith("angle of trim, as surveyed, refit: ")
    assert shown[1] == "  formula: tan θ = t cos φ / L"
    assert "conditions.survey-state.refit.trim_mm" in shown[3]
    assert main(["explain", str(file), path, "--deep"]) == 0
    deep = capsys.readouterr().out
    assert "Assumed until it is measured on this boat. [assumed]" in deep
    assert len(deep.splitlines()) > 5 * len(shown)
    assert main(["explain", str(file), path, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["formula"] == "tan θ = t cos φ / L"

    assert main(["explain", str(file), "nowhere"]) == 2
    output = capsys.readouterr().err
    assert output.count("\n") == 1
    assert "nowhere" in output
