"""A server that is killed while pages edit, comment and sign, over and over."""

import http.client
import random
import threading
import time
from contextlib import closing
from pathlib import Path
from uuid import uuid4

from killed_store import (
    ABOUT,
    COMMENTERS,
    EDITORS,
    REFIT,
    Acknowledged,
    found,
    require_intact,
    weight,
)
from server_process import Server, run_in_threads, waited

from hullchange.start.invented import starting_document
from hullchange_api.store.refits import Refits
from hullchange_api.store.review_records import ReviewRecords
from hullchange_api.store.revisions import Revisions

CUT_OFF = (OSError, http.client.HTTPException)


def killed(folder, rounds, seed=1, report=lambda _: None):
    """What was acknowledged in all; every loss is an assertion."""
    file = Path(folder) / f"{REFIT}.yaml"
    file.write_text(starting_document("Dot"), encoding="utf-8")
    data = file.parent / "data"
    chance, held = random.Random(seed), Acknowledged()
    for number in range(rounds):
        signed = kept(data, file, held)
        lines = written(Server(file), signed, held.values, chance.uniform(0.0, 1.0))
        held.take(lines)
        require_intact(data, file)
        report(f"{number + 1}: {dict(held.counted)}")
    kept(data, file, held)
    return held.counted


def kept(data, file, held):
    """The hash of a revision to sign, where the store holds all that was acknowledged."""
    refits = Refits(data, file)
    copy, revisions = refits.working_copy(REFIT), Revisions(refits.database)
    held.compare(found(copy, ReviewRecords(refits.database)))
    files = {"document.yaml": file.read_bytes()}
    cards = revisions.cards(REFIT) or (revisions.freeze(REFIT, ABOUT, files),)
    refits.close()
    return cards[0].sha256


def written(server, signed, values, seconds):
    """What several pages had acknowledged when the server was killed."""
    lines = []

    def until_cut_off(task, *given):
        def run():
            try:
                with closing(server.caller()) as caller:
                    task(caller, lines.append, *given)
            except CUT_OFF:
                assert stop.is_set(), "the server ended by itself"

        return run

    def kill():
        waited(lambda: any(verb == "kept" for verb, _ in lines))
        time.sleep(seconds)
        stop.set()
        server.kill()

    stop = threading.Event()
    tasks = [until_cut_off(edit, str(k), values[str(k)]) for k in range(EDITORS)]
    tasks += [until_cut_off(comment_and_sign, signed)] * COMMENTERS
    run_in_threads([*tasks, kill])
    return lines


def edit(caller, report, editor, value):
    """Count up in one value of the document, now and then by a drag."""
    while True:
        value += 1
        report(("begins", (editor, value)))
        item = {"mass_kg": value, "at_m": [4, 0, 0], "from": "weighed"}
        drag = f"{editor}-{value // 5}" if value % 2 else None
        _, answer = caller.edit_until_taken(weight(editor), item, gesture=drag)
        assert answer["trouble"] == ""
        report(("kept", (editor, value)))


def comment_and_sign(caller, report, signed):
    """Comment and sign."""
    who = {"author": "A"}
    while True:
        comment = {"on": {}, "kind": "question", "text": "Is this so?", **who}
        signature = {
            "revision_sha256": signed,
            "verdict": "agreed",
            "scope": "floating",
            **who,
        }
        for place, body in (("comments", comment), ("signatures", signature)):
            name = str(uuid4())
            status, answer = caller.ask("POST", f"{caller.refit}/{place}", {"id": name, **body})
            assert status == 200, answer
            report(("written", name))
