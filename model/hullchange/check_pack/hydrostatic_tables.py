"""Hydrostatics over draught and trim, and cross curves of levers: for an engineer's sums."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan

import numpy as np

from hullchange.afloat.any_displacement import without_houses
from hullchange.afloat.at_rest import envelope_of, rest_or_why
from hullchange.answer.wire import Stage
from hullchange.boat.boat import Boat
from hullchange.boat.conditions import conditions_of
from hullchange.boat.variants import Variant, as_found, refit
from hullchange.floating.envelope import Envelope
from hullchange.floating.equilibrium import Equilibrium, Loading
from hullchange.floating.hydrostatics import CM_PER_M, kg_per_cm
from hullchange.floating.levers import righting_levers
from hullchange.geometry.frame import FloatArray, WaterPlane
from hullchange.survey.as_found import surveyed

SINKAGES = tuple(round(-0.20 + 0.05 * k, 2) for k in range(11))
TRIMS = (-0.2, -0.1, 0.0, 0.1, 0.2)
"""[m] between perpendiculars, positive by the stern."""
LIGHTEST, HEAVIEST, DISPLACEMENTS = 0.85, 1.2, 8
HEELS_DEG = tuple(10.0 * k for k in range(10))


@dataclass(frozen=True)
class Waterline:
    """What a boat displaces at a waterline, held at no heel.

    Attributes:
        sinkage: [m] amidships, from the design waterline, positive down.
        trim: [m] between perpendiculars, positive by the stern.
        displacement: [kg].
        lcb: [m] x of the centre of buoyancy.
        vcb: [m] z of it above the design waterline.
        lcf: [m] x of the centre of the waterplane.
        waterplane_area: [m^2].
        km_transverse: [m] z of the metacentre above the design waterline.
        km_longitudinal: [m] the same lengthwise.
        kg_per_cm: [kg/cm] that sinks her a centimetre.
        trim_moment_per_cm: [kg m/cm] with the longitudinal metacentre above buoyancy.
    """

    sinkage: float
    trim: float
    displacement: float
    lcb: float
    vcb: float
    lcf: float
    waterplane_area: float
    km_transverse: float
    km_longitudinal: float
    kg_per_cm: float
    trim_moment_per_cm: float


@dataclass(frozen=True, eq=False)
class CrossCurve:
    """Levers of one displacement with her weight taken at the design waterline.

    A lever for a centre of gravity z [m] above the design waterline is ``kn - z sin(heel)``.

    Attributes:
        house_counted: whether her house floats.
        displacement: [kg].
        heels: (n,) [rad] to starboard; fewer than asked where she goes over her end.
        kn: (n,) [m].
        trims: (n,) [rad] positive by the stern, that she takes.
    """

    house_counted: bool
    displacement: float
    heels: FloatArray
    kn: FloatArray
    trims: FloatArray


@dataclass(frozen=True, eq=False)
class CrossCurves:
    """Cross curves of a boat.

    Attributes:
        centre: (3,) [m] of gravity with which she trims, of her reference condition, on the
            centreline.
        water_density: [kg/m^3].
        curves: by rising displacement, the house counted first.
        sunk: displacements [kg] at which she does not float without her house, or at all.
    """

    centre: FloatArray
    water_density: float
    curves: tuple[CrossCurve, ...]
    sunk: tuple[float, ...]


def waterlines(
    envelope: Envelope,
    length: float,
    water_density: float,
    sinkages: tuple[float, ...] = SINKAGES,
    trims: tuple[float, ...] = TRIMS,
) -> tuple[Waterline, ...]:
    """Hydrostatics over sinkage and trim.

    Args:
        envelope: what floats.
        length: [m] between perpendiculars; sinkage is read half-way.
        water_density: [kg/m^3].
        sinkages: [m].
        trims: [m].

    Raises:
        ModelError: ``no-volume`` or ``no-waterplane`` where the water does not cut her.
    """
    return tuple(
        _waterline(envelope, length, water_density, sinkage, trim)
        for sinkage in sinkages
        for trim in trims
    )


def hydrostatic_tables(boat: Boat) -> dict[Stage, tuple[Waterline, ...]]:
    """Hydrostatics over sinkage and trim of the boat as found and of the refit."""
    length, density = boat.document.hull.length_waterline_m, boat.document.water.density_kg_m3
    variants: tuple[Variant, ...] = (as_found(boat), refit(boat))
    return {v.stage: waterlines(envelope_of(boat, v), length, density) for v in variants}


def cross_curves(
    envelope: Envelope, bare: Envelope, at: Loading, water_density: float, light: float
) -> CrossCurves:
    """Levers over displacement and heel, her trim free.

    Args:
        envelope: what floats.
        bare: the same without her house.
        at: where her weight is taken to lie when she trims.
        water_density: [kg/m^3].
        light: [kg] the displacement that the others are shares of.
    """
    masses = (light * np.linspace(LIGHTEST, HEAVIEST, DISPLACEMENTS)).tolist()
    centre = at.centre * [1.0, 0.0, 1.0]
    curves, sunk = [], []
    for floats, counted in ((envelope, True), (bare, False)):
        for mass in masses:
            if mass >= floats.volume * water_density:
                sunk.append(mass)
                continue
            curves.append(_cross_curve(floats, Loading(mass, centre), water_density, counted))
    return CrossCurves(centre, water_density, tuple(curves), tuple(sorted(set(sunk))))


def cross_curves_of(boat: Boat) -> CrossCurves:
    """The refit's, from her lightest condition; she trims as in her reference condition."""
    variant = refit(boat)
    rests = dict(_rests(boat, variant))
    reference = rests.get(boat.document.reference_condition) or next(iter(rests.values()))
    envelope = envelope_of(boat, variant)
    return cross_curves(
        envelope,
        without_houses(boat, envelope),
        Loading(reference.mass, reference.centre_of_gravity),
        boat.document.water.density_kg_m3,
        min(rest.mass for rest in rests.values()),
    )


def _rests(boat: Boat, variant: Variant) -> Iterator[tuple[str, Equilibrium]]:
    as_surveyed = surveyed(boat)
    for condition in conditions_of(boat.document).values():
        rest = rest_or_why(boat, as_surveyed, variant, condition)
        if isinstance(rest, Equilibrium):
            yield condition.id, rest


def _cross_curve(
    envelope: Envelope, loading: Loading, water_density: float, counted: bool
) -> CrossCurve:
    curve = righting_levers(envelope, loading, water_density, np.radians(HEELS_DEG))
    kn = curve.gz + loading.centre[2] * np.sin(curve.heels)
    return CrossCurve(counted, loading.mass, curve.heels, kn, curve.trims)


def _waterline(
    envelope: Envelope, length: float, density: float, sinkage: float, trim: float
) -> Waterline:
    plane = WaterPlane.at(sinkage, atan(trim / length), 0.0, length / 2.0)
    below = envelope.integrals(plane)
    centre, inertia = below.buoyancy_centre, below.waterplane_inertia
    up = plane.up
    along = np.array([up[2], 0.0, -up[0]])
    bm = float(inertia[1, 1]) / below.volume
    bm_long = float(along @ inertia @ along) / below.volume
    mass = below.volume * density
    return Waterline(
        sinkage=sinkage,
        trim=trim,
        displacement=mass,
        lcb=float(centre[0]),
        vcb=float(centre[2]),
        lcf=float(below.flotation_centre[0]),
        waterplane_area=below.waterplane_area,
        km_transverse=float(centre[2] + bm * up[2]),
        km_longitudinal=float(centre[2] + bm_long * up[2]),
        kg_per_cm=kg_per_cm(below, density),
        trim_moment_per_cm=mass * bm_long / length / CM_PER_M,
    )
