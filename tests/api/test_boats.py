"""Boats of the owner: copied, opened from a file, begun from an example, drawn small."""

from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from hullchange_api.app import create_app
from hullchange_api.store.refits import Refits

HOST = "127.0.0.1"
EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def server(tmp_path):
    app = create_app(Refits(tmp_path / "data"))
    with TestClient(app, base_url=f"http://{HOST}") as client:
        yield client


def listed(server):
    return {card["id"]: card for card in server.get("/api/refits").json()}


def refused(response, code):
    assert response.status_code in (404, 409, 422)
    assert response.json()["code"] == code
    return response.json()["detail"]


def test_examples_are_listed_and_opened_once(server):
    examples = {card["id"]: card for card in server.get("/api/examples").json()}
    assert "cutter" in examples["saltmarrow"]["about"]
    for _ in range(2):
        opened = server.post("/api/examples/saltmarrow")
        assert opened.status_code == 201
        assert opened.json()["name"] == "Saltmarrow"
    assert list(listed(server)) == ["saltmarrow"]
    refused(server.post("/api/examples/tub"), "unknown-refit")


def test_a_copy_has_the_boat_and_none_of_her_history(server):
    server.post("/api/examples/saltmarrow")
    working = "/api/refits/saltmarrow/revisions/working"
    step = {"op": "set", "path": "survey.vcg.z_m", "value": 0.12}
    edit = server.get(working).headers["etag"]
    body = {"label": "VCG", "steps": [step]}
    assert server.patch(working, json=body, headers={"If-Match": edit}).is_success
    copied = server.post("/api/refits/saltmarrow/copy", json={"name": "Salt & Marrow"})
    assert copied.status_code == 201
    card = copied.json()
    assert card["name"] == "Salt & Marrow"
    assert Path(card["path"]).is_file()
    other = server.get(f"/api/refits/{card['id']}/revisions/working").json()
    assert other["document"]["survey"]["vcg"]["z_m"] == 0.12
    assert not other["can_undo"]
    assert "# " in Path(card["path"]).read_text(encoding="utf-8")
    again = server.post("/api/refits/saltmarrow/copy", json={"name": "Salt & Marrow"})
    refused(again, "refit-exists")


def test_a_file_is_opened_as_it_is_or_refused_in_words(server):
    text = (EXAMPLES / "saltmarrow.yaml").read_text(encoding="utf-8")
    opened = server.post("/api/documents", json={"text": text, "name": "Чайка"})
    assert opened.json()["name"] == "Чайка"
    assert opened.json()["id"].isascii()
    assert "colour" in refused(
        server.post("/api/documents", json={"text": f"{text}\ncolour: red\n"}), "unknown-key"
    )
    in_a_file = text.replace("  lines:", "  lines: {file: lines.csv}\n  old:", 1)
    refused(server.post("/api/documents", json={"text": in_a_file}), "lines-elsewhere")
    assert len(listed(server)) == 1


def test_a_boat_is_drawn_small_from_the_side(server):
    server.post("/api/examples/saltmarrow")
    outlines = server.get("/api/refits/saltmarrow/outlines").json()
    assert {"hull", "appendage", "part"} <= {outline["role"] for outline in outlines}
    assert all(len(outline["points_m"]) > 1 for outline in outlines)
