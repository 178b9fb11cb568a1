"""A server of its own that is asked odd requests one after the other."""

import random
import sys
import traceback
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from cutting import ChildHere
from fastapi.testclient import TestClient
from odd_requests import OddRequests
from reviewing import Party, run_here, solids_here

from hullchange.document.yaml_text import parsed
from hullchange.start.invented import starting_document
from hullchange_api.app import create_app
from hullchange_api.cutting import jobs
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.store.refits import FILE_NAME, Refits
from hullchange_api.working_copy.access import SHARE_COOKIE

REQUESTS_PER_SERVER = 1000
"""Requests after which a new server is begun, so that she is not all taken apart."""


def statuses_and_failures(seed, most, report):
    """How often each status was answered, and where it failed how often.

    Args:
        seed: of all chance.
        most: number of requests.
        report: called with the first failure of each place.
    """
    draw, statuses, failures = random.Random(seed), Counter(), Counter()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(CadWorker, "solids", solids_here)
        patch.setattr(CadWorker, "run", run_here)
        patch.setattr(jobs, "Child", ChildHere)
        for start in range(0, most, REQUESTS_PER_SERVER):
            with TemporaryDirectory() as folder:
                run = _ServerRun(Path(folder), draw, statuses, failures)
                run.run(min(REQUESTS_PER_SERVER, most - start), report)
    return statuses, failures


class _ServerRun:
    def __init__(self, folder, draw, statuses, failures):
        self._draw, self._statuses, self._failures = draw, statuses, failures
        self._text = starting_document("Dot")
        kept = folder / "dot" / FILE_NAME
        kept.parent.mkdir()
        kept.write_text(self._text, encoding="utf-8")
        self._app = create_app(Refits(folder))

    def run(self, most, report):
        with TestClient(self._app, base_url="http://127.0.0.1") as client:
            owner = Party(client)
            owner.freeze()
            owner.comment("c")
            owner.attach("a")
            self._app.state.access.writes._most = most
            reviewer, _ = owner.shared(1)
            described = client.get("/api/openapi.json").json()
            odd = OddRequests(self._draw, described, parsed(self._text).document())
            copy = self._app.state.copies.refits.working_copy("dot")
            for _ in range(most):
                label, method, path, how = odd.request(copy.state.edit)
                if self._draw.random() < 0.2:
                    how["headers"]["Cookie"] = f"{SHARE_COOKIE}={reviewer.token}"
                self._ask(client, label, (method, path, how), report)
                client.cookies.clear()

    def _ask(self, client, label, request, report):
        method, path, how = request
        trace = ""
        try:
            status = client.request(method, path, **how).status_code
            where = f"{status} {label}" if status >= 500 else ""
        except Exception:
            trace = traceback.format_exc(limit=-8)
            last = traceback.extract_tb(sys.exc_info()[2])[-1]
            where, status = f"{last.filename}:{last.lineno}", 500
        self._statuses[status] += 1
        if where:
            self._failures[where] += 1
            if self._failures[where] == 1:
                report(f"{label}\n{str(how)[:1500]}\n{trace}")
