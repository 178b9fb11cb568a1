"""Scans of known hulls: noise, strays, cradle holes, tilted, with marks picked on them."""

from dataclasses import dataclass

import numpy as np

POINTS = 60_000


@dataclass(frozen=True)
class MadeScan:
    """A cloud (n, 3) and what was picked on it, in axes of its own [m]."""

    points: np.ndarray
    waterline: np.ndarray
    bow: np.ndarray
    chines: dict


def sampled(surface, count, draw):
    """Points (count, 3) spread evenly over a surface, and the normals there."""
    a, b, c = surface.vertices[surface.faces].transpose(1, 0, 2)
    normal = np.cross(b - a, c - a)
    area = np.linalg.norm(normal, axis=1)
    face = draw.choice(len(area), count, p=area / area.sum())
    u, v = draw.random((2, count))
    over = u + v > 1.0
    u[over], v[over] = 1.0 - u[over], 1.0 - v[over]
    points = a[face] + u[:, None] * (b - a)[face] + v[:, None] * (c - a)[face]
    return points, normal[face] / np.maximum(area[face], 1e-30)[:, None]


def without_deck(points, normals, hull):
    """Points of a bare hull, as it is scanned ashore."""
    edge = hull.lines.sheer.at(points[:, 0])[:, 1]
    return points[~((normals[:, 2] > 0.9) & (points[:, 2] > edge - 0.02))]


def with_cradle(points, draw):
    """Points less what four pairs of pads and three blocks hide."""
    low, length = points[:, 0].min(), np.ptp(points[:, 0])
    for _ in range(4):
        middle = draw.uniform(0.2, 0.85) * length + low
        for side in (-1.0, 1.0):  # in pairs, not quite opposite
            x, z = middle + draw.normal(0.0, 0.1), draw.uniform(-0.35, 0.1)
            near = (np.abs(points[:, 0] - x) < 0.20) & (np.abs(points[:, 2] - z) < 0.22)
            points = points[~(near & (points[:, 1] * side > 0.0))]
    for x in np.linspace(0.3, 0.7, 3) * length + low:
        near = (np.abs(points[:, 0] - x) < 0.15) & (np.abs(points[:, 1]) < 0.20)
        points = points[~(near & (points[:, 2] < 0.0))]
    return points


def tilted(draw):
    """A function that turns and shifts points (n, 3) as a scanner happened to stand."""
    roll, yaw, pitch = np.radians(draw.normal(0.0, [1.5, 2.0, 1.0]))
    c, s = np.cos, np.sin
    x = np.array([[1, 0, 0], [0, c(roll), -s(roll)], [0, s(roll), c(roll)]])
    y = np.array([[c(pitch), 0, s(pitch)], [0, 1, 0], [-s(pitch), 0, c(pitch)]])
    z = np.array([[c(yaw), -s(yaw), 0], [s(yaw), c(yaw), 0], [0, 0, 1]])
    turn, shift = (z @ y @ x).T, draw.normal(0.0, 0.2, 3)
    return lambda points: points @ turn + shift


def scan_of(hull, seed, *, noise=0.005, strays=0.1, mark_noise=0.003, at_stem=False):
    """A scan of a hull, and marks on it, one of them at the stem where asked for."""
    draw = np.random.default_rng([5, seed])
    points = with_cradle(without_deck(*sampled(hull.surface, POINTS, draw), hull), draw)
    points = points + draw.normal(0.0, noise, points.shape)
    low, high = points.min(axis=0) - 0.5, points.max(axis=0) + 0.5
    about = draw.uniform(low, high, (int(strays * len(points)), 3))
    length, line = hull.length, hull.lines.lines[1]
    marks = [
        [share * length, side * line.at(np.array([share * length]))[0, 0], 0.0]
        for share in (0.15, 0.8)
        for side in (1.0, -1.0)
    ]
    marks = np.array(marks) + draw.normal(0.0, mark_noise, (4, 3))
    if at_stem:
        marks = np.vstack([marks, draw.normal(0.0, mark_noise, 3)])
    chines = {
        line.name: line.at_fraction(np.linspace(0.02, 0.98, 7)) + draw.normal(0, 0.01, (7, 3))
        for line in hull.lines.lines
        if line.kind == "chine"
    }
    turn = tilted(draw)
    return MadeScan(
        turn(np.vstack([points, about])),
        turn(marks),
        turn(hull.lines.sheer.points[:1])[0],
        {name: turn(picks) for name, picks in chines.items()},
    )
