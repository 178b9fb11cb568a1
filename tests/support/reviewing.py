"""A refit under review, as the owner's page and a reviewer's page see it."""

from uuid import UUID, uuid5

from fastapi.testclient import TestClient

MOTOR = "changes.drive.adds.motor.mass_kg"
SHELF = "changes.drive.parts.battery-shelf"
FAMILY = UUID("9f3b7c52-0d0e-4a3e-8a53-0c1f6d0f9a11")
PHOTO = b"\xff\xd8\xff\xe0" + b"a photo of a scale"


def uuid(name):
    """The same id for the same name."""
    return str(uuid5(FAMILY, name))


class Party:
    """One side of a review: a page of its own, with its own cookies."""

    def __init__(self, client, refit="dot"):
        self.client = client
        self.address = f"/api/refits/{refit}"

    def get(self, path, **query):
        return self.client.get(self.address + path, params=query)

    def post(self, path, body, **more):
        return self.client.post(self.address + path, json=body, **more)

    def review(self):
        return self.get("/review").json()

    def freeze(self, note=""):
        edit = self.get("/revisions/working", full=False).json()["edit"]
        headers = {"If-Match": f'"{edit}"'}
        return self.post("/revisions", {"note": note}, headers=headers)

    def comment(self, name, text="Is this so?", author="Owner", **more):
        body = {"id": uuid(name), "on": {}, "kind": "question", "text": text, "author": author}
        return self.post("/comments", {**body, **more})

    def remark(self, on, name, kind="reply", text="It is.", author="Owner", **more):
        body = {"id": uuid(name), "kind": kind, "text": text, "author": author, **more}
        return self.post(f"/comments/{uuid(on)}/remarks", body)

    def sign(self, name, revision, verdict="agreed", author="Consultant", **more):
        body = {
            "id": uuid(name),
            "revision_sha256": revision["sha256"],
            "verdict": verdict,
            "scope": "floating and stability only",
            "author": author,
        }
        return self.post("/signatures", {**body, **more})

    def attach(self, name, file="scale.jpg", content=PHOTO, author="Owner"):
        query = {"id": uuid(name), "name": file, "author": author}
        headers = {"Content-Type": "application/octet-stream"}
        return self.client.post(
            f"{self.address}/attachments", params=query, content=content, headers=headers
        )

    def shared(self, *revisions, name="Consultant", **more):
        """The reviewer that a new link makes of somebody, and the link's card."""
        body = {"label": "the consultant", "revisions": list(revisions), **more}
        made = self.post("/shares", body).json()
        reviewer = Party(TestClient(self.client.app, base_url=str(self.client.base_url)))
        reviewer.address = self.address
        reviewer.token = made["link"].rsplit("/", 1)[1]
        entered = reviewer.client.post("/api/entry", json={"token": reviewer.token})
        assert entered.status_code == 204
        if name:
            assert reviewer.client.post("/api/visitor", json={"name": name}).status_code == 204
        return reviewer, made["share"]


def solids_here(_, parts, patience):  # noqa: ARG001 - in place of a method of CadWorker
    """Weighed solids from this process, where the CAD kernel is loaded once for all tests."""
    from hullchange.cad.solids import record_of

    return {name: record_of(part.part.plates) for name, part in parts.items()}


def run_here(_, work, *given):
    """What a worker would answer, from this process; in place of a method of CadWorker."""
    return work(*given)
