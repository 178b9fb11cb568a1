"""What the boat is drawn from: her side view, and curves of the very bodies that float."""

from typing import Literal

from pydantic import Field

from hullchange.answer.wire import Point, Wire


class Outline(Wire):
    """A shape in side view, (x, z) points; drawn closed where ``closed``.

    Attributes:
        role: an existing part stays; a replaced one is gone from the refit.
    """

    id: str
    role: Literal["hull", "sheer", "chine", "appendage", "existing", "replaced", "part"]
    points_m: tuple[tuple[float, float], ...]
    closed: bool


class MarkOnProfile(Wire):
    """A freeboard mark at the sheer."""

    id: str
    x_m: float
    sheer_z_m: float


class BodyCurve(Wire):
    """A curve of the boat as she floats, for drawings that look along her.

    A section is its starboard half, from the centreline up the side to the deck's edge and over
    the deck to the centreline; the sheer is the starboard one. A keel is its middle plane seen
    end on.

    Attributes:
        both_sides: whether its mirror image is there as well.
    """

    role: Literal["section", "midship", "sheer", "keel", "house", "well"]
    points_m: tuple[Point, ...]
    both_sides: bool = True


class PartHandle(Wire):
    """A place on a new part that moves with one of its dimensions, and can be dragged."""

    path: str = Field(description="of the dimension in the document")
    index: int | None = Field(
        description="its place in the row of numbers there; null where it stands alone"
    )
    change: str
    part: str
    kind: str
    at_m: Point
    moves_m: Point = Field(description="how far it moves when the dimension grows by a metre")
    is_main: bool = Field(description="worth showing where nothing is picked")


class Profile(Wire):
    """The boat from her port side turned so that the bow is left: x to the right, z up."""

    outlines: tuple[Outline, ...]
    marks: tuple[MarkOnProfile, ...]
    length_waterline_m: float
    centre_of_flotation_x_m: float
    changes_moment_kgm: float = Field(
        description="of what goes on, less what comes off, about the centre of flotation; "
        "positive aft; what moves counts at both places"
    )
    body: tuple[BodyCurve, ...] = Field(
        description="sections at the stations of the sheer, midship section, sheer, keel, "
        "and houses and wells at their mid-length, of the refit"
    )
    handles: tuple[PartHandle, ...] = Field(
        default=(), description="of the new parts; empty in results of a version without them"
    )
