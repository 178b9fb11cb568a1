"""Every route asked oddly, as the owner and as a reviewer: answered or refused, never failed.

Run with a seed: ``python tests/fuzz/fuzz_routes.py 1 [HOW MANY]``; 20 000 requests where no
number is given.  The first failure of each place is printed with its request and traceback.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from odd_server import statuses_and_failures


def main(seed, most=20_000):
    """Print what fails; the number of failures is the status."""
    print(f"{most} requests, seed {seed}", flush=True)
    statuses, failures = statuses_and_failures(
        seed, most, report=lambda text: print(text, flush=True)
    )
    print(sorted(statuses.items()), failures.most_common(), sep="\n")
    return min(sum(failures.values()), 100)


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
