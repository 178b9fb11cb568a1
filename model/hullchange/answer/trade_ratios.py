"""Trade ratios, old beside new: frozen values as the answer has them."""

from pydantic import Field

from hullchange.answer.wire import Wire


class RatioResult(Wire):
    """A ratio of both boats: a comparison, not a measure of safety."""

    id: str
    title: str
    as_found: float | None = Field(description="null where `without` says why")
    refit: float | None
    without: str = Field(description="why there is no figure, or empty")
    formula: str
    made_in: str = Field(description="units, on which the figure depends")
    usual: str = Field(description="what is commonly said of it")
    grade: str
    seen: str


class TradeResult(Wire):
    """The ratios owners quote."""

    condition: str
    ratios: tuple[RatioResult, ...]
    ballast_from: tuple[str, ...] = Field(description="paths of what was counted as ballast")
