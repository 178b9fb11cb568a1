"""The whole assessment of a boat: what ``hullchange assess`` prints and the viewer shows."""

from collections.abc import Callable
from hashlib import sha256

import hullchange
from hullchange.findings import Finding, worst_first
from hullchange.floating.equilibrium import Equilibrium
from hullchange.floating.hydrostatics import Hydrostatics, hydrostatics
from hullchange.study import judgement
from hullchange.study.as_found import Found, found, hull_envelope
from hullchange.study.boat import Boat
from hullchange.study.cockpits import cockpits_of
from hullchange.study.conditions import LoadingCondition, conditions_of
from hullchange.study.effects import (
    Yardstick,
    change_effects,
    gross_effects,
    part_effects,
    waterfall,
    yardstick,
)
from hullchange.study.floats import afloat
from hullchange.study.heeled_results import CockpitResult
from hullchange.study.ledger_answer import changes_of, items_of, parts_of, replaced_of
from hullchange.study.memo import Memo
from hullchange.study.openings import edges_of
from hullchange.study.results import (
    Assessment,
    ConditionResult,
    FindingResult,
    HullResult,
    RecordResult,
)
from hullchange.study.rolls import rolls_findings, rolls_of
from hullchange.study.rows import Row, results_of, rows_of, surveyed_row
from hullchange.study.stability_answer import with_stability
from hullchange.study.survey_answer import survey_of
from hullchange.study.thresholds import thresholds_of
from hullchange.study.variants import as_found

_HYDROSTATICS: Memo[Hydrostatics] = Memo(8)
_HEELED: Memo[ConditionResult] = Memo(64)


def assessment(
    boat: Boat,
    *,
    option: str = "",
    only: str = "",
    levers: bool = True,
    record: Callable[[], RecordResult] = RecordResult.left_out,
) -> Assessment:
    """The answer to everything that is asked of a refit.

    Args:
        boat: everything built.
        option: name of the option that was applied, for the heading.
        only: a condition that is answered by itself, without the effects of single items, so
            that a dragged dimension answers at once; all conditions where empty.
        levers: whether every float is heeled round; without it she is answered upright only.
        record: asked for the CAD record when all else is answered, so that it can be made
            meanwhile; it is said to be left out where nothing is given.

    Raises:
        ModelError: where she does not float, or a condition cannot be completed.
    """
    as_surveyed = found(boat)
    conditions = conditions_of(boat.document)
    reference = conditions[boat.document.reference_condition]
    asked = [conditions[only]] if only else list(conditions.values())
    hull = hull_result(boat)
    rows, answers = _answered(boat, as_surveyed, asked, hull if levers else None)
    stick = yardstick(boat, as_surveyed, reference, _refit_in(rows, reference))
    effects = change_effects(stick)
    targets = list(judgement.targets_of(boat, answers))
    told, cockpits = record(), _cockpits(boat, as_surveyed, stick)
    missed = [*judgement.criteria_findings(answers, cockpits), *(f for _, f in targets if f)]
    return Assessment(
        hullchange=hullchange.__version__,
        boat=boat.document.boat.name,
        document_sha256=document_hash(boat),
        option=option or None,
        reference_condition=reference.id,
        hull=hull,
        survey=survey_of(boat, as_surveyed, surveyed_row(boat, as_surveyed)),
        parts=parts_of(boat, part_effects(stick), {} if only else gross_effects(stick)),
        replaced=replaced_of(stick),
        changes=changes_of(effects, stick),
        items=items_of(stick, with_effects=not only),
        waterfall=waterfall(stick, effects, steps=not only),
        conditions=answers,
        cockpits=cockpits,
        thresholds=() if only else thresholds_of(stick, (hull.beam_m, hull.beam_waterline_m)),
        rolls=rolls_of(stick),
        targets=tuple(answer for answer, _ in targets),
        record=told,
        findings=_findings(boat, as_surveyed, rows, missed, told),
    )


def _answered(
    boat: Boat,
    as_surveyed: Found,
    asked: list[LoadingCondition],
    hull: HullResult | None,
) -> tuple[list[Row], tuple[ConditionResult, ...]]:
    """Every float that is asked for and its answer; heeled round where the hull is given."""
    groups = [rows_of(boat, as_surveyed, condition) for condition in asked]
    rows = [row for group in groups for row in group]
    answers = tuple(answer for group in groups for answer in results_of(boat, group))
    if hull is None:
        return rows, answers
    beam = (hull.beam_m, hull.beam_waterline_m)
    pairs = zip(rows, answers, strict=True)
    return rows, tuple(_heeled_round(boat, row, answer, beam) for row, answer in pairs)


def _refit_in(rows: list[Row], condition: LoadingCondition) -> Equilibrium | None:
    """The refit afloat in a condition, where that is one of the rows."""
    mine = (row for row in rows if row.condition is condition and row.stage == "refit")
    return next((row.rest for row in mine), None)


def _cockpits(boat: Boat, as_surveyed: Found, stick: Yardstick) -> tuple[CockpitResult, ...]:
    """Cockpits of both boats in the reference condition."""
    before = afloat(boat, as_surveyed, as_found(boat), stick.condition).rest
    return (
        *cockpits_of(boat, "as_found", before),
        *cockpits_of(boat, "refit", stick.rest),
    )


def _heeled_round(
    boat: Boat, row: Row, answer: ConditionResult, beam: tuple[float, float]
) -> ConditionResult:
    """The answer with levers; worked out once for the boat as found, who stays as she is."""
    document = boat.document
    edges = tuple((n, e.tobytes()) for n, e in edges_of(document, row.stage))
    about = repr((document.openings, document.rig, document.boat.design_category))
    key = (row, edges, about, beam)
    return _HEELED.answer(key, lambda: with_stability(boat, row, answer, beam))


def document_hash(boat: Boat) -> str:
    """SHA-256 of what the document says, whatever its comments and order of writing."""
    return sha256(boat.document.model_dump_json(by_alias=True).encode()).hexdigest()


def hull_result(boat: Boat) -> HullResult:
    """Hull, keel and skeg upright at the design waterline."""
    hull, water = boat.hull, boat.document.water.density_kg_m3
    length = boat.document.hull.length_waterline_m
    key = (*(piece.surface.key for piece in boat.hull_bodies), length, water)
    at_rest = _HYDROSTATICS.answer(
        key, lambda: hydrostatics(hull_envelope(boat), hull.surface, length, water)
    )
    return HullResult(
        length_m=hull.length,
        length_waterline_m=at_rest.length_waterline,
        beam_m=hull.beam,
        beam_waterline_m=at_rest.beam_waterline,
        draught_m=at_rest.draught,
        displacement_at_dwl_kg=at_rest.displacement,
        kg_per_cm=at_rest.kg_per_cm,
        trim_moment_kgm_per_cm=at_rest.trim_moment_per_cm,
        lcb_m=at_rest.lcb,
        lcf_m=at_rest.lcf,
        vcb_m=at_rest.vcb,
        km_m=at_rest.km_transverse,
        km_longitudinal_m=at_rest.km_longitudinal,
        waterplane_area_m2=at_rest.waterplane_area,
        wetted_area_m2=at_rest.wetted_area,
        block_coefficient=at_rest.block_coefficient,
        prismatic_coefficient=at_rest.prismatic_coefficient,
        midship_coefficient=at_rest.midship_coefficient,
        waterplane_coefficient=at_rest.waterplane_coefficient,
    )


def _findings(
    boat: Boat,
    as_surveyed: Found,
    rows: list[Row],
    missed: list[Finding],
    record: RecordResult,
) -> tuple[FindingResult, ...]:
    everything = [
        *boat.findings,
        *judgement.survey_findings(boat, as_surveyed),
        *judgement.float_findings(boat, rows),
        *judgement.flooding_findings(boat, (row.condition for row in rows)),
        *judgement.change_findings(rows, boat.document.reference_condition),
        *rolls_findings(boat.document),
        *missed,
        *judgement.record_findings(record),
    ]
    return tuple(
        FindingResult(
            code=f.code,
            severity=f.severity.value,
            place=f.place,
            sentence=f.sentence,
            source=f.source,
        )
        for f in worst_first(everything)
    )
