"""Every leaf of two documents changed: what is kept may spoil no answer.

Run with a seed: ``python tests/fuzz/fuzz_kept.py 1 [HOW MANY]``.  Each change is answered with
all that was kept of the unchanged boat and again from nothing; twenty of them by a process of
their own as well.  Everything is changed where no number is given, which takes about an hour.
"""

import json
import random
import subprocess
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from kept import Kept, others, told
from refits import demo_document, workboat_document

BOATS = {"demo": (demo_document, "departure"), "workboat": (workboat_document, "swamped")}
APART = 20
FRESH = "import json, sys; from kept import told; print(told(*json.load(sys.stdin)))"


def main(seed, most=None):
    """Print what is spoilt; the number of spoilt answers is the status."""
    spoilt = 0
    for name, (document, only) in BOATS.items():
        plain = document()
        draw = random.Random(seed)
        every = draw.sample(list(others(plain)), k=len(list(others(plain))))[:most]
        print(f"{name}: {len(every)} changes, seed {seed}", flush=True)
        before = Kept(plain, only)
        for count, (what, other) in enumerate(every):
            line = before.differs(other)
            if count < APART // len(BOATS):
                line = line or apart(before, other, only)
            if line:
                spoilt += 1
                print(f"{name}, {what}: {line}", flush=True)
    print(f"{spoilt} answers spoilt")
    return min(spoilt, 100)


def apart(before, other, only):
    """Whether a process that kept nothing answers otherwise."""
    before.put_back()
    here = told(other, only)
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
