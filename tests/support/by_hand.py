"""Displacement and stiffness of a boat by hand: sections by strips, Simpson along the boat.

From the readings of the document alone: nothing of the model is used.
"""

from dataclasses import dataclass

import numpy as np

STATIONS, STRIPS = 121, 400
WATERS = {"salt": 1025.0, "fresh": 1000.0}


@dataclass(frozen=True)
class ByHand:
    """What a waterline gives: displacement [kg], its centre along [m], metacentre up [m]."""

    mass: float
    lcb: float
    km: float


def by_hand(plain):
    """The boat as surveyed: her mass, its centre along and her metacentre above the DWL."""
    slope, height = _waterline(plain["survey"]["marks"])
    lines = [np.array(line["points_m"]) for line in plain["hull"]["lines"].values()]
    x = np.linspace(min(p[0, 0] for p in lines), max(p[-1, 0] for p in lines), STATIONS)
    found = np.array([_section(lines, at, height + slope * at) for at in x])
    breadth, area, moment = found.T
    volume, along, up = (_simpson(v, x) for v in (area, area * x, moment))
    second = _simpson(2.0 / 3.0 * breadth**3, x)
    for one in plain["hull"]["appendages"].values():
        below, at, z = _appendage(one, lines)
        volume, along, up = volume + below, along + below * at, up + below * z
    water = plain["survey"]["water"]
    density = WATERS[water] if isinstance(water, str) else water["density_kg_m3"]
    return ByHand(density * volume, along / volume, (up + second) / volume)


def _waterline(marks):
    """Slope and height of the water: a straight line through what the marks say."""
    x = [m["x_m"] for m in marks.values()]
    z = [m["sheer_z_m"] - np.mean(list(m["freeboard_m"].values())) for m in marks.values()]
    return np.polyfit(x, z, 1)


def _simpson(values, x):
    weights = np.ones(len(x))
    weights[1:-1:2], weights[2:-1:2] = 4.0, 2.0
    return float((weights * values).sum() * (x[1] - x[0]) / 3.0)


def _half_section(lines, at):
    """Corners (y, z) keel to sheer; ahead of a line's end the stem or sternpost."""
    corners = [
        [np.interp(at, p[:, 0], p[:, 1]), np.interp(at, p[:, 0], p[:, 2])]
        for p in lines
        if p[0, 0] <= at <= p[-1, 0]
    ]
    if not lines[0][0, 0] <= at <= lines[0][-1, 0]:
        end = 0 if at < lines[0][0, 0] else -1
        ends = np.array([p[end] for p in lines])
        order = np.argsort(ends[:, 0])
        y, z = (np.interp(at, ends[order, 0], ends[order, k]) for k in (1, 2))
        corners.insert(0, [y, z])
    return np.array(corners)


def _section(lines, at, water):
    """Half-breadth in the water, area of the whole section and its moment about the DWL."""
    corners = _half_section(lines, at)
    if len(corners) < 2 or corners[0, 1] >= water:
        return 0.0, 0.0, 0.0
    z = np.linspace(corners[0, 1], water, STRIPS + 1)
    middle = (z[1:] + z[:-1]) / 2.0
    half = np.interp(middle, corners[:, 1], corners[:, 0])
    strip = 2.0 * half * (z[1] - z[0])
    breadth = float(np.interp(water, corners[:, 1], corners[:, 0]))
    return breadth, float(strip.sum()), float((strip * middle).sum())


def _appendage(one, lines):
    """Volume below the canoe body and its centre along and up: chord by chord."""
    outline = np.array(one["outline_m"])
    table = one["half_thickness_m"]
    if not isinstance(table, list):
        table = [[0.0, table], [1.0, table]]
    table = np.array(table)
    share = np.linspace(0.0, 1.0, STRIPS)
    half = np.interp(share, table[:, 0], table[:, 1])
    if one.get("nose") == "ellipse":  # over the first interval
        nose = share <= table[1, 0]
        half[nose] = table[1, 1] * np.sqrt(1.0 - (1.0 - share[nose] / table[1, 0]) ** 2)
    low = int(np.argmin(outline[:, 1]))
    last = len(outline) - 1 - int(np.argmin(outline[::-1, 1]))
    bottoms = outline[low, 1], 0.1  # its ends are carried straight up
    total, moment = 0.0, np.zeros(2)
    levels = np.linspace(*bottoms, STRIPS)
    dz = levels[1] - levels[0]
    for z in levels[:-1] + dz / 2.0:
        fore = np.interp(z, outline[low::-1, 1], outline[low::-1, 0])
        aft = np.interp(z, outline[last:, 1], outline[last:, 0])
        x = fore + share * (aft - fore)
        under = z < _bottom(lines, x, one.get("at_y_m", 0.0))
        volume = float((2.0 * half * under).mean() * (aft - fore) * dz)
        total += volume
        if volume:
            moment += volume * np.array([np.average(x, weights=half * under + 1e-12), z])
    pair = 2 if one.get("pair") else 1
    return (pair * total, *(moment / total))


def _bottom(lines, x, y):
    """Height of the canoe body's bottom; astern of it nothing is hidden."""
    keel = lines[0]
    z = np.interp(x, keel[:, 0], keel[:, 2])
    if y:
        chine = lines[1]
        out, up = (np.interp(x, chine[:, 0], chine[:, k]) for k in (1, 2))
        z = z + (up - z) * y / out
    return np.where(x > keel[-1, 0], 0.0, z)
