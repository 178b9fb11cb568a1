"""The last word is what came last, and in doubt a refusal counts; clocks decide nothing."""

import json
from io import BytesIO
from itertools import permutations, product

import pytest
from reviewing import Party, solids_here, uuid

from hullchange.cutting.progress import StepRecord
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.review.sign_off import review_status, superseded
from hullchange_api.store import arrival, plain_zip
from hullchange_api.store.plain_zip import PlainZip, write_plain
from hullchange_api.wire.review import Signature

AGREED, BOUND, REFUSED, UNSEEN = (
    *("agreed", "agreed-with-conditions", "send-again"),
    "not-looked-at",
)


def at(hour, day=20):
    return f"2026-11-{day:02}T{hour:02}:00:00.000000Z"


def signatures(*words):
    """Signatures in the order in which they came: verdict, and what is not as usual."""
    signatures_so_far = []
    for number, (verdict, more) in enumerate(words, 1):
        about = {
            "id": str(number),
            "revision_sha256": f"{more.get('revision', 1)}" * 64,
            "revision": 1,
            "part": None,
            "verdict": verdict,
            "scope": "all",
            "conditions": ("Weigh it.",) if verdict == BOUND else (),
            "author": "T. Brook",
            "through": "",
            "written_at": at(number),
            "arrived_at": at(number),
            "arrival": number,
            "is_superseded": False,
            "is_stale": False,
            "changed": (),
            "why_stale": "changed: motor." if more.get("is_stale") else "",
        }
        signatures_so_far.append(Signature(**about | more))
    return tuple(signatures_so_far)


def standing_and_conflicts(*words):
    status = review_status(signatures(*words))
    return status.standing, status.conflicts


def test_of_one_reviewer_the_last_word_counts_and_the_others_are_reported():
    assert standing_and_conflicts((AGREED, {}))[0] == "signed"
    standing, conflicts = standing_and_conflicts((AGREED, {}), (REFUSED, {}))
    assert standing == "sent back"
    [one] = conflicts
    assert one.startswith("T. Brook said “agreed” of revision 1 first, and “send again”")
    assert standing_and_conflicts((REFUSED, {}), (AGREED, {}))[0] == "signed"
    # of another revision it is no contradiction but what a review is for
    assert standing_and_conflicts((REFUSED, {}), (AGREED, {"revision": 2})) == ("signed", ())


def test_a_refusal_from_a_clock_that_is_behind_counts_and_the_doubt_is_reported():
    behind = {"written_at": at(9, 10), "arrived_at": at(5)}
    standing, conflicts = standing_and_conflicts((AGREED, {}), (REFUSED, behind))
    assert standing == "sent back"
    assert "arrived in a different order" in conflicts[0]
    assert "10 November 2026 09:00 UTC" in conflicts[0]


def test_an_agreement_written_before_the_refusal_does_not_outlive_it():
    late = {"written_at": at(9, 10), "arrived_at": at(5)}
    standing, conflicts = standing_and_conflicts((REFUSED, {}), (AGREED, late))
    assert (standing, len(conflicts)) == ("sent back", 1)
    # what is said here after it ends the doubt
    assert standing_and_conflicts((REFUSED, {}), (AGREED, late), (AGREED, {}))[0] == "signed"


def test_a_servers_clock_that_was_ahead_decides_nothing():
    ahead = {"written_at": at(0, 30), "arrived_at": at(0, 30)}
    standing, conflicts = standing_and_conflicts((AGREED, ahead), (REFUSED, {}))
    assert standing == "sent back"
    assert any("the clock was wrong" in one for one in conflicts)
    assert standing_and_conflicts((REFUSED, ahead), (AGREED, {}))[0] == "signed"


def test_a_refusal_ends_with_its_own_reviewers_word_alone():
    other = {"author": "A. Reed", "revision": 2}
    standing, conflicts = standing_and_conflicts((REFUSED, {"is_stale": True}), (AGREED, other))
    assert standing == "sent back"
    assert "The reviewers differ: T. Brook said “send again”" in conflicts[0]
    assert "counts until T. Brook signs again" in conflicts[0]
    assert standing_and_conflicts(
        (REFUSED, {}), (AGREED, other), (AGREED, {"author": " t.  BROOK"})
    )[0] == ("signed")


def test_the_weaker_of_two_agreements_counts():
    standing, conflicts = standing_and_conflicts((BOUND, {}), (AGREED, {"author": "A. Reed"}))
    assert standing == "signed with conditions"
    assert "The reviewers differ" in conflicts[0]
    stale = {"is_stale": True}
    assert (
        standing_and_conflicts((BOUND, stale), (AGREED, {"author": "A. Reed"}))[0] == "signed"
    )
    assert standing_and_conflicts((BOUND, stale))[0] == "stale"


def test_a_part_sent_back_holds_the_whole_until_its_reviewer_agrees():
    part = {"part": "roof-beam"}
    status = review_status(signatures((AGREED, {}), (REFUSED, part)))
    assert status.standing == "sent back"
    assert "for roof beam" in status.sentence
    assert standing_and_conflicts((REFUSED, part), (AGREED, {}))[0] == "signed"
    assert standing_and_conflicts((AGREED, part))[0] == "unsigned"


def test_who_did_not_look_takes_an_agreement_back_and_no_refusal():
    assert standing_and_conflicts((AGREED, {}), (UNSEEN, {}))[0] == "unsigned"
    assert standing_and_conflicts((REFUSED, {}), (UNSEEN, {}))[0] == "sent back"


def test_no_order_of_clocks_makes_a_last_refusal_signed():
    moments = (at(1), at(2), at(3))
    for verdicts in product((AGREED, BOUND, UNSEEN), repeat=2):
        for written in permutations(moments):
            for arrived in permutations(moments):
                words = zip((*verdicts, REFUSED), written, arrived, strict=True)
                given = [(v, {"written_at": w, "arrived_at": a}) for v, w, a in words]
                assert standing_and_conflicts(*given)[0] == "sent back"


def test_what_is_out_of_force_is_marked():
    arrived = signatures((AGREED, {}), (REFUSED, {}), (AGREED, {"author": "A. Reed"}))
    assert superseded(arrived) == {"1"}


@pytest.fixture
def owner(page, monkeypatch):
    """The owner's page; solids come from this process, where the kernel is loaded once."""
    monkeypatch.setattr(CadWorker, "solids", solids_here)
    return Party(page.client)


def clock(monkeypatch, moment):
    monkeypatch.setattr(arrival, "now", lambda: moment)


def from_file(owner, revision, written_at, **items):
    about = {"form": "hullchange review 1", "boat": "Dot"}
    items = {
        kind: [{"author": "T. Brook", "written_at": written_at, **one}]
        for kind, one in items.items()
    }
    digest = {"document_sha256": revision["document_sha256"]}
    return owner.post("/review-file", about | digest | items).json()


def word(name, revision, verdict):
    about = {"id": uuid(name), "revision_sha256": revision["sha256"], "verdict": verdict}
    return about | {"scope": "all"}


@pytest.mark.slow
def test_a_review_file_of_a_slow_clock_sends_back_what_was_signed(owner):
    revision = owner.freeze().json()
    owner.sign("s", revision, author="T. Brook")
    merged = from_file(
        owner, revision, "2026-11-01T10:00:00Z", signatures=word("t", revision, REFUSED)
    )
    assert merged["new_count"] == 1
    assert "arrived in a different order" in merged["conflicts"][0]
    review = owner.review()
    assert review["standing"]["standing"] == "sent back"
    assert review["standing"]["conflicts"] == merged["conflicts"]
    first, second = review["signatures"]
    assert (first["is_superseded"], second["is_superseded"]) == (True, False)
    assert second["written_at"] < second["arrived_at"]
    assert first["written_at"] == first["arrived_at"]


@pytest.mark.slow
def test_a_thread_is_as_its_last_word_leaves_it_and_in_doubt_open(owner, monkeypatch):
    revision = owner.freeze().json()
    clock(monkeypatch, at(0, 30))  # ten days ahead
    owner.comment("c")
    owner.remark("c", "r", "closing")
    clock(monkeypatch, at(0))
    state = lambda: owner.review()["comments"][0]["state"]  # noqa: E731
    owner.remark("c", "s", "reopening")
    assert state() == "open"
    assert owner.remark("c", "t", "closing").status_code == 200
    owner.remark("c", "u", "reopening")
    assert state() == "open"
    closing = {"id": uuid("v"), "comment": uuid("c"), "kind": "closing", "text": "Done."}
    merged = from_file(owner, revision, at(0, 1), remarks=closing)
    assert "reopened after this was written" in merged["conflicts"][0]
    assert state() == "open"
    assert [r["text"] for r in owner.review()["comments"][0]["thread"]][-1] == "Done."


def test_the_last_word_on_a_step_is_what_came_last(page):
    records = page.client.app.state.cut_packs.records
    for when, done in ((at(0, 30), True), (at(0, 20), False)):
        word = StepRecord("ROOF", "cut", done, "ab", "", "A", when)
        records.add("dot", [word], "x")
    assert [word.done for word in records.step_records("dot")] == [True, False]


@pytest.mark.slow
def test_order_outlives_the_archive_whatever_the_clocks_said(owner, monkeypatch):
    revision = owner.freeze().json()
    clock(monkeypatch, at(0, 30))
    owner.sign("s", revision)
    clock(monkeypatch, at(0))
    owner.sign("t", revision, REFUSED)
    assert owner.review()["standing"]["standing"] == "sent back"
    packed = owner.get("/archive").content
    headers = {"Content-Type": "application/zip"}
    sent = owner.client.post(
        "/api/archive", content=packed, params={"name": "copy"}, headers=headers
    )
    assert sent.status_code == 201
    copy = Party(owner.client, "copy")
    assert copy.review()["standing"] == owner.review()["standing"]
    assert copy.review()["signatures"] == owner.review()["signatures"]
    copy.sign("u", revision)
    assert copy.review()["standing"]["standing"] == "signed"


@pytest.mark.slow
def test_an_archive_that_did_not_number_what_was_written_is_still_read(owner, monkeypatch):
    revision = owner.freeze().json()
    owner.sign("s", revision)
    owner.sign("a", revision, REFUSED)
    archive = PlainZip(BytesIO(owner.get("/archive").content))
    held = {name: archive.content(name) for name in archive.manifest.members}
    rows = json.loads(held["signatures.json"])
    for row in rows:
        del row["arrival"], row["arrived_at"]
    older, twice = BytesIO(), BytesIO()
    numbered = [row | {"arrival": 1} for row in rows]
    write_plain(
        twice, "twice", (held | {"signatures.json": json.dumps(numbered).encode()}).items()
    )
    monkeypatch.setattr(plain_zip, "FORMAT", 1)
    write_plain(older, "older", (held | {"signatures.json": json.dumps(rows).encode()}).items())
    monkeypatch.undo()
    refits = owner.client.app.state.copies.refits
    assert refits.restore(older) == "older"
    review = Party(owner.client, "older").review()
    assert [s["verdict"] for s in review["signatures"]] == [AGREED, REFUSED]
    assert {s["arrived_at"] for s in review["signatures"]} == {None}
    with pytest.raises(Exception, match="order of arrival"):
        refits.restore(twice)
