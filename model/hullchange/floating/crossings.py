"""Where along a way through heels something goes through zero, solved for at that very heel."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import nan
from typing import TypeAlias

import numpy as np

from hullchange.floating.heeled import Heeled, HeldBoat, directions
from hullchange.floating.kernel.shapes import (
    HEEL,
    LEAPT,
    OFFSET,
    OFFSET_RATE,
    SLOPE,
    TO_PORT,
    TRIM,
    TRIM_RATE,
)
from hullchange.geometry.frame import FloatArray

Measure: TypeAlias = Callable[[FloatArray], tuple[FloatArray, FloatArray]]
"""Of rows (n, 12): values (n, m), the least of which counts, and their rates by heel."""

BETWEEN = np.linspace(0.0, 1.0, 9)[1:-1]
"""Parts of the way from one heel to the next at which the cubic is looked at for a dip."""

ROOT_STEP = 1e-11
"""[rad] A root is found where the next step would be smaller: levers have so much round-off."""

MOST_SOLVES = 60
"""Of 700 crossings most took 2 or 3, none more than 6; halving five degrees takes 33."""

CUBIC_STEPS = 5
"""of Newton on the cubic, each doubles the digits. It is only where the search begins."""


@dataclass(frozen=True)
class Reached:
    """An angle that is reached.

    Attributes:
        at: the boat held there; its ``heel`` is negative to port.
        solves: how many heels were solved for to find it.
    """

    at: Heeled
    solves: int


@dataclass(frozen=True, eq=False)
class HeelPoint:
    """A boat held at a heel, and what is measured there.

    Attributes:
        boat: that is held.
        row: (12,) [in the units of `Heeled`] of her there.
        value: the least of what is measured, in the measure's own unit.
    """

    boat: HeldBoat
    row: FloatArray
    value: float

    @property
    def heel(self) -> float:
        """[rad] positive to starboard."""
        return float(self.row[HEEL])

    @property
    def heeled(self) -> Heeled:
        """The boat there, by name."""
        return Heeled(*self.row.tolist())

    def at(self, heel: float, measure: Measure) -> tuple["HeelPoint", float]:
        """The boat at a heel [rad] near by, and the rate by heel of what is measured there."""
        return self._held(self.row, heel, measure)

    def between(
        self, other: "HeelPoint", heel: float, measure: Measure
    ) -> tuple["HeelPoint", float]:
        """The same at a heel [rad] between two that are known, found from both."""
        rows = np.stack([self.row, other.row])
        if rows[:, LEAPT].any():
            return (min(self, other, key=lambda p: abs(heel - p.heel))).at(heel, measure)
        width = other.heel - self.heel
        part = np.array((heel - self.heel) / width)
        values, rates = rows[:, [TRIM, OFFSET]], width * rows[:, [TRIM_RATE, OFFSET_RATE]]
        likely = np.zeros(len(self.row))
        likely[HEEL] = heel
        likely[[TRIM, OFFSET]] = cubic(values[0], values[1], rates[0], rates[1], part)
        return self._held(likely, heel, measure)

    def _held(
        self, near: FloatArray, heel: float, measure: Measure
    ) -> tuple["HeelPoint", float]:
        row = self.boat.held(near, heel)[None]
        values, rates = measure(row)
        least = int(np.argmin(values[0]))
        return HeelPoint(self.boat, row[0], float(values[0, least])), float(rates[0, least])


def lever(rows: FloatArray) -> tuple[FloatArray, FloatArray]:
    """The levers to port (n, 1) [m] of rows (n, 12), and their rates [m/rad]."""
    return rows[:, TO_PORT, None], rows[:, SLOPE, None]


def slope(rows: FloatArray) -> tuple[FloatArray, FloatArray]:
    """The slopes of the lever (n, 1) [m/rad] of rows (n, 12), whose own rates are not known."""
    return rows[:, SLOPE, None], np.full((len(rows), 1), nan)


def heights_of(points: FloatArray) -> Measure:
    """The heights [m] of points (m, 3) [m] above the water, a column each."""

    def heights(rows: FloatArray) -> tuple[FloatArray, FloatArray]:
        ups, rates = directions(rows)
        above = ups @ points.T - rows[:, OFFSET, None]
        return above, rates @ points.T - rows[:, OFFSET_RATE, None]

    return heights


def points_along(
    boats: list[HeldBoat], rows: FloatArray, measure: Measure
) -> Iterator[HeelPoint]:
    """The rows one after the other, with a point between two where the value dips and returns.

    Args:
        boats: n, whose rows they are.
        rows: (n, 12) [in the units of `Heeled`] going one way.
        measure: what is looked at.
    """
    if not boats:
        return
    values, rates = measure(rows)
    least = values.min(axis=1)
    clear = np.where(np.abs(least) > boats[0].noise, least, 0.0)
    sign = np.where(clear[:-1] != 0.0, clear[:-1], clear[1:])
    ends = values[:-1, None], values[1:, None]
    width = np.diff(rows[:, HEEL])[:, None, None]
    slopes = width * rates[:-1, None], width * rates[1:, None]
    between = cubic(*ends, *slopes, BETWEEN[:, None]).min(axis=2)
    turned = np.argmin(between * np.sign(sign)[:, None], axis=1)
    extreme = np.take_along_axis(between, turned[:, None], axis=1)[:, 0]
    dips = (clear[:-1] * clear[1:] >= 0.0) & (extreme * sign < 0.0)
    for k in range(len(rows)):
        here = HeelPoint(boats[k], rows[k], float(least[k]))
        yield here
        if k + 1 < len(rows) and dips[k] and boats[k] is boats[k + 1]:
            heel = here.heel + float(width[k, 0, 0] * BETWEEN[turned[k]])
            yield here.at(heel, measure)[0]


def crossing(a: HeelPoint, b: HeelPoint, measure: Measure, step: float = ROOT_STEP) -> Reached:
    """Where a measure goes through zero between two points of opposite sign.

    By Newton within the bracket, from where the cubic between its ends is zero, or by its chord
    (Illinois) where Newton leads out of it; the heel itself where the two points are the two
    sides of a step.

    Args:
        a: on one side.
        b: on the other.
        measure: what is zero between them.
        step: [rad] of heel that need not be taken any more.
    """
    if a.boat is not b.boat:
        return Reached(b.heeled, 0)
    low, high, shares, kept = a, b, [a.value, b.value], -1
    heel, here, solves = _likely(a, b, measure), a, 0
    while solves < MOST_SOLVES:
        solves += 1
        here, rate = low.between(high, heel, measure)
        end = 0 if (here.value > 0.0) == (a.value > 0.0) else 1
        low, high = (here, high) if end == 0 else (low, here)
        shares[end] = here.value
        shares[1 - end] *= 0.5 if end == kept else 1.0
        kept = end
        heel = here.heel - here.value / rate if rate else nan
        if not min(low.heel, high.heel) < heel < max(low.heel, high.heel):
            heel = _chord(low, high, shares)
        if abs(heel - here.heel) < step:
            break
    return Reached(here.heeled, solves)


def _likely(a: HeelPoint, b: HeelPoint, measure: Measure) -> float:
    """Where the cubic of what is least at the far end is zero, or the chord."""
    values, rates = measure(np.stack([a.row, b.row]))
    least, width = int(np.argmin(values[1])), b.heel - a.heel
    first, last = values[:, least].tolist()
    slope_a, slope_b = (width * rates[:, least]).tolist()
    rise = last - first
    second, third = 3.0 * rise - 2.0 * slope_a - slope_b, slope_a + slope_b - 2.0 * rise
    chord = part = a.value / (a.value - b.value)
    for _ in range(CUBIC_STEPS):
        value = first + part * (slope_a + part * (second + part * third))
        part -= value / (slope_a + part * (2.0 * second + 3.0 * part * third) or nan)
    return a.heel + width * (part if 0.0 < part < 1.0 else chord)


def _chord(low: HeelPoint, high: HeelPoint, shares: list[float]) -> float:
    return low.heel + (high.heel - low.heel) * shares[0] / (shares[0] - shares[1])


def cubic(
    a: FloatArray, b: FloatArray, slope_a: FloatArray, slope_b: FloatArray, part: FloatArray
) -> FloatArray:
    """Between two values with their slopes over the whole way, at a part of the way.

    Args:
        a: (..., m) first values [in any unit].
        b: (..., m) last values [in the same].
        slope_a: (..., m) what the first would change by over the whole way [in the same].
        slope_b: (..., m) what the last would [in the same].
        part: (..., m) of the way [-], 0 to 1.

    Returns:
        (..., m) [in the same unit].
    """
    rise = b - a
    bent = slope_a - rise, rise - slope_b
    return a + part * (rise + (1.0 - part) * (bent[0] * (1.0 - part) + bent[1] * part))
