"""The survey as an answer: mass and place from freeboards, and how well the readings agree."""

import numpy as np

from hullchange.afloat.floats_in_conditions import FloatInCondition
from hullchange.afloat.slopes import plus_minus
from hullchange.answer.survey import ResidualResult, SurveyResult
from hullchange.boat.boat import Boat
from hullchange.survey.as_found import AsSurveyed, amidships
from hullchange.units import deg_of_rad, mm_of_m


def survey_of(boat: Boat, as_surveyed: AsSurveyed, row: FloatInCondition) -> SurveyResult:
    """The boat as found.

    Args:
        boat: everything built.
        as_surveyed: the result of the readings.
        row: the boat as found in the state she was surveyed in.
    """
    fitted, afloat = as_surveyed.fitted, as_surveyed.afloat
    x, y, z = (float(c) for c in afloat.numbers[1:] / afloat.numbers[0])
    length = boat.document.hull.length_waterline_m
    plane = fitted.plane
    return SurveyResult(
        displacement_kg=float(afloat.numbers[0]),
        centre_of_gravity_m=(x, y, z),
        plus_minus=plus_minus(row.spread.covariance),
        hull_shape_displacement_kg=float(np.linalg.norm(as_surveyed.shape.as_found[0])),
        sinkage_mm=mm_of_m(plane.sinkage(amidships(boat))),
        trim_mm=mm_of_m(plane.trim_between_perpendiculars(length)),
        heel_deg=deg_of_rad(plane.heel),
        gm_m=row.rest.upright.gm_transverse,
        residuals=tuple(
            ResidualResult(
                mark=reading.mark,
                side=reading.side,
                freeboard_mm=mm_of_m(reading.freeboard),
                residual_mm=mm_of_m(float(residual)),
            )
            for reading, residual in zip(as_surveyed.readings, fitted.residuals, strict=True)
        ),
        chi_square=fitted.chi_square,
        degrees_of_freedom=fitted.degrees_of_freedom,
        agreement=fitted.agreement,
        vcg_from=as_surveyed.vcg_from,
    )
