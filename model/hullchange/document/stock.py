"""What can be bought to cut from, and how it is cut."""

import re
from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from hullchange.document.quantities import (
    DocumentFlatPoint,
    Metres,
    Name,
    Number,
    OwnersNote,
    PlateMillimetres,
    Section,
    one_of,
    typical,
)
from hullchange.geometry.outline import loop_kind


def _enclosing(corners: tuple[DocumentFlatPoint, ...]) -> tuple[DocumentFlatPoint, ...]:
    """Corners of a plate, where they go once round it."""
    kind = loop_kind(corners)
    if kind == "flat":
        raise PydanticCustomError(
            "leftover-without-area",
            "encloses no area: give three or more corners that are not in one line",
        )
    if kind == "crossed":
        raise PydanticCustomError(
            "outline-crosses-itself",
            "crosses or touches itself: give its corners in order, once around",
        )
    return corners


Leftover = Annotated[
    tuple[DocumentFlatPoint, ...], Field(min_length=3), AfterValidator(_enclosing)
]
SheetLength = Annotated[Metres, Field(json_schema_extra=typical(0.7, 12.5), title="length")]
SheetBreadth = Annotated[Metres, Field(json_schema_extra=typical(0.4, 3.5), title="breadth")]
Depth = Annotated[
    Number, Field(gt=0, le=600, json_schema_extra=typical(15, 150), title="depth or diameter")
]
WallThickness = Annotated[
    PlateMillimetres, Field(json_schema_extra=typical(1.5, 15), title="thickness or wall")
]
Price = Annotated[Number, Field(ge=0)]
GapMillimetres = Annotated[Number, Field(ge=0, le=200)]


class StockPlate(Section):
    """Plate of one thickness that can be bought, and leftovers of it."""

    thickness_mm: PlateMillimetres = Field(
        description="of all these sheets", json_schema_extra=typical(1.5, 16)
    )
    sizes_m: tuple[tuple[SheetLength, SheetBreadth], ...] = Field(
        default=(), max_length=12, description="[length, breadth], rolled along the length"
    )
    leftovers_m: tuple[Leftover, ...] = Field(
        default=(), max_length=50, description="corners of each leftover in the yard"
    )
    price: Price | None = Field(default=None, description="per kilogram")
    note: OwnersNote = None


class StockBar(Section):
    """Flat bar or tube that can be bought."""

    model_config = one_of((("flat_mm",), ("tube_mm",)))

    flat_mm: tuple[Depth, WallThickness] | None = Field(
        default=None, description="depth and thickness of a flat"
    )
    tube_mm: tuple[Depth, WallThickness] | None = Field(
        default=None, description="diameter and wall of a tube"
    )
    length_m: Metres = Field(
        default=6.0, description="as sold", json_schema_extra=typical(0.8, 12.5)
    )
    price: Price | None = Field(default=None, description="per kilogram")
    note: OwnersNote = None

    @model_validator(mode="after")
    def _is_one_section(self) -> "StockBar":
        if (self.flat_mm is None) == (self.tube_mm is None):
            raise PydanticCustomError(
                "bar-section", "is a flat or a tube: give either flat_mm or tube_mm"
            )
        return self


class Stock(Section):
    """What the yard can buy."""

    plates: Mapping[Name, StockPlate] = Field(default={}, description="plate, by thickness")
    bars: Mapping[Name, StockBar] = Field(default={}, description="flat bar and tube")


def _layer_name(name: str) -> str:
    if not re.fullmatch(r"[A-Za-z0-9_$-]{1,31}", name) or name.casefold() == "defpoints":
        raise PydanticCustomError(
            "layer-name",
            "cannot be called '{given}': give it 1 to 31 letters, digits, _, - or $, but not "
            "Defpoints, which is never printed",
            {"given": name},
        )
    return name


LayerName = Annotated[str, AfterValidator(_layer_name)]
LayerWord = Literal["CUT", "MARK", "BEND", "TEXT", "REF", "SHEET", "INFO"]


class CuttingTerms(Section):
    """How plates and bars are cut, as agreed with the cutter."""

    gap_mm: GapMillimetres = Field(
        default=10.0, description="between pieces on a sheet", json_schema_extra=typical(3, 40)
    )
    margin_mm: GapMillimetres = Field(
        default=15.0, description="along a sheet's edge", json_schema_extra=typical(3, 50)
    )
    saw_mm: GapMillimetres = Field(
        default=3.0,
        description="length of bar lost at each cut",
        json_schema_extra=typical(0.8, 6),
    )
    roll_mm: Annotated[Number, Field(ge=300, le=1600)] = Field(
        default=914.0, description="width of the paper that templates are plotted on"
    )
    process: Literal["stick", "flux-cored", "solid-wire", "tig"] = Field(
        default="stick", description="how it is welded"
    )
    layers: Mapping[LayerWord, LayerName] = Field(
        default={}, description="the cutter's name for a layer"
    )
