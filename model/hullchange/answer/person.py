"""Headroom in the houses, and what is seen from the helm, as an answer tells them."""

from typing import Literal

from pydantic import Field

from hullchange.answer.wire import Point, Stage, Wire

Posture = Literal["standing", "seated"]
EnteredOrAssumed = Literal["entered", "assumed"]


class SolePointResult(Wire):
    """A point of the cabin sole."""

    x_m: float
    z_m: float


class HeadroomStation(Wire):
    """Headroom at a station of a house."""

    x_m: float
    sole_z_m: float
    middle_m: float | None = Field(description="clear height on the centreline")
    off_centre_m: float | None = Field(description="300 mm off it; null where it is narrower")


class LowHeadroom(Wire):
    """A length of a house in which headroom is less than her height."""

    where: Literal["middle", "off centre"]
    from_x_m: float
    to_x_m: float


class HeadroomResult(Wire):
    """Headroom along a house: from the sole to what hangs lowest under its roof."""

    id: str
    stage: Stage
    least_m: float | None = Field(description="under the roof, on the centreline")
    least_x_m: float | None = Field(description="where that is")
    least_off_centre_m: float | None = Field(description="likewise 300 mm off the centreline")
    spare_m: float | None = Field(description="least headroom less the person's height")
    low: tuple[LowHeadroom, ...] = Field(description="where the person cannot stand upright")
    stations: tuple[HeadroomStation, ...]


class HelmResult(Wire):
    """Where she steers in a boat, and her eyes there."""

    id: Stage
    given: EnteredOrAssumed = Field(description="assumed: proposed from the cockpit")
    x_m: float
    y_m: float
    floor_z_m: float
    seat_z_m: float | None
    eye_z_m: float = Field(description="standing")
    seated_eye_z_m: float | None


class SightChange(Wire):
    """What would show her the water from a distance before the bow."""

    id: str = Field(description="what the distance is: target, or a number of boat lengths")
    blind_m: float
    eye_higher_m: float = Field(description="that the eye would have to be higher")
    obstacle_lower_m: float | None = Field(
        description="that the obstacle would have to be lower; null where others hide it too"
    )


class SightResult(Wire):
    """Her line of sight ahead over the highest obstacle, as the boat lies at rest."""

    id: str = Field(description="of the condition")
    stage: Stage
    posture: Posture
    blind_m: float | None = Field(
        description="from the foremost point of the hull to the first water that is seen; "
        "null where none is"
    )
    blind_lengths: float | None = Field(description="the same in lengths of the hull")
    blind_over_hull_m: float | None = Field(
        description="with nothing but the bare hull before her: no lower roof betters it"
    )
    eye_above_water_m: float | None
    down_deg: float | None = Field(description="of the line below level; negative: it rises")
    over: str = Field(description="path of what limits it; hull; or empty")
    eye_m: Point
    over_m: Point | None = Field(description="the highest point in the line")
    water_m: Point | None = Field(description="where the line meets the water")
    why: str = Field(description="why no water ahead is seen, in a sentence; or empty")
    changes: tuple[SightChange, ...]


class HiddenSector(Wire):
    """A sector from the helm in which something other than the hull limits the view."""

    id: str = Field(description="its number")
    stage: Stage
    posture: Posture
    from_deg: float = Field(description="from ahead, to starboard positive")
    to_deg: float
    over: str = Field(description="path of what limits it")


class PersonResult(Wire):
    """A person aboard: headroom in the houses, and what she sees from the helm."""

    height_m: float
    sole_given: EnteredOrAssumed = Field(description="assumed: where the hull is 600 mm wide")
    sole: tuple[SolePointResult, ...]
    headroom: tuple[HeadroomResult, ...]
    helms: tuple[HelmResult, ...] = Field(description="of each boat that has one")
    sights: tuple[SightResult, ...]
    hidden: tuple[HiddenSector, ...] = Field(description="empty in the first answer to an edit")
