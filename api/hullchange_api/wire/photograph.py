"""HTTP schemas for an owner's photograph: the marks set on it, and what is laid into it."""

from typing import Annotated, Literal

from pydantic import Field

from hullchange.answer.wire import Point, Stage, Wire
from hullchange.document.quantities import Coordinate
from hullchange_api.wire.hull_sources import Pixel

MOST_MARKS = 60
FlatPixel = tuple[float, float]


class PhotographPlace(Wire):
    """A place on the boat that can be found in a photograph."""

    id: str
    name: str
    at_m: Point


class PhotographMark(Wire):
    """A mark set on a photograph."""

    id: Annotated[str, Field(min_length=1, max_length=200)] = Field(
        description="of an offered place, or any other name"
    )
    at_px: tuple[Pixel, Pixel] = Field(description="from the upper left corner")
    place_m: tuple[Coordinate, Coordinate, Coordinate] | None = Field(
        default=None, description="of a place that is not offered"
    )


class PhotographToSolve(Wire):
    """The size of a photograph and the marks on it."""

    width_px: Annotated[int, Field(ge=16, le=50_000)]
    height_px: Annotated[int, Field(ge=16, le=50_000)]
    marks: Annotated[tuple[PhotographMark, ...], Field(max_length=MOST_MARKS)]


class MarkOff(Wire):
    """How far a mark is from where the camera has its place."""

    id: str
    off_px: float
    off_mm: float = Field(description="at the boat")
    seen_px: FlatPixel = Field(description="where the camera has it")


class PhotographFace(Wire):
    """A triangle of the boat, as the camera sees it."""

    role: Literal["hides", "part"] = Field(description="hides: of the photograph; not drawn")
    id: str = Field(description="of the part, appendage or hull")
    light: float = Field(description="share of full light")
    points_px: tuple[FlatPixel, ...]


class PhotographWaterline(Wire):
    """The waterline of a boat at rest, where the hull is turned to the camera."""

    id: Stage
    pieces_px: tuple[tuple[FlatPixel, FlatPixel], ...]


class PhotographResult(Wire):
    """What is laid into a photograph: faces from far to near, and waterlines."""

    off_px: float = Field(description="of the marks, root mean square")
    off_mm: float = Field(description="the same at the boat")
    away_m: float = Field(description="camera to the middle of the marks")
    marks: tuple[MarkOff, ...]
    faces: tuple[PhotographFace, ...]
    waterlines: tuple[PhotographWaterline, ...]
