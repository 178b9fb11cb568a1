"""What stands under the canoe body, and the compartments in it."""

from typing import Annotated, Literal

from pydantic import Discriminator, Field, Tag

from hullchange.document.quantities import (
    Coordinate,
    Fraction,
    Interval,
    MetresOrNone,
    Number,
    OwnersNote,
    Section,
    is_absent,
    is_zero,
    typical,
)


def _table_or_number(value: object) -> str:
    return "<table>" if isinstance(value, list | tuple) else "<number>"


OutlinePoint = tuple[
    Coordinate,
    Annotated[
        Coordinate, Field(json_schema_extra=typical(-0.28, 0.05, "length"), title="z, up")
    ],
]
HalfBreadth = Annotated[
    MetresOrNone, Field(json_schema_extra=typical(0.002, 0.075, "beam"), title="half thickness")
]
_ShareOfChord = Annotated[
    Fraction, Field(title="share of the chord", json_schema_extra={"unit": ""})
]
HalfThickness = Annotated[
    Annotated[HalfBreadth, Field(title="even"), Tag("<number>")]
    | Annotated[
        tuple[tuple[_ShareOfChord, HalfBreadth], ...],
        Field(min_length=2, title="along the chord"),
        Tag("<table>"),
    ],
    Discriminator(_table_or_number),
]
"""Even, or pairs [fraction of the local horizontal chord from forward, half-thickness]."""


class DocumentAppendage(Section):
    """A keel, skeg or rudder under the canoe body."""

    outline_m: tuple[OutlinePoint, ...] = Field(
        min_length=2, max_length=50, description="side view [x, z]; the top follows the hull"
    )
    top: Literal["hull"] = Field(default="hull", description="it follows the hull")
    half_thickness_m: HalfThickness = Field(
        description="half-thickness, or pairs [fraction of the chord, half-thickness]"
    )
    nose: Literal["ellipse", "square"] = Field(
        default="square", description="shape of the forward edge"
    )
    at_y_m: Coordinate = Field(
        default=0.0,
        description="half-breadth of its middle at the top of the outline, to starboard",
        exclude_if=is_zero,
        json_schema_extra=typical(0.0, 0.35, "beam"),
    )
    cant_deg: Annotated[Number, Field(ge=-60, le=60)] = Field(
        default=0.0,
        description="how far its lower end leans outwards; the outline is measured along it, "
        "before it is turned about its upper end",
        exclude_if=is_zero,
        json_schema_extra=typical(0, 25),
    )
    pair: bool = Field(
        default=False,
        description="a second one, mirrored: bilge keels, twin rudders",
        exclude_if=is_absent,
    )


class Compartment(Section):
    """The hull between two watertight bulkheads, deck and bottom: what one leak can flood."""

    x_m: Interval = Field(description="its forward and after bulkhead")
    y_m: Interval | None = Field(
        default=None, description="its sides, if it does not reach across"
    )
    z_m: Interval | None = Field(
        default=None, description="its bottom and top, if it does not reach up to the deck"
    )
    permeability: Annotated[Number, Field(gt=0, le=1)] = Field(
        default=0.95,
        description="share that water can fill; 0.95 cabins, 0.85 engines, 0.60 stores: "
        "common practice, no source",
        json_schema_extra=typical(0.6, 0.98),
    )
    note: OwnersNote = None
