"""Many pages on one refit: writers who get in one another's way, viewers beside a drag."""

import threading
import time
from contextlib import closing

from server_process import run_in_threads

HEIGHT = "changes.deckhouse.parts.house.side_height_m"


def write_at_once(server, writers, seconds):
    """(acknowledged edits, losers) of writers who each count up a value of their own.

    Every loser gets 412, and every acknowledged edit is one number of the refit's edits.
    """
    taken, losses = {}, []
    until = time.monotonic() + seconds

    def write(writer):
        with closing(server.caller()) as caller:
            value = 0
            while value == 0 or time.monotonic() < until:
                value += 1
                item = {"mass_kg": value, "at_m": [4, 0, 0], "from": "weighed"}
                path = f"changes.drive.adds.w-{writer}"
                lost, answer = caller.edit_until_taken(path, item)
                losses.append(lost)
                adds = answer["document"]["changes"]["drive"]["adds"]
                assert adds[f"w-{writer}"]["mass_kg"] == value
                taken[writer] = value

    with closing(server.caller()) as caller:
        before = caller.seen()
    run_in_threads([lambda k=k: write(k) for k in range(writers)])
    # a connection of its own: one that was idle meanwhile is closed by the server
    with closing(server.caller()) as caller:
        answer = caller.ask("GET", caller.working)[1]
    adds = answer["document"]["changes"]["drive"]["adds"]
    assert {w: adds[f"w-{w}"]["mass_kg"] for w in taken} == taken
    assert answer["edit"] - before == sum(taken.values())
    assert answer["trouble"] == ""
    return sum(taken.values()), sum(losses)


def answer_times_of_readers_and_writers(server, readers, writers, pause_s, seconds):
    """(seconds of each whole answer, seconds of each edit) of readers beside writers."""
    waits, edits = [], []
    until = time.monotonic() + seconds

    def timed(action, times):
        began = time.perf_counter()
        action()
        times.append(time.perf_counter() - began)
        time.sleep(pause_s)

    def read():
        with closing(server.caller()) as caller:
            while time.monotonic() < until:
                timed(lambda: caller.fetch(caller.working), waits)

    def write(writer):
        with closing(server.caller()) as caller:
            value = 0
            while time.monotonic() < until:
                value += 1
                item = {"mass_kg": value, "at_m": [4, 0, 0], "from": "weighed"}
                path = f"changes.finish.adds.w-{writer}"
                timed(lambda p=path, i=item: caller.edit_until_taken(p, i), edits)

    run_in_threads([*[read] * readers, *(lambda k=k: write(k) for k in range(writers))])
    return waits, edits


def undone_labels(server, most):
    """Labels of the edits that undo takes back, one after another."""
    labels = []
    with closing(server.caller()) as caller:
        answer = caller.ask("GET", f"{caller.working}?full=false")[1]
        while answer["can_undo"] and len(labels) < most:
            labels.append(answer["undo_label"])
            _, answer = caller.ask("POST", f"{caller.working}/undo", None, answer["edit"])
    return labels


def drag(server, steps, pause_s):
    """Seconds of each answer to a drag of the house's height."""
    waits = []
    with closing(server.caller()) as caller:
        seen = caller.seen()
        for step in range(steps):
            time.sleep(pause_s)
            began = time.perf_counter()
            height_m = round(0.5 + 0.002 * (step * 7 % 50), 4)
            status, answer = caller.edit(HEIGHT, height_m, seen, gesture=f"drag-{steps}")
            waits.append(time.perf_counter() - began)
            assert status == 200, answer
            seen = answer["edit"]
    return waits


def read_by_viewers_during(server, viewers, pause_s, task):
    """(what a task answers, how often the refit was read) while viewers read it."""
    over, reads = threading.Event(), []

    def view():
        with closing(server.caller()) as caller:
            while not over.is_set():
                status, _ = caller.fetch(caller.working)
                assert status == 200
                reads.append(status)
                over.wait(pause_s)

    answers = []

    def work():
        try:
            answers.append(task())
        finally:
            over.set()

    run_in_threads([*[view] * viewers, work])
    return answers[0], len(reads)
