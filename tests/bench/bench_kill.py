"""Kill -9 of a real server while pages write to it, as often as asked (100 times).

After each kill the database must be whole, the file on disk the one the store says it is, and
the server that is started again must hold everything that was acknowledged.
"""

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from killed_server import killed


def main(rounds=100):
    """Count what was acknowledged; a loss ends it."""
    with tempfile.TemporaryDirectory() as folder:
        counted = killed(folder, rounds, say=lambda words: print(words, flush=True))
    print(
        f"killed {rounds} times: {counted['kept']} edits and {counted['written']} comments and "
        "signatures acknowledged, none lost"
    )


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
