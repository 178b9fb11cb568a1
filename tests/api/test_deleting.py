"""What was begun by mistake goes out of sight and comes back; what is signed stays."""

from threading import Thread

import pytest
from reviewing import PHOTO, Party, solids_here, uuid

from hullchange.errors import ModelError
from hullchange.start.invented import starting_document
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.store.refit_lock import RefitLock, document_lock
from hullchange_api.store.refits import Refits
from hullchange_api.wire.working_copy import LONGEST_LABEL

MOTOR = "changes.drive.adds.motor.mass_kg"


@pytest.fixture
def owner(page, monkeypatch):
    """The owner's page; solids come from this process, where the kernel is loaded once."""
    monkeypatch.setattr(CadWorker, "solids", solids_here)
    return Party(page.client)


def ids(client, path="/api/refits"):
    return [card["id"] for card in client.get(path).json()]


def test_a_refit_begun_by_mistake_goes_and_comes_back_as_it_was(page, refused):
    client = page.client
    page.put({MOTOR: 55})
    owner = Party(client)
    owner.comment("c")
    assert client.delete("/api/refits/dot").status_code == 204
    assert ids(client) == []
    assert client.get("/api/deleted").json() == [
        {"id": "dot", "name": "Dot", "kept_in": "refit.yaml", "path": ""}
    ]
    refused(client.get("/api/refits/dot/review"), 404, "unknown-refit")
    refused(client.delete("/api/refits/dot"), 404, "unknown-refit")
    # her name is free again, her records and her id are not
    assert client.post("/api/refits", json={"name": "Dot"}).json()["id"] == "dot-2"
    assert client.post("/api/deleted/dot").json()["name"] == "Dot"
    assert (ids(client), ids(client, "/api/deleted")) == (["dot", "dot-2"], [])
    refused(client.post("/api/deleted/dot"), 404, "unknown-refit")
    assert [c["id"] for c in owner.review()["comments"]] == [uuid("c")]
    answer = page.read().json()
    assert answer["undo_label"] == "an edit"
    assert answer["document"]["changes"]["drive"]["adds"]["motor"]["mass_kg"] == 55


def test_an_edit_on_its_way_to_a_deleted_refit_is_refused_in_words(page, refused):
    copy = page.copy
    page.client.delete("/api/refits/dot")
    refused(page.put({MOTOR: 55}), 404, "unknown-refit")
    with pytest.raises(ModelError) as refusal:
        copy.for_freezing(1)
    assert refusal.value.code == "unknown-refit"
    copy.load_changed_file()
    copy.save()
    assert not copy.file.exists()


@pytest.mark.slow
def test_what_is_signed_is_not_deleted(owner, refused):
    revision = owner.freeze().json()
    assert owner.client.delete(owner.address).status_code == 204
    owner.client.post("/api/deleted/dot")
    owner.sign("s", revision)
    problem = refused(owner.client.delete(owner.address), 409, "not-possible-now")
    assert "signature" in problem["detail"]
    assert ids(owner.client) == ["dot"]


def test_a_file_of_the_owners_own_is_not_deleted(serve, tmp_path, refused):
    file = tmp_path / "boat.yaml"
    client = serve(file=file).client
    problem = refused(client.delete("/api/refits/boat"), 409, "not-possible-now")
    assert str(file) in problem["detail"]
    assert file.exists()


def test_a_refit_that_another_hullchange_has_open_is_not_deleted(tmp_path):
    one, other = Refits(tmp_path), Refits(tmp_path)
    one.begin("Dot")
    with pytest.raises(ModelError) as refused:
        other.delete("dot")
    assert refused.value.code == "open-elsewhere"
    one.delete("dot")
    other.bring_back("dot")
    assert other.working_copy("dot").state.edit == 1
    one.close()
    other.close()


def test_an_attachment_goes_and_comes_back_and_that_is_reported(owner, refused):
    owner.comment("c")
    owner.attach("f")
    owner.remark("c", "r", kind="closing", evidence=[uuid("f")])
    address = f"{owner.address}/attachments/{uuid('f')}"
    gone = owner.client.delete(address).json()
    assert gone["removed_at"]
    assert owner.get("/attachments").json() == [gone]
    problem = refused(owner.client.get(address), 404, "unknown-attachment")
    assert "scale.jpg was deleted" in problem["detail"]
    [comment] = owner.review()["comments"]
    assert comment["thread"][0]["evidence"] == [uuid("f")]
    late = owner.remark("c", "s", evidence=[uuid("f")])
    refused(late, 404, "unknown-attachment")
    assert owner.client.post(f"{address}/back").json()["removed_at"] is None
    assert owner.client.get(address).content == PHOTO
    refused(owner.client.delete(f"{owner.address}/attachments/{uuid('x')}"), 404, MISSING)


MISSING = "unknown-attachment"


def test_that_it_was_deleted_outlives_the_archive(owner):
    owner.attach("f")
    owner.client.delete(f"{owner.address}/attachments/{uuid('f')}")
    packed = owner.get("/archive").content
    headers = {"Content-Type": "application/zip"}
    owner.client.post("/api/archive", content=packed, params={"name": "b"}, headers=headers)
    copy = Party(owner.client, "b")
    assert copy.get("/attachments").json() == owner.get("/attachments").json()
    copy.client.post(f"{copy.address}/attachments/{uuid('f')}/back")
    assert copy.get(f"/attachments/{uuid('f')}").content == PHOTO


def test_a_label_has_a_length(page):
    page.put({MOTOR: 55}, label="x" * 5000)
    label = page.read().json()["undo_label"]
    assert len(label) == LONGEST_LABEL
    assert label.endswith("…")
    assert page.put({MOTOR: 56}, gesture="g" * 5000).status_code == 422


def test_one_file_is_open_once_whatever_the_data_folder(tmp_path):
    file = tmp_path / "dot.yaml"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    link = tmp_path / "link.yaml"
    link.symlink_to(file)
    one = Refits(tmp_path / "one", file)
    others = [Refits(tmp_path / "other", path) for path in (file, link)]
    one.working_copy("dot")
    for other in others:
        with pytest.raises(ModelError, match="open in another hullchange"):
            other.working_copy(other.ids()[0])
    one.close()
    assert others[0].working_copy("dot").state.edit == 1
    others[0].close()


def test_a_lock_is_released_by_another_thread_than_took_it(tmp_path):
    locks = []
    for work in (lambda: locks.append(RefitLock(tmp_path, "dot")), lambda: locks[0].close()):
        thread = Thread(target=work)
        thread.start()
        thread.join()
    RefitLock(tmp_path, "dot").close()


def test_an_account_without_a_name_can_hold_a_document(tmp_path, monkeypatch):
    def nameless():
        raise KeyError("getpwuid(): uid not found: 12345")

    monkeypatch.setattr("hullchange_api.store.refit_lock.getuser", nameless)
    monkeypatch.setattr("hullchange_api.store.refit_lock.gettempdir", lambda: str(tmp_path))
    lock = document_lock(tmp_path / "dot.yaml", "dot")
    assert len([*tmp_path.glob("hullchange-locks-nameless/*.lock")]) == 1
    lock.close()
