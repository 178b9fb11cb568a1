"""The dimensions of every kind of part: these classes check the document and draw the forms.

Hard limits refuse; the typical range is what a slider covers. Dimension lines are mid-surfaces
of plates. An optional group that is absent means that the part has none of it.
"""

from typing import Annotated, Any, Literal

from pydantic import ConfigDict, Field, model_validator
from pydantic_core import PydanticCustomError

from hullchange.parts.fields import (
    Corner,
    CornerPoints,
    Dimensions,
    PartDimensions,
    came_later,
    dimension,
    dimension_row,
    height_z,
    place_x,
    plate_thickness,
    scallop,
)
from hullchange.parts.opening_parameters import Opening, measured_opening

FlatMm = tuple[
    Annotated[
        float,
        dimension(limits=(5, 500), typical=(30, 100), step=5, about="depth", title="depth"),
    ],
    Annotated[
        float,
        dimension(
            limits=(1, 60), typical=(3, 12), step=1, about="thickness", title="thickness"
        ),
    ],
]
SizeM = tuple[
    Annotated[
        float, dimension(limits=(0.02, 5), typical=(0.2, 1.2), about="width", title="width")
    ],
    Annotated[
        float, dimension(limits=(0.02, 3), typical=(0.1, 0.6), about="height", title="height")
    ],
]


class Flats(Dimensions):
    """Flat bars on edge at a regular spacing."""

    spacing_m: float = dimension(
        limits=(0.1, 5), typical=(0.25, 0.8), about="distance between bars"
    )
    flat_mm: FlatMm = dimension_row("depth and thickness of the flat bar")


class Windows(Dimensions):
    """Equal rounded windows, evenly spaced; in the front half-way up the plate."""

    count: int = Field(ge=1, le=20, description="number in this wall")
    size_m: SizeM = dimension_row("clear width and height")
    corner_radius_m: float = dimension(
        0.06, limits=(0, 1), typical=(0.02, 0.15), about="radius of the corners"
    )


class SideWindows(Windows):
    """Windows in each side of a house."""

    lower_edge_z_m: float = height_z("lower edge at the middle of the window")


class Door(Dimensions):
    """The door opening in the after end, on the centreline."""

    width_m: float = dimension(limits=(0.2, 3), typical=(0.5, 0.9), about="clear width")
    sill_z_m: float = height_z("sill; if below the deck, the opening cuts through its edge")
    head_below_roof_m: float = dimension(
        0.06, limits=(0.01, 2), typical=(0.03, 0.2), about="steel left above it, at its corners"
    )
    corner_radius_m: float = dimension(
        0.05, limits=(0, 1), typical=(0.0, 0.15), about="radius of the corners"
    )


_SIDE = "from deck at the side up to the roof edge,"


def _side_height() -> Any:  # noqa: ANN401 - as dim
    """A field for the height of a house's side [m]; the edge of its roof runs straight."""
    return dimension(limits=(0.05, 4), typical=(0.25, 1.0), about=_SIDE, title="side height")


SideHeight = Annotated[float, _side_height()]


class Deckhouse(PartDimensions):
    """A deckhouse: sides leaning inboard, raked front, upright after end, arched roof."""

    model_config = ConfigDict(
        json_schema_extra={
            "one_of": [[["side_height_m"], ["side_height_forward_m", "side_height_aft_m"]]]
        }
    )

    kind: Literal["deckhouse"] = "deckhouse"
    x_forward_m: float = place_x("front, where it meets the deck on the centreline")
    x_aft_m: float = place_x("after end")
    roof_half_breadth_forward_m: float = dimension(
        limits=(0.1, 8),
        typical=(0.4, 2.0),
        about="centreline to roof edge at the station of the front",
    )
    roof_half_breadth_aft_m: float = dimension(
        limits=(0.1, 8), typical=(0.4, 2.0), about="centreline to roof edge at the after end"
    )
    side_height_m: SideHeight | None = Field(default=None, description=f"{_SIDE} at mid-length")
    side_height_forward_m: SideHeight | None = came_later(
        f"{_SIDE} at the station of the front"
    )
    side_height_aft_m: SideHeight | None = came_later(f"{_SIDE} at the after end")
    tumblehome_deg: float = dimension(
        limits=(-30, 45), typical=(0, 25), step=1, about="how far the sides lean inboard"
    )
    front_rake_deg: float = dimension(
        limits=(-30, 75), typical=(0, 60), step=1, about="how far the front leans aft"
    )
    roof_camber_m: float = dimension(
        limits=(0.005, 2),
        typical=(0.02, 0.20),
        step=0.005,
        about="rise of the roof at mid-length",
    )
    roof_plate_mm: float = plate_thickness(about="roof")
    side_plate_mm: float = plate_thickness(about="sides")
    end_plate_mm: float = plate_thickness(3.0, about="front and after end")
    roof_beams: Flats | None = Field(default=None, description="athwartships under the roof")
    side_stiffeners: Flats | None = Field(default=None, description="upright inside the sides")
    side_windows: SideWindows | None = Field(default=None, description="in each side")
    front_windows: Windows | None = Field(default=None, description="in the front")
    door: Door | None = Field(default=None, description="in the after end")
    opening: Opening | None = measured_opening()
    open_aft: bool = came_later(
        "no after end: a spray cover, which keeps no water out", default=False
    )
    shared_end: Literal["none", "forward", "aft"] = came_later(
        "end that shares one bulkhead with the house it stands on; forward: it stands on the "
        "deck behind that house",
        default="none",
    )
    roof_below: Literal["open", "kept"] | None = came_later(
        "whether the roof under it is cut out; if left out, kept only under a spray cover"
    )

    @model_validator(mode="after")
    def _ends_as_it_can(self) -> "Deckhouse":
        if self.shared_end != "none" and self.stand is None:
            raise PydanticCustomError(
                "shared-end", "shares an end with the house below: under stand name that house"
            )
        if self.open_aft and (self.door is not None or self.shared_end == "aft"):
            raise PydanticCustomError(
                "open-end", "has no after end: leave out its door, and shared_end: aft"
            )
        return self

    @property
    def opens_below(self) -> bool:
        """Whether the roof it stands on is cut out under it."""
        if self.roof_below is None:
            return not self.open_aft
        return self.roof_below == "open"

    @model_validator(mode="after")
    def _has_one_height_or_both(self) -> "Deckhouse":
        ends = (self.side_height_forward_m, self.side_height_aft_m)
        if ends.count(None) != (2 if self.side_height_m is not None else 0):
            raise PydanticCustomError(
                "side-height",
                "needs one height, or one at each end: give side_height_m, or "
                "side_height_forward_m and side_height_aft_m",
            )
        return self

    @property
    def end_heights_m(self) -> tuple[float, float] | None:
        """Heights of the side forward and aft, where they are given."""
        ends = (self.side_height_forward_m, self.side_height_aft_m)
        return None if ends[0] is None or ends[1] is None else (ends[0], ends[1])


class Drains(Dimensions):
    """Round drains in the sole, the first pair in its after corners."""

    count: int = Field(ge=1, le=4, description="number")
    diameter_mm: float = dimension(
        limits=(10, 300), typical=(25, 80), step=1, about="clear diameter"
    )


WellM = tuple[
    Annotated[
        float, dimension(limits=(0.2, 10), typical=(1, 3.5), about="length", title="length")
    ],
    Annotated[
        float, dimension(limits=(0.1, 8), typical=(0.5, 2.5), about="width", title="width")
    ],
    Annotated[
        float, dimension(limits=(0.03, 3), typical=(0.2, 0.7), about="depth", title="depth")
    ],
]


class Cockpit(PartDimensions):
    """A cockpit: a seat well with seats, and a foot well in them."""

    kind: Literal["cockpit"] = "cockpit"
    x_forward_m: float = place_x("forward end of the seat well")
    deck_z_m: float = height_z("deck beside the well, from which depths are measured")
    coaming_top_z_m: float = height_z("top of the coamings")
    seat_well_m: WellM = dimension_row("length, width, and depth of the seats below the deck")
    foot_well_m: WellM = dimension_row("length, width, and depth of the sole below the seats")
    foot_well_forward_m: float = place_x("forward end of the foot well")
    plate_mm: float = plate_thickness()
    forward_coaming: bool = Field(
        default=False, description="forward end carried up to the coaming top, not the deck"
    )
    stiffeners: Flats | None = Field(default=None, description="under seats and sole")
    drains: Drains | None = Field(default=None, description="in the sole")
    opening: Opening | None = measured_opening()


class TransomExtension(PartDimensions):
    """A step behind the transom whose sides continue the transom's own outline."""

    kind: Literal["transom_extension"] = "transom_extension"
    length_m: float = dimension(
        limits=(0.05, 5), typical=(0.2, 1.5), about="aft of the transom"
    )
    bottom_forward_z_m: float = height_z("bottom on the centreline, at the transom")
    bottom_aft_z_m: float = height_z("bottom on the centreline, at the after end")
    platform_z_m: float = height_z("platform")
    plate_mm: float = plate_thickness()
    scallop_mm: float = scallop("radius at the corner of the knees below it; 0 for none")


class BowPlatform(PartDimensions):
    """A platform over the stem, with cheeks for the anchor roller and brackets on the stem."""

    kind: Literal["bow_platform"] = "bow_platform"
    length_m: float = dimension(limits=(0.1, 5), typical=(0.4, 2.0), about="length over all")
    width_m: float = dimension(limits=(0.05, 4), typical=(0.2, 1.0), about="width")
    top_plate_mm: float = plate_thickness(about="top plate")
    cheek_plate_mm: float = plate_thickness(about="cheeks and stem brackets")
    on_deck_m: float = dimension(
        0.30, limits=(0.02, 4), typical=(0.1, 0.8), about="length on the deck"
    )
    corner_radius_m: float = dimension(
        0.08, limits=(0, 1), typical=(0, 0.2), about="radius of the forward corners"
    )
    cheek_height_m: float = dimension(
        0.10, limits=(0.02, 1), typical=(0.05, 0.25), about="cheeks, above the platform"
    )
    bracket_m: tuple[
        Annotated[
            float,
            dimension(limits=(0.03, 4), typical=(0.1, 0.8), about="length", title="length"),
        ],
        Annotated[
            float, dimension(limits=(0.03, 3), typical=(0.1, 0.6), about="depth", title="depth")
        ],
    ] = dimension_row(
        "stem brackets: length under the platform, depth down the stem", (0.35, 0.25)
    )
    roller_slot_mm: (
        tuple[
            Annotated[
                float,
                dimension(
                    limits=(10, 600), typical=(60, 150), step=5, about="width", title="width"
                ),
            ],
            Annotated[
                float,
                dimension(
                    limits=(20, 3000),
                    typical=(200, 700),
                    step=10,
                    about="length",
                    title="length",
                ),
            ],
        ]
        | None
    ) = dimension_row("slot for the anchor, open at the front: width and length", None)
    scallop_mm: float = scallop("radius at the corner of the brackets at the stem; 0 for none")


PadMm = tuple[
    Annotated[
        float,
        dimension(
            limits=(20, 3000), typical=(200, 600), step=10, about="length", title="length"
        ),
    ],
    Annotated[
        float,
        dimension(limits=(20, 3000), typical=(200, 600), step=10, about="width", title="width"),
    ],
    Annotated[
        float,
        dimension(
            limits=(1, 100), typical=(6, 20), step=1, about="thickness", title="thickness"
        ),
    ],
]
TubeMm = tuple[
    Annotated[
        float,
        dimension(
            limits=(10, 600), typical=(60, 140), step=1, about="diameter", title="diameter"
        ),
    ],
    Annotated[
        float, dimension(limits=(1, 60), typical=(3, 12), step=0.5, about="wall", title="wall")
    ],
]
FloorMm = tuple[
    Annotated[
        float,
        dimension(limits=(20, 3000), typical=(200, 800), step=10, about="width", title="width"),
    ],
    Annotated[
        float,
        dimension(
            limits=(20, 2000), typical=(100, 500), step=10, about="height", title="height"
        ),
    ],
    Annotated[
        float,
        dimension(
            limits=(1, 100), typical=(5, 15), step=1, about="thickness", title="thickness"
        ),
    ],
]


class MastSupport(PartDimensions):
    """What carries a mast on a roof: pad on the roof, post below, floor under the post."""

    kind: Literal["mast_support"] = "mast_support"
    x_m: float = place_x("middle of the mast")
    pad_mm: PadMm = dimension_row("pad on the roof: length, width, thickness")
    post_mm: TubeMm = dimension_row("post: diameter, wall")
    floor_mm: FloorMm = dimension_row(
        "floor on the bottom, athwartships: width, height, thickness"
    )
    scallop_mm: float = scallop("radius in the floor over the centreline seam; 0 for none")


class HullPlate(PartDimensions):
    """A plate of the hull replaced, between two stations and two neighbouring lines."""

    kind: Literal["hull_plate"] = "hull_plate"
    x_forward_m: float = place_x("forward end")
    x_aft_m: float = place_x("after end")
    lower_line: str = Field(description="measured line along its lower edge")
    upper_line: str = Field(description="the next line above it")
    side: Literal["both", "starboard", "port"] = Field(
        default="both", description="where it is replaced"
    )
    plate_mm: float = plate_thickness(about="new plate")
    old_plate_mm: float = plate_thickness(about="the old plate that is cut out")


class RoundHole(Dimensions):
    """A round hole in a plate."""

    at_m: Corner = Field(description="its middle")
    diameter_mm: float = dimension(
        limits=(1, 5000), typical=(10, 500), step=1, about="diameter"
    )


class Plating(PartDimensions):
    """Any flat plate by its corners in space."""

    kind: Literal["plating"] = "plating"
    corners_m: CornerPoints = Field(description="corners in order, in one plane: x, y, z")
    thickness_mm: float = plate_thickness()
    holes: tuple[RoundHole, ...] = dimension_row("round holes", ())
    cutouts_m: tuple[CornerPoints, ...] = dimension_row(
        "holes with corners: x, y, z of each", ()
    )
    scallop_corners: tuple[Annotated[int, Field(ge=1, le=200)], ...] = dimension_row(
        "corners with a scallop for crossing welds, by number from 1", ()
    )
    scallop_mm: float = scallop("radius in those corners")
    mirrored: bool = Field(default=False, description="a second one on the other side")
