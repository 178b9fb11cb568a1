"""Published instances of irregular strip packing: polygons, how they may lie, breadth, record.

Source: fu: Fujita, Akagi and Hirokawa (1993), Proc. 19th ASME Design Automation Conference,
65-1, 477-484. jakobs1: Jakobs (1996), European J. of Operational Research 88, 165-181.
shapes0: Oliveira, Gomes and Ferreira (2000), OR Spektrum 22, 263-284.
Seen: the polygons in the public repository JeroenGar/jagua-rs, `assets/*.json`, and the record
of shapes0 in JeroenGar/sparrow, `data/records/final_best_shapes0.svg`, both opened. The records
of fu and jakobs1 (Elkeran 2013, European J. of Operational Research 231, 757-769) from memory.
Known: breadths are widened by a ten-thousandth, as is usual, so that rows that fill it fit.
"""

from dataclasses import dataclass
from math import pi

Polygon = tuple[tuple[float, float], ...]
QUARTERS = (0.0, pi / 2.0, pi, -pi / 2.0)


@dataclass(frozen=True)
class Instance:
    """Pieces and how many of each, angles they may lie at, breadth, best density known."""

    pieces: tuple[tuple[Polygon, int], ...]
    turns: tuple[float, ...]
    breadth: float
    record: float


def _pieces(*rows: tuple[int, str]) -> tuple[tuple[Polygon, int], ...]:
    """Counts, and corners written as pairs."""
    return tuple(
        (tuple((float(x), float(y)) for x, y in (p.split(",") for p in text.split())), count)
        for count, text in rows
    )


INSTANCES = {
    "fu": Instance(
        _pieces(
            (2, "0,0 10,0 10,10 0,10"),
            (1, "0,0 14,0 14,9 0,9"),
            (1, "0,0 14,0 7,7"),
            (1, "0,9 0,0 14,9"),
            (1, "0,0 14,0 14,14 0,14"),
            (1, "0,0 10,4 10,9 0,9"),
            (1, "0,0 5,0 5,9 0,9"),
            (1, "0,0 14,0 14,14"),
            (1, "0,0 10,0 10,10 0,14"),
            (1, "0,8 4,0 8,8"),
            (1, "0,0 14,0 7,12"),
        ),
        QUARTERS,
        38.0038,
        0.9241,
    ),
    "jakobs1": Instance(
        _pieces(
            (1, "0,0 2,0 0,2"),
            (1, "0,0 3,0 0,3"),
            (1, "0,0 4,0 0,4"),
            (1, "5,0 5,5 0,5"),
            (1, "0,3 6,0 6,3"),
            (1, "0,4 7,0 7,4"),
            (1, "0,0 5,0 5,3 3,3 3,5 0,5"),
            (1, "0,0 4,0 4,1 2,1 2,4 0,4"),
            (2, "0,0 6,0 6,3 4,3 4,6 0,6"),
            (1, "0,0 5,0 5,2 3,2 3,1 0,1"),
            (1, "0,0 4,0 4,2 3,2 3,1 0,1"),
            (1, "0,0 6,0 6,6 0,6"),
            (1, "0,0 5,0 5,5 0,5"),
            (1, "0,0 4,0 4,4 0,4"),
            (2, "2,0 4,0 4,2 6,2 6,4 4,4 4,6 2,6 2,4 0,4 0,2 2,2"),
            (2, "1,0 2,0 2,1 3,1 3,2 2,2 2,3 1,3 1,2 0,2 0,1 1,1"),
            (1, "0,0 6,0 6,3 0,3"),
            (1, "0,0 1,0 1,4 0,4"),
            (1, "0,0 5,0 5,2 0,2"),
            (1, "2,0 4,0 6,2 6,4 4,6 2,6 0,4 0,2"),
            (1, "3,0 6,0 8,2 8,4 6,6 3,6 0,4 0,2"),
            (1, "0,1 2,0 4,0 6,1 6,2 4,3 2,3 0,2"),
        ),
        QUARTERS,
        40.004,
        0.8910,
    ),
    "shapes0": Instance(
        _pieces(
            (15, "0,0 2,0 2,3 12,3 12,0 14,0 14,5 0,5"),
            (7, "0,0 6,-6 12,0 6,6"),
            (9, "0,0 6,0 6,-2 7,-2 11,2 11,4 8,4 8,1 2,1 2,4 0,4"),
            (12, "0,0 2,0 2,-2 4,-2 4,0 6,0 6,2 4,2 4,4 2,4 2,2 0,2"),
        ),
        (0.0,),
        40.004,
        0.69998,
    ),
}
