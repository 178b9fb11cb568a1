"""Packing a rectangular sheet with the packing library, run in a process of its own."""

import json
import subprocess
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import degrees, radians
from typing import Any

import numpy as np
import shapely

from hullchange.shop.nest import Nest, Placement, Shape, Sheet, Spacing

WORKERS = 2
_FINE = 0.3e-3  # [m] how much simpler an outline may be made, to the outside
_EXTRA = 30.0  # [s] after which a process that does not answer is ended
_SCALE = 1000.0  # the library is happier with millimetres


def strip_nest(
    shapes: Sequence[Shape], sheet: Sheet, spacing: Spacing, seconds: int, seed: int
) -> Nest | None:
    """All shapes nested on a rectangular sheet; None where they do not fit.

    Holes are not used. What the library cannot do, or does by ending itself, is no nest.

    Args:
        shapes: every one of them.
        sheet: a whole one.
        spacing: gap and margin.
        seconds: that it may take.
        seed: the same gives the same only on the same machine: keep the placements.
    """
    length, breadth = sheet.size
    aside = spacing.margin - spacing.gap  # the library keeps its gap to the strip's border too
    asked = {
        "height": (breadth - 2.0 * aside) * _SCALE,
        "gap": spacing.gap * _SCALE,
        "seconds": seconds,
        "seed": seed,
        "workers": WORKERS,
        "items": [_item(shape) for shape in shapes],
    }
    answer = _asked(asked, seconds + _EXTRA)
    if answer is None or answer.width / _SCALE > length - 2.0 * aside + 1e-9:
        return None
    places = (
        Placement(
            row["id"],
            radians(row["turn_deg"]),
            (row["shift"][0] / _SCALE + aside, row["shift"][1] / _SCALE + aside),
        )
        for row in answer.places
    )
    return Nest(sheet, tuple(places))


def _item(shape: Shape) -> dict[str, object]:
    """A shape without its holes and with fewer corners, that contains it."""
    outer = shapely.Polygon(shape.region.exterior)
    simple = outer.buffer(_FINE, join_style="mitre").simplify(_FINE)
    points = np.round(shapely.get_coordinates(simple)[:-1] * _SCALE, 3)
    return {
        "id": shape.id,
        "points": points.tolist(),
        "turns_deg": [degrees(turn) for turn in shape.turns],
    }


@dataclass(frozen=True)
class _Answer:
    """Width of the strip [mm], and its placements as they came."""

    width: float
    places: list[dict[str, Any]]


def _asked(question: Mapping[str, object], seconds: float) -> _Answer | None:
    """The library's answer; nothing where it fails, ends itself or takes too long."""
    command = [sys.executable, "-m", "hullchange.shop.strip_child"]
    try:
        done = subprocess.run(
            command,
            input=json.dumps(question),
            capture_output=True,
            text=True,
            timeout=seconds,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return None
    return _Answer(**json.loads(done.stdout)) if done.returncode == 0 else None
