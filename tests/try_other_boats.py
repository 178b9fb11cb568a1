"""Forty refits unlike the demo through every command and the server: faults by seed.

python tests/try_other_boats.py [--first 0] [--count 40] [--keep FOLDER]
"""

import argparse
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent / "support"))


def main():
    """Exit status: how many boats have a fault."""
    from other_boats import faults_of

    given = argparse.ArgumentParser(description=(__doc__ or "").split("\n", 1)[0])
    given.add_argument("--first", type=int, default=0, help="seed of the first boat")
    given.add_argument("--count", type=int, default=40, help="how many boats")
    given.add_argument("--keep", type=Path, help="where the boats are left to be looked at")
    asked, bad = given.parse_args(), 0
    with tempfile.TemporaryDirectory() as passing:
        folder = asked.keep or Path(passing)
        folder.mkdir(exist_ok=True)
        for seed in range(asked.first, asked.first + asked.count):
            begun = time.monotonic()
            faults = list(faults_of(seed, folder))
            bad += bool(faults)
            took = time.monotonic() - begun
            sys.stdout.write(f"{seed}: {len(faults)} faults, {took:.0f} s\n")
            sys.stdout.writelines(f"  {fault}\n" for fault in faults)
            sys.stdout.flush()
    return bad


if __name__ == "__main__":
    sys.exit(main())
