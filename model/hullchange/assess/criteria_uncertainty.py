"""What is not known of a criterion's value: every fact it reads carried along with its errors.

By slopes she is weighed and measured a standard deviation otherwise in each way that counts,
and each rule is asked again; where slopes do not speak for her, draws are asked instead.
Levers, heights and angles go by what they owe to her weights and lines.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import isfinite, nan, radians

import numpy as np

from hullchange.afloat.heeled_uncertainty import HeeledSpread, opening_slopes
from hullchange.afloat.sampling import symmetric_root
from hullchange.afloat.slopes import ROWS
from hullchange.afloat.stability import Stability, deck_edge, lowest_points, side_order
from hullchange.afloat.uncertainty import GM
from hullchange.answer.wire import Side
from hullchange.boat.boat import Boat
from hullchange.criteria.criterion import CriterionOutcome, Rule
from hullchange.criteria.doubt import vcg_rise_to_limit
from hullchange.criteria.facts import Absent, LeverFacts, Sides
from hullchange.criteria.levers import AtHeel, SideLevers
from hullchange.criteria.openings import DownfloodingOpening
from hullchange.geometry.frame import FloatArray
from hullchange.survey.lines_error import NUMBERS

STEP = 1.0
"""Standard deviations to both sides over which a slope is read."""
COUNTS = 1e-2
"""Of the largest way in which she may err: smaller ones are left out."""
LEAPS = 0.3
"""Of its standard deviation, how far a value is off its slope two deviations away from which
draws speak for it: the heel of a flat top leaps from one hump of the curve to another."""
EVERY = 4
"""Of the draws, those that criteria are asked with."""
NEAR = 1e-5
"""[rad] over which the slope of a lever's own slope is read."""
LIGHTEST = 0.1
"""Share of her displacement: the least that any draw leaves of her."""
MASS = ROWS.index("displacement")


@dataclass(frozen=True, eq=False)
class FactSlopes:
    """Derivatives of the facts of one side by k unknowns.

    Attributes:
        levers: (n, k) [m].
        rates: (n, k) [m/rad] of their slopes.
        deck_edge: (n, k) [m].
        heights: (n, k) [m] of each opening.
        immersions: (k,) [rad] of each opening.
        numbers: (3, k) of displacement [kg], GM [m] and sinkage upright [m].
    """

    levers: FloatArray
    rates: FloatArray
    deck_edge: FloatArray
    heights: tuple[FloatArray, ...]
    immersions: tuple[FloatArray, ...]
    numbers: FloatArray

    def along(self, ways: FloatArray) -> "FactSlopes":
        """The same by other unknowns, each a combination (k, m) [-] of these."""
        return FactSlopes(
            self.levers @ ways,
            self.rates @ ways,
            self.deck_edge @ ways,
            tuple(one @ ways for one in self.heights),
            tuple(one @ ways for one in self.immersions),
            self.numbers @ ways,
        )

    def stacked(self, mass: float) -> FloatArray:
        """(p, k) everything that is a length [m] or an angle [rad]; mass as a share of hers."""
        scale = np.array([[1.0 / mass], [1.0], [1.0]])
        rows = [self.levers, self.deck_edge, *self.heights, np.array(self.immersions)]
        return np.vstack([*(row for row in rows if len(row)), scale * self.numbers])

    def changed(self, facts: LeverFacts, by: FloatArray) -> LeverFacts:
        """The facts of a boat that differs by (k,) of the unknowns, each in its unit."""
        levers = facts.levers
        mass, gm, sunk = (self.numbers @ by).tolist()
        displacement = max(facts.displacement + mass, LIGHTEST * facts.displacement)
        about = replace(facts.boat, freeboard=facts.boat.freeboard - sunk)
        if not isinstance(about.sails, Absent):
            about = replace(about, sails=about.sails.sunk(sunk))
        moved = zip(facts.openings, self.heights, self.immersions, strict=True)
        return replace(
            facts,
            boat=about,
            displacement=displacement,
            gm=facts.gm + gm,
            levers=SideLevers(
                levers.heel, levers.gz + self.levers @ by, levers.slope + self.rates @ by
            ),
            openings=tuple(_moved(one, up @ by, float(at @ by)) for one, up, at in moved),
            deck_edge=facts.deck_edge + self.deck_edge @ by,
        )


def _moved(opening: DownfloodingOpening, up: FloatArray, by: float) -> DownfloodingOpening:
    reached = opening.immersion
    if isinstance(reached, AtHeel):
        reached = AtHeel(max(0.0, reached.heel + by))
    return replace(opening, heights=opening.heights + up, immersion=reached)


def with_doubt(
    boat: Boat,
    heeled: Stability,
    spread: HeeledSpread,
    rules: Sequence[Rule],
    outcomes: Sequence[CriterionOutcome],
) -> Iterator[CriterionOutcome]:
    """Outcomes with the plus/minus of their values and the rise that uses their margins up.

    Args:
        boat: everything built.
        heeled: a float heeled round, to whose facts criteria were put.
        spread: what is not known of it.
        rules: one for each outcome.
        outcomes: what was found.
    """
    sides = () if isinstance(heeled.facts, Absent) else heeled.facts
    slopes = tuple(slopes_of_facts(boat, heeled, spread, one.side) for one in sides)
    ask = _sampled if spread.doubtful else _linear
    for rule, found, sd in zip(rules, outcomes, ask(spread, sides, slopes, rules), strict=True):
        rise = vcg_rise_to_limit(partial(_margin, rule), sides) if rule.by_levers else None
        known = float(sd) if isfinite(sd) else None
        yield replace(found, plus_minus=known, vcg_rise=rise)


def _margin(rule: Rule, sides: Sides) -> float:
    found = rule.worse(sides)
    return found.margin if isinstance(found, CriterionOutcome) else nan


def _linear(
    spread: HeeledSpread, sides: Sides, slopes: tuple[FactSlopes, ...], rules: Sequence[Rule]
) -> FloatArray:
    """(r,) one standard deviation of each rule's value, on the side that is worse."""
    ways = _ways(spread, slopes, sides[0].displacement)
    narrow = [one.along(ways) for one in slopes]
    worse = [int(np.argmin([_margin(rule, (one,)) for one in sides])) for rule in rules]
    now = np.array([_value(r, sides[k]) for r, k in zip(rules, worse, strict=True)])
    asked, (variance, bends) = set(worse), np.zeros((2, len(rules)))
    for way in np.eye(ways.shape[1]):
        ends = []
        for step in (-STEP, STEP, 2.0 * STEP):
            moved = {k: narrow[k].changed(sides[k], step * way) for k in asked}
            ends.append([_value(r, moved[k]) for r, k in zip(rules, worse, strict=True)])
        below, above, far = np.array(ends)
        variance += ((above - below) / (2.0 * STEP)) ** 2
        bends = np.maximum(bends, np.abs(far - now - (above - below)))
    sd = np.sqrt(variance)
    leaps = np.flatnonzero(bends > LEAPS * sd)
    if len(leaps):
        sd[leaps] = _sampled(spread, sides, slopes, [rules[int(k)] for k in leaps])
    return np.asarray(sd)


def _sampled(
    spread: HeeledSpread, sides: Sides, slopes: tuple[FactSlopes, ...], rules: Sequence[Rule]
) -> FloatArray:
    """(r,) the same by draws, each on the side that is worse in it."""
    values = []
    for draw in spread.spread.draws.together[::EVERY]:
        drawn = tuple(s.changed(one, draw) for s, one in zip(slopes, sides, strict=True))
        values.append([_worse_value(rule, drawn) for rule in rules])
    return np.asarray(np.std(values, axis=0))


def _worse_value(rule: Rule, sides: Sides) -> float:
    found = rule.worse(sides)
    return found.value if isinstance(found, CriterionOutcome) else nan


def _value(rule: Rule, facts: LeverFacts) -> float:
    found = rule.question(facts)
    return nan if isinstance(found, Absent) else found.value


def _ways(spread: HeeledSpread, slopes: tuple[FactSlopes, ...], mass: float) -> FloatArray:
    """(4 + m, k) ways in which she may err, independent, each of one standard deviation.

    The few unknowns that change any fact noticeably.
    """
    count = slopes[0].levers.shape[1]
    units = np.eye(count)
    units[:NUMBERS, :NUMBERS] = symmetric_root(spread.spread.of_numbers)
    every = np.vstack([one.stacked(mass) for one in slopes]) @ units
    squares, ways = np.linalg.eigh(every.T @ every)
    return np.asarray(units @ ways[:, squares > COUNTS**2 * squares[-1]])


def slopes_of_facts(
    boat: Boat, heeled: Stability, spread: HeeledSpread, side: Side
) -> FactSlopes:
    """What the facts of one side owe to mass, moments and lines.

    Args:
        boat: for her deck edge.
        heeled: her levers.
        spread: what is not known of them.
        side: which one.
    """
    curve, own = heeled.counted, spread.weight_slopes
    order = side_order(curve, side)
    rows = curve.rows[order]
    way = 1.0 if side == "starboard" else -1.0
    arms, rates = _arms(spread, rows[:, 0], way)
    turned = [
        own.heights(lowest_points(curve, edge.points)[order], rows) for edge in heeled.edges
    ]
    found = [opening_slopes(curve, own, side, edge) for edge in heeled.edges]
    upright = rows[:1]
    amidships = np.array([[spread.spread.amidships_x, 0.0, 0.0]])
    numbers = [
        spread.spread.slopes.matrix[MASS],
        spread.spread.slopes.matrix[GM],
        -own.heights(amidships, upright)[0],
    ]
    return FactSlopes(
        way * arms,
        rates,
        own.heights(lowest_points(curve, deck_edge(boat))[order], rows),
        tuple(turned),
        tuple(np.nan_to_num(one) * radians(1.0) for one in found),
        np.array(numbers),
    )


def _arms(spread: HeeledSpread, heels: FloatArray, way: float) -> tuple[FloatArray, FloatArray]:
    """(n, 4 + m) slopes of the arm to port, and of its rate by heel, outwards.

    Each is read within its own stretch: a step lies between two rows of one heel.
    """
    own = spread.weight_slopes
    step = np.append(np.diff(heels) == 0.0, True)
    inner = np.where(np.append(False, step[:-1]), heels + way * NEAR / 10.0, heels)
    ahead = way * np.where(step, -NEAR, NEAR)
    arms, beside = own.at(inner)[:, 0], own.at(inner + ahead)[:, 0]
    return arms, (beside - arms) / ahead[:, None]
