"""What the owner asks of a result, what would meet it, and what is usual to ask."""

from typing import Literal

from pydantic import Field

from hullchange.answer.heeled import CriterionVerdict
from hullchange.answer.wire import Stage, Wire

Direction = Literal["forward", "aft", "to port", "to starboard", "down", "off"]


class MoveResult(Wire):
    """A weight that may move, and what moving it within its range would bring, by estimate."""

    path: str = Field(description="of its place in the document, x first")
    name: str = Field(description="in plain words")
    mass_kg: float
    from_x_m: float
    to_x_m: float = Field(description="as far as is needed, or as its range goes")
    value: float = Field(description="the result then, in the unit of the target")
    is_enough: bool = Field(description="whether the target is met by this move alone")


class WayOutResult(Wire):
    """What would bring a missed result back, by estimate: small changes of one float."""

    direction: Direction = Field(description="in which weight would have to go")
    moment_kgm: float | None = Field(description="mass times distance; null where it comes off")
    mass_kg: float | None = Field(description="that would have to come off; null where moved")
    moves: tuple[MoveResult, ...] = Field(
        default=(), description="weights that may move so, most helpful first"
    )


class TargetResult(Wire):
    """What the owner wants of a result."""

    id: str
    result: str = Field(
        description="as in the document; a freeboard asked of no side is given one, the worse, "
        "where the boat lists half a degree or more"
    )
    condition: str
    stage: Stage = Field(default="refit", description="which boat it is for")
    value: float | None
    unit: str
    at_least: float | None
    at_most: float | None
    state: CriterionVerdict | Literal["missed", "not answered yet"] = Field(
        description="by the value, with its doubt beside it; to be confirmed: it depends on "
        "assumed values, or could not be calculated"
    )
    plus_minus: float | None = Field(
        default=None, description="one standard deviation of the value; null: not known"
    )
    margin_sd: float | None = Field(
        default=None, description="standard deviations to the nearest bound, inside positive"
    )
    probability: float | None = Field(default=None, description="that it is met, 0 to 1")
    way_out: WayOutResult | None = Field(
        default=None, description="null where it is met, or no weight alone would do it"
    )


class UsualTarget(Wire):
    """What is usual to ask of a result that no target names; common practice, no source."""

    name: str = Field(description="a name for it")
    result: str
    condition: str
    stage: Stage
    unit: str
    at_least: float | None
    at_most: float | None
