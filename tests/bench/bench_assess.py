"""Speed of a whole assessment of the demo, and of what is not known of it.

CPU time, since other work slows the clock. Targets: uncertainty of all conditions within 0.3 s;
everything that is asked of a changed refit, warm, within 1 s.
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from refits import assessed, boat, demo, demo_document, rows_of, with_all

from hullchange.afloat.slopes import plus_minus, slopes_of
from hullchange.afloat.uncertainty_shares import causes_of, shares_of
from hullchange.survey.as_found import amidships

HEIGHT = "changes.deckhouse.parts.house.side_height_m"


def cpu_ms(question):
    """CPU time of a question [ms]."""
    began = time.process_time()
    question()
    return (time.process_time() - began) * 1e3


def uncertainties(floats):
    """Plus/minus and shares of every float."""
    built, found, _ = demo()
    x, length = amidships(built), built.document.hull.length_waterline_m
    for row in floats:
        slopes = slopes_of(row.rest, x, length, found.shape)
        plus_minus(slopes.covariance(row.afloat.weights.account.covariance))
        shares_of(list(causes_of(found, row.afloat.weights, row.condition)), slopes)


def main():
    built, found, conditions = demo()
    floats = [row for c in conditions.values() for row in rows_of(built, found, c)]
    taken = min(cpu_ms(lambda: uncertainties(floats)) for _ in range(5))
    print(f"uncertainty of {len(floats)} floats: {taken:.0f} ms")
    heights = [round(0.55 + 0.003 * k, 4) for k in range(6)]
    plains = [with_all(demo_document(), {HEIGHT: height}) for height in heights]
    boat(plains[0])
    rows = [cpu_ms(lambda p=plain: assessed(p)) for plain in plains]
    print(f"assessment of the demo, her house another each time: {min(rows[1:]):.0f} ms")


if __name__ == "__main__":
    main()
