"""Where an upright plate meets the hull: from outside at the bow, from inside on the bottom."""

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.geometry.host import Host

STATIONS = 121
_HALVED = 20
_HAIR = 1e-3  # [m] for slopes


def foremost(host: Host, y: FloatArray, z: FloatArray) -> FloatArray:
    """x (n,) [m] where a line straight aft at half-breadth y and height z meets the hull.

    Above the sheer it is where the sheer is met; not a number where the hull is nowhere so
    wide, or not so deep.
    """
    stations = np.linspace(host.fore_x, host.transom_x, STATIONS)
    reached = _half_breadth(host.sections(stations)[:, None], z[None]) >= y
    first = np.argmax(reached, axis=0)
    high, low = stations[first], stations[np.maximum(first - 1, 0)]
    for _ in range(_HALVED):
        middle = (low + high) / 2.0
        within = _half_breadth(host.sections(middle), z) >= y
        low, high = np.where(within, low, middle), np.where(within, middle, high)
    found = np.where(first == 0, stations[0], high)
    return np.where(reached.any(axis=0), found, np.nan)


def _half_breadth(sections: FloatArray, z: FloatArray) -> FloatArray:
    """Widest half-breadth (...) at heights z (...) of half sections (..., m, 2).

    Above a section's top that of the top; below its bottom -1.
    """
    y, height = sections[..., 0], sections[..., 1]
    level = np.minimum(z, height[..., -1])[..., None]
    before, after = height[..., :-1], height[..., 1:]
    spans = (np.minimum(before, after) <= level) & (level <= np.maximum(before, after))
    step = after - before
    share = np.divide(
        level - before, step, out=np.ones(np.broadcast(level, step).shape), where=step != 0.0
    )
    widths = y[..., :-1] + share * np.diff(y, axis=-1)
    return np.asarray(np.where(spans, widths, -1.0).max(axis=-1))


def inside_bottom(host: Host, x: FloatArray, y: FloatArray) -> FloatArray:
    """Height (n,) [m] of the bottom plating's inner face at (x, y), square to its slope."""
    outside = host.bottom_z(x, y)
    slopes = [
        (host.bottom_z(x + a, y + b) - host.bottom_z(x - a, y - b)) / (2.0 * _HAIR)
        for a, b in ((_HAIR, 0.0), (0.0, _HAIR))
    ]
    thickness = np.array(
        [host.bottom_thickness(float(a), float(b)) for a, b in zip(x, y, strict=True)]
    )
    return np.asarray(outside + thickness * np.sqrt(1.0 + slopes[0] ** 2 + slopes[1] ** 2))
