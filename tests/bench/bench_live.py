"""What an owner waits for: a dragged dimension, the CAD record behind it, a cold command.

Prints medians of wall time on this machine, warm unless it says cold; it judges nothing.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from refits import with_plates

from hullchange_api import serving
from hullchange_api.store.refits import Refits
from hullchange_api.wire.working_copy import Edit, Set
from hullchange_api.working_copy.working_copies import View, WorkingCopies

HEIGHT = "changes.deckhouse.parts.house.side_height_m"
DRAGS, WHOLES, COLD_RUNS, PLATES = 40, 5, 3, 200


def main():
    """The table of waiting times."""
    with tempfile.TemporaryDirectory() as folder:
        serving.add_demo(Path(folder))
        copies = WorkingCopies(Refits(Path(folder)))
        copy = copies.refits.working_copy("saltmarrow")
        copies.warm_up()  # as a server does
        drag(copies, copy, 6)
        rows = drag(copies, copy, DRAGS)
        report("drag: numbers of the chosen condition", [numbers for numbers, _ in rows])
        report("drag: and the meshes that changed", [sum(row) for row in rows])
        report(
            "quiet second answer: all conditions, every item",
            whole_answer_seconds(copies, copy),
        )
        again = [timed(lambda: copies.answer_text(copy, View(), full=True)) for _ in range(50)]
        report("the same for the next reader", again)
        plated(copies, copy)
        while copies.record(copy, None).record.state == "pending":
            time.sleep(0.05)
        records = []
        for _ in range(5):
            drag(copies, copy, 1)
            records.append(timed(lambda: settled(copies, copy)))
        report("CAD record after a drag, its process warm", records)
        copies.close()
    for arguments in (
        ["--help"],
        ["assess", "examples/saltmarrow.yaml", "--quick", "--json"],
        ["assess", "examples/saltmarrow.yaml", "--json"],
    ):
        report(
            f"cold: hullchange {' '.join(arguments)}",
            [new_process_seconds(arguments) for _ in range(COLD_RUNS)],
        )


def plated(copies, copy):
    """A drag of the same boat with many plates more, in turn with one of the boat as she is."""
    with tempfile.TemporaryDirectory() as folder:
        serving.add_demo(Path(folder))
        others = WorkingCopies(Refits(Path(folder)))
        other = others.refits.working_copy("saltmarrow")
        parts = with_plates({}, PLATES)["changes"]["plates"]
        step = Set(path="changes.plates", value=parts)
        others.edited(other, Edit(label="plates", steps=(step,)), other.state.edit, None)
        own, theirs = [], []
        drag(others, other, 4, away_m=0.0011)  # its houses are other ones
        for _ in range(DRAGS):
            own += drag(copies, copy, 1)
            theirs += drag(others, other, 1)
        report("drag in turn with the next", [numbers for numbers, _ in own])
        report(f"drag with {PLATES} plates more", [numbers for numbers, _ in theirs])
        report(f"second answer with {PLATES} plates more", whole_answer_seconds(others, other))
        others.close()


def whole_answer_seconds(copies, copy):
    """Seconds of whole answers, each after an edit."""
    seconds = []
    for _ in range(WHOLES):
        drag(copies, copy, 1)
        seconds.append(timed(lambda: copies.answer(copy, View(), full=True)))
    return seconds


def drag(copies, copy, count, away_m=0.0):
    """(numbers, meshes) seconds of each of ``count`` edits of the house's height."""
    height = copy.state.plain["changes"]["deckhouse"]["parts"]["house"]["side_height_m"]
    known = {part.mesh for part in copies.answer(copy, View(), full=False).scene}
    rows = []
    for _ in range(count):
        height_m = round(0.55 + (height - 0.55 + 0.003 + away_m) % 0.1, 4)
        away_m = 0.0
        height = height_m
        edit = Edit(label="height", steps=(Set(path=HEIGHT, value=height_m),), gesture="bench")
        began = time.perf_counter()
        answer = copies.edited(copy, edit, copy.state.edit, None)
        answer.model_dump_json()
        numbers = time.perf_counter() - began
        fresh = [part.mesh for part in answer.scene if part.mesh not in known]
        for mesh in fresh:
            copies.mesh(mesh.rsplit("/", 1)[1].removesuffix(".glb"))
        known.update(fresh)
        rows.append((numbers, time.perf_counter() - began - numbers))
    return rows


def settled(copies, copy):
    """Wait until the record of the working copy is held."""
    while copies.record(copy, None).record.state == "pending":
        pass


def timed(question):
    """Seconds that a call takes."""
    began = time.perf_counter()
    question()
    return time.perf_counter() - began


def new_process_seconds(arguments):
    """Seconds of a command in a process of its own."""
    return timed(
        lambda: subprocess.run(
            [sys.executable, "-m", "hullchange_api", *arguments],
            check=False,
            stdout=subprocess.DEVNULL,
        )
    )


def report(what, seconds):
    """One line: median and worst."""
    middle, worst = statistics.median(seconds), max(seconds)
    print(f"{what:60} {1000 * middle:8.0f} ms   worst {1000 * worst:8.0f} ms")


if __name__ == "__main__":
    main()
