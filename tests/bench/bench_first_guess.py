"""What a first guess from nine numbers is worth, on hulls of three makers of other curves.

    python tests/bench/bench_first_guess.py [HULLS OF EACH]

Guess less truth: displacement, LCB as a share of the waterline, waterplane, KM as a share of
the beam. The template's constants were set on these makers; real hulls will do worse.
"""

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

import other_hulls
from hull_families import family_hulls
from line_families import drawn_hull, line_inputs

from hullchange.errors import ModelError
from hullchange.floating.integrals import integrals_below
from hullchange.geometry.frame import WaterPlane
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput
from hullchange.hull_sources.main_dimensions import MainDimensions, first_guess

LEVEL = WaterPlane(np.array([0.0, 0.0, 1.0]), 0.0)
HEADS = ("displacement %", "LCB % of LWL", "waterplane %", "KM % of beam", "KM mm")


def built(lines):
    return hull_of(HullInput(lines, 0.05, 1.5), 4000)


def ends(hull):
    x = np.linspace(hull.fore_x + 1e-6, hull.transom_x - 1e-6, 4001)
    wet = x[hull.lines.centreline.at(x)[:, 1] < 0.0]
    return float(wet[0]), float(wet[-1])


def kind_of(family, hull):
    """The type that an owner would choose."""
    if "canoe" in family:
        return "canoe-stern"
    chines = sum(line.kind == "chine" for line in hull.lines.lines)
    return ("round", "single-chine", "multi-chine")[min(chines, 2)]


def by_other_hulls(count):
    seed, found = 0, 0
    while found < count:
        form, plain = other_hulls.hull_of(np.random.default_rng(seed))
        seed += 1
        lines = tuple(
            LineInput(name, line["kind"], tuple(map(tuple, line["points_m"])))
            for name, line in plain["lines"].items()
        )
        try:
            hull = built(lines)
        except ModelError:
            continue
        if form.kind != "barge":
            found += 1
            yield form.kind, hull


def by_drawing(count):
    seed, found = 0, 0
    while found < count:
        drawn = drawn_hull(seed)
        seed += 1
        try:
            hull = built(line_inputs(drawn, [line.points for line in drawn.lines]))
        except ModelError:
            continue
        found += 1
        yield drawn.family, hull


def misses(family, hull):
    kind = kind_of(family, hull)
    (fore, aft), sheer = ends(hull), hull.lines.sheer.points
    true = integrals_below(hull.surface, LEVEL)
    beam = 2.0 * sheer[:, 1].max()
    freeboards = (sheer[0, 2], sheer[:, 2].min(), sheer[-1, 2])
    transom = 0.0 if kind == "canoe-stern" else 2.0 * sheer[-1, 1]
    given = MainDimensions(
        kind, hull.length, aft - fore, beam, true.volume, freeboards, transom
    )
    mine = built(first_guess(given).lines)
    below = integrals_below(mine.surface, LEVEL)
    lcb = [b.buoyancy_centre[0] - f for b, f in ((below, ends(mine)[0]), (true, fore))]
    km = [b.buoyancy_centre[2] + b.waterplane_inertia[1, 1] / b.volume for b in (below, true)]
    return (
        100.0 * (below.volume / true.volume - 1.0),
        100.0 * (lcb[0] - lcb[1]) / (aft - fore),
        100.0 * (below.waterplane_area / true.waterplane_area - 1.0),
        100.0 * (km[0] - km[1]) / beam,
        1000.0 * (km[0] - km[1]),
    )


def main():
    """Print mean, deviation and worst of each maker's hulls, and the rms of all."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 64
    makers = {
        "powers": ((family, hull) for _, family, hull in family_hulls(count, 1000)),
        "other": by_other_hulls(count),
        "drawn": by_drawing(count),
    }
    every = []
    for name, hulls in makers.items():
        rows, refused = [], 0
        for family, hull in hulls:
            try:
                rows.append(misses(family, hull))
            except ModelError:
                refused += 1
        table = np.array(rows)
        every.append(table)
        print(f"{name}: {len(rows)} hulls, {refused} refused")
        for head, column in zip(HEADS, table.T, strict=True):
            worst = np.abs(column).max()
            print(
                f"  {head:16s} {column.mean():+8.2f} +- {column.std():7.2f}, worst {worst:.2f}"
            )
    rms = np.sqrt(np.mean(np.vstack(every) ** 2, axis=0))
    print("all, rms: " + ", ".join(f"{h} {v:.2f}" for h, v in zip(HEADS, rms, strict=True)))


main()
