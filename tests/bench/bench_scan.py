"""What lines from a scan are worth: known hulls, 5 mm noise, a tenth strays, cradle holes.

    python tests/bench/bench_scan.py [HULLS] [--picked] [--stem]

Displacement, LCB from the forward perpendicular, breadth of the waterline, height of the
sheer and length over all, lines less truth. Marks err by 3 mm; with --picked the chines are
picked too (7 picks each, to 10 mm), with --stem a fifth mark stands where the waterline meets
the stem.
"""

import argparse
import sys
import time
from pathlib import Path
from types import MappingProxyType

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from hull_families import family_hulls, family_lines
from scans import scan_of

from hullchange.errors import ModelError
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull_sources.scan import ScanMarks, lines_of_scan

LEVEL = WaterPlane(np.array([0.0, 0.0, 1.0]), 0.0)
TRIANGLES = 14_000
FIRST_SEED = 300


def breadth(hull):
    """Of the waterline [m]."""
    widest = 0.0
    for y, z in np.moveaxis(hull.sections(np.linspace(hull.fore_x, hull.transom_x, 200)), 2, 1):
        rising = np.maximum.accumulate(z)
        if rising[0] < 0.0 < rising[-1]:
            widest = max(widest, float(np.interp(0.0, rising, y)))
    return 2.0 * widest


def compared(hull, found):
    """Displacement [%], LCB, breadth, sheer, length [mm], number of lines."""
    mine = hull_of(
        HullInput(found.lines, hull.deck.camber, hull.deck.at_half_breadth), TRIANGLES
    )
    below, true = integrals_below(mine.surface, LEVEL), integrals_below(hull.surface, LEVEL)
    share = np.linspace(0.05, 0.95, 40)
    edges = [h.lines.sheer.at(h.fore_x + share * h.length)[:, 1] for h in (mine, hull)]
    return (
        100.0 * (below.volume / true.volume - 1.0),
        1000.0 * (below.buoyancy_centre[0] - true.buoyancy_centre[0]),
        1000.0 * (breadth(mine) - breadth(hull)),
        1000.0 * float(np.mean(edges[0] - edges[1])),
        1000.0 * (mine.length - hull.length),
        len(found.lines),
    )


def main():
    """Print a row for each hull, and what the worst and the median are."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("hulls", type=int, nargs="?", default=16)
    asked.add_argument("--picked", action="store_true")
    asked.add_argument("--stem", action="store_true")
    given = asked.parse_args()
    print("hull           displ. %  LCB mm  BWL mm  sheer mm  LOA mm  lines     s")
    rows = []
    for number, (seed, family, _) in enumerate(family_hulls(given.hulls, FIRST_SEED)):
        _, camber, half, lines = family_lines(seed)
        hull = hull_of(HullInput(lines, camber, half), TRIANGLES)
        scan = scan_of(hull, number, at_stem=given.stem)
        chines = MappingProxyType(scan.chines if given.picked else {})
        start = time.process_time()
        try:
            found = lines_of_scan(scan.points, ScanMarks(scan.waterline, scan.bow, chines))
        except ModelError as error:
            print(f"{family:14s} refused: {error.sentence}")
            continue
        seconds = time.process_time() - start
        rows.append(compared(hull, found))
        print(
            "{:14s} {:+8.2f} {:+7.0f} {:+7.0f} {:+9.0f} {:+7.0f} {:6d} {:5.1f}".format(
                family, *rows[-1], seconds
            )
        )
    size = np.abs(np.array(rows))
    for name, row in (("median", np.median(size, axis=0)), ("worst", size.max(axis=0))):
        print("{:14s} {:8.2f} {:7.0f} {:7.0f} {:9.0f} {:7.0f}".format(name, *row[:5]))
    print(f"{len(rows)} of {given.hulls} closed")


main()
