"""Anything at all, asked of the API or written in a document: answered or refused.

A small part with a fixed seed; `tests/fuzz` asks as much as one likes.
"""

import random
import sys
from collections import Counter

import pytest
import schemathesis
from cutting import ChildHere
from every_key import every_key_document
from hypothesis import HealthCheck, Phase, given, settings
from leaves import (
    GRAMMAR,
    every_broken,
    holds,
    keys_of_grammar,
    outcome,
    sound_document,
    with_leaf,
)
from odd_server import statuses_and_failures as asked_oddly
from refits import demo_document, workboat_document
from reviewing import Party, run_here, solids_here

from hullchange_api.cutting import jobs
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.working_copy.access import SHARE_COOKIE, TRIES_PER_MINUTE

HOST = {"Host": "127.0.0.1"}
NEVER_ENDS = "/api/refits/{refit}/events"
EXAMPLES = 10
SEED, REQUESTS, BROKEN = 20_261_130, 250, 40
DOCUMENTS = [demo_document, workboat_document, every_key_document, sound_document]
HOUSE = ("changes", "deckhouse", "parts", "house")
HEAVY = {
    "GET /api/refits/{refit}/revisions/working/allowance": 1,
    "POST /api/refits/{refit}/revisions": 3,
    "POST /api/refits/{refit}/revisions/{revision}/cutting": 1,
}


@schemathesis.serializer("application/zip")
def as_it_is(_, value):
    """A body that is bytes already."""
    return value if isinstance(value, bytes) else str(value).encode()


@pytest.fixture
def owner(page, monkeypatch):
    monkeypatch.setattr(CadWorker, "solids", solids_here)
    monkeypatch.setattr(CadWorker, "run", run_here)
    monkeypatch.setattr(jobs, "Child", ChildHere)
    owner = Party(page.client)
    assert owner.freeze().status_code == 201
    return owner


def asked(client, headers=HOST, examples=EXAMPLES):
    """How often each operation answered with each status."""
    app = client.app
    schema = schemathesis.openapi.from_asgi("/api/openapi.json", app, headers=HOST)
    copy = app.state.copies.refits.working_copy("dot")

    @schema.hook
    def map_path_parameters(_, parameters):
        known = {"refit": "dot", "revision": 1}
        return {name: known.get(name, value) for name, value in (parameters or {}).items()}

    def answered(operation):
        most = min(examples, HEAVY.get(operation.label, examples))
        statuses = Counter()

        @settings(
            max_examples=most,
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
            database=None,
        )
        @given(case=operation.as_strategy())
        def ask(case):
            seen = {"If-Match": f'"{copy.state.edit}"'} if case.headers else {}
            answer = case.call(headers={**headers, **seen})
            assert answer.status_code < 500, answer.text
            statuses[answer.status_code] += 1

        ask()
        return statuses

    operations = [result.ok() for result in schema.get_all_operations()]
    return {o.label: answered(o) for o in operations if o.path != NEVER_ENDS}


@pytest.mark.slow
def test_the_owner_is_answered_or_refused(owner):
    statuses_by_request = asked(owner.client)
    assert len(statuses_by_request) > 25
    reached = {label for label, statuses in statuses_by_request.items() if min(statuses) < 300}
    # without a pack the rest of cutting answers that there is none
    reads = {label for label in statuses_by_request if label.startswith("GET /api/refits")}
    assert {label for label in reads - reached if "/cutting/" not in label} <= {
        "GET /api/refits/{refit}/attachments/{attachment}",
        "GET /api/refits/{refit}/revisions/{revision}/meshes/{name}.glb",
        # any text is hardly the path of a figure
        "GET /api/refits/{refit}/revisions/{revision}/explanation",
        "GET /api/refits/{refit}/revisions/working/explanation",
        # nor the name of a photograph
        "GET /api/refits/{refit}/revisions/{revision}/photograph",
        # nor that of a change
        "GET /api/refits/{refit}/revisions/working/proposals",
        # nor that of an old house
        "GET /api/refits/{refit}/revisions/working/proposals/raised-house",
    }
    assert "POST /api/refits/{refit}/comments" in reached


@pytest.mark.slow
def test_a_reviewer_is_answered_or_refused(owner, monkeypatch):
    reviewer, _ = owner.shared(1)
    monkeypatch.setattr(owner.client.app.state.access.writes, "_most", 1_000)
    statuses_by_request = asked(
        owner.client, {**HOST, "Cookie": f"{SHARE_COOKIE}={reviewer.token}"}, 4
    )
    shut = {
        label for label, statuses in statuses_by_request.items() if set(statuses) <= {403, 422}
    }
    assert "POST /api/refits/{refit}/comments" not in shut
    assert {"POST /api/refits", "POST /api/refits/{refit}/shares"} <= shut
    assert statuses_by_request["POST /api/entry"][403] <= TRIES_PER_MINUTE


@pytest.mark.slow
def test_odd_requests_are_answered_or_refused():
    statuses, failures = asked_oddly(SEED, REQUESTS, report=sys.stdout.write)
    assert failures == {}, f"seed {SEED}"
    assert statuses.total() == REQUESTS
    assert statuses[200] > REQUESTS / 10


@pytest.mark.slow
@pytest.mark.parametrize("document", DOCUMENTS)
def test_broken_leaves_are_answered_or_refused(tmp_path, document):
    outcomes = Counter()
    for what, make in every_broken(document(), random.Random(SEED))[:BROKEN]:
        sys.stdout.write(f"seed {SEED}: {what}\n")  # shown where it fails
        outcomes[outcome(make(), tmp_path, None)] += 1
    assert len(outcomes) > 5


def test_every_key_of_the_grammar_stands_in_a_document_that_is_broken():
    plain = [document() for document in DOCUMENTS]
    alike = ("existing", "*"), ("options", "*", "adds")  # parts and changes once more
    for steps in keys_of_grammar(GRAMMAR):
        if steps[-1] != "note" and not any(steps[: len(one)] == one for one in alike):
            assert any(holds(one, steps) for one in plain), ".".join(steps)


ONCE_FELL = (
    (("survey", "plus_minus_m"), 5e-324, "out-of-range"),
    (("survey", "marks", "aft", "plus_minus_m"), 5e-324, "answered"),
    (("hull", "deck", "at_half_breadth_m"), 1e-12, "out-of-range"),
    ((*HOUSE, "front_windows", "corner_radius_m"), 5e-324, "answered"),
    (("changes", "electric-drive", "adds", "motor", "plus_minus_kg"), 5_000.0, "answered"),
    (("rig", "centre_of_effort_z_m"), 0.0, "answered"),
    (("survey", "vcg", "z_m"), 10.0, "answered"),
    (("format",), 10**400, "not-finite"),
)
"""Leaf, value and outcome of what fell when every leaf was asked in every way."""


@pytest.mark.parametrize(("steps", "value", "ends"), ONCE_FELL)
def test_what_once_fell_is_answered_or_refused(steps, value, ends):
    assert outcome(with_leaf(demo_document(), steps, value)) == ends
