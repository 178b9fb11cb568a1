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
STEEPEST_DEG = 25.0  # trim or heel on which nobody reads freeboards: an own choice
FARTHEST = 2.0  # [m] off by which a freeboard is no reading, but a slip: an own choice
DOUBTFUL, REFUTED = 0.05, 0.001
STEPS = np.array([1e-5, 1e-6, 1e-6])
"""Finite steps of sinkage [m], trim and heel [rad]: rounding stays below 1e-9 of the volume."""


@dataclass(frozen=True)
class FreeboardReading:
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
    """The water plane that fits the readings best.

    Attributes:
        plane: the water's surface.
        covariance: (3, 3) of sinkage [m], trim [rad], heel [rad].
        residuals: (n,) reading minus fitted freeboard [m].
        chi_square: sum of squared residuals over their variances [-].
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
            return (
                "three readings fix the waterplane exactly, so nothing is left to check "
                "them with"
            )
        chance = chance_of_more(self.chi_square, self.degrees_of_freedom)
        if chance < REFUTED:
            return "the readings contradict each other or the hull: measure again"
        if chance < DOUBTFUL:
            return "the readings agree poorly with the hull: check the largest residual"
        return "the readings agree with the hull"


def chance_of_more(chi_square: float, freedom: int) -> float:
    """Probability that chance alone gives a larger chi-square.

    Args:
        chi_square: sum of squares [-].
        freedom: number of degrees of freedom.

    Source: the upper incomplete gamma function at whole and half orders, from memory.

    >>> round(chance_of_more(9.488, 4), 4), round(chance_of_more(11.070, 5), 4)
    (0.05, 0.05)
    """
    half, odd = chi_square / 2.0, freedom % 2
    orders = (k + odd / 2.0 for k in range(freedom // 2))
    terms = [pow(half, order) / gamma(order + 1.0) for order in orders]
    return exp(-half) * fsum(terms) + (erfc(sqrt(half)) if odd else 0.0)


def fitted_plane(readings: tuple[FreeboardReading, ...], amidships_x: float) -> FittedPlane:
    """The water's surface by weighted least squares on the freeboards.

    Args:
        readings: at least three, spread along and across.
        amidships_x: where sinkage is meant [m].

    Raises:
        ModelError: ``too-few-freeboards`` where they do not fix a plane,
            ``freeboards-apart`` where no boat is surveyed on any that fits them.

    Source:
        Gauss-Newton least squares; the trade's float survey (IMO 2008 IS Code, five freeboards
        a side, opened in part) reads the same plane off by hand.
    """
    points = np.array([r.at for r in readings], dtype=float).reshape(-1, 3)
    _require_a_plane(readings, points)
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


def _require_a_plane(readings: tuple[FreeboardReading, ...], points: FloatArray) -> None:
    """Refuse unless the freeboards, taken along z, fix water that a boat may lie on."""
    if len(readings) < 3 or np.ptp(points[:, :2], axis=0).min() < SMALLEST_SPREAD:
        sentence = (
            "The freeboards do not fix the waterplane: measure at least two marks well apart "
            "along the boat, on both sides."
        )
        raise ModelError("too-few-freeboards", sentence, "survey.marks")
    read = np.array([r.freeboard for r in readings])
    across = np.column_stack([np.ones(len(points)), points[:, :2]])
    heights = points[:, 2] - read
    found, *_ = np.linalg.lstsq(across, heights, rcond=None)
    steepest = float(np.degrees(np.arctan(np.abs(found[1:]).max())))
    farthest = float(np.abs(heights - across @ found).max())
    if steepest <= STEEPEST_DEG and farthest <= FARTHEST:
        return
    usual = float(np.sort(np.abs(read))[(len(read) - 1) // 2])
    odd = readings[int(np.argmax(np.abs(read - usual)))]
    trouble = (
        f"The freeboards tilt the waterplane by {steepest:.0f}°."
        if steepest > STEEPEST_DEG
        else f"The freeboards are up to {1000.0 * farthest:,.0f} mm off one waterplane."
    )
    sentence = (
        f"{trouble} Check the reading at {odd.mark}, {odd.side}, its decimal point and its "
        f"unit: {1000.0 * odd.freeboard:,.0f} mm, where {1000.0 * usual:,.0f} mm is usual."
    )
    place = f"survey.marks.{odd.mark}.freeboard_m.{odd.side}"
    raise ModelError("freeboards-apart", sentence, place)


ImmersedAt = Callable[[WaterPlane], tuple[float, FloatArray]]
"""Volume [m^3] below a plane and its centroid (3,) [m]."""
Liquids = Callable[[WaterPlane], FloatArray]
"""(4,) mass [kg] and moments [kg m] of what lies level in her tanks, by the water."""


@dataclass(frozen=True, eq=False)
class SurveyedWeight:
    """The weight at the survey and its moments.

    Attributes:
        numbers: (4,) mass [kg] and moments about the origin [kg m], all aboard.
        solid: (4,) mass [kg] and moments [kg m] without the liquids that move.
        by_water: (4, 3) derivatives of ``solid`` by the water's sinkage [m], trim and heel
            [rad], the height of her centre of gravity held.
        by_height: (4,) [kg/m] derivatives of both by that height, along the vertical.
    """

    numbers: FloatArray
    solid: FloatArray
    by_water: FloatArray
    by_height: FloatArray


def weighed_afloat(
    fitted: FittedPlane,
    immersed: ImmersedAt,
    density: float,
    vcg: float,
    liquids: Liquids,
    amidships_x: float,
) -> SurveyedWeight:
    """Mass and moments of the boat that floats at the fitted plane.

    The centre of gravity lies on the vertical through the centre of buoyancy, at the VCG.

    Args:
        fitted: where the water stood.
        immersed: volume and centroid below a plane.
        density: of the water [kg/m^3].
        vcg: height above the design waterline [m].
        liquids: what lies level in her tanks.
        amidships_x: where sinkage is meant [m].

    Raises:
        ModelError: ``dry-survey`` where nothing of the hull is below the fitted plane.
    """

    def numbers(plane: WaterPlane) -> FloatArray:
        volume, centroid = immersed(plane)
        if volume <= 0.0:
            sentence = (
                "The freeboards put the hull above the water: check their unit and the marks."
            )
            raise ModelError("dry-survey", sentence, "survey.marks")
        of_water = density * volume * np.array([1.0, *centroid])
        return displaced_to_weight(plane, vcg) @ of_water

    def solid(state: FloatArray) -> FloatArray:
        plane = _plane(state, amidships_x)
        return numbers(plane) - liquids(plane)

    plane = fitted.plane
    state = np.array([plane.sinkage(amidships_x), plane.trim, plane.heel])
    found = numbers(plane)
    slopes = [
        (solid(state + step) - solid(state - step)) / (2.0 * step.sum())
        for step in np.diag(STEPS)
    ]
    return SurveyedWeight(
        found,
        found - liquids(plane),
        np.stack(slopes, axis=1),
        found[0] * np.array([0.0, *(plane.up / plane.up[2])]),
    )


def displaced_to_weight(plane: WaterPlane, height: float) -> FloatArray:
    """(4, 4) what makes a weight of the water displaced: as heavy, and straight over it.

    Of mass and moments about the origin, to mass and moments of a weight at a height [m].
    """
    rise = plane.up / plane.up[2]
    over = np.eye(4)
    over[1:, 0] = height * rise
    over[1:, 3] -= rise
    return over


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
