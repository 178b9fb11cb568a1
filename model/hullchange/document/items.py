"""What has a mass or holds one: weights, tanks, voids, and the openings water comes in by."""

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import (
    BeforeValidator,
    ConfigDict,
    Discriminator,
    Field,
    Tag,
    TypeAdapter,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import PydanticCustomError

from hullchange.document.quantities import (
    BoatStage,
    Box,
    Coordinate,
    Density,
    DocumentFlatPoint,
    DocumentPoint,
    Fraction,
    FreeText,
    Interval,
    Kilograms,
    LiquidDensity,
    Litres,
    MetresOrNone,
    Name,
    Number,
    OwnersNote,
    Path,
    PlateMillimetres,
    ProvenanceWord,
    Reach,
    Section,
    SquareMetres,
    is_absent,
    one_of,
    typical,
)
from hullchange.materials import FRESH_WATER_DENSITY, PROVENANCE, SEA_WATER_DENSITY

LIQUIDS = {"fresh": FRESH_WATER_DENSITY, "salt": SEA_WATER_DENSITY, "diesel": 840.0}
"""[kg/m^3]; diesel is common practice, no source."""


def _all_three_ways(value: object) -> object:
    return (value, value, value) if isinstance(value, int | float) else value


_OneWay = Annotated[MetresOrNone, Field(title="in all three directions")]
_AllWays = tuple[
    Annotated[MetresOrNone, Field(title="along")],
    Annotated[MetresOrNone, Field(title="across")],
    Annotated[MetresOrNone, Field(title="up")],
]
_EachWay = Annotated[_AllWays, Field(title="in each direction")]
Scatter = Annotated[
    _AllWays,
    BeforeValidator(_all_three_ways),
    WithJsonSchema(
        {"oneOf": [TypeAdapter(kind).json_schema() for kind in (_OneWay, _EachWay)]}
    ),
]
"""One standard deviation of a place: one number, or [along, across, up]."""

_CENTRE = "its centre, [x aft, y to starboard, z up]"
_MAY_LIE = "how far its centre may be moved, [from, to] in each direction"
_RISES = "a length of this document that it rises with"


class RisesWith(Section):
    """Ties a height to a value of the document: z moves by that value minus ``from_m``."""

    path: Path = Field(description="dotted path of a length of this document")
    from_m: Coordinate = Field(description="value of that length at which z is as entered")


class DocumentWeight(Section):
    """A mass at a place, what both are worth, and where the figure is from."""

    model_config = ConfigDict(title="a weight")

    mass_kg: Kilograms = Field(description="mass")
    at_m: DocumentPoint = Field(description=_CENTRE)
    plus_minus_kg: Kilograms | None = Field(default=None, description="one standard deviation")
    plus_minus_m: Scatter | None = Field(default=None, description="one standard deviation")
    from_: ProvenanceWord = Field(
        default="guessed", alias="from", description="where the figure is from"
    )
    note: OwnersNote = None

    def sd_mass(self) -> float:
        """Standard deviation of the mass [kg], as given or by where the figure is from."""
        if self.plus_minus_kg is not None:
            return self.plus_minus_kg
        return PROVENANCE[self.from_].mass_fraction * self.mass_kg

    def sd_place(self) -> tuple[float, float, float]:
        """Standard deviations along, across and up [m], as given or by the figure's origin."""
        if self.plus_minus_m is not None:
            return self.plus_minus_m
        known = PROVENANCE[self.from_]
        return known.sd_along, known.sd_across, known.sd_up


class FillAboard(Section):
    """What a tank held on the day of the survey."""

    model_config = ConfigDict(title="what a tank held")

    tank: Name = Field(description="a tank of this document")
    fill_l: Litres = Field(description="what was in it")
    plus_minus_l: Litres | None = Field(default=None, description="one standard deviation")
    note: OwnersNote = None


class Removed(DocumentWeight):
    """A weight that comes off; the part that takes its place, if one does."""

    replaced_by: Name | None = Field(default=None, description="a part of the same change")


class TakenOff(Section):
    """Something the survey had aboard, taken off once."""

    model_config = ConfigDict(title="what was aboard at the survey")

    aboard: Name = Field(description="a name under survey.aboard")
    note: OwnersNote = None


class Added(DocumentWeight):
    """A weight that is added, and how far it may be shifted."""

    may_lie_m: Reach | None = Field(default=None, description=_MAY_LIE)
    rises_with: RisesWith | None = Field(default=None, description=_RISES)
    energy_kwh: Annotated[Number, Field(ge=0, le=10_000)] | None = Field(
        default=None, description="what a battery stores", json_schema_extra=typical(0.3, 100.0)
    )


class Moved(DocumentWeight):
    """A weight that stays aboard and moves: to a place, or up with a height."""

    model_config = one_of((("to_m",), ("rises_with",)))

    to_m: DocumentPoint | None = Field(default=None, description="where its centre goes")
    rises_with: RisesWith | None = Field(default=None, description=_RISES)
    may_lie_m: Reach | None = Field(default=None, description=_MAY_LIE)

    @model_validator(mode="after")
    def _goes_somewhere(self) -> "Moved":
        if (self.to_m is None) == (self.rises_with is None):
            raise PydanticCustomError(
                "moves-nowhere", "can move in one way only: give either to_m or rises_with"
            )
        return self


class Load(Section):
    """A load of one condition; what is not given comes from the condition it is like."""

    mass_kg: Kilograms | None = Field(default=None, description="mass")
    at_m: DocumentPoint | None = Field(default=None, description=_CENTRE)
    plus_minus_kg: Kilograms | None = Field(default=None, description="one standard deviation")
    plus_minus_m: Scatter | None = Field(default=None, description="one standard deviation")
    from_: ProvenanceWord | None = Field(
        default=None, alias="from", description="where the figure is from"
    )
    note: OwnersNote = None


def _fill_or_weight(value: object) -> str:
    is_fill = "tank" in value if isinstance(value, Mapping) else isinstance(value, FillAboard)
    return "<fill>" if is_fill else "<weight>"


def _aboard_or_weight(value: object) -> str:
    named = "aboard" in value if isinstance(value, Mapping) else isinstance(value, TakenOff)
    return "<aboard>" if named else "<weight>"


Aboard = Annotated[
    Annotated[FillAboard, Tag("<fill>")] | Annotated[DocumentWeight, Tag("<weight>")],
    Discriminator(_fill_or_weight),
]
Removal = Annotated[
    Annotated[TakenOff, Tag("<aboard>")] | Annotated[Removed, Tag("<weight>")],
    Discriminator(_aboard_or_weight),
]


class DocumentTank(Section):
    """A tank: a box, a plan with upright sides, or a place where its contents are taken to lie.

    A box or plan ``within: hull`` is cut to the inside of the hull's lines: a hull compartment.
    One within an appendage is cut to its inside, and needs no more than its ends and heights.
    """

    model_config = one_of(
        (("box_m",), ("outline_m", "z_m"), ("at_m",), ("x_m", "z_m")),
        (("contents",), ("density_kg_m3",)),
    )

    capacity_l: Litres = Field(
        description="what it holds full", json_schema_extra=typical(0.0008, 0.15, "mass")
    )
    box_m: Box | None = Field(default=None, description="its inside, [from, to] each way")
    outline_m: tuple[DocumentFlatPoint, ...] | None = Field(
        default=None, min_length=3, description="its plan [x, y] in order; with z_m"
    )
    z_m: Interval | None = Field(default=None, description="its bottom and top")
    within: Name | None = Field(
        default=None, description="hull, or an appendage of it: cut to its inside"
    )
    x_m: Interval | None = Field(
        default=None,
        description="its ends, for a tank within an appendage or the hull; with z_m",
        exclude_if=is_absent,
    )
    y_m: Interval | None = Field(
        default=None,
        description="its sides, where it does not reach across",
        exclude_if=is_absent,
    )
    plate_mm: PlateMillimetres | None = Field(
        default=None,
        description="plating deducted from the appendage; if left out, its own under "
        "hull.plating",
        exclude_if=is_absent,
        json_schema_extra=typical(2, 16),
    )
    at_m: DocumentPoint | None = Field(default=None, description="centre of its contents")
    contents: Literal["fresh", "salt", "diesel"] | None = Field(
        default=None, description="what it holds"
    )
    density_kg_m3: LiquidDensity | None = Field(
        default=None, description="for another liquid, instead of contents"
    )
    boat: BoatStage | None = Field(default=None, description="on one boat only")
    note: OwnersNote = None

    @model_validator(mode="after")
    def _is_placed_and_filled(self) -> "DocumentTank":
        places = (self.box_m, self.outline_m, self.at_m, self.x_m)
        if len(places) - places.count(None) != 1:
            raise PydanticCustomError(
                "tank-place",
                "needs one shape or place: give box_m, outline_m with z_m, at_m, or within "
                "with x_m and z_m",
            )
        if (self.outline_m is None and self.x_m is None) != (self.z_m is None):
            raise PydanticCustomError(
                "tank-outline", "needs z_m, its bottom and top, along with outline_m or x_m"
            )
        if (self.x_m is not None) > (self.within is not None):
            raise PydanticCustomError(
                "tank-within", "is given by its ends: under within name an appendage, or hull"
            )
        if (self.contents is None) == (self.density_kg_m3 is None):
            raise PydanticCustomError(
                "tank-contents", "holds one liquid: give either contents or density_kg_m3"
            )
        return self

    @property
    def has_shape(self) -> bool:
        """Whether its liquid moves in a shape, rather than lying at one place."""
        return self.at_m is None

    def liquid_density(self) -> float:
        """Density of what it holds [kg/m^3]."""
        if self.density_kg_m3 is not None:
            return self.density_kg_m3
        return LIQUIDS[self.contents or "fresh"]


class VoidFill(Section):
    """What a void may be filled with, packed as it will be."""

    material: FreeText = Field(description="what goes in")
    density_kg_m3: Density = Field(description="of the fill, gaps included")
    mass_kg: Kilograms | None = Field(
        default=None,
        description="how much of it; full if neither this nor to_z_m is given",
        exclude_if=is_absent,
    )
    to_z_m: Coordinate | None = Field(
        default=None, description="or filled up to this height", exclude_if=is_absent
    )
    from_: ProvenanceWord = Field(
        default="guessed", alias="from", description="where the density is from"
    )
    note: OwnersNote = None

    @model_validator(mode="after")
    def _is_filled_once(self) -> "VoidFill":
        if self.mass_kg is not None and self.to_z_m is not None:
            raise PydanticCustomError(
                "filled-twice", "can be filled in one way only: give either mass_kg or to_z_m"
            )
        return self


class Void(Section):
    """Room for ballast inside an appendage or the hull, inside the plating."""

    within: Name = Field(description="an appendage of the hull, or hull")
    x_m: Interval = Field(description="its fore and after end")
    y_m: Interval | None = Field(
        default=None, description="port and starboard side; full width if left out"
    )
    z_m: Interval = Field(description="its bottom and top")
    plate_mm: PlateMillimetres | None = Field(
        default=None,
        description="plating deducted from the appendage; if left out, its own under "
        "hull.plating",
        exclude_if=is_absent,
        json_schema_extra=typical(2, 16),
    )
    taken_by_floors: Fraction = Field(
        default=0.0, description="share of floors in it", json_schema_extra=typical(0.01, 0.35)
    )
    fill: VoidFill = Field(description="what goes in")
    note: OwnersNote = None


class DocumentOpening(Section):
    """An edge that lets water in when it goes under."""

    edge_m: tuple[DocumentPoint, ...] = Field(min_length=1, description="points of its edge")
    side: Literal["both", "one"] = Field(default="one", description="both: mirrored as well")
    area_m2: SquareMetres = Field(description="clear area")
    closing: Literal["none", "weathertight", "watertight"] = Field(description="what closes it")
    leads_to: Path = Field(description="hull, or the path of a part")
    regular: bool | None = Field(
        default=None, description="in regular use at sea for access or air, so it may be open"
    )
    progressive: bool | None = Field(
        default=None, description="false: water that enters stays in the space it leads to"
    )
    tank_air_pipe: bool = Field(default=False, description="it is only the air pipe of a tank")
    rises_with: RisesWith | None = Field(default=None, description=_RISES)
    boat: BoatStage | None = Field(default=None, description="on one boat only")
    note: OwnersNote = None
