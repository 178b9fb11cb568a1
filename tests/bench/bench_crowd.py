"""Writers on one refit for a minute; viewers beside one who drags; readers beside writers."""

import statistics
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from crowd import (
    answer_times_of_readers_and_writers,
    drag,
    read_by_viewers_during,
    write_at_once,
)
from server_process import Server

from hullchange.start.invented import starting_document

EXAMPLE = Path(__file__).parents[2] / "examples/saltmarrow.yaml"
READERS, FEW_WRITERS, THINK_S = 20, 5, 1.0
WRITERS, VIEWERS, STEPS, PAUSE_S, READ_EVERY_S = 20, 50, 60, 0.06, 1.0


def main(seconds=60):
    """The table."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / EXAMPLE.name
        file.write_bytes(EXAMPLE.read_bytes())
        with Server(file) as server:
            recorded(server)
            drag(server, 10, PAUSE_S)
            alone = drag(server, STEPS, PAUSE_S)
            report("a drag alone", alone)
            crowded, reads = read_by_viewers_during(
                server, VIEWERS, READ_EVERY_S, lambda: drag(server, STEPS + 1, PAUSE_S)
            )
            report(f"a drag beside {VIEWERS} viewers, {reads} reads", crowded)
            for writers in (0, FEW_WRITERS):
                whole, edits = answer_times_of_readers_and_writers(
                    server, READERS, writers, THINK_S, seconds
                )
                report(f"a whole answer: {READERS} readers, {writers} writers", whole)
                report(f"an edit of theirs, {len(edits)} taken", edits or [0.0])
        file = Path(folder) / "dot.yaml"
        file.write_text(starting_document("Dot"), encoding="utf-8")
        with Server(file) as server:
            taken, lost = write_at_once(server, WRITERS, seconds)
            print(f"{WRITERS} writers, {seconds} s: {taken} edits taken, {lost} got 412")


def recorded(server):
    """Wait until the CAD record is done, so that it does not run beside the drag."""
    caller = server.caller()
    while caller.ask("GET", f"{caller.working}/record")[1]["record"]["state"] == "pending":
        time.sleep(0.2)


def report(what, seconds):
    """One line: median and 95th percentile."""
    each = sorted(seconds)
    late = each[int(0.95 * len(each))]
    middle = statistics.median(each)
    print(f"{what:50} {1000 * middle:6.0f} ms   95 % {1000 * late:6.0f} ms", flush=True)


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
