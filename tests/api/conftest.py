"""A server over a folder of its own, and a page that talks to it."""

from dataclasses import dataclass
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from hullchange.start.invented import starting_document
from hullchange_api.app import create_app
from hullchange_api.store.refits import FILE_NAME, Refits

HOST = "127.0.0.1"


@dataclass
class Page:
    """One refit as a page sees it: the last answer, and the edit number it goes on from."""

    client: TestClient
    refit: str
    seen: int = 0

    @property
    def address(self):
        return f"/api/refits/{self.refit}/revisions/working"

    @property
    def copy(self):
        return self.client.app.state.copies.refits.working_copy(self.refit)

    def read(self, full=False, **query):
        query = {"full": full, **query}
        return self.kept(self.client.get(self.address, params=query))

    def kept(self, response):
        if response.status_code == 200:
            self.seen = response.json()["edit"]
        return response

    def write(self, method, path="", json=None, expected=None, **query):
        headers = {"If-Match": f'"{self.seen if expected is None else expected}"'}
        address = self.address + path
        sent = self.client.request(method, address, json=json, headers=headers, params=query)
        return self.kept(sent)

    def put(self, values, label="an edit", expected=None, query=None, **edit):
        """One edit that sets values by path; None takes away what is there."""
        steps = [
            {"op": "remove", "path": path}
            if value is None
            else {"op": "set", "path": path, "value": value}
            for path, value in values.items()
        ]
        body = {"label": label, "steps": steps, **edit}
        return self.write("PATCH", json=body, expected=expected, **(query or {}))

    def undo(self, **query):
        return self.write("POST", "/undo", **query)

    def redo(self, **query):
        return self.write("POST", "/redo", **query)

    def saved(self):
        """The file's text once everything is written."""
        self.copy.save()
        return self.copy.file.read_text(encoding="utf-8")


@pytest.fixture
def serve(tmp_path):
    """A page over a text in a folder of its own; the server ends with the test."""
    open_clients = []

    def start(text=None, file=None, name="dot"):
        folder = tmp_path / "data"
        if file is None:
            kept = folder / name / FILE_NAME
            kept.parent.mkdir(parents=True)
            kept.write_text(text or starting_document("Dot"), encoding="utf-8")
        else:
            folder.mkdir()
            Path(file).write_text(text or starting_document("Dot"), encoding="utf-8")
            name = Path(file).stem
        client = TestClient(create_app(Refits(folder, file)), base_url=f"http://{HOST}")
        client.__enter__()
        open_clients.append(client)
        return Page(client, name)

    yield start
    for client in open_clients:
        client.__exit__(None, None, None)


@pytest.fixture
def page(serve):
    """A page over the document a new refit starts from."""
    page = serve()
    page.read()
    return page


@pytest.fixture(scope="module")
def saltmarrow(tmp_path_factory):
    """A page over Saltmarrow that is only read."""
    folder = tmp_path_factory.mktemp("data")
    text = (Path(__file__).parents[2] / "examples/saltmarrow.yaml").read_text(encoding="utf-8")
    kept = folder / "saltmarrow" / FILE_NAME
    kept.parent.mkdir()
    kept.write_text(text, encoding="utf-8")
    with TestClient(create_app(Refits(folder)), base_url=f"http://{HOST}") as client:
        yield Page(client, "saltmarrow")


def problem(response, status, code):
    """The problem of a refusal, in the one shape all have."""
    assert response.status_code == status, response.text
    assert response.headers["content-type"] == "application/problem+json"
    body = response.json()
    assert body.keys() == {"type", "title", "status", "detail", "code", "faults", "offers"}
    assert (body["status"], body["code"]) == (status, code)
    assert body["title"]
    assert body["detail"]
    return body


@pytest.fixture
def refused():
    """Checks that a response is a refusal by status and code, and answers its problem."""
    return problem


@pytest.fixture
def web(tmp_path):
    """A viewer as the build leaves it, with words that would end a script early."""
    folder = tmp_path / "web"
    (folder / "assets").mkdir(parents=True)
    (folder / "index.html").write_text(
        '<script src="./assets/a.js"></script><link href="./assets/a.css">'
    )
    (folder / "one-file.js").write_text('const end = "</script>";')
    (folder / "assets/a.css").write_text("body {}")
    (folder / "licenses.md").write_text("notices")
    return folder
