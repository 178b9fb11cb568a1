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
    """Where she steers."""

    x_m: float = place_x("where she stands, along the boat")
    y_m: float = dimension(
        0.0, limits=(-20, 20), typical=(-1.5, 1.5), about="across, to starboard"
    )
    floor_z_m: Annotated[float, height_z("floor")] | None = Field(
        default=None,
        description="floor under her feet; that of the cockpit there, or the deck, if left out",
    )
    seat_z_m: Annotated[float, height_z("seat")] | None = Field(
        default=None, description="seat she steers from, where she sits too"
    )


class Person(Dimensions):
    """A person aboard, for headroom and for what is seen from the helm."""

    height_m: float = dimension(
        1.78, limits=(0.5, 2.6), typical=(1.5, 2.0), about="her height, shoes on"
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
        description="the same where it slopes: [x, z] from forward aft",
    )
    helm: Helm | None = Field(default=None, description="where she steers")

    @model_validator(mode="after")
    def _one_sole(self) -> "Person":
        points = self.sole_points_m
        if points is not None and self.sole_z_m is not None:
            raise PydanticCustomError(
                "one-sole", "has one sole: give sole_z_m, or sole_points_m where it slopes"
            )
        if points is not None and any(b[0] <= a[0] for a, b in pairwise(points)):
            raise PydanticCustomError(
                "sole-not-rising", "has a sole out of order: list its points from forward aft"
            )
        return self
