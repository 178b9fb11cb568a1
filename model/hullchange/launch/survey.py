"""The boat as found, from freeboards: where the water stood, what she weighed, where it lay."""

from collections.abc import Callable
from dataclasses import dataclass
from math import erfc, exp, fsum, gamma, pow, sqrt
from typing import Literal

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray, WaterPlane, up_vector

ENOUGH_STEPS = 30
SMALLEST_SPREAD = 0.5  # [m] marks closer together along or across fix no angle
DOUBTFUL, REFUTED = 0.05, 0.001
STEPS = np.array([1e-5, 1e-6, 1e-6])
"""Finite steps of sinkage [m], trim and heel [rad]: rounding stays below 1e-9 of the volume."""


@dataclass(frozen=True)
class Reading:
    """One freeboard, sheer to water.

    Attributes:
        mark: name of the mark.
        side: port or starboard.
        at: (x, y, z) of the sheer at the mark [m].
        freeboard: [m], along the vertical.
        sd: one standard deviation [m].
    """

    mark: str
    side: Literal["port", "starboard"]
    at: tuple[float, float, float]
    freeboard: float
    sd: float


@dataclass(frozen=True, eq=False)
class FittedPlane:
    """The water's surface that fits the readings best.

    Attributes:
        plane: the surface.
        covariance: (3, 3) of sinkage [m], trim [rad], heel [rad].
        residuals: (n,) reading minus fitted freeboard [m].
        chi_square: sum of squared residuals over their variances.
        degrees_of_freedom: readings less three.
    """

    plane: WaterPlane
    covariance: FloatArray
    residuals: FloatArray
    chi_square: float
    degrees_of_freedom: int

    @property
    def agreement(self) -> str:
        """In words: whether the readings agree with one another and with the hull."""
        if self.degrees_of_freedom == 0:
            return "three readings fix the water exactly: nothing is left to check them with"
        chance = chance_of_more(self.chi_square, self.degrees_of_freedom)
        if chance < REFUTED:
            return "the readings contradict each other or the hull: measure again"
        if chance < DOUBTFUL:
            return "the readings agree poorly with the hull: look at the largest residual"
        return "the readings agree with the hull"


def chance_of_more(chi_square: float, freedom: int) -> float:
    """How likely chance alone gives more than a chi-square, of so many degrees of freedom.

    Source: the upper incomplete gamma function at whole and half orders, from memory.

    >>> round(chance_of_more(9.488, 4), 4), round(chance_of_more(11.070, 5), 4)
    (0.05, 0.05)
    """
    half, odd = chi_square / 2.0, freedom % 2
    orders = (k + odd / 2.0 for k in range(freedom // 2))
    terms = [pow(half, order) / gamma(order + 1.0) for order in orders]
    return exp(-half) * fsum(terms) + (erfc(sqrt(half)) if odd else 0.0)


def fitted_plane(readings: tuple[Reading, ...], amidships_x: float) -> FittedPlane:
    """The water's surface by weighted least squares on the freeboards.

    Args:
        readings: at least three, spread along and across.
        amidships_x: where sinkage is meant [m].

    Raises:
        ModelError: ``too-few-freeboards`` where they do not fix a plane.

    Source:
        Gauss-Newton least squares; the trade's float survey (IMO 2008 IS Code, five freeboards
        a side, opened in part) reads the same plane off by hand.
    """
    points = np.array([r.at for r in readings], dtype=float).reshape(-1, 3)
    if len(readings) < 3 or np.ptp(points[:, :2], axis=0).min() < SMALLEST_SPREAD:
        sentence = (
            "The freeboards do not fix the water: read at least two marks at a distance along "
            "the boat, on both sides."
        )
        raise ModelError("too-few-freeboards", sentence, "survey.marks")
    measured = np.array([r.freeboard for r in readings])
    weight = 1.0 / np.array([r.sd for r in readings])
    state = np.zeros(3)
    for _ in range(ENOUGH_STEPS):
        freeboards, slopes = _freeboards(state, points, amidships_x)
        step, *_ = np.linalg.lstsq(
            slopes * weight[:, None], (measured - freeboards) * weight, rcond=None
        )
        state = state + step
        if np.abs(step).max() < 1e-13:
            break
    freeboards, slopes = _freeboards(state, points, amidships_x)
    normal = (slopes * weight[:, None] ** 2).T @ slopes
    residuals = measured - freeboards
    return FittedPlane(
        _plane(state, amidships_x),
        np.asarray(np.linalg.inv(normal), dtype=np.float64),
        residuals,
        float(((residuals * weight) ** 2).sum()),
        len(readings) - 3,
    )


Immersed = Callable[[WaterPlane], tuple[float, FloatArray]]
"""Volume [m^3] below a plane and its centroid (3,) [m]."""


@dataclass(frozen=True, eq=False)
class AsFound:
    """What she weighed and where it lay.

    Attributes:
        numbers: (4,) mass [kg] and moments about the origin [kg m].
        covariance: (4, 4) from readings, hull shape and VCG together.
        shape_sd_mass: share of the hull's shape in the mass [kg], one standard deviation.
        causes: path in the document and (4, 4) covariance of each: freeboards, lines, VCG.
    """

    numbers: FloatArray
    covariance: FloatArray
    shape_sd_mass: float
    causes: tuple[tuple[str, FloatArray], ...]


def weighed_afloat(
    fitted: FittedPlane,
    immersed: Immersed,
    density: float,
    vcg: tuple[float, float],
    shape_covariance: FloatArray,
    amidships_x: float,
) -> AsFound:
    """Mass and moments of the boat that floats at the fitted plane.

    The centre of gravity lies on the vertical through the centre of buoyancy, at the VCG.

    Args:
        fitted: where the water stood.
        immersed: volume and centroid below a plane.
        density: of the water [kg/m^3].
        vcg: height above the design waterline and its standard deviation [m].
        shape_covariance: (4, 4) of volume and moments of volume, from the hull's own errors.
        amidships_x: where sinkage is meant [m].

    Raises:
        ModelError: ``dry-survey`` where nothing of the hull is below the fitted plane.
    """
    height, sd_height = vcg

    def numbers(state: FloatArray, z: float) -> FloatArray:
        plane = _plane(state, amidships_x)
        volume, centroid = immersed(plane)
        if volume <= 0.0:
            sentence = "The freeboards leave the hull dry: check their unit and the marks."
            raise ModelError("dry-survey", sentence, "survey.marks")
        rise = (z - centroid[2]) / plane.up[2]
        return density * volume * np.array([1.0, *(centroid + plane.up * rise)])

    plane = fitted.plane
    state = np.array([plane.sinkage(amidships_x), plane.trim, plane.heel])
    found = numbers(state, height)
    slopes = np.stack(
        [
            (numbers(state + step, height) - numbers(state - step, height)) / (2.0 * step.sum())
            for step in np.diag(STEPS)
        ],
        axis=1,
    )
    raised = np.array([0.0, 0.0, 0.0, found[0] * sd_height])
    shape = _of_shape(density**2 * shape_covariance, height)
    causes = (
        ("survey.marks", slopes @ fitted.covariance @ slopes.T),
        ("hull.lines", shape),
        ("survey.vcg", np.outer(raised, raised)),
    )
    covariance = np.sum([part for _, part in causes], axis=0)
    return AsFound(found, covariance, sqrt(max(0.0, shape[0, 0])), causes)


def _of_shape(covariance: FloatArray, height: float) -> FloatArray:
    """A wrong hull changes the mass at the VCG [m] that was measured, not its own height."""
    keep = np.diag([1.0, 1.0, 1.0, 0.0])
    keep[3, 0] = height
    return np.asarray(keep @ covariance @ keep.T)


def _plane(state: FloatArray, amidships_x: float) -> WaterPlane:
    sinkage, trim, heel = (float(v) for v in state)
    return WaterPlane.at(sinkage, trim, heel, amidships_x)


def _freeboards(
    state: FloatArray, points: FloatArray, amidships_x: float
) -> tuple[FloatArray, FloatArray]:
    """Freeboards (n,) at the points for (sinkage, trim, heel), and their slopes (n, 3)."""
    sinkage, trim, heel = (float(v) for v in state)
    arms = points - np.array([amidships_x, 0.0, sinkage])
    up = up_vector(trim, heel)
    by_trim = np.array(
        [-np.cos(trim), np.sin(trim) * np.sin(heel), -np.sin(trim) * np.cos(heel)]
    )
    by_heel = np.array([0.0, -np.cos(trim) * np.cos(heel), -np.cos(trim) * np.sin(heel)])
    slopes = np.stack([np.full(len(points), -up[2]), arms @ by_trim, arms @ by_heel], axis=1)
    return arms @ up, slopes
