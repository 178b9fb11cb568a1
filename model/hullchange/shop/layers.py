"""The layers of what is drawn, and what each is for."""

from typing import Literal

Layer = Literal["CUT", "MARK", "BEND", "TEXT", "REF", "SHEET", "INFO"]

LAYERS: dict[Layer, str] = {
    "CUT": "outer and inner contours: cut",
    "MARK": "ticks, landings, arrows: mark",
    "BEND": "rolling lines: mark",
    "TEXT": "words of single strokes: mark",
    "REF": "lines to check by: mark or leave out",
    "SHEET": "the sheet: leave out",
    "INFO": "words beside the sheet: leave out",
}
"""What each layer is for."""
