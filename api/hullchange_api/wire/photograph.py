"""HTTP schemas for an owner's photograph: places offered, and what is laid into it."""

from typing import Literal

from pydantic import Field

from hullchange.answer.wire import Point, Stage, Wire

FlatPixel = tuple[float, float]


class PhotographPlace(Wire):
    """A place on the boat that can be found in a photograph."""

    id: str
    name: str
    at_m: Point


class MarkOff(Wire):
    """How far a mark is from where the camera has its place."""

    id: str
    name: str
    off_px: float
    off_mm: float = Field(description="at the boat")


class PhotographFace(Wire):
    """A triangle of the boat, as the camera sees it."""

    role: Literal["hides", "part", "glass"] = Field(
        description="hides: of the photograph; not drawn"
    )
    light: float = Field(description="share of full light")
    points_px: tuple[FlatPixel, ...]


class PhotographWaterline(Wire):
    """The waterline of a boat at rest, where the hull is turned to the camera."""

    id: Stage
    pieces_px: tuple[tuple[FlatPixel, FlatPixel], ...]


class PhotographWeight(Wire):
    """A new weight without a shape, outside hull and houses."""

    id: str = Field(description="its path")
    mass_kg: float
    at_px: FlatPixel = Field(description="its centre of gravity")


class PhotographResult(Wire):
    """What is laid into a photograph: faces from far to near, and waterlines."""

    off_px: float = Field(description="of the marks, root mean square")
    off_mm: float = Field(description="the same at the boat")
    away_m: float = Field(description="camera to the middle of the marks")
    marks: tuple[MarkOff, ...]
    faces: tuple[PhotographFace, ...]
    waterlines: tuple[PhotographWaterline, ...]
    weights: tuple[PhotographWeight, ...]
