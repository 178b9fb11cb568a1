"""Distances taped from one measured point of the lines to another, beside their readings."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.hull.line_process import HALF_BREADTH, HEIGHT
from hullchange.hull.lines import HullLine

CLOSEST = 1e-3  # [m] between two points that have a direction from one to the other


@dataclass(frozen=True)
class MeasuredPoint:
    """A point of the lines, or its twin on the other side.

    Attributes:
        line: number of the line, the centreline 0.
        index: of the point, from the bow.
        is_port: whether the twin is meant.
    """

    line: int
    index: int
    is_port: bool = False


@dataclass(frozen=True)
class Taped:
    """A distance taped between two points.

    Attributes:
        first: where the tape begins.
        second: where it ends.
        distance: [m] as taped.
        sd: [m] standard deviation of that.
        name: key in the document.
    """

    first: MeasuredPoint
    second: MeasuredPoint
    distance: float
    sd: float
    name: str = ""


@dataclass(frozen=True)
class TapeRows:
    """What taped distances say of errors of readings.

    Attributes:
        by_reading: (m, n) by how much the taped distance less the read one grows with an error
            of each reading [m/m].
        by_place: (m, points) the same with an error of each point's x [m/m].
        misfit: (m,) taped distance less that by the readings [m].
        tape_variance: (m,) of the tape alone [m^2].
    """

    by_reading: FloatArray
    by_place: FloatArray
    misfit: FloatArray
    tape_variance: FloatArray

    def covariance(self, errors: FloatArray) -> FloatArray:
        """(m, m) of the misfits [m^2].

        Args:
            errors: (n,) variance of each reading's error [m^2]; of an x the largest of them.
        """
        return np.asarray(self.shared_with(self, errors) + np.diag(self.tape_variance))

    def shared_with(self, other: "TapeRows", errors: FloatArray) -> FloatArray:
        """(m, k) covariance [m^2] of the misfits with those of other tapes, by the readings.

        Args:
            other: k of them.
            errors: (n,) [m^2] as in ``covariance``.
        """
        along = float(errors.max(initial=0.0)) * self.by_place @ other.by_place.T
        return np.asarray((self.by_reading * errors) @ other.by_reading.T + along)

    def only(self, rows: Sequence[int]) -> "TapeRows":
        """Some of them."""
        at = list(rows)
        return TapeRows(
            self.by_reading[at], self.by_place[at], self.misfit[at], self.tape_variance[at]
        )

    def and_row(self, other: "TapeRows", row: int) -> "TapeRows":
        """These and one more."""
        more = other.only([row])
        return TapeRows(
            np.vstack([self.by_reading, more.by_reading]),
            np.vstack([self.by_place, more.by_place]),
            np.r_[self.misfit, more.misfit],
            np.r_[self.tape_variance, more.tape_variance],
        )


def place_of(lines: Sequence[HullLine], point: MeasuredPoint) -> FloatArray:
    """x, y, z (3,) [m] of a point as read."""
    side = -1.0 if point.is_port else 1.0
    return np.asarray(lines[point.line].points[point.index] * [1.0, side, 1.0])


def straight(lines: Sequence[HullLine], tape: Taped) -> tuple[float, FloatArray]:
    """Distance [m] by the readings, and the direction (3,) from the second point to the first.

    Across the boat from a point to its own twin the direction is athwartships, however near.
    """
    way = place_of(lines, tape.first) - place_of(lines, tape.second)
    length = float(np.linalg.norm(way))
    if (tape.first.line, tape.first.index) == (tape.second.line, tape.second.index):
        return length, np.array([0.0, -1.0 if tape.first.is_port else 1.0, 0.0])
    return length, way / max(length, CLOSEST)


def rows_of(
    lines: Sequence[HullLine],
    tapes: Sequence[Taped],
    where: Mapping[tuple[int, int, int], int],
) -> TapeRows:
    """What distances say of errors of the readings.

    Args:
        lines: from the centreline to the sheer.
        tapes: m of them.
        where: number of each reading by its line, index and column.
    """
    starts = np.r_[0, np.cumsum([len(line.points) for line in lines])]
    by_reading = np.zeros((len(tapes), len(where)))
    by_place = np.zeros((len(tapes), int(starts[-1])))
    misfit = np.zeros(len(tapes))
    for row, tape in enumerate(tapes):
        length, way = straight(lines, tape)
        misfit[row] = tape.distance - length
        for point, pull in ((tape.first, -way), (tape.second, way)):
            by_place[row, starts[point.line] + point.index] += pull[0]
            side = -1.0 if point.is_port else 1.0
            for column, value in ((HALF_BREADTH, side * pull[1]), (HEIGHT, pull[2])):
                reading = where.get((point.line, point.index, column))
                if reading is not None:
                    by_reading[row, reading] += value
    return TapeRows(by_reading, by_place, misfit, np.array([tape.sd**2 for tape in tapes]))
