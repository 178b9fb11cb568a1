"""Righting levers over the circle of heel, and what comes of a body that counts for a while."""

from dataclasses import replace

import numpy as np

from hullchange.floating.crossings import Reached, heights_of
from hullchange.floating.envelope import Envelope
from hullchange.floating.equilibrium import Equilibrium, Loading
from hullchange.floating.flooded import FloodedBoat, Flooding
from hullchange.floating.heeled import HeldBoat
from hullchange.floating.kernel.shapes import HEEL
from hullchange.floating.lever_curve import ImmersionAngle, LeverCurve
from hullchange.geometry.frame import FloatArray, WaterPlane


def righting_levers(
    envelope: Envelope,
    loading: Loading,
    water_density: float,
    heels: FloatArray,
    start: WaterPlane | None = None,
) -> LeverCurve:
    """The levers of a boat held at one heel after the other, free to sink and trim.

    Her displacement stays, her liquids move. Her trim is followed from the start outwards to
    both sides; where she has two trims at a heel it is the one she comes to that way. A side
    ends early where she has none, because she goes over her end.

    Args:
        envelope: what floats.
        loading: what it weighs.
        water_density: [kg/m^3].
        heels: (n,) [rad] rising, positive to starboard; a whole circle is -pi to pi.
        start: where to begin; upright by default.

    Raises:
        ModelError: ``no-mass``, ``no-volume`` or ``sinks``; ``no-equilibrium`` where already
            at the start she has no trim to rest at.
    """
    return _swept(HeldBoat(envelope, loading, water_density), heels, start)


def levers_without(
    curve: LeverCurve, envelope: Envelope, lost: FloatArray, heels: FloatArray
) -> LeverCurve:
    """The levers of a boat some of whose pieces are left off: while these are dry, her own.

    Args:
        curve: of the whole boat.
        envelope: what floats without these pieces.
        lost: (m, 3) [m] their corners.
        heels: (n,) [rad] rising, among those of the curve.

    Raises:
        ModelError: as `righting_levers`.
    """
    boat = replace(curve.boats[0], envelope=envelope)
    own = curve.rows[np.isin(curve.heels, heels)]
    wet = np.flatnonzero(heights_of(lost)(own)[0].min(axis=1) <= 0.0)
    upright = int(np.searchsorted(own[:, HEEL], 0.0))
    after, before = wet[wet >= upright], wet[wet < upright]
    dry = own[before[-1] + 1 if len(before) else 0 : after[0] if len(after) else len(own)]
    if not len(dry):
        return _swept(boat, heels, curve.at(0.0).plane)
    to_port = boat.along(dry[0], heels[heels < dry[0, HEEL]][::-1])[::-1]
    to_starboard = boat.along(dry[-1], heels[heels > dry[-1, HEEL]])
    rows = np.concatenate([to_port, dry, to_starboard])
    return LeverCurve((boat,), np.zeros(len(rows), np.int32), rows)


def flooded_levers(
    envelope: Envelope,
    loading: Loading,
    water_density: float,
    heels: FloatArray,
    flooding: Flooding,
    start: WaterPlane | None = None,
) -> LeverCurve:
    """The levers of a boat whose wells at every heel hold as much water as they can there.

    Args:
        envelope: what floats, the wells not taken off.
        loading: what it weighs without that water.
        water_density: [kg/m^3].
        heels: (n,) [rad] rising, positive to starboard.
        flooding: the water in the wells in an attitude.
        start: where to begin; upright by default.

    Raises:
        ModelError: as `righting_levers`. A side ends early where she sinks.
    """
    return _swept(FloodedBoat(envelope, loading, water_density, flooding), heels, start)


def with_virtual_rise(rest: Equilibrium) -> Loading:
    """What a boat weighs with her liquids frozen as they lie, and G raised by their surfaces.

    Levers of it are the usual approximation to those with liquids that move: a cross-check.

    Args:
        rest: held upright or at rest.
    """
    rise = rest.gm_transverse_solid - rest.gm_transverse
    return Loading(rest.mass, rest.centre_of_gravity + rise * rest.plane.up)


def stepped(
    counted: LeverCurve, lost: LeverCurve, starboard: ImmersionAngle, port: ImmersionAngle
) -> LeverCurve:
    """The levers of a boat with a body that counts until its own opening goes under.

    There the lever steps from the one curve to the other. Both may be stepped themselves: of a
    house and a well, step the house with the well, the house without the well, and then the
    one of these to the other.

    Args:
        counted: with the body; a well counts as closed at its coaming.
        lost: without it, of the same weight, at the same heels.
        starboard: where to starboard the opening goes under, as ``counted`` says.
        port: where to port.
    """
    low = port.at.heel if isinstance(port, Reached) else -np.inf
    high = starboard.at.heel if isinstance(starboard, Reached) else np.inf
    pieces = [
        lost.between(-np.inf, low),
        counted.between(low, high),
        lost.between(high, np.inf),
    ]
    shift = len(counted.boats)
    numbers = [pieces[0].boat + shift, pieces[1].boat, pieces[2].boat + shift]
    return LeverCurve(
        counted.boats + lost.boats,
        np.concatenate(numbers),
        np.concatenate([piece.rows for piece in pieces]),
    )


def _swept(boat: HeldBoat, heels: FloatArray, start: WaterPlane | None) -> LeverCurve:
    wanted = np.asarray(heels, dtype=np.float64)
    assert (np.diff(wanted) > 0.0).all(), "heels must rise"
    first = boat.near(start)
    split = int(np.searchsorted(wanted, first[HEEL]))
    to_port = boat.along(first, wanted[:split][::-1])[::-1]
    to_starboard = boat.along(first, wanted[split:])
    rows = np.concatenate([to_port, to_starboard])
    return LeverCurve((boat,), np.zeros(len(rows), np.int32), rows)
