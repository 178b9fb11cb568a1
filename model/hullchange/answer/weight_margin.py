"""What may still be added where: frozen values whose names carry their units."""

from pydantic import Field

from hullchange.answer.wire import Wire


class LimitLineResult(Wire):
    """The highest centre of gravity one criterion allows, over displacement."""

    id: str
    title: str
    source: str
    grade: str
    can_be_judged: bool = Field(description="False: to be confirmed, whatever the numbers are")
    displacement_kg: tuple[float, ...]
    vcg_m: tuple[float, ...] = Field(description="above the design waterline")
    found: tuple[bool, ...] = Field(
        description="False where the limit lies beyond what was searched"
    )


class LimitMargin(Wire):
    """How far a boat lies below one limit at her displacement."""

    id: str = Field(description="of the criterion")
    limit_m: float = Field(
        description="the highest centre of gravity there, off the drawn line"
    )
    left_mm: float = Field(description="negative: she lies above it")


class LoadedDot(Wire):
    """The refit in one loading condition, to be held against the lines."""

    condition: str
    displacement_kg: float
    vcg_m: float
    vcg_fluid_m: float = Field(
        description="raised by the free surfaces of her tanks: this is held against the lines"
    )
    margins: tuple[LimitMargin, ...] = Field(
        description="the smallest first; criteria that can be judged before the others"
    )


class RoomResult(Wire):
    """What one place may still take in one condition."""

    condition: str
    place: str
    height_m: float = Field(description="above the design waterline")
    mass_kg: float = Field(description="by the criteria that can be judged")
    up_to_there_none_fails: bool = Field(description="the lines end there: at least so much")
    fails_first: str = Field(description="id of the criterion, or empty")
    sentence: str


class WeightMarginResult(Wire):
    """Limit lines, conditions as dots, and what roof, arch and cabin may still take."""

    water_density_kg_m3: float
    lines: tuple[LimitLineResult, ...]
    dots: tuple[LoadedDot, ...]
    rooms: tuple[RoomResult, ...]
    remarks: tuple[str, ...]
