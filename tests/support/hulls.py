"""The demo's hull, and hulls unlike it, drawn at random."""

from functools import cache
from pathlib import Path

import numpy as np

from hullchange.errors import DocumentError
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput
from hullchange.hull.lines_csv import lines_of_csv

POINTS = 11
LINES = Path(__file__).parents[2] / "examples/saltmarrow-lines.csv"


@cache
def demo_hull():
    """Saltmarrow's hull as measured, without keel and skeg, with her plating."""
    lines = tuple(lines_of_csv(LINES.read_text(encoding="utf-8")).values())
    plating = (("below-lower-chine", 0.005), ("topsides", 0.004))
    return hull_of(HullInput(lines, 0.060, 1.80, (), plating))


def random_hull(seed):
    """A hull of 5 to 18 m: one to three chines, bow and stern raked or plumb, cambered deck."""
    draw = np.random.default_rng(seed)
    while True:
        try:
            return hull_of(random_input(draw), 2000)
        except DocumentError:
            continue


def random_input(draw):
    """What was measured of a hull that is drawn."""
    length = draw.uniform(5.0, 18.0)
    half = length * draw.uniform(0.12, 0.19)
    draught, freeboard = length * draw.uniform(0.03, 0.08), length * draw.uniform(0.08, 0.13)
    chines = int(draw.integers(1, 4))
    fullness, stern = draw.uniform(0.5, 0.9), draw.uniform(0.05, 0.85)
    rakes = length * draw.uniform(0.0, 0.12), length * draw.uniform(-0.05, 0.06)
    rakes = tuple(r if draw.random() > 0.3 else 0.0 for r in rakes)
    rows = np.linspace(0.0, 1.0, chines + 2)
    u = np.linspace(0.0, 1.0, POINTS)
    along = np.where(
        u < 0.55,
        np.sin(np.pi / 2 * u / 0.55),
        1 - (1 - stern) * np.clip((u - 0.55) / 0.45, 0, 1) ** 2,
    )
    keel = np.where(u < 0.5, np.clip(1 - u / 0.5, 0, 1) ** 2.5 * draw.uniform(0.6, 0.95), 0.0)
    keel = keel + np.where(
        u > 0.5, np.clip((u - 0.5) / 0.5, 0, 1) ** 2 * draw.uniform(0.25, 0.6), 0.0
    )
    sheer = freeboard * (1.0 + draw.uniform(-0.05, 0.25) * (2 * u - 1.2) ** 2)
    low = -draught + (draught + freeboard) * np.clip(keel, 0.0, 0.95)
    lines = []
    for k, w in enumerate(rows):
        y = half * along ** (1.0 + 0.6 * (1 - w)) * (w**fullness)
        z = low + (sheer - low) * w ** draw.uniform(1.2, 1.8)
        x = np.linspace(-rakes[0] * w, length + rakes[1] * w, POINTS)
        kind = "fair" if k == 0 else "sheer" if k == len(rows) - 1 else "chine"
        name = {"fair": "keel-line", "sheer": "sheer"}.get(kind, f"chine-{k}")
        points = tuple(tuple(map(float, row)) for row in np.round([x, y, z], 3).T)
        lines.append(LineInput(name, kind, points))
    zones = (("below-chine-1", draw.uniform(0.003, 0.010)), ("topsides", 0.005))
    plating = zones if draw.random() < 0.7 else ()
    return HullInput(tuple(lines), draw.uniform(0.0, 0.2), half, (), plating)
