"""What is drawn: loops and lines on layers, the same for every kind of file."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.shop.contour import Contour, turned
from hullchange.shop.layers import Layer
from hullchange.shop.lettering import strokes
from hullchange.shop.marks import MarkRole, Marks
from hullchange.shop.notes import TextLine
from hullchange.shop.piece import PlatePiece

_OF_ROLE: dict[MarkRole, Layer] = {"mark": "MARK", "bend": "BEND", "check": "REF"}


@dataclass(frozen=True, eq=False)
class Picture:
    """Loops and open lines (n, 2) [m], each on its layer."""

    loops: tuple[tuple[Layer, Contour], ...] = ()
    lines: tuple[tuple[Layer, FloatArray], ...] = ()

    def with_(self, other: "Picture") -> "Picture":
        """Both pictures as one."""
        return Picture(self.loops + other.loops, self.lines + other.lines)

    def placed(self, angle: float, shift: FloatArray) -> "Picture":
        """Turned by an angle [rad], then shifted (2,) [m]."""
        return Picture(
            tuple((layer, loop.placed(angle, shift)) for layer, loop in self.loops),
            tuple((layer, line @ turned(angle) + shift) for layer, line in self.lines),
        )

    def only(self, layers: Iterable[Layer]) -> "Picture":
        """What lies on some layers."""
        wanted = set(layers)
        return Picture(
            tuple(row for row in self.loops if row[0] in wanted),
            tuple(row for row in self.lines if row[0] in wanted),
        )

    @property
    def bounds(self) -> FloatArray:
        """(2, 2) smallest and largest coordinates [m]."""
        points = [loop.points for _, loop in self.loops] + [line for _, line in self.lines]
        every = np.concatenate(points)
        return np.array([every.min(axis=0), every.max(axis=0)])


def cut_of(piece: PlatePiece) -> Picture:
    """The contours of a piece alone."""
    return Picture(tuple(("CUT", ring) for ring in piece.rings))


def marks_picture(marks: Marks) -> Picture:
    """Lines and words of a piece's marks."""
    lines = tuple((_OF_ROLE[line.role], line.points) for line in marks.lines)
    return Picture(lines=lines).with_(text_strokes(marks.words, "TEXT"))


def text_strokes(words: Iterable[TextLine], layer: Layer) -> Picture:
    """Words as strokes."""
    return Picture(
        lines=tuple(
            (layer, stroke)
            for word in words
            for stroke in strokes(word.text, word.at, word.height, word.angle)
        )
    )
