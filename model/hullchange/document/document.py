"""The refit document: one boat, as found and as she is to be.

Attribute names are the keys of the file, but ``from`` is ``from_``.  What stands beside a value
in words (a water by name, one number for an even thickness) is read into numbers.
"""

import re
from collections.abc import Mapping
from operator import not_
from typing import Annotated, Literal

from pydantic import Field, JsonValue, model_validator
from pydantic_core import PydanticCustomError

from hullchange.document.items import (
    Added,
    DocumentOpening,
    DocumentTank,
    DocumentWeight,
    Load,
    Moved,
    Removal,
    Void,
)
from hullchange.document.photographs import MOST_PHOTOGRAPHS, Photograph
from hullchange.document.quantities import (
    NAME_PATTERN,
    BoatStage,
    ChangeStage,
    Litres,
    Name,
    Number,
    OwnersNote,
    Path,
    Percent,
    Section,
    Title,
    is_absent,
    typical,
)
from hullchange.document.sections import DocumentBoat, DocumentHull, Rig, Survey, Water
from hullchange.document.stock import CuttingTerms, Stock
from hullchange.materials import ONE_DATUM_MM, ONE_SCALE_PERCENT, SEA_WATER_DENSITY
from hullchange.parts.registry import AnyPart
from hullchange.person.parameters import Person
from hullchange.plain_words import SURVEY

Bounds = tuple[float, float]
DEFAULT_CONDITION = SURVEY
_Range = tuple[Annotated[Number, Field(title="from")], Annotated[Number, Field(title="to")]]
_IN_ITS_UNIT = "in the result's own unit"
_IN_MM = "in millimetres, for a freeboard or a result in mm"


class Change(Section):
    """What is removed, added and moved together."""

    stage: ChangeStage = Field(default="proposed", description="how far the work is")
    replaces: Path | None = Field(default=None, description="existing part it replaces")
    removes: Mapping[Name, Removal] = Field(default={}, description="weights that come off")
    parts: Mapping[Name, AnyPart] = Field(default={}, description="new steel")
    adds: Mapping[Name, Added] = Field(default={}, description="weights that go on")
    moves: Mapping[Name, Moved] = Field(default={}, description="weights that move")
    note: OwnersNote = None


class DocumentCondition(Section):
    """A loading condition: what differs from the boat as surveyed."""

    like: Name | None = Field(default=None, description="condition it starts from")
    boat: BoatStage | None = Field(default=None, description="for one boat only")
    water: Water | None = Field(default=None, description="the boat's own if left out")
    without: tuple[Name, ...] = Field(default=(), description="names under survey.aboard")
    fills: Mapping[Name, Litres] = Field(default={}, description="litres per tank")
    loads: Mapping[Name, Load] = Field(default={}, description="crew, stores, gear")
    floods: tuple[Path, ...] = Field(
        default=(),
        description="paths of cockpits that fill with water, such as existing.old-cockpit "
        "(each boat floods the cockpit it has), or of compartments open to the "
        "sea, such as compartments.forepeak",
    )
    boards: Literal["in", "out"] | None = Field(
        default=None,
        description="of the companionway; if out, as by default, water spills below",
    )
    note: OwnersNote = None


class Target(Section):
    """What the owner wants of a result; bounds are in the result's own unit."""

    result: Path = Field(
        description="a figure of a condition, such as gm_m; a freeboard without a side is the "
        "mean of both, or the worse one where she lists half a degree or more"
    )
    condition: Name = Field(description="a condition of this document")
    boat: BoatStage = Field(default="refit", description="which boat it is for")
    between: _Range | None = Field(default=None, description=_IN_ITS_UNIT)
    at_least: Number | None = Field(default=None, description=_IN_ITS_UNIT)
    at_most: Number | None = Field(default=None, description=_IN_ITS_UNIT)
    between_mm: _Range | None = Field(default=None, title="between, in mm", description=_IN_MM)
    at_least_mm: Number | None = Field(
        default=None, title="at least, in mm", description=_IN_MM
    )
    at_most_mm: Number | None = Field(default=None, title="at most, in mm", description=_IN_MM)
    note: OwnersNote = None

    @model_validator(mode="after")
    def _is_bounded(self) -> "Target":
        low, high = self.bounds()
        if low > high:
            raise PydanticCustomError(
                "no-room",
                "can never be met: at least {low} and at most {high}",
                {"low": low, "high": high},
            )
        if (low, high) == (-float("inf"), float("inf")):
            raise PydanticCustomError(
                "no-bound", "has no limit: give at_least, at_most or between"
            )
        return self

    def bounds(self) -> Bounds:
        """Lowest and highest value wanted, infinite where there is no bound."""
        low, high = self.between or self.between_mm or (None, None)
        lows = [v for v in (low, self.at_least, self.at_least_mm) if v is not None]
        highs = [v for v in (high, self.at_most, self.at_most_mm) if v is not None]
        return max(lows, default=-float("inf")), min(highs, default=float("inf"))


class DocumentOption(Section):
    """A variant of the base design: changes added or merged, then values set by path."""

    set: Mapping[Path, JsonValue] = Field(default={}, description="value by dotted path")
    adds: Mapping[Name, Change] = Field(default={}, description="changes, merged by name")
    note: OwnersNote = None


class Launch(Section):
    """Readings after the launch; they come in a later version."""


class RollTiming(Section):
    """Full swings, to port and starboard and back, timed by a watch."""

    swings: Annotated[int, Field(strict=True, ge=1, le=1000)] = Field(
        description="full swings in each timing", json_schema_extra=typical(2, 50)
    )
    times_s: tuple[Annotated[Number, Field(gt=0, le=100_000)], ...] = Field(
        min_length=1, max_length=100, description="how long each timing took"
    )
    note: OwnersNote = None


class Rolls(Section):
    """Rolls timed in the same loading before the refit and, once launched, after it."""

    before: RollTiming | None = Field(default=None, description="as found")
    after: RollTiming | None = Field(default=None, description="after the launch")


class Trials(Section):
    """What the owner tries afloat."""

    rolls: Rolls = Field(default=Rolls(), description="rolls timed with a watch")


class Allowances(Section):
    """What new steel weighs beyond its plates and bars, and what figures err by together.

    Common practice, no source.
    """

    weld_metal_percent: Percent = Field(
        default=2.0, description="share of the new steel", json_schema_extra=typical(0.5, 6.0)
    )
    paint_kg_m2: Annotated[Number, Field(ge=0, le=20)] = Field(
        default=0.0,
        description="per square metre of new plate, both sides together",
        json_schema_extra=typical(0.05, 3.0),
    )
    scale_percent: Percent = Field(
        default=ONE_SCALE_PERCENT,
        json_schema_extra=typical(0.1, 3.0),
        description="one standard deviation of the scale, common to all weighed weights",
    )
    datum_mm: Annotated[Number, Field(ge=0, le=1000)] = Field(
        default=ONE_DATUM_MM,
        json_schema_extra=typical(1.0, 30.0),
        description="one standard deviation, along and up, of the mark that is taped from",
    )


class Document(Section):
    """The refit of one boat."""

    format: Literal[1] = Field(description="1, the version of this grammar")
    boat: DocumentBoat = Field(title="Boat", description="her name, and what she is meant for")
    water: Water = Field(
        default=Water(density_kg_m3=SEA_WATER_DENSITY), description="water she sails in"
    )
    hull: DocumentHull = Field(description="her measured lines")
    rig: Rig = Field(default=Rig(), description="mast and sails")
    survey: Survey = Field(description="freeboards afloat and the centre of gravity's height")
    weights: Mapping[Name, DocumentWeight] = Field(
        default={}, description="known parts of the surveyed mass; never added to it"
    )
    existing: Mapping[Name, AnyPart] = Field(
        default={}, description="house, cockpit and other parts as found"
    )
    changes: Mapping[Name, Change] = Field(default={}, description="what the refit does")
    tanks: Mapping[Name, DocumentTank] = Field(default={}, description="what holds liquids")
    voids: Mapping[Name, Void] = Field(default={}, description="spaces for ballast")
    openings: Mapping[Name, DocumentOpening] = Field(
        default={}, description="openings that let water in when they go under"
    )
    reference_condition: Name = Field(
        default=DEFAULT_CONDITION, description="condition in which effects are calculated"
    )
    conditions: Mapping[Name, DocumentCondition] = Field(
        default={DEFAULT_CONDITION: DocumentCondition()}, description="loading conditions"
    )
    targets: Mapping[Name, Target] = Field(default={}, description="what the owner aims for")
    options: Mapping[Name, DocumentOption] = Field(
        default={}, description="other versions of the refit"
    )
    allowances: Allowances = Field(
        default=Allowances(), description="weld metal, paint, and errors common to all weights"
    )
    stock: Stock = Field(default=Stock(), description="what can be bought to cut from")
    cutting: CuttingTerms = Field(default=CuttingTerms(), description="agreed with the cutter")
    launch: Launch = Field(default=Launch(), description="readings after the launch")
    trials: Trials = Field(default=Trials(), description="trials afloat")
    person: Person | None = Field(
        default=None,
        description="height of a person, cabin sole and helm, for headroom and line of sight",
        exclude_if=is_absent,
    )
    photographs: Mapping[Name, Photograph] = Field(
        default={},
        max_length=MOST_PHOTOGRAPHS,
        description="pictures of her, with known places marked in each",
        exclude_if=is_absent,
    )
    assumed: tuple[Path, ...] = Field(
        default=(),
        max_length=5000,
        description="paths of values assumed until they are measured; a value that is entered "
        "is removed from the list",
        exclude_if=not_,  # so that a document without them keeps its hash
    )
    titles: Mapping[Name, Title] = Field(
        default={}, exclude_if=is_absent, description="names in any script, by key"
    )

    @model_validator(mode="before")
    @classmethod
    def _with_conditions(cls, given: object) -> object:
        """Defaults: a condition if there is none, and the first of several as the reference."""
        if not isinstance(given, Mapping):
            return given
        named = given.get("conditions", {})
        if named == {}:
            return {key: value for key, value in given.items() if key != "conditions"}
        if "reference_condition" in given or not isinstance(named, Mapping):
            return given
        sound = [one for one in named if isinstance(one, str) and re.match(NAME_PATTERN, one)]
        if DEFAULT_CONDITION in sound or not sound:
            return given
        return {**given, "reference_condition": sound[0]}
