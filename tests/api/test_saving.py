"""The file behind the page: one line for one number, nothing lost, nobody overwritten."""

import difflib
import os
import re
import time
from concurrent.futures import ThreadPoolExecutor
from itertools import count
from pathlib import Path
from threading import Thread

import pytest
from refits import SALTMARROW

from hullchange.errors import ModelError
from hullchange.start.invented import starting_document
from hullchange_api.command_line.main import main
from hullchange_api.store import history, working_copy
from hullchange_api.store.database import Database
from hullchange_api.store.files import write_all, write_atomically
from hullchange_api.store.journal import Journal
from hullchange_api.store.refits import FILE_NAME, Refits, refit_id
from hullchange_api.store.working_copy import WorkingCopy
from hullchange_api.wire.working_copy import Edit, Set

MOTOR = "changes.drive.adds.motor.mass_kg"
TEXT = starting_document("Dot")


ASSUMED = re.compile(r"[-+]  - \w+[.\w-]*$")
"""A line of the list of what is assumed."""


def turned(before, after):
    """Lines that went and came between two texts."""
    lines = difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=0)
    return [line for line in lines if line[:1] in "+-" and line[:3] not in ("+++", "---")]


def waited(true):
    """Wait until something is true, and answer whether it is."""
    for _ in range(100):
        if true():
            return True
        time.sleep(0.02)
    return False


def setting(value, path=MOTOR, **more):
    return Edit(label=f"{path} {value}", steps=(Set(path=path, value=value),), **more)


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "boats" / "dot.yaml"
    path.parent.mkdir()
    path.write_bytes(TEXT.encode())
    return path


@pytest.fixture
def opened(file, tmp_path):
    """Opens the working copy, again where it was open before."""
    store = Database(tmp_path / "data")
    copies = []

    def opened():
        copies.append(WorkingCopy("dot", file, Journal(store, "dot")))
        return copies[-1]

    yield opened
    for copy in copies:
        copy.close()
    store.close()


@pytest.fixture
def copy(opened):
    return opened()


def motor(copy):
    return copy.state.plain["changes"]["drive"]["adds"]["motor"]["mass_kg"]


def engine(document):
    return document["changes"]["drive"]["removes"]["engine"]["mass_kg"]


def put(copy, value, **more):
    return copy.apply(setting(value, **more), copy.state.edit, lambda _: None)


def test_one_number_is_one_line_comments_kept(serve):
    text = SALTMARROW.read_text(encoding="utf-8")
    page = serve(text)
    page.read()
    page.put({"changes.deckhouse.parts.house.side_height_m": 0.5})
    gone, came = turned(text, page.saved())
    assert gone.strip("-+ ").startswith("side_height_m: 0.58  ")
    assert came.strip("-+ ").startswith("side_height_m: 0.5  ")
    assert gone.split("#")[1] == came.split("#")[1]


def test_the_file_is_written_a_moment_later_by_itself(copy, file):
    put(copy, 55)
    assert file.read_bytes() == TEXT.encode()
    assert waited(lambda: file.read_bytes() != TEXT.encode())
    assert turned(TEXT, file.read_text())[1].count("mass_kg: 55") == 1
    assert [*file.parent.iterdir()] == [file]  # nothing left beside it


def test_undo_restores_the_very_text(copy, file):
    put(copy, 55)
    copy.save()
    one = file.read_bytes()
    copy.apply(
        Edit(label="no drive", steps=({"op": "remove", "path": "changes.drive"},)),
        copy.state.edit,
        lambda _: None,
    )
    copy.save()
    two = file.read_bytes()
    copy.undo(copy.state.edit)
    copy.save()
    assert file.read_bytes() == one  # the group is back with its comments, where it was
    copy.undo(copy.state.edit)
    copy.save()
    assert file.read_bytes() == TEXT.encode()
    copy.redo(copy.state.edit)
    copy.redo(copy.state.edit)
    copy.save()
    assert file.read_bytes() == two


def test_a_closed_server_has_written_everything(serve):
    page = serve()
    page.read()
    page.put({MOTOR: 55})
    file = page.copy.file
    page.client.__exit__(None, None, None)
    page.client.__enter__()
    assert "mass_kg: 55" in file.read_text()


def test_a_document_is_saved_back_to_where_it_was_opened(serve, tmp_path):
    file = tmp_path / "my-boat.yaml"
    page = serve(file=file)
    answer = page.read().json()
    assert (answer["refit"], answer["kept_in"]) == ("my-boat", "my-boat.yaml")
    page.put({MOTOR: 55})
    assert "mass_kg: 55" in page.saved()
    assert "mass_kg: 55" in file.read_text()
    cards = page.client.get("/api/refits").json()
    assert [(card["id"], card["name"], card["kept_in"]) for card in cards] == [
        ("my-boat", "Dot", "my-boat.yaml")
    ]
    assert Path(cards[0]["path"]).name == "my-boat.yaml"


def test_a_file_changed_by_somebody_else_is_read_again(page):
    file = page.copy.file
    file.write_text(TEXT.replace("mass_kg: 140", "mass_kg: 150"))
    answer = page.read().json()
    assert answer["edit"] == 2
    assert engine(answer["document"]) == 150
    assert answer["undo_label"] == "refit.yaml changed outside"
    assert engine(page.undo().json()["document"]) == 140
    assert page.saved() == TEXT
    assert file.read_text() == TEXT


def test_an_edit_here_and_one_in_the_file_are_merged(copy, file):
    put(copy, 55)
    theirs = TEXT.replace("mass_kg: 140", "mass_kg: 150") + "# weighed at the yard\n"
    file.write_text(theirs)
    copy.save()
    assert (motor(copy), engine(copy.state.plain)) == (55, 150)
    copy.save()
    assert turned(theirs, file.read_text())[1].count("mass_kg: 55") == 1
    assert copy.trouble == ""
    assert [*file.parent.iterdir()] == [file]
    copy.undo(copy.state.edit)  # back to ours alone
    assert (motor(copy), engine(copy.state.plain)) == (55, 140)


def test_an_edit_here_and_another_of_the_same_in_the_file(copy, file):
    put(copy, 55)
    theirs = TEXT.replace("mass_kg: 45", "mass_kg: 47")
    file.write_text(theirs)
    copy.save()
    assert file.read_text() == theirs
    beside = file.with_name("dot.unsaved.yaml")
    assert beside.name in copy.trouble
    assert "Both sides changed drive motor mass" in copy.trouble
    assert "mass_kg: 55" in beside.read_text()
    assert motor(copy) == 47
    # a second time the first is not overwritten
    kept = beside.read_text()
    put(copy, 60)
    file.write_text(TEXT)
    copy.save()
    assert beside.read_text() == kept
    assert "mass_kg: 60" in file.with_name("dot.unsaved-2.yaml").read_text()
    # and the trouble ends with the next edit that is saved
    put(copy, 65)
    copy.save()
    assert copy.trouble == ""
    assert "mass_kg: 65" in file.read_text()
    for mass in (45, 60, 47, 55, 45):
        copy.undo(copy.state.edit)
        assert motor(copy) == mass


def test_an_edit_that_meets_a_changed_file_is_overtaken(copy, file):
    put(copy, 55)
    seen = copy.state.edit
    file.write_text(TEXT.replace("mass_kg: 140", "mass_kg: 150"))
    with pytest.raises(ModelError) as refused:
        copy.apply(setting(65), seen, lambda _: None)
    assert refused.value.code == "overtaken"
    assert (motor(copy), engine(copy.state.plain)) == (55, 150)
    states = {copy.state.edit: copy.state}
    copy.apply(setting(65), copy.state.edit, lambda _: None)
    assert copy.state.edit not in states  # no two boats under one number


def test_a_drag_back_to_where_it_began_leaves_no_step(opened, copy, file):
    start = file.read_text()
    put(copy, 55)
    put(copy, 55, gesture="nowhere")
    for mass in (56, 57, 55):
        put(copy, mass, gesture="drag")
    assert (copy.state.edit, copy.undo_label) == (6, f"{MOTOR} 55")
    put(copy, 58, gesture="drag")  # and it may go on from there
    assert copy.undo_label == f"{MOTOR} 58"
    put(copy, 55, gesture="drag")
    copy.close()
    again = opened()
    assert (motor(again), again.redo_label) == (55, "")
    again.undo(again.state.edit)
    again.close()
    assert file.read_text() == start


def test_the_history_outlives_the_server(opened, copy, file):
    start = file.read_text()
    put(copy, 55)
    put(copy, 56, gesture="drag")
    put(copy, 57, gesture="drag")
    copy.close()
    again = opened()
    assert (again.state.edit, motor(again), again.undo_label) == (4, 57, f"{MOTOR} 57")
    put(again, 58, gesture="drag")  # no drag outlives its server
    for mass in (57, 55, 45):
        again.undo(again.state.edit)
        assert motor(again) == mass
    again.close()
    assert file.read_text() == start
    third = opened()
    assert third.redo_label == f"{MOTOR} 55"
    third.redo(third.state.edit)
    assert motor(third) == 55


def cut_off(copy):
    """The end of a server that is killed: what is kept is kept, the file is not written."""
    copy.wait_until_stored()
    copy._save_later.cancel()
    copy.save = lambda: None


def test_what_was_acknowledged_reaches_the_file_after_a_kill(opened, copy, file):
    put(copy, 55)
    cut_off(copy)
    assert "mass_kg: 55" not in file.read_text()
    again = opened()
    assert motor(again) == 55
    assert turned(TEXT, file.read_text())[1].count("mass_kg: 55") == 1


@pytest.mark.parametrize("written", [True, False])
def test_a_kill_while_the_file_is_written(opened, copy, file, monkeypatch, written):
    """The store says what is about to be written; the file may hold it by then or not."""

    def killed(path, content):
        if written:
            write_atomically(path, content)
        raise OSError(5, "killed")

    monkeypatch.setattr(working_copy, "write_atomically", killed)
    put(copy, 55)
    copy.save()
    cut_off(copy)
    monkeypatch.undo()
    again = opened()
    assert (motor(again), again.undo_label) == (55, f"{MOTOR} 55")
    assert "mass_kg: 55" in file.read_text()
    assert again.state.edit == 2


def test_a_file_changed_while_no_server_ran_is_merged_too(opened, copy, file):
    put(copy, 55)
    cut_off(copy)
    file.write_text(TEXT.replace("mass_kg: 140", "mass_kg: 150"))
    again = opened()
    assert (motor(again), engine(again.state.plain)) == (55, 150)
    assert "mass_kg: 55" in file.read_text()
    again.close()
    file.write_text(file.read_text().replace("mass_kg: 150", "mass_kg: 160"))
    third = opened()
    assert (motor(third), engine(third.state.plain)) == (55, 160)
    assert third.undo_label == "dot.yaml changed outside"


def test_a_file_broken_outside_and_put_back_as_it_was_takes_what_waited(copy, file):
    as_it_was = file.read_text()
    file.write_text("boat: [")
    put(copy, 55)
    copy.save()
    assert "has an error and was not loaded" in copy.trouble
    file.write_text(as_it_was)
    copy.load_changed_file()
    assert copy.trouble == ""
    assert "mass_kg: 55" in file.read_text()


@pytest.mark.parametrize("theirs", ["boat: [", "format: 1\n"])
def test_a_file_that_was_broken_outside_is_left_alone_and_reported(copy, file, theirs):
    put(copy, 55)
    file.write_text(theirs)
    copy.save()
    assert file.read_text() == theirs
    assert "has an error and was not loaded" in copy.trouble
    assert motor(copy) == 55
    put(copy, 56)
    copy.save()
    beside = file.with_name("dot.unsaved.yaml")
    assert "mass_kg: 56" in beside.read_text()
    assert sorted(p.name for p in file.parent.iterdir()) == ["dot.unsaved.yaml", "dot.yaml"]
    # once it can be read it is taken up
    file.write_text(TEXT.replace("mass_kg: 45", "mass_kg: 44"))
    with pytest.raises(ModelError) as refused:
        put(copy, 57)
    assert refused.value.code == "overtaken"
    assert motor(copy) == 44
    assert "mass_kg: 56" in beside.read_text()
    assert "loaded as it is now" in copy.trouble


def test_a_broken_file_is_reported_and_the_boat_shown_as_it_was_last_read(page):
    page.copy.file.write_text(TEXT.replace("format: 1", "format: 7"))
    answer = page.read().json()
    assert answer["trouble"].startswith(
        "refit.yaml was changed outside, has an error and was not"
    )
    assert "format is the number 7: it must be 1.); the last good version" in answer["trouble"]
    assert answer["document"]["format"] == 1
    page.copy.file.write_text(TEXT)
    assert page.read().json()["trouble"] == ""
    # a boat that cannot float is no more taken up than a file that cannot be read
    page.copy.file.write_text(TEXT.replace("mass_kg: 140, at", "mass_kg: -1, at"))
    assert "(line " in page.read().json()["trouble"]
    page.copy.file.write_text(TEXT.replace("mass_kg: 130", "mass_kg: 130000"))
    answer = page.read().json()
    assert "She sinks: " in answer["trouble"]
    assert answer["edit"] == 1
    page.put({MOTOR: 55})
    page.saved()
    assert "mass_kg: 55" in page.copy.file.with_name("refit.unsaved.yaml").read_text()
    page.copy.file.write_text(TEXT)
    assert page.read().json()["trouble"] == ""
    assert motor(page.copy) == 55
    page.put({MOTOR: 45})
    page.saved()
    # what could not be merged stays said although it can be read
    page.put({MOTOR: 55})
    page.copy.file.write_text(TEXT.replace("mass_kg: 45", "mass_kg: 44"))
    page.saved()
    for _ in range(2):
        page.copy.load_changed_file()
        assert "loaded as it is now" in page.copy.trouble


def test_a_file_that_is_gone_is_written_again(copy, file):
    file.unlink()
    copy.load_changed_file()
    assert motor(copy) == 45
    put(copy, 55)
    copy.save()
    assert copy.trouble == ""
    assert "mass_kg: 55" in file.read_text()


@pytest.fixture
def full_disk(monkeypatch):
    """A disk that refuses to be written, until it is let."""

    def refuse_to_write(*_):
        raise OSError(28, "No space left on device")

    def writable_again():
        monkeypatch.setattr(working_copy, "write_atomically", write_atomically)

    monkeypatch.setattr(working_copy, "write_atomically", refuse_to_write)
    return writable_again


def test_what_cannot_be_written_is_reported_and_kept(copy, file, full_disk):
    put(copy, 55)
    copy.save()
    assert "No space left" in copy.trouble
    assert "kept in the data folder" in copy.trouble
    put(copy, 60)
    copy.save()
    assert motor(copy) == 60
    copy.undo(copy.state.edit)
    assert motor(copy) == 55
    full_disk()
    copy.save()
    assert copy.trouble == ""
    # the text is that of the edit that was undone to, though it was never written before
    assert "mass_kg: 55" in file.read_text()
    values = [one for one in turned(TEXT, file.read_text()) if not ASSUMED.match(one)]
    assert len(values) == 2


def test_a_layout_that_takes_no_edit_is_reported_and_kept(copy, file, monkeypatch):
    def refuse_to_write(*_):
        raise ModelError("cannot-save", "There is no place for it.", "changes.drive")

    monkeypatch.setattr(working_copy, "edited_text", refuse_to_write)
    put(copy, 55)
    copy.save()
    assert "changes.drive: There is no place for it." in copy.trouble
    assert motor(copy) == 55
    monkeypatch.undo()
    put(copy, 56)
    copy.save()
    assert copy.trouble == ""
    assert "mass_kg: 56" in file.read_text()


def test_an_edit_is_said_to_be_saved_when_the_file_holds_it(page):
    saves = []
    page.copy.on_save = lambda edit: saves.append(
        (edit, "mass_kg: 55" in page.copy.file.read_text())
    )
    answer = page.put({MOTOR: 55}).json()
    assert (answer["saved"], answer["trouble"]) == (False, "")
    assert "mass_kg: 55" in page.saved()
    assert saves == [(answer["edit"], True)]
    assert page.read().json()["saved"] is True


def test_a_folder_that_cannot_be_written_is_trouble_on_the_page(page, full_disk):
    page.put({MOTOR: 55})
    page.copy.save()
    answer = page.read().json()
    assert answer["saved"] is False
    assert "could not be written" in answer["trouble"]
    assert answer["document"]["changes"]["drive"]["adds"]["motor"]["mass_kg"] == 55
    full_disk()
    page.put({MOTOR: 56})
    page.copy.save()
    assert page.read().json()["saved"] is True


def test_a_write_leaves_the_old_file_or_the_new_one(tmp_path):
    file = tmp_path / "a.yaml"
    write_atomically(file, b"one")
    file.chmod(0o640)
    write_atomically(file, b"two")
    assert file.read_bytes() == b"two"
    assert file.stat().st_mode & 0o777 == 0o640
    with pytest.raises(OSError, match="No such file") as refused:
        write_atomically(tmp_path / "nowhere" / "a.yaml", b"one")
    assert refused.value.filename == str(tmp_path / "nowhere" / "a.yaml")
    assert [*tmp_path.iterdir()] == [file]


def test_several_pages_at_once_lose_nothing(page, refused):
    """Each adds its own weight, again and again until it is taken."""
    writers, each = 3, 3
    losses = count()

    def add(name):
        for k in range(each):
            while True:
                seen = page.client.get(page.address, params={"full": False}).json()["edit"]
                path = f"changes.drive.adds.w-{name}-{k}"
                value = {"mass_kg": 1, "at_m": [4, 0, 0]}
                body = {"label": path, "steps": [{"op": "set", "path": path, "value": value}]}
                answer = page.client.patch(
                    page.address, json=body, headers={"If-Match": f'"{seen}"'}
                )
                if answer.status_code == 200:
                    break
                refused(answer, 412, "overtaken")
                next(losses)

    with ThreadPoolExecutor(writers) as pool:
        list(pool.map(add, range(writers), timeout=60))
    after = page.read().json()
    added = {n for n in after["document"]["changes"]["drive"]["adds"] if n.startswith("w-")}
    assert added == {f"w-{name}-{k}" for name in range(writers) for k in range(each)}
    assert after["edit"] == 1 + writers * each
    text = page.saved()
    assert all(name in text for name in added)


def test_saving_while_edits_come_does_not_stand_still(copy, file):
    """An edit is being taken while others wait to edit and one thread begins to save."""
    refusals, waiting = [], []

    def other(value, seen):
        try:
            copy.apply(setting(value), seen, lambda _: None)
        except ModelError as error:
            refusals.append(error.code)

    def meanwhile(state):
        tasks = [*((other, (value, state.edit)) for value in (71, 72)), (copy.save, ())]
        for task, given in tasks:
            waiting.append(Thread(target=task, args=given, daemon=True))
            waiting[-1].start()
            time.sleep(0.02)

    def first(mass):
        copy.apply(setting(mass), copy.state.edit, meanwhile)

    for mass in (51, 52, 53):
        waiting.append(Thread(target=first, args=(mass,), daemon=True))
        waiting[-1].start()
        for thread in waiting:
            thread.join(20)
        assert not any(thread.is_alive() for thread in waiting)
    copy.save()
    assert copy.trouble == ""
    assert refusals == ["overtaken"] * 3
    assert f"mass_kg: {motor(copy)}" in file.read_text()


def test_only_so_many_steps_are_kept(copy, monkeypatch):
    monkeypatch.setattr(history, "UNDO_STEPS", 3)
    for mass in range(50, 58):
        put(copy, mass)
    undone = 0
    while copy.undo_label:
        copy.undo(copy.state.edit)
        undone += 1
    assert undone in (3, 4)
    assert motor(copy) == 57 - undone


def test_refits_of_a_server(serve, refused):
    page = serve()
    begun = page.client.post("/api/refits", json={"name": "Salt Marrow II"})
    assert begun.status_code == 201
    card = begun.json()
    assert (card["id"], card["name"], card["kept_in"]) == (
        "salt-marrow-ii",
        "Salt Marrow II",
        "refit.yaml",
    )
    cards = page.client.get("/api/refits").json()
    assert [c["id"] for c in cards] == ["dot", "salt-marrow-ii"]
    there = page.client.get("/api/refits/salt-marrow-ii/revisions/working").json()
    assert there["document"]["boat"]["name"] == "Salt Marrow II"
    again = page.client.post("/api/refits", json={"name": "salt marrow ii!"})
    refused(again, 409, "refit-exists")
    refused(page.client.post("/api/refits", json={"name": "***"}), 422, "bad-name")
    refused(page.client.post("/api/refits", json={}), 422, "bad-request")
    gone = page.client.get("/api/refits/nobody/revisions/working")
    refused(gone, 404, "unknown-refit")


def test_a_name_that_makes_no_document_leaves_nothing_behind(serve):
    page = serve()
    answer = page.client.post("/api/refits", json={"name": "x" * 300})
    assert answer.status_code == 422
    assert [c["id"] for c in page.client.get("/api/refits").json()] == ["dot"]


@pytest.mark.parametrize("name", ['a: "b"', "a\nb", "#hash", "é-1", "- 1", "{x}", "'1'", "1e3"])
def test_any_name_makes_a_document_with_that_name(serve, name):
    page = serve()
    begun = page.client.post("/api/refits", json={"name": name}).json()
    assert begun["name"] == name


def test_a_refit_that_is_broken_does_not_hide_the_others(serve):
    page = serve()
    broken = page.copy.file.parents[1] / "broken" / FILE_NAME
    broken.parent.mkdir()
    broken.write_text("boat: [")
    cards = page.client.get("/api/refits").json()
    assert [(c["id"], c["name"]) for c in cards] == [("broken", "broken"), ("dot", "Dot")]
    answer = page.client.get("/api/refits/broken/revisions/working")
    assert answer.status_code == 422


def test_ids_of_refits(tmp_path):
    assert refit_id("Été 2026") == "ete-2026"
    assert len(refit_id("x" * 200)) == 60
    assert refit_id("Åse") == "ase"
    assert refit_id("Ёлка II") == "elka-ii"
    assert refit_id("船") == "boat"
    with pytest.raises(ModelError) as refused:
        refit_id("!?")
    assert refused.value.code == "bad-name"
    refits = Refits(tmp_path / "nowhere")
    assert refits.ids() == ()


def test_a_refit_is_open_in_one_place_at_a_time(tmp_path, capsys):
    file = tmp_path / "dot.yaml"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    first, second = (Refits(tmp_path / "data", file) for _ in range(2))
    first.working_copy("dot")
    with pytest.raises(ModelError, match="dot is open in another hullchange"):
        second.working_copy("dot")
    assert main(["serve", str(file), "--data", str(tmp_path / "data")]) == 2
    assert "dot is open in another hullchange" in capsys.readouterr().err
    second.begin("Wren")
    first.close()
    assert second.working_copy("dot").state.edit == 1
    second.close()


def test_a_pack_is_written_all_of_it_or_none(tmp_path, monkeypatch):
    files = {"note.txt": b"one", "yard/a.csv": b"two"}
    write_all(tmp_path / "pack", files)
    assert (tmp_path / "pack/yard/a.csv").read_bytes() == b"two"
    assert sorted(p.name for p in (tmp_path / "pack").iterdir()) == ["note.txt", "yard"]
    shut = tmp_path / "shut"
    (shut / "yard").mkdir(parents=True)
    may = os.access
    monkeypatch.setattr(
        os, "access", lambda path, how: "yard" not in str(path) and may(path, how)
    )
    (tmp_path / "afile").write_text("")
    for folder in (shut, tmp_path / "afile", tmp_path / "afile" / "below"):
        with pytest.raises(
            ModelError, match=r"Nothing was written: .* Choose another"
        ) as refused:
            write_all(folder, files)
        assert refused.value.code == "folder-not-written"
    assert [p.name for p in shut.iterdir()] == ["yard"]
