"""Files for other programs: from the page and from the command line, each says its standing."""

import csv
import io
import json
import re

import openpyxl
import pytest
from pypdfium2 import PdfDocument
from refits import barge_document
from reviewing import MOTOR, Party, run_here, solids_here

from hullchange.hull.lines_csv import lines_of_csv
from hullchange.start.invented import starting_document
from hullchange_api.command_line import main
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.review.exports import NAMES

pytestmark = [pytest.mark.slow, pytest.mark.cad]


@pytest.fixture
def here(monkeypatch):
    """What the CAD process does is done in this process, where the kernel is loaded once."""
    monkeypatch.setattr(CadWorker, "solids", solids_here)
    monkeypatch.setattr(CadWorker, "run", run_here)
    monkeypatch.setattr(CadWorker, "warm_up", lambda _: None)
    monkeypatch.setattr(CadWorker, "begin", lambda *_: None)


@pytest.fixture
def owner(page, here):  # noqa: ARG001
    return Party(page.client)


def files(owner, revision="working"):
    """Every file by its name, and what a browser calls it."""
    answers = {name: owner.get(f"/revisions/{revision}/files/{name}") for name in NAMES}
    assert {answer.status_code for answer in answers.values()} == {200}
    called = {
        name: re.search('filename="(.*)"', answer.headers["content-disposition"])[1]
        for name, answer in answers.items()
    }
    return {name: answer.content for name, answer in answers.items()}, called


def every_file_holds(content, *words):
    """Whether every file says these words, each in its own way."""
    book = openpyxl.load_workbook(io.BytesIO(content["tables.xlsx"]))
    assert {"ledger", "conditions"} <= set(book.sheetnames)
    heads = [str(row[1].value) for row in book["conditions"].iter_rows(max_row=9)]
    texts = {
        "record.step": content["record.step"][:900].decode(),
        "record.json": content["record.json"].decode(),
        "scene.glb": content["scene.glb"].decode("latin-1"),
        "ledger.csv": content["ledger.csv"].decode(),
        "conditions.csv": content["conditions.csv"].decode(),
        "levers.csv": content["levers.csv"].decode(),
        "lines.csv": content["lines.csv"].decode(),
        "lines-plan.pdf": PdfDocument(content["lines-plan.pdf"]).get_metadata_dict()["Subject"],
        **{
            name: content[name].decode("cp1252")
            for name in ("lines-plan.svg", "lines-plan.dxf")
        },
        "offsets.csv": content["offsets.csv"].decode(),
        "tables.xlsx": "\n".join(heads),
    }
    assert texts.keys() == set(NAMES)
    return {(name, w) for name, text in texts.items() for w in words if w not in text} == set()


def test_every_file_says_what_it_was_made_from_and_how_the_review_stands(owner, page):
    working, called = files(owner)
    document = owner.get("/revisions/working").json()["assessment"]["document_sha256"]
    assert every_file_holds(working, document, "working", "unsigned")
    assert called["record.step"] == f"dot-record-working-{document[:8]}-unsigned.step"
    assert files(owner)[0] == working

    card = owner.freeze().json()
    owner.sign("s", card)
    signed, called = files(owner, 1)
    assert every_file_holds(signed, card["sha256"], card["document_sha256"], "signed")
    assert called["ledger.csv"] == f"dot-ledger-1-{document[:8]}-signed.csv"
    record = json.loads(signed["record.json"])
    assert (record["status"], record["revision"], record["frozen_at"]) == (
        *("signed", "1"),
        card["made_at"],
    )
    assert card["made_at"].encode() in signed["record.step"][:900]

    page.put({MOTOR: 55})
    assert every_file_holds(files(owner)[0], "stale")
    assert files(owner, 1)[0] == signed


def test_the_record_names_every_plate(owner):
    record = json.loads(owner.get("/revisions/working/files/record.json").content)
    step = owner.get("/revisions/working/files/record.step").content.decode()
    assert record["plates"]
    for plate in record["plates"]:
        assert f"PRODUCT('{plate['product']}'" in step
        assert plate["mass_kg"] > 0
        assert len(plate["centroid_m"]) == 3
    shelf = owner.get("/revisions/working").json()["document"]["changes"]["drive"]["parts"]
    assert {p["thickness_mm"] for p in record["plates"] if p["part"] == "battery-shelf"} == {
        shelf["battery-shelf"]["thickness_mm"]
    }
    assert {part["part"] for part in record["parts"]} == {p["part"] for p in record["plates"]}


def table(content):
    """The rows of a table, each by its columns; what stands above them is left out."""
    rows = list(csv.reader(io.StringIO(content.decode())))
    columns, *below = rows[rows.index([]) + 1 :]
    return [dict(zip(columns, row, strict=True)) for row in below]


@pytest.mark.parametrize("revision", ["working", 1])
def test_levers_of_one_condition_are_those_of_its_answer(owner, revision):
    owner.freeze()
    answered = owner.get("/revisions/working", levers=True).json()["assessment"]["conditions"]
    condition = answered[-1]["id"]
    answer = owner.get(f"/revisions/{revision}/files/levers.csv", condition=condition)
    assert f'filename="dot-{condition}-levers-' in answer.headers["content-disposition"]
    rows = table(answer.content)
    levers = {c["stage"]: c["righting_levers"] for c in answered if c["id"] == condition}
    assert [(row["condition"], row["boat"], float(row["heel_deg"])) for row in rows] == [
        (condition, stage, heel) for stage in levers for heel in levers[stage]["heel_deg"]
    ]
    for name in ("gz_m", "gz_without_house_m", "gz_well_dry_m", "trim_deg", "water_offset_m"):
        given = [value for stage in levers for value in levers[stage][name]]
        assert [float(row[name]) for row in rows] == pytest.approx(given, abs=1e-9)
    whole = table(owner.get(f"/revisions/{revision}/files/levers.csv").content)
    assert [row for row in whole if row["condition"] == condition] == rows
    assert {row["condition"] for row in whole} == {c["id"] for c in answered}


def test_lines_that_were_saved_are_read_back(owner):
    text = owner.get("/revisions/working/files/lines.csv").content.decode()
    stored = owner.get("/revisions/working").json()["document"]["hull"]["lines"]
    read = lines_of_csv(text)
    assert {name: (one.kind, one.points) for name, one in read.items()} == {
        name: (one["kind"], tuple(tuple(map(float, point)) for point in one["points_m"]))
        for name, one in stored.items()
    }


def test_a_reviewer_has_the_files_of_what_the_link_opens(owner, refused):
    owner.freeze()
    reviewer, _ = owner.shared(1)
    assert reviewer.get("/revisions/1/files/ledger.csv").status_code == 200
    refused(reviewer.get("/revisions/working/files/ledger.csv"), 403, "not-shared")


def test_what_is_not_there_is_refused(owner, refused):
    refused(owner.get("/revisions/7/files/ledger.csv"), 404, "unknown-revision")
    refused(owner.get("/revisions/working/files/ledger.csv", option="x"), 422, "unknown-option")
    levers = owner.get("/revisions/working/files/levers.csv", condition="x")
    refused(levers, 422, "unknown-condition")
    assert owner.get("/revisions/working/files/secret.txt").status_code == 422
    assert owner.get("/revisions/working/files/..%2F..%2Frefit.yaml").status_code == 404


def test_without_new_steel_there_is_no_record(serve, here, refused):  # noqa: ARG001
    owner = Party(serve(json.dumps(barge_document(10.0, 3.0, 1.0, 2.0, 0.0))).client)
    refused(owner.get("/revisions/working/files/record.step"), 422, "nothing-to-cut")
    assert owner.get("/revisions/working/files/ledger.csv").status_code == 200


@pytest.fixture
def run(capsys, here):  # noqa: ARG001
    def run(*words):
        status = main.main([str(word) for word in words])
        output = capsys.readouterr()
        return status, output.out, output.err

    return run


def test_the_command_line_writes_them_into_a_folder_of_their_own(run, tmp_path):
    file, out = tmp_path / "dot.yaml", tmp_path / "files"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    status, printed, err = run("export", file, "--out", out, "--set", f"{MOTOR}=50")
    assert (status, err) == (0, "")
    written = {path.name: path.read_bytes() for path in out.iterdir()}
    assert printed.split() == [str(out / name) for name in NAMES]
    assert every_file_holds(written, "working", "unsigned")
    assert b"MOTOR".lower() in written["ledger.csv"]
    assert str(tmp_path).encode() not in b"".join(written.values())
    run("export", file, "--out", out, "--set", f"{MOTOR}=50")
    assert {path.name: path.read_bytes() for path in out.iterdir()} == written
    (out / "letter.txt").write_text("mine")
    status, printed, err = run("export", file, "--out", out)
    assert (status, printed, err.count("\n")) == (2, "", 1)
    assert "letter.txt" in err
    assert written["ledger.csv"] == (out / "ledger.csv").read_bytes()


def test_the_command_line_leaves_out_a_record_of_nothing(run, tmp_path):
    file, out = tmp_path / "barge.yaml", tmp_path / "files"
    file.write_text(json.dumps(barge_document(10.0, 3.0, 1.0, 2.0, 0.0)), encoding="utf-8")
    assert run("export", file, "--out", out)[0] == 0
    assert {path.name for path in out.iterdir()} == {
        *("scene.glb", "ledger.csv", "conditions.csv", "levers.csv", "lines.csv"),
        *("lines-plan.pdf", "lines-plan.svg", "lines-plan.dxf", "offsets.csv", "tables.xlsx"),
    }
    assert run("export", file, "--out", out, "--units", "imperial")[0] == 0
    assert ",x_ft," in (out / "offsets.csv").read_text(encoding="utf-8")
    assert "feet-inches-eighths" in (out / "lines-plan.svg").read_text(encoding="utf-8")


def test_the_command_line_says_that_a_document_is_signed(owner, page, run, tmp_path):
    owner.sign("s", owner.freeze().json())
    file, out = page.copy.file, tmp_path / "files"
    words = ("export", file, "--out", out, "--data", tmp_path / "data")
    assert run(*words)[0] == 0
    assert every_file_holds({path.name: path.read_bytes() for path in out.iterdir()}, "signed")
    assert run(*words, "--set", f"{MOTOR}=50")[0] == 0
    assert every_file_holds({path.name: path.read_bytes() for path in out.iterdir()}, "stale")


def test_a_table_is_written_in_feet_and_with_a_comma_where_that_is_asked(owner):
    plain = owner.get("/revisions/working/files/ledger.csv").text
    asked = {"units": "imperial", "decimal": "comma"}
    feet = owner.get("/revisions/working/files/ledger.csv", **asked).text
    rows = [
        list(csv.reader(io.StringIO(text), delimiter=d))
        for text, d in ((plain, ","), (feet, ";"))
    ]
    assert ["units", "feet, inches, pounds and US gallons; thicknesses in millimetres"] in rows[
        1
    ]
    tables = [[row for row in table if len(row) > 5] for table in rows]
    assert [len(table) for table in tables] == [len(tables[0])] * 2
    mass = tables[0][0].index("mass_kg")
    assert tables[1][0][mass] == "mass_lb"
    for before, after in zip(tables[0][1:], tables[1][1:], strict=True):
        pounds = float(after[mass].replace(",", "."))
        assert pounds * 0.45359237 == pytest.approx(float(before[mass]), rel=1e-8)
    for name in ("conditions.csv", "levers.csv", "lines.csv", "offsets.csv", "tables.xlsx"):
        assert owner.get(f"/revisions/working/files/{name}", **asked).status_code == 200
    refused = owner.get("/revisions/working/files/ledger.csv", units="cubits")
    assert refused.status_code == 422
