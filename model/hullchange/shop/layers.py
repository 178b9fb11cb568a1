"""The layers of what is drawn, and what each is for."""

from typing import Literal

Layer = Literal["CUT", "MARK", "BEND", "TEXT", "REF", "SHEET", "INFO"]

LAYERS: dict[Layer, str] = {
    "CUT": "outer and inner contours: cut",
    "MARK": "ticks, landings, arrows: mark",
    "BEND": "rolling lines: mark",
    "TEXT": "single-stroke lettering: mark",
    "REF": "lines to check the scale: mark or leave out",
    "SHEET": "the sheet: leave out",
    "INFO": "text beside the sheet: leave out",
}
"""What each layer is for."""
