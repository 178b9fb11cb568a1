"""What a curve of righting levers answers: angles, areas, the largest lever, points of rest.

Between two heels levers run along the cubic through both values and both slopes, which are
exact; every angle that is answered has been solved for at that very heel.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import islice, pairwise
from math import pi
from typing import TypeAlias

import numpy as np

from hullchange.answer.wire import Side
from hullchange.cache import cached
from hullchange.floating.crossings import (
    HeelPoint,
    Measure,
    Reached,
    crossing,
    cubic,
    heights_of,
    lever,
    points_along,
    slope,
)
from hullchange.floating.heeled import Heeled, HeldBoat
from hullchange.floating.kernel.shapes import (
    ENERGY,
    EVALUATIONS,
    HEEL,
    OFFSET,
    SLOPE,
    TO_PORT,
    TRIM,
    TRIM_RATE,
)
from hullchange.geometry.frame import FloatArray, IntArray, WaterPlane

TOP_STEP = 1e-7
"""[rad] The heel of the largest lever is found to this; the lever itself then is exact."""

EDGE_STEP = 1e-8
"""[rad] The heel at which an edge goes under is found to this: the tenth of a micrometre."""

SAME_HEEL = 1e-9
"""[rad] Heels nearer than this are one: steps add up to a circle but for round-off."""

IMMERSIONS_HELD = 512
"""Immersion angles that are held, each with its curve: drawing, tables and criteria of a float
ask of the same edges, a dozen on either side."""

LEAP = 1e3
"""Where a lever changes sign and leaves so many times the noise her trim leaps: no rest."""


@dataclass(frozen=True)
class NotReached:
    """An angle that is not reached.

    Attributes:
        up_to: [rad] the heel up to which it was looked for, negative to port.
    """

    up_to: float


@dataclass(frozen=True)
class NeverRights:
    """A lever that cannot vanish, because nowhere on that side it rights.

    Attributes:
        up_to: [rad] the heel up to which it was looked for, negative to port.
    """

    up_to: float


VanishingAngle: TypeAlias = Reached | NotReached | NeverRights
ImmersionAngle: TypeAlias = Reached | NotReached


@dataclass(frozen=True, eq=False)
class LeverCurve:
    """Righting levers of one displacement over heel.

    A heel that stands twice is a step, where a body ceases to count: outwards of it she is
    another boat.

    Attributes:
        boats: whose levers they are; several of a curve that steps.
        boat: (n,) which of them each heel belongs to.
        rows: (n, 12) [in the units of `Heeled`] by rising heel.
    """

    boats: tuple[HeldBoat, ...]
    boat: IntArray
    rows: FloatArray

    @property
    def heels(self) -> FloatArray:
        """(n,) [rad] positive to starboard."""
        return self.rows[:, HEEL]

    @property
    def to_port(self) -> FloatArray:
        """(n,) [m] lever that turns her to port: it runs smoothly through upright."""
        return self.rows[:, TO_PORT]

    @property
    def gz(self) -> FloatArray:
        """(n,) [m] righting lever: positive where it turns her towards upright.

        That is ``to_port`` at no heel and to starboard, and its opposite at heels to port, so
        that a symmetric boat has the same on both sides.
        """
        return _righting(self.heels, self.to_port)

    @property
    def slopes(self) -> FloatArray:
        """(n,) [m/rad] of ``gz`` by heel away from upright, exact.

        At no heel it is GM, times the cosine of trim.
        """
        return self.rows[:, SLOPE]

    @property
    def trims(self) -> FloatArray:
        """(n,) [rad] positive by the stern."""
        return self.rows[:, TRIM]

    @property
    def offsets(self) -> FloatArray:
        """(n,) [m] of the water's plane."""
        return self.rows[:, OFFSET]

    @property
    def planes(self) -> tuple[WaterPlane, ...]:
        """The water at each heel."""
        return tuple(Heeled(*row).plane for row in self.rows.tolist())

    @property
    def energies(self) -> FloatArray:
        """(n,) [J] potential energy of boat, liquids and water."""
        return self.rows[:, ENERGY]

    @property
    def evaluations(self) -> IntArray:
        """(n,) how often volume and levers were taken at each heel."""
        return self.rows[:, EVALUATIONS].astype(np.int32)

    @cached_property
    def energy_gap(self) -> float:
        """[m rad] by how much areas and energies differ at most: a check on both.

        Energy over weight rises by the lever times the cosine of trim. The area under that, by
        the cubic, is held against energies that know nothing of levers.
        """
        cosine, sine = np.cos(self.trims), np.sin(self.trims)
        levers = cosine * self.to_port
        slopes = cosine * self.slopes - sine * self.rows[:, TRIM_RATE] * self.to_port
        weights = np.array([boat.weight for boat in self.boats])
        rises = np.diff(self.energies / weights[self.boat])
        gaps = _areas(self.heels, levers, slopes) - rises
        along = np.where(np.diff(self.boat) == 0, gaps, 0.0)
        return float(np.ptp(np.cumsum(np.append(0.0, along))))

    def at(self, heel: float) -> Heeled:
        """The boat held at any heel [rad], solved for there."""
        k = int(self._interval(np.array(heel)))
        return self._held(k + int(heel > self.heels[k : k + 2].mean()), heel).heeled

    def gz_at(self, heel: FloatArray | float) -> FloatArray:
        """Righting levers (n,) [m] at heels (n,) [rad], by the cubic between her rows."""
        wanted = np.asarray(heel, dtype=np.float64)
        k = self._interval(wanted)
        width = self.heels[k + 1] - self.heels[k]
        rates = width * self.slopes[k], width * self.slopes[k + 1]
        part = (wanted - self.heels[k]) / width
        return _righting(wanted, cubic(self.to_port[k], self.to_port[k + 1], *rates, part))

    def vanishing_angle(self, side: Side) -> VanishingAngle:
        """Smallest heel on a side at which the lever goes from righting to capsizing.

        A lever that turns her up only once she is upside down rights nothing. One that only
        takes a boat with a list through upright, from her loll to the one on the other side,
        is passed over where she rights again beyond that.
        """
        stretches = list(islice(self._righting(side), 2))
        if not stretches:
            return NeverRights(self._end(side))
        (from_upright, vanishes), *beyond = stretches
        if from_upright and beyond and self._lolls:
            _, vanishes = beyond[0]
        return vanishes

    def maximum(self, side: Side) -> Heeled:
        """The largest righting lever on a side, before it vanishes."""
        vanishes = self.vanishing_angle(side)
        end = vanishes.at.heel if isinstance(vanishes, Reached) else vanishes.up_to
        if isinstance(vanishes, NeverRights):
            end = pi / 2.0
        order = self._order(side)
        assert len(order), "the curve has no heel on that side"
        within = order[np.abs(self.heels[order]) <= abs(end)]
        points = list(self._points(within, lever))
        tops = [point.heeled for point in points]
        best = int(np.argmax([top.gz for top in tops]))
        for a, b in pairwise(points[max(best - 1, 0) : best + 2]):
            if a.boat is b.boat and a.heeled.slope > 0.0 > b.heeled.slope:
                rising, falling = (replace(p, value=p.heeled.slope) for p in (a, b))
                tops.append(crossing(rising, falling, slope, TOP_STEP).at)
        return max(tops, key=lambda top: top.gz)

    @cached_property
    def equilibria(self) -> tuple[Heeled, ...]:
        """Every heel on the curve at which she rests, stable or not, by rising heel.

        A neutral body has none of its own, and a step is none.
        """
        points = self._clear(np.arange(len(self.rows), dtype=np.int32))
        rests = [end.heeled for end in self._resting_ends()]
        if points and self._is_round:
            points.append(_once_round(points[0]))
        for a, b in pairwise(points):
            if a.boat is b.boat and a.value * b.value < 0.0:
                rests.append(_within_circle(crossing(a, b, lever).at))
        still = LEAP * self.boats[0].noise
        rests = [rest for rest in rests if abs(rest.to_port) < still]
        return tuple(sorted(rests, key=lambda rest: rest.heel))

    def immersion_angle(self, points: FloatArray, side: Side) -> ImmersionAngle:
        """Smallest heel on a side at which the first of some points goes under.

        The first heel of the curve on that side where one is under already there.

        Args:
            points: (n, 3) [m] of an opening's edge, a deck edge, a coaming.
            side: that she is heeled to.
        """
        return _immersion_angle(self, np.asarray(points, dtype=np.float64), side)

    def between(self, low: float, high: float) -> "LeverCurve":
        """The part of it between two heels [rad], with these two where they are on it."""
        inside = np.nonzero((self.heels > low) & (self.heels < high))[0]
        first = int(np.searchsorted(self.heels, low, "right")) - 1
        last = int(np.searchsorted(self.heels, high, "left"))
        boat, rows = [self.boat[inside]], [self.rows[inside]]
        if self.heels[0] <= low <= self.heels[-1]:
            boat.insert(0, self.boat[first : first + 1])
            rows.insert(0, self._held(first, low).row[None])
        if self.heels[0] <= high <= self.heels[-1]:
            boat.append(self.boat[last : last + 1])
            rows.append(self._held(last, high).row[None])
        return LeverCurve(self.boats, np.concatenate(boat), np.concatenate(rows))

    def _immersion(self, heights: Measure, side: Side) -> ImmersionAngle:
        dry = None
        for point in self._points(self._order(side), heights):
            if point.value < 0.0:
                if dry is None:
                    return Reached(point.heeled, 0)
                return crossing(dry, point, heights, EDGE_STEP)
            dry = point
        return NotReached(self._end(side))

    @property
    def _lolls(self) -> bool:
        """Whether upright is unstable, read at the heel nearest to it."""
        return bool(self.slopes[np.argmin(np.abs(self.heels))] < 0.0)

    def _righting(self, side: Side) -> Iterator[tuple[bool, Reached | NotReached]]:
        """Each stretch of heel on a side that rights her and does not begin upside down.

        Yields:
            Whether it begins upright, and where its lever vanishes.
        """
        outwards = 1.0 if side == "starboard" else -1.0
        righted, from_upright = None, True
        for point in self._clear(self._order(side)):
            if outwards * point.value > 0.0:
                righted = point if righted or not point.heeled.inverted else None
                continue
            if righted is not None:
                yield from_upright, crossing(righted, point, lever)
            righted, from_upright = None, False
        if righted is not None:
            yield from_upright, NotReached(self._end(side))

    @property
    def _is_round(self) -> bool:
        return bool(self.heels[-1] - self.heels[0] > 2.0 * pi - SAME_HEEL)

    def _order(self, side: Side) -> IntArray:
        """Numbers of the heels to a side, outwards; of a step at upright its outer row."""
        heels = self.heels if side == "starboard" else -self.heels[::-1]
        first = int(np.searchsorted(heels, 0.0, "right"))
        order = np.arange(first - int(first > 0 and heels[first - 1] == 0.0), len(heels))
        own = order if side == "starboard" else len(heels) - 1 - order
        return own.astype(np.int32)

    def _end(self, side: Side) -> float:
        outermost = self.heels[-1] if side == "starboard" else self.heels[0]
        return float(max(outermost, 0.0) if side == "starboard" else min(outermost, 0.0))

    def _points(self, order: IntArray, measure: Measure) -> Iterator[HeelPoint]:
        boats = [self.boats[k] for k in self.boat[order]]
        return points_along(boats, self.rows[order], measure)

    def _clear(self, order: IntArray) -> list[HeelPoint]:
        """Points at which there is a lever, one way or the other."""
        points = self._points(order, lever)
        return [point for point in points if abs(point.value) > point.boat.noise]

    def _resting_ends(self) -> list[HeelPoint]:
        """The ends of a curve that does not go all round, where she rests there."""
        if self._is_round:
            return []
        ends = [self._held(k, float(self.heels[k])) for k in (0, len(self.rows) - 1)]
        return [end for end in ends if abs(end.value) <= end.boat.noise < abs(end.heeled.slope)]

    def _held(self, k: int, heel: float) -> HeelPoint:
        boat = self.boats[self.boat[k]]
        return HeelPoint(boat, self.rows[k], 0.0).at(heel, lever)[0]

    def _interval(self, heels: FloatArray) -> IntArray:
        """Number of the heel before each, of a step the side towards upright."""
        low, high = (np.searchsorted(self.heels, heels, s) for s in ("left", "right"))
        before = np.where(heels < 0.0, high, low) - 1
        return np.asarray(np.clip(before, 0, len(self.heels) - 2), np.int32)


@cached(IMMERSIONS_HELD)
def _immersion_angle(curve: LeverCurve, edge: FloatArray, side: Side) -> ImmersionAngle:
    return curve._immersion(heights_of(edge), side)


def _areas(heels: FloatArray, levers: FloatArray, slopes: FloatArray) -> FloatArray:
    """(n - 1,) areas under the cubics between heels."""
    width = np.diff(heels)
    return width * ((levers[:-1] + levers[1:]) / 2.0 - width * np.diff(slopes) / 12.0)


def _righting(heels: FloatArray, to_port: FloatArray) -> FloatArray:
    return np.where(heels < 0.0, -to_port, to_port)


def _once_round(point: HeelPoint) -> HeelPoint:
    row = point.row.copy()
    row[HEEL] += 2.0 * pi
    return replace(point, row=row)


def _within_circle(rest: Heeled) -> Heeled:
    return replace(rest, heel=rest.heel - 2.0 * pi) if rest.heel > pi + SAME_HEEL else rest
