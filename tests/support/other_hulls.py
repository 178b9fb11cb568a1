"""Hulls unlike the demo's: other forms, lengths, stems, sterns, keels; each from a seed."""

from dataclasses import dataclass

import numpy as np

FORMS = ("single-chine", "double-chine", "multi-chine", "barge", "round", "long-keel")
STEMS = ("plumb", "raked", "overhanging")


@dataclass(frozen=True)
class Form:
    """What a hull is drawn from; lengths in metres, x from the stem head aft."""

    kind: str
    length: float
    beam: float
    draught: float
    freeboard: float
    stem_power: float
    run_power: float
    transom_share: float
    transom_z: float
    widest: float
    bow_half: float
    sheer_rise: float

    def bottom(self, x):
        """Height of the centreline."""
        deepest = 0.52 * self.length
        fore = np.clip(1.0 - x / deepest, 0.0, 1.0) ** self.stem_power
        aft = np.clip((x - deepest) / (self.length - deepest), 0.0, 1.0) ** self.run_power
        head = self.freeboard + self.sheer_rise - (0.5 if self.kind == "barge" else 0.04)
        return (
            -self.draught + (head + self.draught) * fore + (self.transom_z + self.draught) * aft
        )

    def half(self, x):
        """Half-breadth of the sheer."""
        fore = np.clip(1.0 - x / (self.widest * self.length), 0.0, 1.0)
        aft = np.clip((x / self.length - self.widest) / (1.0 - self.widest), 0.0, 1.0)
        run = 1.0 - (1.0 - self.transom_share) * aft**2.1
        entry = self.bow_half + (1.0 - self.bow_half) * (1.0 - fore**2.1) ** 0.9
        return self.beam / 2.0 * np.where(fore > 0.0, entry, run)

    def sheer(self, x):
        """Height of the sheer."""
        low = 0.66 * self.length
        return self.freeboard + self.sheer_rise * np.clip(1.0 - x / low, 0.0, 1.0) ** 2


def form_of(rng):
    """A form of any kind."""
    u, kind, stem = rng.uniform, str(rng.choice(FORMS)), str(rng.choice(STEMS))
    length = u(7.0, 16.0)
    beam = length * u(0.27, 0.37) * (10.0 / length) ** 0.3
    barge = kind == "barge"
    powers = {"plumb": (11.0, 16.0), "raked": (5.0, 8.0), "overhanging": (3.0, 4.5)}
    return Form(
        kind=kind,
        length=length,
        beam=beam,
        draught=beam * (u(0.12, 0.2) if barge else u(0.17, 0.25)),
        freeboard=length * u(0.075, 0.125),
        stem_power=u(3.0, 5.0) if barge else u(*powers[stem]),
        run_power=u(2.0, 5.0),
        transom_share=u(0.25, 0.92) if not barge else u(0.8, 1.0),
        transom_z=u(-0.1, 0.3) * beam * 0.2,
        widest=u(0.48, 0.62),
        bow_half=u(0.5, 0.85) if barge else u(0.01, 0.05),
        sheer_rise=length * (u(0.0, 0.02) if barge else u(0.01, 0.05)),
    )


def _shares(form, rng):
    """(name, kind, share of breadth, share of height) of the lines between keel and sheer."""
    u = rng.uniform
    if form.kind == "barge":
        return [("bilge", "chine", u(0.86, 0.97), 0.0)]
    if form.kind in ("single-chine", "long-keel"):
        return [("chine", "chine", u(0.82, 0.92), u(0.26, 0.4))]
    if form.kind == "double-chine":
        low = ("bottom-chine", "chine", u(0.58, 0.7), u(0.12, 0.2))
        return [low, ("side-chine", "chine", u(0.88, 0.95), u(0.38, 0.5))]
    if form.kind == "multi-chine":
        heights = (u(0.06, 0.11), u(0.22, 0.3), u(0.48, 0.58))
        breadths = (u(0.48, 0.56), u(0.76, 0.83), u(0.93, 0.97))
        return [
            (f"chine-{n}", "chine", y, z)
            for n, (y, z) in enumerate(zip(breadths, heights, strict=True), 1)
        ]
    angles = np.linspace(0.0, np.pi / 2.0, 6)[1:-1]
    return [
        (f"waterline-{n}", "fair", float(np.sin(a) ** 0.8), float((1.0 - np.cos(a)) ** 0.9))
        for n, a in enumerate(angles, 1)
    ]


def _stations(form, count):
    """x of points along a line, closer together up the stem."""
    even = np.linspace(0.0, 1.0, count)
    near = np.array([0.006, 0.02, 0.045]) if form.stem_power > 8.0 else np.array([0.03])
    return np.unique(np.r_[even, near]) * form.length


def lines_of(form, rng):
    """Named lines, keel to sheer, and the waterline's length."""
    x = _stations(form, int(rng.integers(9, 15)))
    low, half, high = form.bottom(x), form.half(x), form.sheer(x)
    rows = [("centreline", "fair", 0.0 * half, low)]
    for name, kind, breadth, height in _shares(form, rng):
        taper = 1.0 - 0.25 * np.clip(1.0 - x / (0.5 * form.length), 0.0, 1.0) ** 2
        if form.kind == "barge":
            taper = 1.0
        rows.append((name, kind, half * breadth * taper, low + (high - low) * height))
    rows.append(("sheer", "sheer", half, high))
    fine = np.linspace(0.0, form.length, 20_001)
    wet = fine[form.bottom(fine) < 0.0]
    fore, aft = float(wet[0]), float(wet[-1])
    lines = {
        name: {
            "kind": kind,
            "points_m": [
                [round(float(v), 3) for v in point]
                for point in zip(x - fore, y, z, strict=True)
            ],
        }
        for name, kind, y, z in rows
    }
    return lines, round(aft - fore, 3)


def appendages_of(form, rng, start):
    """Keel, skeg and rudder of some kind; ``start``: x of the stem head."""
    u = rng.uniform
    length, beam, bottom = form.length, form.beam, -form.draught
    if form.kind == "barge" and u() < 0.4:
        return {}

    def x(share):
        return round(start + share * length, 2)

    def z(depth):
        return round(bottom - depth * beam, 2)

    table = [[0.0, 0.0], [round(u(0.2, 0.35), 2), round(u(0.02, 0.06) * beam, 3)], [1.0, 0.015]]
    rudder = {
        "outline_m": [[x(u(0.86, 0.89)), z(u(0.1, 0.2))], [x(u(0.92, 0.95)), z(u(0.05, 0.1))]],
        "half_thickness_m": round(u(0.02, 0.05), 3),
    }
    if form.kind == "barge":
        skeg = {"outline_m": [[x(0.55), z(0.05)], [x(0.85), z(0.06)]], "half_thickness_m": 0.03}
        return {"skeg": skeg}
    if form.kind == "long-keel":
        fore, aft, deep = u(0.24, 0.34), u(0.82, 0.88), u(0.16, 0.26)
        outline = [[x(fore), z(0.02)], [x(fore + 0.1), z(0.8 * deep)], [x(aft), z(deep)]]
        keel = {"outline_m": outline, "half_thickness_m": table, "nose": "ellipse"}
        return {"long-keel": keel}
    fore, chord, deep = u(0.34, 0.44), u(0.12, 0.25), u(0.25, 0.45)
    outline = [[x(fore + 0.04), z(deep)], [x(fore + chord), z(deep + u(-0.03, 0.03))]]
    keel = {"outline_m": outline, "half_thickness_m": table, "nose": "ellipse"}
    if u() < 0.3:
        return {"fin": keel | {"half_thickness_m": round(u(0.05, 0.12), 3), "nose": "square"}}
    return {"fin": keel, "rudder": rudder}


def hull_of(rng):
    """The form, and the document's hull of it."""
    form = form_of(rng)
    lines, waterline = lines_of(form, rng)
    start = lines["sheer"]["points_m"][0][0]
    zones = {
        name: {"thickness_mm": float(rng.choice([3, 4, 5, 6]))} for name in ("bottom", "deck")
    }
    camber = round(float(rng.choice([0.0, rng.uniform(0.02, 0.05) * form.beam])), 3)
    return form, {
        "kind": "offsets",
        "length_waterline_m": waterline,
        "lines": lines,
        "deck": {"camber_m": camber, "at_half_breadth_m": round(form.beam / 2.0, 2)},
        "plating": zones,
        "appendages": appendages_of(form, rng, start),
    }
