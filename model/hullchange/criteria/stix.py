"""The stability index of ISO 12217-2 with all its factors, as its formula is known in use."""

from dataclasses import dataclass
from math import cos, degrees, radians, sqrt

from hullchange.criteria.definitions import ISO_OPENINGS, downflooding_by
from hullchange.criteria.facts import Absent, LeverFacts, Sails

SLOPE = 0.0833
"""1/12: the knockdown factor has no jump where its two branches meet."""

SLOPE_OF_SHEET = 0.0883
"""As one published sheet and one transcription have it: a jump of 0.008."""

HEAVY = 40_000.0  # [kg]
LONGEST_BASE = 333.0 / 8.0  # [m] from here on the formula of fdl has no value
RIGHT_ANGLE = radians(90.0)


@dataclass(frozen=True)
class StixInputs:
    """What the index is made from. Angles in rad, areas under the curve in m rad.

    Attributes:
        hull_length: [m] LH.
        waterline_length: [m] LWL.
        hull_beam: [m] BH.
        waterline_beam: [m] BWL.
        mass: [kg].
        sails: area and centres.
        vanishing: [rad] vanishing angle.
        flooding: [rad] downflooding angle.
        gz_flooding: [m] lever at the downflooding angle.
        gz_90: [m] lever at 90 degrees.
        area: [m rad] under the curve to the vanishing or downflooding angle, the first.
        floats_when_swamped: with righting levers left.
    """

    hull_length: float
    waterline_length: float
    hull_beam: float
    waterline_beam: float
    mass: float
    sails: Sails
    vanishing: float
    flooding: float
    gz_flooding: float
    gz_90: float
    area: float
    floats_when_swamped: bool = False


@dataclass(frozen=True)
class Stix:
    """The stability index and its factors, with their usual names. All are ratios [-].

    Attributes:
        value: the index.
        base_length: [m] LBS.
        fds: dynamic stability.
        fir: inversion recovery.
        fkr: knockdown recovery.
        fdl: displacement to length.
        fbd: beam to displacement.
        fwm: wind moment.
        fdf: downflooding.
        delta: 5 where she floats when swamped.
        fl: length part of fdl.
        fb: beam part of fbd.
        fr: righting to heeling moment at 90 degrees, of fkr.
        gust: [m/s] of fwm, or why it is not asked.
    """

    value: float
    base_length: float
    fds: float
    fir: float
    fkr: float
    fdl: float
    fbd: float
    fwm: float
    fdf: float
    delta: float
    fl: float
    fb: float
    fr: float
    gust: float | Absent


def stix_inputs(facts: LeverFacts) -> StixInputs | Absent:
    """What the index asks of a boat in a condition."""
    boat, levers = facts.boat, facts.levers
    if isinstance(boat.sails, Absent):
        return boat.sails
    if _base_length(boat.waterline_length, boat.hull_length) >= LONGEST_BASE:
        return Absent(
            "The stability index applies to hulls of 6 to 24 m; this one is "
            f"{boat.hull_length:.1f} m long."
        )
    vanishing, flooding = levers.vanishing.heel, downflooding_by(facts, ISO_OPENINGS).angle.heel
    return StixInputs(
        boat.hull_length,
        boat.waterline_length,
        boat.hull_beam,
        boat.waterline_beam,
        facts.displacement,
        boat.sails,
        vanishing,
        flooding,
        levers.at(flooding),
        levers.at(RIGHT_ANGLE),
        levers.area(0.0, min(vanishing, flooding)),
        boat.floats_when_swamped,
    )


def stix(given: StixInputs, slope: float = SLOPE) -> Stix:
    """The stability index.

    Args:
        given: what it is made from.
        slope: [-] of the knockdown factor above FR = 1.5; sources differ.

    Source:
        ISO 12217-2 as in use 2002 to 2015; the standard was not read.  Form: an encyclopedia of
        yachts (opened); factors: a published calculation sheet reproduces them (opened);
        fbd's other branches, fwm and delta from one transcription each; "to the downflooding
        angle" in fds from memory, one example agrees.
    """
    base = _base_length(given.waterline_length, given.hull_length)
    fl = (base / 11.0) ** 0.2
    fb = 3.3 * given.hull_beam / (0.03 * given.mass) ** (1.0 / 3.0)
    fr = given.gz_90 * given.mass / (2.0 * given.sails.area * given.sails.centre_height)
    gust = _gust(given)
    fds = _within(0.5, degrees(given.area) / (15.81 * sqrt(given.hull_length)), 1.5)
    fir = _within(0.4, _inversion(degrees(given.vanishing), given.mass), 1.5)
    fkr = 0.5 if given.vanishing < RIGHT_ANGLE else _within(0.5, _knockdown(fr, slope), 1.5)
    fdl = _within(0.75, _displacement_length(base, fl, given.mass), 1.25)
    fbd = _within(0.75, _beam(fb, given.waterline_beam / given.hull_beam), 1.25)
    fwm = 1.0 if isinstance(gust, Absent) else _within(0.5, gust / 17.0, 1.0)
    fdf = _within(0.5, given.flooding / RIGHT_ANGLE, 1.25)
    delta = 5.0 if given.floats_when_swamped else 0.0
    product = fds * fir * fkr * fdl * fbd * fwm * fdf
    value = (7.0 + 2.25 * base) * sqrt(product) + delta
    return Stix(value, base, fds, fir, fkr, fdl, fbd, fwm, fdf, delta, fl, fb, fr, gust)


def _base_length(waterline_length: float, hull_length: float) -> float:
    return (2.0 * waterline_length + hull_length) / 3.0


def _within(low: float, value: float, high: float) -> float:
    return max(low, min(high, value))


def _inversion(vanishing_deg: float, mass: float) -> float:
    return vanishing_deg / (125.0 - mass / 1600.0 if mass < HEAVY else 100.0)


def _knockdown(fr: float, slope: float) -> float:
    return 0.875 + slope * fr if fr >= 1.5 else 0.5 + 0.333 * fr


def _displacement_length(base: float, fl: float, mass: float) -> float:
    return sqrt(0.6 + 15.0 * mass * fl / (base**3 * (333.0 - 8.0 * base)))


def _beam(fb: float, waterline_to_hull: float) -> float:
    if fb > 2.20:
        return sqrt(13.31 * waterline_to_hull / fb**3)
    if fb < 1.45:
        return sqrt(waterline_to_hull * fb**2 / 1.682)
    return 1.118 * sqrt(waterline_to_hull)


def _gust(given: StixInputs) -> float | Absent:
    """[m/s] Wind that heels her to downflooding, asked where that comes before 90 degrees."""
    if given.flooding >= RIGHT_ANGLE:
        return Absent("She does not flood before 90° of heel.")
    sails = given.sails
    arm = sails.area * (sails.centre_height + sails.lateral_depth)
    righting = 13.0 * given.mass * max(0.0, given.gz_flooding)
    return sqrt(righting / (arm * cos(given.flooding) ** 1.3))
