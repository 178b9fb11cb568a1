"""Every leaf of two documents put wrong in every way: refused in words, or answered.

Run with a seed: ``python tests/fuzz/fuzz_leaves.py 1 [HOW MANY]``.  Each document goes through
what ``check`` and ``assess --quick`` do; whatever is no refusal is printed with its traceback.
All of it, some hundred thousand documents, where no number is given.
"""

import random
import sys
import time
import traceback
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from leaves import every_broken, outcome
from refits import demo_document, workboat_document

ROUND = 20  # one in so many is heeled round as well
BOATS = {"demo": demo_document, "workboat": workboat_document}


def main(folder, seed, most=None):
    """Print what fails; the number of failures is the status."""
    failed, told = Counter(), Counter()
    for name, document in BOATS.items():
        every = every_broken(document(), random.Random(seed))
        print(f"{name}: {len(every[:most])} of {len(every)} documents, seed {seed}", flush=True)
        for number, (what, make) in enumerate(every[:most]):
            began, levers = time.perf_counter(), None if number % ROUND else map
            try:
                told[outcome(make(), folder, levers)] += 1
            except Exception:
                where = traceback.extract_tb(sys.exc_info()[2])[-1]
                failed[f"{where.filename}:{where.lineno}"] += 1
                if failed[f"{where.filename}:{where.lineno}"] == 1:
                    print(f"{name}, {what}", flush=True)
                    traceback.print_exc(file=sys.stdout)
            if time.perf_counter() - began > 20.0:
                print(f"{name}, {what}: {time.perf_counter() - began:.0f} s", flush=True)
    print(f"{told.most_common()}\n{sum(failed.values())} failures: {failed.most_common()}")
    return min(sum(failed.values()), 100)


if __name__ == "__main__":
    with TemporaryDirectory() as place:
        sys.exit(main(Path(place), *map(int, sys.argv[1:])))
