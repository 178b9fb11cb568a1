"""A review: revisions frozen, comments, sign-off that goes stale, attachments."""

from hashlib import sha256

import pytest
from cache_snapshot import empty_caches
from refits import boat, demo_document
from reviewing import MOTOR, PHOTO, SHELF, Party, solids_here, uuid

import hullchange
from hullchange.assess.assessment import assessment
from hullchange.explain.explain import explanations
from hullchange.start.invented import starting_document
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.review.status import Pins
from hullchange_api.store.attachments import LARGEST
from hullchange_api.store.revisions import hash_over
from hullchange_api.wire.review import Pin

pytestmark = pytest.mark.slow


@pytest.fixture
def owner(page, monkeypatch):
    """The owner's page; solids come from this process, where the kernel is loaded once."""
    monkeypatch.setattr(CadWorker, "solids", solids_here)
    return Party(page.client)


def test_a_revision_is_frozen_and_stays(owner, page):
    made = owner.freeze("for the consultant")
    assert made.status_code == 201
    card = made.json()
    assert (card["number"], card["note"], card["edit"]) == (1, "for the consultant", 1)
    assert card["tool"] == hullchange.__version__
    before = owner.get("/revisions/1").json()
    page.put({MOTOR: 55})
    after = owner.get("/revisions/1").json()
    assert after["document"] == before["document"]
    assert after["assessment"] == before["assessment"]
    assert after["assessment"]["record"]["state"] == "held"
    assert after["assessment"]["document_sha256"] == card["document_sha256"]
    assert [c["number"] for c in owner.get("/revisions").json()] == [1]
    mesh = page.client.get(after["scene"][0]["mesh"])
    assert mesh.content[:4] == b"glTF"
    assert owner.get("/revisions/1/scene.glb").content[:4] == b"glTF"


def test_the_hash_is_over_everything(owner):
    card = owner.freeze().json()
    files = owner.client.app.state.reviews.revisions.files("dot", 1)
    assert files["document.yaml"].decode() == starting_document("Dot")
    assert card["sha256"] == hash_over(card["tool"], files)
    for name in files:
        other = {**files, name: files[name] + b" "}
        assert hash_over(card["tool"], other) != card["sha256"]
    assert hash_over("another", files) != card["sha256"]


def test_lines_in_a_file_are_frozen_with_it(owner, page):
    lines = page.read().json()["document"]["hull"]["lines"]
    rows = [
        f"{name},{line['kind']},{x},{y},{z}\n"
        for name, line in lines.items()
        for x, y, z in line["points_m"]
    ]
    table = page.copy.file.parent / "lines.csv"
    table.write_text("line,kind,x_m,y_m,z_m\n" + "".join(rows))
    page.put({"hull.lines": {"file": "lines.csv"}})
    owner.freeze()
    before = owner.get("/revisions/1").json()
    table.unlink()
    empty_caches()
    assert owner.get("/revisions/1").json() == before
    assert before["document"]["hull"]["lines"] == {"file": "lines.csv"}


def test_every_plan_is_frozen(owner, page):
    page.put({"options.light": {"set": {MOTOR: 40}}})
    owner.freeze()
    light = owner.get("/revisions/1", option="light").json()
    assert light["assessment"]["option"] == "light"
    assert light["options"] == ["light"]


def test_what_cannot_be_frozen_or_read_is_refused(owner, page, refused):
    page.put({MOTOR: 55})
    made = owner.post("/revisions", {}, headers={"If-Match": '"1"'})
    refused(made, 412, "overtaken")
    refused(owner.post("/revisions", {}), 428, "edit-number-missing")
    refused(owner.get("/revisions/1"), 404, "unknown-revision")
    owner.freeze()
    refused(owner.get("/revisions/1", option="x"), 422, "unknown-option")
    refused(owner.get("/revisions/1", condition="x"), 422, "unknown-condition")
    refused(owner.get("/revisions/1/meshes/abc.glb"), 404, "unknown-mesh")
    assert owner.get("/revisions/99999999999999999999").status_code == 422


def test_comments_are_threads_with_a_state(owner):
    pin = {"part": "battery-shelf", "plate": "plate", "point_m": [4.3, 0.0, -0.28]}
    review = owner.comment("c", on=pin, kind="defect", gate="before-cutting").json()
    [comment] = review["comments"]
    assert comment["on"] == {**pin, "path": None}
    assert (comment["state"], comment["is_adrift"], comment["author"]) == (
        "open",
        False,
        "Owner",
    )
    owner.attach("photo")
    owner.remark("c", "r1")
    closing = {"kind": "closing", "text": "Weighed.", "evidence": [uuid("photo")]}
    review = owner.remark("c", "r2", **closing).json()
    assert review["comments"][0]["state"] == "closed"
    assert review["comments"][0]["thread"][1]["evidence"] == [uuid("photo")]
    review = owner.remark("c", "r3", kind="reopening", text="Not yet.").json()
    assert review["comments"][0]["state"] == "open"
    assert [r["kind"] for r in review["comments"][0]["thread"]] == [
        "reply",
        "closing",
        "reopening",
    ]


def test_what_is_sent_twice_is_there_once(owner, refused):
    first, again = owner.comment("c").json(), owner.comment("c").json()
    assert first == again
    refused(owner.comment("c", text="Another"), 409, "id-taken")
    assert owner.remark("c", "r").json() == owner.remark("c", "r").json()
    card = owner.attach("f").json()
    assert owner.attach("f").json() == card
    refused(owner.attach("f", content=PHOTO + b"!"), 409, "id-taken")


def test_a_comment_that_makes_no_sense_is_refused(owner, refused):
    for pin in ({"plate": "x"}, {"point_m": [0, 0, 0]}, {"part": "a", "path": "b"}):
        refused(owner.comment("c", on=pin), 422, "bad-request")
    refused(owner.comment("c", author=None), 422, "name-needed")
    refused(owner.comment("c", text="  "), 422, "bad-request")
    problem = refused(owner.comment("c", text="a\u0000b"), 422, "bad-request")
    assert "control character" in problem["detail"]
    refused(owner.remark("nothing", "r"), 404, "unknown-comment")
    owner.comment("c")
    refused(owner.remark("c", "r", evidence=[uuid("x")]), 404, "unknown-attachment")
    refused(owner.remark("c", "r", kind="reopening"), 409, "not-possible-now")
    owner.remark("c", "r1", kind="closing")
    refused(owner.remark("c", "r2", kind="closing"), 409, "not-possible-now")


def test_pins_whose_part_is_gone_are_named(owner, page):
    gone = [
        {"part": "battery-shelf"},
        {"part": "battery-shelf", "plate": "battery-shelf.plate"},
        {"path": f"{SHELF}.thickness_mm"},
    ]
    stay = [
        {},
        {"part": "hull"},
        {"path": MOTOR},
        {"path": "conditions.cruising.gm_m"},
        {"path": "hull.draught_m"},
    ]
    for k, pin in enumerate(gone + stay):
        owner.comment(f"c{k}", on=pin)
    assert {c["is_adrift"] for c in owner.review()["comments"]} == {False}
    page.put({SHELF: None})
    adrift = {c["id"]: c["is_adrift"] for c in owner.review()["comments"]}
    assert adrift == {uuid(f"c{k}"): k < len(gone) for k in range(len(gone + stay))}


def test_no_figure_that_opens_is_taken_for_gone():
    plain = demo_document()
    built = boat(plain)
    pins = Pins(built, plain)
    paths = {one.path for one in explanations(assessment(built), built.document)}
    assert len(paths) > 1000
    assert [path for path in sorted(paths) if not pins.holds(Pin(path=path))] == []
    gone = (
        "conditions.nowhere.refit.gm_m",
        "changes.nothing.effect.trim_mm",
        "parts.no.mass_kg",
    )
    assert [path for path in gone if pins.holds(Pin(path=path))] == []


def test_a_signature_is_stale_the_moment_a_number_changes(owner, page):
    assert owner.review()["standing"]["standing"] == "unsigned"
    card = owner.freeze().json()
    review = owner.sign("s", card).json()
    assert review["standing"]["standing"] == "signed"
    assert "floating and stability only" in review["standing"]["sentence"]
    page.put({"photographs.port": {"file": "port.jpg", "width_px": 4000, "height_px": 3000}})
    assert owner.review()["standing"]["standing"] == "signed"  # no figure follows from it
    page.undo()
    page.put({MOTOR: 55})
    review = owner.review()
    assert review["standing"]["standing"] == "stale"
    [signature] = review["signatures"]
    assert signature["changed"] == [{"path": MOTOR, "before": 45.0, "after": 55.0}]
    assert signature["why_stale"] == "changed: drive motor mass."
    assert owner.get("/revisions/1").json()["standing"]["standing"] == "signed"
    assert owner.get("/revisions").json()[0]["standing"]["standing"] == "signed"
    page.undo()
    assert owner.review()["standing"]["standing"] == "signed"


def test_a_part_is_signed_for_what_feeds_it(owner, page):
    card = owner.freeze().json()
    owner.sign("s", card, part="battery-shelf")
    page.put({MOTOR: 55})
    [signature] = owner.review()["signatures"]
    assert not signature["is_stale"]
    assert owner.review()["standing"]["standing"] == "unsigned"
    page.put({f"{SHELF}.thickness_mm": 5})
    [signature] = owner.review()["signatures"]
    assert [c["path"] for c in signature["changed"]] == [f"{SHELF}.thickness_mm"]
    page.undo()
    page.put({"hull.deck.camber_m": 0.031})
    [signature] = owner.review()["signatures"]
    assert [c["path"] for c in signature["changed"]] == ["hull.deck.camber_m"]


def test_another_version_makes_a_signature_stale(owner, monkeypatch):
    owner.sign("s", owner.freeze().json())
    monkeypatch.setattr(hullchange, "__version__", "9.9.9")
    [signature] = owner.review()["signatures"]
    assert "9.9.9" in signature["why_stale"]
    assert signature["changed"] == []


def test_verdicts_and_their_conditions(owner, refused):
    card = owner.freeze().json()
    conditions = ["Weigh the bank."]
    bare = {"verdict": "agreed-with-conditions"}
    refused(owner.sign("s", card, **bare), 422, "no-condition")
    refused(owner.sign("s", card, conditions=conditions), 422, "no-condition")
    review = owner.sign("s1", card, **bare, conditions=conditions).json()
    assert review["standing"]["standing"] == "signed with conditions"
    assert review["signatures"][0]["conditions"] == conditions
    assert owner.sign("s2", card, "send-again").json()["standing"]["standing"] == "sent back"
    seen = owner.sign("s3", card, "not-looked-at").json()
    assert seen["standing"]["standing"] == "sent back"
    refused(owner.sign("s4", {"sha256": "0" * 64}), 412, "overtaken")


SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'


@pytest.mark.parametrize(
    ("name", "content", "status", "code"),
    [
        ("plan.svg", SVG, 415, "wrong-type"),
        ("plan.png", SVG, 415, "wrong-type"),
        ("page.html", b"<html>", 415, "wrong-type"),
        ("scale.png", PHOTO, 415, "wrong-type"),
        ("scale", PHOTO, 415, "wrong-type"),
        ("empty.jpg", b"", 415, "wrong-type"),
        ("scale.svg", PHOTO, 415, "wrong-type"),
        ("scale.jpg.svg", SVG, 415, "wrong-type"),
        ("photos.zip", b"PK\x03\x04...", 415, "wrong-type"),
        ("photos.pdf", b"PK\x03\x04...", 415, "wrong-type"),
        ("../scale.jpg", PHOTO, 422, "bad-file-name"),
        ("/etc/scale.jpg", PHOTO, 422, "bad-file-name"),
        ("C:scale.jpg", PHOTO, 422, "bad-file-name"),
        ("..\\scale.jpg", PHOTO, 422, "bad-file-name"),
        (".scale.jpg", PHOTO, 422, "bad-file-name"),
        ("a\nb.jpg", PHOTO, 422, "bad-file-name"),
        ("x" * 200 + ".jpg", PHOTO, 422, "bad-file-name"),
    ],
)
def test_files_that_are_not_taken(owner, refused, name, content, status, code):
    sent = owner.attach("f", name, content)
    if content == b"":
        assert sent.status_code in (415, 422)
    else:
        refused(sent, status, code)
    assert owner.get("/attachments").json() == []


def test_a_file_that_is_too_large_is_stopped_at_the_door(owner, refused):
    refused(owner.attach("f", content=PHOTO + b"x" * LARGEST), 413, "too-large")
    address = f"{owner.address}/attachments?id={uuid('f')}&name=a.jpg"
    huge = {"Content-Length": str(200 * 1024 * 1024)}
    refused(owner.client.post(address, content=b"", headers=huge), 413, "too-large")


@pytest.mark.parametrize(
    ("name", "content", "media_type", "how"),
    [
        ("scale ticket 1.JPG", PHOTO, "image/jpeg", "inline"),
        ("a.png", b"\x89PNG\r\n\x1a\n...", "image/png", "inline"),
        ("a.webp", b"RIFF....WEBPVP8 ", "image/webp", "inline"),
        ("a.heic", b"\x00\x00\x00\x18ftypheic....", "image/heic", "attachment"),
        ("Zertifikat ä.pdf", b"%PDF-1.7 ...", "application/pdf", "attachment"),
    ],
)
def test_files_come_back_as_they_were_sent(owner, name, content, media_type, how):
    card = owner.attach("f", name, content).json()
    assert (card["name"], card["media_type"]) == (name, media_type)
    assert card["sha256"] == sha256(content).hexdigest()
    back = owner.get(f"/attachments/{uuid('f')}")
    assert back.content == content
    assert back.headers["content-type"] == media_type
    assert back.headers["content-disposition"].startswith(how)
    assert back.headers["content-security-policy"].startswith("sandbox")
    assert back.headers["x-content-type-options"] == "nosniff"
