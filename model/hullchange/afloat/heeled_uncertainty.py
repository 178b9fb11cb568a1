"""What is not known of angles and levers: by their slopes, or by draws where these bend."""

from dataclasses import astuple, dataclass
from functools import cached_property
from math import isfinite, nan, pi

import numpy as np

from hullchange.afloat.stability import SIDES, Edge, Stability, vanishing_deg
from hullchange.afloat.uncertainty import FloatUncertainty, percentiles, sampled_upright
from hullchange.answer.assessment import ConditionResult
from hullchange.answer.uncertainty import (
    HeeledChange,
    HeeledPlusMinus,
    Method,
    Percentiles,
    SampledResult,
)
from hullchange.answer.wire import Side
from hullchange.floating.crossings import Reached, heights_of
from hullchange.floating.lever_curve import LeverCurve
from hullchange.floating.sampled_levers import sampled_levers
from hullchange.floating.weight_slopes import WeightSlopes
from hullchange.geometry.frame import FloatArray
from hullchange.survey.lines_error import NUMBERS

VANISHING, FLOODING, RANGE, GREATEST = range(4)
"""Columns: angles in degrees, the greatest lever in metres; nan where there is none."""
DOUBTFUL_DEG = 5.0
"""Standard deviation of the vanishing angle by its slope from which it is drawn instead."""
NEAR = 1e-3
"""[rad] to both sides of an angle, over which the fall of the lever is read there."""


@dataclass(frozen=True, eq=False)
class HeeledSpread:
    """The uncertainty of what is read off the levers of one float.

    Attributes:
        spread: uncertainty of the float.
        curve: its levers.
        worse: side that the maximum GZ is read on.
        values: (4,) as answered, angles [deg] and the maximum GZ [m].
        slopes: (4, 4 + m) derivatives of them by mass [kg], its moments [kg m] and the lines.
        weight_slopes: derivatives of the levers.
        bare_sd: [deg] of the vanishing angle without the house; nan where there is none.
    """

    spread: FloatUncertainty
    curve: LeverCurve
    worse: Side
    values: FloatArray
    slopes: FloatArray
    weight_slopes: WeightSlopes
    bare_sd: float

    @cached_property
    def doubtful(self) -> bool:
        """Whether first-order slopes cannot be trusted."""
        sd = _sd(self.slopes, self.spread.of_numbers)[VANISHING]
        return self.spread.doubtful or bool(sd > DOUBTFUL_DEG)

    @property
    def method(self) -> Method:
        """How the plus/minus is found."""
        return "sampled" if self.doubtful else "linear"

    @cached_property
    def drawn(self) -> FloatArray:
        """(n, 4) values for her own draws, angles [deg] and the maximum GZ [m]."""
        return self.results(self.spread.draws.together)

    @property
    def plus_minus(self) -> HeeledPlusMinus:
        """One standard deviation of each."""
        if self.doubtful:
            answer = _plus_minus(np.std(self.drawn, axis=0), "sampled")
        else:
            answer = _plus_minus(_sd(self.slopes, self.spread.of_numbers), "linear")
        bare = {"vanishing_angle_without_house_deg": _known(self.bare_sd)}
        return answer.model_copy(update=bare)

    @property
    def sampled(self) -> SampledResult | None:
        """Percentiles of the draws; None where slopes can be trusted."""
        if not self.doubtful:
            return None
        return sampled_upright(self.spread).model_copy(
            update={
                "vanishing_angle_deg": _interval(self.drawn[:, VANISHING]),
                "range_deg": _interval(self.drawn[:, RANGE]),
                "greatest_gz_m": _interval(self.drawn[:, GREATEST]),
            }
        )

    def results(self, changes: FloatArray) -> FloatArray:
        """(n, 4) for changes (n, 4 + m) of mass [kg], its moments [kg m] and the lines.

        Openings go by their slopes: what floods at a held heel does not depend on GM.
        """
        levers = sampled_levers(self.curve, self.weight_slopes, changes)
        port, starboard = (np.degrees(levers.vanishing(side)) for side in SIDES)
        vanishing = np.minimum(port, starboard)
        flooding = self.values[FLOODING] + changes @ np.nan_to_num(self.slopes[FLOODING])
        first = np.fmin(vanishing, flooding)
        return np.column_stack([vanishing, flooding, first, levers.greatest(self.worse)])

    def lever_sd(self) -> FloatArray:
        """(m,) one standard deviation of the levers [m] at the heels of the curve."""
        arms = self.weight_slopes.at(self.curve.heels)[:, 0]
        return _sd(arms, self.spread.of_numbers)


def heeled_spread(
    spread: FloatUncertainty, heeled: Stability, answer: ConditionResult
) -> HeeledSpread:
    """What is not known of a float heeled round.

    Args:
        spread: of the float.
        heeled: its levers.
        answer: what was read off them.
    """
    curve = heeled.counted
    own = spread.weight_slopes if curve is spread.levers else spread.slopes_of_levers(curve)
    angles = (answer.vanishing_angle_deg, answer.downflooding_angle_deg, answer.range_deg)
    values = np.array([_number(value) for value in (*angles, answer.greatest_gz_m)])
    port, starboard = answer.vanishing_angle_port_deg, answer.vanishing_angle_starboard_deg
    smaller: Side = "port" if _number(port) < _number(starboard) else "starboard"
    vanishing = _by_weight(curve, own, smaller, values[VANISHING])
    wanted = (answer.critical_opening, answer.critical_side)
    critical = next((e for e in heeled.edges if (e.id, e.side) == wanted), None)
    flooding = opening_slopes(curve, own, _floods_to(answer), critical)
    first = vanishing if values[RANGE] == values[VANISHING] else flooding
    top = _heel(heeled.worse, answer.greatest_gz_at_deg)
    greatest = _outwards(heeled.worse) * own.at(np.array([top]))[0, 0]
    slopes = np.stack([vanishing, flooding, first, greatest])
    bare = _bare_sd(spread, heeled.bare, answer.vanishing_angle_without_house_deg)
    return HeeledSpread(spread, curve, heeled.worse, values, slopes, own, bare)


def _bare_sd(spread: FloatUncertainty, bare: LeverCurve, angle_deg: float | None) -> float:
    """[deg] one standard deviation of the vanishing angle without the house.

    By its slopes, or by draws where slopes cannot be trusted.
    """
    own = spread.weight_slopes if bare is spread.levers else spread.slopes_of_levers(bare)
    smaller = min(SIDES, key=lambda side: vanishing_deg(bare, side))
    slopes = _by_weight(bare, own, smaller, _number(angle_deg))
    sd = float(_sd(slopes[None], spread.of_numbers)[0])
    if not (spread.doubtful or sd > DOUBTFUL_DEG):
        return sd
    levers = sampled_levers(bare, own, spread.draws.together)
    port, starboard = (np.degrees(levers.vanishing(side)) for side in SIDES)
    return float(np.std(np.minimum(port, starboard)))


def heeled_change(before: HeeledSpread, after: HeeledSpread) -> HeeledChange:
    """The refit less the boat as found, the errors that both share alike."""
    sampled = before.doubtful or after.doubtful
    weights = after.spread.there.weights
    if sampled:
        own, shared = before.spread.draws.shared, after.spread.draws.shared
        old = before.drawn if np.array_equal(own, shared) else before.results(shared)
        sd = np.std(after.drawn - old, axis=0)
    else:
        alike = _sd(after.slopes - before.slopes, weights.shared.covariance)
        sd = np.hypot(alike, _sd(after.slopes[:, :NUMBERS], weights.changed.covariance))
    vanishing, flooding, first, greatest = map(_known, after.values - before.values)
    return HeeledChange(
        vanishing_angle_deg=vanishing,
        downflooding_angle_deg=flooding,
        range_deg=first,
        greatest_gz_m=greatest,
        plus_minus=_plus_minus(sd, "sampled" if sampled else "linear"),
    )


def _by_weight(
    curve: LeverCurve, slopes: WeightSlopes, side: Side, angle_deg: float
) -> FloatArray:
    """(4 + m,) derivatives [deg] of a vanishing angle; nan where it does not vanish."""
    if not 0.0 < angle_deg < 180.0:
        return _nowhere(slopes)
    heel = _heel(side, angle_deg)
    inner, outer = curve.gz_at(np.array([heel - NEAR, heel + NEAR]))
    falls = _outwards(side) * (outer - inner) / (2.0 * NEAR)
    gains = _outwards(side) * slopes.at(np.array([heel]))[0, 0]
    return np.asarray(np.degrees(-gains / falls))


def opening_slopes(
    curve: LeverCurve, slopes: WeightSlopes, side: Side | None, edge: Edge | None
) -> FloatArray:
    """(4 + m,) derivatives [deg] of the angle at which an opening goes under; nan: none."""
    if edge is None or side is None:
        return _nowhere(slopes)
    found = curve.immersion_angle(edge.points, side)
    if not isinstance(found, Reached):
        return _nowhere(slopes)
    row = np.array([astuple(found.at)])
    heights, rates = heights_of(edge.points)(row)
    least = int(np.argmin(heights[0]))
    sinks = slopes.heights(edge.points[least : least + 1], row)[0]
    return np.asarray(np.degrees(-_outwards(side) * sinks / rates[0, least]))


def _nowhere(slopes: WeightSlopes) -> FloatArray:
    return np.full(slopes.matrices.shape[2], nan)


def _floods_to(answer: ConditionResult) -> Side | None:
    """The side on which she floods first; None where on neither."""
    wet = {
        side: one.downflooding_angle_deg
        for side, one in (answer.sides or {}).items()
        if one.downflooding_angle_deg is not None
    }
    return min(wet, key=lambda side: wet[side], default=None)


def _sd(slopes: FloatArray, of_numbers: FloatArray) -> FloatArray:
    """(k,) one standard deviation of figures by their slopes: (k, 4), with lines (k, 4 + m)."""
    by_weight, by_error = slopes[:, :NUMBERS], slopes[:, NUMBERS:]
    variance = ((by_weight @ of_numbers) * by_weight).sum(axis=1) + (by_error**2).sum(axis=1)
    return np.asarray(np.sqrt(np.maximum(0.0, variance)))


def _plus_minus(sd: FloatArray, by: Method) -> HeeledPlusMinus:
    vanishing, flooding, first, greatest = map(_known, sd)
    return HeeledPlusMinus(
        by=by,
        vanishing_angle_deg=vanishing,
        downflooding_angle_deg=flooding,
        range_deg=first,
        greatest_gz_m=greatest,
    )


def _interval(drawn: FloatArray) -> Percentiles | None:
    return percentiles(drawn) if np.isfinite(drawn).all() else None


def _known(value: float) -> float | None:
    return float(value) if isfinite(value) else None


def _number(value: float | None) -> float:
    return nan if value is None else value


def _outwards(side: Side) -> float:
    return 1.0 if side == "starboard" else -1.0


def _heel(side: Side, angle_deg: float | None) -> float:
    return _outwards(side) * _number(angle_deg) * pi / 180.0
