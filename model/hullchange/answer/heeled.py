"""What a float heeled round answers: levers, openings, points of rest, criteria."""

from typing import Literal

from pydantic import Field

from hullchange.answer.wire import Point, Side, Stage, Wire


class RightingLevers(Wire):
    """Righting levers over heel at her displacement, free to trim, liquids moving.

    A lever is positive where it turns her towards upright, to either side.  Where the house's
    own opening goes under, its heel stands twice: there the lever steps.
    """

    heel_deg: tuple[float, ...]
    gz_m: tuple[float, ...]
    gz_plus_minus_m: tuple[float, ...] = Field(
        description="one standard deviation, from mass, place, survey and VCG"
    )
    gz_well_dry_m: tuple[float, ...] = Field(
        description="cockpit dry until its coaming goes under; gz_m counts it as lost always"
    )
    gz_without_house_m: tuple[float, ...] = Field(description="at the heels of heel_deg")
    trim_deg: tuple[float, ...] = Field(description="she takes at each heel, by the stern")
    water_offset_m: tuple[float, ...] = Field(
        description="a point lies up . point - offset above the water, "
        "up = (-sin trim, -cos trim sin heel, cos trim cos heel)"
    )


class SideAngles(Wire):
    """Heels to one side at which something goes under; null where it does not."""

    range_deg: float | None = Field(
        default=None, description="smaller of vanishing and flooding"
    )
    downflooding_angle_deg: float | None
    downflooding_angle_in_use_deg: float | None = None
    downflooding_angle_all_open_deg: float | None
    downflooding_by_area_deg: float | None = None
    deck_edge_angle_deg: float | None
    coaming_angle_deg: float | None


class HeldResult(Wire):
    """The boat held at every whole degree of heel to one side, from upright outwards.

    Between the heels of ``RightingLevers`` by their exact slopes, and solved for wherever these
    do not tell lever and water to 0.1 mm and trim to 0.01 degrees.  A heel at which the lever
    steps stands twice, its inner side first.
    """

    heel_deg: tuple[float, ...] = Field(description="negative to port")
    gz_m: tuple[float, ...] = Field(description="positive where it rights her from this side")
    gz_plus_minus_m: tuple[float, ...] = Field(description="one standard deviation")
    gz_without_house_m: tuple[float | None, ...] = Field(
        description="null where she tips end over end without it"
    )
    gz_well_dry_m: tuple[float | None, ...] = Field(description="likewise, her cockpit dry")
    gz_wells_full_m: tuple[float | None, ...] | None = Field(
        description="straight between the heels of WellsFullResult; null where no well is full"
    )
    water_in_wells_kg: tuple[float | None, ...] | None = Field(description="likewise")
    gz_change_m: tuple[float | None, ...] | None = Field(
        default=None, description="the refit less the boat as found; null of the latter"
    )
    trim_deg: tuple[float, ...] = Field(description="by the stern")
    water_offset_m: tuple[float, ...] = Field(description="as in RightingLevers")
    trim_mm: tuple[float, ...] = Field(
        description="tangent of the trim times the length between perpendiculars"
    )
    sinkage_mm: tuple[float, ...] = Field(
        description="of the middle of the design waterline, straight down to it"
    )
    gravity_across_m: tuple[float, ...] | None = Field(
        default=None,
        description="centre of gravity, liquids as they lie, along the water athwartships: "
        "(0, cos heel, sin heel) . point, starboard positive; null in levers of another "
        "version",
    )
    gravity_above_sea_m: tuple[float, ...] | None = Field(
        default=None, description="its height above the water; likewise"
    )
    buoyancy_across_m: tuple[float, ...] | None = Field(
        default=None,
        description="centre of what is under water, keel and house with it; likewise. It lies "
        "the righting lever further out than that of gravity",
    )
    buoyancy_above_sea_m: tuple[float, ...] | None = Field(
        default=None, description="its height above the water; likewise"
    )
    openings_under: tuple[tuple[int, ...], ...] = Field(
        description="openings under water, by their place in the list, the deepest first"
    )
    next_opening: tuple[int | None, ...] = Field(
        description="the lowest one above it, likewise; null where all are under"
    )
    next_opening_m: tuple[float | None, ...] = Field(description="its height above the water")


class WellsFullResult(Wire):
    """Levers with each flooded well as full as it can be at each heel, its water free.

    Other than in ``RightingLevers`` she spills as she heels, and takes the sea in where it
    stands above the rim; each lever is at the displacement with the water in her there.
    """

    heel_deg: tuple[float, ...]
    gz_m: tuple[float, ...]
    water_kg: tuple[float, ...] = Field(description="in her wells at each heel")
    vanishing_angle_deg: float = Field(description="smaller of both sides")


class FreeSurfaceResult(Wire):
    """A lever by two methods: liquids that move, and G raised by their free surfaces."""

    heel_deg: float = Field(description="to the worse side")
    rise_mm: float = Field(description="of G: GM with the liquids frozen, less GM")
    gz_m: float = Field(description="liquids moving as they do, house and wells as at rest")
    gz_virtual_m: float = Field(description="liquids frozen as they lie, G raised")
    difference_mm: float = Field(description="virtual minus moving")


class OpeningResult(Wire):
    """An opening, one side of it, and the heel at which its edge goes under."""

    id: str
    side: Literal["port", "starboard", "centreline"]
    immersion_angle_deg: float | None = Field(
        description="smaller of both sides; null where it stays dry through the whole circle"
    )
    heeled_to: Side | None = Field(description="side to which she is heeled then")
    immersion_angles_deg: dict[Side, float | None] | None = Field(
        default=None, description="to each side; null where it stays dry to that side"
    )
    height_mm: float = Field(description="of its lowest edge above the water at rest")
    edge_m: tuple[Point, ...] = Field(description="where its edge first goes under")
    area_m2: float
    closing: str
    stands_open: bool
    into_hull: bool = Field(default=True, description="false: into a house that stands on it")
    regular: bool | None = Field(
        default=None, description="in use at sea for access or air; null where not stated"
    )
    progressive: bool | None = Field(
        default=None, description="water through it spreads; null where not stated"
    )
    tank_air_pipe: bool = False


class FloodingByRule(Wire):
    """What one publication takes for downflooding, and the angle that gives."""

    id: str
    document: str
    openings: str = Field(description="which openings count, in words")
    follows: str = Field(description="what follows from the angle, in words")
    angle_deg: float | None = Field(description="null where no opening that counts goes under")
    opening: str = Field(description="in words, with its side; empty where none")
    heeled_to: Side | None
    undecided: tuple[str, ...] = Field(
        description="openings counted because too little is stated about them"
    )
    source: str
    grade: str


class RestResult(Wire):
    """A heel at which she rests, stable or not."""

    heel_deg: float
    stable: bool
    inverted: bool


class QuantityResult(Wire):
    """A number a criterion's result was made from."""

    name: str
    value: float
    unit: str


CriterionVerdict = Literal[
    "met", "met_within_doubt", "not_met_within_doubt", "not_met", "to_be_confirmed"
]
"""Met or not met by two standard deviations at least, or within them; or not known enough."""
OlderVerdict = Literal["not met", "to be confirmed", "not answered"]
"""Words that revisions older than the doubt hold."""


class CriterionResult(Wire):
    """A criterion, its value and what is known about it; it opens down to its inputs."""

    id: str
    title: str
    value: float | None
    limit: float | None
    unit: str
    sense: str
    state: CriterionVerdict | OlderVerdict = Field(
        description="by the value, the doubt beside it; to be confirmed too where there is none"
    )
    plus_minus: float | None = Field(
        default=None, description="one standard deviation of the value; null: not known"
    )
    margin_sd: float | None = Field(
        default=None, description="standard deviations by which the value keeps the limit"
    )
    probability: float | None = Field(
        default=None, description="that the limit is kept, 0 to 1"
    )
    vcg_rise_m: float | None = Field(
        default=None,
        description="rise of the centre of gravity that uses up the margin; negative: it must "
        "come down by this much; null where none within a metre does",
    )
    document: str = Field(description="title of the document it is taken from")
    source: str
    grade: str
    formula: str
    limit_in_words: str
    written_for: str
    inputs: tuple[QuantityResult, ...]
    remarks: tuple[str, ...]
    downflooding_by: str | None = Field(
        default=None, description="id of the definition it uses; null where it needs none"
    )
    downflooding_angle_deg: float | None = Field(
        default=None,
        description="by that definition; null where no opening that counts goes under",
    )
    downflooding_opening: str | None = Field(
        default=None, description="in words, with its side"
    )


class ThresholdResult(Wire):
    """A change from which a rule asks for a new look; it says whom to ask, and is no ruling."""

    id: str
    title: str
    value: float
    limit: float = Field(description="reached where the value is more")
    unit: str
    state: Literal["reached", "not reached"]
    asks: str
    source: str
    grade: str


class CockpitResult(Wire):
    """A cockpit full of water to its coamings, in the reference condition."""

    id: str = Field(description="path of the part")
    stage: Stage
    volume_m3: float
    water_kg: float
    sole_above_sea_mm: float = Field(description="lowest corner of the sole; negative: below")
    drain_area_cm2: float | None = Field(description="null where no drains are given")
    drain_time_s: float | None = Field(
        description="until it is empty; null where it never is, or no drains are given"
    )
    criteria: tuple[CriterionResult, ...]
