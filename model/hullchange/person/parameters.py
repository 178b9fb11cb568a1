"""What the document says of a person aboard, and of where she stands."""

from itertools import pairwise
from typing import Annotated

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from hullchange.parts.fields import Along, Dimensions, Up, dimension, height_z, place_x

SolePoint = Annotated[
    tuple[Annotated[Along, Field(title="x")], Annotated[Up, Field(title="z")]],
    Field(strict=False),
]


class Helm(Dimensions):
    """Where the person steers."""

    x_m: float = place_x("along the boat, from the forward perpendicular aft")
    y_m: float = dimension(
        0.0, limits=(-20, 20), typical=(-1.5, 1.5), about="across, to starboard"
    )
    floor_z_m: Annotated[float, height_z("floor")] | None = Field(
        default=None,
        description="floor underfoot; that of the cockpit there, or the deck, if left out",
    )
    seat_z_m: Annotated[float, height_z("seat")] | None = Field(
        default=None, description="seat at the helm, where one steers seated too"
    )


class Person(Dimensions):
    """A person aboard, for headroom and for what is seen from the helm."""

    height_m: float = dimension(
        1.78, limits=(0.5, 2.6), typical=(1.5, 2.0), about="height of the person, shoes on"
    )
    lining_mm: float = dimension(
        0.0,
        limits=(0, 300),
        typical=(0, 60),
        step=5,
        about="insulation and lining under the roof's beams, which takes headroom",
    )
    sole_z_m: Annotated[float, height_z("sole")] | None = Field(
        default=None,
        description="top of the cabin sole, above the design waterline (below it: negative)",
    )
    sole_points_m: tuple[SolePoint, ...] | None = Field(
        default=None,
        strict=False,
        min_length=2,
        max_length=50,
        description="the same where it slopes or steps: [x, z] from forward aft, instead of "
        "sole_z_m",
    )
    helm: Helm | None = Field(default=None, description="where the person steers")

    @model_validator(mode="after")
    def _sole_in_order(self) -> "Person":
        points = self.sole_points_m
        if points is not None and any(b[0] <= a[0] for a, b in pairwise(points)):
            raise PydanticCustomError(
                "sole-not-rising", "has a sole out of order: list its points from forward aft"
            )
        return self
