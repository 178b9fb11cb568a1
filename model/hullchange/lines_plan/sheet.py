"""What a sheet of paper bears: strokes and labels in millimetres, each on a layer."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from hullchange.cutting.drawing import POINT, width_of
from hullchange.geometry.frame import BoolArray, FloatArray, Indices

PlanLayer = Literal[
    "GRID", "AXES", "DWL", "FAIR", "BUTTOCKS", "WATERLINES", "STATIONS", "APPENDAGES", "DECK",
    "CHINES", "ENDS", "CENTRELINE", "SHEER", "MARKS", "READINGS", "FRAME", "TEXT",
]  # fmt: skip


@dataclass(frozen=True)
class Pen:
    """How a layer is drawn.

    Attributes:
        colour: of its lines.
        width_mm: of its lines on paper.
        dash_mm: lengths of dash and gap; empty for a full line.
        dxf_colour: number in a DXF file.
        meaning: what is on it.
    """

    colour: str
    width_mm: float
    dash_mm: tuple[float, ...]
    dxf_colour: int
    meaning: str


PENS: dict[PlanLayer, Pen] = {
    "GRID": Pen("#b4bcc4", 0.09, (), 8, "grid: stations, waterlines and buttocks seen edge on"),
    "AXES": Pen("#444444", 0.13, (5.0, 1.0, 1.0, 1.0), 9, "centreline, seen edge on"),
    "DWL": Pen("#0d5fb3", 0.30, (), 5, "design waterline"),
    "FAIR": Pen("#8a8f96", 0.13, (3.0, 1.2), 9, "line as measured, no corner"),
    "BUTTOCKS": Pen("#1e7a46", 0.18, (), 3, "buttock"),
    "WATERLINES": Pen("#0d5fb3", 0.18, (), 5, "waterline"),
    "STATIONS": Pen("#222222", 0.22, (), 7, "section at a station"),
    "APPENDAGES": Pen("#6a4a2a", 0.25, (), 30, "keel, skeg, rudder"),
    "DECK": Pen("#555555", 0.18, (4.0, 1.2, 0.6, 1.2), 9, "deck at the centreline"),
    "CHINES": Pen("#a02c2c", 0.30, (), 1, "chine"),
    "ENDS": Pen("#111111", 0.35, (), 7, "stem, stern"),
    "CENTRELINE": Pen("#111111", 0.45, (), 7, "canoe body at the centreline"),
    "SHEER": Pen("#111111", 0.45, (), 7, "sheer"),
    "MARKS": Pen("#a0308c", 0.18, (), 6, "freeboard mark"),
    "READINGS": Pen("#d0341c", 0.13, (), 1, "point"),
    "FRAME": Pen("#222222", 0.25, (), 7, "frame and title block"),
    "TEXT": Pen("#111111", 0.0, (), 7, "words"),
}
"""In the order in which they are drawn."""


CELL = 0.5
"""[mm] of the grid in which words look for room."""


@dataclass(frozen=True, eq=False)
class Stroke:
    """A line (n, 2) [mm] on a layer."""

    layer: PlanLayer
    points: FloatArray
    closed: bool = False


@dataclass(frozen=True)
class Label:
    """Words on one level line.

    Attributes:
        words: to be written.
        at: where the base line stands [mm].
        size: of the letters [mm].
        across: share of their width that stands left of it.
        bold: whether they are.
        rank: the smaller, the sooner it stays where two would overlap.
    """

    words: str
    at: tuple[float, float]
    size: float
    across: float = 0.0
    bold: bool = False
    rank: int = 0

    @cached_property
    def width(self) -> float:
        """[mm] on paper."""
        return text_width(self.words, self.size, self.bold)

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top [mm]."""
        left, base = self.at[0] - self.across * self.width, self.at[1]
        return left, base - 0.22 * self.size, left + self.width, base + 0.76 * self.size


def text_width(words: str, size: float, bold: bool = False) -> float:
    """Width [mm] of words in letters of a size [mm]."""
    return width_of(words, size * POINT, bold) / POINT


def fitted(label: Label, width: float) -> Label:
    """The label in smaller letters, or cut short, so that it is no wider than that [mm]."""
    if label.width <= width:
        return label
    size = max(0.6 * label.size, label.size * width / label.width)
    words = label.words
    while words and text_width(f"{words}…", size, label.bold) > width:
        words = words[:-1]
    cut = words if words == label.words else f"{words.rstrip()}…"
    return Label(cut, label.at, size, label.across, label.bold, label.rank)


def wrapped(words: str, size: float, width: float) -> list[str]:
    """Words on as many lines as they need, each no wider than that [mm]."""
    lines: list[str] = []
    for word in words.split():
        if lines and text_width(f"{lines[-1]} {word}", size) <= width:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return lines


def without_overlaps(labels: Iterable[Label]) -> tuple[Label, ...]:
    """The labels that find room, the more important ones first."""
    ordered = sorted(labels, key=lambda one: one.rank)
    boxes = np.array([label.box for label in ordered]).reshape(-1, 4)
    low, high = boxes[:, None, :2], boxes[:, None, 2:]
    over = np.all((low < boxes[:, 2:]) & (boxes[:, :2] < high), axis=2)
    kept: list[int] = []
    for n in range(len(ordered)):
        if not over[n, kept].any():
            kept.append(n)
    return tuple(ordered[n] for n in kept)


def spread(wanted: list[float], widths: list[float], low: float, high: float) -> list[float]:
    """Middles [mm] of boxes in a row, near where each is wanted, side by side.

    Args:
        wanted: middles, rising [mm].
        widths: of the boxes [mm].
        low: where the row begins [mm].
        high: where it should end [mm]; it runs on where the boxes are wider together.
    """
    at = list(wanted)
    reach = low
    for n, width in enumerate(widths):
        at[n] = max(at[n], reach + width / 2.0)
        reach = at[n] + width / 2.0
    reach = max(high, low + sum(widths))
    for n in range(len(at) - 1, -1, -1):
        at[n] = min(at[n], reach - widths[n] / 2.0)
        reach = at[n] - widths[n] / 2.0
    return at


class Ink:
    """Where lines and words stand already, in cells of a fine grid."""

    def __init__(
        self, low: tuple[float, float], high: tuple[float, float], lines: FloatArray
    ) -> None:
        """Note what is drawn.

        Args:
            low: lower left corner [mm] of the room for words.
            high: upper right corner [mm].
            lines: (n, 2) points [mm], no further apart than a cell, of all lines.
        """
        self.low, self.high = np.array(low), np.array(high)
        cells = np.maximum(np.ceil((self.high - self.low) / CELL), 1.0).astype(int)
        self._marked = np.zeros(cells + 1)
        at = np.floor((lines - self.low) / CELL).astype(int)
        at = at[((at >= 0) & (at < cells)).all(axis=1)]
        self._marked[at[:, 0] + 1, at[:, 1] + 1] = 1.0
        self._before = self._marked.cumsum(axis=0).cumsum(axis=1)

    def add(self, box: tuple[float, float, float, float]) -> None:
        """Note words in a box [mm]."""
        (a, b), (c, d) = self._cells(np.array([box]))[0].reshape(2, 2).tolist()
        self._marked[a + 1 : c + 1, b + 1 : d + 1] = 1.0
        self._before = self._marked.cumsum(axis=0).cumsum(axis=1)

    def free(self, boxes: FloatArray) -> BoolArray:
        """Which boxes (n, 4) [mm] lie within the room and have nothing in them."""
        inside = (boxes[:, :2] >= self.low) & (boxes[:, 2:] <= self.high)
        a, b, c, d = self._cells(boxes).T
        sums = self._before
        found = sums[c, d] - sums[a, d] - sums[c, b] + sums[a, b]
        return np.asarray(inside.all(axis=1) & (found == 0.0))

    def _cells(self, boxes: FloatArray) -> Indices:
        """(n, 4) first cell and the one after the last, both ways."""
        most = np.array(self._marked.shape) - 1
        low = np.floor((boxes[:, :2] - self.low) / CELL)
        high = np.ceil((boxes[:, 2:] - self.low) / CELL)
        return np.hstack([np.clip(low, 0, most), np.clip(high, 0, most)]).astype(int)


def beside(points: FloatArray, label: Label, ink: Ink) -> Label | None:
    """The label next to a curve, where neither lines nor words are; None if there is no room.

    Args:
        points: (n, 2) of the curve [mm].
        label: where it stands is not looked at.
        ink: what stands there already.
    """
    size, gap = label.size, 0.35 * label.size
    aside = label.width / 2.0 + gap
    along = dense(points, 0.5 * size)
    middle_out = np.argsort(np.abs(np.linspace(0.0, 1.0, len(along)) - 0.45), kind="stable")
    ways = [
        [0.0, 0.57 * size],
        [0.0, -1.11 * size],
        [aside, -0.3 * size],
        [-aside, -0.3 * size],
    ]
    bases = (np.array(ways)[:, None] + along[middle_out]).reshape(
        -1, 2
    )  # above it if it can be
    reach = np.array([-aside, -0.22 * size, aside, 0.76 * size])
    free = ink.free(np.tile(bases, 2) + reach)
    if not free.any():
        return None
    x, y = bases[int(np.argmax(free))].tolist()
    return Label(label.words, (x, y), size, 0.5, label.bold, label.rank)


def dense(points: FloatArray, step: float) -> FloatArray:
    """(m, 2) points along a line, no further apart than a step [mm]."""
    away = np.hypot(*np.diff(points, axis=0).T)
    reach = np.concatenate([[0.0], np.cumsum(away)])
    at = np.linspace(0.0, reach[-1], max(int(reach[-1] / step) + 2, 2))
    return np.column_stack([np.interp(at, reach, points[:, k]) for k in range(2)])
