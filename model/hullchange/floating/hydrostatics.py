"""Hydrostatics of an upright hull at a waterline, and the coefficients of its canoe body."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hullchange.errors import ModelError
from hullchange.floating.envelope import Envelope
from hullchange.floating.integrals import PlaneIntegrals, integrals_below
from hullchange.geometry.frame import FloatArray, WaterPlane, up_vector
from hullchange.geometry.surface import Surface

CM_PER_M = 100.0

LEVEL = 1e-300
"""[m] An edge that falls by less is level: only a division by zero is kept away."""


@dataclass(frozen=True)
class Hydrostatics:
    """An upright hull at a waterline. Heights are above the design waterline.

    Attributes:
        displacement: [kg].
        lcb: [m] x of the centre of buoyancy.
        vcb: [m] z of the centre of buoyancy.
        lcf: [m] x of the centre of the waterplane.
        waterplane_area: [m^2].
        km_transverse: [m] height of the metacentre.
        km_longitudinal: [m] height of the longitudinal metacentre.
        kg_per_cm: [kg/cm] that sinks her a centimetre.
        trim_moment_per_cm: [kg m/cm] that trims her a centimetre between perpendiculars, with
            the longitudinal metacentre above buoyancy, not gravity, as is usual for a hull
            alone.
        length_waterline: [m] of the canoe body.
        beam_waterline: [m] of the canoe body.
        draught: [m] with keel and all.
        wetted_area: [m^2] of all that water touches.
        block_coefficient: of the canoe body, as the others.
        prismatic_coefficient: by the section halfway along the waterline.
        midship_coefficient: of that section, by breadth and draught of the canoe body.
        waterplane_coefficient: by length and breadth of the waterline.
    """

    displacement: float
    lcb: float
    vcb: float
    lcf: float
    waterplane_area: float
    km_transverse: float
    km_longitudinal: float
    kg_per_cm: float
    trim_moment_per_cm: float
    length_waterline: float
    beam_waterline: float
    draught: float
    wetted_area: float
    block_coefficient: float
    prismatic_coefficient: float
    midship_coefficient: float
    waterplane_coefficient: float


def hydrostatics(
    envelope: Envelope,
    canoe_body: Surface,
    length: float,
    water_density: float,
    waterline_z: float = 0.0,
) -> Hydrostatics:
    """The hydrostatics of an upright hull.

    Args:
        envelope: hull with keel and whatever else is under water.
        canoe_body: the hull alone, for its coefficients.
        length: [m] between perpendiculars.
        water_density: [kg/m^3].
        waterline_z: [m] height of the water.

    Raises:
        ModelError: ``no-volume`` or ``no-waterplane`` where the water does not reach the hull
            or closes over it.
    """
    plane = WaterPlane(up_vector(0.0, 0.0), waterline_z)
    whole = envelope.integrals(plane)
    centre, inertia = whole.buoyancy_centre, whole.waterplane_inertia
    bm_longitudinal = float(inertia[0, 0] / whole.volume)
    return Hydrostatics(
        displacement=whole.volume * water_density,
        lcb=float(centre[0]),
        vcb=float(centre[2]),
        lcf=float(whole.flotation_centre[0]),
        waterplane_area=whole.waterplane_area,
        km_transverse=float(centre[2] + inertia[1, 1] / whole.volume),
        km_longitudinal=float(centre[2]) + bm_longitudinal,
        kg_per_cm=kg_per_cm(whole, water_density),
        trim_moment_per_cm=whole.volume * water_density * bm_longitudinal / length / CM_PER_M,
        draught=waterline_z - float(envelope.bounds[0, 2]),
        wetted_area=integrals_below(envelope.outside, plane).wetted_area,
        **_form(canoe_body, plane),
    )


def kg_per_cm(integrals: PlaneIntegrals, water_density: float) -> float:
    """[kg/cm] that sinks a boat a centimetre, level.

    Args:
        integrals: of the boat below the water.
        water_density: [kg/m^3].
    """
    return integrals.waterplane_area * water_density / CM_PER_M


def waterline_outline(surface: Surface, plane: WaterPlane) -> FloatArray:
    """(k, 2, 3) [m] edges along which a plane cuts a surface, its inside on their left.

    As seen from above; a corner at the plane's own height counts as dry.
    """
    heights = plane.height_above(surface.vertices)
    wet = (heights < 0.0)[surface.faces]
    starts = _crossings(surface, heights, wet & ~np.roll(wet, -1, axis=1))
    ends = _crossings(surface, heights, ~wet & np.roll(wet, -1, axis=1))
    return np.stack([ends, starts], axis=1)


def section_area(surface: Surface, x: float, below_z: float) -> float:
    """[m^2] of the section of a body at a station, as far as it lies below a height.

    Args:
        surface: closed.
        x: [m] the station.
        below_z: [m].
    """
    edges = waterline_outline(surface, WaterPlane(np.array([1.0, 0.0, 0.0]), x))
    y, depth = edges[:, :, 1], below_z - edges[:, :, 2]
    # the part of each edge below the height, as shares of the edge
    fall = depth[:, 1] - depth[:, 0]
    level = np.abs(fall) < LEVEL
    share = np.clip(-depth[:, 0] / np.where(level, 1.0, fall), 0.0, 1.0)
    first = np.where(depth[:, 0] < 0.0, share, 0.0)
    last = np.where(depth[:, 1] < 0.0, share, 1.0)
    middle = depth[:, 0] + fall * (first + last) / 2.0
    return abs(float((middle * (last - first) * (y[:, 1] - y[:, 0])).sum()))


def _crossings(surface: Surface, heights: FloatArray, along: NDArray[np.bool_]) -> FloatArray:
    """(k, 3) where the plane crosses one edge of each face, the edge marked in ``along``."""
    face, first = np.nonzero(along)
    a = surface.faces[face, first]
    b = surface.faces[face, (first + 1) % 3]
    part = heights[a] / (heights[a] - heights[b])
    start = surface.vertices[a]
    return start + (surface.vertices[b] - start) * part[:, None]


def _form(canoe_body: Surface, plane: WaterPlane) -> dict[str, float]:
    """The dimensions at the waterline and the coefficients made from them."""
    edges = waterline_outline(canoe_body, plane)
    if not len(edges):
        raise ModelError("no-waterplane", "The waterplane does not cut the hull.")
    low, high = edges.min(axis=(0, 1)), edges.max(axis=(0, 1))
    length, beam = (float(extent) for extent in (high - low)[:2])
    draught = plane.offset - float(canoe_body.bounds[0, 2])
    below = integrals_below(canoe_body, plane)
    midship = section_area(canoe_body, float(low[0] + high[0]) / 2.0, plane.offset)
    return {
        "length_waterline": length,
        "beam_waterline": beam,
        "block_coefficient": below.volume / (length * beam * draught),
        "prismatic_coefficient": below.volume / (midship * length),
        "midship_coefficient": midship / (beam * draught),
        "waterplane_coefficient": below.waterplane_area / (length * beam),
    }
