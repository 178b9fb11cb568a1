"""How far each reading of the lines stands off what all the others make of its place.

One Gaussian process per coordinate runs over all lines together: smooth along each line, over a
length in which breadth and height count for more than x, so that a stem or a canoe stern is not
steep; alike in neighbouring lines; free to be of another shape near its ends and where it is
steep; a knuckle is a free corner.  How smooth the lines are, and how exactly they were read, is
found from the readings themselves.
"""

from collections.abc import Sequence

import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.linalg.lapack import dpotrf, dpotri
from scipy.optimize import minimize

from hullchange.geometry.frame import FloatArray, Indices
from hullchange.hull.lines import READING_SD, HullLine

HALF_BREADTH, HEIGHT = 1, 2  # columns of points
FREE = 10.0  # [m] sd of what is left free: level, slope, curvature, corners
FEWEST = 5  # points from which a line is compared with the others
STRETCH = 2.5  # so much more than x do y and z count along a line, so that ends are long
REACH = 0.10  # share of the length over which an end may be of another shape
SMALLEST_RANGE = 0.05  # [m] of a line's readings
NEIGHBOURS = 0.7  # what a line has in common with its neighbour, of what it has with itself
STEEPEST = 5.0  # rise over run up to which an error in x makes one in y or z
SQRT7 = np.sqrt(7.0)
PRIOR_MEAN = np.array([np.log(0.15), np.log(0.35), np.log(1.2), np.log(0.05), 0.0])
PRIOR_SD = np.array([1.0, 0.35, 0.45, 1.2, 1.5])
"""Of the logarithms of: amplitude [share of the line's range], correlation length [share of the
length], reading error [share of what is said of it], amplitude of the ends [share of range];
then of the share that neighbours have in common, as log odds.  Set on power curves (own
trial)."""
ROUGHER_SD = 0.8  # of the logarithm by which a line is rougher than the others
BOUND = 4.0  # standard deviations of the prior within which the fit stays
NO_SHAPE = 1e9  # cost of parameters that make no covariance
FIRST_ROUNDS = 40
FURTHER_ROUNDS = 20


class Field:
    """All readings of one coordinate, and what their covariance is made of.

    Attributes:
        column: ``HALF_BREADTH`` or ``HEIGHT``.
        at: (line, index) of each reading.
        values: (n,) the readings [m].
    """

    def __init__(
        self, lines: Sequence[HullLine], column: int, reading_sd: float = READING_SD
    ) -> None:
        """Read a coordinate.

        Args:
            lines: from the centreline to the sheer.
            column: ``HALF_BREADTH`` (the centreline has none) or ``HEIGHT``; some line has as
                many points as are needed.
            reading_sd: [m] error of a reading, as far as it is known beforehand.
        """
        mine = [
            (k, line)
            for k, line in enumerate(lines)
            if len(line.points) >= FEWEST and (k > 0 or column == HEIGHT)
        ]
        self.column = column
        span = float(max(line.aft_x for line in lines) - min(line.fore_x for line in lines))
        self.at = [(k, i) for k, line in mine for i in range(len(line.points))]
        self.values = np.concatenate([line.points[:, column] for _, line in mine])
        who = np.concatenate([np.full(len(line.points), k) for k, line in mine])
        rows = [_places(line, column, span) for _, line in mine]
        own, share, slope, weight, size = np.concatenate(rows, axis=1)
        self._mine = (who[:, None] == np.unique(who)).astype(float)
        self.mean = np.r_[PRIOR_MEAN, np.zeros(self._mine.shape[1])]
        self.mean[2] += np.log(reading_sd)
        self._sd = np.r_[PRIOR_SD, np.full(self._mine.shape[1], ROUGHER_SD)]
        apart = np.abs(who[:, None] - who)
        scale = np.outer(size, size)
        self._along = np.abs(own[:, None] - own)
        self._across = np.abs(share[:, None] - share)
        self._own = scale * (apart == 0)
        self._near = scale * NEIGHBOURS**apart
        ends, _ = _matern(self._along / REACH)
        self._ends = self._own * np.outer(weight, weight) * ends
        self._noise = 1.0 + np.minimum(slope, STEEPEST) ** 2
        self._free = FREE**2 * _free_shapes(mine, span)

    def fitted(self, keep: Indices, start: FloatArray, rounds: int) -> tuple[FloatArray, float]:
        """How smooth the lines are (p,) [-] by the readings kept, and what that costs [-].

        Args:
            keep: indices of readings.
            start: (p,) parameters [-] to begin with, or ``mean``.
            rounds: most of them.
        """
        low, high = self.mean - BOUND * self._sd, self.mean + BOUND * self._sd
        kept = self._only(keep)
        found = minimize(
            kept._cost,
            start,
            jac=True,
            method="L-BFGS-B",
            bounds=list(zip(low, high, strict=True)),
            options={"maxiter": rounds, "ftol": 1e-5},
        )
        return found.x, float(found.fun)

    def covariance(self, theta: FloatArray) -> FloatArray:
        """Of the readings (n, n) [m^2], with parameters (p,) [-]."""
        whole, _, _ = self._parts(theta)
        return np.asarray(whole)

    def deleted(self, theta: FloatArray) -> FloatArray:
        """How many standard deviations (n,) each reading is off what the others predict.

        Args:
            theta: (p,) parameters [-].
        """
        inverse = np.linalg.inv(self.covariance(theta))
        return np.asarray(np.abs(inverse @ self.values) / np.sqrt(np.diag(inverse)))

    def reading_sd(self, theta: FloatArray) -> float:
        """[m] error of a reading, as found by parameters (p,)."""
        return float(np.exp(theta[2]))

    def _only(self, keep: Indices) -> "Field":
        """The same with some of the readings."""
        if len(keep) == len(self.values):
            return self
        other = object.__new__(Field)
        other.column, other.at = self.column, [self.at[i] for i in keep]
        grid = np.ix_(keep, keep)
        for name in ("_along", "_across", "_own", "_near", "_ends", "_free"):
            setattr(other, name, getattr(self, name)[grid])
        for name in ("values", "_mine", "_noise"):
            setattr(other, name, getattr(self, name)[keep])
        other.mean, other._sd = self.mean, self._sd
        return other

    def _parts(
        self, theta: FloatArray
    ) -> tuple[FloatArray, tuple[FloatArray, ...], FloatArray]:
        """Covariance, its slopes by the first five of theta, and what grows with roughness."""
        amplitude, length, noise, end = np.exp(theta[:4])
        common = 1.0 / (1.0 + np.exp(-theta[4]))
        rough = np.exp(self._mine @ theta[5:])
        rough = rough[:, None] * rough
        along, along_slope = _matern(self._along / length)
        across, across_slope = _matern(self._across / length)
        own, near = amplitude**2 * self._own * rough, amplitude**2 * self._near * rough
        alone, shared = own * along, near * across
        smooth = (1.0 - common) * alone + common * shared
        ends = end**2 * self._ends * rough
        error = np.diag(noise**2 * self._noise)
        by_length = (1.0 - common) * own * along_slope + common * near * across_slope
        by_common = common * (1.0 - common) * (shared - alone)
        slopes = (2.0 * smooth, by_length, 2.0 * error, 2.0 * ends, by_common)
        return smooth + ends + error + self._free, slopes, smooth + ends

    def _cost(self, theta: FloatArray) -> tuple[float, FloatArray]:
        whole, slopes, shape = self._parts(theta)
        lower, failed = dpotrf(whole, lower=1)
        if failed:
            return NO_SHAPE, np.zeros_like(theta)
        inverse, _ = dpotri(lower, lower=1)
        inverse = np.tril(inverse) + np.tril(inverse, -1).T
        weighed = inverse @ self.values
        pull = (theta - self.mean) / self._sd
        cost = 0.5 * self.values @ weighed + np.log(np.diag(lower)).sum() + 0.5 * pull @ pull
        left = inverse - np.outer(weighed, weighed)
        down = [0.5 * np.vdot(left, slope) for slope in slopes]
        rougher = (left * shape).sum(axis=1) @ self._mine
        return float(cost), np.r_[down, rougher] + pull / self._sd


def _matern(distance: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Matern's covariance of 7/2, and its slope by the logarithm of the length."""
    r = SQRT7 * distance
    fall = np.exp(-r)
    square = r * r
    rising = 0.2 + 0.2 * r + square / 15.0
    covariance = (1.0 + r + square * (0.4 + r / 15.0)) * fall
    return np.asarray(covariance), np.asarray(square * rising * fall)


def run_along(points: FloatArray) -> FloatArray:
    """Length (n,) [m] along a line from its first point, y and z stretched."""
    step = np.linalg.norm(np.diff(points * [1.0, STRETCH, STRETCH], axis=0), axis=1)
    return np.asarray(np.r_[0.0, np.cumsum(step)])


def _corners(line: HullLine) -> list[int]:
    return sorted({int(np.argmin(np.abs(line.points[:, 0] - k))) for k in line.knuckles})


def _own_places(line: HullLine) -> FloatArray:
    """Length along the line (n,) [m] of each point, its own y and z not used."""
    points = line.points
    count, x = len(points), points[:, 0]
    run = run_along(points)
    own = run.copy()
    fixed = {i for corner in _corners(line) for i in (corner - 1, corner, corner + 1)}
    for i in set(range(1, count - 1)) - fixed:
        rest = np.delete(np.arange(count), i)
        along = run_along(points[rest])
        own[i] = run[i - 1] + float(PchipInterpolator(x[rest], along)(x[i])) - along[i - 1]
    return own


def slopes_past(line: HullLine) -> FloatArray:
    """Rise over run (n, 2) [m/m] of y and z at each point, its own reading not used."""
    points, x = line.points, line.points[:, 0]
    count = len(points)
    after, before = np.arange(count) + 1, np.arange(count) - 1
    after[-1], before[-1] = count - 2, count - 3
    after[0], before[0] = 2, 1
    return np.asarray(
        (points[after, 1:] - points[before, 1:]) / (x[after] - x[before])[:, None]
    )


def _places(line: HullLine, column: int, span: float) -> FloatArray:
    """(5, n) place, share of the length, slope, freedom of an end, and range of readings."""
    own, slope, x = _own_places(line), np.abs(slopes_past(line)), line.points[:, 0]
    place = (own - own[-1] / 2.0) / span
    end = np.minimum(own - own[0], own[-1] - own) / span
    weight = np.exp(-((end / REACH) ** 2)) + np.clip(slope.max(axis=1), 0.0, 1.0) ** 2
    inside = np.sort(line.points[:, column])
    size = max(float(inside[-2] - inside[1]), SMALLEST_RANGE)
    share = (x - x[0]) / (x[-1] - x[0])
    return np.stack([place, share, slope[:, column - 1], weight, np.full(len(x), size)])


def _free_shapes(lines: Sequence[tuple[int, HullLine]], span: float) -> FloatArray:
    """(n, n) covariance of levels, slopes, curvatures and corners, each line's its own."""
    count = sum(len(line.points) for _, line in lines)
    whole, row = np.zeros((count, count)), 0
    for _, line in lines:
        own = _own_places(line)
        place = (own - own[-1] / 2.0) / span
        shapes = [np.ones_like(place), place, place**2]
        for corner in _corners(line):
            past = np.maximum(own - own[corner], 0.0) / span
            shapes += [past, past**2]
        basis = np.column_stack(shapes)
        block = slice(row, row + len(own))
        whole[block, block] = basis @ basis.T
        row += len(own)
    return whole
