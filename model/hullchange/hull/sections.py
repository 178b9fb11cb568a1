"""Half sections of the canoe body at any station."""

import numpy as np
from numpy.typing import NDArray

from hullchange.geometry.frame import FloatArray
from hullchange.hull.lines import Lines

OBLIQUE_STEPS = 8  # pieces of a strip whose rulings are not square to the boat


def half_sections(lines: Lines, x: FloatArray) -> FloatArray:
    """(n, m, 2) half-breadth and height [m] from centreline to sheer at stations x (n,).

    Where all lines end at the same x the rulings lie in the stations and a row is a line.
    Otherwise a ruling joins points at different x, and each strip is met in several places.
    Ahead of the foot of the stem, or behind the foot of the transom, the rows that do not
    exist fall on the end of the section.
    """
    if np.ptp(lines.fore_x) == 0.0 and np.ptp(lines.aft_x) == 0.0:
        return np.stack([line.at(x) for line in lines.lines], axis=1)
    count = len(lines.lines)
    rows = np.linspace(0.0, count - 1.0, (count - 1) * OBLIQUE_STEPS + 1)
    low, high = _extent(lines, x)
    return _on_rulings(lines, x[:, None], np.clip(rows, low[:, None], high[:, None]))


def heights_at(section: FloatArray, breadth: FloatArray) -> FloatArray:
    """Lowest height (n,) [m] at a half-breadth (n,) on half sections (n, m, 2).

    Beyond the widest point it is the height of the widest point.
    """
    y, z = section[..., 0], section[..., 1]
    wanted = np.clip(np.abs(breadth), y[:, 0], y.max(axis=1))[:, None]
    before, after = y[:, :-1], y[:, 1:]
    spans = (np.minimum(before, after) <= wanted) & (wanted <= np.maximum(before, after))
    step = after - before
    share = np.divide(wanted - before, step, out=np.zeros(step.shape), where=step != 0.0)
    return np.asarray(
        np.min(np.where(spans, z[:, :-1] + share * np.diff(z, axis=1), np.inf), axis=1)
    )


def _extent(lines: Lines, x: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(n,), (n,) lowest and highest row (line number and share of a strip) at stations x."""
    start, end = np.zeros((len(x), len(lines.lines) - 1)), np.ones((len(x), 1))
    for inside in (x[:, None] - lines.fore_x, lines.aft_x - x[:, None]):
        first, second = inside[:, :-1], inside[:, 1:]
        step = first - second
        cross = np.divide(first, step, out=np.zeros(step.shape), where=step != 0.0)
        start = np.maximum(
            start, np.where(first >= 0.0, 0.0, np.where(second >= 0.0, cross, 2.0))
        )
        end = np.minimum(end, np.where(second >= 0.0, 1.0, np.where(first >= 0.0, cross, -1.0)))
    strip = np.arange(len(lines.lines) - 1.0)
    exists: NDArray[np.bool_] = start <= end
    low = np.min(np.where(exists, strip + start, np.inf), axis=1)
    high = np.max(np.where(exists, strip + end, -np.inf), axis=1)
    return low, high


def _on_rulings(lines: Lines, x: FloatArray, row: FloatArray) -> FloatArray:
    """(n, m, 2) half-breadth and height at x (n, 1) on rows (n, m)."""
    found = np.empty((*row.shape, 2))
    strip = np.minimum(row.astype(np.int64), len(lines.lines) - 2)
    share = row - strip
    fore = (1.0 - share) * lines.fore_x[strip] + share * lines.fore_x[strip + 1]
    aft = (1.0 - share) * lines.aft_x[strip] + share * lines.aft_x[strip + 1]
    fraction = np.clip((x - fore) / (aft - fore), 0.0, 1.0)
    for k, (lower, upper) in enumerate(zip(lines.lines[:-1], lines.lines[1:], strict=True)):
        on = strip == k
        w, u = share[on][:, None], fraction[on]
        found[on] = (1.0 - w) * lower.at_fraction(u)[:, 1:] + w * upper.at_fraction(u)[:, 1:]
    return found
