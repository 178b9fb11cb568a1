"""The inside of a plated keel or skeg: its body less the thickness of its plating.

At each height the section is eroded by a circle of the plating's thickness, which is exact for
sides that stand upright; the outline is moved in by the same, along its slope. Where the sides
lean from the vertical the plating is taken a little too thin: by 1 in 200 at 6 degrees.
"""

from collections.abc import Iterator
from math import hypot

import numpy as np

from hullchange.cache import cached
from hullchange.geometry.frame import FloatArray
from hullchange.geometry.surface import Surface, box, intersection, joined
from hullchange.hull.appendage_outline import AppendageOutline
from hullchange.hull.appendages import ROW_HEIGHT, Appendage
from hullchange.hull.mesh import symmetric_body

ALONG = 97  # points along a row
SPREAD = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, ALONG))  # of them, closer at the ends
FINE = 401  # of a row, between which its inside is looked for
CIRCLE = np.sin(np.linspace(-np.pi / 2.0, np.pi / 2.0, 25))  # of a circle's points, along
LEAST = 1e-4  # [m] thinner is no inside

InsideRow = FloatArray
"""(ALONG, 3) x, half thickness and z [m] of the inside at a height."""


@cached(16)
def inside_of(appendage: Appendage, plating: float) -> Surface:
    """The closed inside of an appendage below the canoe body; with no faces where it has none.

    Args:
        appendage: cut to the hull.
        plating: thickness [m] of its plates; zero gives the outside.
    """
    if plating == 0.0:
        return appendage.surface
    bodies = [
        symmetric_body(np.swapaxes(np.array(rows), 0, 1)).surface
        for rows in _runs(appendage.outline, appendage.table, plating)
    ]
    if not bodies:
        return Surface.unchecked(np.zeros((0, 3)), np.zeros((0, 3), np.int32))
    low, high = joined(tuple(bodies)).bounds + np.array([[-1.0], [1.0]])
    low[2] = float(min(band[0][2] for band in appendage.outline.bands())) + plating
    over_bottom = box(low, high)
    placed = [appendage.plane.placed(intersection(body, over_bottom)) for body in bodies]
    both = [*placed, *(body.mirrored() for body in placed if appendage.pair)]
    return intersection(joined(tuple(both)), appendage.surface)


def _runs(
    outline: AppendageOutline, table: FloatArray, plating: float
) -> Iterator[list[InsideRow]]:
    """Rows from the bottom up, parted where nothing is left inside."""
    run: list[InsideRow] = []
    for below, above in outline.bands():
        steps = max(1, round((above[2] - below[2]) / ROW_HEIGHT))
        rise = above[2] - below[2]
        shift = [plating * hypot(1.0, (above[k] - below[k]) / rise) for k in (0, 1)]
        for at in below + np.linspace(0.0, 1.0, steps + 1)[:, None] * (above - below):
            row = _row(at, (shift[0], shift[1]), table, plating)
            if row is not None:
                run.append(row)
                continue
            if len(run) > 1:
                yield run
            run = []
    if len(run) > 1:
        yield run


def _row(
    at: FloatArray, shift: tuple[float, float], table: FloatArray, plating: float
) -> InsideRow | None:
    """The inside at a height, or None where nothing is left.

    Args:
        at: (3,) forward x, after x and z [m] of the outside.
        shift: of the forward and after edge inwards [m].
        table: (n, 2) fraction of the chord and half thickness [m].
        plating: [m].
    """
    fore, aft, z = at
    if aft - fore < shift[0] + shift[1] + LEAST:
        return None
    x = np.linspace(fore + shift[0], aft - shift[1], FINE)
    ends = _thick_between(x, _eroded(x, at, table, plating))
    if ends[1] - ends[0] < LEAST:
        return None
    along = ends[0] + SPREAD * (ends[1] - ends[0])
    half = np.maximum(_eroded(along, at, table, plating), LEAST / 100.0)
    return np.column_stack([along, half, np.full(ALONG, z)])


def _thick_between(x: FloatArray, half: FloatArray) -> tuple[float, float]:
    """Ends [m] of the longest stretch of x (n,) whose half thickness (n,) is positive."""
    kept = np.r_[False, half > 0.0, False]
    first, after = (np.flatnonzero(np.diff(kept.astype(int)) == way) for way in (1, -1))
    if not len(first):
        return 0.0, 0.0
    longest = int(np.argmax(after - first))
    low, high = int(first[longest]), int(after[longest]) - 1

    def crossing(inside: int, outside: int) -> float:
        if not 0 <= outside < len(x):
            return float(x[inside])
        share = half[inside] / (half[inside] - half[outside])
        return float(x[inside] + share * (x[outside] - x[inside]))

    return crossing(low, low - 1), crossing(high, high + 1)


def _eroded(x: FloatArray, at: FloatArray, table: FloatArray, plating: float) -> FloatArray:
    """Half thickness (n,) [m] of the inside at x (n,); negative where there is none."""
    fore, aft, _ = at
    near = (x[:, None] + plating * CIRCLE - fore) / (aft - fore)
    outside = np.interp(near, table[:, 0], table[:, 1], left=-1.0, right=-1.0)
    return np.asarray((outside - plating * np.sqrt(1.0 - CIRCLE**2)).min(axis=1))
