"""Which readings of the lines do not fit the others: a list of what to measure again.

Each reading is predicted from all the others (``line_process``) and from taped distances, and
what it stands off is divided by the scatter of that difference (a studentised deleted
residual).  The worst suspects are left out one by one, the smoothness is found again without
them, and only then they are judged.  Source: own trials; the deleted residual in closed form
from C. E. Rasmussen and C. K. I. Williams, Gaussian Processes for Machine Learning, 2006, 5.4.2
(memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from operator import itemgetter

import numpy as np

from hullchange.geometry.frame import BoolArray, FloatArray, Indices
from hullchange.hull.line_coarse import unknown_shape
from hullchange.hull.line_process import (
    FEWEST,
    FIRST_ROUNDS,
    FURTHER_ROUNDS,
    HALF_BREADTH,
    HEIGHT,
    Field,
)
from hullchange.hull.lines import READING_SD, HullLine
from hullchange.hull.taped import Taped, TapeRows, rows_of

THRESHOLD = 4.5
"""Standard deviations from which a reading is named."""
AT_ENDS = 5.5  # at the first two and last two points, where the curve is carried on or turns
AT_TURNS = 8.4  # where the line turns so much, or ends so steeply, that others tell little
BY_TAPES = 4.0  # where mostly taped distances tell: no curve can be wrong about them
MOSTLY = 0.6  # of its scatter without them
LEAST = 0.012  # [m] below which nothing is said
STEPS = (1, 2)  # spacings of readings over which a sheer may step, as a raised foredeck's does
LEAST_STEP, MOST_STEP = 0.08, 0.50  # [m] of a raised foredeck
AS_WELL = 0.96  # of a reading's standard deviations, at which a step explains it as well
LEAST_ERROR = 0.8  # of the usual error of a reading, however well these ones fit
JUDGED = 0.10  # [m] a slip that would show, for a reading to count as judged
STEEP = 0.4  # rise over run from which an end has nothing beyond it to be judged by
TURN = 0.4  # change of rise over run past a reading from which the others do not tell of it
SUSPECTS = 3
SUSPECTED = 2.5  # standard deviations from which a reading is tried without
TAPES_DIFFER = 4.0  # standard deviations from which a taped distance does not fit
SHARE = 0.3  # of a tape's length that a reading moves with it, to be suspected with it
BLAMED_LAST = (3.0, 10.0)  # what a suspect at an end, or at a turn, must gain more [-]
MOST = 200  # readings of a coordinate; above, they lie too close for this to be of use
MOST_NAMED = 5
NEVER = 1.0  # [m^2] added to the variance of what is not judged


@dataclass(frozen=True)
class Reading:
    """A coordinate of a point.

    Attributes:
        line: number of the line, the centreline 0.
        index: of the point, from the bow.
        column: ``HALF_BREADTH`` or ``HEIGHT``.
    """

    line: int
    index: int
    column: int


@dataclass(frozen=True)
class Off:
    """What a reading stands off the others, and whether that says anything.

    Attributes:
        reading: which.
        off: [m] reading less what the others make of it.
        sd: [m] scatter of that.
        is_judged: whether a slip of 100 mm would show.
        is_named: whether it does not fit.
        is_end: the first or last of its line, or next to it.
        is_turn: the line turns sharply there, or ends steeply.
        is_read_again: its reading was repeated.
    """

    reading: Reading
    off: float
    sd: float
    is_judged: bool
    is_named: bool
    is_end: bool
    is_turn: bool
    is_read_again: bool = False


class LineCheck:
    """The readings of some lines, compared.

    Attributes:
        lines: from the centreline to the sheer.
        readings: n that are compared.
        values: (n,) of them [m].
        covariance: (n, n) of them, as found [m^2].
        surprise: (n,) variance of shapes that the others do not tell of [m^2].
        tapes: what was taped.
        rows: what that says of the readings.
        errors: (n,) variance of each reading's own error, as found [m^2].
        tape_z: (m,) misfits of the tapes over their scatter [-].
    """

    def __init__(
        self,
        lines: Sequence[HullLine],
        tapes: Sequence[Taped] = (),
        read_again: frozenset[tuple[int, int]] = frozenset(),
        reading_sd: float = READING_SD,
    ) -> None:
        """Compare.

        Args:
            lines: from the centreline to the sheer.
            tapes: distances taped between their points.
            read_again: (line, index) of points that were read twice: they are the boat's shape.
            reading_sd: [m] error of a reading, as far as it is known beforehand.
        """
        self.lines = lines
        columns = [c for c in (HALF_BREADTH, HEIGHT) if _enough(lines, c)]
        self._fields = [Field(lines, column, reading_sd) for column in columns]
        self._usual = reading_sd**2
        self.readings = tuple(
            Reading(*at, field.column) for field in self._fields for at in field.at
        )
        where = {(r.line, r.index, r.column): n for n, r in enumerate(self.readings)}
        self.tapes = tuple(tapes)
        self.rows = rows_of(lines, tapes, where)
        self._again = np.array([(r.line, r.index) in read_again for r in self.readings], bool)
        ends = [_from_end(lines, r) for r in self.readings]
        self._is_last = np.array([end == 0 for end in ends], bool)
        self._is_end = np.array([end < 2 for end in ends], bool)
        turns = {(k, c): _turns(line.points, c) for k, line in enumerate(lines)
                 for c in (HALF_BREADTH, HEIGHT) if len(line.points) >= FEWEST}  # fmt: skip
        sheers = [r.column == HEIGHT and lines[r.line].kind == "sheer" for r in self.readings]
        self._sheer = np.flatnonzero(np.array(sheers, bool))
        self._is_turn = np.array(
            [turns[r.line, r.column][r.index] for r in self.readings], bool
        )
        self.values = np.concatenate([np.zeros(0), *(field.values for field in self._fields)])
        self._fit()
        self._coarse = self._unknown_shapes()
        self.surprise = self._surprise()

    def offs(self) -> tuple[Off, ...]:
        """What every reading stands off, those that do not fit found one after the other."""
        if not self.readings:
            return ()
        aside = self._again.copy()
        _, _, without = self._scores(aside, self.rows.only([]))
        for _ in range(MOST_NAMED):
            over, off, sd, limit = self._over(aside, without)
            worst = int(np.argmax(over))
            if over[worst] <= 1.0:
                break
            aside[worst] = True
        over, off, sd, limit = self._over(aside, without)
        named = aside & ~self._again
        for n in np.flatnonzero(named):  # each once more, beside all others that do not fit
            beside = aside.copy()
            beside[n] = False
            again, its_off, its_sd, its_limit = self._over(beside, without)
            off[n], sd[n], limit[n] = its_off[n], its_sd[n], its_limit[n]
            named[n] = again[n] > 1.0
        is_judged = named | ((limit * sd <= JUDGED) & ~self._again)
        return tuple(
            Off(
                reading,
                float(off[n]),
                float(sd[n]),
                bool(is_judged[n]),
                bool(named[n]),
                bool(self._is_end[n]),
                bool(self._is_turn[n]),
                bool(self._again[n]),
            )
            for n, reading in enumerate(self.readings)
        )

    def _over(
        self, aside: BoolArray, without: FloatArray
    ) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """How far each reading is past its limit [-], its slip, scatter [m] and limit [-].

        Args:
            aside: (n,) readings that tell nothing.
            without: (n,) scatter without what was taped [m].
        """
        z, off, sd = self._scores(aside, self.rows)
        limit = np.where(sd < MOSTLY * without, BY_TAPES, THRESHOLD)
        silent = aside | (np.abs(off) < LEAST)
        over = np.where(silent, 0.0, np.abs(z) / limit)
        if np.any(over[self._sheer] > 1.0):
            over[self._steps(aside) > AS_WELL * np.abs(z)] = 0.0
        return over, off, sd, limit

    def _steps(self, aside: BoolArray) -> FloatArray:
        """(n,) how surely [standard deviations] the sheer steps beside each of its heights.

        Args:
            aside: (n,) readings that tell nothing.
        """
        whole = self.information(np.where(aside, NEVER, 0.0), self.rows)
        pulled = whole @ np.r_[self.values, self.rows.misfit]
        mine, count = self._sheer, len(self.readings)
        found = np.zeros(count)
        for wide in STEPS:
            for first in range(1, len(mine) - 1 - wide):
                rise = np.clip((np.arange(len(mine)) - first) / wide, 0.0, 1.0)
                step = np.zeros(count + len(self.rows.misfit))
                step[mine], step[count:] = rise, self.rows.by_reading[:, mine] @ rise
                by_step, worth = abs(float(step @ pulled)), float(step @ whole @ step)
                if LEAST_STEP < by_step / worth < MOST_STEP:
                    near = mine[first - 1 : first + wide + 2]
                    found[near] = np.maximum(found[near], by_step / np.sqrt(worth))
        return found

    def _surprise(self) -> FloatArray:
        """(n,) variance [m^2] of shapes that the others do not tell of, for each reading."""
        alone = 1.0 / np.diag(np.linalg.inv(self.covariance))
        ends = np.where(self._is_end, (AT_ENDS / THRESHOLD) ** 2 - 1.0, 0.0) * alone
        turns = ((AT_TURNS / THRESHOLD) ** 2 - 1.0) * alone
        found = np.where(self._is_turn, turns, ends) + self._coarse**2
        return np.where(self._again | (self._is_turn & self._is_last), NEVER, found)

    def _unknown_shapes(self) -> FloatArray:
        """(n,) sd [m] of the shape between readings too far apart to tell it."""
        span = max(line.aft_x for line in self.lines) - min(line.fore_x for line in self.lines)
        known = {
            k: unknown_shape(line, span)
            for k, line in enumerate(self.lines)
            if len(line.points) >= FEWEST
        }
        return np.array([known[r.line][r.index, r.column - 1] for r in self.readings])

    def _fit(self) -> None:
        """Find how smooth the lines are and how exactly they were read."""
        count = len(self.readings)
        self.covariance = np.zeros((count, count))
        usual = np.full(count, self._usual)
        scatter = np.sqrt(np.diag(self.rows.covariance(usual)))
        apart = np.abs(self.rows.misfit) > TAPES_DIFFER * scatter
        touched = (np.abs(self.rows.by_reading[apart]) > SHARE).any(axis=0)
        left_out = touched | self._again
        self.errors, start = usual.copy(), 0
        for field in self._fields:
            block = slice(start, start + len(field.values))
            theta = self._shape_of(field, block, np.flatnonzero(~left_out[block]))
            theta[2] = max(theta[2], np.log(LEAST_ERROR * np.sqrt(self._usual)))
            self.covariance[block, block] = field.covariance(theta)
            self.errors[block] = field.reading_sd(theta) ** 2
            start = block.stop
        spread = np.sqrt(np.diag(self.rows.covariance(np.maximum(self.errors, usual))))
        self.tape_z = self.rows.misfit / spread

    def _shape_of(self, field: Field, block: slice, keep: Indices) -> FloatArray:
        """The parameters of a coordinate, without its slips and its worst suspect."""
        theta, _ = field.fitted(keep, field.mean, FIRST_ROUNDS)
        turn = self._is_turn[block]
        weight = np.where(turn, THRESHOLD / AT_TURNS, 1.0)
        weight[turn & self._is_last[block]] = 0.0
        doubt = np.where(self._is_end[block], BLAMED_LAST[0], 0.0)
        doubt[turn] = BLAMED_LAST[1]
        for _ in range(MOST_NAMED):
            suspects: list[int] = []
            for each in (theta, field.mean):
                z = field.deleted(each) * weight
                z[np.setdiff1d(np.arange(len(z)), keep)] = 0.0
                suspects += [int(n) for n in np.argsort(-z)[:SUSPECTS] if z[n] > SUSPECTED]
            tried = []
            for n in dict.fromkeys(suspects):
                again, cost = field.fitted(keep[keep != n], theta, FURTHER_ROUNDS)
                tried.append((cost + float(doubt[n]), n, again))
            if not tried:
                break
            _, worst, theta = min(tried, key=itemgetter(0))
            if field.deleted(theta)[worst] * weight[worst] < THRESHOLD:
                break
            keep = keep[keep != worst]
        return theta

    def _scores(
        self, aside: BoolArray, rows: TapeRows
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """z [-], slip [m] and its scatter [m] of each reading, by all that is not aside."""
        whole = self.information(np.where(aside, NEVER, 0.0), rows)
        count = len(self.readings)
        slips = np.vstack([np.eye(count), rows.by_reading])
        known = np.r_[self.values, rows.misfit]
        pulled = whole @ slips
        precision, score = (slips * pulled).sum(axis=0), pulled.T @ known
        # each reading's own surprise is added for itself alone (Sherman and Morrison)
        own = np.where(aside, 0.0, self.surprise)
        share = own / (1.0 + own * np.diag(whole)[:count])
        beside = pulled[np.arange(count), np.arange(count)]
        precision = np.maximum(precision - share * beside**2, 1.0 / NEVER)
        score = score - share * beside * (whole @ known)[:count]
        return score / np.sqrt(precision), score / precision, 1.0 / np.sqrt(precision)

    def information(self, added: FloatArray, rows: TapeRows) -> FloatArray:
        """Inverse covariance (n + m, n + m) [1/m^2] of readings and taped misfits.

        Args:
            added: (n,) variance of each reading's own shape [m^2].
            rows: taped.
        """
        count = len(self.readings)
        whole = np.zeros((count + len(rows.misfit),) * 2)
        whole[:count, :count] = self.covariance + np.diag(added)
        whole[count:, :count] = rows.by_reading * self.errors
        whole[:count, count:] = whole[count:, :count].T
        whole[count:, count:] = rows.covariance(self.errors)
        return np.asarray(np.linalg.inv(whole))


def _enough(lines: Sequence[HullLine], column: int) -> bool:
    """Whether a coordinate has readings to compare, and not too many."""
    counts = [len(line.points) for line in lines[1 if column == HALF_BREADTH else 0 :]]
    return 0 < sum(n for n in counts if n >= FEWEST) <= MOST


def _from_end(lines: Sequence[HullLine], reading: Reading) -> int:
    return min(reading.index, len(lines[reading.line].points) - 1 - reading.index)


def _turns(points: FloatArray, column: int) -> BoolArray:
    """(n,) whether a line turns so much past a reading, or ends so steeply, that none tells.

    Slopes are taken past the point itself, so that a slip does not hide itself.
    """
    x, v = points[:, 0], points[:, column]

    def slope(first: int, second: int) -> float:
        return float((v[second] - v[first]) / (x[second] - x[first]))

    def turn(*knots: int) -> float:
        slopes = [slope(a, b) for a, b in pairwise(knots)]
        return max((abs(b - a) for a, b in pairwise(slopes)), default=0.0)

    last = len(x) - 1
    found = np.zeros(len(x))
    found[0] = max(turn(1, 2, 3), abs(slope(0, 1)) - STEEP + TURN)
    back = turn(last - 3, last - 2, last - 1)
    found[last] = max(back, abs(slope(last - 1, last)) - STEEP + TURN)
    for n in range(1, last):
        after = turn(n - 1, n + 1, n + 2) if n + 2 <= last else 0.0
        before = turn(n - 2, n - 1, n + 1) if n >= 2 else 0.0
        found[n] = max(after, before)
    return np.asarray(found > TURN)
