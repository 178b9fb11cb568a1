"""Letters of single strokes, as a marking torch writes them."""

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.shop.contour import turned

WIDTH = 5.0 / 6.0
"""Of one letter with the space after it, in heights."""

# each stroke a run of points on a grid four wide and six high, column then row
_STROKES = {
    "A": "00 04 26 44 40|02 42",
    "B": "00 06 36 45 44 33 03|33 42 41 30 00",
    "C": "45 36 16 05 01 10 30 41",
    "D": "00 06 26 44 42 20 00",
    "E": "46 06 00 40|03 33",
    "F": "46 06 00|03 33",
    "G": "45 36 16 05 01 10 30 41 43 23",
    "H": "00 06|40 46|03 43",
    "I": "10 30|20 26|16 36",
    "J": "01 10 20 31 36",
    "K": "00 06|46 03 40",
    "L": "06 00 40",
    "M": "00 06 23 46 40",
    "N": "00 06 40 46",
    "O": "10 01 05 16 36 45 41 30 10",
    "P": "00 06 36 45 44 33 03",
    "Q": "10 01 05 16 36 45 41 30 10|22 40",
    "R": "00 06 36 45 44 33 03|23 40",
    "S": "45 36 16 05 04 13 33 42 41 30 10 01",
    "T": "06 46|26 20",
    "U": "06 01 10 30 41 46",
    "V": "06 20 46",
    "W": "06 10 23 30 46",
    "X": "00 46|06 40",
    "Y": "06 23 46|23 20",
    "Z": "06 46 00 40",
    "0": "10 01 05 16 36 45 41 30 10|12 34",
    "1": "15 26 20|10 30",
    "2": "05 16 36 45 44 00 40",
    "3": "05 16 36 45 44 33 42 41 30 10 01|13 33",
    "4": "30 36 02 42",
    "5": "46 06 03 33 42 41 30 10 01",
    "6": "45 36 16 05 01 10 30 41 42 33 13 02",
    "7": "06 46 10",
    "8": "13 04 05 16 36 45 44 33 13 02 01 10 30 41 42 33",
    "9": "01 10 30 41 45 36 16 05 04 13 33 44",
    "-": "13 33",
    "+": "13 33|22 24",
    ".": "10 11 21 20 10",
    ",": "10 21",
    "/": "00 46",
    ":": "11 12|14 15",
    "=": "12 32|14 34",
    "(": "30 21 25 36",
    ")": "10 21 25 16",
    ">": "01 43 05",
    " ": "",
}


def strokes(words: str, at: FloatArray, height: float, angle: float) -> list[FloatArray]:
    """Lines (n, 2) [m] of a text in capitals, from its lower left corner.

    A sign that is not in the table is written as a full stop.

    Args:
        words: to write.
        at: (2,) lower left corner [m].
        height: of a capital [m].
        angle: of the base line [rad].
    """
    lines = []
    for k, letter in enumerate(words.upper()):
        for stroke in _STROKES.get(letter, _STROKES["."]).split("|"):
            if stroke:
                grid = np.array([(float(p[0]), float(p[1])) for p in stroke.split()])
                flat = (grid / 6.0 + np.array([k * WIDTH, 0.0])) * height
                lines.append(flat @ turned(angle) + at)
    return lines


def width(words: str, height: float) -> float:
    """Length [m] of a line of text."""
    return max(len(words) * WIDTH - 1.0 / 6.0, 0.0) * height
