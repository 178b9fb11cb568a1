"""Lines at equal girth from sections traced on a body plan."""

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.hull.lines import LineInput
from hullchange.hull_sources.girths import nearest_polygon, sharp_end

STRIPS = 6
FEWEST_SECTIONS = 5
TRANSOM_NEAR = (
    0.03  # of the length, from the sheer's after end, for a section to be the transom
)
POINTED = 0.1  # of the beam, that the sheer's half-breadth is less than at a pointed stern


def section_lines(
    traced: list[FloatArray], known: tuple[LineInput, ...]
) -> tuple[list[LineInput], list[str]]:
    """The lines between centreline and sheer, and what is wanted besides.

    Args:
        traced: (n, 3) [m] points of each section, in the order of tracing.
        known: the centreline first and the sheer last.
    """
    sections = sorted(
        (s if s[0, 2] <= s[-1, 2] else s[::-1] for s in traced), key=lambda s: float(s[0, 0])
    )
    if len(sections) < FEWEST_SECTIONS or any(len(s) < 4 for s in sections):
        sentence = (
            f"Trace at least {FEWEST_SECTIONS} sections, each with 4 or more points from the "
            "keel to the sheer."
        )
        return [], [sentence]
    if len(known) < 2 or known[-1].kind != "sheer":
        return [], ["Sections need the centreline in the profile and the sheer in both views."]
    centreline, sheer = (np.array(line.points) for line in (known[0], known[-1]))
    x = np.array([float(s[0, 0]) for s in sections])
    columns = np.stack([nearest_polygon(s[:, 1:], STRIPS) for s in sections])
    lines = [np.column_stack([x, columns[:, k]]) for k in range(1, STRIPS)]
    ahead = centreline[centreline[:, 0] < x[0]][::-1]
    lines = _ended(lines, columns[0], ahead, float(x[0]), is_fore=True)
    wanted = []
    behind = centreline[centreline[:, 0] > x[-1]]
    if sheer[-1, 1] < POINTED * sheer[:, 1].max():
        lines = _ended(lines, columns[-1], behind, float(x[-1]), is_fore=False)
    elif sheer[-1, 0] - x[-1] > TRANSOM_NEAR * np.ptp(sheer[:, 0]):
        wanted.append("Trace the transom too, as the last section.")
    found = [
        LineInput(f"girth-{k}", "fair", tuple((a, max(b, 0.0), c) for a, b, c in line.tolist()))
        for k, line in enumerate(lines, 1)
    ]
    return found, wanted


def _ended(
    lines: list[FloatArray], column: FloatArray, stem: FloatArray, x: float, *, is_fore: bool
) -> list[FloatArray]:
    """Lines (n, 3) [m] carried on to a stem (m, 3), up from its foot, from a station x [m]."""
    if len(stem) < 2:
        return lines
    ends = sharp_end(column, stem[:, [0, 2]], x, is_fore=is_fore)[1:-1]
    pairs = zip(lines, ends, strict=True)
    return [np.vstack([end, a] if is_fore else [a, end[::-1]]) for a, end in pairs]
