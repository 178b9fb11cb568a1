"""The edge of the server: kinds, cautions, limits at the door, one shape of refusal, record."""

import time
from concurrent.futures import Future, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from types import SimpleNamespace
from unittest.mock import Mock

import pytest
from fastapi.testclient import TestClient
from refits import SALTMARROW, demo

from hullchange.answer.cautions import CAUTIONS
from hullchange.errors import DocumentError, Fault, ModelError
from hullchange.parts.registry import KINDS
from hullchange_api.app import create_app
from hullchange_api.processes.cad_worker import MOST_IDLE, CadWorker
from hullchange_api.wire.problems import STATUS_OF_CODE, TITLES, problem_of
from hullchange_api.working_copy import working_copies
from hullchange_api.working_copy.request_limits import LARGEST_BODY

WORKING = "/api/refits/dot/revisions/working"


def test_kinds_come_with_the_form_they_draw(saltmarrow):
    kinds = {kind["kind"]: kind for kind in saltmarrow.client.get("/api/kinds").json()}
    assert set(kinds) == set(KINDS)
    for name, kind in kinds.items():
        assert kind["title"]
        assert kind["about"]
        schema = kind["parameters"]
        assert schema["properties"]["kind"]["const"] == name
        required = set(schema.get("required", ())) - {"kind"}
        assert required <= set(kind["example"])
        numbers = [p for p in schema["properties"].values() if p.get("type") == "number"]
        for field in numbers:
            assert field["title"]
            assert field["description"]
            assert field["minimum"] <= field["typical_minimum"] < field["typical_maximum"]
            assert field["typical_maximum"] <= field["maximum"]
            assert field["step"] > 0


def test_an_example_of_each_kind_is_taken_as_it_is(serve):
    page = serve(SALTMARROW.read_text(encoding="utf-8"))
    page.read()
    for kind in page.client.get("/api/kinds").json():
        example = kind["example"] | {"kind": kind["kind"]}
        name = "tried-" + kind["kind"].replace("_", "-")
        answer = page.put({"changes.tried": {"parts": {name: example}}})
        assert answer.status_code == 200, answer.json()
        assert name in {p["id"] for p in answer.json()["assessment"]["parts"]}


def test_cautions_in_their_order(saltmarrow):
    cautions = saltmarrow.client.get("/api/cautions").json()
    assert [c["topic"] for c in cautions] == [c.topic for c in CAUTIONS]
    assert all(c["sentence"].endswith(".") and c["source"] for c in cautions)
    assert {"hot work", "batteries", "ballast"} <= {c["topic"] for c in cautions}


def test_a_body_that_is_too_large_is_stopped_at_the_door(page, refused):
    body = b'{"label": "' + b"x" * LARGEST_BODY + b'", "steps": []}'
    answer = page.client.patch(WORKING, content=body, headers={"If-Match": '"1"'})
    refused(answer, 413, "too-large")

    def stream():
        yield b"x" * 10

    unsaid = page.client.patch(WORKING, content=stream(), headers={"If-Match": '"1"'})
    refused(unsaid, 413, "too-large")
    assert page.read().json()["edit"] == 1


def test_half_a_sign_is_stopped_at_the_door_and_harms_nothing(page, refused):
    def sent(label):
        body = b'{"label": "' + label + b'", "steps": []}'
        headers = {"If-Match": '"1"', "Content-Type": "application/json"}
        return page.client.patch(WORKING, content=body, headers=headers)

    refused(sent(rb"\ud800"), 422, "not-text")
    assert sent(rb"\ud83d\ude00").json()["undo_label"] == "\U0001f600"


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", "http://127.0.0.1:1234", "https://127.0.0.1.evil"]
)
def test_a_foreign_page_may_not_write(page, refused, origin):
    body = {"label": "x", "steps": []}
    headers = {"Origin": origin, "If-Match": '"1"'}
    refused(page.client.patch(WORKING, json=body, headers=headers), 403, "foreign-origin")
    refused(page.client.post(f"{WORKING}/undo", headers=headers), 403, "foreign-origin")
    refused(
        page.client.post("/api/refits", json={"name": "x"}, headers=headers),
        403,
        "foreign-origin",
    )
    assert page.client.get(WORKING, headers=headers).status_code == 200
    own = {"Origin": "http://127.0.0.1", "If-Match": '"1"'}
    assert page.client.patch(WORKING, json=body, headers=own).status_code == 200


def test_every_answer_is_strict_with_the_browser(page):
    for answer in (page.read(), page.client.get("/api/refits/nobody/revisions/working")):
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert "default-src 'self'" in answer.headers["content-security-policy"]
        assert answer.headers["x-frame-options"] == "DENY"
        assert answer.headers["referrer-policy"] == "no-referrer"


@pytest.mark.parametrize(
    ("method", "address", "status"),
    [
        ("GET", "/api/nothing", 404),
        ("DELETE", WORKING, 405),
        ("GET", "/api/refits/dot/revisions/7/nothing", 404),
    ],
)
def test_what_is_not_there_is_a_problem_too(page, refused, method, address, status):
    refused(page.client.request(method, address), status, f"http-{status}")


def test_a_wrong_question_is_a_problem_too(page, refused):
    problem = refused(page.client.get(WORKING, params={"full": "perhaps"}), 422, "bad-request")
    assert problem["faults"][0]["place"] == "query.full"


def test_every_status_has_a_title_and_every_fault_its_place():
    assert set(STATUS_OF_CODE.values()) | {422} <= set(TITLES)
    problem = problem_of(ModelError("sinks", "She sinks.", "conditions.a"))
    assert (problem.status, problem.code, problem.detail) == (
        422,
        "sinks",
        "conditions.a: She sinks.",
    )
    assert [f.place for f in problem.faults] == ["conditions.a"]
    both = DocumentError((Fault("a", "x", "One."), Fault("b", "y", "Two.")))
    assert [f.code for f in problem_of(both).faults] == ["a", "b"]


def test_the_contract_describes_itself_without_refits():
    described = create_app().openapi()
    assert described["openapi"].startswith("3.1")
    assert WORKING.replace("dot", "{refit}") in described["paths"]
    patch = described["paths"][WORKING.replace("dot", "{refit}")]["patch"]
    assert "4XX" in patch["responses"]


@pytest.mark.cad
@pytest.mark.slow
def test_the_record_follows_from_a_process_of_its_own(saltmarrow):
    address = f"{saltmarrow.address}/record"
    edit = saltmarrow.read().json()["edit"]
    for _ in range(60):
        answer = saltmarrow.client.get(address).json()
        if answer["record"]["state"] != "pending":
            break
        time.sleep(0.2)
    assert answer["edit"] == edit
    assert answer["record"]["state"] == "held"
    assert [p["id"] for p in answer["record"]["parts"]] == list(demo()[0].parts)
    again = saltmarrow.client.get(address).json()  # kept by the parts' keys
    assert again == answer


class DeadPool:
    """A pool whose process died."""

    def submit(self, *_):
        raise BrokenProcessPool

    def shutdown(self, **_): ...


def test_a_cad_process_that_died_is_reported_and_replaced():
    cad = CadWorker()
    cad._pool = DeadPool()
    with pytest.raises(ModelError) as refused:
        cad.solids(demo()[0].parts, 0.0)
    assert refused.value.code == "cad-ended"
    assert cad._pool is None
    cad.close()


class SlowPool(DeadPool):
    """A pool that answers when it is told to."""

    def __init__(self):
        self.asked = []

    def submit(self, *_):
        self.asked.append(Future())
        return self.asked[-1]

    def answer(self):
        for future in self.asked:
            if not future.done():
                future.set_result(())


def parts_called(*names):
    """Parts as the CAD process sees them."""
    return {name: SimpleNamespace(key=name, part=SimpleNamespace(plates=())) for name in names}


def test_a_boat_of_many_plates_is_weighed_whole():
    cad, many = CadWorker(), parts_called(*map(str, range(200)))
    cad._pool = pool = SlowPool()
    assert cad.solids(many, 0.0) is None
    assert cad.solids(many, 0.0) is None
    pool.answer()
    assert set(cad.solids(many, 0.0)) == set(many)
    assert len(pool.asked) == 200


def test_what_a_drag_left_behind_is_given_up_and_what_is_waited_for_is_not():
    cad, waited = CadWorker(), parts_called("freeze")
    cad._pool = pool = SlowPool()
    with ThreadPoolExecutor(1) as other:
        frozen = other.submit(cad.solids, waited, 60.0)
        while not pool.asked:
            time.sleep(0.01)
        for step in range(MOST_IDLE + 10):
            assert cad.solids(parts_called(f"step-{step}"), 0.0) is None
        given_up = [future.cancelled() for future in pool.asked]
        pool.answer()
        assert frozen.result() == {"freeze": ()}
    assert given_up == [False, *[True] * 9, *[False] * (MOST_IDLE + 1)]


def test_a_server_that_ends_says_so_to_who_waits_for_solids():
    cad = CadWorker()
    cad._pool = pool = SlowPool()
    cad.solids(parts_called("one"), 0.0)
    pool.asked[0].cancel()
    with pytest.raises(ModelError) as refused:
        cad.solids(parts_called("one"), 0.0)
    assert refused.value.code == "cad-ended"


def test_a_mistake_of_the_program_is_reported_in_the_shape_of_every_refusal(serve, monkeypatch):
    page = serve()
    quiet = TestClient(page.client.app, page.client.base_url, raise_server_exceptions=False)
    monkeypatch.setattr(
        "hullchange_api.working_copy.working_copies.profile_of", lambda *_: [][1]
    )
    answer = quiet.get(page.address, params={"full": False})
    problem = answer.json()
    assert (answer.status_code, problem["status"], problem["code"]) == (500, 500, "mistake")
    assert "IndexError, test_limits_and_problems.py" in problem["detail"]
    assert problem["detail"].endswith("Reload the page to see what was saved.")


def test_a_server_begins_with_a_boat_on_which_the_program_fails(serve, monkeypatch, caplog):
    copies = serve().client.app.state.copies
    monkeypatch.setattr(working_copies, "gc", Mock())
    monkeypatch.setattr(
        "hullchange_api.working_copy.working_copies.profile_of", lambda *_: [][1]
    )
    copies.warm_up()
    assert (
        "answering dot for the first time (IndexError, test_limits_and_problems.py"
        in caplog.text
    )
