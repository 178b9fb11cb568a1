"""Hulls for the trial of the line check: fair curves of families on which it was not tuned.

Plans, profiles, sheers and sections are drawn each by itself: sines, cubic Bezier curves,
splines through random points, superellipses, catenaries, exponentials, Lewis forms.  None is a
power of the distance from the widest station, as in ``other_hulls``, where the check was tuned.
All curves run over t, 0 at the stem head and 1 at the stern.
"""

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from scipy.interpolate import CubicSpline

from hullchange.hull.lines import LineInput

FAMILIES = ("chines", "round", "flat-bottomed", "canoe-stern", "stepped", "hollow")
APART = 0.25  # [m] of a station from the end of a line, or from a knuckle
UP_A_STEM = 0.45  # [m] of height from which another point is read up a stem
BELOW_THE_SHEER = 0.04  # [m] where the stem ends


@dataclass(frozen=True)
class DrawnLine:
    """A line as drawn: exact points (n, 3) [m], and x [m] of its knuckles."""

    name: str
    kind: str
    points: np.ndarray
    knuckles: tuple[float, ...] = ()


@dataclass(frozen=True)
class DrawnHull:
    """Lines from the centreline to the sheer, of a family."""

    family: str
    lines: tuple[DrawnLine, ...]


def drawn_hull(seed):
    """A hull of the family that the seed falls to."""
    return _Drawing(FAMILIES[seed % len(FAMILIES)], np.random.default_rng([seed, 15])).hull()


def as_read(hull, sd, rng):
    """Readings of each line with errors of sd [m] in x, y and z alike, to the millimetre."""
    found = []
    for line in hull.lines:
        error = rng.normal(0.0, sd, line.points.shape)
        error[:, 1] *= line.name != "centreline"
        points = np.round(line.points + error, 3)
        points[:, 1] = np.maximum(points[:, 1], 0.0)
        found.append(points)
    return found


def line_inputs(hull, points):
    """What the document would hold of readings."""
    return tuple(
        LineInput(line.name, line.kind, _plain(read), _knuckles(line, read))
        for line, read in zip(hull.lines, points, strict=True)
    )


def thinned(hull, count, ends=False):
    """A hull with so many points of each line and its knuckles, even or closer to the ends."""
    return DrawnHull(hull.family, tuple(_thinned(line, count, ends) for line in hull.lines))


def _thinned(line, count, ends):
    x, last = line.points[:, 0], len(line.points) - 1
    share = np.linspace(0.0, 1.0, min(count, last + 1))
    kept = np.round(last * share).astype(int)
    if ends:
        at = x[0] + (0.5 - 0.5 * np.cos(np.pi * share)) * (x[-1] - x[0])
        kept = [int(np.argmin(np.abs(x - one))) for one in at]
    knuckles = [int(np.argmin(np.abs(x - knuckle))) for knuckle in line.knuckles]
    return replace(line, points=line.points[np.unique([*kept, *knuckles]).astype(int)])


def exact(hull):
    """The points of each line as drawn."""
    return [line.points for line in hull.lines]


def _plain(points):
    return tuple(map(tuple, points.tolist()))


def _knuckles(line, read):
    nearest = (np.argmin(np.abs(line.points[:, 0] - k)) for k in line.knuckles)
    return tuple(float(read[n, 0]) for n in nearest)


def bezier(points):
    """A curve over t through Bezier's control points, t rising."""
    s = np.linspace(0.0, 1.0, 2001)[:, None]
    level = [np.ones_like(s) * np.asarray(p) for p in points]
    while len(level) > 1:
        level = [(1.0 - s) * a + s * b for a, b in pairwise(level)]
    return lambda t: np.interp(t, *level[0].T)


def sine(power, skew, last):
    """A sine over the part of its half wave up to ``last``, raised to a power."""
    return lambda t: np.sin(np.pi * last * np.clip(t, 0.0, 1.0) ** skew) ** power


def through_points(shape, by):
    """A cubic spline through points of a shape, the inner ones moved."""
    at = np.linspace(0.0, 1.0, len(by) + 2)
    return CubicSpline(at, shape(at) + np.r_[0.0, by, 0.0])


def superellipse(powers, mid, transom, run):
    """A superellipse up to the middle, a cosine to the transom behind it."""

    def at(t):
        fore, aft = np.clip(1.0 - t / mid, 0, 1), np.clip((t - mid) / (1.0 - mid), 0, 1)
        bow = np.maximum(1.0 - fore ** powers[0], 0.0) ** (1.0 / powers[1])
        stern = 1.0 - (1.0 - transom) * (1.0 - np.cos(np.pi / 2.0 * aft)) ** run
        return np.where(t < mid, bow, stern)

    return at


def hollow(power, last):
    """A sine, hollow forward."""

    def at(t):
        wave = np.sin(np.pi * last * np.clip(t, 0.0, 1.0))
        return np.where(last * t < 0.5, wave**power, wave)

    return at


def lewis(u, count):
    """Shares of breadth and height (n, 2) of points of a Lewis section at even angles."""
    first, third = u(-0.25, 0.25), u(-0.08, 0.04)
    a = np.linspace(0.0, np.pi / 2.0, count + 2)[1:-1]
    wide = ((1.0 + first) * np.sin(a) - third * np.sin(3.0 * a)) / (1.0 + first + third)
    deep = ((1.0 - first) * np.cos(a) + third * np.cos(3.0 * a)) / (1.0 - first + third)
    return np.column_stack([wide, 1.0 - deep])


CHINES = {
    1: (((0.8, 0.92), (0.25, 0.42)),),
    2: (((0.58, 0.7), (0.1, 0.2)), ((0.88, 0.96), (0.36, 0.5))),
    3: (
        ((0.48, 0.57), (0.07, 0.12)),
        ((0.76, 0.84), (0.22, 0.3)),
        ((0.93, 0.98), (0.46, 0.6)),
    ),
}
"""Bounds of the shares of breadth and height of each chine, by their number."""


class _Drawing:
    """The curves of one hull."""

    def __init__(self, family, rng):
        u = rng.uniform
        self.rng, self.family, self.u = rng, family, u
        self.is_double = family == "canoe-stern"
        self.length = u(7.0, 15.5)
        self.half = self.length * u(0.125, 0.185) * (10.0 / self.length) ** 0.25
        self.deep = self.half * u(0.3, 0.55)
        self.knuckles, self.extra = (), ()
        self.foot = u(0.05, 0.11) if family == "flat-bottomed" else 0.0
        self.plan, self.rise = self._plan(), self._sheer()
        self.step = self._step() if family == "stepped" else np.zeros_like
        self.head = float(self.rise(0.0) + self.step(np.array(0.0))) - BELOW_THE_SHEER
        self.body = self._body()
        self.quick, self.tall = u(0.025, 0.07), self.head - float(self.body(np.array(0.0)))

    def _plan(self):
        """Half-breadth of the sheer [m]."""
        u, transom = self.u, self.u(0.3, 0.9)
        last = 1.0 - np.arcsin(transom) / np.pi
        kind = {"canoe-stern": "canoe", "hollow": "hollow"}.get(
            self.family, str(self.rng.choice(["sine", "bezier", "spline", "ellipse"]))
        )
        fore, middle = (u(0.1, 0.22), u(0.45, 0.75)), (u(0.5, 0.65), u(1.15, 1.3))
        shape = {
            "sine": sine(u(0.85, 1.2), u(0.9, 1.1), last),
            "bezier": bezier([(0.0, 0.0), fore, middle, (1.0, transom)]),
            "spline": through_points(sine(1.0, 1.0, last), u(-0.025, 0.025, 4)),
            "ellipse": superellipse(
                (u(1.7, 2.4), u(0.9, 1.25)), u(0.5, 0.62), transom, u(0.9, 1.2)
            ),
            "canoe": sine(u(0.75, 1.1), u(0.92, 1.1), 1.0),
            "hollow": hollow(u(1.25, 1.7), last),
        }[kind]
        most = float(np.max(shape(np.linspace(0.0, 1.0, 400))))
        stem = u(0.0, 0.06)
        return lambda t: stem * np.exp(-t / 0.05) + self.half * np.maximum(shape(t) / most, 0.0)

    def _sheer(self):
        """Height of the sheer [m] without its step, which no chine follows."""
        u, more, low = self.u, self.length * self.u(0.02, 0.045), self.u(0.55, 0.7)
        least = self.length * u(0.075, 0.105)
        shape = {
            "arc": lambda t: ((t - low) / low) ** 2,
            "catenary": lambda t: (np.cosh(2.2 * (t - low)) - 1.0) / (np.cosh(2.2 * low) - 1.0),
            "reverse": lambda t: 0.5 * np.cos(1.5 * np.pi * t),
        }[str(self.rng.choice(["arc", "catenary", "reverse"]))]
        return lambda t: least + more * shape(t)

    def _step(self):
        """Height [m] of the raised part of a sheer: a ramp with two knuckles, or a soft one."""
        u, high, at = self.u, self.u(0.15, 0.35), self.u(0.3, 0.6)
        if self.rng.random() < 0.5:
            wide = u(0.2, 0.5) / self.length
            self.knuckles = (at - wide / 2.0, at + wide / 2.0)
            return lambda t: high * np.clip((at + wide / 2.0 - t) / wide, 0.0, 1.0)
        wide = u(1.2, 2.2) / self.length
        self.extra = tuple(at + wide * np.array([-0.5, -0.17, 0.17, 0.5]))
        return lambda t: high * (0.5 - 0.5 * np.tanh(2.5 * (t - at) / wide))

    def _body(self):
        """Height of the bottom [m] without its stem."""
        u, mid = self.u, self.u(0.42, 0.56)
        stern = self.deep + u(0.005, 0.03) * self.length
        rocker, quick = u(0.1, 0.5) * self.deep, u(0.03, 0.06)
        high = float(self.rise(1.0)) - BELOW_THE_SHEER + self.deep
        rising = bezier(
            [(mid, 0.0), (mid + 0.2, 0.0), (0.8, u(0.3, 0.6) * stern), (1.0, stern)]
        )
        is_round = self.rng.random() < 0.5

        def run(t):
            if self.is_double:
                return high * np.exp(-(1.0 - t) / quick)
            aft = np.clip((t - mid) / (1.0 - mid), 0, 1)
            return stern * (1.0 - np.cos(np.pi / 2 * aft)) if is_round else rising(t)

        return lambda t: (
            -self.deep + run(t) + rocker * (0.5 + 0.5 * np.cos(np.pi * np.clip(t / mid, 0, 1)))
        )

    def keel(self, t):
        """Height of the centreline [m]."""
        if self.foot:
            return self.body(t) + self.tall * np.clip(1.0 - t / self.foot, 0.0, 1.0)
        return self.body(t) + self.tall * np.exp(-t / self.quick)

    def _shares(self):
        """[(name, kind, share of breadth, share of height)] between centreline and sheer."""
        u, rng = self.u, self.rng
        if self.family == "flat-bottomed":
            return [("chine", "chine", u(0.7, 0.85), 0.0)]
        if self.family in ("round", "hollow") or (self.is_double and rng.random() < 0.5):
            rows = lewis(u, int(rng.integers(2, 5)))
            return [(f"fair-{n}", "fair", y, z) for n, (y, z) in enumerate(rows, 1)]
        rows = CHINES[int(rng.integers(1, 4))]
        return [(f"chine-{n}", "chine", u(*y), u(*z)) for n, (y, z) in enumerate(rows, 1)]

    def _inner(self, shares, fore, t):
        """Half-breadth and height (n,) [m] of a line from the stem at ``fore``."""
        u, (wide, high) = self.u, shares
        flare, own = u(0.12, 0.3), np.clip((t - fore) / (1.0 - fore), 0.0, 1.0)
        pinch = 1.0 - u(0.05, 0.4) * np.exp(-own / flare) - u(-0.05, 0.2) * own**3
        low = self.body(t) if fore else self.keel(t)
        height = low + high * (self.rise(t) - low)
        if fore:
            at = np.array(fore)
            base = self.body(at) + high * (self.rise(at) - self.body(at))
            height = height + float(self.keel(at) - base) * np.exp(-(t - fore) / flare)
        return self.plan(own) * wide * pinch, height

    def _stations(self, fore, aft, base, marks=()):
        """Stations between two ends, as found and not as planned, and the marks."""
        apart = APART / self.length
        t = base[(base > fore + apart) & (base < aft - apart)]
        t = np.r_[fore, t + self.rng.normal(0.0, 0.01, len(t)) / self.length, aft]
        for mark in marks:
            t = t[np.abs(t - mark) > apart]
        return np.sort(np.r_[t, marks])

    def hull(self):
        """All of it."""
        base = np.linspace(0.0, 1.0, int(self.rng.integers(10, 17)))
        base = base + self.u(0.0, 0.035) * np.sin(2.0 * np.pi * base)
        rake = 0.0 if self.is_double else self.u(-0.25, 0.45) / self.length
        ends = self.u(0.1, 0.7) if self.rng.random() < 0.75 and not self.is_double else 0.0

        def aft(share):
            return 1.0 - max(rake, 0.0) * (1.0 - share) - max(-rake, 0.0) * share

        found = [self._centreline(base, aft(0.0))]
        for name, kind, *shares in self._shares():
            fore = self._fore_end(ends * (0.4 + shares[1]))
            t = self._stations(fore, aft(shares[1]), base)
            found.append(self._line(name, kind, t, *self._inner(shares, fore, t)))
        t = self._stations(0.0, aft(1.0), base, (*self.knuckles, *self.extra))
        top = self.rise(t) + self.step(t)
        found.append(self._line("sheer", "sheer", t, self.plan(t), top, self.knuckles))
        return DrawnHull(self.family, tuple(found))

    def _centreline(self, base, aft):
        knuckles = (self.foot,) if self.foot else ()
        t = self._stations(0.0, aft, base, knuckles)
        if not self.foot:
            t = np.unique(
                np.r_[t, [more for a, b in pairwise(t) for more in self._between(a, b)]]
            )
        return self._line("centreline", "fair", t, 0.0 * t, self.keel(t), knuckles)

    def _between(self, a, b):
        """Further stations between two, where the centreline runs up a stem."""
        fine = np.linspace(a, b, 400)
        z = self.keel(fine)
        is_steep = b < 0.25 or (self.is_double and a > 0.75)
        parts = int(abs(z[-1] - z[0]) // UP_A_STEM) if is_steep else 0
        order = np.argsort(z)
        want = z[0] + (z[-1] - z[0]) * np.arange(1, parts + 1) / (parts + 1)
        return np.interp(want, z[order], fine[order])

    def _fore_end(self, share):
        """Where a line leaves the stem, at a share of the head's height."""
        if self.foot or not share:
            return self.foot
        fine = np.linspace(0.0, 0.3, 3000)
        below = np.flatnonzero(self.keel(fine) < self.head * share)
        return float(fine[below[0]]) if len(below) else 0.0

    def _line(self, name, kind, t, y, z, knuckles=()):
        points = np.column_stack([self.length * t, np.maximum(y, 0.0), z])
        return DrawnLine(name, kind, points, tuple(self.length * k for k in knuckles))
