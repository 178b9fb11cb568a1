"""What was measured afloat, as an answer: freeboards, the boat as found, timed rolls."""

from pydantic import Field

from hullchange.answer.uncertainty import PlusMinus
from hullchange.answer.wire import Point, Side, Wire


class ResidualResult(Wire):
    """How far a freeboard reading lies from the fitted plane."""

    mark: str
    side: Side
    freeboard_mm: float
    residual_mm: float


class SurveyResult(Wire):
    """The boat as found, from freeboards."""

    displacement_kg: float
    centre_of_gravity_m: Point
    plus_minus: PlusMinus
    hull_shape_displacement_kg: float = Field(description="share of plus/minus from the lines")
    sinkage_mm: float
    trim_mm: float
    heel_deg: float
    gm_m: float
    residuals: tuple[ResidualResult, ...]
    chi_square: float
    degrees_of_freedom: int
    agreement: str = Field(description="in words: whether the readings agree with the hull")
    vcg_from: str


class RollsResult(Wire):
    """Timed rolls: they tell by how much her GM has changed, never how large it is."""

    before_period_s: float | None = Field(description="of a full swing")
    before_plus_minus_s: float | None
    after_period_s: float | None
    after_plus_minus_s: float | None
    gm_ratio: float | None = Field(description="GM after over GM before, by the rolls alone")
    gm_ratio_plus_minus: float | None
    gm_ratio_expected: float | None = Field(
        description="the same, calculated in the reference condition"
    )
