"""Which tenfold and tenth slips of a document `check` notices: refused, asked about, silent.

    python tests/bench/bench_slips.py [--other SEED ...] [--silent] [--only PREFIX]

Every number of the document, of the lines each ninth, is planted ten times too large and ten
times too small, one at a time.  A slip is noticed where the document is refused or a finding
stands that did not before.
"""

import argparse
import copy
import json
import sys
import tempfile
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from other_refits import other_refit
from refits import demo_document

from hullchange.assess.check import check_document
from hullchange.errors import DocumentError, ModelError

FACTORS = (10.0, 0.1)
LINES_EVERY = 9  # of the hundreds of figures of the lines
NOT_MEASURED = ("format",)


def leaves(value, path=()):
    """Paths of the numbers that can slip: nought stays nought."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from leaves(inner, (*path, key))
    elif isinstance(value, list):
        for n, inner in enumerate(value):
            yield from leaves(inner, (*path, n))
    elif isinstance(value, int | float) and not isinstance(value, bool) and value:
        yield path


def slipped(plain, path, factor):
    """The document with one number slipped."""
    whole = copy.deepcopy(plain)
    spot = whole
    for step in path[:-1]:
        spot = spot[step]
    is_count = isinstance(spot[path[-1]], int) and path[-1] in ("count", "persons", "swings")
    value = spot[path[-1]] * factor
    spot[path[-1]] = max(1, int(value)) if is_count else round(value, 9)
    return whole


def doubtful(plain, folder):
    """(code, place) of everything `check` asks about."""
    file = folder / "boat.yaml"
    file.write_text(json.dumps(plain), encoding="utf-8")
    return {(f.code, f.place) for f in check_document(file)}


def noticed(plain, before, folder):
    """What `check` makes of a document."""
    try:
        now = doubtful(plain, folder)
    except (DocumentError, ModelError):
        return "refused"
    except Exception:
        return "fell"
    return "asked" if now - before else "silent"


def measured(plain, folder, only=""):
    """(path, factor, outcome) of every slip."""
    before = doubtful(plain, folder)
    for number, path in enumerate(leaves(plain)):
        if path[:2] == ("hull", "lines") and number % LINES_EVERY:
            continue
        words = ".".join(map(str, path))
        if path[0] in NOT_MEASURED or not words.startswith(only):
            continue
        for factor in FACTORS:
            yield words, factor, noticed(slipped(plain, path, factor), before, folder)


def table_line(count, group, factor):
    """A line of the table; of all groups where none is named."""
    outcomes = ("refused", "asked", "fell", "silent")
    sums = [
        sum(
            n for (g, f, o), n in count.items() if (f, o) == (factor, what) and group in ("", g)
        )
        for what in outcomes
    ]
    words = "".join(f" {what} {n:4}" for what, n in zip(outcomes, sums, strict=True))
    return f"{group or 'all':14}{words}  noticed {100 * (1 - sums[3] / sum(sums)):.0f} %"


def main():
    given = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    given.add_argument("--other", type=int, nargs="*", default=(), help="seeds of boats")
    given.add_argument("--silent", action="store_true", help="list what is not noticed")
    given.add_argument("--only", default="", help="paths that begin so")
    asked = given.parse_args()
    boats = {"Saltmarrow": demo_document()} if not asked.other else {}
    boats |= {f"boat {seed}": other_refit(seed).plain for seed in asked.other}
    with tempfile.TemporaryDirectory() as passing:
        for name, plain in boats.items():
            count = Counter()
            for path, factor, outcome in measured(plain, Path(passing), asked.only):
                count[path.split(".")[0], factor, outcome] += 1
                if asked.silent and outcome in ("silent", "fell"):
                    print(f"  {outcome} {path} x {factor:g}")
            for factor in FACTORS:
                for group in (*dict.fromkeys(g for g, _, _ in count), ""):
                    print(f"{name:12} x {factor:<4g} {table_line(count, group, factor)}")
            sys.stdout.flush()


if __name__ == "__main__":
    main()
