"""The hull's hydrostatics, as an answer tells them."""

from hullchange.answer.wire import Wire


class HullResult(Wire):
    """The hull with keel and skeg, upright at the design waterline, in the document's water."""

    length_m: float
    length_waterline_m: float
    beam_m: float
    beam_waterline_m: float
    draught_m: float
    displacement_at_dwl_kg: float
    kg_per_cm: float
    trim_moment_kgm_per_cm: float
    lcb_m: float
    lcf_m: float
    vcb_m: float
    km_m: float
    km_longitudinal_m: float
    waterplane_area_m2: float
    wetted_area_m2: float
    block_coefficient: float
    prismatic_coefficient: float
    midship_coefficient: float
    waterplane_coefficient: float
