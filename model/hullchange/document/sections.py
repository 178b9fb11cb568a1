"""The boat as she is: hull as measured, rig, and the survey afloat."""

import operator
from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from hullchange.document.below import Compartment, DocumentAppendage
from hullchange.document.items import Aboard
from hullchange.document.quantities import (
    FARTHEST_M,
    FINEST_READING_M,
    Coordinate,
    Degrees,
    DocumentPoint,
    FreeText,
    Metres,
    MetresOrNone,
    Name,
    Number,
    OwnersNote,
    PlateMillimetres,
    Section,
    WaterDensity,
    is_absent,
    one_of,
    typical,
)
from hullchange.hull.lines import READING_SD
from hullchange.materials import FRESH_WATER_DENSITY, SEA_WATER_DENSITY

WATERS = {"salt": SEA_WATER_DENSITY, "fresh": FRESH_WATER_DENSITY}


class Propulsion(Section):
    """What drives her, before and after."""

    old: FreeText = Field(description="before the refit")
    new: FreeText = Field(description="after the refit")


class DocumentBoat(Section):
    """The boat: her name, design category, persons and propulsion."""

    name: Annotated[FreeText, Field(max_length=100)] = Field(description="her name")
    design_category: Literal["A", "B", "C", "D"] | None = Field(
        default=None, description="A ocean, B offshore, C inshore, D sheltered waters"
    )
    persons: (
        Annotated[int, Field(strict=True, ge=0, le=500, json_schema_extra=typical(1, 16))]
        | None
    ) = Field(default=None, description="crew and guests she is meant for")
    propulsion: Propulsion | None = Field(default=None, description="what drives her")


class Water(Section):
    """The water she floats in: ``salt``, ``fresh`` or a density."""

    density_kg_m3: WaterDensity = Field(description="measured, or by temperature and salinity")

    @model_validator(mode="before")
    @classmethod
    def _by_name(cls, value: object) -> object:
        if not isinstance(value, str):
            return value
        if value not in WATERS:
            raise PydanticCustomError(
                "unknown-water",
                "is not a known water: write salt, fresh or {density_kg_m3: 1018}",
            )
        return {"density_kg_m3": WATERS[value]}


class DocumentLine(Section):
    """A line of the hull, from stem to transom on the starboard side."""

    kind: Literal["fair", "chine", "sheer"] = Field(description="fair, chine or sheer")
    points_m: tuple[DocumentPoint, ...] = Field(
        min_length=2, max_length=500, description="points [x, y, z] from the stem aft"
    )
    knuckles_at_x_m: tuple[Coordinate, ...] = Field(
        default=(), description="where the line turns a corner lengthwise"
    )


class LinePoint(Section):
    """A measured point of a line, by its x: it stays the same when other points are edited."""

    line: Name = Field(description="name of the line")
    at_x_m: Coordinate = Field(description="x of the point, as measured")


class TapedPoint(LinePoint):
    """Where a tape begins or ends."""

    side: Literal["starboard", "port"] = Field(
        default="starboard", description="port: the same point on the other side"
    )


class TapedDistance(Section):
    """A distance taped straight from one measured point to another, to check both."""

    from_: TapedPoint = Field(alias="from", description="where the tape begins")
    to: TapedPoint = Field(description="where it ends")
    distance_m: Metres = Field(description="straight-line distance")
    plus_minus_m: Annotated[Number, Field(ge=FINEST_READING_M, le=1.0)] = Field(
        default=0.005,
        description="one standard deviation; common practice, no source",
        json_schema_extra=typical(0.001, 0.02),
    )
    note: FreeText | None = Field(default=None, description="who taped it, and when")


class ReadAgain(LinePoint):
    """A point that was read twice: what it stands off the others is the boat's shape."""

    note: FreeText | None = Field(default=None, description="by whom, when, what was found")


class DeckCamber(Section):
    """The deck's crown: a parabola athwartships, in proportion to the breadth."""

    camber_m: MetresOrNone = Field(
        description="height of the crown above the deck at the side",
        json_schema_extra=typical(0.004, 0.06, "beam"),
    )
    at_half_breadth_m: Annotated[Number, Field(ge=0.1, le=FARTHEST_M)] = Field(
        description="half-breadth at which it was measured",
        json_schema_extra=typical(0.2, 0.6, "beam"),
    )


class PlatingZone(Section):
    """Plate of one zone of the hull."""

    thickness_mm: PlateMillimetres = Field(
        description="plate thickness", json_schema_extra=typical(2, 16)
    )


class LinesOrigin(Section):
    """Where the lines come from, and how well their points are known."""

    source: Literal["points", "tape", "drawing", "scan", "step", "dimensions"] = Field(
        description="points: measured; tape: from marks; drawing, scan, step: traced or read "
        "from it; dimensions: guessed from main dimensions"
    )
    plus_minus_m: Annotated[Number, Field(gt=0, le=2.0)] = Field(
        default=READING_SD,
        description="one standard deviation of a half-breadth or height",
        json_schema_extra=typical(0.001, 0.3),
    )
    note: FreeText | None = Field(default=None, description="who measured, from what, when")

    @property
    def runs_along(self) -> bool:
        """Whether its errors run along the lines; points and tapes err one by one."""
        return self.source not in ("points", "tape")

    @property
    def is_read_by_hand(self) -> bool:
        """Whether somebody read each point, and may have slipped."""
        return self.source in ("points", "tape", "drawing")


class DocumentHull(Section):
    """The hull from its lines, keel to sheer."""

    kind: Literal["offsets"] = Field(description="offsets: measured lines")
    length_waterline_m: Metres = Field(description="between the perpendiculars")
    lines: Mapping[Name, DocumentLine] = Field(
        description="named lines from the keel to the sheer"
    )
    from_: LinesOrigin | None = Field(
        default=None,
        alias="from",
        title="source of the lines",
        description="points if left out",
        exclude_if=is_absent,
    )
    deck: DeckCamber = Field(
        default=DeckCamber(camber_m=0.0, at_half_breadth_m=1.0), description="crown of the deck"
    )
    plating: Mapping[Name, PlatingZone] = Field(
        default={}, description="bottom, topsides, deck, keel, or below- or above- and a line"
    )
    appendages: Mapping[Name, DocumentAppendage] = Field(
        default={}, description="keel, skeg and rudder"
    )
    taped: Mapping[Name, TapedDistance] = Field(
        default={},
        description="distances taped between points of the lines, by name",
        exclude_if=operator.not_,
    )
    read_again: Mapping[Name, ReadAgain] = Field(
        default={},
        description="points measured again and confirmed, by name",
        exclude_if=operator.not_,  # so that a document of before keeps its hash
    )
    compartments: Mapping[Name, Compartment] = Field(
        default={},
        description="the hull between watertight bulkheads, which a condition may flood",
        exclude_if=is_absent,
    )


class Mainsail(Section):
    """The mainsail's triangle."""

    luff_m: Metres = Field(
        description="from tack to head", json_schema_extra=typical(0.6, 2.0, "length")
    )
    foot_m: Metres = Field(
        description="from tack to clew", json_schema_extra=typical(0.15, 0.7, "length")
    )


class Foretriangle(Section):
    """The triangle before the mast."""

    height_m: Metres = Field(
        description="from deck to halyard sheave", json_schema_extra=typical(0.6, 2.2, "length")
    )
    base_m: Metres = Field(
        description="from mast to forestay at the deck",
        json_schema_extra=typical(0.15, 0.7, "length"),
    )


class Rig(Section):
    """What carries the wind; every entry may be left out."""

    mainsail: Mainsail | None = Field(default=None, description="luff and foot")
    foretriangle: Foretriangle | None = Field(default=None, description="height and base")
    centre_of_effort_z_m: Coordinate | None = Field(
        default=None,
        description="of all sails, above the design waterline",
        json_schema_extra=typical(0.2, 1.0, "length"),
    )
    centre_of_lateral_plane_z_m: Coordinate | None = Field(
        default=None,
        description="of hull and keel, seen from the side",
        json_schema_extra=typical(-0.25, -0.01, "length"),
    )
    chainplate_half_breadth_m: Metres | None = Field(
        default=None,
        description="centreline to the outermost chainplate",
        json_schema_extra=typical(0.15, 0.6, "beam"),
    )
    stands_on: str | None = Field(default=None, description="path of the part under the mast")
    air_draught_m: Metres | None = Field(
        default=None,
        description="masthead above the water",
        json_schema_extra=typical(0.4, 2.5, "length"),
    )


class BothSides(Section):
    """A freeboard read on both sides."""

    port: Coordinate = Field(description="sheer to water, to port")
    starboard: Coordinate = Field(description="sheer to water, to starboard")


class Mark(Section):
    """A place on the sheer from which freeboard was measured."""

    x_m: Coordinate = Field(description="where along the boat")
    sheer_z_m: Coordinate = Field(description="height of the sheer there")
    freeboard_m: BothSides = Field(description="{port, starboard}, from the sheer to the water")
    plus_minus_m: MetresOrNone | None = Field(
        default=None, description="of these readings", json_schema_extra=typical(0.001, 0.03)
    )


class TypedVcg(Section):
    """A height of the centre of gravity from elsewhere, not measured here."""

    z_m: Coordinate = Field(description="above the design waterline")
    plus_minus_m: MetresOrNone = Field(
        description="one standard deviation", json_schema_extra=typical(0.008, 0.2)
    )
    from_: Literal["inclining", "weighed", "drawn", "catalogue", "guessed"] = Field(
        alias="from", description="where the figure is from"
    )
    note: OwnersNote = None


class InclineReading(Section):
    """One shift of weights across the boat and the heel it gave, both to starboard."""

    moment_kgm: Annotated[Number, Field(ge=-1e6, le=1e6)] = Field(
        description="kilograms times metres moved to starboard"
    )
    heel_deg: Degrees = Field(description="heel it gave, to starboard")


class Inclining(Section):
    """An inclining in the survey state, kept as it was read.

    What it measures is GM times displacement: the height of the centre of gravity follows from
    that and this hull.
    """

    readings: tuple[InclineReading, ...] = Field(
        min_length=2, description="moments and the heel each gave"
    )
    water: Water | None = Field(default=None, description="as in the survey if left out")
    plus_minus_deg: Annotated[Number, Field(gt=0, le=5)] = Field(
        default=0.05,
        description="one standard deviation of a heel; common practice, no source",
        json_schema_extra=typical(0.01, 0.3),
    )
    plus_minus_moment_percent: Annotated[Number, Field(ge=0, le=50)] = Field(
        default=1.0,
        description="one standard deviation of a moment; common practice, no source",
        json_schema_extra=typical(0.2, 5.0),
    )
    note: OwnersNote = None


class Survey(Section):
    """The boat as found, afloat; everything aboard that day is inside it."""

    model_config = one_of((("vcg",), ("inclining",)))

    water: Water = Field(
        default=Water(density_kg_m3=SEA_WATER_DENSITY), description="water she lay in that day"
    )
    plus_minus_m: Annotated[Number, Field(ge=FINEST_READING_M, le=FARTHEST_M)] = Field(
        default=0.005,
        description="of one freeboard reading; common practice, no source",
        json_schema_extra=typical(0.001, 0.03),
    )
    marks: Mapping[Name, Mark] = Field(min_length=2, description="two marks or more")
    vcg: TypedVcg | None = Field(
        default=None, description="height of the centre of gravity, where nothing was inclined"
    )
    inclining: Inclining | None = Field(
        default=None, description="weights moved across, and the heel each gave"
    )
    aboard: Mapping[Name, Aboard] = Field(
        default={}, description="what was aboard that day, so that it can be removed"
    )

    @model_validator(mode="after")
    def _knows_her_height(self) -> "Survey":
        if (self.vcg is None) == (self.inclining is None):
            raise PydanticCustomError(
                "vcg-or-inclining",
                "needs the height of the centre of gravity once: give vcg (with plus_minus_m "
                "and from) or inclining (with readings)",
            )
        return self
