"""Proposals on 200 hulls from fixed seeds, and offers for strayed dimensions of each."""

import sys
import time
from collections import Counter
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from every_hull import every_hull
from proposal_trial import offered, proposal_trial, proposed_on, refusal_of, strayed

from hullchange.errors import ModelError
from hullchange.proposals.proposing import PROPOSERS

HULLS, FIRST = 200, 2000
STRAYED_HULLS, STRAYING = 24, (1, 2, 4)


def proposals():
    start = time.process_time()
    trial = proposal_trial(HULLS, FIRST)
    seconds = time.process_time() - start
    print(f"{trial.hulls} hulls, {1e3 * seconds / trial.hulls:.0f} ms for all kinds of one")
    for kind in PROPOSERS:
        reasons = {code: n for (of, code), n in trial.reasons.items() if of == kind}
        print(f"  {kind:18s} built {trial.built[kind]:4d}  {reasons or ''}")
    print(f"  houses without: {dict(trial.lost) or 'nothing'}")
    low, middle, high = np.percentile(trial.houses, [0, 50, 100])
    print(f"  sides of houses {low:.2f}, {middle:.2f}, {high:.2f} m (lowest, median, highest)")
    for line in trial.wrong:
        print(f"  WRONG {line}")


def offers_of(moved):
    draw, count = np.random.default_rng(moved), Counter()
    longest = 0.0
    for _, host in every_hull(STRAYED_HULLS, FIRST):
        for kind, found, around in proposed_on(host):
            if isinstance(found, ModelError):
                continue
            for _ in range(4):
                wrong = strayed(found.dimensions, draw, moved)
                error = wrong and refusal_of(kind, wrong, around)
                if not error:
                    continue
                start = time.process_time()
                rows = list(offered(kind, wrong, error, around, (found.dimensions,)))
                longest = max(longest, time.process_time() - start)
                whole = rows and rows[0][0].sentence.startswith("The dimensions proposed")
                count["refused"] += 1
                count["no offer"] += not rows
                count["offers that do not build"] += any(row[2] for row in rows)
                count["all dimensions offered"] += bool(whole)
    print(f"{moved} numbers strayed: {dict(count)}; longest {1e3 * longest:.0f} ms")


if __name__ == "__main__":
    proposals()
    for number in STRAYING:
        offers_of(number)
