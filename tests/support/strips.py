"""Volume and centre below the water by strips across the boat: a road of its own.

A strip is the outline of a section; what of it is wet is integrated along the outline, and the
strips are added up along the boat. No triangle kernel, no gradient of an energy: the attitude
is sought by scipy.
"""

from dataclasses import dataclass
from math import cos, sin

import numpy as np
from scipy.optimize import root


@dataclass(frozen=True, eq=False)
class Strips:
    """Outlines of many sections as straight pieces, their inside on the left.

    Attributes:
        x: (n,) [m] station of each piece.
        width: (n,) [m] thickness of its strip, negative where the body is taken away.
        ends: (n, 2, 2) [m] y and z of both ends.
    """

    x: np.ndarray
    width: np.ndarray
    ends: np.ndarray


def strip_middles(low, high, count):
    """Middles and thickness of equal strips [m]."""
    edges = np.linspace(low, high, count + 1)
    return (edges[1:] + edges[:-1]) / 2.0, (high - low) / count


def of_halves(x, width, halves):
    """Strips of half sections (n, m, 2), upwards from the keel to the deck's middle."""
    keel, deck = halves[:, :1] * [0.0, 1.0], halves[:, -1:] * [0.0, 1.0]
    loop = np.concatenate([keel, halves, deck], axis=1)
    pieces = np.stack([loop[:, :-1], loop[:, 1:]], axis=2)
    both = np.concatenate([pieces, pieces[:, :, ::-1] * [-1.0, 1.0]], axis=1)
    count = both.shape[1]
    return Strips(np.repeat(x, count), np.full(len(x) * count, width), both.reshape(-1, 2, 2))


def of_mesh(surface, adds, count):
    """Strips of a closed mesh, cut triangle by triangle."""
    triangles = surface.vertices[surface.faces]
    x, width = strip_middles(*surface.bounds[:, 0], count)
    first = np.searchsorted(x, triangles[:, :, 0].min(axis=1), "right")
    many = np.searchsorted(x, triangles[:, :, 0].max(axis=1), "right") - first
    which = np.repeat(np.arange(len(triangles)), many)
    along = np.arange(len(which)) - np.repeat(np.cumsum(many) - many, many)
    at, cut = x[first[which] + along], triangles[which]
    ahead = cut[:, :, 0] < at[:, None]
    lone = np.argmax(ahead == (ahead.sum(axis=1) == 1)[:, None], axis=1)
    a, b, c = (cut[np.arange(len(cut)), (lone + k) % 3] for k in range(3))
    met = [p + (q - p) * ((at - p[:, 0]) / (q - p)[:, 0])[:, None] for p, q in ((a, b), (a, c))]
    normal = np.cross(cut[:, 1] - cut[:, 0], cut[:, 2] - cut[:, 0])
    way = met[1] - met[0]
    turned = way[:, 2] * normal[:, 1] - way[:, 1] * normal[:, 2] < 0.0
    ends = np.stack(met, axis=1)[:, :, 1:]
    ends[turned] = ends[turned][:, ::-1]
    return Strips(at, np.full(len(at), width if adds else -width), ends)


def joined(strips):
    """Several bodies as one."""
    parts = ([getattr(s, name) for s in strips] for name in ("x", "width", "ends"))
    return Strips(*(np.concatenate(part) for part in parts))


def below(strips, heel, trim, offset):
    """Volume and its first moments (aft, level to starboard, up square to both), wet part."""
    level = (offset + sin(trim) * strips.x) / cos(trim)
    axes = np.array([[cos(heel), sin(heel)], [-sin(heel), cos(heel)]])
    p, q = (strips.ends[:, k] @ axes.T - np.outer(level, [0.0, 1.0]) for k in (0, 1))
    for dry, wet in ((p, q), (q, p)):
        over = (dry[:, 1] > 0.0) & (wet[:, 1] < 0.0)
        share = dry[over, 1] / (dry[over, 1] - wet[over, 1])
        dry[over] += share[:, None] * (wet[over] - dry[over])
        dry[over, 1] = 0.0
    # what is dry as a whole has no area between itself and the water
    (u, w), (v, t) = p.T, q.T
    run = np.where((w > 0.0) | (t > 0.0), 0.0, u - v) * strips.width
    area = run * (w + t) / 2.0
    across = run * (2.0 * u * w + u * t + v * w + 2.0 * v * t) / 6.0
    up = run * (w * w + w * t + t * t) / 6.0 + level * area
    return np.array([area.sum(), strips.x @ area, across.sum(), up.sum()])


def balanced_at_heel(strips, volume, centre, heel, near):
    """Lever to port [m] and trim [rad] of a body held at a heel, free to sink and trim.

    Args:
        strips: of all that floats.
        volume: [m^3] that it displaces.
        centre: (3,) [m] of its weight.
        heel: [rad].
        near: trim [rad] and offset [m] to begin at.
    """
    y, z = centre[1:]
    weight = np.array([centre[0], y * cos(heel) + z * sin(heel), z * cos(heel) - y * sin(heel)])

    def arms(state):
        wet = below(strips, heel, *state)
        return wet[0] - volume, wet[1:] / volume - weight

    def missing(state):
        excess, (aft, _, up) = arms(state)
        return [excess, cos(state[0]) * aft + sin(state[0]) * up]

    found = root(missing, near, tol=1e-10)
    assert found.success
    return arms(found.x)[1][1], found.x[0]
