"""A weight, what is known about it, and what many of them add up to."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from hullchange.geometry.frame import FloatArray


@dataclass(frozen=True)
class Weight:
    """One weight at one place.

    Attributes:
        path: dotted path of the figure in the document.
        mass: [kg].
        centre: (x, y, z) [m].
        sd_mass: one standard deviation [kg].
        sd_centre: one standard deviation along, across and up [m].
        provenance: weighed, drawn, catalogue or guessed, or what else it is from.
    """

    path: str
    mass: float
    centre: tuple[float, float, float]
    sd_mass: float = 0.0
    sd_centre: tuple[float, float, float] = (0.0, 0.0, 0.0)
    provenance: str = ""


@dataclass(frozen=True, eq=False)
class WeightSum:
    """A sum of weights as the four numbers floating depends on, with their covariance.

    Attributes:
        packed: (5, 4) the numbers [kg], [kg m], then the rows of their covariance. It is one
            array, so that adding up a ledger is one sum.
    """

    packed: FloatArray

    @classmethod
    def of(cls, numbers: FloatArray, covariance: FloatArray) -> "WeightSum":
        """The sum by its numbers.

        Args:
            numbers: (4,) mass [kg] and moments [kg m].
            covariance: (4, 4) of them [kg] and [kg m].
        """
        return cls(np.vstack([numbers, covariance]))

    @property
    def numbers(self) -> FloatArray:
        """(4,) mass [kg] and moments about the frame's origin [kg m]."""
        numbers: FloatArray = self.packed[0]
        return numbers

    @property
    def covariance(self) -> FloatArray:
        """(4, 4) covariance of the numbers, in [kg] and [kg m]."""
        return self.packed[1:]

    @property
    def mass(self) -> float:
        """Mass [kg]."""
        return float(self.packed[0, 0])

    @property
    def centre(self) -> tuple[float, float, float]:
        """Centre of gravity [m]; the origin where there is no mass."""
        if self.mass == 0.0:
            return (0.0, 0.0, 0.0)
        x, y, z = (float(c) for c in self.numbers[1:] / self.mass)
        return (x, y, z)

    def __add__(self, other: "WeightSum") -> "WeightSum":
        """Both together, with independent errors."""
        return WeightSum(self.packed + other.packed)

    def __neg__(self) -> "WeightSum":
        """The same taken away: the numbers change sign, the covariance stays."""
        return WeightSum(self.packed * _TAKEN)

    def __sub__(self, other: "WeightSum") -> "WeightSum":
        """The first without the second, with independent errors."""
        return self + -other


_TAKEN = np.array([[-1.0], [1.0], [1.0], [1.0], [1.0]])
NOTHING = WeightSum(np.zeros((5, 4)))
"""No weight at all."""


def sum_of_weight(weight: Weight) -> WeightSum:
    """One weight as a sum.

    >>> sum_of_weight(Weight("lead", 10.0, (2.0, 0.0, -1.0))).numbers.tolist()
    [10.0, 20.0, 0.0, -10.0]
    """
    arm = np.array([1.0, *weight.centre])
    covariance = weight.sd_mass**2 * np.outer(arm, arm)
    covariance[1:, 1:] += np.diag((weight.mass * np.array(weight.sd_centre)) ** 2)
    return WeightSum.of(weight.mass * arm, covariance)


def sum_of_alike(weights: Iterable[Weight]) -> WeightSum:
    """The sum of weights whose mass errors have one cause: all too heavy, or all too light.

    For plates rolled to the same tolerance. Errors of their places stay independent.

    >>> round(sum_of_alike([Weight("a", 10.0, (1.0, 0.0, 0.0), 1.0)] * 2).covariance[0, 0])
    4
    """
    listed = list(weights)
    if not listed:
        return NOTHING
    arms = np.array([[1.0, *w.centre] for w in listed])
    masses = np.array([w.mass for w in listed])
    together = np.array([w.sd_mass for w in listed]) @ arms
    covariance = np.outer(together, together)
    places = np.array([w.sd_centre for w in listed]) * masses[:, None]
    covariance[1:, 1:] += np.diag((places**2).sum(axis=0))
    return WeightSum.of(masses @ arms, covariance)


def error_of_scale(weighed: WeightSum, fraction: float) -> WeightSum:
    """The common error of weights read on one scale, its calibration: no mass, a covariance.

    It is a fraction of each of their numbers, so what comes off cancels what goes on.

    Args:
        weighed: all of them together.
        fraction: one standard deviation, as a fraction of each mass.
    """
    shift = fraction * weighed.numbers
    return WeightSum.of(np.zeros(4), np.outer(shift, shift))


def error_of_datum(placed: WeightSum, sd: float) -> WeightSum:
    """The common error of places taped from one mark: no mass, a covariance.

    All shift alike along and up, so it counts by the mass gained, not for what only moves.

    Args:
        placed: all of them together.
        sd: one standard deviation each way [m].
    """
    variance = (placed.mass * sd) ** 2
    return WeightSum.of(np.zeros(4), np.diag([0.0, variance, 0.0, variance]))


def sum_of_move(weight: Weight, to: tuple[float, float, float]) -> WeightSum:
    """The sum of a weight that goes from its place to another: no mass, a moment.

    An error of its mass counts once, over the way it moves; errors of both places count.
    """
    way = np.array([0.0, *(np.array(to) - np.array(weight.centre))])
    covariance = weight.sd_mass**2 * np.outer(way, way)
    covariance[1:, 1:] += 2.0 * np.diag((weight.mass * np.array(weight.sd_centre)) ** 2)
    return WeightSum.of(weight.mass * way, covariance)


def total(accounts: Iterable[WeightSum]) -> WeightSum:
    """The sum of accounts whose errors are independent."""
    listed = [account.packed for account in accounts]
    return WeightSum(np.sum(listed, axis=0)) if listed else NOTHING
