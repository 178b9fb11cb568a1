"""What is usual of a boat of which only a type and the main dimensions are known.

The shares are common practice, no source, where no other word stands beside them.
"""

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from hullchange.errors import ModelError
from hullchange.geometry.frame import FloatArray
from hullchange.hull_sources.found import FoundLines
from hullchange.hull_sources.main_dimensions import HullType, MainDimensions, first_guess
from hullchange.materials import SEA_WATER_DENSITY
from hullchange.proposals.appendage_shares import (
    FOIL_FULLNESS,
    KEELS,
    RUDDER_THICKNESS,
    SideOutline,
    UnderBody,
)

KeelType = Literal["fin", "long", "twin"]
ROUNDS = 6  # of keel and canoe body, each of which depends on the other
CAMBER = 1.0 / 30.0  # of the half-breadth
VCG_SHARE, VCG_SD_SHARE, VCG_SD_AT_LEAST = 0.03, 0.03, 0.10
"""Height of the centre of gravity above the waterline and its deviation, as shares of the beam;
the deviation [m] at least."""
LEAST_GM = 0.08  # share of the beam, under which no such boat would be sailed
LEAST_SPAN, MOST_SPAN = 0.02, 0.35  # of a keel, as shares of the waterline
MEETS = 0.01  # share of a waterline to which the guessed lines keep it
WIDEN = 1.02  # step in which a beam that stands is looked for


@dataclass(frozen=True)
class FirstDimensions:
    """What an owner knows of her boat before she measures anything.

    Attributes:
        hull_type: as of `MainDimensions`.
        length: [m] over all.
        waterline: [m] length.
        beam: [m] greatest.
        displacement: [kg] all up, as she lies.
        draught: [m] to the lowest point of the keel.
        freeboards: [m] at the stem, least, at the stern.
        transom: [m] breadth at the deck; 0 on a canoe stern.
        keel: its type.
        water_density: [kg/m^3] that she lies in.
    """

    hull_type: HullType
    length: float
    waterline: float
    beam: float
    displacement: float
    draught: float
    freeboards: tuple[float, float, float]
    transom: float
    keel: KeelType = "fin"
    water_density: float = SEA_WATER_DENSITY


@dataclass(frozen=True, eq=False)
class BoatGuess:
    """What the proportions give.

    Attributes:
        given: what was known.
        found: the canoe body's lines.
        keel: (x, z) [m] of its side view.
        rudder: (x, z) [m] likewise.
        metacentre: [m] height above the waterline.
    """

    given: FirstDimensions
    found: FoundLines
    keel: SideOutline
    rudder: SideOutline
    metacentre: float

    @property
    def waterline(self) -> float:
        """[m] length of the waterline, to the millimetre: as given, or as near as lines get."""
        centreline, _ = lines_together(self.found)
        wet = np.flatnonzero(centreline[:, 2] < 0.0)
        last = centreline[wet[-1] : wet[-1] + 2]
        reached = float(np.interp(0.0, last[:, 2], last[:, 0]))
        as_given = abs(reached - self.given.waterline) <= MEETS * self.given.waterline
        return self.given.waterline if as_given else reached

    @property
    def vcg(self) -> float:
        """[m] of the centre of gravity above the waterline."""
        return VCG_SHARE * self.given.beam

    @property
    def stands(self) -> bool:
        """Whether she stays upright with something to spare."""
        return self.metacentre - self.vcg >= LEAST_GM * self.given.beam


def guess_of(given: FirstDimensions) -> BoatGuess:
    """A usual boat of these dimensions, whether or not she stands.

    Raises:
        ModelError: ``dimensions-disagree``, with what would fit.
    """
    whole = given.displacement / given.water_density
    below, shares = 0.0, KEELS[given.keel]
    for _ in range(ROUNDS):
        found = first_guess(_canoe_body(given, whole, below))
        centreline, lines = lines_together(found)
        bottom = _bottom_at(lines, shares.at_breadth * given.beam)
        keel, rudder = _keel_of(given, centreline, bottom), _rudder_of(given, centreline)
        thick = 2.0 * shares.half_thickness * given.waterline * FOIL_FULLNESS
        below = shares.count * _volume(keel, thick, bottom)
        below += _volume(rudder, 2.0 * rudder_half(rudder), centreline)
    _require_fitting_draught(given, centreline)
    return BoatGuess(given, found, keel, rudder, _metacentre(lines, whole, below, centreline))


def _canoe_body(given: FirstDimensions, whole: float, below: float) -> MainDimensions:
    """What is guessed from, less what keel and rudder displace [m^3]."""
    if below > 0.4 * whole:
        fits = 2.5 * below * given.water_density
        raise _disagree(
            f"A displacement of {given.displacement:,.0f} kg does not fit a {given.keel} keel "
            f"{given.draught:.2f} m deep on a waterline of {given.waterline:.2f} m: from "
            f"about {_up(fits, 100.0):,.0f} kg it fits."
        )
    return MainDimensions(
        given.hull_type,
        given.length,
        given.waterline,
        given.beam,
        whole - below,
        given.freeboards,
        given.transom,
    )


def lines_together(found: FoundLines) -> tuple[FloatArray, FloatArray]:
    """(n, 3) centreline, and (k, n, 3) [m] every line; their points share their stations."""
    every = np.array([line.points for line in found.lines])
    return every[0], every


def _bottom_at(lines: FloatArray, y: float) -> FloatArray:
    """(n, 3) where the bottom lies [m] at a half-breadth, by the lines (k, n, 3)."""
    at = [np.interp(y, lines[:, k, 1], lines[:, k, 2]) for k in range(lines.shape[1])]
    return np.column_stack([lines[0, :, 0], np.full(len(at), y), at])


def _keel_of(given: FirstDimensions, centreline: FloatArray, bottom: FloatArray) -> SideOutline:
    least, most = _draughts(given, centreline)
    under = UnderBody(0.0, given.waterline, bottom[:, 0], bottom[:, 2])
    return under.laid(KEELS[given.keel].outline, min(max(given.draught, least), most))


def _draughts(given: FirstDimensions, centreline: FloatArray) -> tuple[float, float]:
    """The least and most draught [m] with a keel below such a hull."""
    body = -float(centreline[:, 2].min())
    least = body + max(0.15, LEAST_SPAN * given.waterline)
    return least, body + MOST_SPAN * given.waterline


def _require_fitting_draught(given: FirstDimensions, centreline: FloatArray) -> None:
    least, most = _draughts(given, centreline)
    if least <= given.draught <= most:
        return
    is_shoal = not given.draught > most
    fits = f"from {_up(least, 0.01):.2f}" if is_shoal else f"up to {_up(most, 0.01) - 0.01:.2f}"
    raise _disagree(
        f"A draught of {given.draught:.2f} m does not fit her: the hull alone comes out "
        f"{-float(centreline[:, 2].min()):.2f} m deep, and with a {given.keel} keel {fits} m "
        "fits."
    )


def _rudder_of(given: FirstDimensions, centreline: FloatArray) -> SideOutline:
    shares = KEELS[given.keel]
    hull = float(np.interp(shares.rudder[0] * given.waterline, *centreline[:, [0, 2]].T))
    z = round(min(-shares.rudder_depth * given.draught, hull - 0.1), 3)
    return tuple((round(at * given.waterline, 2), z) for at in shares.rudder)


def rudder_half(rudder: SideOutline) -> float:
    """Half thickness [m] of a rudder of this side view."""
    return round(RUDDER_THICKNESS * (rudder[-1][0] - rudder[0][0]), 3)


def _volume(outline: SideOutline, thickness: float, bottom: FloatArray) -> float:
    """[m^3] of an appendage below the bottom it stands under, of a mean thickness [m]."""
    x, z = np.array(outline).T
    at = np.linspace(x[0], x[-1], 201)
    deep = np.interp(at, bottom[:, 0], bottom[:, 2]) - np.interp(at, x, z)
    return thickness * float(np.trapezoid(np.maximum(0.0, deep), at))


def _metacentre(lines: FloatArray, whole: float, below: float, centreline: FloatArray) -> float:
    """[m] height of the metacentre above the waterline; the buoyancy's centre by Morrish.

    Source: Morrish's formula, depth of B = (d / 2 + V / A) / 3 (from memory).
    """
    y, z = lines[:, :, 1], lines[:, :, 2]
    half = np.array([np.interp(0.0, z[:, k], y[:, k], left=0.0) for k in range(z.shape[1])])
    half = np.where(z[0] < 0.0, half, 0.0)
    x = centreline[:, 0]
    area, inertia = 2.0 * np.trapezoid(half, x), 2.0 / 3.0 * np.trapezoid(half**3, x)
    body = -float(centreline[:, 2].min())
    depth = (body / 2.0 + (whole - below) / area) / 3.0
    return float(inertia / whole - depth)


def would_not_stand(guess: BoatGuess) -> ModelError:
    """The refusal of a boat that would not stay upright, with the beam that does."""
    given = guess.given
    wider = given
    while wider.beam < 0.6 * given.length:
        wider = replace(wider, beam=wider.beam * WIDEN)
        if guess_of(wider).stands:
            break
    return _disagree(
        f"A beam of {given.beam:.2f} m does not fit a displacement of "
        f"{given.displacement:,.0f} kg: she would not stay upright. From about "
        f"{_up(wider.beam, 0.05):.2f} m she would."
    )


def _disagree(sentence: str) -> ModelError:
    return ModelError("dimensions-disagree", sentence)


def _up(value: float, step: float) -> float:
    return float(np.ceil(value / step - 1e-9) * step)
