"""The dimensions of every kind of part: these classes check the document and draw the forms.

Hard limits refuse; the typical range is what a slider covers. Dimension lines are mid-surfaces
of plates. An optional group that is absent means that the part has none of it.
"""

from types import EllipsisType
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

Span = tuple[float, float]


def dim(
    default: float | EllipsisType = ...,
    *,
    limits: Span,
    about: str,
    typical: Span | None = None,
    step: float = 0.01,
    title: str | None = None,
) -> Any:  # noqa: ANN401 - a field default stands for a value of the field's own type
    """A pydantic field of one number: its hard limits, its slider, its meaning.

    Args:
        default: value where the document gives none; left out, the key is required.
        limits: smallest and largest value that is not refused.
        about: what is measured, in a few words.
        typical: range of the slider; the limits where left out.
        step: of the slider.
        title: label of the form; made from the key where left out.
    """
    low, high = typical or limits
    return Field(
        default,
        ge=limits[0],
        le=limits[1],
        title=title,
        description=about,
        json_schema_extra={"typical_minimum": low, "typical_maximum": high, "step": step},
    )


def _label(key: str, _: object) -> str:
    words = key.removesuffix("_mm").removesuffix("_m").removesuffix("_deg").split("_")
    return " ".join(words).capitalize()


class Dimensions(BaseModel):
    """Frozen, strict, no unknown keys."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        strict=True,
        allow_inf_nan=False,
        field_title_generator=_label,
    )


class PartDimensions(Dimensions):
    """What every part has besides its dimensions."""

    stand: str | None = Field(default=None, description="part it stands on, of the same change")


# strict values, but a list from YAML or JSON stands for a tuple
def row(about: str, default: Any = ...) -> Any:  # noqa: ANN401 - as dim
    """A pydantic field of several numbers in a row."""
    return Field(default, description=about, strict=False)


Along = Annotated[float, Field(ge=-20.0, le=80.0)]
Across = Annotated[float, Field(ge=-20.0, le=20.0)]
Up = Annotated[float, Field(ge=-20.0, le=40.0)]
Corner = Annotated[tuple[Along, Across, Up], Field(strict=False)]
Corners = Annotated[tuple[Corner, ...], Field(strict=False, min_length=3, max_length=200)]


def plate_thickness(default: float | EllipsisType = ..., about: str = "thickness") -> Any:  # noqa: ANN401
    """A field for the thickness of a plate [mm]."""
    return dim(default, limits=(0.5, 60.0), typical=(2.0, 8.0), step=0.5, about=about)


def place_x(about: str) -> Any:  # noqa: ANN401 - as dim
    """A field for a place along the boat [m], aft of the forward perpendicular."""
    return dim(limits=(-20.0, 80.0), typical=(-2.0, 14.0), about=about)


def height_z(about: str) -> Any:  # noqa: ANN401 - as dim
    """A field for a height above the design waterline [m]."""
    return dim(limits=(-10.0, 20.0), typical=(-0.5, 3.0), about=about)


FlatMm = tuple[
    Annotated[
        float, dim(limits=(5, 500), typical=(30, 100), step=5, about="depth", title="depth")
    ],
    Annotated[
        float,
        dim(limits=(1, 60), typical=(3, 12), step=1, about="thickness", title="thickness"),
    ],
]
SizeM = tuple[
    Annotated[float, dim(limits=(0.02, 5), typical=(0.2, 1.2), about="width", title="width")],
    Annotated[float, dim(limits=(0.02, 3), typical=(0.1, 0.6), about="height", title="height")],
]


class Flats(Dimensions):
    """Flat bars on edge at a regular spacing."""

    spacing_m: float = dim(limits=(0.1, 5), typical=(0.25, 0.8), about="distance of the bars")
    flat_mm: FlatMm = row("depth and thickness of the flat bar")


class Windows(Dimensions):
    """Equal rounded windows, evenly spaced; in the front half-way up the plate."""

    count: int = Field(ge=1, le=20, description="how many in this wall")
    size_m: SizeM = row("clear width and height")
    corner_radius_m: float = dim(
        0.06, limits=(0, 1), typical=(0.02, 0.15), about="radius of the corners"
    )


class SideWindows(Windows):
    """Windows in each side of a house."""

    lower_edge_z_m: float = height_z("lower edge at the middle of the window")


class Door(Dimensions):
    """The door opening in the after end, on the centreline."""

    width_m: float = dim(limits=(0.2, 3), typical=(0.5, 0.9), about="clear width")
    sill_z_m: float = height_z("sill; below the deck the opening runs down through the edge")
    head_below_roof_m: float = dim(
        0.06, limits=(0.01, 2), typical=(0.03, 0.2), about="steel left above it, at its corners"
    )
    corner_radius_m: float = dim(
        0.05, limits=(0, 1), typical=(0.0, 0.15), about="radius of the corners"
    )


class Deckhouse(PartDimensions):
    """A deckhouse: sides leaning inboard, raked front, upright after end, arched roof."""

    kind: Literal["deckhouse"] = "deckhouse"
    x_forward_m: float = place_x("front, where it meets the deck on the centreline")
    x_aft_m: float = place_x("after end")
    roof_half_breadth_forward_m: float = dim(
        limits=(0.1, 8),
        typical=(0.4, 2.0),
        about="centreline to roof edge at the station of the front",
    )
    roof_half_breadth_aft_m: float = dim(
        limits=(0.1, 8), typical=(0.4, 2.0), about="centreline to roof edge at the after end"
    )
    side_height_m: float = dim(
        limits=(0.05, 4),
        typical=(0.25, 1.0),
        about="deck at the side to the roof's edge, upright, at mid-length",
    )
    tumblehome_deg: float = dim(
        limits=(-30, 45), typical=(0, 25), step=1, about="sides lean inboard by"
    )
    front_rake_deg: float = dim(
        limits=(-30, 75), typical=(0, 60), step=1, about="front leans aft from upright by"
    )
    roof_camber_m: float = dim(
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


class Drains(Dimensions):
    """Round drains in the sole, the first pair in its after corners."""

    count: int = Field(ge=1, le=4, description="how many")
    diameter_mm: float = dim(limits=(10, 300), typical=(25, 80), step=1, about="clear diameter")


WellM = tuple[
    Annotated[float, dim(limits=(0.2, 10), typical=(1, 3.5), about="length", title="length")],
    Annotated[float, dim(limits=(0.1, 8), typical=(0.5, 2.5), about="width", title="width")],
    Annotated[float, dim(limits=(0.03, 3), typical=(0.2, 0.7), about="depth", title="depth")],
]


class Cockpit(PartDimensions):
    """A cockpit: a seat well with seats, and a foot well in them."""

    kind: Literal["cockpit"] = "cockpit"
    x_forward_m: float = place_x("forward end of the seat well")
    deck_z_m: float = height_z("deck beside the well, from which depths are measured")
    coaming_top_z_m: float = height_z("top of the coamings")
    seat_well_m: WellM = row("length, width, and depth of the seats below the deck")
    foot_well_m: WellM = row("length, width, and depth of the sole below the seats")
    foot_well_forward_m: float = place_x("forward end of the foot well")
    plate_mm: float = plate_thickness()
    forward_coaming: bool = Field(
        default=False, description="forward end carried up to the coaming top; else to the deck"
    )
    stiffeners: Flats | None = Field(default=None, description="under seats and sole")
    drains: Drains | None = Field(default=None, description="in the sole")


class TransomExtension(PartDimensions):
    """A step behind the transom whose sides continue the transom's own outline."""

    kind: Literal["transom_extension"] = "transom_extension"
    length_m: float = dim(limits=(0.05, 5), typical=(0.2, 1.5), about="aft of the transom")
    bottom_forward_z_m: float = height_z("bottom on the centreline, at the transom")
    bottom_aft_z_m: float = height_z("bottom on the centreline, at the after end")
    platform_z_m: float = height_z("platform")
    plate_mm: float = plate_thickness()


class BowPlatform(PartDimensions):
    """A platform over the stem, with cheeks for the anchor roller and brackets on the stem."""

    kind: Literal["bow_platform"] = "bow_platform"
    length_m: float = dim(limits=(0.1, 5), typical=(0.4, 2.0), about="length over all")
    width_m: float = dim(limits=(0.05, 4), typical=(0.2, 1.0), about="width")
    top_plate_mm: float = plate_thickness(about="top plate")
    cheek_plate_mm: float = plate_thickness(about="cheeks and stem brackets")
    on_deck_m: float = dim(
        0.30, limits=(0.02, 4), typical=(0.1, 0.8), about="length that lies on the deck"
    )
    corner_radius_m: float = dim(
        0.08, limits=(0, 1), typical=(0, 0.2), about="radius of the forward corners"
    )
    cheek_height_m: float = dim(
        0.10, limits=(0.02, 1), typical=(0.05, 0.25), about="cheeks, above the platform"
    )
    bracket_m: tuple[
        Annotated[
            float, dim(limits=(0.03, 4), typical=(0.1, 0.8), about="length", title="length")
        ],
        Annotated[
            float, dim(limits=(0.03, 3), typical=(0.1, 0.6), about="depth", title="depth")
        ],
    ] = row("stem brackets: length under the platform, depth down the stem", (0.35, 0.25))
    roller_slot_mm: (
        tuple[
            Annotated[
                float,
                dim(limits=(10, 600), typical=(60, 150), step=5, about="width", title="width"),
            ],
            Annotated[
                float,
                dim(
                    limits=(20, 3000),
                    typical=(200, 700),
                    step=10,
                    about="length",
                    title="length",
                ),
            ],
        ]
        | None
    ) = row("slot for the anchor, open to forward: width and length", None)


PadMm = tuple[
    Annotated[
        float,
        dim(limits=(20, 3000), typical=(200, 600), step=10, about="length", title="length"),
    ],
    Annotated[
        float, dim(limits=(20, 3000), typical=(200, 600), step=10, about="width", title="width")
    ],
    Annotated[
        float,
        dim(limits=(1, 100), typical=(6, 20), step=1, about="thickness", title="thickness"),
    ],
]
TubeMm = tuple[
    Annotated[
        float,
        dim(limits=(10, 600), typical=(60, 140), step=1, about="diameter", title="diameter"),
    ],
    Annotated[
        float, dim(limits=(1, 60), typical=(3, 12), step=0.5, about="wall", title="wall")
    ],
]
FloorMm = tuple[
    Annotated[
        float, dim(limits=(20, 3000), typical=(200, 800), step=10, about="width", title="width")
    ],
    Annotated[
        float,
        dim(limits=(20, 2000), typical=(100, 500), step=10, about="height", title="height"),
    ],
    Annotated[
        float,
        dim(limits=(1, 100), typical=(5, 15), step=1, about="thickness", title="thickness"),
    ],
]


class MastSupport(PartDimensions):
    """What carries a mast on a roof: pad on the roof, post below, floor under the post."""

    kind: Literal["mast_support"] = "mast_support"
    x_m: float = place_x("middle of the mast")
    pad_mm: PadMm = row("pad on the roof: length, width, thickness")
    post_mm: TubeMm = row("post: diameter, wall")
    floor_mm: FloorMm = row("floor on the bottom, athwartships: width, height, thickness")


class RoundHole(Dimensions):
    """A round hole in a plate."""

    at_m: Corner = Field(description="its middle")
    diameter_mm: float = dim(limits=(1, 5000), typical=(10, 500), step=1, about="diameter")


class Plating(PartDimensions):
    """Any flat plate by its corners in space."""

    kind: Literal["plating"] = "plating"
    corners_m: Corners = Field(description="corners in order, in one plane: x, y, z")
    thickness_mm: float = plate_thickness()
    holes: tuple[RoundHole, ...] = row("round holes", ())
    cutouts_m: tuple[Corners, ...] = row("holes with corners: x, y, z of each", ())
    mirrored: bool = Field(default=False, description="a second one on the other side")
