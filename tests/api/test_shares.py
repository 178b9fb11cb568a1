"""Links: what a reviewer may do and nothing else; the owner's secret; the door."""

import re
import time
from types import SimpleNamespace

import pytest
from fastapi.testclient import TestClient
from reviewing import MOTOR, Party, solids_here, uuid
from sqlalchemy import select

from hullchange_api.app import ROUTES, create_app
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.routes import sign_in
from hullchange_api.store import tables
from hullchange_api.working_copy import access
from hullchange_api.working_copy.access import OWNER_COOKIE, SHARE_COOKIE

pytestmark = pytest.mark.slow
OPEN_TO_REVIEWERS = {
    "GET /api/refits/{refit}/revisions",
    "GET /api/refits/{refit}/revisions/{revision}",
    "GET /api/refits/{refit}/revisions/{revision}/explanation",
    "GET /api/refits/{refit}/revisions/{revision}/since/{before}",
    "GET /api/refits/{refit}/revisions/{revision}/meshes/{name}.glb",
    "GET /api/refits/{refit}/revisions/{revision}/scene.glb",
    "GET /api/refits/{refit}/revisions/{revision}/picture.png",
    "GET /api/refits/{refit}/revisions/{revision}/photograph",
    "GET /api/refits/{refit}/revisions/{revision}/files/{name}",
    "GET /api/refits/{refit}/revisions/{revision}/cutting",
    "GET /api/refits/{refit}/revisions/{revision}/cutting/answer",
    "GET /api/refits/{refit}/revisions/{revision}/cutting/lists/{name}",
    "GET /api/refits/{refit}/revisions/{revision}/cutting/files",
    "GET /api/refits/{refit}/revisions/{revision}/cutting/file",
    "GET /api/refits/{refit}/revisions/{revision}/cutting/pack.zip",
    "GET /api/refits/{refit}/revisions/{revision}/cutting/progress",
    "GET /api/refits/{refit}/review",
    "POST /api/refits/{refit}/comments",
    "POST /api/refits/{refit}/comments/{comment}/remarks",
    "POST /api/refits/{refit}/signatures",
    "GET /api/refits/{refit}/attachments",
    "POST /api/refits/{refit}/attachments",
    "GET /api/refits/{refit}/attachments/{attachment}",
    "GET /api/refits/{refit}/events",
    "GET /api/visitor",
    "POST /api/visitor",
    "GET /api/grammar",
    "GET /api/kinds",
    "GET /api/cautions",
}
OPEN_TO_ALL = {"POST /api/entry", "DELETE /api/entry"}


@pytest.fixture
def owner(page, monkeypatch):
    monkeypatch.setattr(CadWorker, "solids", solids_here)
    owner = Party(page.client)
    owner.freeze("one")
    page.put({MOTOR: 50})
    owner.freeze("two")
    return owner


def routes(app):
    """Every operation of the application, as method and path."""
    return {
        f"{verb.upper()} {path}"
        for path, operations in app.openapi()["paths"].items()
        for verb in operations
    }


def filled(path, **values):
    known = {"refit": "dot", "revision": "1", "before": "1", "name": "x", **values}
    return re.sub(r"{(\w+)}", lambda found: known.get(found[1], uuid("nothing")), path)


def test_a_link_reaches_nothing_but_what_it_opens(owner, refused):
    reviewer, _ = owner.shared(1)
    app = owner.client.app
    assert routes(app) >= OPEN_TO_REVIEWERS | OPEN_TO_ALL
    for route in sorted(routes(app) - OPEN_TO_REVIEWERS - OPEN_TO_ALL):
        verb, path = route.split()
        answer = reviewer.client.request(verb, filled(path), json={})
        refused(answer, 403, "not-shared")


def test_a_link_reaches_all_that_a_page_of_it_asks_for(owner):
    reviewer, _ = owner.shared(1)
    streams = {"GET /api/refits/{refit}/events"}
    for route in sorted(OPEN_TO_REVIEWERS - streams):
        verb, path = route.split()
        assert reviewer.client.request(verb, filled(path), json={}).status_code != 403, route


def test_the_cover_of_a_link_has_the_boats_name_and_picture(owner):
    reviewer, _ = owner.shared(1, name="")
    visitor = reviewer.client.get("/api/visitor").json()
    assert (visitor["boat"], visitor["name"]) == ("Dot", "")
    cover = reviewer.get("/revisions/1/picture.png")
    assert (cover.status_code, cover.content[:4]) == (200, b"\x89PNG")
    assert cover.content == owner.get("/revisions/1/picture.png").content
    assert "private" in cover.headers["cache-control"]
    for shut in (2, "working"):
        assert reviewer.get(f"/revisions/{shut}/picture.png").status_code == 403
    assert owner.client.get("/api/visitor").json()["boat"] == ""


def test_no_route_is_hidden_from_the_test_above(owner):
    described = {route.split()[1] for route in routes(owner.client.app)}
    rooms = [sign_in.open_router, *(room.router for room in ROUTES)]
    assert {route.path for room in rooms for route in room.routes} == described
    others = {getattr(route, "path", None) for route in owner.client.app.routes}
    assert others <= {None, "/api/openapi.json", ""}


@pytest.mark.parametrize("refit", ["other", "dot"])
def test_another_refit_or_revision_stays_shut(owner, refused, refit):
    owner.client.post("/api/refits", json={"name": "other"})
    reviewer, _ = owner.shared(1)
    for route in sorted(OPEN_TO_REVIEWERS):
        verb, path = route.split()
        if refit == "dot" and "{revision}" not in path:
            continue
        if "{refit}" not in path:
            continue
        address = filled(path, refit=refit, revision="2" if refit == "dot" else "1")
        refused(reviewer.client.request(verb, address, json={}), 403, "not-shared")


def test_a_reviewer_reads_comments_and_signs(owner):
    reviewer, share = owner.shared(1)
    visitor = reviewer.client.get("/api/visitor").json()
    assert (visitor["role"], visitor["refit"], visitor["revisions"]) == ("reviewer", "dot", [1])
    assert visitor["name"] == "Consultant"
    assert [c["number"] for c in reviewer.get("/revisions").json()] == [1]
    frozen = reviewer.get("/revisions/1").json()
    for part in frozen["scene"]:
        assert reviewer.client.get(part["mesh"]).content[:4] == b"glTF"
    review = reviewer.comment("c", author="Somebody else").json()
    assert review["comments"][0]["author"] == "Consultant"
    assert review["comments"][0]["through"] == "a share link"
    reviewer.remark("c", "r", kind="closing")
    assert reviewer.attach("f").status_code == 201
    signed = reviewer.sign("s", frozen["revision"]).json()
    assert signed["signatures"][0]["author"] == "Consultant"
    assert owner.review()["comments"] == review["comments"] or owner.review()["comments"]
    assert share["reviewer"] == ""
    assert owner.get("/shares").json()[0]["reviewer"] == "Consultant"


def test_what_changed_is_shown_within_the_link(owner, refused):
    both, _ = owner.shared(1, 2)
    answer = both.get("/revisions/2/since/1").json()
    [weight] = [r for r in answer["comparison"]["rows"] if r["group"] == "weights"]
    assert (weight["path"], weight["before"], weight["after"]) == (MOTOR, 45.0, 50.0)
    assert [p["id"] for p in answer["scene_before"]] == [p["id"] for p in answer["scene_after"]]
    second, _ = owner.shared(2)
    refused(second.get("/revisions/2/since/1"), 403, "not-shared")
    refused(second.get("/revisions/working/since/2"), 403, "not-shared")
    assert owner.get("/revisions/working/since/2").json()["comparison"]["rows"] == []
    refused(owner.get("/revisions/2/since/9"), 404, "unknown-revision")


def test_a_link_says_when_it_was_used(owner):
    body = {"label": "x", "revisions": [1]}
    assert owner.post("/shares", body).json()["share"]["last_used_at"] is None
    reviewer, _ = owner.shared(1)
    reviewer.get("/revisions/1")
    used = [share["last_used_at"] for share in owner.get("/shares").json()]
    assert used[0] is None
    assert used[1] is not None


def test_only_a_shown_revision_is_signed(owner, refused):
    reviewer, _ = owner.shared(1)
    second = owner.get("/revisions").json()[1]
    refused(reviewer.sign("s", second), 403, "not-shared")


def test_the_name_is_asked_once(owner, refused):
    reviewer, _ = owner.shared(1, name=None)
    refused(reviewer.comment("c"), 422, "name-needed")
    give = lambda name: reviewer.client.post("/api/visitor", json={"name": name})  # noqa: E731
    refused(give("🚤"), 422, "name-needed")
    assert give("Consultant").status_code == 204
    assert give("Consultant").status_code == 204
    refused(give("Another"), 409, "not-possible-now")


def test_a_revoked_link_is_shut_at_once(owner, refused):
    reviewer, share = owner.shared(1)
    revoked = owner.client.delete(f"{owner.address}/shares/{share['id']}").json()
    assert revoked["revoked_at"]
    refused(reviewer.get("/revisions/1"), 403, "link-closed")
    refused(reviewer.comment("c"), 403, "link-closed")
    again = TestClient(owner.client.app, base_url=str(owner.client.base_url))
    refused(again.post("/api/entry", json={"token": reviewer.token}), 403, "link-closed")
    refused(owner.client.delete(f"{owner.address}/shares/{uuid('x')}"), 404, "unknown-share")


def test_a_link_ends_by_itself(owner, refused):
    reviewer, _ = owner.shared(1, opens_for_s=1)
    time.sleep(1.1)
    problem = refused(reviewer.get("/revisions/1"), 403, "link-closed")
    assert "expired" in problem["detail"]


def test_a_link_needs_a_revision_that_is_there(owner, refused):
    body = {"label": "x", "revisions": [7]}
    refused(owner.post("/shares", body), 404, "unknown-revision")
    refused(owner.post("/shares", {"label": "x", "revisions": []}), 422, "bad-request")


def test_no_token_is_kept(owner):
    reviewer, _ = owner.shared(1)
    assert len(reviewer.token) >= 43  # 256 bits, six to a letter
    with owner.client.app.state.copies.refits.database.reading() as session:
        share = session.scalars(select(tables.Share)).one()
        kept = {getattr(share, column.key) for column in share.__table__.columns}
    assert reviewer.token not in kept
    folder = owner.client.app.state.copies.refits.database.folder
    for file in folder.glob("*.db*"):
        assert reviewer.token.encode() not in file.read_bytes()


def test_guessing_is_slowed_down(owner, refused):
    guess = lambda: owner.client.post("/api/entry", json={"token": "x" * 43})  # noqa: E731
    for _ in range(access.TRIES_PER_MINUTE):
        refused(guess(), 403, "unknown-link")
    refused(guess(), 429, "too-many-tries")


def test_a_reviewer_cannot_flood(owner, refused, monkeypatch):
    reviewer, _ = owner.shared(1)
    monkeypatch.setattr(owner.client.app.state.access.writes, "_most", 3)
    for k in range(2):
        assert reviewer.comment(f"c{k}").status_code == 200
    refused(reviewer.comment("c9"), 429, "too-many-tries")
    assert reviewer.get("/review").status_code == 200


def test_the_cookie_is_closed_to_scripts_and_other_sites(owner):
    reviewer, _ = owner.shared(1)
    entered = reviewer.client.post("/api/entry", json={"token": reviewer.token})
    cookie = entered.headers["set-cookie"].lower()
    assert cookie.startswith(f"{SHARE_COOKIE}=")
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert reviewer.client.delete("/api/entry").status_code == 204
    assert reviewer.client.get("/api/visitor").json()["role"] == "owner"  # on loopback


SECRET = "s" * 43


@pytest.fixture
def secret_link_client(page):
    """The same refit, served where a secret is needed."""
    app = create_app(page.client.app.state.copies.refits, SECRET, ("boat.example",))
    return TestClient(app, base_url="http://boat.example")


def test_away_from_loopback_nobody_reads_without_the_secret(secret_link_client, refused):
    for route in sorted(routes(secret_link_client.app) - OPEN_TO_ALL):
        verb, path = route.split()
        answer = secret_link_client.request(verb, filled(path), json={})
        refused(answer, 403, "secret-link-needed")
    refused(
        secret_link_client.post("/api/entry", json={"token": "t" * 43}), 403, "unknown-link"
    )
    wrong = {"Cookie": f"{OWNER_COOKIE}=wrong ä".encode()}
    refused(secret_link_client.get("/api/refits", headers=wrong), 403, "secret-link-needed")


def test_the_secret_link_makes_the_owner(secret_link_client):
    entered = secret_link_client.post("/api/entry", json={"token": SECRET})
    assert entered.status_code == 204
    cookie = entered.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert secret_link_client.get("/api/visitor").json()["role"] == "owner"
    assert [r["id"] for r in secret_link_client.get("/api/refits").json()] == ["dot"]


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "", "[", "a b"])
def test_a_name_that_is_not_ours_is_refused(page, refused, host):
    answer = page.client.get("/api/refits", headers={"Host": host})
    refused(answer, 403, "foreign-host")


@pytest.mark.parametrize("host", ["localhost", "127.0.0.1:8000", "[::1]:80"])
def test_this_computers_own_addresses_are_ours(page, host):
    assert page.client.get("/api/refits", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize("host", ["192.168.1.5", "boat.example", "[2001:db8::1]:80"])
def test_plain_addresses_are_ours_where_a_secret_is_needed(secret_link_client, refused, host):
    response = secret_link_client.get("/api/refits", headers={"Host": host})
    refused(response, 403, "secret-link-needed")
    entered = secret_link_client.post(
        "/api/entry", json={"token": SECRET}, headers={"Host": host}
    )
    assert entered.status_code == 204


@pytest.mark.parametrize(
    "headers",
    [
        {"Host": "192.168.1.5"},
        {"X-Forwarded-For": "203.0.113.7"},
        {"Forwarded": "for=203.0.113.7"},
        {"Via": "1.1 somewhere"},
    ],
)
def test_a_port_that_is_carried_outside_makes_nobody_the_owner(page, refused, headers):
    problem = refused(
        page.client.get("/api/refits", headers=headers), 403, "secret-link-needed"
    )
    assert "--secret-link" in problem["detail"]


def test_behind_a_secret_link_a_forwarded_request_is_one_like_others(secret_link_client):
    headers = {"X-Forwarded-For": "203.0.113.7"}
    assert (
        secret_link_client.post(
            "/api/entry", json={"token": SECRET}, headers=headers
        ).status_code
        == 204
    )


def test_a_link_says_that_it_opens_on_this_computer_alone(owner):
    body = {"label": "x", "revisions": [1]}
    made = owner.post("/shares", body).json()
    assert made["opens_here_alone"]
    owner.client.app.state.address = "http://192.168.1.5:8000/"
    made = owner.post("/shares", body).json()
    assert not made["opens_here_alone"]
    assert made["link"].startswith("http://192.168.1.5:8000/#/shared/")


def test_whoever_is_shut_out_is_told_why(owner):
    reviewer, share = owner.shared(1)
    heard = []
    events = owner.client.app.state.reviews.events
    events.publish = lambda *event, **fields: heard.append((event, fields))
    owner.client.delete(f"{owner.address}/shares/{share['id']}")
    assert heard == [(("dot", "link"), {"share": share["id"]})]
    request = SimpleNamespace(
        app=owner.client.app, cookies={SHARE_COOKIE: reviewer.token}, state=SimpleNamespace()
    )
    assert "was revoked" in access.why_closed(request)
    request.cookies = {}
    assert access.why_closed(request) == ""


def test_an_origin_that_is_none_is_foreign(page, refused):
    response = page.client.post(
        "/api/refits", json={"name": "x"}, headers={"Origin": "http://["}
    )
    refused(response, 403, "foreign-origin")
