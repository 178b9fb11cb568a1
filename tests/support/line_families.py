"""Hulls for the trial of the line check: fair curves of families on which it was not tuned.

Plans, profiles, sheers and sections are drawn each by itself: sines, cubic Bezier curves,
splines through random points, superellipses, exponentials, Lewis forms.  No family is a power
curve as in ``other_hulls``, on which the check was tuned.
"""

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline

from hullchange.hull.lines import LineInput

FAMILIES = ("chines", "round", "flat-bottomed", "canoe-stern", "stepped", "hollow")
APART = 0.25  # [m] of a station from the end of a line
UP_A_STEM = 0.45  # [m] of height from which another point is read up a stem


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

    @property
    def length(self):
        """[m] of the sheer."""
        points = self.lines[-1].points
        return float(points[-1, 0] - points[0, 0])


def drawn_hull(seed):
    """A hull of the family that the seed falls to."""
    rng = np.random.default_rng([seed, 15])
    return _Drawing(FAMILIES[seed % len(FAMILIES)], rng).hull()


def as_read(hull, sd, rng):
    """Readings with errors of sd [m] in x, y and z alike, noted to the millimetre."""
    found = []
    for line in hull.lines:
        error = rng.normal(0.0, sd, line.points.shape)
        if line.name == "centreline":
            error[:, 1] = 0.0
        points = np.round(line.points + error, 3)
        points[:, 1] = np.maximum(points[:, 1], 0.0)
        found.append(points)
    return found


def line_inputs(hull, points):
    """What the document would hold of readings."""
    return tuple(
        LineInput(
            line.name,
            line.kind,
            tuple(map(tuple, read.tolist())),
            tuple(float(read[np.argmin(np.abs(line.points[:, 0] - k)), 0]) for k in line.knuckles),
        )
        for line, read in zip(hull.lines, points, strict=True)
    )


def _bezier(points):
    """A curve over x through Bezier's control points (n, 2), x rising."""
    s = np.linspace(0.0, 1.0, 2001)
    while len(points) > 1 and np.ndim(points[0]) < 2:
        points = [np.outer(np.ones_like(s), p) for p in points]
    while len(points) > 1:
        points = [(1.0 - s[:, None]) * a + s[:, None] * b for a, b in zip(points, points[1:])]
    return lambda t: np.interp(t, points[0][:, 0], points[0][:, 1])


class _Drawing:
    """Curves over t, 0 at the stem head and 1 at the stern."""

    def __init__(self, family, rng):
        u = rng.uniform
        self.rng, self.family, self.u = rng, family, u
        self.double = family == "canoe-stern"
        self.length = u(7.0, 15.5)
        self.half = self.length * u(0.125, 0.185) * (10.0 / self.length) ** 0.25
        self.draught = self.half * u(0.3, 0.55)
        self.freeboard = self.length * u(0.075, 0.105)
        self.y0 = u(0.0, 0.06)
        self.knuckles, self.extra, self.foot = (), (), None
        self.step = lambda t: 0.0 * np.asarray(t, float)
        self.plan, self.rise = self._plan(), self._sheer()
        self.head = float(self.rise(0.0) + self.step(0.0)) - 0.04
        self.body, self.stem = self._profile()

    def _plan(self):
        """Half-breadth of the sheer [m]."""
        u, kind = self.u, str(self.rng.choice(["sine", "bezier", "spline", "ellipse"]))
        transom = 0.02 if self.double else u(0.3, 0.9)
        if self.double:
            kind = "canoe"
        if self.family == "hollow":
            kind = "hollow"
        if kind == "sine":
            last = 1.0 - np.arcsin(transom) / np.pi
            power = u(0.85, 1.2)
            shape = lambda t: np.sin(np.pi * last * t ** u_fixed) ** power  # noqa: E731
            u_fixed = u(0.9, 1.1)
        elif kind == "bezier":
            full = u(0.45, 0.75)
            shape = _bezier([(0.0, 0.0), (u(0.1, 0.22), full), (u(0.5, 0.65), u(1.15, 1.3)), (1.0, transom)])
        elif kind == "spline":
            at = np.array([0.0, 0.18, 0.38, 0.58, 0.78, 1.0])
            base = np.sin(np.pi * (1.0 - np.arcsin(transom) / np.pi) * at)
            base[1:-1] += u(-0.025, 0.025, 4)
            shape = CubicSpline(at, base)
        elif kind == "ellipse":
            p, q, r, mid = u(1.7, 2.4), u(0.9, 1.25), u(1.8, 2.6), u(0.5, 0.62)
            shape = lambda t: np.where(  # noqa: E731
                t < mid,
                np.maximum(1.0 - np.clip(1.0 - t / mid, 0, 1) ** p, 0.0) ** (1.0 / q),
                1.0 - (1.0 - transom) * np.clip((t - mid) / (1.0 - mid), 0, 1) ** r,
            )
        elif kind == "canoe":
            power, skew = u(0.75, 1.1), u(0.92, 1.1)
            shape = lambda t: np.sin(np.pi * np.clip(t, 0.0, 1.0) ** skew) ** power  # noqa: E731
        else:  # hollow at the bow
            last, power = 1.0 - np.arcsin(transom) / np.pi, u(1.25, 1.7)
            shape = lambda t: np.where(  # noqa: E731
                last * t < 0.5, np.sin(np.pi * last * t) ** power, np.sin(np.pi * last * t)
            )
        fine = np.linspace(0.0, 1.0, 400)
        most = float(np.max(shape(fine)))
        return lambda t: self.y0 * np.exp(-t / 0.05) + self.half * np.maximum(shape(t) / most, 0.0)

    def _sheer(self):
        """Height of the sheer [m] without its step, which no chine follows."""
        u, more = self.u, self.length * self.u(0.02, 0.045)
        kind = str(self.rng.choice(["arc", "catenary", "reverse"]))
        low = u(0.55, 0.7)
        base = {
            "arc": lambda t: more * ((t - low) / low) ** 2,
            "catenary": lambda t: more * (np.cosh(2.2 * (t - low)) - 1.0) / (np.cosh(2.2 * low) - 1.0),
            "reverse": lambda t: 0.5 * more * np.cos(1.5 * np.pi * t),
        }[kind]
        if self.family == "stepped":
            step, at = u(0.15, 0.35), u(0.3, 0.6)
            if self.rng.random() < 0.5:
                wide = u(0.2, 0.5) / self.length
                self.knuckles = (at - wide / 2.0, at + wide / 2.0)
                shape = lambda t: np.clip((at + wide / 2.0 - t) / wide, 0.0, 1.0)  # noqa: E731
            else:
                wide = u(1.2, 2.2) / self.length
                self.extra = tuple(at + wide * np.array([-0.5, -0.17, 0.17, 0.5]))
                shape = lambda t: 0.5 - 0.5 * np.tanh(2.5 * (t - at) / wide)  # noqa: E731
            self.step = lambda t: step * shape(np.asarray(t, float))
        return lambda t: self.freeboard + base(np.asarray(t, float))

    def _profile(self):
        """Height of the bottom [m] without its stem, and what the stem adds."""
        u, deep = self.u, self.draught
        stern = deep + u(0.005, 0.03) * self.length
        mid = u(0.42, 0.56)
        if self.rng.random() < 0.5:
            run = lambda t: stern * (1.0 - np.cos(np.pi / 2 * np.clip((t - mid) / (1.0 - mid), 0, 1)))  # noqa: E731
        else:
            low = _bezier([(mid, 0.0), (mid + 0.2, 0.0), (0.8, u(0.3, 0.6) * stern), (1.0, stern)])
            run = lambda t: np.where(t < mid, 0.0, low(np.maximum(t, mid)))  # noqa: E731
        if self.double:
            quick, high = u(0.03, 0.06), float(self.rise(1.0)) - 0.04 + deep
            run = lambda t: high * np.exp(-(1.0 - t) / quick)  # noqa: E731
        rocker = u(0.1, 0.5) * deep
        fore = lambda t: rocker * (0.5 + 0.5 * np.cos(np.pi * np.clip(t / mid, 0, 1)))  # noqa: E731
        body = lambda t: -deep + run(t) + fore(t)  # noqa: E731
        tall = self.head - float(body(0.0))
        if self.family == "flat-bottomed":
            self.foot = u(0.05, 0.11)
            stem = lambda t: tall * np.clip(1.0 - t / self.foot, 0.0, 1.0)  # noqa: E731
        else:
            quick = u(0.025, 0.07)
            stem = lambda t: tall * np.exp(-t / quick)  # noqa: E731
        return body, stem

    def keel(self, t):
        """Height of the centreline [m]."""
        t = np.asarray(t, float)
        return self.body(t) + self.stem(t)

    def _shares(self):
        """[(name, kind, share of breadth, share of height)] between centreline and sheer."""
        u, family = self.u, self.family
        if family == "flat-bottomed":
            return [("chine", "chine", u(0.7, 0.85), 0.0)]
        if family in ("round", "hollow") or (self.double and self.rng.random() < 0.5):
            a1, a3 = u(-0.25, 0.25), u(-0.08, 0.04)
            angles = np.linspace(0.0, np.pi / 2.0, int(self.rng.integers(4, 7)))[1:-1]
            wide = 1.0 + a1 + a3
            tall = 1.0 - a1 + a3
            return [
                (
                    f"fair-{n}",
                    "fair",
                    float(((1.0 + a1) * np.sin(a) - a3 * np.sin(3.0 * a)) / wide),
                    float(1.0 - ((1.0 - a1) * np.cos(a) + a3 * np.cos(3.0 * a)) / tall),
                )
                for n, a in enumerate(angles, 1)
            ]
        rows = {
            1: [(u(0.8, 0.92), u(0.25, 0.42))],
            2: [(u(0.58, 0.7), u(0.1, 0.2)), (u(0.88, 0.96), u(0.36, 0.5))],
            3: [(u(0.48, 0.57), u(0.07, 0.12)), (u(0.76, 0.84), u(0.22, 0.3)), (u(0.93, 0.98), u(0.46, 0.6))],
        }[int(self.rng.integers(1, 4))]
        return [(f"chine-{n}", "chine", y, z) for n, (y, z) in enumerate(rows, 1)]

    def _inner(self, y_share, z_share, fore):
        """Half-breadth and height of a line from the stem at ``fore`` [m]."""
        taper_fore, taper_aft = self.u(0.05, 0.4), self.u(-0.05, 0.2)
        flare = self.u(0.12, 0.3)

        def at(t):
            own = np.clip((t - fore) / (1.0 - fore), 0.0, 1.0)
            pinch = 1.0 - taper_fore * np.exp(-own / flare) - taper_aft * own**3
            half = self.plan(own) * y_share * pinch
            low = self.keel(t) if fore == 0.0 else self.body(t)
            height = low + z_share * (self.rise(t) - low)
            if fore > 0.0:
                missing = float(self.keel(fore)) - (
                    float(self.body(fore)) + z_share * float(self.rise(fore) - self.body(fore))
                )
                height = height + missing * np.exp(-(t - fore) / flare)
            return half, height

        return at

    def _stations(self, fore, aft, base):
        x = base[(base > fore + APART / self.length) & (base < aft - APART / self.length)]
        return np.r_[fore, x + self.rng.normal(0.0, 0.01, len(x)) / self.length, aft]

    def _up_the_stems(self, t):
        """Stations with further ones where the centreline is steep."""
        more = []
        z = self.keel(t)
        for a, b, low, high in zip(t, t[1:], z, z[1:]):
            steep = (b < 0.25 or (self.double and a > 0.75)) and self.foot is None
            parts = int(abs(low - high) // UP_A_STEM) if steep else 0
            fine = np.linspace(a, b, 400)
            heights = self.keel(fine)
            order = np.argsort(heights)
            for part in range(1, parts + 1):
                want = low + (high - low) * part / (parts + 1)
                more.append(float(np.interp(want, heights[order], fine[order])))
        return np.unique(np.r_[t, more])

    def hull(self):
        """All of it."""
        base = np.linspace(0.0, 1.0, int(self.rng.integers(10, 17)))
        base = base + self.rng.uniform(0.0, 0.035) * np.sin(2.0 * np.pi * base)
        rake = 0.0 if self.double else self.u(-0.25, 0.45) / self.length
        low_ends = self.u(0.1, 0.7) if self.rng.random() < 0.75 and not self.double else 0.0
        found = [self._centreline(base, rake)]
        for name, kind, y_share, z_share in self._shares():
            fore = self._fore_end(z_share, low_ends)
            t = self._stations(fore, 1.0 - max(rake, 0.0) * (1.0 - z_share) - max(-rake, 0.0) * z_share, base)
            y, z = self._inner(y_share, z_share, fore)(t)
            found.append(self._line(name, kind, t, y, z))
        t = self._stations(0.0, 1.0 - max(-rake, 0.0), base)
        for k in (*self.knuckles, *self.extra):
            t = t[np.abs(t - k) > 0.2 / self.length]
        t = np.sort(np.r_[t, self.knuckles, self.extra])
        found.append(self._line("sheer", "sheer", t, self.plan(t), self.rise(t) + self.step(t), self.knuckles))
        return DrawnHull(self.family, tuple(found))

    def _centreline(self, base, rake):
        t = self._stations(0.0, 1.0 - max(rake, 0.0), base)
        knuckles = ()
        if self.foot is not None:
            t = np.sort(np.r_[t[np.abs(t - self.foot) > 0.2 / self.length], self.foot])
            knuckles = (self.foot,)
        t = self._up_the_stems(t)
        return self._line("centreline", "fair", t, 0.0 * t, self.keel(t), knuckles)

    def _fore_end(self, z_share, low_ends):
        if self.foot is not None:
            return self.foot
        if not low_ends:
            return 0.0
        want = self.head * low_ends * (0.4 + z_share)
        fine = np.linspace(0.0, 0.3, 3000)
        below = np.flatnonzero(self.keel(fine) < want)
        return float(fine[below[0]]) if len(below) else 0.0

    def _line(self, name, kind, t, y, z, knuckles=()):
        x = self.length * t
        points = np.column_stack([x, np.maximum(y, 0.0), z])
        return DrawnLine(name, kind, points, tuple(self.length * k for k in knuckles))
