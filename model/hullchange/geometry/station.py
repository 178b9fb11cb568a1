"""Where a plane across the boat cuts a closed surface."""

import numpy as np

from hullchange.geometry.frame import BoolArray, FloatArray, Indices
from hullchange.geometry.surface import Surface


def station_cuts(surface: Surface, x: float) -> tuple[FloatArray, ...]:
    """Closed outlines (n, 2) of y and z [m], in order round each; none where it is not met.

    At the after end of a surface that is its end itself, such as a transom.

    Args:
        surface: closed.
        x: of the plane [m].
    """
    aft = surface.vertices[:, 0] >= x
    corners = aft[surface.faces]
    met = surface.faces[corners.any(axis=1) & ~corners.all(axis=1)].astype(np.int64)
    starts, ends = aft[met], aft[np.roll(met, -1, axis=1)]
    # one side of each triangle leads aft through the plane and one leads back
    entered = _sides(met, ~starts & ends, len(aft))
    left = _sides(met, starts & ~ends, len(aft))
    return tuple(
        _crossed(surface.vertices, np.array(loop), x)
        for loop in _loops(dict(zip(entered.tolist(), left.tolist(), strict=True)))
    )


def starboard_half(outline: FloatArray) -> FloatArray:
    """(m, 2) [m] the part of an outline that lies to starboard, from its lower end on.

    Args:
        outline: (n, 2) y and z [m], closed, in order, crossing the centreline twice at most.
    """
    port = outline[:, 0] < 0.0
    if not port.any() or port.all():
        return outline[~port]
    ring = np.roll(outline, -int(np.argmax(~port & np.roll(port, 1))), axis=0)
    count = int(np.argmax(ring[:, 0] < 0.0))
    half = np.vstack(
        [_at_centre(ring[-1], ring[0]), ring[:count], _at_centre(ring[count], ring[count - 1])]
    )
    return half if half[0, 1] <= half[-1, 1] else half[::-1]


def _sides(met: Indices, chosen: BoolArray, count: int) -> Indices:
    """Of each triangle a number for its chosen side, whichever way that is gone."""
    triangle, corner = np.arange(len(met)), np.argmax(chosen, axis=1)
    a, b = met[triangle, corner], met[triangle, (corner + 1) % 3]
    return np.asarray(np.minimum(a, b) * count + np.maximum(a, b))


def _loops(after: dict[int, int]) -> list[list[int]]:
    """Rings of what comes after what."""
    loops = []
    while after:
        first, here = after.popitem()
        loop = [first]
        while here != first:
            loop.append(here)
            here = after.pop(here)
        loops.append(loop)
    return loops


def _crossed(vertices: FloatArray, sides: Indices, x: float) -> FloatArray:
    """(n, 2) y and z where numbered sides go through the plane."""
    a, b = vertices[sides // len(vertices)], vertices[sides % len(vertices)]
    share = ((x - a[:, 0]) / (b[:, 0] - a[:, 0]))[:, None]
    return np.asarray(a[:, 1:] + share * (b[:, 1:] - a[:, 1:]))


def _at_centre(port: FloatArray, starboard: FloatArray) -> FloatArray:
    """(2,) where the way from one point to another meets the centreline."""
    share = port[0] / (port[0] - starboard[0])
    return np.array([0.0, port[1] + share * (starboard[1] - port[1])])
