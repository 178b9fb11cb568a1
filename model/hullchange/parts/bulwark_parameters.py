"""The dimensions of a bulwark."""

from typing import Annotated, Literal

from pydantic import Field

from hullchange.parts.fields import (
    Dimensions,
    PartDimensions,
    dimension,
    dimension_row,
    place_x,
    plate_thickness,
)

RailMm = tuple[
    Annotated[
        float,
        dimension(limits=(10, 500), typical=(40, 150), step=5, about="width", title="width"),
    ],
    Annotated[
        float,
        dimension(
            limits=(1, 60), typical=(4, 12), step=1, about="thickness", title="thickness"
        ),
    ],
]
PortM = tuple[
    Annotated[
        float,
        dimension(limits=(0.02, 5), typical=(0.15, 0.8), about="width", title="width"),
    ],
    Annotated[
        float,
        dimension(limits=(0.01, 2), typical=(0.04, 0.25), about="height", title="height"),
    ],
]


class FreeingPorts(Dimensions):
    """Equal rounded ports that free the deck of water, evenly spaced."""

    count: int = Field(ge=1, le=30, description="number in each side")
    size_m: PortM = dimension_row("clear width and height")
    above_deck_m: float = dimension(
        0.02, limits=(0.005, 1), typical=(0.01, 0.1), about="lower edge above the deck edge"
    )
    corner_radius_m: float = dimension(
        0.02, limits=(0, 0.5), typical=(0.01, 0.06), about="radius of the corners"
    )


class Bulwark(PartDimensions):
    """A bulwark on the deck's edge, both sides: bent plate, cap rail, freeing ports."""

    kind: Literal["bulwark"] = "bulwark"
    x_forward_m: float = place_x("forward end")
    x_aft_m: float = place_x("after end")
    height_forward_m: float = dimension(
        limits=(0.03, 2), typical=(0.08, 0.6), about="above the deck edge at the forward end"
    )
    height_aft_m: float = dimension(
        limits=(0.03, 2), typical=(0.08, 0.6), about="above the deck edge at the after end"
    )
    flare_deg: float = dimension(
        0.0, limits=(-30, 45), typical=(-5, 20), step=1, about="lean outboard"
    )
    plate_mm: float = plate_thickness()
    cap_rail_mm: RailMm | None = dimension_row(
        "flat bar along the top: width and thickness", None
    )
    freeing_ports: FreeingPorts | None = Field(default=None, description="in each side")
