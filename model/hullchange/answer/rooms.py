"""What voids hold, and what compartments lose."""

from pydantic import Field

from hullchange.answer.wire import Point, Wire


class FloodedResult(Wire):
    """A compartment that stands open to the sea: buoyancy lost, no weight aboard."""

    id: str
    permeability: float = Field(description="share of it that water can fill")
    room_m3: float = Field(description="the hull between its bulkheads, cockpits left out")
    water_m3: float = Field(description="what the sea fills of it at rest")


class VoidLevel(Wire):
    """A void filled level so far, the boat upright."""

    level_z_m: float = Field(description="above the design waterline")
    mass_kg: float
    centroid_m: Point


class VoidResult(Wire):
    """Room for ballast: what it holds, and how what it is to hold lies in it.

    Its mass is in no condition: what goes in is a line of a change.
    """

    id: str
    within: str
    volume_m3: float = Field(description="inside the plating, floors taken off")
    full_mass_kg: float
    mass_kg: float = Field(description="of its fill as given; full where it is not")
    level_z_m: float
    centroid_m: Point
    levels: tuple[VoidLevel, ...] = Field(description="a tenth more at each, empty to full")
