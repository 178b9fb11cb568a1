"""Righting levers of one boat weighed in many ways, and where each of them rests and vanishes.

None is floated anew: each curve is the one that was solved for, and what her weights add to it
at each heel, to first order. At a fixed heel that is exact for a centre of gravity elsewhere,
but for the trim that answers it.
"""

from dataclasses import dataclass
from math import pi

import numpy as np

from hullchange.answer.wire import Side
from hullchange.floating.lever_curve import SAME_HEEL, LeverCurve
from hullchange.floating.weight_slopes import WeightSlopes
from hullchange.geometry.frame import FloatArray, IntArray

GRID = np.radians(
    np.concatenate([np.arange(-180, -20), np.arange(-20, 20, 0.25), np.arange(20, 181)])
)
"""[rad] Every degree, and every quarter of one up to 20 degrees, where she may loll."""


@dataclass(frozen=True, eq=False)
class SampledLevers:
    """Levers of the same boat, weighed in n ways.

    Attributes:
        heels: (m,) [rad] rising, positive to starboard, no heel among them.
        to_port: (n, m) [m] arm that turns her to port.
    """

    heels: FloatArray
    to_port: FloatArray

    @property
    def rests(self) -> FloatArray:
        """(n,) heel [rad] at which each comes to rest, let go upright.

        Where nothing tells the sides apart she goes to starboard.
        """
        heels, to_port = self._outwards("port")
        to_starboard = self._first(*self._outwards("starboard"))
        return np.where(to_port[:, 0] > 0.0, -self._first(heels, -to_port), to_starboard)

    def vanishing(self, side: Side) -> FloatArray:
        """(n,) vanishing angle [rad] on a side: 0 where it never rights, pi where it stays.

        As `LeverCurve.vanishing_angle` has it, of boats that loll too.
        """
        heels, rights = self._righting(side)
        nowhere = np.full(len(rights), -1)
        angle, after = self._vanishes(heels, rights, nowhere)
        falls = np.diff(rights[:, :2]).sum(axis=1) < 0.0
        through = (rights[:, 0] > 0.0) & falls
        again, _ = self._vanishes(heels, rights, after)
        return np.where(through & (again > 0.0), again, angle)

    @staticmethod
    def _vanishes(
        heels: FloatArray, rights: FloatArray, beyond: IntArray
    ) -> tuple[FloatArray, IntArray]:
        """Angle (n,) at which the first stretch that rights ends, and the heel's number there.

        Only what begins beyond a heel's number (n,) and not upside down counts: 0 where none.
        """
        ways, number = np.arange(len(rights)), np.arange(len(heels))
        positive = rights > 0.0
        begins = positive & (number > beyond[:, None]) & (heels <= pi / 2.0)
        first = np.argmax(begins, axis=1)
        gone = ~positive & (number > first[:, None])
        after = np.argmax(gone, axis=1)
        stays = ~gone[ways, after]
        angle = np.where(stays, pi, _zero(heels, rights, after))
        ever = begins[ways, first]
        return np.where(ever, angle, 0.0), np.where(stays, len(heels), after)

    def greatest(self, side: Side) -> FloatArray:
        """(n,) largest righting lever [m] on a side before it vanishes."""
        heels, rights = self._righting(side)
        vanishes = self.vanishing(side)
        within = heels <= np.where(vanishes > 0.0, vanishes, pi / 2.0)[:, None]
        return np.asarray(np.where(within, rights, -np.inf).max(axis=1))

    def _righting(self, side: Side) -> tuple[FloatArray, FloatArray]:
        """Heels without their side, and righting levers, from upright outwards."""
        heels, to_port = self._outwards(side)
        return heels, to_port if side == "starboard" else -to_port

    def _outwards(self, side: Side) -> tuple[FloatArray, FloatArray]:
        upright = int(np.searchsorted(self.heels, 0.0))
        if side == "starboard":
            return self.heels[upright:], self.to_port[:, upright:]
        return -self.heels[upright::-1], self.to_port[:, upright::-1]

    @staticmethod
    def _first(heels: FloatArray, rights: FloatArray) -> FloatArray:
        """(n,) first heel beyond upright from which she is turned back; the last if none."""
        turned_back = rights > 0.0
        turned_back[:, 0] = False
        after = np.argmax(turned_back, axis=1)
        never = after == 0
        return np.where(never, heels[-1], _zero(heels, rights, after))


def sampled_levers(
    curve: LeverCurve, slopes: WeightSlopes, changes: FloatArray
) -> SampledLevers:
    """The levers of a boat weighed a little otherwise in n ways.

    A step stays at its heel.

    Args:
        curve: as she was weighed.
        slopes: of it.
        changes: (n, 4 or more) of mass [kg], its moments [kg m] about the frame's origin, and
            of what else the slopes are of.
    """
    low, high = curve.heels[0] - SAME_HEEL, curve.heels[-1] + SAME_HEEL
    heels = GRID[(low <= GRID) & (high >= GRID)]
    righting = curve.gz_at(heels)
    known = np.where(heels < 0.0, -righting, righting)
    return SampledLevers(heels, known + changes @ slopes.at(heels)[:, 0].T)


def _zero(heels: FloatArray, values: FloatArray, after: IntArray) -> FloatArray:
    """(n,) heel of the zero on the straight before a number of the grid, of each row."""
    ways = np.arange(len(values))
    low, high = values[ways, after - 1], values[ways, after]
    part = low / np.where(low == high, 1.0, low - high)
    return np.asarray(heels[after - 1] + part * (heels[after] - heels[after - 1]))
