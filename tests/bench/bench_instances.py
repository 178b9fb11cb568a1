"""How near the packers come to the records of published instances of strip packing."""

import sys
from pathlib import Path
from time import perf_counter

import numpy as np
import shapely

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from packing_instances import INSTANCES, Instance

from hullchange.shop.nest import Shape, Sheet, Spacing, require_sound, used_length
from hullchange.shop.raster import packed
from hullchange.shop.strip import strip_nest

UNIT = 10.0
"""[m] of one unit of an instance, so large that the rounding of outlines does not count."""

CLOSE = Spacing(0.0, 0.0)
LOOSE = 3.0  # times the area's own length of strip, in which all of it certainly lies


def shapes_of(one: Instance) -> list[Shape]:
    """Every piece as often as it is asked for, the largest first."""
    shapes = [
        Shape(f"{k}-{n}", shapely.Polygon(np.array(corners) * UNIT), one.turns)
        for k, (corners, count) in enumerate(one.pieces)
        for n in range(count)
    ]
    return sorted(shapes, key=lambda shape: -shape.region.area)


def strip_of(one: Instance, shapes: list[Shape]) -> Sheet:
    """A strip long enough."""
    breadth = one.breadth * UNIT
    length = LOOSE * sum(shape.region.area for shape in shapes) / breadth
    return Sheet("strip", np.array([[0, 0], [length, 0], [length, breadth], [0, breadth]]))


def main() -> None:
    """Print the density of each packer beside the record."""
    for name, one in INSTANCES.items():
        shapes = shapes_of(one)
        strip, net = strip_of(one, shapes), sum(shape.region.area for shape in shapes)
        known = {shape.id: shape for shape in shapes}
        print(f"{name}: {len(shapes)} pieces, record {100 * one.record:.1f} %")
        ways = {"grid": (packed, UNIT / 10.0)}
        ways |= {f"library {s} s": (strip_nest, s, 1) for s in (5, 20, 60)}
        for way, (pack, *how) in ways.items():
            start = perf_counter()
            nest = pack(shapes, strip, CLOSE, *how)
            took = perf_counter() - start
            require_sound([nest], known, CLOSE)
            share = net / used_length(nest, known) / (one.breadth * UNIT)
            short = 100 * (one.record - share)
            print(f"  {way:<13} {100 * share:5.1f} %  {short:4.1f} short  {took:5.1f} s")


if __name__ == "__main__":
    main()
