"""A refit as one archive: out, in, and out again byte for byte; what is refused, and whole."""

import json
import random
import stat
from hashlib import sha256
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

import pytest
from fastapi.testclient import TestClient
from reviewing import MOTOR, PHOTO, Party, solids_here, uuid

import hullchange
from hullchange.cutting.progress import StepRecord
from hullchange.errors import ModelError
from hullchange.start.invented import starting_document
from hullchange_api.app import create_app
from hullchange_api.command_line import main
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.store import plain_zip
from hullchange_api.store.files import FILE_NAME
from hullchange_api.store.refits import Refits
from hullchange_api.store.revisions import hash_over, now
from hullchange_api.store.tables import Table

pytestmark = pytest.mark.slow
LINES = "line,kind,x_m,y_m,z_m\n"


@pytest.fixture(scope="module")
def reviewed(tmp_path_factory):
    """A server with a refit that has been through a review, and its archive."""
    folder = tmp_path_factory.mktemp("reviewed")
    (folder / "dot").mkdir()
    (folder / "dot" / FILE_NAME).write_text(starting_document("Dot"), encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(CadWorker, "solids", solids_here)
        with TestClient(create_app(Refits(folder)), base_url="http://127.0.0.1") as client:
            owner = Party(client)
            reviewed_and_frozen(owner, folder / "dot")
            yield owner


def reviewed_and_frozen(owner, folder):
    """Edits, lines in a file, two revisions, a thread with evidence, signatures."""
    document = owner.get("/revisions/working", full=False).json()["document"]
    rows = [
        f"{name},{line['kind']},{x},{y},{z}\n"
        for name, line in document["hull"]["lines"].items()
        for x, y, z in line["points_m"]
    ]
    (folder / "hull").mkdir()
    (folder / "hull/lines.csv").write_text(LINES + "".join(rows))
    (folder / "refit.unsaved.yaml").write_text("boat: {name: Dät}\n", encoding="utf-8")
    edited(owner, 1, "hull.lines", {"file": "hull/lines.csv"})
    first = owner.freeze("one").json()
    edited(owner, 2, MOTOR, 50)
    second = owner.freeze("two").json()
    owner.attach("photo", "Waage ä.JPG")
    owner.attach("paper", "paper.pdf", b"%PDF-1.7 paper")
    owner.comment("c", on={"part": "battery-shelf"}, kind="defect", gate="before-cutting")
    owner.remark("c", "r", kind="closing", evidence=[uuid("photo")])
    owner.comment("d", text="Schön?\nYes.", revision_sha256=first["sha256"])
    owner.sign("s", first)
    agreed = {"verdict": "agreed-with-conditions", "conditions": ["Weigh the bank."]}
    owner.sign("t", second, **agreed)
    owner.sign("u", second, part="battery-shelf")
    assert owner.review()["standing"]["standing"] == "signed with conditions"
    records = owner.client.app.state.cut_packs.records
    assert records.store_nests("dot", second["number"], "", '{"nest-4mm-1": []}')
    word = StepRecord("BATTERY-SHELF-01", "cut", True, "ab12", "done", "Anna", now())
    assert records.add("dot", [word], "the owner") == 1


def edited(owner, edit, path, value):
    body = {"label": path, "steps": [{"op": "set", "path": path, "value": value}]}
    headers = {"If-Match": f'"{edit}"'}
    sent = owner.client.patch(f"{owner.address}/revisions/working", json=body, headers=headers)
    assert sent.status_code == 200, sent.text


@pytest.fixture(scope="module")
def archive(reviewed):
    return reviewed.get("/archive").content


@pytest.fixture
def elsewhere(tmp_path, monkeypatch):
    """The owner's page on a server whose data folder is empty."""
    monkeypatch.setattr(CadWorker, "solids", solids_here)
    app = create_app(Refits(tmp_path / "data"))
    with TestClient(app, base_url="http://127.0.0.1") as client:
        owner = Party(client)
        owner.folder = tmp_path / "data"
        yield owner


def sent(owner, archive, **query):
    headers = {"Content-Type": "application/zip"}
    return owner.client.post("/api/archive", content=archive, params=query, headers=headers)


def members(archive):
    with ZipFile(BytesIO(archive)) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


def shown_of(owner):
    """Everything a page reads of a refit."""
    paths = ("/review", "/revisions", "/revisions/1", "/revisions/2", "/attachments")
    working = owner.get("/revisions/working", full=False).json()
    # the assessment of a copy that was just opened has more in it than that of an edit
    working.pop("assessment")
    return {path: owner.get(path).json() for path in paths} | {"working": working}


def test_out_in_and_out_again_gives_the_same_bytes(reviewed, archive, elsewhere):
    made = sent(elsewhere, archive)
    assert (made.status_code, made.json()["id"]) == (201, "dot"), made.text
    assert elsewhere.get("/archive").content == archive
    assert shown_of(elsewhere) == shown_of(reviewed)
    # now that it was opened and read there
    assert elsewhere.get("/archive").content == archive
    for name, content in (("photo", PHOTO), ("paper", b"%PDF-1.7 paper")):
        assert elsewhere.get(f"/attachments/{uuid(name)}").content == content
    undone = elsewhere.client.post(
        f"{elsewhere.address}/revisions/working/undo", headers={"If-Match": '"3"'}
    ).json()
    assert undone["undo_label"] == "hull.lines"
    assert elsewhere.review()["standing"]["standing"] == "stale"


def test_an_archive_can_be_read_without_hullchange(archive):
    held = members(archive)
    manifest = json.loads(held.pop("manifest.json"))
    assert (manifest["format"], manifest["refit"]) == (2, "dot")
    assert {n: m["sha256"] for n, m in manifest["members"].items()} == {
        name: sha256(content).hexdigest() for name, content in held.items()
    }
    assert {
        "refit.yaml",
        "beside/hull/lines.csv",
        "beside/refit.unsaved.yaml",
        "history.json",
        "history/0.json",
        "revisions/1/document.yaml",
        "revisions/2/lines/hull/lines.csv",
        "revisions/2/results.json",
        f"attachments/{uuid('photo')}.jpg",
    } <= held.keys()
    assert [s["verdict"] for s in json.loads(held["signatures.json"])].count("agreed") == 2
    with ZipFile(BytesIO(archive)) as packed:
        assert {i.date_time for i in packed.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert {i.compress_type for i in packed.infolist()} == {0}


def test_every_table_is_in_the_archive_or_left_out_on_purpose():
    links = {"shares"}  # a link opens one server
    assert set(Table.metadata.tables) - links == {
        *("refits", "steps", "blobs", "revisions", "revision_files", "comments", "remarks"),
        *("signatures", "attachments", "nests", "shop_words"),
    }


def test_a_copy_stands_beside_the_refit_under_another_name(archive, elsewhere, refused):
    assert sent(elsewhere, archive).status_code == 201
    problem = refused(sent(elsewhere, archive), 409, "refit-exists")
    assert "choose another name" in problem["detail"]
    assert sent(elsewhere, archive, name="Dot II").json()["id"] == "dot-ii"
    copy = Party(elsewhere.client, "dot-ii")
    assert copy.review()["signatures"] == elsewhere.review()["signatures"]
    records = elsewhere.client.app.state.cut_packs.records
    assert records.step_records("dot-ii") == records.step_records("dot") != []
    assert records.nests("dot-ii", 2, "") == '{"nest-4mm-1": []}'
    copy.comment("e")
    assert len(elsewhere.review()["comments"]) == 2
    listed = [card["id"] for card in elsewhere.client.get("/api/refits").json()]
    assert listed == ["dot", "dot-ii"]


def test_a_refit_that_was_never_opened_goes_too(tmp_path):
    one, other = Refits(tmp_path / "one"), Refits(tmp_path / "other")
    file = tmp_path / "one/dot" / FILE_NAME
    file.parent.mkdir(parents=True)
    file.write_text("boat: [not read yet")
    out, again = BytesIO(), BytesIO()
    one.archive("dot", out)
    assert other.restore(out) == "dot"
    assert other.file("dot").read_bytes() == file.read_bytes()
    other.archive("dot", again)
    assert again.getvalue() == out.getvalue()


def written(held, **more):
    """An archive of changed content whose manifest is right again."""
    out = BytesIO()
    inside = {name: content for name, content in held.items() if name != "manifest.json"}
    plain_zip.write_plain(out, more.get("refit", "dot"), inside.items())
    return out.getvalue()


def changed(archive, name, text, to):
    held = members(archive)
    assert text in held[name]
    return written({**held, name: held[name].replace(text, to)})


def zipped(held, pack=0, entries=(), manifest=None):
    """A zip file as somebody else's tool writes it."""
    out = BytesIO()
    with ZipFile(out, "w", pack) as packed:
        for name, content in held.items():
            packed.writestr(ZipInfo(name), content, pack)
        for entry, content in entries:
            packed.writestr(entry, content)
        if manifest is not None:
            packed.writestr(ZipInfo("manifest.json"), json.dumps(manifest))
    return out.getvalue()


def link(name, target="/etc/passwd"):
    entry = ZipInfo(name)
    entry.create_system = 3
    entry.external_attr = (stat.S_IFLNK | 0o777) << 16
    return entry, target


def with_member(archive, name, content=b"x"):
    """With one more member that the manifest knows."""
    held = members(archive)
    manifest = json.loads(held.pop("manifest.json"))
    about = {"sha256": sha256(content).hexdigest(), "size_bytes": len(content)}
    manifest["members"][name] = about
    return zipped(held, entries=[(ZipInfo(name), content)], manifest=manifest)


def zip_bomb():
    return zipped({"refit.yaml": b"0" * 5_000_000}, ZIP_DEFLATED)


WRONG = {
    "no zip": (lambda _: b"no zip at all", "not-an-archive"),
    "nothing": (lambda _: b"", "not-an-archive"),
    "another zip": (lambda _: zipped({"refit.yaml": b"x"}), "not-an-archive"),
    "cut short": (lambda a: a[: len(a) // 2], "not-an-archive"),
    "parent": (lambda a: with_member(a, "beside/../../evil.yaml"), "bad-file-name"),
    "absolute": (lambda a: with_member(a, "/etc/cron.d/evil"), "bad-file-name"),
    "backslash": (lambda a: with_member(a, "beside/..\\evil.yaml"), "bad-file-name"),
    "drive": (lambda a: with_member(a, "beside/C:evil.yaml"), "bad-file-name"),
    "hidden": (lambda a: with_member(a, "beside/.bashrc"), "bad-file-name"),
    "folder": (lambda a: with_member(a, "beside/empty/", b""), "bad-file-name"),
    "stranger": (lambda a: with_member(a, "run.sh", b"#!/bin/sh"), "archive-damaged"),
    "two documents": (lambda a: with_member(a, "beside/refit.yaml"), "archive-damaged"),
    "no text": (lambda a: with_member(a, "beside/lines.csv", PHOTO), "wrong-type"),
    "a bomb": (lambda _: zip_bomb(), "archive-not-plain"),
    "a link": (
        lambda a: zipped(members(a), entries=[link("beside/lines.csv")]),
        "archive-not-plain",
    ),
    "packed again": (lambda a: zipped(members(a), ZIP_DEFLATED), "archive-not-plain"),
    "twice": (
        lambda a: zipped(members(a), entries=[(ZipInfo("REFIT.yaml"), b"x")]),
        "archive-damaged",
    ),
    "not in the manifest": (
        lambda a: zipped(members(a), entries=[(ZipInfo("beside/x.csv"), b"x")]),
        "archive-damaged",
    ),
    "wrong hash": (
        lambda a: zipped(members(a) | {"refit.yaml": b"boat: {}"}),
        "archive-damaged",
    ),
    "missing": (
        lambda a: written({n: c for n, c in members(a).items() if n != "comments.json"}),
        "archive-damaged",
    ),
    "a revision changed": (
        lambda a: changed(a, "revisions/1/document.yaml", b"Dot", b"Dut"),
        "archive-damaged",
    ),
    "a hash changed": (
        lambda a: changed(a, "revisions.json", b'"tool": "0', b'"tool": "9'),
        "archive-damaged",
    ),
    "a photo changed": (
        lambda a: changed(a, f"attachments/{uuid('photo')}.jpg", b"photo", b"fotos"),
        "archive-damaged",
    ),
    "a script for a photo": (
        lambda a: changed(a, f"attachments/{uuid('photo')}.jpg", PHOTO, b"<svg><script>"),
        "wrong-type",
    ),
    "a bomb for a photo": (
        lambda a: changed(a, f"attachments/{uuid('photo')}.jpg", PHOTO, zip_bomb()),
        "wrong-type",
    ),
    "a name with folders": (
        lambda a: changed(a, "attachments.json", "Waage ä".encode(), b"../Waage"),
        "bad-file-name",
    ),
    "a name of a revision's file": (
        lambda a: changed(a, "revisions.json", b"lines/hull", b"lines/../.."),
        "archive-damaged",
    ),
    "a word that is none": (
        lambda a: changed(a, "signatures.json", b'"agreed"', b'"approved"'),
        "archive-damaged",
    ),
    "conditions of nothing": (
        lambda a: changed(a, "signatures.json", b'"Weigh the bank."', b""),
        "no-condition",
    ),
    "one step gone": (
        lambda a: written({n: c for n, c in members(a).items() if n != "history/1.json"}),
        "archive-damaged",
    ),
    "one step twice": (
        lambda a: changed(a, "history/1.json", b'"place": 1', b'"place": 0'),
        "archive-damaged",
    ),
    "two of one id": (
        lambda a: changed(a, "comments.json", uuid("d").encode(), uuid("c").encode()),
        "archive-damaged",
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_a_wrong_archive_is_refused_and_leaves_nothing(archive, tmp_path, name):
    make, code = WRONG[name]
    refits = Refits(tmp_path / "data")
    with pytest.raises(ModelError) as refused:
        refits.restore(BytesIO(make(archive)))
    assert refused.value.code == code, refused.value
    assert refused.value.sentence.endswith(".")
    left_alone(refits, tmp_path / "data")


def left_alone(refits, folder):
    """Nothing was taken up; the same name can still be given to something else."""
    assert refits.ids() == ()
    if refits.database.exists:
        with refits.database.reading() as session:
            counts = [
                session.connection().exec_driver_sql(f"SELECT count(*) FROM {name}").scalar()
                for name in Table.metadata.tables
            ]
        assert set(counts) == {0}
        refits.close()
    assert {p.name for p in folder.rglob("*")} <= {"hullchange.db"}


def test_an_archive_of_a_newer_version_is_left_to_it(archive, tmp_path, monkeypatch):
    monkeypatch.setattr(plain_zip, "FORMAT", plain_zip.FORMAT + 1)
    newer = written(members(archive))
    monkeypatch.undo()
    with pytest.raises(ModelError) as refused:
        Refits(tmp_path / "data").restore(BytesIO(newer))
    assert refused.value.code == "newer-data"


@pytest.mark.parametrize("limit", ["LARGEST_MEMBER", "LARGEST_WHOLE", "MOST_MEMBERS"])
def test_limits_of_size_hold_before_anything_is_read(archive, tmp_path, monkeypatch, limit):
    monkeypatch.setattr(plain_zip, limit, 10)
    monkeypatch.setattr(ZipFile, "read", None)
    with pytest.raises(ModelError) as refused:
        Refits(tmp_path / "data").restore(BytesIO(archive))
    assert refused.value.code == "too-large"


def test_members_that_overlap_are_refused(tmp_path):
    # the same bytes named a thousand times: a bomb that needs no packing
    out = BytesIO()
    with ZipFile(out, "w") as packed:
        packed.writestr(ZipInfo("x.yaml"), b"x" * 100_000)
        for number in range(1000):
            twin = ZipInfo(f"{number}.yaml")
            first = packed.infolist()[0]
            twin.header_offset, twin.CRC = first.header_offset, first.CRC
            twin.file_size = twin.compress_size = first.file_size
            packed.filelist.append(twin)
    with pytest.raises(ModelError) as refused:
        Refits(tmp_path / "data").restore(out)
    assert refused.value.code == "archive-damaged"


def test_damage_is_refused_in_words_or_does_no_harm(archive, tmp_path):
    chance = random.Random(4)
    refits = Refits(tmp_path / "data")
    for number in range(24):
        torn = bytearray(archive)
        # the second half of the tries in the directory at the end, where a date may go wrong
        within = len(torn) if number < 12 else 1500
        torn[-chance.randrange(1, within)] ^= 1 << chance.randrange(8)
        try:
            refits.restore(BytesIO(torn))
        except ModelError:
            left_alone(refits, refits.database.folder)
        else:
            out = BytesIO()
            refits.archive("dot", out)
            refits.close()
            assert out.getvalue() == archive
            refits = Refits(tmp_path / str(number))


def test_a_restoring_that_was_cut_off_goes_on(archive, tmp_path, monkeypatch):
    refits = Refits(tmp_path / "data")
    monkeypatch.setattr("pathlib.Path.rename", broken)
    with pytest.raises(ModelError) as refused:
        refits.restore(BytesIO(archive))
    monkeypatch.undo()
    assert refused.value.code == "not-saved"
    assert refits.ids() == ()
    other = changed(archive, "comments.json", b"Is this so?", b"Was that so?")
    with pytest.raises(ModelError) as refused:
        refits.restore(BytesIO(other))
    assert refused.value.code == "refit-exists"
    assert refits.restore(BytesIO(archive)) == "dot"
    out = BytesIO()
    refits.archive("dot", out)
    refits.close()
    assert out.getvalue() == archive


def broken(*_):
    raise OSError(28, "No space left on device")


def test_a_full_disk_is_reported_and_nothing_taken_up(archive, tmp_path, monkeypatch):
    refits = Refits(tmp_path / "data")
    monkeypatch.setattr("hullchange_api.store.files.os.fsync", broken)
    with pytest.raises(ModelError) as refused:
        refits.restore(BytesIO(archive))
    assert refused.value.code == "not-saved"
    assert "free some space" in refused.value.sentence
    left_alone(refits, tmp_path / "data")


def test_two_hundred_megabytes_are_stopped_at_the_door(elsewhere, refused):
    huge = {"Content-Length": str(200 * 1024 * 1024)}
    body = iter([b"never read"])
    answer = elsewhere.client.post("/api/archive", content=body, headers=huge)
    refused(answer, 413, "too-large")
    assert elsewhere.client.get("/api/refits").json() == []
    unsaid = elsewhere.client.post("/api/archive", content=iter([b"x"]))
    refused(unsaid, 413, "too-large")


def test_http_refuses_in_the_same_words(archive, elsewhere, refused):
    refused(sent(elsewhere, b"no zip"), 415, "not-an-archive")
    refused(sent(elsewhere, zip_bomb()), 415, "archive-not-plain")
    refused(elsewhere.get("/archive"), 404, "unknown-refit")
    refused(sent(elsewhere, archive, name="!!"), 422, "bad-name")


@pytest.fixture
def run(capsys):
    def run(*words):
        status = main.main([str(word) for word in words])
        output = capsys.readouterr()
        return status, output.out, output.err

    return run


def test_the_command_line_takes_it_out_and_in(run, archive, tmp_path):
    given, data, out = tmp_path / "given.zip", tmp_path / "data", tmp_path / "out.zip"
    given.write_bytes(archive)
    status, printed, err = run("restore", given, "--data", data)
    assert (status, printed.strip(), err) == (0, str(data / "dot" / FILE_NAME), "")
    assert run("archive", "dot", "--data", data, "--out", out)[0] == 0
    assert out.read_bytes() == archive
    status, _, err = run("archive", "dot", "--data", data, "--out", out)
    assert (status, "already" in err, out.read_bytes() == archive) == (2, True, True)
    status, _, err = run("restore", given, "--data", data)
    assert (status, err.count("\n"), "choose another name" in err) == (2, 1, True)
    assert run("restore", given, "--data", data, "--name", "Second")[0] == 0
    status, _, err = run("archive", "nothing", "--data", data, "--out", tmp_path / "n.zip")
    assert (status, "no refit nothing" in err) == (2, True)
    status, _, err = run("restore", tmp_path / "no.zip", "--data", data)
    assert (status, err.count("\n")) == (2, 1)
    assert not (tmp_path / "n.zip").exists()


def test_a_file_kept_elsewhere_goes_with_its_history(run, tmp_path):
    file, data, out = tmp_path / "boats/dot.yaml", tmp_path / "data", tmp_path / "out.zip"
    file.parent.mkdir()
    file.write_text(starting_document("Dot"), encoding="utf-8")
    (file.parent / "dot.unsaved-2.yaml").write_text("boat: {}\n")
    (file.parent / "another.yaml").write_text("boat: {}\n")
    refits = Refits(data, file)
    refits.working_copy("dot")
    refits.close()
    assert run("archive", file, "--data", data, "--out", out)[0] == 0
    held = members(out.read_bytes())
    assert held["refit.yaml"] == file.read_bytes()
    assert [n for n in held if n.startswith("beside/")] == ["beside/refit.unsaved-2.yaml"]
    assert str(tmp_path) not in held["history.json"].decode()
    other, again = tmp_path / "other", tmp_path / "again.zip"
    assert run("restore", out, "--data", other)[0] == 0
    assert run("archive", "dot", "--data", other, "--out", again)[0] == 0
    assert again.read_bytes() == out.read_bytes()


def with_results(archive, results):
    """The archive with other results in its first revision, and all hashes made to fit."""
    held = members(archive)
    [first, second] = json.loads(held["revisions.json"])
    files = {name: held[f"revisions/1/{name}"] for name in first["files"]}
    files["results.json"] = results
    first["files"]["results.json"] = sha256(results).hexdigest()
    first["sha256"] = hash_over(first["tool"], files)
    held |= {f"revisions/1/{name}": content for name, content in files.items()}
    held["revisions.json"] = json.dumps([first, second]).encode()
    return written(held)


def test_a_revision_of_another_version_is_reported_when_it_is_read(archive, elsewhere, refused):
    assert (
        sent(elsewhere, with_results(archive, b'{"of": "another version"}')).status_code == 201
    )
    response = elsewhere.get("/revisions/1")
    refused(response, 422, "results-unreadable")
    assert f"was made with hullchange {hullchange.__version__}" in response.json()["detail"]
    # what was frozen and said is still there
    assert [card["number"] for card in elsewhere.get("/revisions").json()] == [1, 2]
    assert elsewhere.get("/review").json()["comments"]
    assert elsewhere.get("/revisions/1/scene.glb").content[:4] == b"glTF"
    assert elsewhere.get("/revisions/2").status_code == 200


def test_a_revision_without_a_figure_added_later_shows_what_it_has(archive, elsewhere):
    results = json.loads(members(archive)["revisions/1/results.json"])
    for row in results["conditions"]:
        del row["shares"]["vanishing_angle_deg"], row["shares"]["greatest_gz_m"]
    assert (
        sent(elsewhere, with_results(archive, json.dumps(results).encode())).status_code == 201
    )
    shown = elsewhere.get("/revisions/1").json()["assessment"]["conditions"]
    assert [row["gm_m"] for row in shown] == [row["gm_m"] for row in results["conditions"]]
    assert all(row["shares"]["vanishing_angle_deg"] == [] for row in shown)
