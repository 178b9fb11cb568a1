"""Half sections of a cleaned cloud: local fits over a stretched angle, holes bridged."""

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import PchipInterpolator

from hullchange.geometry.frame import FloatArray
from hullchange.hull_sources.cloud import Cloud

STATIONS, PANEL_POINTS = 25, 72
ENDS = 0.02, 0.98  # fractions of the length of the first and the last station
FLAT_STERN = 0.998  # of the last one before a flat stern
SLAB = 0.006  # half of its thickness, as a share of the length
WINDOW = 1.5  # half of it, in steps of the angle
FEWEST = 6  # points for a local fit
FITS = 6  # of which each weighs the points by the last
NOISE = 0.003  # [m] below which scatter is not judged
TOP_RANK = 5  # point from the top by which the edge of the scan is told
CORNER_NEAR, CORNER_FAR, CORNER_OFF = 0.002, 0.03, 0.010
"""Shares of the length: what is left out beside a chine, what is looked at, and how far it may
be from where it was picked."""


@dataclass(frozen=True, eq=False)
class CloudSections:
    """Half sections at stations.

    Attributes:
        x: (s,) [m] stations.
        curves: (s, n, 2) [m] half-breadth and height, from the centreline to the sheer.
        corners: number of the point of every curve on each chine that was picked.
        share: fraction of all points of the curves that the cloud shows, not bridged.
    """

    x: FloatArray
    curves: FloatArray
    corners: tuple[int, ...]
    share: float


@dataclass(frozen=True, eq=False)
class _Slab:
    """Points about a station, one side folded over.

    Attributes:
        along: (n,) [m] ahead or behind of it.
        half: (n,) [m].
        height: (n,) [m].
        top: [m] height of the sheer.
        scale: (2,) breadth and depth [m] that the angle is stretched by.
        length: [m] of the hull.
    """

    along: FloatArray
    half: FloatArray
    height: FloatArray
    top: float
    scale: FloatArray
    length: float

    @property
    def polar(self) -> tuple[FloatArray, FloatArray]:
        """(n,) angle [rad] from straight down, and radius as a share of the scale."""
        out, down = self.half / self.scale[0], (self.top - self.height) / self.scale[1]
        return np.arctan2(out, down), np.hypot(out, down)

    def angle_at(self, place: FloatArray) -> float:
        """[rad] of half-breadth and height (2,) [m]."""
        return float(
            np.arctan2(place[0] / self.scale[0], (self.top - place[1]) / self.scale[1])
        )

    def places(self, angles: FloatArray, radii: FloatArray) -> FloatArray:
        """(n, 2) half-breadth and height [m] at angles (n,) [rad] and radii (n,) [-]."""
        half = np.maximum(radii * np.sin(angles) * self.scale[0], 0.0)
        return np.column_stack([half, self.top - radii * np.cos(angles) * self.scale[1]])


def sections_of(cloud: Cloud, chines: tuple[FloatArray, ...] = ()) -> CloudSections:
    """The half sections of a cloud.

    Args:
        cloud: cleaned.
        chines: picks (n, 3) [m] along each chine, lowest first, in the cloud's axes.
    """
    points = cloud.points * np.array([1.0, 1.0, 1.0])
    points[:, 1] = np.abs(points[:, 1])
    x = _stations(points, cloud.stern)
    slabs = _slabs(points, x)
    bounds = np.array(
        [
            [0.0, *_chine_angles(s, at, chines), np.pi / 2.0]
            for s, at in zip(slabs, x, strict=True)
        ]
    )
    panels = bounds.shape[1] - 1
    each = PANEL_POINTS // panels
    angles, radii = [], []
    for slab, own in zip(slabs, bounds, strict=True):
        parts = [np.linspace(own[k], own[k + 1], each + 1) for k in range(panels)]
        found = [_radii(slab, part) for part in parts]
        angles.append(_joined(parts))
        radii.append(_joined(found))
    grid = np.array(radii)
    share = float(np.isfinite(grid).mean())
    grid = _bridged(x, grid)
    curves = [s.places(a, r) for s, a, r in zip(slabs, angles, grid, strict=True)]
    corners = tuple(each * (k + 1) for k in range(panels - 1))
    return CloudSections(x, np.array(curves), corners, share)


def _stations(points: FloatArray, stern: tuple[float, float] | None) -> FloatArray:
    low, high = np.quantile(points[:, 0], [0.0005, 0.9995])
    last = ENDS[1]
    if stern is not None:
        late = points[points[:, 0] > high - 0.02 * (high - low)]
        ends = [stern[0] + stern[1] * z for z in np.quantile(late[:, 2], [0.02, 0.98])]
        high, last = min(high, *ends), FLAT_STERN
    even = np.linspace(0.0, 1.0, STATIONS)
    if stern is None:
        share = 0.5 * even + 0.25 * (1.0 - np.cos(np.pi * even))
    else:
        share = 0.6 * even + 0.4 * (1.0 - np.cos(np.pi / 2.0 * even))
    return np.asarray(low + (high - low) * (ENDS[0] + (last - ENDS[0]) * share))


def _slabs(points: FloatArray, x: FloatArray) -> list[_Slab]:
    length = float(np.ptp(x))
    order = np.argsort(points[:, 0])
    points = points[order]
    gaps = np.diff(x)
    room = np.minimum(np.r_[gaps[:1], gaps], np.r_[gaps, gaps[-1:]])
    rough, tops = [], []
    for at, gap in zip(x, room, strict=True):
        half = min(SLAB * length, 0.6 * float(gap))
        first, stop = np.searchsorted(points[:, 0], [at - half, at + half])
        rough.append(points[first:stop])
        tops.append(_top(points[first:stop, 2]))
    slopes = np.gradient(np.array(tops), x)
    tops = [
        _top(p[:, 2] - g * (p[:, 0] - at)) for p, g, at in zip(rough, slopes, x, strict=True)
    ]
    scale = np.array([_extent(p, top) for p, top in zip(rough, tops, strict=True)])
    scale = np.maximum(_evened(scale), 0.005 * length)
    return [
        _Slab(p[:, 0] - at, p[:, 1], p[:, 2], top, own, length)
        for p, at, top, own in zip(rough, x, tops, scale, strict=True)
    ]


def _top(heights: FloatArray) -> float:
    """Height [m] of the upper edge of points (n,) spread evenly below it, by their order."""
    if len(heights) < 4 * TOP_RANK:
        return float(heights.max()) if len(heights) else 0.0
    ranked = np.sort(heights)[::-1]
    near = min(len(ranked) // 4, 12 * TOP_RANK)
    step = (ranked[TOP_RANK - 1] - ranked[near]) / (near + 1 - TOP_RANK)
    return float(ranked[TOP_RANK - 1] + (TOP_RANK - 0.5) * step) - NOISE


def _extent(points: FloatArray, top: float) -> FloatArray:
    if len(points) < FEWEST:
        return np.array([np.nan, np.nan])
    return np.array([np.quantile(points[:, 1], 0.98), top - np.quantile(points[:, 2], 0.01)])


def _evened(scale: FloatArray) -> FloatArray:
    """Scales (s, 2) [m], the mean of each with its neighbours, gaps filled."""
    places = np.arange(len(scale))
    out = []
    for column in scale.T:
        known = np.isfinite(column)
        filled = np.interp(places, places[known], column[known]) if known.any() else column
        padded = np.r_[filled[:1], filled, filled[-1:]]
        out.append((padded[:-2] + 2.0 * filled + padded[2:]) / 4.0)
    return np.array(out).T


def _chine_angles(slab: _Slab, x: float, chines: tuple[FloatArray, ...]) -> list[float]:
    """[rad] of each chine at a station, rising."""
    found = []
    for picks in chines:
        ordered = picks[np.argsort(picks[:, 0])]
        at = np.array(
            [
                np.interp(x, ordered[:, 0], np.abs(ordered[:, 1])),
                np.interp(x, ordered[:, 0], ordered[:, 2]),
            ]
        )
        found.append(slab.angle_at(_corner(slab, at)))
    spaced = np.maximum.accumulate(np.clip(found, 0.05, np.pi / 2.0 - 0.05))
    return [float(a) + 0.02 * k for k, a in enumerate(spaced)]


def _corner(slab: _Slab, picked: FloatArray) -> FloatArray:
    """Half-breadth and height (2,) [m] where the straights beside a chine meet, at its pick."""
    length = slab.length
    away = np.column_stack([slab.half, slab.height]) - picked
    far = np.linalg.norm(away, axis=1)
    theta = slab.polar[0]
    own = slab.angle_at(picked)
    sides = []
    for below in (True, False):
        near = (
            ((theta < own) == below)
            & (far > CORNER_NEAR * length)
            & (far < CORNER_FAR * length)
        )
        if near.sum() < 2 * FEWEST:
            return picked
        sides.append(_straight(away[near]))
    (p, u), (q, v) = sides
    across = u[0] * v[1] - u[1] * v[0]
    if abs(across) < 0.1:
        return picked
    way = ((q - p)[0] * v[1] - (q - p)[1] * v[0]) / across
    off = p + way * u
    return picked + off if np.linalg.norm(off) < CORNER_OFF * length else picked


def _straight(points: FloatArray) -> tuple[FloatArray, FloatArray]:
    """A point (2,) and the direction (2,) [-] of the line through points (n, 2) [m], robust."""
    weight = np.ones(len(points))
    for _ in range(FITS):
        middle = np.average(points, axis=0, weights=weight)
        away = points - middle
        axes = np.linalg.eigh((away * weight[:, None]).T @ away)[1]
        miss = away @ axes[:, 0]
        sd = max(1.48 * float(np.median(np.abs(miss))), NOISE)
        weight = 1.0 / (1.0 + (miss / (2.0 * sd)) ** 2) ** 2
    return middle, axes[:, 1]


def _radii(slab: _Slab, angles: FloatArray) -> FloatArray:
    """Radius (n,) [-] at angles (n,) [rad] of one panel; nan where the cloud shows nothing."""
    theta, radius = slab.polar
    step = angles[1] - angles[0]
    inside = (theta >= angles[0] - 1e-9) & (theta <= angles[-1] + 1e-9)
    order = np.flatnonzero(inside)[np.argsort(theta[inside])]
    theta, radius, along = theta[order], radius[order], slab.along[order]
    window = WINDOW * max(step, np.radians(1.0))
    found = np.full(len(angles), np.nan)
    noise = NOISE / float(slab.scale.mean())
    for k, angle in enumerate(angles):
        first, stop = np.searchsorted(theta, [angle - window, angle + window])
        t = theta[first:stop] - angle
        inner = 0 < k < len(angles) - 1
        if len(t) < FEWEST or (inner and not (t.min() < 0.0 < t.max())):
            continue
        design = np.column_stack([np.ones_like(t), t, along[first:stop]])
        found[k] = _robust(design, radius[first:stop], noise)
    return found


def _robust(design: FloatArray, values: FloatArray, noise: float) -> float:
    """The constant of a linear fit that strays hardly move.

    Args:
        design: (n, 3) regressors [-], a constant first.
        values: (n,) [-].
        noise: below which scatter is not judged [-].
    """
    weight = np.ones(len(values))
    ridge = np.diag([0.0, 1e-9, 1e-9])
    fit: FloatArray = np.zeros(3)
    for _ in range(FITS):
        weighted = design * weight[:, None]
        fit = np.asarray(np.linalg.solve(weighted.T @ design + ridge, weighted.T @ values))
        miss = values - design @ fit
        sd = max(1.48 * float(np.median(np.abs(miss))), noise)
        weight = 1.0 / (1.0 + (miss / (2.0 * sd)) ** 2)
    return float(fit[0])


def _joined(parts: list[FloatArray]) -> FloatArray:
    """Values (n,) of panels one after the other, the mean of both at a chine."""
    whole = parts[0]
    for part in parts[1:]:
        both = np.array([whole[-1], part[0]])
        known = both[np.isfinite(both)]
        whole = np.r_[whole[:-1], known.mean() if len(known) else np.nan, part[1:]]
    return np.asarray(whole)


def _bridged(x: FloatArray, grid: FloatArray) -> FloatArray:
    """The grid (s, n) with what is missing taken from the stations before and behind."""
    out = grid.copy()
    for k in range(grid.shape[1]):
        known = np.isfinite(grid[:, k])
        if known.sum() >= 4:
            curve = PchipInterpolator(x[known], grid[known, k], extrapolate=False)(x)
            curve = np.where(np.isfinite(curve), curve, np.interp(x, x[known], grid[known, k]))
            out[:, k] = np.where(known, grid[:, k], curve)
    places = np.arange(grid.shape[1])
    for row in out:
        known = np.isfinite(row)
        if known.any():
            row[~known] = np.interp(places[~known], places[known], row[known])
    return out
