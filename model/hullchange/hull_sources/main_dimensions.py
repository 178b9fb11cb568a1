"""A first guess at a hull of which only a type and the main dimensions are known."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

import numpy as np
from scipy.optimize import brentq

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.hull.lines import LineInput, LineKind
from hullchange.hull_sources.found import FoundLines

HullType = Literal["single-chine", "multi-chine", "round", "canoe-stern"]
LOWEST_SHEER, WIDEST, DEEPEST = 0.65, 0.55, 0.53  # fractions of the length from the bow
ENTRY = 1.8  # power of the sheer's half-breadth before the widest place
TAPER = (0.5, 0.1)  # shares that inner lines draw in towards bow and stern
STATIONS, FINE = 21, 161  # along each line, as given back and to integrate by
LEAST_DRAUGHT, MOST_DRAUGHT = 0.03, 0.9  # of the canoe body, as shares of the beam
STEM_DROP = 0.04  # [m] from the sheer to where the other lines meet the stem
STEM_HALF = 0.03  # [m] half-breadth of the stem head
TRANSOM_CLEAR = 0.015  # height of the centreline's after end, as a share of the length

LCB_SD, WATERPLANE_SD, KM_SD = 0.023, 0.12, 0.11
"""One standard deviation of a guess: of LCB as a share of the waterline, of the waterplane's
area, and of KM as a share of the beam (tests/bench/bench_first_guess.py)."""
POINT_SD = 0.05
"""One standard deviation of its points along a line, as a share of the beam: it gives KM the
deviation above; that of LCB comes out at 3.7 % and of the displacement at 18 %, on the careful
side."""


_Inner = tuple[tuple[str, LineKind, float, float], ...]


@dataclass(frozen=True)
class _Template:
    """What is usual of a type; all are shares or powers [-].

    Attributes:
        inner: name, kind, share of the half-breadth and of the height of each inner line.
        run: power of the centreline's rise aft.
        transom: half-breadth of the sheer's after end, as a share of the greatest, where none
            is given.
    """

    inner: _Inner
    run: float
    transom: float


_CHINES: _Inner = (("lower-chine", "chine", 0.66, 0.17), ("upper-chine", "chine", 0.93, 0.44))
TEMPLATES: Mapping[str, _Template] = MappingProxyType(
    {
        "single-chine": _Template((("chine", "chine", 0.875, 0.35),), 2.2, 0.5),
        "multi-chine": _Template(_CHINES, 2.2, 0.5),
        "round": _Template(
            (
                ("fair-1", "fair", 0.42, 0.05),
                ("fair-2", "fair", 0.78, 0.20),
                ("fair-3", "fair", 0.95, 0.48),
            ),
            2.2,
            0.5,
        ),
        "canoe-stern": _Template(_CHINES, 6.0, 0.0),
    }
)


@dataclass(frozen=True)
class MainDimensions:
    """The nine numbers of a first guess.

    Attributes:
        hull_type: single-chine, multi-chine, round or canoe-stern.
        length: [m] over all.
        waterline: [m] length.
        beam: [m] greatest.
        displacement: [m^3] of the canoe body, without keel and rudder.
        freeboards: [m] at the stem, least, at the stern.
        transom: [m] breadth of the transom at the deck; 0 on a canoe stern.
    """

    hull_type: HullType
    length: float
    waterline: float
    beam: float
    displacement: float
    freeboards: tuple[float, float, float]
    transom: float


def first_guess(given: MainDimensions) -> FoundLines:
    """Lines of a usual hull of these dimensions: displacement and waterline are met.

    Raises:
        ModelError: ``dimensions-disagree``, with what would fit.
    """
    _require_sound(given)
    shape = _TemplateHull(given, TEMPLATES[given.hull_type])
    overhang, draught = 0.5, 0.0
    for _ in range(6):
        draught = _draught_for(shape, overhang)
        overhang = _overhang_for(shape, draught)
    lines = shape.lines(_stations(), draught, overhang)
    percent = 100.0
    worth = (
        "A usual hull of these dimensions: displacement as given, LCB within "
        f"±{percent * LCB_SD:.1f} % of the waterline, waterplane "
        f"±{percent * WATERPLANE_SD:.1f} %, KM ±{1000.0 * KM_SD * given.beam:.0f} mm (one "
        "standard deviation, own trial on hulls of other curves). Measure her before relying "
        "on it."
    )
    notes = [f"The canoe body's draught comes out as {draught:.2f} m."]
    reached = shape.waterline(draught, overhang)
    if abs(reached - given.waterline) > 0.01 * given.waterline:
        notes.append(
            f"Her waterline comes out as {reached:.2f} m instead of {given.waterline:.2f} m: "
            "overhangs like these are unusual for the type."
        )
    return FoundLines(
        "dimensions",
        tuple(
            LineInput(name, kind, tuple((x, y, z) for x, y, z in points.tolist()))
            for name, kind, points in lines
        ),
        POINT_SD * given.beam,
        worth,
        notes=tuple(notes),
        missing=("Measured lines; these are a guess from the main dimensions.",),
    )


def _require_sound(given: MainDimensions) -> None:
    fore, least, aft = given.freeboards
    for holds, sentence in (
        (
            0.55 * given.length <= given.waterline <= given.length,
            f"A waterline of {given.waterline:.2f} m does not fit a length over all of "
            f"{given.length:.2f} m: it must be 55 to 100 % of it.",
        ),
        (
            0.12 * given.length <= given.beam <= 0.6 * given.length,
            f"A beam of {given.beam:.2f} m does not fit a length over all of "
            f"{given.length:.2f} m: it must be 12 to 60 % of it.",
        ),
        (
            0.0 <= given.transom <= given.beam,
            f"The transom's breadth, {given.transom:.2f} m, must lie between 0 and the beam, "
            f"{given.beam:.2f} m.",
        ),
        (
            0.0 < least <= min(fore, aft) and max(fore, aft) < 0.5 * given.length,
            "The least freeboard must be above 0 and the smallest of the three, which are "
            f"{fore:.2f}, {least:.2f} and {aft:.2f} m.",
        ),
    ):
        if not holds:
            raise ModelError("dimensions-disagree", sentence)


@dataclass(frozen=True)
class _TemplateHull:
    """The template's curves for given dimensions, over fractions of the length from the bow."""

    given: MainDimensions
    template: _Template

    @property
    def is_double_ended(self) -> bool:
        return self.given.hull_type == "canoe-stern"

    def sheer(self, s: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Half-breadth and height [m]."""
        given, (fore, least, aft) = self.given, self.given.freeboards
        u, v = _apart(s, WIDEST)
        entry = (1.0 - u**ENTRY) ** 0.9
        share = given.transom / given.beam
        run = (1.0 - v**2.2) ** 0.7 if self.is_double_ended else 1.0 - (1.0 - share) * v**2.2
        ends = np.maximum(u, v) if self.is_double_ended else u
        y = given.beam / 2.0 * np.where(s < WIDEST, entry, run) + STEM_HALF * ends
        u, v = _apart(s, LOWEST_SHEER)
        return y, least + (fore - least) * u**2 + (aft - least) * v**2

    def centreline(self, s: FloatArray, draught: float, overhang: float) -> FloatArray:
        """Height [m]; ``overhang`` 0 is long, 1 is short."""
        fore, _, aft = self.given.freeboards
        top = aft - STEM_DROP if self.is_double_ended else TRANSOM_CLEAR * self.given.length
        u, v = _apart(s, DEEPEST)
        stem = 2.0 * 8.0**overhang
        run = self.template.run * (0.75 + 0.5 * overhang)
        rise = (fore - STEM_DROP + draught) * u**stem + (top + draught) * v**run
        return np.asarray(-draught + rise)

    def lines(
        self, s: FloatArray, draught: float, overhang: float
    ) -> list[tuple[str, LineKind, FloatArray]]:
        """Name, kind and points (n, 3) [m] of each line, x from the waterline's fore end."""
        y, top = self.sheer(s)
        low = self.centreline(s, draught, overhang)
        x = self.given.length * s - self.ends(draught, overhang)[0]
        u, v = _apart(s, WIDEST)
        taper = (1.0 - TAPER[0] * u**2) * (1.0 - TAPER[1] * v**2)
        found: list[tuple[str, LineKind, FloatArray]] = [
            ("centreline", "fair", np.column_stack([x, 0.0 * x, low]))
        ]
        for name, kind, breadth, height in self.template.inner:
            z = low + (top - low) * height
            found.append((name, kind, np.column_stack([x, y * breadth * taper, z])))
        found.append(("sheer", "sheer", np.column_stack([x, y, top])))
        return found

    def ends(self, draught: float, overhang: float) -> tuple[float, float]:
        """x [m] from the bow of the ends of the waterline on the centreline."""
        s = np.linspace(0.0, 1.0, FINE)
        z = self.centreline(s, draught, overhang)
        wet = np.flatnonzero(z < 0.0)
        fore, aft = int(wet[0]), int(wet[-1])
        first = np.interp(0.0, z[[fore, fore - 1]], s[[fore, fore - 1]]) if fore else 0.0
        last = np.interp(0.0, z[[aft, aft + 1]], s[[aft, aft + 1]]) if aft + 1 < FINE else 1.0
        return float(first) * self.given.length, float(last) * self.given.length

    def waterline(self, draught: float, overhang: float) -> float:
        """Length [m] of the waterline."""
        fore, aft = self.ends(draught, overhang)
        return aft - fore

    def volume(self, draught: float, overhang: float) -> float:
        """[m^3] below the waterline, straight across between the lines."""
        rows = self.lines(np.linspace(0.0, 1.0, FINE), draught, overhang)
        points = np.stack([points for _, _, points in rows])
        return volume_below(points)


def volume_below(points: FloatArray) -> float:
    """Volume [m^3] below z 0 of lines that share their stations, straight across between them.

    Args:
        points: (lines, stations, 3) [m], heights rising from line to line.
    """
    y, z = points[:, :, 1], points[:, :, 2]
    low, high = z[:-1], z[1:]
    wet_low, wet_high = np.minimum(low, 0.0), np.minimum(high, 0.0)
    step = np.where(high > low, high - low, 1.0)
    slope = np.where(high > low, (y[1:] - y[:-1]) / step, 0.0)
    middle = y[:-1] + slope * (0.5 * (wet_low + wet_high) - low)
    area = 2.0 * (middle * (wet_high - wet_low)).sum(axis=0)
    return float(np.trapezoid(area, points[0, :, 0]))


def _draught_for(shape: _TemplateHull, overhang: float) -> float:
    beam, wanted = shape.given.beam, shape.given.displacement
    low, high = (
        shape.volume(share * beam, overhang) for share in (LEAST_DRAUGHT, MOST_DRAUGHT)
    )
    if not low <= wanted <= high:
        sentence = (
            f"A displacement of {wanted:.2f} m³ without keel and rudder does not fit a "
            f"{shape.given.hull_type} hull of {shape.given.length:.1f} by {beam:.1f} m: it "
            f"must be {low:.1f} to {high:.1f} m³ (about as many tonnes). Check its unit."
        )
        raise ModelError("dimensions-disagree", sentence)
    return _root(
        lambda d: shape.volume(d, overhang) - wanted, LEAST_DRAUGHT * beam, MOST_DRAUGHT * beam
    )


def _overhang_for(shape: _TemplateHull, draught: float) -> float:
    """The overhang that gives the waterline, or the nearest there is."""
    wanted = shape.given.waterline
    if shape.waterline(draught, 0.0) >= wanted:
        return 0.0
    if shape.waterline(draught, 1.0) <= wanted:
        return 1.0
    return _root(lambda q: shape.waterline(draught, q) - wanted, 0.0, 1.0)


def _root(of: Callable[[float], float], low: float, high: float) -> float:
    return float(brentq(of, low, high, xtol=1e-5))


def _stations() -> FloatArray:
    """(n,) fractions of the length, closer together at the ends."""
    even = np.linspace(0.0, 1.0, STATIONS)
    return np.asarray(0.5 * even + 0.25 * (1.0 - np.cos(np.pi * even)))


def _apart(s: FloatArray, middle: float) -> tuple[FloatArray, FloatArray]:
    """Distances forward and aft of a middle, as fractions of the way to the ends."""
    fore = np.clip((middle - s) / middle, 0.0, 1.0)
    return fore, np.clip((s - middle) / (1.0 - middle), 0.0, 1.0)
