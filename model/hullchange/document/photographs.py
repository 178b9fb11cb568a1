"""Photographs of the boat, and where known places on her appear in each."""

from collections.abc import Mapping
from typing import Annotated

from pydantic import Field

from hullchange.document.quantities import (
    NAME_PATTERN,
    DocumentPoint,
    Percent,
    Section,
    Title,
    is_absent,
)

MOST_MARKS, MOST_PHOTOGRAPHS = 60, 100
PictureSide = Annotated[int, Field(strict=True, ge=16, le=50_000)]
MarkName = Annotated[str, Field(pattern=NAME_PATTERN, max_length=200)]
"""An offered place is named by a mark or a part of the boat, and longer than its name."""
_InPicture = tuple[
    Annotated[Percent, Field(title="across")], Annotated[Percent, Field(title="down")]
]


class PhotographMark(Section):
    """A place on the boat, and where it is in the picture."""

    at_percent: _InPicture = Field(
        title="place in the picture",
        description="across from its left edge, down from its top edge",
    )
    place_m: DocumentPoint | None = Field(
        default=None,
        title="place on the boat",
        exclude_if=is_absent,
        description="for a place of your own: [x aft, y to starboard, z up]",
    )


class Photograph(Section):
    """A picture of her, with places marked in it."""

    file: Title = Field(description="name of the picture among the attached files")
    width_px: PictureSide = Field(description="width of the picture")
    height_px: PictureSide = Field(description="height of the picture")
    marks: Mapping[MarkName, PhotographMark] = Field(
        default={}, max_length=MOST_MARKS, description="places marked in it"
    )
