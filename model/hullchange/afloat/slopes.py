"""First-order uncertainty of a float: errors of weights and lines carried into its results."""

from dataclasses import dataclass

import numpy as np

from hullchange.answer.uncertainty import PlusMinus
from hullchange.floating.equilibrium import (
    Equilibrium,
    attitude_jacobian,
    sensitivity,
)
from hullchange.floating.weight_slopes import upright_gm_slopes
from hullchange.geometry.frame import FloatArray
from hullchange.survey.lines_error import NUMBERS, LinesError
from hullchange.units import deg_of_rad, mm_of_m

ROWS = ("displacement", "lcg", "tcg", "vcg", "sinkage", "trim", "heel", "gm")


@dataclass(frozen=True, eq=False)
class Slopes:
    """Derivatives of a float's results by mass, moments and the errors of the lines.

    Attributes:
        matrix: (8, 4 + m), rows as in ``ROWS`` in [kg], [m] and [rad], by mass [kg], moments
            [kg m] and errors of one standard deviation.
    """

    matrix: FloatArray

    def __sub__(self, other: "Slopes") -> "Slopes":
        """Derivatives of the difference of two floats by what both have in common."""
        return Slopes(self.matrix - other.matrix)

    def covariance(self, of_numbers: FloatArray) -> FloatArray:
        """(8, 8) covariance of the results in [kg], [m] and [rad], by weights and lines.

        Args:
            of_numbers: (4, 4) covariance of mass [kg] and moments [kg m].
        """
        by_error = self.matrix[:, NUMBERS:]
        return self.by_weight(of_numbers) + by_error @ by_error.T

    def by_weight(self, of_numbers: FloatArray) -> FloatArray:
        """(8, 8) covariance of the results in [kg], [m] and [rad], by weights alone.

        Args:
            of_numbers: (4, 4) covariance of mass [kg] and moments [kg m].
        """
        slopes = self.matrix[:, :NUMBERS]
        return np.asarray(slopes @ of_numbers @ slopes.T)


def slopes_of(
    rest: Equilibrium, amidships_x: float, length: float, shape: LinesError
) -> Slopes:
    """Derivatives of a float's results by mass [kg], its moments [kg m] and her lines' errors.

    Centres and attitude are exact; GM, held upright, depends on the waterplane's own change
    and takes that by its slope.

    Args:
        rest: the float.
        amidships_x: where sinkage is read [m].
        length: between perpendiculars [m].
        shape: the hull as surveyed.
    """
    matrix = np.zeros((len(ROWS), NUMBERS))
    matrix[0, 0] = 1.0
    turn = rest.tilts.T @ sensitivity(rest)[1:]
    answers = matrix.copy()
    answers[1:4] = liquid_shift_slopes(rest) @ turn
    answers[4:7] = attitude_jacobian(rest, amidships_x, length)
    matrix[1:7] = answers[1:7]
    matrix[1:4] += centre_slopes(rest)
    matrix[7] = upright_gm_slopes(rest.upright)
    # the water displaced more by a wrong hull lifts her, and is no weight
    answers[0] = 0.0
    water = shape.borne(rest.plane, rest.water_density)
    by_error = matrix @ shape.as_found - answers @ water
    by_error[7] = shape.on_gm(rest.upright, matrix[7])
    return Slopes(np.hstack([matrix, by_error]))


def centre_slopes(rest: Equilibrium) -> FloatArray:
    """(3, 4) derivatives of her centre of gravity [m] by mass [kg] and moments [kg m].

    The liquids are held where they lie.
    """
    by_mass = -rest.centre_of_gravity[:, None]
    return np.asarray(np.hstack([by_mass, np.eye(3)]) / rest.mass)


def liquid_shift_slopes(rest: Equilibrium) -> FloatArray:
    """(3, 3) [m] derivatives of her centre of gravity by the vector up, as liquids run."""
    return np.asarray(-rest.water_density * rest.free_surface / rest.mass)


def plus_minus(covariance: FloatArray) -> PlusMinus:
    """One standard deviation of each result, by their covariance (8, 8) [kg], [m], [rad]."""
    sd = dict(zip(ROWS, np.sqrt(np.maximum(0.0, np.diag(covariance))).tolist(), strict=True))
    bow, stern = (height_sd(covariance, end, 0.0) for end in (0.0, 1.0))
    return PlusMinus(
        displacement_kg=sd["displacement"],
        lcg_m=sd["lcg"],
        tcg_m=sd["tcg"],
        vcg_m=sd["vcg"],
        sinkage_mm=mm_of_m(sd["sinkage"]),
        trim_mm=mm_of_m(sd["trim"]),
        heel_deg=deg_of_rad(sd["heel"]),
        gm_m=sd["gm"],
        sinkage_bow_mm=mm_of_m(bow),
        sinkage_stern_mm=mm_of_m(stern),
    )


def height_sd(covariance: FloatArray, x_over_length: float, y: float) -> float:
    """One standard deviation [m] of the height of a place above the water: a freeboard.

    Args:
        covariance: (8, 8) of the results in [kg], [m], [rad].
        x_over_length: x of the place, as a fraction of the length between perpendiculars.
        y: half-breadth of the place, positive to starboard [m].
    """
    # deeper, deeper aft, and deeper to starboard: each takes freeboard away
    arm = -np.array([1.0, x_over_length - 0.5, y])
    return float(np.sqrt(max(0.0, arm @ covariance[4:7, 4:7] @ arm)))
