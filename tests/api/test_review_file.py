"""A review file: what was written in a shared page arrives once, and nothing is lost."""

import json

import pytest
from reviewing import Party, run_here, solids_here, uuid

from hullchange_api.command_line.main import main
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.review import shared_page
from hullchange_api.store.refits import Refits

pytestmark = pytest.mark.slow
AT = "2026-11-20T10:00:00+01:00"


@pytest.fixture
def owner(page, monkeypatch):
    """The owner's page; solids come from this process, where the kernel is loaded once."""
    monkeypatch.setattr(CadWorker, "solids", solids_here)
    return Party(page.client)


@pytest.fixture
def revision(owner):
    """A frozen revision's card."""
    return owner.freeze("for the surveyor").json()


def filed(revision, **items):
    """A review file as a shared page saves it."""
    about = {
        "form": "hullchange review 1",
        "boat": "Dot",
        "document_sha256": revision["document_sha256"],
    }
    return about | items


def comment(name, text="Is this so?", **more):
    item = {"id": uuid(name), "on": {}, "kind": "question", "text": text}
    return item | {"author": "T. Brook", "written_at": AT} | more


def remark(on, name, kind="reply", text="It is."):
    item = {"id": uuid(name), "comment": uuid(on), "kind": kind, "text": text}
    return item | {"author": "T. Brook", "written_at": AT}


def signature(name, digest, **more):
    item = {"id": uuid(name), "revision_sha256": digest, "verdict": "agreed", "scope": "all"}
    return item | {"author": "T. Brook", "written_at": AT} | more


def test_each_item_arrives_once_and_says_how_it_came(owner, revision):
    file = filed(
        revision,
        comments=[comment("c")],
        remarks=[remark("c", "r")],
        signatures=[signature("s", revision["sha256"])],
    )
    first = owner.post("/review-file", file).json()
    assert first == {"new_count": 3, "known_count": 0, "conflicts": []}
    before = owner.review()
    assert owner.post("/review-file", file).json() == {
        "new_count": 0,
        "known_count": 3,
        "conflicts": [],
    }
    assert owner.review() == before
    assert before["standing"]["standing"] == "signed"
    (received,) = before["comments"]
    assert (received["author"], received["through"]) == ("T. Brook", "a review file")
    assert received["written_at"] == "2026-11-20T09:00:00.000000Z"
    assert received["thread"][0]["text"] == "It is."


def test_a_document_that_was_signed_is_found_by_its_own_hash(owner, revision):
    file = filed(revision, signatures=[signature("s", revision["document_sha256"])])
    assert owner.post("/review-file", file).json()["new_count"] == 1
    (signed,) = owner.review()["signatures"]
    assert signed["revision"] == 1
    assert signed["revision_sha256"] == revision["sha256"]


def test_what_is_signed_and_not_here_is_reported_and_comes_with_the_next_merge(owner, page):
    digest = page.read().json()["assessment"]["document_sha256"]
    file = filed({"document_sha256": digest}, signatures=[signature("s", digest)])
    merged = owner.post("/review-file", file).json()
    assert merged["new_count"] == 0
    assert "Freeze a revision of that document" in merged["conflicts"][0]
    assert owner.review()["signatures"] == []
    owner.freeze()
    assert owner.post("/review-file", file).json()["new_count"] == 1


def test_a_closing_of_what_was_closed_meanwhile_is_kept_as_a_reply(owner, revision):
    owner.comment("c")
    owner.remark("c", "closed-here", kind="closing", text="Done.")
    file = filed(revision, remarks=[remark("c", "r", "closing", "I close it too.")])
    merged = owner.post("/review-file", file).json()
    assert merged["new_count"] == 1
    assert merged["conflicts"] == [
        "The answer of T. Brook was added as a reply, since the comment is already closed."
    ]
    again = owner.post("/review-file", file).json()
    assert again == {"new_count": 0, "known_count": 1, "conflicts": []}
    thread = owner.review()["comments"][0]["thread"]
    assert {(r["kind"], r["text"]) for r in thread} == {
        ("closing", "Done."),
        ("reply", "I close it too."),
    }


def test_what_cannot_be_taken_is_reported_and_the_rest_is_taken(owner, revision):
    owner.post("/review-file", filed(revision, comments=[comment("c")]))
    file = filed(
        revision,
        comments=[comment("c", "Something else."), comment("d")],
        remarks=[remark("nowhere", "r")],
        signatures=[signature("s", revision["sha256"], verdict="agreed-with-conditions")],
    )
    merged = owner.post("/review-file", file).json()
    assert (merged["new_count"], merged["known_count"]) == (1, 0)
    first, second, third = merged["conflicts"]
    assert "a different one with the same id is already here" in first
    assert "the comment it answers is not here" in second
    assert "List at least one condition" in third
    assert [c["text"] for c in owner.review()["comments"]] == ["Is this so?"] * 2


def test_a_boat_that_was_renamed_since_is_known_by_the_document(owner, revision, page):
    page.put({"boat.name": "Wren"})
    file = filed(revision, comments=[comment("c")])
    assert owner.post("/review-file", file).json()["new_count"] == 1


def test_a_time_that_is_yet_to_come_is_now(owner, revision):
    late = comment("c", written_at="2199-01-01T00:00:00Z")
    owner.post("/review-file", filed(revision, comments=[late]))
    assert owner.review()["comments"][0]["written_at"] < "2199"


@pytest.mark.parametrize(
    ("change", "status"),
    [
        ({"boat": "Another", "document_sha256": "0" * 64}, 422),
        ({"form": "hullchange review 2"}, 422),
        ({"comments": [{"id": "x"}]}, 422),
        ({"comments": [comment("c", text=" ")]}, 422),
        ({"comments": [comment("c", written_at="yesterday")]}, 422),
        ({"comments": [comment("c", written_at="9999-12-31T23:59:59-12:00")]}, 422),
        ({"comments": [comment("c", written_at="0001-01-01T00:00:00+14:00")]}, 422),
    ],
)
def test_what_is_no_review_of_hers_is_refused_whole(change, status, owner, revision):
    file = filed(revision, signatures=[signature("s", revision["sha256"])]) | change
    answer = owner.post("/review-file", file)
    assert answer.status_code == status
    assert answer.json()["faults"]
    assert owner.review()["signatures"] == []


def test_a_reviewer_merges_nothing_and_gets_no_file_of_what_the_link_does_not_open(
    owner, revision
):
    reviewer, _ = owner.shared(1)
    assert reviewer.post("/review-file", filed(revision)).status_code == 403
    assert reviewer.get("/revisions/1/page.html").status_code == 403


def test_the_page_of_a_revision_holds_what_was_written_and_what_changed(
    owner, revision, page, web, monkeypatch
):
    monkeypatch.setattr(shared_page.shared_page, "__defaults__", (web,))
    owner.comment("c", text="Is it </script> dry?")
    owner.sign("s", revision)
    page.put({"changes.drive.adds.motor.mass_kg": 77})
    second = owner.freeze("a heavier motor").json()
    answer = owner.get("/revisions/2/page.html")
    assert answer.headers["content-disposition"].startswith("attachment")
    text = answer.text
    held = json.loads(text.split('id="refit">')[1].split("</script>")[0])
    assert held["working"]["kept_in"] == "revision 2"
    reviewed = held["reviewed"]
    assert [one["number"] for one in reviewed["revisions"]] == [1, 2]
    assert reviewed["revisions"][1]["sha256"] == second["sha256"]
    assert reviewed["review"]["standing"]["standing"] == "stale"
    assert reviewed["review"]["comments"][0]["text"] == "Is it </script> dry?"
    rows = {row["path"] for row in reviewed["since"]["comparison"]["rows"]}
    assert "changes.drive.adds.motor.mass_kg" in rows
    for part in (*held["working"]["scene"], *reviewed["since"]["scene_before"]):
        assert f'id="{part["mesh"]}"' in text


def test_merged_from_the_command_line(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(CadWorker, "solids", solids_here)
    monkeypatch.setattr(CadWorker, "run", run_here, raising=False)
    boat, review = tmp_path / "dot.yaml", tmp_path / "review.json"
    main(["new", str(boat)])
    data = ["--data", str(tmp_path / "data")]
    capsys.readouterr()
    digest = {"document_sha256": "0" * 64}
    name = boat.read_text(encoding="utf-8").split("name:")[1].split("\n")[0].strip()
    content = filed(digest, comments=[comment("c")]) | {"boat": name}
    review.write_text(json.dumps(content), encoding="utf-8")
    assert main(["merge", str(boat), str(review), *data]) == 0
    assert capsys.readouterr().out == "1 new, 0 already there.\n"
    content |= {"signatures": [signature("s", "0" * 64)]}
    review.write_text(json.dumps(content), encoding="utf-8")
    assert main(["merge", str(boat), str(review), *data]) == 1
    first, second = capsys.readouterr().out.splitlines()
    assert first == "0 new, 1 already there."
    assert "no revision here has the document that was signed (00000000)" in second


def test_a_refit_that_a_server_has_open_is_merged_on_its_page(tmp_path, capsys):
    boat, review = tmp_path / "dot.yaml", tmp_path / "review.json"
    main(["new", str(boat)])
    review.write_text(json.dumps(filed({"document_sha256": "0" * 64})), encoding="utf-8")
    open_there = Refits(tmp_path / "data", boat)
    open_there.working_copy("dot")
    capsys.readouterr()
    assert main(["merge", str(boat), str(review), "--data", str(tmp_path / "data")]) == 2
    assert "drop review.json on its Review page" in capsys.readouterr().err
    open_there.close()


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"junk", "its text"),
        (b"{}", "form"),
        (b"[" * 5_000_000, "larger than 4 MB"),
    ],
)
def test_another_file_is_refused_in_a_sentence(content, why, tmp_path, capsys):
    boat, review = tmp_path / "dot.yaml", tmp_path / "review.json"
    main(["new", str(boat)])
    review.write_bytes(content)
    capsys.readouterr()
    assert main(["merge", str(boat), str(review), "--data", str(tmp_path / "data")]) == 2
    output = capsys.readouterr()
    assert output.out == ""
    assert output.err.count("\n") == 1
    assert why in output.err
    assert not (tmp_path / "data").exists()
