"""A store that is killed while several threads write to it, over and over.

Run as ``python killed_store.py FOLDER ROUNDS SEED``; says at last, as JSON, what it came to.
Each round is a child process that is cut off by SIGKILL.  The next child tells what it finds,
and that must hold everything the one before acknowledged.
"""

import json
import os
import random
import signal
import sqlite3
import sys
import threading
import time
from collections import Counter
from contextlib import closing
from hashlib import sha256
from pathlib import Path
from uuid import uuid4

import alembic.command  # noqa: F401 - loaded once, for all children

from hullchange.document.yaml_text import parsed
from hullchange.errors import ModelError
from hullchange.start.invented import starting_document
from hullchange_api.store.files import DATABASE, FILE_NAME
from hullchange_api.store.refits import Refits
from hullchange_api.store.review_records import ReviewRecords
from hullchange_api.store.revisions import Revisions, now
from hullchange_api.wire.review import NewComment, NewSignature, Pin
from hullchange_api.wire.working_copy import Edit, Set

REFIT = "dot"
EDITORS, COMMENTERS = 3, 2
MOTOR = "changes.drive.adds.motor.mass_kg"
ABOUT = {"edit": 1, "note": "", "tool": "0", "document_sha256": "0" * 64}


def weight(editor):
    """The path that one editor writes to."""
    return f"changes.drive.adds.w-{editor}"


def main(folder, rounds, seed):
    """Kill as often as asked; every loss is an assertion."""
    kept = Path(folder) / REFIT / FILE_NAME
    kept.parent.mkdir(parents=True)
    kept.write_text(starting_document("Dot"), encoding="utf-8")
    chance = random.Random(int(seed))
    held = Acknowledged()
    for _ in range(int(rounds)):
        with closing(Child(folder, held.values)) as child:
            held.compare(child.found())
            child.write_until(chance.randint(1, 6), chance.uniform(0.0, 0.05))
        held.take(child.messages)
        require_intact(Path(folder), kept)
    with closing(Child(folder, held.values)) as child:
        held.compare(child.found())
    sys.stdout.write(json.dumps(held.counted) + "\n")


class Acknowledged:
    """What was acknowledged so far, and what was on its way when it was cut off."""

    def __init__(self):
        self.values, self.begun = Counter(), Counter()
        self.records = set()
        self.counted = Counter()

    def take(self, lines):
        """Count what a child acknowledged before it was killed."""
        for verb, what in lines:
            if verb == "begins":
                self.begun[what[0]] = what[1]
            elif verb == "kept":
                self.values[what[0]] = what[1]
            elif verb == "written":
                self.records.add(what)
            self.counted[verb] += 1

    def compare(self, found):
        """Require all of that to be there, and nothing that was never written."""
        assert set(found["records"]) >= self.records
        for editor in map(str, range(EDITORS)):
            value = found["values"].get(editor, 0)
            assert self.values[editor] <= value <= self.begun[editor], (editor, value, self)
            self.values[editor] = value


class Child:
    """A process over the store, read by its parent."""

    def __init__(self, folder, values):
        read_end, write_end = os.pipe()
        self.pid = os.fork()
        if self.pid == 0:
            os.close(read_end)
            with os.fdopen(write_end, "w", buffering=1) as stream:
                work(folder, values, LineWriter(stream))
        os.close(write_end)
        self.lines = os.fdopen(read_end)
        self.messages = []

    def found(self):
        """What it finds when it opens the store."""
        return json.loads(self.lines.readline())

    def write_until(self, acknowledged, seconds):
        """Let it write until it has acknowledged so many, and a little longer."""
        while sum(verb != "begins" for verb, _ in self.messages) < acknowledged:
            self.messages.append(json.loads(self.lines.readline()))
        time.sleep(seconds)

    def close(self):
        """Kill it, and read what it had written."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        whole = [line for line in self.lines if line.endswith("\n")]
        self.messages += [json.loads(line) for line in whole]
        self.lines.close()


class LineWriter:
    """Lines from several threads, each written at once."""

    def __init__(self, stream):
        self.stream, self.lock = stream, threading.Lock()

    def __call__(self, message):
        with self.lock:
            self.stream.write(json.dumps(message) + "\n")


def work(folder, values, report):
    """Tell what is there, then write until the end."""
    refits = Refits(Path(folder))
    copy, records = refits.working_copy(REFIT), ReviewRecords(refits.database)
    cards = Revisions(refits.database).cards(REFIT)
    if not cards:
        cards = (Revisions(refits.database).freeze(REFIT, ABOUT, {"document.yaml": b""}),)
    report(found(copy, records))
    tasks = [(edit, (copy, str(k), values[str(k)], report)) for k in range(EDITORS)]
    tasks += [(comment_and_sign, (records, cards[0].sha256, report))] * COMMENTERS
    threads = [threading.Thread(target=task, args=given) for task, given in tasks]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def found(copy, review):
    """What a store holds of all this."""
    adds = copy.state.plain["changes"]["drive"]["adds"]
    values = {n[2:]: item["mass_kg"] for n, item in adds.items() if n.startswith("w-")}
    records = [row.id for row in (*review.comments(REFIT), *review.signatures(REFIT))]
    return {"values": values, "records": records}


def edit(copy, editor, value, report):
    """Count up in one value of the document, now and then by a drag."""
    while True:
        value += 1
        report(("begins", (editor, value)))
        item = {"mass_kg": value, "at_m": [4, 0, 0], "from": "weighed"}
        one = Set(path=weight(editor), value=item)
        drag = f"{editor}-{value // 5}" if value % 2 else None
        change = Edit(label=f"{editor} {value}", steps=(one,), gesture=drag)
        while not edit_taken(copy, change):
            pass
        copy.wait_until_stored()
        assert copy.trouble == ""
        report(("kept", (editor, value)))


def edit_taken(copy, change):
    """Whether an edit came before all others."""
    try:
        copy.apply(change, copy.state.edit, lambda _: None)
    except ModelError as error:
        if error.code != "overtaken":
            raise
        return False
    return True


def comment_and_sign(records, sha256_of, report):
    """Comment and sign."""
    while True:
        comment = NewComment(
            id=str(uuid4()), on=Pin(), kind="question", text="Is this so?", author="A"
        )
        records.comment(REFIT, comment, "here", now())
        report(("written", comment.id))
        signature = NewSignature(
            id=str(uuid4()),
            revision_sha256=sha256_of,
            verdict="agreed",
            scope="floating",
            author="A",
        )
        records.signature(REFIT, signature, "here", now())
        report(("written", signature.id))


def require_intact(folder, file):
    """The database holds together, and the file is what the store says it is."""
    with closing(sqlite3.connect(folder / DATABASE)) as connection:
        ((verdict,),) = connection.execute("PRAGMA integrity_check").fetchall()
        assert verdict == "ok"
        rows = connection.execute("SELECT file_sha256, before_sha256 FROM refits").fetchall()
    text = file.read_bytes()
    assert sha256(text).hexdigest() in rows[0]
    assert parsed(text.decode()).document()["boat"]["name"] == "Dot"


if __name__ == "__main__":
    main(*sys.argv[1:])
