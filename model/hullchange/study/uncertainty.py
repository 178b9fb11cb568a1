"""What is not known of a float: four numbers' errors carried into its results."""

from dataclasses import dataclass

import numpy as np

from hullchange.floating.equilibrium import (
    Equilibrium,
    attitude_jacobian,
    sensitivity,
)
from hullchange.floating.weight_slopes import upright_gm_slopes
from hullchange.geometry.frame import FloatArray
from hullchange.study.spread_results import PlusMinus
from hullchange.units import deg_of_rad, mm_of_m

ROWS = ("displacement", "lcg", "tcg", "vcg", "sinkage", "trim", "heel", "gm")


@dataclass(frozen=True, eq=False)
class Slopes:
    """(8, 4) derivatives of a float's results by mass and moments; rows as in ``ROWS``."""

    matrix: FloatArray

    def __sub__(self, other: "Slopes") -> "Slopes":
        """Derivatives of the difference of two floats by what both have in common."""
        return Slopes(self.matrix - other.matrix)

    def covariance(self, of_numbers: FloatArray) -> FloatArray:
        """(8, 8) covariance of the results for a covariance (4, 4) of the numbers."""
        return self.matrix @ of_numbers @ self.matrix.T


def slopes_of(rest: Equilibrium, amidships_x: float, length: float) -> Slopes:
    """Derivatives of a float's results by mass [kg] and its moments [kg m].

    Centres and attitude are exact; GM, held upright, depends on the waterplane's own change
    and takes that by its slope.

    Args:
        rest: the float.
        amidships_x: where sinkage is read [m].
        length: between perpendiculars [m].
    """
    matrix = np.zeros((len(ROWS), 4))
    matrix[0, 0] = 1.0
    turn = rest.tilts.T @ sensitivity(rest)[1:]
    matrix[1:4] = centre_slopes(rest) + liquids_run(rest) @ turn
    matrix[4:7] = attitude_jacobian(rest, amidships_x, length)
    matrix[7] = upright_gm_slopes(rest.upright)
    return Slopes(matrix)


def centre_slopes(rest: Equilibrium) -> FloatArray:
    """(3, 4) derivatives of her centre of gravity, the liquids held where they lie."""
    by_mass = -rest.centre_of_gravity[:, None]
    return np.asarray(np.hstack([by_mass, np.eye(3)]) / rest.mass)


def liquids_run(rest: Equilibrium) -> FloatArray:
    """(3, 3) derivatives of her centre of gravity by up: liquids run to the side that sinks."""
    return np.asarray(-rest.water_density * rest.free_surface / rest.mass)


def plus_minus(covariance: FloatArray) -> PlusMinus:
    """One standard deviation of each result."""
    sd = dict(zip(ROWS, np.sqrt(np.maximum(0.0, np.diag(covariance))).tolist(), strict=True))
    return PlusMinus(
        displacement_kg=sd["displacement"],
        lcg_m=sd["lcg"],
        tcg_m=sd["tcg"],
        vcg_m=sd["vcg"],
        sinkage_mm=mm_of_m(sd["sinkage"]),
        trim_mm=mm_of_m(sd["trim"]),
        heel_deg=deg_of_rad(sd["heel"]),
        gm_m=sd["gm"],
    )


def freeboard_sd(covariance: FloatArray, x_over_length: float, y: float) -> float:
    """One standard deviation [m] of a freeboard.

    Args:
        covariance: (8, 8) of the results.
        x_over_length: place of the mark along the length between perpendiculars.
        y: half-breadth of the mark, positive to starboard [m].
    """
    # deeper, deeper aft, and deeper to starboard: each takes freeboard away
    arm = -np.array([1.0, x_over_length - 0.5, y])
    return float(np.sqrt(max(0.0, arm @ covariance[4:7, 4:7] @ arm)))
