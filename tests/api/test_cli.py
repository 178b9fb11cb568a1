"""The command line: exit status, what goes where, nothing written on a refusal."""

import io
import json
import os
import socket
import subprocess
import sys
import urllib.request
from argparse import Namespace
from pathlib import Path

import pytest
from refits import SALTMARROW, assessed, barge_document, demo_answer, weight

from hullchange.answer.cautions import CAUTIONS
from hullchange.answer.verdicts import state_in_words
from hullchange.document.yaml_text import parsed
from hullchange.plain_words import condition_in_words, id_in_words
from hullchange.start.invented import starting_document
from hullchange_api.command_line import progress
from hullchange_api.command_line.data_folder import data_folder
from hullchange_api.command_line.main import main
from hullchange_api.serving import add_demo

WRONG = Path(__file__).parents[1] / "wrong"
HEIGHT = "changes.deckhouse.parts.house.side_height_m"
COMMANDS = (
    "demo",
    "new",
    "check",
    "assess",
    "explain",
    "scene",
    "share",
    "tables",
    "cut",
    "serve",
)


@pytest.fixture
def run(capsys):
    """Exit status, standard output and standard error of a command."""

    def ran(*words):
        status = main([str(word) for word in words])
        out, err = capsys.readouterr()
        return status, out, err

    return ran


@pytest.fixture
def boat(tmp_path):
    file = tmp_path / "dot.yaml"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    return file


def asked(*words, **more):
    command = [sys.executable, "-m", "hullchange_api", *map(str, words)]
    return subprocess.run(command, capture_output=True, text=True, check=False, **more)


def test_long_work_is_reported_on_a_terminal_and_nowhere_else(run, boat, tmp_path, monkeypatch):
    words = ("share", boat, "--out", tmp_path / "dot.html")
    assert run(*words, "--quick")[2] == ""
    monkeypatch.setattr(progress, "EVERY_SECONDS", 0.05)
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    status, out, err = run(*words)
    assert (status, out) == (0, f"{tmp_path / 'dot.html'}\n")
    for message in (
        "1 of 3, building",
        "2 of 3, floating",
        "3 of 3, making",
        "writing the page",
    ):
        assert message in err
    assert max(len(line) for line in err.split("\r")) <= progress.WIDEST
    assert err.endswith(progress.CLEAR)
    refused = run("cut", tmp_path / "none.yaml", "--out", tmp_path / "cut")[2]
    assert refused.splitlines()[-1].rsplit("\r", 1)[-1].startswith(str(tmp_path))


def test_a_new_document_can_be_checked_and_assessed(run, tmp_path):
    file = tmp_path / "my-boat.yaml"
    status, out, err = run("new", file)
    assert (status, out.strip(), err) == (0, str(file), "")
    assert file.read_text() == starting_document("My boat")
    status, out, err = run("check", file)
    assert (status, err) == (0, "")
    assert out.endswith(f"{file} is complete and can be assessed.\n")
    assert "note: survey.vcg:" in out
    status, out, err = run("assess", file, "--quick")
    assert (status, err) == (0, "")


def test_new_overwrites_nothing(run, boat):
    before = boat.read_bytes()
    status, out, err = run("new", boat)
    assert (status, out) == (2, "")
    assert str(boat) in err
    assert err.count("\n") == 1
    assert boat.read_bytes() == before
    nowhere = boat.parent / "nowhere" / "boat.yaml"
    status, out, err = run("new", nowhere)
    assert (status, out) == (2, "")
    assert err.startswith(str(nowhere))


def test_assess_as_json_is_one_object_and_nothing_else(run, boat):
    status, out, err = run("assess", boat, "--json", "--quick")
    assert (status, err) == (0, "")
    expected = assessed(parsed(boat.read_text(encoding="utf-8")).document())
    assert json.loads(out) == json.loads(expected.model_dump_json())


@pytest.mark.cad
@pytest.mark.slow
def test_assess_holds_the_cad_record_beside_the_plates(run, boat):
    status, out, _ = run("assess", boat, "--json")
    answer = json.loads(out)
    assert status == 0
    record = answer.pop("record")
    assert record["state"] == "held"
    assert [p["id"] for p in record["parts"]] == [p["id"] for p in answer["parts"]]
    quick = json.loads(run("assess", boat, "--json", "--quick")[1])
    assert quick.pop("record") == {"state": "left out", "parts": []}
    assert answer == quick


def test_tables_say_what_the_json_says(run):
    answer = demo_answer()
    status, out, _ = run("assess", SALTMARROW, "--quick")
    assert status == 0
    lines = out.splitlines()
    assert lines[0].startswith("Saltmarrow")
    assert answer.document_sha256[:16] in lines[1]
    assert "only a frozen revision can be signed" in lines[1]
    for condition in answer.conditions:
        shown = [line for line in lines if line.startswith(condition_in_words(condition.id))]
        stage = condition.stage.replace("_", " ")
        assert any(stage in x and f"{condition.displacement_kg:,.0f}" in x for x in shown)
        assert any(stage in x and f"{condition.gm_m:.2f}" in x for x in shown)
    for part in answer.parts:
        assert any(
            x.startswith(id_in_words(part.id)) and f"{part.mass_kg:.1f}" in x for x in lines
        )
    for change in answer.changes:
        name = id_in_words(change.id)
        assert any(x.startswith(name) and f"{change.added_kg:.0f}" in x for x in lines)
        assert not change.reminder or f"  {name}: {change.reminder}" in lines
    for target in answer.targets:
        assert any(
            target.id in x and x.startswith(f"  {state_in_words(target)}") for x in lines
        )
    for finding in answer.findings:
        assert any(finding.sentence in x and finding.severity in x for x in lines)
    for caution in CAUTIONS:
        assert any(caution.sentence in x for x in lines)
    assert "left out" in out  # the record
    assert "by the stern" in out
    assert "by the bow" in out
    assert "-0.00" not in out
    assert max(len(x) for x in lines if "mm by the" in x and ": The " not in x) < 140


def test_a_value_is_changed_for_one_run_only(run, tmp_path):
    rises = {"path": "rig.air_draught_m", "from_m": 15.0}
    lamp = weight(2, (4, 0, 15)) | {"rises_with": rises}
    plain = barge_document(
        12,
        4,
        1,
        2.5,
        0.2,
        rig={"air_draught_m": 15.0},
        changes={"lamp": {"moves": {"lamp": lamp}}},
        options={"tall": {"set": {"rig.air_draught_m": 16.0}}},
    )
    file = tmp_path / "barge.yaml"
    file.write_text(json.dumps(plain))  # is YAML
    before = file.read_bytes()

    def assessed(*words):
        status, out, err = run("assess", file, "--quick", "--json", *words)
        assert (status, err) == (0, "")
        answer = json.loads(out)
        lifted = answer["items"][0]["to_m"][2]
        return answer["option"], lifted, answer["survey"]["centre_of_gravity_m"][2]

    assert assessed() == (None, 15.0, pytest.approx(0.2))
    two = ["--set", "rig.air_draught_m=15.5", "--set", "survey.vcg.z_m = 0.12"]
    assert assessed(*two) == (None, 15.5, pytest.approx(0.12))
    assert assessed("--option", "tall") == ("tall", 16.0, pytest.approx(0.2))
    # what is set comes on top of the option
    assert assessed("--option", "tall", *two) == ("tall", 15.5, pytest.approx(0.12))
    # and what is set in the option itself counts
    own = ["--set", "options.tall.set={rig.air_draught_m: 17.0}"]
    assert assessed("--option", "tall", *own) == ("tall", 17.0, pytest.approx(0.2))
    assert file.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["--option", "balance"], "balanced"),
        (["--set", "nonsense"], "PATH=VALUE"),
        (["--set", "changes.deckhose.stage=cut"], "deckhouse"),
        (["--set", f"{HEIGHT}=0.2"], HEIGHT.rpartition(".")[0]),
        (["--set", f"{HEIGHT}=tall"], HEIGHT),
        (["--set", "changes.old-pigs.removes.lead-pigs.mass_kg=-3"], "lead-pigs"),
    ],
)
def test_a_refusal_is_a_sentence_on_standard_error(run, words, message, tmp_path):
    for command in (["assess", SALTMARROW, "--json"], ["scene", SALTMARROW, "--out", "x.glb"]):
        command = [tmp_path / w if w == "x.glb" else w for w in command]
        status, out, err = run(*command, *words)
        assert (status, out) == (2, "")
        assert message in err
        assert all(line.startswith(f"{SALTMARROW}: ") for line in err.splitlines())
        assert all(line.endswith((".", "?")) for line in err.splitlines())
    assert [*tmp_path.iterdir()] == []


def test_every_fault_has_its_line(run, boat):
    text = boat.read_text()
    wrong = text.replace("mass_kg: 140", "mass_kg: -140").replace("format: 1", "fromat: 1")
    boat.write_text(wrong)
    for command in (["check", boat], ["check", boat, "--json"], ["assess", boat, "--quick"]):
        status, out, err = run(*command)
        assert (status, out) == (2, "")
        lines = err.splitlines()
        assert len(lines) >= 2
        mass = next(x for x in lines if "changes.drive.removes.engine.mass_kg" in x)
        number = 1 + next(k for k, x in enumerate(wrong.splitlines()) if "mass_kg: -140" in x)
        assert mass.startswith(f"{boat}: line {number}: ")


def test_a_file_that_is_not_there_is_reported(run, tmp_path):
    for command in ("check", "assess"):
        status, out, err = run(command, tmp_path / "nobody.yaml")
        assert (status, out) == (2, "")
        assert "nobody.yaml" in err


def test_a_finding_of_severity_fail_is_exit_status_one(run, tmp_path):
    mast = {"tower": {"adds": {"lead": weight(8000, (6, 0, 9))}}}
    file = tmp_path / "barge.yaml"
    file.write_text(json.dumps(barge_document(12, 4, 1, 2.5, 0.2, changes=mast)))  # is YAML
    status, out, err = run("assess", file, "--quick", "--json")
    assert (status, err) == (1, "")
    assert "unstable-upright" in {f["code"] for f in json.loads(out)["findings"]}
    status, out, _ = run("assess", file, "--quick")
    assert status == 1
    assert "fail: conditions.survey-state" in out


def test_a_condition_she_sinks_in_is_reported_by_check_and_assess(run, boat):
    boat.write_text(boat.read_text().replace("crew: {mass_kg: 225", "crew: {mass_kg: 90000"))
    for command in (["check", boat], ["assess", boat, "--quick"]):
        status, out, err = run(*command)
        assert (status, err) == (1, "")
        assert "fail: conditions.cruising: The refit in condition cruising" in out
        assert "She sinks" in out


def test_check_as_json_is_one_object(run, boat):
    status, out, err = run("check", boat, "--json")
    assert (status, err) == (0, "")
    answer = json.loads(out)
    assert answer["file"] == str(boat)
    assert {f["code"] for f in answer["findings"]} >= {"vcg-typed"}


def test_scene_writes_one_file(run, boat, tmp_path, gltf_report):
    out_file = tmp_path / "dot.glb"
    status, out, err = run("scene", boat, "--out", out_file)
    assert (status, out.strip(), err) == (0, str(out_file), "")
    assert gltf_report(out_file.read_bytes())["issues"]["numErrors"] == 0
    assert sorted(p.name for p in tmp_path.iterdir()) == ["dot.glb", "dot.yaml"]
    status, out, err = run("scene", boat, "--out", tmp_path / "nowhere" / "dot.glb")
    assert (status, out) == (2, "")
    assert "nowhere" in err


def test_what_a_refit_is_read_from_is_never_written_over(run, boat, tmp_path):
    before = boat.read_bytes()
    status, out, err = run("scene", boat, "--out", boat)
    assert (status, out, boat.read_bytes()) == (2, "", before)
    assert ".glb" in err
    folder = tmp_path / "lines"
    folder.mkdir()
    table = folder / "offsets.csv"
    table.write_bytes((WRONG / "lines.csv").read_bytes())
    text = (WRONG / "target-never-met.yaml").read_text().split("targets:")[0]
    refit = tmp_path / "other.yaml"
    refit.write_text(text.replace("lines.csv", "lines/offsets.csv"))
    status, out, err = run("tables", refit, "--out", folder)
    assert (status, out) == (2, "")
    assert "is read from" in err
    assert table.read_bytes() == (WRONG / "lines.csv").read_bytes()
    assert [p.name for p in folder.iterdir()] == ["offsets.csv"]
    status, out, err = run("tables", refit, "--out", tmp_path)
    assert (status, out) == (2, "")
    assert "other files" in err


@pytest.mark.parametrize("words", [[], ["nonsense"], ["assess"], ["scene", "x.yaml"]])
def test_a_command_that_is_none_is_refused(words, capsys):
    with pytest.raises(SystemExit) as left:
        main(words)
    assert left.value.code == 2
    assert capsys.readouterr().out == ""


@pytest.mark.parametrize("command", COMMANDS)
def test_help_comes_with_an_example(command, capsys):
    with pytest.raises(SystemExit) as left:
        main([command, "--help"])
    assert left.value.code == 0
    assert f"Example: hullchange {command}" in " ".join(capsys.readouterr().out.split())


def test_help_loads_nothing_heavy():
    heavy = (
        "numpy",
        "scipy",
        "cadquery",
        "OCP",
        "trimesh",
        "manifold3d",
        "numba",
        "pydantic",
        "ruamel",
        "fastapi",
        "uvicorn",
        "shapely",
        "pygltflib",
        "json",
        "asyncio",
    )
    question = (
        "import sys\nfrom hullchange_api.command_line.main import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        f"sys.stderr.write(' '.join(m for m in {heavy!r} if m in sys.modules))"
    )
    finished = subprocess.run(
        [sys.executable, "-c", question], capture_output=True, text=True, check=True
    )
    assert finished.stderr == ""
    assert all(command in finished.stdout for command in COMMANDS)


def test_commands_load_no_library_that_an_answer_can_do_without():
    slow = ("scipy", "trimesh", "networkx", "numba", "cadquery", "fastapi")
    question = (
        "import sys\nimport hullchange_api.command_line.answers\n"
        f"sys.stdout.write(' '.join(m for m in {slow!r} if m in sys.modules))"
    )
    finished = subprocess.run(
        [sys.executable, "-c", question], capture_output=True, text=True, check=True
    )
    assert finished.stdout == ""


def test_version_is_the_packages():
    import hullchange

    assert asked("--version").stdout.strip() == hullchange.__version__


@pytest.mark.slow
def test_a_reader_that_leaves_early_is_no_error(boat):
    words = [
        sys.executable,
        "-m",
        "hullchange_api",
        "assess",
        str(boat),
        "--quick",
    ]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        process.stdout.close()  # before a word was written
        err = process.stderr.read()
        status = process.wait(timeout=60)
    assert (status, err) == (0, b"")


@pytest.mark.slow
def test_serve_prints_its_address_and_saves_back(boat, tmp_path):
    words = [
        sys.executable,
        "-m",
        "hullchange_api",
        "serve",
        str(boat),
        "--no-browser",
    ]
    folder = tmp_path / "data"
    with subprocess.Popen(
        [*words, "--data", str(folder)],
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"PYTHONUNBUFFERED": "1"},
    ) as process:
        try:
            address = process.stdout.readline().strip()
            assert address.startswith("http://127.0.0.1:")
            cards = read(f"{address}api/refits")
            assert [c["id"] for c in cards] == ["dot"]
            edit = {
                "label": "motor",
                "steps": [
                    {"op": "set", "path": "changes.drive.adds.motor.mass_kg", "value": 61}
                ],
            }
            answer = read(
                f"{address}api/refits/dot/revisions/working",
                data=json.dumps(edit).encode(),
                method="PATCH",
                headers={"If-Match": '"1"', "Content-Type": "application/json"},
            )
            assert answer["edit"] == 2
        finally:
            process.terminate()
            process.wait(timeout=30)
    assert "mass_kg: 61" in Path(boat).read_text()


def test_a_port_that_is_taken_is_reported(run, boat, tmp_path):
    with socket.create_server(("127.0.0.1", 0)) as door:
        port = door.getsockname()[1]
        words = ["--data", tmp_path / "data", "--port", port, "--no-browser"]
        status, out, err = run("serve", boat, *words)
    assert (status, out) == (2, "")
    assert f"Port {port} is in use" in err


def read(address, **request):
    with urllib.request.urlopen(
        urllib.request.Request(address, **request), timeout=60
    ) as response:
        return json.load(response)


def test_serve_refuses_a_document_that_cannot_be_read(run, boat, tmp_path):
    boat.write_text("boat: [")
    status, out, err = run("serve", boat, "--data", tmp_path / "data")
    assert (status, out) == (2, "")
    assert err.startswith(f"{boat}: line")


def test_the_demo_is_laid_out_once(tmp_path):
    add_demo(tmp_path)
    kept = tmp_path / "saltmarrow" / "refit.yaml"
    assert kept.read_bytes() == SALTMARROW.read_bytes()
    kept.write_text("mine")
    add_demo(tmp_path)
    assert kept.read_text() == "mine"


def test_refits_are_kept_in_the_users_own_data_folder(monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert data_folder(Namespace(data=None)) == tmp_path / "hullchange"
    monkeypatch.delenv("XDG_DATA_HOME")
    monkeypatch.setenv("HOME", str(tmp_path))
    assert data_folder(Namespace(data=None)) == tmp_path / ".local/share/hullchange"


@pytest.mark.slow
def test_cut_writes_the_packs_and_says_what_is_doubtful(run, tmp_path, monkeypatch):
    out = tmp_path / "cut"
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    status, printed, err = run("cut", SALTMARROW, "--out", out, "--quick")
    monkeypatch.undo()
    assert status == 0
    for words in ("finding the seams", "4 mm plate, 3 of 7, trying", "4 of 4: templates"):
        assert words in err
    assert "warn: house.roof: HOUSE-04" in printed
    for name in ("note.txt", "placements.json", "yard/nest-4mm-1.pdf", "torch/HOUSE-02.pdf"):
        assert (out / name).is_file()


def test_cut_writes_over_its_own_files_alone(run, boat, tmp_path):
    out = tmp_path / "cut"
    assert run("cut", boat, "--out", out, "--quick", "--r12")[0] == 0
    twins = list((out / "service").glob("*_R12_mm.dxf"))
    assert len(twins) == len(list((out / "service").glob("*.dxf"))) / 2
    held = {path: path.read_bytes() for path in out.rglob("*") if path.is_file()}
    assert run("cut", boat, "--out", out, "--quick", "--r12")[0] == 0
    # without its twins they would be stale
    status, printed, err = run("cut", boat, "--out", out, "--quick")
    assert (status, printed) == (2, "")
    assert "contains other files" in err
    assert held.keys() == {path for path in out.rglob("*") if path.is_file()}
    # refused before any work is done: the boat is not even read
    status, printed, err = run("cut", tmp_path / "none.yaml", "--out", tmp_path)
    assert (status, printed) == (2, "")
    assert "contains other files" in err


def test_cut_of_a_document_without_parts_writes_nothing(run, tmp_path):
    file = tmp_path / "barge.yaml"
    file.write_text(json.dumps(barge_document(10.0, 3.0, 1.0, 2.0, 0.0)), encoding="utf-8")
    status, printed, err = run("cut", file, "--out", tmp_path / "cut")
    assert (status, printed) == (2, "")
    assert "nothing to cut" in err
    assert not (tmp_path / "cut").exists()


def test_output_is_utf8_with_plain_line_feeds_whatever_the_system_says(monkeypatch):
    raw = io.BytesIO()
    windows = io.TextIOWrapper(raw, encoding="cp1252", newline="\r\n", write_through=True)
    monkeypatch.setattr(sys, "stdout", windows)
    assert main(["check", str(SALTMARROW)]) == 0
    windows.write("GM ≥ 0.35 m\n")
    assert raw.getvalue().endswith("can be assessed.\nGM ≥ 0.35 m\n".encode())
    assert b"\r" not in raw.getvalue()


def test_a_refused_part_is_offered_what_builds(run):
    house = "changes.deckhouse.parts.house"
    words = "assess", SALTMARROW, "--quick", "--set", f"{house}.side_height_m=0.05"
    status, out, err = run(*words)
    assert (status, out) == (2, "")
    refusal, offer = err.splitlines()
    assert refusal.startswith(f"{SALTMARROW}: {house}.side_windows.size_m: ")
    assert offer == f"{SALTMARROW}: {house}.side_height_m: side height 0.47 m works."
    status, _, err = run(*words[:-1], f"{house}.side_height_m=0.47")
    assert (status, err) == (0, "")


def test_lines_in_feet_become_a_csv_in_metres(run, tmp_path):
    table, out = tmp_path / "offsets.csv", tmp_path / "lines.csv"
    table.write_text("line;x;y;z\nsheer;0-0-0;1-0-0;4-1-2\nsheer;10-0-0;3-0-0;4-0-0\n")
    status, output, _ = run("lines", table, "--out", out)
    assert status == 0
    assert "The centreline is missing" in output
    assert out.read_text().splitlines()[:2] == [
        "line,kind,x_m,y_m,z_m",
        "sheer,sheer,0.0,0.3048,1.25095",
    ]
    status, _, refused = run("lines", table, "--out", out)
    assert status == 2
    table.write_text("line;x_m;y_m;z_m\nsheer;0;abc;1\n")
    status, _, refused = run("lines", table, "--out", tmp_path / "other.csv")
    assert (status, "abc" in refused) == (2, True)
