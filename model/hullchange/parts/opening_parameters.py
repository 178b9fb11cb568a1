"""The readings of an opening that a new part goes into."""

from typing import Annotated, Any

from pydantic import Field

from hullchange.parts.fields import Dimensions, dimension


def span(about: str) -> Any:  # noqa: ANN401 - as dim
    """A field for a distance between two corner marks [m]."""
    return dimension(limits=(0.05, 30.0), typical=(0.3, 6.0), step=0.001, about=about)


def _string(about: str, title: str) -> Any:  # noqa: ANN401 - as dim
    """A field for a height under or over a string [mm]."""
    return dimension(limits=(-500, 500), typical=(-50, 150), step=1, about=about, title=title)


_SAG = "deck below a string along the sides, at mid-length"
_RISE = "deck on the centreline above a string across it"
Sag = Annotated[float, _string(_SAG, "sheer")]
Rise = Annotated[float, _string(_RISE, "camber")]


class Opening(Dimensions):
    """The opening as read once the old part is out, between four corner marks on the deck."""

    side_starboard_m: float = span("along the starboard side, corner to corner")
    side_port_m: float = span("along the port side")
    across_forward_m: float = span("across the forward end")
    across_aft_m: float = span("across the after end")
    diagonal_forward_starboard_m: float = span("from forward starboard to aft port")
    diagonal_forward_port_m: float = span("from forward port to aft starboard")
    sheer_mm: Sag | None = Field(default=None, description=_SAG)
    camber_forward_mm: Rise | None = Field(default=None, description=f"{_RISE}, forward")
    camber_aft_mm: Rise | None = Field(default=None, description=f"{_RISE}, aft")


def measured_opening() -> Any:  # noqa: ANN401 - as dim
    """A field for the readings of the opening a part goes into."""
    return Field(
        default=None,
        description="as measured after cutting out, to the middle of the new plates",
        json_schema_extra={"entered_on": "cutting"},
    )
