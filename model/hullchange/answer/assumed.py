"""What is assumed of a boat and not measured, as an answer, with what it costs."""

from pydantic import Field

from hullchange.answer.wire import Wire


class AssumedPlusMinus(Wire):
    """What an assumption adds to plus/minus: one standard deviation of each."""

    displacement_kg: float
    trim_mm: float
    gm_m: float


class AssumedResult(Wire):
    """Values of one kind that stand in for what is not measured yet."""

    path: str = Field(description="path in the document of what is to be measured")
    words: str
    figures: int = Field(
        description="how many figures of the present boat are assumed like this"
    )
    plus_minus: AssumedPlusMinus | None = Field(
        description="of the boat as surveyed; null where it cannot be separated, or where the "
        "value is invented and its error is unknown"
    )


class OwnFigures(Wire):
    """How far the boat is the owner's own."""

    yours: int = Field(description="figures of the present boat that are not assumed")
    all: int
    next: AssumedResult | None = Field(
        description="what would help most; null: nothing is assumed"
    )
