"""What an assessment answers: frozen values whose names carry their units.

These classes are the JSON of ``hullchange assess --json`` and of the HTTP interface, so every
field name is part of the contract.  A value that does not exist is null; a finding says why.
"""

from typing import Any, Literal

from pydantic import Field

from hullchange.answer.assumed import AssumedResult, OwnFigures
from hullchange.answer.changes import (
    ChangeResult,
    ItemResult,
    PartResult,
    ReplacedResult,
    TotalsResult,
    Waterfall,
)
from hullchange.answer.heeled import (
    CockpitResult,
    CriterionResult,
    FloodingByRule,
    FreeSurfaceResult,
    HeldResult,
    OpeningResult,
    RestResult,
    RightingLevers,
    SideAngles,
    ThresholdResult,
    WellsFullResult,
)
from hullchange.answer.hull import HullResult
from hullchange.answer.lines import LinesResult
from hullchange.answer.person import PersonResult
from hullchange.answer.rooms import FloodedResult, VoidResult
from hullchange.answer.survey import RollsResult, SurveyResult
from hullchange.answer.targets import TargetResult, UsualTarget
from hullchange.answer.uncertainty import (
    HeeledChange,
    HeeledPlusMinus,
    Method,
    PlusMinus,
    SampledResult,
    SharesResult,
)
from hullchange.answer.wire import Point, Side, Stage, Wire
from hullchange.errors import ModelError

OLDER = "null in results of older versions"


class FreeboardResult(Wire):
    """Sheer to water at a measured mark."""

    mark: str
    side: Side
    half_breadth_m: float = Field(description="of the sheer there")
    freeboard_mm: float
    plus_minus_mm: float


class MarkFreeboard(Wire):
    """Freeboard at a mark: of both sides, their mean, and how much that has changed."""

    mark: str
    port_mm: float
    starboard_mm: float
    mean_mm: float
    change_mm: float | None = Field(description="null of the boat as found")


class Difference(Wire):
    """The refit minus the boat as found in the same condition; shared errors cancel."""

    displacement_kg: float
    lcg_m: float
    tcg_m: float
    vcg_m: float
    sinkage_mm: float
    sinkage_bow_mm: float | None = Field(default=None, description=OLDER)
    sinkage_stern_mm: float | None = Field(default=None, description=OLDER)
    trim_mm: float
    trim_deg: float | None = Field(default=None, description=OLDER)
    heel_deg: float
    gm_m: float
    freeboards: tuple[FreeboardResult, ...]
    plus_minus: PlusMinus
    plus_minus_by: Method
    heeled: HeeledChange | None = None


class LoadedResult(Wire):
    """One line of what a boat weighs in a condition, besides the lines of the refit."""

    path: str = Field(description="of the figure in the document; 'survey': all that floated")
    mass_kg: float = Field(
        description="negative: part of the surveyed mass, but not aboard here"
    )
    at_m: Point = Field(description="of a liquid, as it lies at rest")


class ConditionResult(Wire):
    """One boat in one loading condition."""

    id: str
    stage: Stage
    water_density_kg_m3: float
    displacement_kg: float
    centre_of_gravity_m: Point
    vcg_above_keel_m: float
    loaded: tuple[LoadedResult, ...]
    plus_minus: PlusMinus
    plus_minus_by: Method = Field(
        description="also of the freeboards; sampled: of the draws that rest the same way up"
    )
    sampled: SampledResult | None = Field(
        default=None, description="null where linear plus/minus can be trusted"
    )
    shares: SharesResult
    sinkage_mm: float
    sinkage_bow_mm: float
    sinkage_stern_mm: float
    trim_mm: float
    trim_deg: float
    heel_deg: float
    upside_down: bool | None = Field(
        default=None, description="keel above deck: trim, sinkage and freeboards mean nothing"
    )
    water_offset_m: float | None = Field(
        default=None, description="of the water at rest, as in RightingLevers"
    )
    freeboards: tuple[FreeboardResult, ...]
    freeboards_at_marks: tuple[MarkFreeboard, ...] = ()
    gm_m: float = Field(
        description="upright, however she rests: held without list, free to sink and trim; "
        "likewise GM solid, KM and every plus/minus and change of GM"
    )
    gm_at_rest_m: float | None = Field(
        default=None,
        description="GM about the attitude she comes to rest in: a different figure for a "
        "boat that lists, lolls or has capsized, and not the one rules mean; null "
        "in older revisions",
    )
    gm_solid_m: float
    km_m: float
    gm_longitudinal_m: float
    waterplane_area_m2: float
    kg_per_cm: float
    trim_moment_kgm_per_cm: float
    lcf_m: float
    change: Difference | None = None
    flooded: tuple[FloodedResult, ...] = Field(
        default=(), description="compartments open to the sea"
    )
    righting_levers: RightingLevers | None = None
    held: dict[Side, HeldResult] | None = Field(
        default=None, description="to either side; for the chosen condition only"
    )
    not_followed: str = Field(
        default="",
        description="why there are no righting levers, so that nothing below is judged",
    )
    wells_full: WellsFullResult | None = Field(
        default=None, description="null where the condition floods no well"
    )
    free_surface: FreeSurfaceResult | None = None
    worse_side: Side | None = Field(
        default=None, description="with the smaller area under the levers to 90 degrees"
    )
    sides: dict[Side, SideAngles] | None = Field(
        default=None,
        description="angles of each side; the fields that follow hold the smaller of both",
    )
    heeled_plus_minus: HeeledPlusMinus | None = None
    vanishing_angle_deg: float | None = Field(
        default=None, description="smaller of both sides, house counted"
    )
    vanishing_angle_without_house_deg: float | None = None
    vanishing_angle_port_deg: float | None = Field(
        default=None,
        description="0 where she does not right herself, 180 where from every heel",
    )
    vanishing_angle_starboard_deg: float | None = Field(default=None, description="likewise")
    greatest_gz_m: float | None = None
    greatest_gz_at_deg: float | None = None
    downflooding_angle_deg: float | None = Field(
        default=None,
        description="first opening into the hull that nothing closes, the worse side",
    )
    downflooding_angle_in_use_deg: float | None = Field(
        default=None, description="the same with what people open at sea left open: boards out"
    )
    downflooding_angle_all_open_deg: float | None = Field(
        default=None, description="first opening of all, wherever it leads, all openings open"
    )
    downflooding_by_area_deg: float | None = Field(
        default=None,
        description="by the sailing code's rule: openings in use at sea with a total area of "
        "more than displacement in tonnes / 1500 m²",
    )
    critical_opening: str | None = Field(
        default=None, description="id of the opening of downflooding_angle_deg"
    )
    critical_side: Literal["port", "starboard", "centreline"] | None = Field(
        default=None, description="on which it lies"
    )
    flooding_sentence: str = Field(
        default="",
        description="where the sea comes in first, and through which openings that people open",
    )
    downflooding_by_rule: tuple[FloodingByRule, ...] = ()
    range_deg: float | None = Field(
        default=None,
        description="smaller of the angle of vanishing stability and the downflooding angle",
    )
    deck_edge_angle_deg: float | None = None
    coaming_angle_deg: float | None = None
    openings: tuple[OpeningResult, ...] = ()
    rests: tuple[RestResult, ...] = ()
    area_under_gz: dict[str, float] | None = None
    roll_period_s: tuple[float, float, float] | None = Field(
        default=None, description="to expect, with its low and high bound; rough"
    )
    criteria: tuple[CriterionResult, ...] = ()
    headroom_least_m: float | None = Field(
        default=None, description="under the roofs of her houses; null where none is known"
    )
    sight_blind_m: float | None = Field(
        default=None, description="water hidden ahead of the bow from the helm, standing"
    )
    sight_blind_seated_m: float | None = Field(default=None, description="the same, seated")


class UnansweredResult(Wire, extra="allow"):
    """One boat in a loading condition in which she does not float, or finds no rest.

    Every other field of a condition's result is there, and null.
    """

    id: str
    stage: Stage
    unanswered: str = Field(description="why, in a sentence; also in a finding")
    code: str = Field(description="of the refusal: sinks, no-equilibrium ...")

    @classmethod
    def of(cls, condition: str, stage: Stage, error: ModelError) -> "UnansweredResult":
        """The boat with null for every result."""
        nothing: dict[str, Any] = dict.fromkeys(ConditionResult.model_fields)
        known = {"id": condition, "stage": stage, "unanswered": error.sentence}
        return cls.model_validate(nothing | known | {"code": error.code})


ConditionAnswer = ConditionResult | UnansweredResult


class FindingResult(Wire):
    """One sentence beside the thing it concerns."""

    code: str
    severity: Literal["fail", "warn", "note"]
    place: str
    sentence: str
    source: str


class RecordResult(Wire):
    """The CAD solids beside the plates' own meshes."""

    state: Literal["held", "differs", "left out", "pending"]
    parts: tuple["RecordPart", ...] = ()

    @classmethod
    def left_out(cls) -> "RecordResult":
        """Word that no solid was built."""
        return cls(state="left out")


class RecordPart(Wire):
    """One part weighed from its CAD solids."""

    id: str
    solids: int
    mass_kg: float
    centroid_m: Point
    mass_difference_percent: float
    centroid_difference_mm: float
    differs: bool


class Assessment(Wire):
    """The whole answer."""

    hullchange: str
    boat: str
    document_sha256: str
    option: str | None
    reference_condition: str
    hull: HullResult
    lines: LinesResult | None = Field(
        default=None, description=f"null in the first answer to an edit; {OLDER}"
    )
    survey: SurveyResult
    parts: tuple[PartResult, ...]
    replaced: tuple[ReplacedResult, ...]
    changes: tuple[ChangeResult, ...]
    items: tuple[ItemResult, ...]
    totals: TotalsResult | None = Field(default=None, description=OLDER)
    waterfall: Waterfall
    conditions: tuple[ConditionAnswer, ...]
    cockpits: tuple[CockpitResult, ...]
    thresholds: tuple[ThresholdResult, ...] = Field(
        description="empty in the first answer to an edit"
    )
    rolls: RollsResult | None = Field(description="null where none were timed")
    targets: tuple[TargetResult, ...]
    usual_targets: tuple[UsualTarget, ...] = Field(
        default=(), description="what could be asked where no target is set"
    )
    record: RecordResult
    voids: tuple[VoidResult, ...] = Field(
        default=(), description="room for ballast, and its fill"
    )
    findings: tuple[FindingResult, ...]
    assumed: tuple[AssumedResult, ...] = Field(
        default=(), description="values assumed until measured, worst first"
    )
    own_figures: OwnFigures | None = Field(default=None, description=OLDER)
    person: PersonResult | None = Field(
        default=None, description="null where the document has no person"
    )

    @property
    def floats(self) -> tuple[ConditionResult, ...]:
        """The conditions that have results."""
        return tuple(row for row in self.conditions if isinstance(row, ConditionResult))

    def condition(self, name: str, stage: str = "refit") -> ConditionResult:
        """The boat in a loading condition, as the refit or ``as_found``.

        Raises:
            ModelError: ``unknown-condition``; the code and sentence of the answer where she
                does not float.
        """
        for row in self.conditions:
            if (row.id, row.stage) == (name, stage):
                if isinstance(row, UnansweredResult):
                    raise ModelError(row.code, row.unanswered, f"conditions.{name}")
                return row
        known = ", ".join(f"{row.id} ({row.stage})" for row in self.conditions)
        sentence = f"There is no result for condition {name} ({stage}): there are {known}."
        raise ModelError("unknown-condition", sentence)

    def part(self, name: str) -> PartResult:
        """A new part by its name.

        Raises:
            ModelError: ``unknown-name``.
        """
        part = next((part for part in self.parts if part.id == name), None)
        if part is None:
            known = ", ".join(part.id for part in self.parts) or "none"
            raise ModelError("unknown-name", f"There is no new part {name}: there are {known}.")
        return part

    def lcf_in(self, condition: str) -> float:
        """[m] centre of flotation in a condition; of the hull where she does not float in it.

        Of the refit, or the only boat the condition is run for.
        """
        rows = (row.lcf_m for row in reversed(self.floats) if row.id == condition)
        return next(rows, self.hull.lcf_m)
