"""How often the line check names a slip, blames a sound line, or a sound hull is refused.

    python tests/bench/bench_line_check.py [--hulls N] [--first SEED] [--sd MM ...]
                                           [--kinds KIND ...] [--fresh] [--few]

Hulls of fixed seeds and of families of curves that the check was not tuned on
(``support/line_families.py``), one slip at a time, with and without the distances that are
asked for; --fresh draws others, which are printed and not judged.  500 hulls take some eight
minutes for each reading error.  --few: lines of 4 to 16 points instead, thinned evenly and
closer to the ends, as read and exact, sound and with gross slips inside the lines.
"""

import argparse
import sys
import time
from collections import Counter, defaultdict
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from line_families import as_read, drawn_hull, exact, line_inputs, thinned
from line_trial import KINDS, checked, hull_lines, is_named, slipped, suspects, taped_as_asked

from hullchange.errors import DocumentError
from hullchange.hull.line_causes import cause_of
from hullchange.hull.lines_check import lines_of

GROSS = ("digits", "sign")  # slips that a line by itself can have
LEAST_GROSS = 0.09  # [m]
BEFORE = (
    "before (a polynomial along each line, 64 other hulls, sd 5 mm; own trial): 60 mm inside "
    "the lines 46 %, of all 38 %; sound lines blamed 10.5 %, one sound hull in six refused"
)
BY_KIND = {
    "digits": "digits exchanged",
    "wrong-line": "the reading of {} written here",
    "sign": "the sign wrong",
    "wrong-station": "next station",
}
"""What the cause says, the next line named."""


def is_sound(hull):
    """Whether the hull as drawn has lines that do not cross."""
    try:
        lines_of(line_inputs(hull, exact(hull)))
    except DocumentError:
        return False
    return True


def tried(hull, sd, rng, count, kinds):
    """Counts of one hull: sound first, then with a slip of each kind."""
    points = as_read(hull, sd, rng)
    try:
        lines_of(line_inputs(hull, points))
    except DocumentError:
        count["refused"] += 1
    began = time.process_time()
    clean = checked(hull, points)
    blamed = {off.reading.line for off in suspects(clean)}
    count["ms"] += 1000.0 * (time.process_time() - began)
    count["hulls"] += 1
    count["lines"] += len(points)
    count["blamed"] += len(blamed)
    tapes = taped_as_asked(hull, clean, sd, rng)
    count["tapes"] += len(tapes)
    count["blamed with tapes"] += len(
        {o.reading.line for o in suspects(checked(hull, points, tapes))}
    )
    for kind in kinds:
        with_slip(hull, *slipped(points, rng, kind), kind, tapes, count)


def with_slip(hull, wrong, reading, kind, tapes, count):
    """Counts of one slip."""
    without = checked(hull, wrong)
    off = next(o for o in without.offs() if o.reading == reading)
    groups = ["all"] if off.is_end or off.is_turn else ["all", "inner"]
    taped = checked(hull, wrong, tapes)
    for group in groups:
        count[kind, group, "of"] += 1
        count[kind, group, "named"] += is_named(without, reading)
        count[kind, group, "with tapes"] += is_named(taped, reading)
        count[kind, group, "another"] += bool(suspects(taped)) and not is_named(taped, reading)
    first = suspects(without)[:1]
    if kind in BY_KIND and first and first[0].reading == reading:
        lines = hull_lines(hull, wrong)
        cause = cause_of(lines, first[0])
        count[kind, "all", "sure"] += 1
        count[kind, "all", "cause"] += any(
            BY_KIND[kind].format(line.plain_name) in cause for line in lines
        )


def printed(count, sd_mm, kinds):
    """The table of a reading error."""

    def percent(part, whole):
        return f"{100.0 * count[part] / max(count[whole], 1):5.1f} %"

    print(
        f"sd {sd_mm:g} mm: {count['hulls']:.0f} hulls, refused {count['refused']:.0f}; "
        f"{count['lines']:.0f} sound lines, blamed {percent('blamed', 'lines')}, with tapes "
        f"{percent('blamed with tapes', 'lines')}; {count['tapes'] / count['hulls']:.1f} tapes "
        f"asked for; {count['ms'] / count['hulls']:.0f} ms a check"
    )
    for kind in kinds:
        for group in ("inner", "all"):
            of = (kind, group, "of")
            words = (
                f"{w} {percent((kind, group, w), of)}"
                for w in ("named", "with tapes", "another")
            )
            line = f"  {kind:14}{group:6}{count[of]:5.0f}  {', '.join(words)}"
            if group == "all" and kind in BY_KIND:
                line += f", cause said {percent((kind, group, 'cause'), (kind, group, 'sure'))}"
            print(line)
    sys.stdout.flush()


def of_few_points(hulls, first, sd_mm):
    """The table of sound lines blamed, and gross slips named, where lines have few points."""
    for ends in (False, True):
        for points in range(4, 17):
            count = Counter()
            for seed in range(first, first + hulls):
                hull = thinned(drawn_hull(seed), points, ends)
                with_few_points(hull, sd_mm / 1000.0, np.random.default_rng(seed), count)
            where = "more at the ends" if ends else "even"
            blamed = 100.0 * count["blamed"] / count["lines"]
            named = 100.0 * count["named"] / max(count["gross"], 1)
            print(
                f"sd {sd_mm:g} mm, {points:2} points, {where}: {count['lines']} sound lines, "
                f"blamed {blamed:.1f} %; {count['gross']} gross slips, named {named:.0f} %"
            )
            sys.stdout.flush()


def with_few_points(hull, sd, rng, count):
    """Counts of one hull, sound and with each gross slip inside a line; sd 0: exact."""
    points = as_read(hull, sd, rng) if sd else exact(hull)
    count["blamed"] += len({off.reading.line for off in suspects(checked(hull, points))})
    count["lines"] += len(points)
    for kind in GROSS:
        wrong, reading = slipped(points, rng, kind)
        moved = np.abs(wrong[reading.line] - points[reading.line]).max()
        if moved >= LEAST_GROSS and 0 < reading.index < len(points[reading.line]) - 1:
            count["gross"] += 1
            count["named"] += is_named(checked(hull, wrong), reading)


def main():
    given = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    given.add_argument("--hulls", type=int, default=500)
    given.add_argument("--first", type=int, default=0, help="seed of the first hull")
    given.add_argument(
        "--sd", type=float, nargs="*", default=(5.0, 8.0), help="mm of a reading"
    )
    given.add_argument("--fresh", action="store_true", help="other hulls each time")
    given.add_argument("--few", action="store_true", help="lines of few points")
    given.add_argument("--kinds", nargs="*", choices=KINDS, default=KINDS)
    asked = given.parse_args()
    first = int(np.random.default_rng().integers(10**6, 10**9)) if asked.fresh else asked.first
    if asked.few:
        for sd_mm in (0.0, *asked.sd):
            of_few_points(asked.hulls, first, sd_mm)
        return
    print(BEFORE)
    for sd_mm in asked.sd:
        count, seed = defaultdict(float, Counter()), first
        while count["hulls"] < asked.hulls:
            hull = drawn_hull(seed)
            if is_sound(hull):
                tried(
                    hull, sd_mm / 1000.0, np.random.default_rng([seed, 7]), count, asked.kinds
                )
            seed += 1
        printed(count, sd_mm, asked.kinds)


if __name__ == "__main__":
    main()
