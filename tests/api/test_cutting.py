"""Cutting over HTTP: packs made beside the server, stamped as the review stands, ticked off."""

import csv
import io
import time
import zipfile
from dataclasses import replace

import openpyxl
import pytest
from cutting import STOCK, ChildHalfWay, ChildHere, finished_cutting
from reviewing import MOTOR, SHELF, Party, solids_here

from hullchange.cutting.filled_list import LARGEST, read_filled_list
from hullchange_api.command_line.main import main
from hullchange_api.cutting import jobs
from hullchange_api.processes.cad_worker import CadWorker

pytestmark = pytest.mark.slow
WORKING = "/revisions/working/cutting"
PIECE = "BATTERY-SHELF-01"


@pytest.fixture
def owner(page, monkeypatch):
    """The owner's page over a boat with one shelf of new plate, and stock to cut it from."""
    monkeypatch.setattr(CadWorker, "solids", solids_here)
    monkeypatch.setattr(jobs, "Child", ChildHere)
    page.put(STOCK)
    return Party(page.client)


def made(owner, revision="working"):
    """The pack's answer, once it is made."""
    address = f"/revisions/{revision}/cutting"
    assert owner.post(address, None).status_code == 202
    progress = finished_cutting(owner, revision)
    assert progress["problem"] is None
    return owner.get(f"{address}/answer").json()


def tick(owner, step="cut", done=True, piece=PIECE, author="Yard", revision="working"):
    body = {"ticks": [{"piece": piece, "step": step, "done": done}], "author": author}
    return owner.post(f"/revisions/{revision}/cutting/progress", body)


def give_back(owner, name, content, author="Yard"):
    return owner.client.post(
        f"{owner.address}{WORKING}/progress/list",
        params={"name": name, "author": author},
        content=content,
        headers={"Content-Type": "application/octet-stream"},
    )


def filled(text, between=",", **cells):
    """A cut list with cells filled in for its only piece."""
    head, table = text.split("\n\n")
    rows = list(csv.DictReader(io.StringIO(table)))
    out = io.StringIO()
    write = csv.DictWriter(out, rows[0].keys(), delimiter=between)
    write.writeheader()
    write.writerows([rows[0] | cells])
    return f"{head}\n\n{out.getvalue()}".encode()


def test_the_answer_is_the_steel_of_the_model(owner, page):
    shelf = page.read(full=True).json()["assessment"]["parts"][0]
    answer = made(owner)
    (piece,) = answer["pieces"]
    assert (piece["id"], piece["part"], piece["change"]) == (PIECE, "battery-shelf", "drive")
    assert piece["mass_kg"] == pytest.approx(shelf["mass_kg"], rel=1e-3)
    # 700 x 600 of 4 mm
    assert (piece["length_mm"], piece["breadth_mm"], piece["thickness_mm"]) == (700, 600, 4)
    assert piece["area_m2"] == pytest.approx(0.42)
    assert piece["cut_length_m"] == pytest.approx(2.6)
    assert piece["pierces_count"] == 1
    assert piece["contours"].startswith("M")
    assert {w["text"] for w in piece["words"]} >= {f"{PIECE} 4 MM"}
    (nest,) = answer["nests"]
    assert (nest["id"], piece["nest"]) == ("nest-4mm-1", "nest-4mm-1")
    assert nest["used_percent"] == pytest.approx(100 * 0.42 / 4.5, abs=0.05)
    assert [place["id"] for place in nest["pieces"]] == [PIECE]
    (bought,) = answer["purchase"]
    assert bought["buy"] == "1 of 3 x 1.5 m"
    assert bought["used_kg"] == pytest.approx(piece["mass_kg"], abs=0.05)
    assert answer["quantities"]["mass_kg"] == pytest.approx(piece["mass_kg"], abs=0.05)
    cutting = owner.get(WORKING).json()
    assert (cutting["state"], cutting["nests"], cutting["is_outdated"]) == (
        "done",
        "good",
        False,
    )
    assert cutting["document_sha256"] == answer["document_sha256"]


def test_a_pack_says_when_the_boat_has_changed_since(owner, page, refused):
    refused(owner.get(f"{WORKING}/answer"), 409, "no-pack")
    assert owner.get(WORKING).json()["state"] == "none"
    made(owner)
    edit = page.seen
    page.put({MOTOR: 55})
    cutting = owner.get(WORKING).json()
    assert cutting["is_outdated"]
    assert (
        cutting["sentence"]
        == f"Made for edit {edit}; the boat has changed since: make it again."
    )
    files = owner.get(f"{WORKING}/files").json()
    assert files["stamp"].endswith("STALE")
    page.undo()
    assert not owner.get(WORKING).json()["is_outdated"]
    assert owner.get(f"{WORKING}/files").json()["stamp"].endswith("UNSIGNED")


def test_files_are_one_zip_and_single_and_carry_the_review_in_words(owner):
    revision = owner.freeze().json()
    owner.sign("s", revision, verdict="agreed-with-conditions", conditions=["weld both sides"])
    made(owner, 1)
    files = owner.get("/revisions/1/cutting/files", r12=True).json()
    assert (
        files["stamp"] == f"1 {revision['document_sha256'][:8].upper()} SIGNED WITH CONDITIONS"
    )
    names = [f["name"] for f in files["files"]]
    (twin,) = [name for name in names if name.startswith("service/") and "R12" in name]
    assert "signed-with-conditions" in twin
    sent = owner.get("/revisions/1/cutting/pack.zip", r12=True)
    assert files["zip_name"] in sent.headers["content-disposition"]
    with zipfile.ZipFile(io.BytesIO(sent.content)) as packed:
        assert packed.namelist() == names
        note = packed.read("note.txt")
    single = owner.get("/revisions/1/cutting/file", name="note.txt", r12=True)
    assert single.content == note
    assert b"revision 1, SIGNED WITH CONDITIONS" in note


def test_what_is_not_there_is_refused(owner, refused):
    refused(owner.post("/revisions/7/cutting", None), 404, "unknown-revision")
    answer = owner.post(f"{WORKING}?option=none-such", None)
    refused(answer, 422, "unknown-option")
    made(owner)
    refused(owner.get(f"{WORKING}/file", name="none.txt"), 404, "unknown-file")
    refused(owner.get(f"{WORKING}/lists/none.csv"), 404, "unknown-file")
    refused(tick(owner, piece="NONE-01"), 422, "unknown-name")
    refused(tick(owner, author=" "), 422, "bad-request")


@pytest.mark.parametrize("breaks", ["cut_pack", "Child", "with_state"])
def test_a_mistake_of_the_program_ends_no_pack_in_silence(owner, page, monkeypatch, breaks):
    page.put(STOCK)
    monkeypatch.setattr(jobs, breaks, lambda *_: [][1])
    owner.post(WORKING, None)
    cutting = finished_cutting(owner)
    if breaks == "with_state":
        problem = owner.get("/revisions/working/cutting/files").json()
    else:
        assert cutting["state"] == "failed"
        problem = cutting["problem"]
    assert problem["code"] == "cut-ended"
    assert "hullchange failed while" in problem["detail"]
    assert "IndexError" in problem["detail"]


def test_a_document_without_new_steel_fails_in_words(owner, page):
    page.put({SHELF: None, "changes.drive.removes": None})
    owner.post(WORKING, None)
    cutting = finished_cutting(owner)
    assert (cutting["state"], cutting["problem"]["code"]) == ("failed", "nothing-to-cut")


def test_what_only_comes_off_has_a_list_and_a_sheet(owner, page):
    page.put({SHELF: None, "changes.drive.removes.diesel": {"mass_kg": 200, "at_m": [6, 0, 0]}})
    answer = made(owner)
    assert (answer["pieces"], answer["nests"], answer["quantities"]["mass_kg"]) == ([], [], 0)
    (off,) = answer["comes_off"]
    assert (off["change"], off["plates"]) == ("drive", [])
    diesel = next(w for w in off["weights"] if w["id"] == "diesel")
    assert (diesel["mass_kg"], diesel["centre_m"]) == (200, [6, 0, 0])
    names = {f["name"] for f in owner.get(f"{WORKING}/files").json()["files"]}
    assert names >= {"yard/cut-out.pdf", "yard/cut-out.csv", "yard/lists.xlsx", "note.txt"}
    assert not any(name.startswith(("torch/", "service/NONE")) for name in names)
    assert "yard/plates.pdf" not in names


def test_nests_of_a_revision_stay(owner, monkeypatch):
    owner.freeze()
    first = made(owner, 1)
    assert owner.get("/revisions/1/cutting").json()["nests"] == "good"
    kept = owner.client.app.state.cut_packs.records.nests("dot", 1, "")
    begin_anew(owner)
    monkeypatch.setattr(jobs, "nested_anew", fail_if_nested)
    assert made(owner, 1)["nests"] == first["nests"]
    assert finished_cutting(owner, 1)["nests"] == "kept"
    assert owner.client.app.state.cut_packs.records.nests("dot", 1, "") == kept


def begin_anew(owner):
    """As after the server was started again."""
    owner.client.app.state.cut_packs._started.clear()


def fail_if_nested(*_):
    raise AssertionError("nested again")


def shifted(nest, by):
    places = (replace(p, shift=(p.shift[0] + by, p.shift[1] + by)) for p in nest.places)
    return replace(nest, places=tuple(places))


def test_quick_nests_of_a_revision_stay_once_their_files_were_handed_out(owner, monkeypatch):
    def nested_otherwise(pack, *_):
        (plates,) = pack.plates
        moved = tuple(shifted(nest, 0.01) for nest in plates.nests)
        return replace(pack, plates=(replace(plates, nests=moved),))

    owner.freeze()
    monkeypatch.setattr(jobs, "nested_anew", nested_otherwise)
    monkeypatch.setattr(jobs, "Child", ChildHalfWay)
    ChildHalfWay.go_on.clear()
    owner.post("/revisions/1/cutting", None)
    while owner.get("/revisions/1/cutting").json()["nests"] != "quick":
        time.sleep(0.02)
    quick = owner.get("/revisions/1/cutting/answer").json()
    assert owner.get("/revisions/1/cutting/files").status_code == 200
    ChildHalfWay.go_on.set()
    assert finished_cutting(owner, 1)["nests"] == "kept"
    assert owner.get("/revisions/1/cutting/answer").json()["nests"] == quick["nests"]


def test_steps_are_ticked_off_and_written_into_the_lists(owner):
    made(owner)
    progress = tick(owner).json()
    assert progress["pieces"][0]["stage"] == "cut"
    (done,) = progress["pieces"][0]["done"]
    assert (done["step"], done["who"], done["note"]) == ("cut", "Yard", "")
    (part,) = progress["parts"]
    assert (part["part"], part["change"], part["stage"]) == ("battery-shelf", "drive", "cut")
    assert (part["pieces_count"], part["cut_count"], part["welded_count"]) == (1, 1, 0)
    tick(owner, "welded")
    rows = owner.get(f"{WORKING}/lists/cut-list.csv").text.split("\n\n")[1]
    (row,) = csv.DictReader(io.StringIO(rows))
    day = done["written_at"][:10]
    assert (row["cut"], row["checked"], row["welded"]) == (f"{day} Yard", "", f"{day} Yard")
    assert tick(owner, "welded", done=False).json()["pieces"][0]["stage"] == "cut"
    assert owner.get(f"{WORKING}/progress").json()["parts"][0]["stage"] == "cut"


def test_ticks_offer_the_stage_of_a_change_and_set_nothing(owner, page):
    owner.sign("s", owner.freeze().json())
    made(owner)
    assert tick(owner, "cut").json()["stages_offered"] == [
        {
            "path": "changes.drive.stage",
            "change": "drive",
            "parts": ["battery-shelf"],
            "before": "proposed",
            "stage": "cut",
        }
    ]
    (offer,) = tick(owner, "welded").json()["stages_offered"]
    assert offer["stage"] == "fitted"
    assert page.read(full=True).json()["document"]["changes"]["drive"]["stage"] == "proposed"
    page.put({offer["path"]: offer["stage"]})
    assert owner.get(f"{WORKING}/progress").json()["stages_offered"] == []
    cutting = owner.get(
        WORKING
    ).json()  # how far the work is makes no pack and no signature old
    assert (cutting["is_outdated"], cutting["standing"]["standing"]) == (False, "signed")
    page.undo()
    assert owner.get(f"{WORKING}/progress").json()["stages_offered"] == [offer]


def test_the_command_offers_the_stage_and_writes_it_when_asked(owner, page, tmp_path, capsys):
    made(owner)
    text = owner.get(f"{WORKING}/lists/cut-list.csv").text
    file, back = tmp_path / "boat.yaml", tmp_path / "back.csv"
    before = page.copy.file.read_text()
    file.write_text(before)
    back.write_bytes(filled(text, checked="x"))
    assert main(["stages", str(file), str(back)]) == 0
    output = capsys.readouterr().out
    assert "drive.battery-shelf: checked" in output
    assert "changes.drive.stage: proposed → cut" in output
    assert file.read_text() == before
    assert main(["stages", str(file), str(back), "--write"]) == 0
    assert "stage: cut" in file.read_text()
    capsys.readouterr()
    assert main(["stages", str(file), str(back), "--write"]) == 0
    assert "->" not in capsys.readouterr().out


def test_a_filled_list_is_taken_whatever_program_saved_it(owner):
    made(owner)
    text = owner.get(f"{WORKING}/lists/cut-list.csv").text
    taken = give_back(owner, "cut-list.csv", filled(text, cut="AB 12/3")).json()
    assert (taken["taken_count"], taken["not_here"], taken["other_shape"]) == (1, [], [])
    assert taken["progress"]["pieces"][0]["done"][0]["note"] == "AB 12/3"
    again = owner.get(f"{WORKING}/lists/cut-list.csv").text
    assert give_back(owner, "cut-list.csv", again.encode()).json()["taken_count"] == 0
    wide = filled(text, "\t", cut="AB 12/3").decode().encode("utf-16")
    assert give_back(owner, "saved.txt", wide).json()["taken_count"] == 0  # nothing new
    odd = b"\xef\xbb\xbf" + filled(text, ";", checked="x", welded="=1+1")
    assert give_back(owner, "saved.csv", odd).json()["taken_count"] == 2
    notes = {d["step"]: d["note"] for d in progress_of(owner)["done"]}
    assert notes == {"cut": "AB 12/3", "checked": "x", "welded": "1+1"}

    book = openpyxl.load_workbook(io.BytesIO(owner.get(f"{WORKING}/lists/lists.xlsx").content))
    sheet = book["cut-list"]
    heads = next(row for row in sheet.iter_rows() if row[0].value == "id")
    column = next(cell.column for cell in heads if cell.value == "welded")
    assert sheet.cell(heads[0].row + 1, column).value == "1+1"
    sheet.cell(heads[0].row + 1, column).value = "no"
    stream = io.BytesIO()
    book.save(stream)
    taken = give_back(owner, "lists.xlsx", stream.getvalue()).json()
    assert taken["taken_count"] == 1
    assert progress_of(owner)["stage"] == "checked"


@pytest.mark.parametrize(
    ("cell", "word"),
    [
        *((cell, "done") for cell in ("x", "28.11.", "2026-11-28", "AB", "A. B.", "ja", "T")),
        *((cell, "not done") for cell in ("no", "-", "?", "nein", "0")),
        *((cell, "unclear") for cell in ("not yet", "maybe", "scrapped", "not 3 but 4")),
    ],
)
def test_a_cell_is_done_or_not_or_is_reported(cell, word):
    text = f"id,shape,cut,checked,welded\nA-1,s1,{cell},,\n"
    filled = read_filled_list("list.csv", text.encode())
    assert [t.done for t in filled.ticks] == {"done": [True], "not done": [False]}.get(word, [])
    assert filled.unclear == ((f"A-1 cut: {cell}",) if word == "unclear" else ())


def test_of_a_piece_that_stands_twice_the_last_row_counts():
    text = "id,shape,cut,checked,welded\nA-1,s1,x,,\nA-1,s1,no,,\n"
    (tick,) = read_filled_list("list.csv", text.encode()).ticks
    assert not tick.done


def test_nothing_is_offered_by_a_pack_that_the_boat_has_left_behind(owner, page):
    made(owner)
    for step in ("cut", "checked", "welded"):
        tick(owner, step)
    assert owner.get(f"{WORKING}/progress").json()["stages_offered"] != []
    page.put({f"{SHELF}.thickness_mm": 5})
    assert owner.get(f"{WORKING}/progress").json()["stages_offered"] == []
    page.undo()
    assert owner.get(f"{WORKING}/progress").json()["stages_offered"] != []


def test_stages_says_which_rows_count_for_nothing(owner, page, tmp_path, capsys):
    made(owner)
    page.saved()
    file = page.copy.file
    text = owner.get(f"{WORKING}/lists/cut-list.csv").text
    back = tmp_path / "back.csv"
    whole = filled(text, cut="maybe").decode()
    row = next(line for line in whole.splitlines() if line.startswith(f"{PIECE},"))
    other = row.replace(PIECE, "HOUSE-99").replace("maybe", "x")
    back.write_text(f"{whole}{other}\n")
    assert main(["stages", str(file), str(back)]) == 0
    output = capsys.readouterr().err
    assert "not in this boat: HOUSE-99" in output
    assert f"x or no): {PIECE} cut: maybe" in output
    page.put({f"{SHELF}.thickness_mm": 5})
    page.saved()
    back.write_bytes(filled(text, cut="x"))
    assert main(["stages", str(file), str(back)]) == 0
    assert f"cut before its shape changed: {PIECE}" in capsys.readouterr().err


def progress_of(owner):
    (piece,) = owner.get(f"{WORKING}/progress").json()["pieces"]
    return piece


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("list.csv", b"id,mark\nA,B\n"),
        ("list.xlsx", b"PK\x03\x04 not a zip"),
        ("list.xlsx", b"id,shape,cut,checked,welded\n"),
    ],
)
def test_another_file_is_no_cut_list(owner, refused, name, content):
    made(owner)
    refused(give_back(owner, name, content), 422, "not-a-cut-list")


def test_a_workbook_that_swells_is_no_cut_list(owner, refused):
    made(owner)
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", bytes(LARGEST + 1))
    refused(give_back(owner, "list.xlsx", stream.getvalue()), 422, "not-a-cut-list")


def test_steel_that_was_cut_to_another_shape_is_not_cut(owner, page):
    made(owner)
    text = owner.get(f"{WORKING}/lists/cut-list.csv").text
    tick(owner)
    page.put({f"{SHELF}.thickness_mm": 5})
    made(owner)
    piece = progress_of(owner)
    assert (piece["stage"], piece["is_other_shape"]) == ("to cut", True)
    taken = give_back(owner, "cut-list.csv", filled(text, welded="x")).json()
    assert taken["other_shape"] == [PIECE]
    assert progress_of(owner)["stage"] == "to cut"
    page.undo()
    made(owner)
    assert progress_of(owner)["stage"] == "welded"


def test_a_reviewer_reads_the_pack_of_the_shared_revision_and_no_more(owner, refused):
    owner.freeze()
    made(owner)
    made(owner, 1)
    reviewer, _ = owner.shared(1)
    assert reviewer.get("/revisions/1/cutting/answer").json()["pieces"]
    assert reviewer.get("/revisions/1/cutting/pack.zip").status_code == 200
    refused(reviewer.get(f"{WORKING}/answer"), 403, "not-shared")
    refused(tick(reviewer, revision=1), 403, "not-shared")
    refused(reviewer.post("/revisions/1/cutting", None), 403, "not-shared")


def test_in_a_process_of_its_own_it_can_be_stopped(page):
    """The real thing: a child that loads everything itself."""
    page.put(STOCK)
    owner = Party(page.client)
    owner.post(WORKING, None)
    started = time.monotonic()
    assert owner.get(WORKING).json()["state"] == "working"
    assert time.monotonic() - started < 5  # the server answers meanwhile
    owner.client.delete(owner.address + WORKING)
    assert finished_cutting(owner)["state"] == "cancelled"
    owner.post(WORKING, None)
    assert finished_cutting(owner)["nests"] == "good"


def test_the_command_says_what_the_data_folder_knows(owner, page, tmp_path, capsys):
    file = page.copy.file
    data = file.parent.parent

    def stamped(name):
        words = ["cut", str(file), "--out", str(tmp_path / name), "--data", str(data)]
        assert main([*words, "--quick"]) == 0
        return (tmp_path / name / "note.txt").read_text().splitlines()[2]

    revision = owner.freeze().json()
    assert stamped("a") == "revision working, UNSIGNED"
    owner.sign("s", revision)
    assert stamped("b") == "revision working, SIGNED"
    assert "Signed by Consultant on revision 1" in capsys.readouterr().out
    page.put({MOTOR: 55})
    page.saved()
    assert stamped("c") == "revision working, STALE"
