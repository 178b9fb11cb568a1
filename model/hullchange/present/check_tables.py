"""The assessment as tables of the check pack: levers, openings, criteria."""

from collections.abc import Iterable, Iterator

from hullchange.answer.assessment import ConditionAnswer, ConditionResult, UnansweredResult
from hullchange.answer.verdicts import state_in_words
from hullchange.present.csv_table import Cell, CsvTable

LEVER_COLUMNS = "condition boat heel_deg gz_m gz_plus_minus_m gz_without_house_m"
LEVER_NOTE = "A lever is positive where it turns her towards upright; heel is to starboard."
WATER_NOTE = (
    "A point lies up . point - water_offset above the water, up = (-sin trim, -cos trim sin "
    "heel, cos trim cos heel)."
)
GROWTH_NOTE = (
    "Growth margin: 5 % of the condition's displacement at the deck amidships (UK MGN 280, "
    "11.8: up to 5 % of lightweight, at the upper deck amidships)."
)
RESULT_COLUMNS = (
    "condition boat water_kg_m3 displacement_kg lcg_m tcg_m vcg_m sinkage_mm trim_mm heel_deg "
    "gm_m gm_at_rest_m gm_solid_m km_m vanishing_angle_deg range_deg downflooding_angle_deg "
    "critical_opening downflooding_angle_in_use_deg downflooding_by_area_deg greatest_gz_m "
    "greatest_gz_at_deg plus_minus_displacement_kg plus_minus_lcg_m plus_minus_tcg_m "
    "plus_minus_vcg_m plus_minus_sinkage_mm plus_minus_trim_mm plus_minus_heel_deg "
    "plus_minus_gm_m no_results_because"
)


UPRIGHT_NOTE = (
    "gm_m, gm_solid_m, km_m and plus_minus_gm_m are of the boat held upright, whatever her "
    "list; gm_at_rest_m is about the attitude she rests in."
)
LEVER_SD_COLUMNS = (
    "condition boat plus_minus_by levers_by vanishing_angle_deg downflooding_angle_deg "
    "range_deg greatest_gz_m"
)
INTERVALS = (
    ("gm_upright", "m"),
    ("heel", "deg"),
    ("vanishing_angle", "deg"),
    ("range", "deg"),
    ("greatest_gz", "m"),
)


def results(conditions: Iterable[ConditionAnswer]) -> CsvTable:
    """Each float at rest."""
    note = "Plus and minus are one standard deviation; of the levers: plus-minus.csv."
    return CsvTable.of(RESULT_COLUMNS, (_result(c) for c in conditions), note, UPRIGHT_NOTE)


def plus_minus(conditions: Iterable[ConditionResult]) -> CsvTable:
    """Uncertainties of what is read off the levers, and percentiles of each float's draws."""
    intervals = (
        f"{name}_{part}_{unit}" for name, unit in INTERVALS for part in ("from", "median", "to")
    )
    columns = f"{LEVER_SD_COLUMNS} not_upright_percent {' '.join(intervals)}"
    note = (
        "One standard deviation of each, by slopes (linear) or by draws (sampled); by whose "
        "word those in conditions.csv are. From and to: 5 % and 95 % of the draws; empty "
        "where slopes can be trusted."
    )
    return CsvTable.of(columns, (_spread(c) for c in conditions), note)


def growth(conditions: Iterable[ConditionAnswer]) -> CsvTable:
    """The same with the growth margin aboard."""
    return CsvTable.of(
        RESULT_COLUMNS, (_result(c) for c in conditions), GROWTH_NOTE, UPRIGHT_NOTE
    )


def levers(conditions: Iterable[ConditionResult]) -> CsvTable:
    """Righting levers of every float."""
    return CsvTable.of(
        LEVER_COLUMNS, (row for c in conditions for row in _levers(c)), LEVER_NOTE
    )


def levers_in_full(conditions: Iterable[ConditionResult]) -> CsvTable:
    """The same with her trim and the water at each heel, and with her wells full."""
    columns = (
        f"{LEVER_COLUMNS} gz_well_dry_m trim_deg water_offset_m gz_wells_full_m "
        "water_in_wells_kg"
    )
    rows = (row for c in conditions for row in _levers_in_full(c))
    return CsvTable.of(columns, rows, LEVER_NOTE, WATER_NOTE)


def growth_levers(conditions: Iterable[ConditionResult]) -> CsvTable:
    """Righting levers with the growth margin aboard."""
    rows = (row for c in conditions for row in _levers(c))
    return CsvTable.of(LEVER_COLUMNS, rows, GROWTH_NOTE)


def openings(conditions: Iterable[ConditionResult]) -> CsvTable:
    """Every opening in every float."""
    return CsvTable.of(
        "condition boat opening side immersion_angle_deg heeled_to height_mm area_m2 closing "
        "stands_open into_hull regular progressive tank_air_pipe",
        (
            (c.id, c.stage, o.id, o.side, o.immersion_angle_deg, o.heeled_to, o.height_mm)
            + (o.area_m2, o.closing, o.stands_open)
            + (o.into_hull, o.regular, o.progressive, o.tank_air_pipe)
            for c in conditions
            for o in c.openings
        ),
        "An empty angle: it stays dry through the whole circle. Empty regular or progressive: "
        "the document does not say.",
    )


def downflooding(conditions: Iterable[ConditionResult]) -> CsvTable:
    """What each publication takes for downflooding in every float."""
    return CsvTable.of(
        "condition boat definition document openings angle_deg opening heeled_to undecided "
        "grade source",
        (
            (c.id, c.stage, d.id, d.document, d.openings, d.angle_deg, d.opening, d.heeled_to)
            + ("; ".join(d.undecided), d.grade, d.source)
            for c in conditions
            for d in c.downflooding_by_rule
        ),
        "An empty angle: no opening that counts goes under. Undecided: counted, because the "
        "document says too little of it.",
    )


def criteria(conditions: Iterable[ConditionResult]) -> CsvTable:
    """Every criterion in every float."""
    return CsvTable.of(
        "condition boat criterion title value plus_minus limit unit sense state margin_sd "
        "probability vcg_rise_m grade source formula downflooding_angle_deg "
        "downflooding_opening inputs remarks",
        (
            (c.id, c.stage, r.id, r.title, r.value, r.plus_minus, r.limit, r.unit, r.sense)
            + (state_in_words(r), r.margin_sd, r.probability, r.vcg_rise_m, r.grade)
            + (r.source, r.formula, r.downflooding_angle_deg, r.downflooding_opening)
            + ("; ".join(f"{q.name} {q.value:.6g} {q.unit}" for q in r.inputs),)
            + (" ".join(r.remarks),)
            for c in conditions
            for r in c.criteria
        ),
        "plus_minus: one standard deviation of the value, which alone is judged; margin_sd: by "
        "how many of them it keeps the limit; probability: that it does; vcg_rise_m: higher "
        "centre of gravity that uses the margin up.",
    )


def _result(c: ConditionAnswer) -> tuple[Cell, ...]:
    if isinstance(c, UnansweredResult):
        return (c.id, c.stage, *(None,) * (len(RESULT_COLUMNS.split()) - 3), c.unanswered)
    spread = c.plus_minus
    return (
        c.id,
        c.stage,
        c.water_density_kg_m3,
        c.displacement_kg,
        *c.centre_of_gravity_m,
        c.sinkage_mm,
        c.trim_mm,
        c.heel_deg,
        c.gm_m,
        c.gm_at_rest_m,
        c.gm_solid_m,
        c.km_m,
        c.vanishing_angle_deg,
        c.range_deg,
        c.downflooding_angle_deg,
        c.critical_opening,
        c.downflooding_angle_in_use_deg,
        c.downflooding_by_area_deg,
        c.greatest_gz_m,
        c.greatest_gz_at_deg,
        spread.displacement_kg,
        spread.lcg_m,
        spread.tcg_m,
        spread.vcg_m,
        spread.sinkage_mm,
        spread.trim_mm,
        spread.heel_deg,
        spread.gm_m,
        None,
    )


def _spread(c: ConditionResult) -> tuple[Cell, ...]:
    heeled, drawn = c.heeled_plus_minus, c.sampled
    levers: tuple[Cell, ...] = (None,) * 5
    if heeled is not None:
        levers = (heeled.by, heeled.vanishing_angle_deg, heeled.downflooding_angle_deg)
        levers += (heeled.range_deg, heeled.greatest_gz_m)
    intervals = (
        value
        for name, unit in INTERVALS
        for value in getattr(drawn, f"{name}_{unit}", None) or (None,) * 3
    )
    unstable = None if drawn is None else drawn.unstable_percent
    return (c.id, c.stage, c.plus_minus_by, *levers, unstable, *intervals)


def _levers(c: ConditionResult) -> Iterator[tuple[Cell, ...]]:
    curve = c.righting_levers
    if curve is None:
        return
    columns = (curve.heel_deg, curve.gz_m, curve.gz_plus_minus_m, curve.gz_without_house_m)
    for row in zip(*columns, strict=True):
        yield (c.id, c.stage, *row)


def _levers_in_full(c: ConditionResult) -> Iterator[tuple[Cell, ...]]:
    curve, wells = c.righting_levers, c.wells_full
    if curve is None:
        return
    full: dict[Cell, tuple[Cell, ...]] = {}
    if wells is not None:
        filled = zip(wells.gz_m, wells.water_kg, strict=True)
        full = dict(zip(wells.heel_deg, filled, strict=True))
    for row, *more in zip(
        _levers(c), curve.gz_well_dry_m, curve.trim_deg, curve.water_offset_m, strict=True
    ):
        # not read between heels: a file holds what was worked out
        yield (*row, *more, *full.get(row[2], (None, None)))
