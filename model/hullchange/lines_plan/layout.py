"""Paper, scale, and where each view stands on it."""

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.lines_plan.plan import LinesPlan
from hullchange.units import MM_PER_M

Paper = Literal["A3", "A2", "A1", "A0"]
PAPERS: dict[Paper, tuple[float, float]] = {
    "A3": (420.0, 297.0),
    "A2": (594.0, 420.0),
    "A1": (841.0, 594.0),
    "A0": (1189.0, 841.0),
}
"""[mm] Source: ISO 216, from memory."""
LETTERS: dict[Paper, float] = {"A3": 2.4, "A2": 2.9, "A1": 3.4, "A0": 4.0}
"""Size of letters [mm]."""
FRAME = 10.0  # [mm] from the edge of the paper
INSIDE = 4.0  # [mm] between the frame and what is drawn
ABOVE, BETWEEN, BELOW = 9.0, 9.0, 3.5
SIDE, MIDDLE = 6.0, 9.5
"""Lanes for words about the views, in sizes of letters."""


@dataclass(frozen=True)
class Extent:
    """What the views take at full size [m]: x from and to, z from and to, half-breadth."""

    fore: float
    aft: float
    low: float
    high: float
    half: float


@dataclass(frozen=True)
class PlanView:
    """Where a view stands.

    Attributes:
        origin_mm: where its origin is on paper.
        per_m: [mm] on paper for a metre.
        low_mm: lower left corner of the room for it.
        high_mm: upper right corner of it.
    """

    origin_mm: tuple[float, float]
    per_m: float
    low_mm: tuple[float, float]
    high_mm: tuple[float, float]

    def on_paper(self, points: FloatArray) -> FloatArray:
        """(n, 2) [mm] of points (n, 2) [m] of the view."""
        return np.asarray(points * self.per_m + np.array(self.origin_mm))


@dataclass(frozen=True)
class SheetLayout:
    """Paper, scale and views.

    Attributes:
        paper: its size by name.
        scale: 1 to so much.
        letters: their size [mm].
        extent: of the boat.
        profile: the view from the side; x to the right, z up.
        body: the view end on; y to the right, z up.
        breadths: the view from above; x to the right, y up.
        table: upper left corner [mm] of the table of offsets; None where there is no room.
    """

    paper: Paper
    scale: int
    letters: float
    extent: Extent
    profile: PlanView
    body: PlanView
    breadths: PlanView
    table: tuple[float, float] | None = None

    @property
    def size_mm(self) -> tuple[float, float]:
        """Of the paper."""
        return PAPERS[self.paper]


def extent_of(plan: LinesPlan) -> Extent:
    """What the views take."""
    every = np.concatenate([curve.points for curve in plan.curves])
    views = [view[:, [0, 1]] for view in plan.side_views.values()]
    sides = np.concatenate([every[:, [0, 2]], *views])
    marks = np.array([*plan.marks.values()]).reshape(-1, 2)
    shown = np.concatenate([sides, marks])
    xs = [*shown[:, 0].tolist(), *(station.x for station in plan.stations)]
    low, high = float(shown[:, 1].min()), float(shown[:, 1].max())
    return Extent(min(xs), max(xs), min(low, 0.0), max(high, 0.0), float(every[:, 1].max()))


def layout_of(
    extent: Extent,
    strip_mm: float,
    paper: Paper,
    table: tuple[float, float],
    scales: tuple[int, ...],
) -> SheetLayout:
    """The largest scale at which the views stand on a paper above the title block.

    Args:
        extent: of the boat.
        strip_mm: height of the title block.
        paper: by name; where not even the smallest scale fits it is taken all the same.
        table: width and height [sizes of letters] of the table of offsets; it goes below the
            views if that costs no scale.
        scales: to choose from, 1 to so much, the largest first.
    """
    scale = next((s for s in scales if _fits(extent, strip_mm, paper, s)), scales[-1])
    letters, room = LETTERS[paper], _room(paper, strip_mm)
    spare = np.maximum(np.subtract(room, _sizes(extent, letters, scale)), 0.0)
    wide, high = ((size + 2.0) * letters for size in table)
    if wide > room[0] or high > spare[1]:
        return _placed(extent, (paper, scale), FRAME + INSIDE + strip_mm, spare)
    spare -= np.array([0.0, high])
    low = FRAME + INSIDE + strip_mm + high + float(spare[1]) / 3.0
    views = _placed(extent, (paper, scale), low, spare * np.array([1.0, 2.0 / 3.0]))
    return replace(views, table=(views.profile.low_mm[0], low))


def paper_for(extent: Extent, strips_mm: dict[Paper, float], scales: tuple[int, ...]) -> Paper:
    """The smallest paper on which she is well seen.

    Args:
        extent: of the boat.
        strips_mm: height of the title block on each paper.
        scales: at which she is well seen, 1 to so much.
    """
    for paper, strip in strips_mm.items():
        if any(_fits(extent, strip, paper, s) for s in scales):
            return paper
    return "A0"


def _sizes(extent: Extent, letters: float, scale: int) -> tuple[float, float]:
    """Width and height [mm] of the views with the words about them."""
    per_m = MM_PER_M / scale
    wide = extent.aft - extent.fore + 2.0 * extent.half
    high = extent.high - extent.low + extent.half
    lanes = 2.0 * SIDE + MIDDLE, ABOVE + BETWEEN + BELOW
    return wide * per_m + lanes[0] * letters, high * per_m + lanes[1] * letters


def _room(paper: Paper, strip_mm: float) -> tuple[float, float]:
    """Width and height [mm] for the views."""
    rim = 2.0 * (FRAME + INSIDE)
    return PAPERS[paper][0] - rim, PAPERS[paper][1] - rim - strip_mm


def _fits(extent: Extent, strip_mm: float, paper: Paper, scale: int) -> bool:
    needs, room = _sizes(extent, LETTERS[paper], scale), _room(paper, strip_mm)
    return needs[0] <= room[0] and needs[1] <= room[1]


def _placed(
    extent: Extent, sheet: tuple[Paper, int], low: float, spare: FloatArray
) -> SheetLayout:
    """The views above a height [mm] of the paper, what is spare [mm] shared between them."""
    paper, scale = sheet
    letters, per_m = LETTERS[paper], MM_PER_M / scale
    aside, apart = (spare / 3.0).tolist()
    left = FRAME + INSIDE + aside + SIDE * letters
    length, half = (extent.aft - extent.fore) * per_m, extent.half * per_m
    depth = (extent.high - extent.low) * per_m
    bottom = low + apart + BELOW * letters
    upper = bottom + half + BETWEEN * letters + apart
    across = left + length + MIDDLE * letters + aside
    water, start = upper - extent.low * per_m, left - extent.fore * per_m
    right, end = across + 2.0 * half, left + length
    return SheetLayout(
        paper,
        scale,
        letters,
        extent,
        PlanView((start, water), per_m, (left, upper), (end, upper + depth)),
        PlanView((across + half, water), per_m, (across, upper), (right, upper + depth)),
        PlanView((start, bottom), per_m, (left, bottom), (end, bottom + half)),
    )
