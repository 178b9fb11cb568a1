"""What the dimensions of parts are declared with: fields with limits, sliders, meanings."""

import re
from types import EllipsisType
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

Span = tuple[float, float]


def dimension(
    default: float | EllipsisType = ...,
    *,
    limits: Span,
    about: str,
    typical: Span | None = None,
    step: float = 0.01,
    title: str | None = None,
) -> Any:  # noqa: ANN401 - a field default stands for a value of the field's own type
    """A pydantic field of one number: its limits, its slider and its meaning.

    The unit is in the name of the field.

    Args:
        default: value where the document gives none, in the field's unit; without it the key
            is required.
        limits: smallest and largest value that is allowed.
        about: what is measured, in a few words.
        typical: range of the slider; the limits where left out.
        step: of the slider, in the field's unit.
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


_UNIT = re.compile(r"(_(m|mm|deg|kg|l|m2|kgm|percent|s|kwh|kg_m3|kg_m2))$")

_LABELS = {
    "at_m": "Centre",
    "to_m": "New centre",
    "from": "Figure from",
    "vcg": "VCG, not measured on this boat",
    "plus_minus_kg": "± of the mass",
    "plus_minus_m": "±",
    "plus_minus_l": "± of the fill",
    "plus_minus_deg": "± of a heel",
    "plus_minus_moment_percent": "± of a moment",
    "may_lie_m": "May be moved",
    "box_m": "Box",
    "edge_m": "Edge",
    "z_m": "Height",
    "x_m": "Place along",
    "y_m": "Place across",
    "boat": "Which boat",
    "sheer_z_m": "Height of the sheer",
    "length_waterline_m": "Waterline length",
    "at_y_m": "Middle across",
    "new": "after",
    "old": "before",
}
"""Where the key alone would not tell."""


def label(key: str, _: object = None) -> str:
    """What a form calls a key of the document, without its unit: ``Side height``."""
    if key in _LABELS:
        return _LABELS[key]
    return _UNIT.sub("", key).replace("_", " ").strip().capitalize()


class Dimensions(BaseModel):
    """Frozen, strict, no unknown keys."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        strict=True,
        allow_inf_nan=False,
        field_title_generator=label,
    )


class PartDimensions(Dimensions):
    """What every part has beside its dimensions."""

    stand: str | None = Field(
        default=None, description="part it stands on: a new one, or an existing one that stays"
    )


def came_later(about: str, default: Any = None) -> Any:  # noqa: ANN401 - as dimension
    """A pydantic field of a key that came after documents were signed.

    Where it is not given it is left out of what is written and of the document's hash, so that
    an older document keeps both.
    """
    return Field(default=default, description=about, exclude_if=_is_absent)


def _is_absent(value: object) -> bool:
    return value in (None, False, "none")


# strict values, but a list from YAML or JSON stands for a tuple
def dimension_row(about: str, default: Any = ...) -> Any:  # noqa: ANN401 - as dim
    """A pydantic field of several numbers in a row."""
    return Field(default, description=about, strict=False)


Along = Annotated[float, Field(ge=-20.0, le=80.0)]
Across = Annotated[float, Field(ge=-20.0, le=20.0)]
Up = Annotated[float, Field(ge=-20.0, le=40.0)]
Corner = Annotated[tuple[Along, Across, Up], Field(strict=False)]
CornerPoints = Annotated[tuple[Corner, ...], Field(strict=False, min_length=3, max_length=200)]


def plate_thickness(default: float | EllipsisType = ..., about: str = "thickness") -> Any:  # noqa: ANN401
    """A field for the thickness of a plate [mm]."""
    return dimension(default, limits=(0.5, 60.0), typical=(2.0, 8.0), step=0.5, about=about)


def scallop(about: str) -> Any:  # noqa: ANN401 - as dim
    """A field for the radius of a relief where welds cross [mm].

    25 to 40 mm are common practice, no source.
    """
    return dimension(
        30.0, limits=(0, 100), typical=(0, 50), step=5, title="Scallop", about=about
    )


def place_x(about: str) -> Any:  # noqa: ANN401 - as dim
    """A field for a place along the boat [m], aft of the forward perpendicular."""
    return dimension(limits=(-20.0, 80.0), typical=(-2.0, 14.0), about=about)


def height_z(about: str) -> Any:  # noqa: ANN401 - as dim
    """A field for a height above the design waterline [m]."""
    return dimension(limits=(-10.0, 20.0), typical=(-0.5, 3.0), about=about)
