"""Words at the lines of a piece: beside the line they belong to, where nothing crosses them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import pi

import numpy as np
import shapely

from hullchange.geometry.frame import FloatArray
from hullchange.shop.contour import turned
from hullchange.shop.lettering import width
from hullchange.shop.room import box_around

CLEAR = 0.006  # [m] kept between words and edges
NOTE = 0.010  # [m] height of the words at a line
LEAST_CHORD = 1e-6  # [m] a line that is shorter from end to end comes back to its start
SHIFTS = (0.0, 0.05, 0.10)  # [m] along the line, where its end is taken


@dataclass(frozen=True, eq=False)
class TextLine:
    """A line of text: lower left corner (2,) [m], height [m], angle of its base line [rad]."""

    text: str
    at: FloatArray
    height: float
    angle: float = 0.0

    @property
    def box(self) -> FloatArray:
        """(4, 2) corners [m] of the space it takes."""
        size = width(self.text, self.height), self.height
        half = np.array(size) / 2.0
        return box_around(self.at + half @ turned(self.angle), size, self.angle)


@dataclass(frozen=True, eq=False)
class Note:
    """Words for one end, 0 or 1, of a line (n, 2) [m]."""

    line: FloatArray
    end: int
    text: str


def placed(
    notes: Sequence[Note], lines: Sequence[FloatArray], steel: shapely.Geometry
) -> list[TextLine]:
    """The words of notes placed inside the steel, none on another.

    Each lies beside the end of its line, above or below, or farther along, where no line
    crosses it. Where lines cross it everywhere it lies on one; where other words do, it is
    left out.

    Args:
        notes: to be placed.
        lines: (n, 2) [m] each, to keep clear of.
        steel: the region of the piece [m].
    """
    tree = shapely.STRtree([shapely.LineString(line) for line in lines])
    made: list[TextLine] = []
    boxes: list[shapely.Geometry] = []
    for note in notes:
        free = [
            (words, box)
            for words, box in _ways(note)
            if steel.contains(box.buffer(CLEAR / 2.0))
            and not any(box.intersects(other) for other in boxes)
        ]
        clear = (row for row in free if len(tree.query(row[1], "intersects")) == 0)
        best = next(clear, free[0] if free else None)
        if best is not None:
            made.append(best[0])
            boxes.append(best[1])
    return made


def _ways(note: Note) -> Iterator[tuple[TextLine, shapely.Geometry]]:
    for shift in SHIFTS:
        for above in (True, False):
            words = _beside(note, shift, above=above)
            yield words, shapely.Polygon(words.box)


def _chord(line: FloatArray) -> FloatArray:
    """From the line's beginning to its end; along its first leg where it comes back."""
    whole = line[-1] - line[0]
    return np.asarray(whole if np.hypot(*whole) > LEAST_CHORD else line[1] - line[0])


def _beside(note: Note, shift: float, *, above: bool) -> TextLine:
    """Words along a line, just above or below it, near one of its ends."""
    line, text = note.line, note.text
    chord = _chord(line)
    angle = float(np.arctan2(chord[1], chord[0]))
    start, forth = (0, 1.0) if note.end == 0 else (-1, -1.0)
    readable = -pi / 2.0 + 1e-9 < angle <= pi / 2.0 + 1e-9
    base = angle if readable else angle - pi * np.sign(angle)
    way = forth * chord / np.hypot(*chord)
    rightwards = float(way @ np.array([np.cos(base), np.sin(base)])) > 0.0
    back = 0.0 if rightwards else width(text, NOTE)
    up = np.array([-np.sin(base), np.cos(base)]) * (CLEAR if above else -CLEAR - NOTE)
    return TextLine(
        text, line[start] + way * (2.0 * CLEAR + back + shift) + up, NOTE, float(base)
    )
