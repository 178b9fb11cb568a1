"""Hulls of eight families, each from a seed; their curves are powers of distances."""

import numpy as np
from scipy.optimize import brentq

from hullchange.errors import ModelError
from hullchange.hull.hull import HullInput, hull_of
from hullchange.hull.lines import LineInput

FAMILIES = (
    "single-chine", "multi-chine", "round-bilge", "canoe-stern", "long-keel",
    "raised-sheer", "stepped-sheer", "wide-transom",
)  # fmt: skip
TRANSOM_SHARES = {"wide-transom": (0.75, 0.92), "long-keel": (0.10, 0.45)}
TRIANGLES = 2000


class HullFamily:
    """The exact curves of one hull; x aft of the bow end of the sheer."""

    def __init__(self, family, rng):
        u, self.family = rng.uniform, family
        is_long, self.double = family == "long-keel", family == "canoe-stern"
        self.length = length = u(7.5, 15.0)
        self.beam = length * u(0.27, 0.36) * (0.9 if is_long else 1.0) * (10.0 / length) ** 0.25
        self.draught = self.beam * u(0.17, 0.24) * (1.5 if is_long else 1.0)
        self.deepest, self.widest = length * u(0.46, 0.56), length * u(0.50, 0.60)
        self.freeboard = u(0.085, 0.105) * length
        self.bow_more = u(0.02, 0.045) * length * (1.3 if is_long else 1.0)
        self.stern_more = (u(0.01, 0.03) if self.double else u(0.0, 0.012)) * length
        self.stem, self.run = u(4.0, 8.0), u(4.0, 8.0) if self.double else u(1.8, 2.6)
        self.transom_z = u(0.005, 0.03) * length
        self.entry, self.quarter = u(1.8, 2.5), u(1.8, 2.6)
        self.full, self.full_aft = u(0.75, 1.0), u(0.55, 0.85)
        self.transom = u(*TRANSOM_SHARES.get(family, (0.25, 0.75)))
        self.stem_half = u(0.0, 0.06)
        self.rise, self.rise_x = 0.0, length * u(0.3, 0.5)
        if family in ("raised-sheer", "stepped-sheer"):
            self.rise = u(0.15, 0.35)
        self.ramp = u(0.15, 0.5) if family == "stepped-sheer" else u(1.2, 2.2)
        self.fine_fore, self.fine_aft = u(0.1, 0.45), u(-0.05, 0.25)
        self.perpendicular = brentq(self.bottom, 0.0, self.deepest)

    def _shares(self, x, middle):
        x = np.asarray(x, float)
        fore = np.clip((middle - x) / middle, 0.0, 1.0)
        return fore, np.clip((x - middle) / (self.length - middle), 0.0, 1.0)

    def sheer(self, x, *, fair=False):
        fore, aft = self._shares(x, 0.65 * self.length)
        z = self.freeboard + self.bow_more * fore**2 + self.stern_more * aft**2
        s = np.clip((self.rise_x + self.ramp / 2.0 - np.asarray(x)) / self.ramp, 0.0, 1.0)
        if not fair:
            z = z + self.rise * (s if self.family == "stepped-sheer" else s * s * (3 - 2 * s))
        return z

    def bottom(self, x):
        fore, aft = self._shares(x, self.deepest)
        head = float(self.sheer(0.0)) - 0.04
        end = float(self.sheer(self.length)) - 0.04 if self.double else self.transom_z
        up = (head + self.draught) * fore**self.stem + (end + self.draught) * aft**self.run
        return up - self.draught

    def half(self, x):
        fore, aft = self._shares(x, self.widest)
        stern = 1.0 - (1.0 - self.transom) * aft**self.quarter
        if self.double:
            stern = (1.0 - aft**self.quarter) ** self.full_aft
        bow = (1.0 - fore**self.entry) ** self.full
        y = self.beam / 2.0 * np.where(np.asarray(x) < self.widest, bow, stern)
        return self.stem_half * np.maximum(fore, aft if self.double else 0.0) + y

    def inner(self, x, breadth, height):
        fore, aft = self._shares(x, self.widest)
        fine = (1.0 - self.fine_fore * fore**2) * (1.0 - self.fine_aft * aft**2)
        # no chine follows a step of the sheer, but all meet at the stem head
        lift = self.rise * np.clip(1.0 - x / (0.15 * self.length), 0.0, 1.0) ** 2
        low = self.bottom(x)
        z = low + (self.sheer(x, fair=True) + lift - low) * height
        return self.half(x) * breadth * fine, z


def _inner_lines(family, rng):
    """(name, kind, share of breadth, share of height) of the lines between keel and sheer."""
    u = rng.uniform
    if family == "round-bilge" or (family == "canoe-stern" and rng.random() < 0.5):
        power, turns = u(2.1, 3.0), np.linspace(0.0, np.pi / 2.0, int(rng.integers(5, 8)))[1:-1]
        return [
            (f"fair-{k}", "fair", np.sin(t) ** (2 / power), 1.0 - np.cos(t) ** (2 / power))
            for k, t in enumerate(turns, 1)
        ]
    if family == "single-chine" or (family == "long-keel" and rng.random() < 0.5):
        return [("chine", "chine", u(0.82, 0.93), u(0.28, 0.42))]
    shares = [(u(0.5, 0.58), u(0.08, 0.13)), (u(0.78, 0.84), u(0.24, 0.31))]
    shares.append((u(0.94, 0.98), u(0.48, 0.6)))
    if rng.random() < 0.7:
        shares = [(u(0.60, 0.72), u(0.13, 0.22)), (u(0.90, 0.96), u(0.38, 0.50))]
    return [(f"chine-{k}", "chine", *row) for k, row in enumerate(shares, 1)]


def family_lines(seed):
    """The family, camber, half of the beam and measured lines of the hull of a seed."""
    rng = np.random.default_rng(seed)
    form = HullFamily(FAMILIES[seed % len(FAMILIES)], rng)
    length, share = form.length, np.linspace(0.0, 1.0, int(rng.integers(10, 17)))
    rake = 0.0 if form.double else rng.uniform(-0.25, 0.45)  # of the transom: top aft
    rows = [("centreline", "fair", 0.0, 0.0), *_inner_lines(form.family, rng)]
    lines = []
    for name, kind, breadth, height in [*rows, ("sheer", "sheer", 1.0, 1.0)]:
        end = length - max(rake, 0.0) * (1.0 - height) - max(-rake, 0.0) * height
        near = [0.005, 0.015, 0.04, *([0.96, 0.985, 0.995] if form.double else [])]
        x = np.unique(np.r_[share, near if name == "centreline" else []]) * end
        knuckles = ()
        if name == "sheer" and form.family == "stepped-sheer":
            knuckles = (form.rise_x - form.ramp / 2.0, form.rise_x + form.ramp / 2.0)
        if name == "sheer" and form.rise:
            steps = form.rise_x + form.ramp * np.array([-0.5, -0.15, 0.15, 0.5])
            apart = np.abs(x[:, None] - (knuckles or steps)).min(axis=1) > 0.15
            x = np.sort(np.r_[x[apart], knuckles or steps])
        y, z = form.inner(x, breadth, height)
        if name == "centreline":
            y, z = 0.0 * x, form.bottom(x)
        if name == "sheer":
            y, z = form.half(x), form.sheer(x)
        points = np.column_stack([x - form.perpendicular, np.maximum(y, 0.0), z])
        at = tuple(float(k - form.perpendicular) for k in knuckles)
        lines.append(LineInput(name, kind, tuple(map(tuple, points.tolist())), at))
    camber = float(rng.uniform(0.03, 0.05)) * form.beam / 2.0
    return form.family, camber, form.beam / 2.0, tuple(lines)


def family_hulls(count, first=0):
    """(seed, family, hull) of the first hulls from a seed on whose lines can be read."""
    seed, found = first, 0
    while found < count:
        family, camber, half, lines = family_lines(seed)
        try:
            hull = hull_of(HullInput(lines, camber, half), TRIANGLES)
        except ModelError:
            hull = None
        if hull is not None:
            found += 1
            yield seed, family, hull
        seed += 1
