"""What is not known of one float: by the slopes of its results, or by draws where they bend."""

from dataclasses import dataclass
from functools import cached_property
from math import pi, radians, sqrt

import numpy as np

from hullchange.afloat.at_rest import Afloat
from hullchange.afloat.sampling import COUNT, Draws, draws_of
from hullchange.afloat.slopes import ROWS, Slopes, centre_slopes, liquid_shift_slopes
from hullchange.afloat.whole_circle import WHOLE_CIRCLE, levers_of
from hullchange.answer.uncertainty import Method, Percentiles, SampledResult
from hullchange.floating.equilibrium import Equilibrium
from hullchange.floating.lever_curve import LeverCurve
from hullchange.floating.sampled_levers import sampled_levers
from hullchange.floating.weight_slopes import WeightSlopes, weight_slopes
from hullchange.geometry.frame import BoolArray, FloatArray
from hullchange.plain_words import gm_in_words

PERCENTILES = (5.0, 50.0, 95.0)
DOUBTFUL = 0.15
"""Standard deviation of GM over GM, upright, from which results are drawn instead: a list goes
with 1 / GM, and two such deviations change that by a third. An own choice."""
ABOUT = radians(1.0)
"""Heel to either side at which she must have a lever, for draws of her to rest anywhere."""
ROWS_AT_LEAST = 20
"""Draws without which no covariance is read off them."""
HEEL, GM = ROWS.index("heel"), ROWS.index("gm")


@dataclass(frozen=True, eq=False)
class FloatUncertainty:
    """The uncertainty of one boat in one condition.

    Attributes:
        there: the float.
        slopes: derivatives of its results.
        amidships_x: where sinkage is read [m].
        length: between perpendiculars [m].
    """

    there: Afloat
    slopes: Slopes
    amidships_x: float
    length: float

    @property
    def rest(self) -> Equilibrium:
        """The boat at rest."""
        return self.there.rest

    @property
    def of_numbers(self) -> FloatArray:
        """(4, 4) covariance of mass [kg] and moments [kg m], without the lines of her hull."""
        return self.there.weights.account.covariance

    @property
    def gm_slopes(self) -> FloatArray:
        """(4 + m,) derivatives of GM [m], held upright, by mass [kg], moments [kg m], lines."""
        return np.asarray(self.slopes.matrix[GM])

    @cached_property
    def gm_sd(self) -> float:
        """[m] standard deviation of GM held upright."""
        return sqrt(max(0.0, self.slopes.covariance(self.of_numbers)[GM, GM]))

    @cached_property
    def doubtful(self) -> bool:
        """Whether GM is too small for first-order slopes, and her levers can be sampled."""
        stands = self.rest.upright.gm_transverse
        stiff = not self.rest.capsized and self.gm_sd <= DOUBTFUL * stands
        return not stiff and self.heels_both_ways

    @cached_property
    def heels_both_ways(self) -> bool:
        """Whether her levers reach both sides of upright; not if she tips end over end."""
        heels = self.levers.heels
        return len(heels) > 0 and bool(heels[0] < -ABOUT and heels[-1] > ABOUT)

    @property
    def method(self) -> Method:
        """How her plus/minus is found."""
        return "sampled" if self.doubtful else "linear"

    @cached_property
    def levers(self) -> LeverCurve:
        """Righting levers through the whole circle, with all her buoyancy."""
        return levers_of(self.rest, self.rest.envelope, WHOLE_CIRCLE)

    @cached_property
    def weight_slopes(self) -> WeightSlopes:
        """Derivatives of those levers."""
        return self.slopes_of_levers(self.levers)

    def slopes_of_levers(self, curve: LeverCurve) -> WeightSlopes:
        """Derivatives of a lever curve of hers by her weights and her lines."""
        rest, shape = self.rest, self.there.weights.shape
        return shape.on_levers(weight_slopes(curve), rest.mass, rest.water_density)

    @cached_property
    def draws(self) -> Draws:
        """Sampled errors of her weight and lines."""
        return draws_of(self.there.weights)

    @cached_property
    def drawn(self) -> FloatArray:
        """(n, 8) results of her own draws, as ``ROWS`` [kg], [m], [rad]; GM as held upright."""
        return self.results(self.draws.together)

    @property
    def capsized_share(self) -> float:
        """Share of the draws that, let go upright, come to rest upside down."""
        return float(np.mean(np.abs(self.drawn[:, HEEL]) > pi / 2.0))

    @property
    def unstable_share(self) -> float:
        """Share of the draws that do not stay upright: GM is not positive, or they capsize."""
        over = np.abs(self.drawn[:, HEEL]) > pi / 2.0
        return float(np.mean((self.drawn[:, GM] <= 0.0) | over))

    @cached_property
    def covariance(self) -> FloatArray:
        """(8, 8) covariance of her results, by the method that can be trusted.

        Only draws that rest the same way up as she does count; how many do not is reported.
        """
        if self.doubtful and np.count_nonzero(alike := self.alike(self.drawn)) > ROWS_AT_LEAST:
            return np.cov(self.drawn[alike].T)
        return self.slopes.covariance(self.of_numbers)

    def alike(self, drawn: FloatArray) -> BoolArray:
        """(n,) which of her results rest the same way up as she does.

        A boat that does not stay upright must lie to the same side too.

        Args:
            drawn: (n, 8) results, as ``ROWS`` [kg], [m], [rad].
        """
        heel, own = drawn[:, HEEL], self.rest.plane.heel
        alike = (np.abs(heel) > pi / 2.0) == (abs(own) > pi / 2.0)
        if self.rest.capsized or not self.rest.upright_stable:
            alike &= (heel > 0.0) == (own > 0.0)
        return np.asarray(alike)

    def results(self, changes: FloatArray) -> FloatArray:
        """(n, 8) results as ``ROWS`` [kg], [m], [rad], let go upright; GM as held upright.

        Args:
            changes: (n, 4 + m) of mass [kg], its moments [kg m] and the lines.
        """
        rest, curve = self.rest, self.levers
        weighed = self.there.weights.shape.weighed(changes)
        heel = sampled_levers(curve, self.weight_slopes, changes).rests
        answers = np.einsum("nij,nj->ni", self.weight_slopes.at(heel)[:, 1:], changes)
        trim = np.interp(heel, curve.heels, curve.trims) + answers[:, 0]
        offset = np.interp(heel, curve.heels, curve.offsets) + answers[:, 1]
        across = np.cos(trim)
        up = np.stack([-np.sin(trim), -across * np.sin(heel), across * np.cos(heel)], axis=1)
        centre = (
            rest.centre_of_gravity
            + weighed @ centre_slopes(rest).T
            + (up - rest.plane.up) @ liquid_shift_slopes(rest).T
        )
        return np.column_stack(
            [
                rest.mass + weighed[:, 0],
                centre,
                (offset - self.amidships_x * up[:, 0]) / up[:, 2],
                -self.length * up[:, 0] / up[:, 2],
                heel,
                rest.upright.gm_transverse + changes @ self.gm_slopes,
            ]
        )


def change_is_sampled(before: FloatUncertainty, after: FloatUncertainty) -> bool:
    """Whether a change is sampled: one of the two cannot use slopes, and both have draws."""
    wanted = before.doubtful or after.doubtful
    return wanted and before.heels_both_ways and after.heels_both_ways


def change_covariance(before: FloatUncertainty, after: FloatUncertainty) -> FloatArray:
    """(8, 8) covariance [kg], [m], [rad] of the refit's results less those as found.

    Errors that both share cancel.
    """
    weights = after.there.weights
    if change_is_sampled(before, after):
        own, shared = before.draws.shared, after.draws.shared
        old = before.drawn if np.array_equal(own, shared) else before.results(shared)
        alike = before.alike(old) & after.alike(after.drawn)
        if np.count_nonzero(alike) > ROWS_AT_LEAST:
            return np.cov((after.drawn - old)[alike].T)
    apart = after.slopes - before.slopes
    changed = after.slopes.by_weight(weights.changed.covariance)
    return apart.covariance(weights.shared.covariance) + changed


def sampled_upright(spread: FloatUncertainty) -> SampledResult:
    """Percentiles of the draws for a float at rest."""
    heel = np.degrees(spread.drawn[:, HEEL])
    return SampledResult(
        draws=COUNT,
        why=_why(spread),
        unstable_percent=100.0 * spread.unstable_share,
        capsized_percent=100.0 * spread.capsized_share,
        gm_upright_m=percentiles(spread.drawn[:, GM]),
        heel_deg=percentiles(heel),
        heel_either_side_deg=percentiles(np.abs(heel)),
    )


def percentiles(drawn: FloatArray) -> Percentiles:
    """5 %, median and 95 % of what was drawn (n,)."""
    low, middle, high = np.percentile(drawn, PERCENTILES).tolist()
    return (low, middle, high)


def _why(spread: FloatUncertainty) -> str:
    gm = spread.rest.upright.gm_transverse
    if spread.doubtful:
        return f"GM upright is {gm_in_words(gm)} ± {spread.gm_sd:.2f} m"
    return "her righting levers are nearly flat where they vanish"
