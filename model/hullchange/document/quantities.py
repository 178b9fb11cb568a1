"""The kinds of number, name and place a document is made of, each with its plausible limits.

Numbers are numbers: a whole number is taken for a decimal one, a text or yes/no is not, and
what is not finite is refused.  The limits refuse what cannot be meant, not what is unusual.
"""

import re
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, JsonValue
from pydantic_core import PydanticCustomError

from hullchange.parts.fields import label

AXES = ("x", "y", "z")
TypicalOf = Literal["", "length", "beam", "mass"]
FARTHEST_M = 100.0
FINEST_READING_M = 1e-4  # no tape reads a freeboard more finely
HEAVIEST_KG = 200_000.0
_CONTROL_SIGNS = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")


def index_of(step: str) -> int:
    """The index a step of a path means in a list, -1 if it is none: x, y and z are 0, 1, 2."""
    return AXES.index(step) if step in AXES else int(step) if step.isdecimal() else -1


class Section(BaseModel):
    """A frozen part of the document; keys that are not known are refused."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, populate_by_name=False, field_title_generator=label
    )


def one_of(*choices: tuple[tuple[str, ...], ...]) -> ConfigDict:
    """Configuration of a section of which one of several groups of keys is given.

    Args:
        choices: for each choice there is, the groups of keys to choose from.
    """
    return ConfigDict(
        json_schema_extra={"one_of": [[list(keys) for keys in choice] for choice in choices]}
    )


def _rising(pair: tuple[float, float]) -> tuple[float, float]:
    if pair[0] >= pair[1]:
        raise PydanticCustomError(
            "not-rising", "runs backwards: write the smaller number first, [from, to]"
        )
    return pair


def readable(text: str) -> str:
    """A text without control signs: spreadsheets, drawings and paper cannot hold them."""
    if _CONTROL_SIGNS.search(text):
        raise PydanticCustomError(
            "control-sign", "contains a control character, which cannot be printed: delete it"
        )
    return text


def typical(low: float, high: float, of: TypicalOf = "") -> dict[str, JsonValue]:
    """What marks a number's typical range; beyond it `check` asks (common practice, no source).

    Args:
        low: lower end of the range, in the number's own unit.
        high: upper end, in the same unit.
        of: measure of the boat whose share both are.
    """
    ends: dict[str, JsonValue] = {"typical_minimum": low, "typical_maximum": high}
    return ends | {"typical_of": of} if of else ends


def is_absent(value: object) -> bool:
    """Whether a key that came after documents were signed is left out of what is written.

    So that an older document keeps its hash.
    """
    return value is None or value is False or value == {}


def is_zero(value: float) -> bool:
    """The same of a number that is zero [-] where it is not given."""
    return value == 0.0


Number = Annotated[float, Field(strict=True, allow_inf_nan=False)]
Coordinate = Annotated[Number, Field(ge=-FARTHEST_M, le=FARTHEST_M)]
Metres = Annotated[Number, Field(gt=0, le=FARTHEST_M)]
MetresOrNone = Annotated[Number, Field(ge=0, le=FARTHEST_M)]
PlateMillimetres = Annotated[Number, Field(gt=0, le=100)]
Degrees = Annotated[Number, Field(ge=-180, le=180)]
Kilograms = Annotated[Number, Field(ge=0, le=HEAVIEST_KG)]
Litres = Annotated[Number, Field(ge=0, le=HEAVIEST_KG)]
SquareMetres = Annotated[Number, Field(gt=0, le=100, json_schema_extra=typical(0.0005, 1.0))]
Density = Annotated[Number, Field(ge=1, le=23_000, json_schema_extra=typical(1200, 12_000))]
LiquidDensity = Annotated[Number, Field(ge=500, le=2000)]
WaterDensity = Annotated[Number, Field(ge=950, le=1250)]
Fraction = Annotated[Number, Field(ge=0, le=1)]
Percent = Annotated[Number, Field(ge=0, le=100)]

DocumentPoint = tuple[Coordinate, Coordinate, Coordinate]
DocumentFlatPoint = tuple[Coordinate, Coordinate]
Interval = Annotated[
    tuple[Annotated[Coordinate, Field(title="from")], Annotated[Coordinate, Field(title="to")]],
    AfterValidator(_rising),
]

NAME_PATTERN = r"^[a-z0-9]+(-[a-z0-9]+)*$"
Name = Annotated[str, Field(pattern=NAME_PATTERN, max_length=60)]
"""Lower case, hyphens, ASCII: a name is a step of a dotted path."""
Path = Annotated[str, Field(min_length=1, max_length=400)]
FreeText = Annotated[str, Field(min_length=1, max_length=2000), AfterValidator(readable)]
Title = Annotated[str, Field(min_length=1, max_length=120), AfterValidator(readable)]
OwnersNote = Annotated[FreeText | None, Field(description="anything worth noting")]

BoatStage = Literal["as_found", "refit"]
ChangeStage = Literal["proposed", "agreed", "cut", "fitted"]
ProvenanceWord = Literal["weighed", "drawn", "catalogue", "guessed"]


class Box(Section):
    """A box along the boat's axes, [from, to] in metres each way."""

    x: Interval = Field(description="along, aft of the forward perpendicular")
    y: Interval = Field(description="across, to starboard")
    z: Interval = Field(description="up, above the design waterline")


class Reach(Section):
    """How far a weight may be shifted, [from, to] in metres; a way not named is fixed."""

    x: Interval | None = Field(default=None, description="how far along")
    y: Interval | None = Field(default=None, description="how far across")
    z: Interval | None = Field(default=None, description="how far up and down")
