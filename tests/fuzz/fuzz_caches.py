"""Every leaf of two documents changed: a warm cache may spoil no answer.

Run with a seed: ``python tests/fuzz/fuzz_caches.py 1 [HOW MANY]``.  Each change is answered
with the caches of the unchanged boat and again with empty ones; twenty of them by a process of
their own as well.  Everything is changed where no number is given: some two thousand changes.
"""

import json
import random
import subprocess
import sys
from functools import cache
from multiprocessing import get_context
from pathlib import Path

import hullchange  # noqa: F401 - before anything imports numpy, as where it is used

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from cache_snapshot import CacheSnapshot, documents_with_one_change, whole_answer
from refits import demo_document, workboat_document

BOATS = {"demo": (demo_document, "departure"), "workboat": (workboat_document, "swamped")}
APART = 20
FRESH = """
import json, sys
from cache_snapshot import whole_answer
print(whole_answer(*json.load(sys.stdin)))
"""
every = {}
"""Changes by boat, which the processes that are forked inherit."""


def main(seed, most=None):
    """Print what is spoilt; the number of spoilt answers is the status."""
    for name, (document, _) in BOATS.items():
        every[name] = list(documents_with_one_change(document()))
        random.Random(seed).shuffle(every[name])
        every[name] = every[name][:most]
        print(f"{name}: {len(every[name])} changes, seed {seed}", flush=True)
    asked = [(name, number) for name, rows in every.items() for number in range(len(rows))]
    spoilt = 0
    with get_context("fork").Pool() as pool:
        for count, line in enumerate(pool.imap_unordered(tried, asked, 4), 1):
            spoilt += bool(line)
            if line:
                print(line, flush=True)
            if count % 200 == 0:
                print(f"{count} of {len(asked)}, {spoilt} spoilt", flush=True)
    print(f"{spoilt} answers spoilt")
    return min(spoilt, 100)


@cache
def answered(name):
    """What is kept after the boat was answered in this process."""
    document, only = BOATS[name]
    return CacheSnapshot(document(), only)


def tried(which):
    """What is wrong with the answer of one change, or nothing."""
    name, number = which
    what, other = every[name][number]
    before, only = answered(name), BOATS[name][1]
    line = before.first_difference(other)
    if number < APART // len(BOATS):
        line = line or apart(before, other, only)
    return line and f"{name}, {what}: {line}"


def apart(before, other, only):
    """Whether a process that kept nothing answers otherwise."""
    before.restore()
    here = whole_answer(other, only)
    run = subprocess.run(
        [sys.executable, "-c", FRESH],
        input=json.dumps([other, only]),
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[1] / "support",
    )
    return "" if run.stdout == f"{here}\n" else "a process of its own answers otherwise"


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
