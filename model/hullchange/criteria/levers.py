"""A curve of righting levers, read between its points with its own slopes."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from math import pi

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray

CLOSE = 1e-9  # [rad] at the ends of the curve
NOISE = 1e-9  # [m] below it there is no lever
FOUND = 1e-12  # [rad] a step that is not worth another
MOST_CHORDS = 100
LeverOfHeel = Callable[[float], float]
"""A lever [m] at a heel [rad]."""


@dataclass(frozen=True)
class AtHeel:
    """Something happens at a heel [rad]."""

    heel: float


@dataclass(frozen=True)
class Beyond:
    """Not reached up to a heel [rad], where the search ended."""

    heel: float


Angle = AtHeel | Beyond


@dataclass(frozen=True)
class Peak:
    """The largest lever [m] and its heel [rad]."""

    heel: float
    gz: float


@dataclass(frozen=True, eq=False)
class SideLevers:
    """Righting levers of one side as plain values, at fixed displacement.

    Between points the curve is the cubic that has their levers and slopes; areas, peaks and
    crossings are exact for that cubic.  A heel given twice is a step (a house whose opening
    goes under): at the step itself the lever is the one before it.

    Attributes:
        heel: (n,) [rad] rising from 0, towards the worse side, to pi or as far as she goes.
        gz: (n,) [m] positive when it rights her.
        slope: (n,) [m/rad] of the levers.

    Raises:
        ModelError: ``levers-incomplete`` where the points do not run from 0 to 90 degrees at
            least.
    """

    heel: FloatArray
    gz: FloatArray
    slope: FloatArray

    def __post_init__(self) -> None:
        alike = self.heel.shape == self.gz.shape == self.slope.shape
        whole = alike and len(self.heel) > 1 and bool(np.all(np.diff(self.heel) >= 0.0))
        if whole and abs(self.heel[0]) < CLOSE and self.heel[-1] > pi / 2.0 - CLOSE:
            return
        sentence = (
            "Criteria need the righting levers of one side from 0 to 180° of heel, in order, "
            "and these end before 90°."
        )
        raise ModelError("levers-incomplete", sentence)

    def at(self, heel: float) -> float:
        """The lever [m] at a heel [rad], the last one beyond the end."""
        within = min(heel, float(self.heel[-1]))
        return self._on_piece(self._piece(within), within)

    def area(self, start: float, end: float) -> float:
        """[m rad] under the curve between two heels [rad]; zero where the end comes first."""
        return self._area_to(end) - self._area_to(start) if start < end else 0.0

    def peak(self, start: float, end: float) -> Peak:
        """The largest lever between two heels [rad]."""
        heels, levers = self._tops
        inside = (heels >= start) & (heels <= end)
        peaks = [Peak(h, self.at(h)) for h in (start, end)]
        if inside.any():
            largest = int(np.argmax(np.where(inside, levers, -np.inf)))
            peaks.append(Peak(float(heels[largest]), float(levers[largest])))
        return max(peaks, key=lambda p: p.gz)

    @cached_property
    def vanishing(self) -> Angle:
        """Where the lever, once positive, first is zero; at 0 if it never was positive.

        A lever that turns her up only once she is upside down rights nothing; nor does one that
        only takes a boat with a list through upright to the loll on the other side, where
        beyond it she rights again.
        """
        clear = np.where(np.abs(self.gz) > NOISE, self.gz, 0.0)
        turns_up = (clear > 0.0) & (self.heel <= pi / 2.0)
        if not turns_up.any():
            return AtHeel(0.0)
        vanishes = self._crossing(clear, lambda _: 0.0, falling=True)
        if self.slope[0] < 0.0 < clear[np.argmax(clear != 0.0)]:
            passed = self.heel <= vanishes.heel
            if (turns_up & ~passed).any():
                return self._crossing(np.where(passed, 0.0, clear), lambda _: 0.0, falling=True)
        return vanishes

    def meets(self, lever: LeverOfHeel) -> Angle:
        """Where the curve first comes up to a heeling lever: the steady heel under it."""
        excess = self.gz - np.array([lever(h) for h in self.heel.tolist()])
        if excess[0] >= 0.0:
            return AtHeel(0.0)
        return self._crossing(excess, lever, falling=False)

    def _crossing(self, excess: FloatArray, lever: LeverOfHeel, *, falling: bool) -> Angle:
        side = excess if falling else -excess
        found = np.flatnonzero((side[:-1] > 0.0) & (side[1:] <= 0.0))
        if not len(found):
            return Beyond(float(self.heel[-1]))
        piece = int(found[0])
        start, end = float(self.heel[piece]), float(self.heel[piece + 1])
        ends = {start: float(excess[piece]), end: float(excess[piece + 1])}
        if start == end:
            return AtHeel(start)

        def over(heel: float) -> float:
            # at the ends as given, whatever the cubic rounds to
            return ends.get(heel, self._on_piece(piece, heel) - lever(heel))

        return AtHeel(root_between(over, start, end))

    def _piece(self, heel: float) -> int:
        last = len(self.heel) - 2
        return min(max(int(np.searchsorted(self.heel, heel, side="left")) - 1, 0), last)

    def _on_piece(self, piece: int, heel: float) -> float:
        t = self._share(piece, heel)
        c0, c1, c2, c3 = self._cubics[piece].tolist()
        return float(c0 + t * (c1 + t * (c2 + t * c3)))

    def _share(self, piece: int, heel: float) -> float:
        width = float(self.heel[piece + 1] - self.heel[piece])
        return (heel - float(self.heel[piece])) / width if width > 0.0 else 0.0

    @cached_property
    def _cubics(self) -> FloatArray:
        """(n - 1, 4) coefficients of each piece over its share of the interval, 0 to 1."""
        width = np.diff(self.heel)
        first, last = width * self.slope[:-1], width * self.slope[1:]
        rise = np.diff(self.gz)
        return np.stack(
            [self.gz[:-1], first, 3.0 * rise - 2.0 * first - last, first + last - 2.0 * rise],
            axis=1,
        )

    @cached_property
    def _areas(self) -> FloatArray:
        """(n,) [m rad] from upright to each point."""
        pieces = np.diff(self.heel) * (self._cubics @ np.array([1.0, 1 / 2, 1 / 3, 1 / 4]))
        return np.concatenate([[0.0], np.cumsum(pieces)])

    def _area_to(self, heel: float) -> float:
        heel = min(heel, float(self.heel[-1]))
        piece = self._piece(heel)
        t = self._share(piece, heel)
        c0, c1, c2, c3 = self._cubics[piece].tolist()
        part = t * (c0 + t * (c1 / 2 + t * (c2 / 3 + t * c3 / 4)))
        return float(self._areas[piece] + part * (self.heel[piece + 1] - self.heel[piece]))

    @cached_property
    def _tops(self) -> tuple[FloatArray, FloatArray]:
        """(m,) [rad] and (m,) [m] where the lever may be largest: at points and where level."""
        c0, c1, c2, c3 = self._cubics.T
        rest = c2 * c2 - 3.0 * c1 * c3
        # the form that divides by no small number
        q = -(c2 + np.copysign(np.sqrt(np.maximum(rest, 0.0)), c2))
        with np.errstate(divide="ignore", invalid="ignore"):
            shares = np.stack([q / (3.0 * c3), c1 / q], axis=1)
        inside = (rest >= 0.0)[:, None] & (shares > 0.0) & (shares < 1.0)
        piece, which = np.nonzero(inside)
        t, width = shares[piece, which], self.heel[piece + 1] - self.heel[piece]
        level = c0[piece] + t * (c1[piece] + t * (c2[piece] + t * c3[piece]))
        heels = np.concatenate([self.heel[piece] + t * width, self.heel])
        return heels, np.concatenate([level, self.gz])


def root_between(value: LeverOfHeel, start: float, end: float) -> float:
    """The heel [rad] where a value is zero, between two heels [rad] of opposite signs.

    By its chord (Illinois).
    """
    (low, below), (high, above) = (start, value(start)), (end, value(end))
    for _ in range(MOST_CHORDS):
        heel = high - above * (high - low) / (above - below)
        here = value(heel)
        low, below = (high, above) if here * above <= 0.0 else (low, below / 2.0)
        moved, high, above = abs(heel - high), heel, here
        if here == 0.0 or moved < FOUND:
            break
    return high
