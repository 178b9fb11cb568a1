"""The survey as an answer: mass and place from freeboards, and how well the readings agree."""

from math import sqrt

from hullchange.study.as_found import Found, amidships
from hullchange.study.boat import Boat
from hullchange.study.results import ResidualResult, SurveyResult
from hullchange.study.rows import Row
from hullchange.study.spread_results import PlusMinus
from hullchange.units import deg_of_rad, mm_of_m


def survey_of(boat: Boat, as_surveyed: Found, row: Row) -> SurveyResult:
    """The boat as found.

    Args:
        boat: everything built.
        as_surveyed: what the readings say.
        row: the boat as found in the state she was surveyed in.
    """
    fitted, afloat = as_surveyed.fitted, as_surveyed.afloat
    x, y, z = (float(c) for c in afloat.numbers[1:] / afloat.numbers[0])
    length = boat.document.hull.length_waterline_m
    plane = fitted.plane
    return SurveyResult(
        displacement_kg=float(afloat.numbers[0]),
        centre_of_gravity_m=(x, y, z),
        plus_minus=_spread(boat, as_surveyed, row),
        hull_shape_displacement_kg=afloat.shape_sd_mass,
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


def _spread(boat: Boat, as_surveyed: Found, row: Row) -> PlusMinus:
    """Weight and place from all errors; the water's place from the readings alone."""
    afloat, of_plane = as_surveyed.afloat, as_surveyed.fitted.covariance
    length = boat.document.hull.length_waterline_m
    sd = row.spread.slopes.covariance(afloat.covariance).diagonal()
    return PlusMinus(
        displacement_kg=sqrt(sd[0]),
        lcg_m=sqrt(sd[1]),
        tcg_m=sqrt(sd[2]),
        vcg_m=sqrt(sd[3]),
        sinkage_mm=mm_of_m(sqrt(of_plane[0, 0])),
        trim_mm=mm_of_m(sqrt(of_plane[1, 1]) * length),
        heel_deg=deg_of_rad(sqrt(of_plane[2, 2])),
        gm_m=sqrt(sd[7]),
    )
