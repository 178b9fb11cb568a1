"""Every leaf of three documents put wrong in every way: refused in words, or answered.

Run with a seed: ``python tests/fuzz/fuzz_leaves.py 1 [HOW MANY]``.  Each document goes through
what ``check`` and ``assess --quick`` do; whatever is no refusal is printed with its traceback.
All of it, some ninety thousand documents and an hour of two cores, where no number is given.
"""

import random
import sys
import time
import traceback
import warnings
from collections import Counter
from multiprocessing import get_context
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from leaves import every_broken, furnished_document, outcome
from refits import demo_document, workboat_document

ROUND = 20  # one in so many is heeled round as well, and the next is written and read again
SLOW = 20.0  # [s]
BOATS = {
    "demo": demo_document,
    "workboat": workboat_document,
    "furnished": furnished_document,
}
every = {}
"""Broken documents by boat, which the processes that are forked inherit."""


def main(seed, most=None):
    """Print what fails; the number of failures is the status."""
    warnings.simplefilter("error", RuntimeWarning)  # who asks `check` would see it
    for name, document in BOATS.items():
        every[name] = every_broken(document(), random.Random(seed))[:most]
        print(f"{name}: {len(every[name])} documents, seed {seed}", flush=True)
    asked = [(name, number) for name, rows in every.items() for number in range(len(rows))]
    outcomes, failed = Counter(), Counter()
    with get_context("fork").Pool() as pool:
        for count, (code, where, traceback_text) in enumerate(
            pool.imap_unordered(tried, asked, 16), 1
        ):
            outcomes[code] += 1
            failed.update([where] if where else [])
            if traceback_text and failed[where] <= 1:
                print(traceback_text, flush=True)
            if count % 5000 == 0:
                print(f"{count} of {len(asked)}, {failed.total()} failures", flush=True)
    print(f"{outcomes.most_common()}\n{failed.total()} failures: {failed.most_common()}")
    return min(failed.total(), 100)


def tried(which):
    """(code, where it fell, what there is to say) of one document."""
    name, number = which
    (what, make), began = every[name][number], time.perf_counter()
    levers = map if number % ROUND == 0 else None
    try:
        if number % ROUND == 1 or what.startswith("options"):
            with TemporaryDirectory() as folder:
                code = outcome(make(), Path(folder), levers)
        else:
            code = outcome(make(), None, levers)
    except Exception:
        last = traceback.extract_tb(sys.exc_info()[2])[-1]
        traceback_text = f"{name}, {what}\n{traceback.format_exc()}"
        return "failed", f"{Path(last.filename).name}:{last.lineno}", traceback_text
    took = time.perf_counter() - began
    return code, "", f"{name}, {what}: {took:.0f} s" if took > SLOW else ""


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
