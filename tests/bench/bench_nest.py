"""How close the packers lie and how long they take, on the demo's 4 mm plate."""

import sys
from pathlib import Path
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from refits import demo

from hullchange.shop.nest import Shape, Sheet, Spacing, require_sound, used_length
from hullchange.shop.piece import steel_of
from hullchange.shop.raster import packed
from hullchange.shop.strip import strip_nest

BREADTH = 2.0
SHEET = Sheet("strip", np.array([[0, 0], [9, 0], [9, BREADTH], [0, BREADTH]], float))


def main():
    """Print length, share of the strip and seconds for each packer."""
    parts = {name: built.part.plates for name, built in demo()[0].parts.items()}
    pieces = [p for p in steel_of(parts, ()).pieces if round(p.thickness * 1e3) == 4]
    shapes = sorted((Shape(p.id, p.region) for p in pieces), key=lambda s: -s.region.area)
    known, net = {s.id: s for s in shapes}, sum(s.region.area for s in shapes)
    packed(shapes[:1], SHEET, Spacing())  # compiles
    ways = {f"grid {1e3 * cell:g} mm": (packed, cell) for cell in (0.02, 0.01, 0.005)}
    ways |= {f"library {s} s": (strip_nest, s, 1) for s in (2, 4, 10)}
    print(f"{len(shapes)} pieces, {net:.2f} m2")
    for name, (pack, *how) in ways.items():
        start = perf_counter()
        nest = pack(shapes, SHEET, Spacing(), *how)
        took = perf_counter() - start
        require_sound([nest], known, Spacing())
        length = used_length(nest, known)
        print(
            f"{name:<12} {length:5.2f} m  {100 * net / length / BREADTH:4.1f} %  {took:5.2f} s"
        )


if __name__ == "__main__":
    main()
