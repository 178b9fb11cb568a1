"""Hydrostatics of the hull by itself, as they cross the edge."""

from hullchange.answer.hull import HullResult
from hullchange.boat.boat import Boat, hull_bodies
from hullchange.cache import cached
from hullchange.document.document import Document
from hullchange.floating.envelope import Envelope
from hullchange.floating.hydrostatics import Hydrostatics, hydrostatics
from hullchange.hull.hull import Hull


def hull_result(boat: Boat) -> HullResult:
    """Hull, keel and skeg upright at the design waterline."""
    return hull_alone(boat.hull, boat.document)


def hull_alone(hull: Hull, document: Document) -> HullResult:
    """The same before anything is built on her."""
    length, water = document.hull.length_waterline_m, document.water.density_kg_m3
    at_rest = _at_rest(hull, length, water)
    return HullResult(
        length_m=hull.length,
        length_waterline_m=at_rest.length_waterline,
        beam_m=hull.beam,
        beam_waterline_m=at_rest.beam_waterline,
        draught_m=at_rest.draught,
        displacement_at_dwl_kg=at_rest.displacement,
        kg_per_cm=at_rest.kg_per_cm,
        trim_moment_kgm_per_cm=at_rest.trim_moment_per_cm,
        lcb_m=at_rest.lcb,
        lcf_m=at_rest.lcf,
        vcb_m=at_rest.vcb,
        km_m=at_rest.km_transverse,
        km_longitudinal_m=at_rest.km_longitudinal,
        waterplane_area_m2=at_rest.waterplane_area,
        wetted_area_m2=at_rest.wetted_area,
        block_coefficient=at_rest.block_coefficient,
        prismatic_coefficient=at_rest.prismatic_coefficient,
        midship_coefficient=at_rest.midship_coefficient,
        waterplane_coefficient=at_rest.waterplane_coefficient,
    )


@cached(8)
def _at_rest(hull: Hull, length: float, water: float) -> Hydrostatics:
    return hydrostatics(Envelope(hull_bodies(hull)), hull.surface, length, water)
