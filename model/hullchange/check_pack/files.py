"""The check pack: every table an engineer needs for her own method, by file name."""

from collections.abc import Iterator

import numpy as np

from hullchange.answer.assessment import ConditionResult
from hullchange.check_pack.simpson import Immersed, SimpsonSum
from hullchange.check_pack.values import CheckValues
from hullchange.criteria.facts import Absent
from hullchange.criteria.ratios import COMPARISON, Ratio
from hullchange.plain_words import condition_in_words, id_in_words, in_condition
from hullchange.present import check_tables
from hullchange.present.csv_table import Cell, CsvTable, Rows, csv_heads, csv_under
from hullchange.present.titles import titled
from hullchange.present.writing import PLAIN, Writing

AXES = "x aft from the forward perpendicular, y to starboard, z up from the design waterline."
LITRES_PER_M3 = 1000.0


def check_pack(
    values: CheckValues, state: str = "unsigned", writing: Writing = PLAIN
) -> dict[str, str]:
    """CSV text by file name; each states the review status."""
    found = values.answer.floats
    tables = {
        "offsets": _offsets(values),
        "appendages": _appendages(values),
        "hydrostatics": _hydrostatics(values),
        "cross-curves": _cross_curves(values),
        "tanks": _tanks(values),
        "worst-fills": _worst_fills(values),
        "ledger": _ledger(values),
        "conditions": check_tables.results(values.answer.conditions),
        "plus-minus": check_tables.plus_minus(found),
        "levers": check_tables.levers(found),
        "openings": check_tables.openings(found),
        "downflooding": check_tables.downflooding(found),
        "criteria": check_tables.criteria(found),
        "growth-margin": check_tables.growth(values.growth),
        "growth-margin-levers": check_tables.growth_levers(
            c for c in values.growth if isinstance(c, ConditionResult)
        ),
        "crew-on-one-side": _crew(values),
        "limits": _limits(values),
        "still-allowed": _rooms(values),
        "ratios": _ratios(values),
        "simpson": _simpson(values.simpson),
    }
    heads, titles = csv_heads(values.answer, state), values.boat.document.titles
    return {
        f"{name}.csv": csv_under(
            writing.heads(heads, table.columns),
            writing.table(titled(table, titles)),
            writing.separator,
        )
        for name, table in tables.items()
    }


def cover_lines(values: CheckValues) -> Iterator[str]:
    """What is printed beside the files: trade ratios, and what may still be added."""
    reference = values.answer.reference_condition
    yield (
        f"Trade ratios, {condition_in_words(reference)}: comparisons between boats, not "
        "measures of safety"
    )
    for change in values.trade.ratios:
        yield f"  {change.old.title}: {_in_words(change.old)} → {_in_words(change.new)}"
    yield f"Weight margin, {condition_in_words(reference)}"
    if isinstance(values.allowed, Absent):
        yield f"  {values.allowed.why}"
        return
    rooms = values.allowed.rooms
    yield from (f"  {r.sentence}" for r in rooms if r.condition == reference)
    yield "  All conditions are in the file still-allowed."


def _in_words(ratio: Ratio) -> str:
    return ratio.value.why if isinstance(ratio.value, Absent) else f"{ratio.value:.3g}"


def _offsets(values: CheckValues) -> CsvTable:
    rows = (
        (line.name, line.kind, *point)
        for line in values.boat.hull.lines.lines
        for point in line.points.tolist()
    )
    straight = "Sections are straight between neighbouring lines; lines are splined lengthwise."
    return CsvTable.of("line kind x_m half_breadth_m z_m", rows, AXES, straight)


def _appendages(values: CheckValues) -> CsvTable:
    def rows() -> Rows:
        for name, part in values.boat.document.hull.appendages.items():
            half = part.half_thickness_m
            table = half if isinstance(half, tuple) else ((0.0, half), (1.0, half))
            for x, z in part.outline_m:
                yield (name, "outline", x, z, None, None)
            for fraction, thickness in table:
                yield (
                    name,
                    f"half thickness, {part.nose} nose",
                    None,
                    None,
                    fraction,
                    thickness,
                )
            if part.at_y_m or part.cant_deg or part.pair:
                place = f"middle {part.at_y_m:g} m to starboard at the outline's upper end"
                both = ", and its mirror image" if part.pair else ""
                turned = f", lower end {part.cant_deg:g}° outwards"
                yield (name, f"{place}{turned}{both}", None, None, None, None)

    top = "The outline's top follows the hull; fractions are of the local chord from forward."
    columns = "appendage row x_m z_m chord_fraction half_thickness_m"
    return CsvTable.of(columns, rows(), AXES, top)


def _hydrostatics(values: CheckValues) -> CsvTable:
    columns = (
        "boat sinkage_m trim_m displacement_kg lcb_m vcb_m lcf_m waterplane_area_m2 "
        "km_transverse_m km_longitudinal_m kg_per_cm trim_moment_kgm_per_cm"
    )
    rows = (
        (stage, line.sinkage, line.trim, line.displacement, line.lcb, line.vcb, line.lcf)
        + (line.waterplane_area, line.km_transverse, line.km_longitudinal)
        + (line.kg_per_cm, line.trim_moment_per_cm)
        for stage, lines in values.waterlines.items()
        for line in lines
    )
    about = (
        "Held at no heel. Sinkage amidships from the design waterline, positive down; trim "
        "between perpendiculars, positive by the stern; heights above the design waterline."
    )
    water = f"Water of {values.boat.document.water.density_kg_m3:g} kg/m³."
    return CsvTable.of(columns, rows, AXES, about, water)


def _cross_curves(values: CheckValues) -> CsvTable:
    curves = values.cross_curves
    rows = (
        (curve.displacement, curve.house_counted, heel, kn, trim)
        for curve in curves.curves
        for heel, kn, trim in zip(
            np.degrees(curve.heels).tolist(),
            curve.kn.tolist(),
            np.degrees(curve.trims).tolist(),
            strict=True,
        )
    )
    x, _, z = curves.centre.tolist()
    notes = [
        "Levers with her weight at the height of the design waterline (not the keel): a lever "
        "for a centre of gravity z_m above it is kn_m - z_m sin(heel). Heel to starboard.",
        f"Trim free with her weight at x {x:.3f} m, z {z:.3f} m, y 0: her reference condition.",
        f"Water of {curves.water_density:g} kg/m³. The house counts as closed.",
    ]
    if curves.sunk:
        notes.append(
            f"Left out, since she sinks: {', '.join(f'{m:.0f} kg' for m in curves.sunk)}."
        )
    return CsvTable.of("displacement_kg house_counted heel_deg kn_m trim_deg", rows, *notes)


def _tanks(values: CheckValues) -> CsvTable:
    columns = "tank fill_percent volume_l mass_kg x_m y_m z_m free_surface_moment_kgm"
    rows = (
        (name, 100.0 * row.fill, LITRES_PER_M3 * row.volume, row.mass, *row.centre)
        + (row.free_surface_moment,)
        for name, fills in values.tanks.items()
        for row in fills
    )
    note = (
        "Upright. A tank full to the top has no free surface. Only tanks whose shape is given."
    )
    return CsvTable.of(columns, rows, AXES, note)


def _worst_fills(values: CheckValues) -> CsvTable:
    columns = "condition boat tank fill_l gm_m gm_as_filled_m"
    rows = (
        (w.condition, w.stage, w.tank, LITRES_PER_M3 * w.volume, w.gm, w.gm_as_filled)
        for w in values.worst_fills
    )
    note = (
        "Fill of one tank that leaves the smallest GM upright, all else as in the condition, "
        "liquids free to move. With a shallow or nearly full tank, whose surface soon meets "
        "bottom or top, that GM holds for small heels only."
    )
    return CsvTable.of(columns, rows, note)


def _ledger(values: CheckValues) -> CsvTable:
    def rows() -> Rows:
        for line in values.ledger:
            mass, mx, my, mz = line.account.numbers.tolist()
            place = line.account.centre if line.role != "moved" else (None, None, None)
            sd = float(np.sqrt(line.account.covariance[0, 0]))
            own = (line.belongs_to, line.path, line.role, mass, sd, line.moved)
            yield (*own, *place, mx, my, mz)

    columns = (
        "belongs_to path role mass_kg plus_minus_kg moved_kg x_m y_m z_m mx_kgm my_kgm mz_kgm"
    )
    note = "Moments about the frame's origin; a moved weight has moments and no mass."
    tanks = (
        "Tank contents of each condition are extra: see tanks.csv, and conditions.csv for "
        "the totals."
    )
    return CsvTable.of(columns, rows(), AXES, note, tanks)


def _crew(values: CheckValues) -> CsvTable:
    columns = (
        "condition boat persons mass_kg x_m y_m z_m heel_before_deg heel_starboard_deg "
        "heel_port_deg"
    )
    crew = values.crew
    if isinstance(crew, Absent):
        return CsvTable.of(columns, (), crew.why)
    rows = (
        (c.condition, c.stage, c.persons, c.mass, *c.at)
        + (c.heel_before, c.heel_starboard, c.heel_port)
        for c in crew
    )
    note = (
        "All persons at the sheer amidships, 75 kg each (ISO 14946:2021, clause 5, quoted "
        "elsewhere), on top of the condition: a crew already aboard in it is counted twice."
    )
    return CsvTable.of(columns, rows, note)


def _limits(values: CheckValues) -> CsvTable:
    columns = "of id displacement_kg vcg_m limit_found can_be_judged"
    margin = values.allowed
    if isinstance(margin, Absent):
        return CsvTable.of(columns, (), margin.why)

    def rows() -> Rows:
        for line in margin.lines:
            points = zip(line.displacement_kg, line.vcg_m, line.found, strict=True)
            for mass, vcg, is_found in points:
                yield ("criterion", line.id, mass, vcg, is_found, line.can_be_judged)
        for dot in margin.dots:
            yield ("condition", dot.condition, dot.displacement_kg, dot.vcg_fluid_m, None, None)

    height = "vcg_m above the design waterline: highest allowed, or that of the condition."
    return CsvTable.of(columns, rows(), height, *margin.remarks)


def _rooms(values: CheckValues) -> CsvTable:
    columns = "condition place height_m mass_kg at_least fails_first sentence"
    margin = values.allowed
    if isinstance(margin, Absent):
        return CsvTable.of(columns, (), margin.why)
    rows = (
        (r.condition, r.place, r.height_m, r.mass_kg, r.up_to_there_none_fails)
        + (r.fails_first, r.sentence)
        for r in margin.rooms
    )
    return CsvTable.of(columns, rows, *margin.remarks)


def _ratios(values: CheckValues) -> CsvTable:
    def rows() -> Rows:
        for change in values.trade.ratios:
            old, new = change.old, change.new
            yield (old.id, old.title, _value(old), _value(new), old.units, old.formula)

    counted = ", ".join(values.trade.ballast_from) or "none"
    notes = (
        COMPARISON,
        f"Condition: {values.trade.condition}. Counted as ballast: {counted}.",
    )
    return CsvTable.of("ratio title as_found refit made_in formula", rows(), *notes)


def _value(ratio: Ratio) -> Cell:
    return None if isinstance(ratio.value, Absent) else ratio.value


def _simpson(found: SimpsonSum) -> CsvTable:
    columns = (
        "row x_m water_z_m half_area_m2 multiplier product_m2 moment_m2 displacement_kg lcb_m"
    )
    h, density = f"{found.spacing:.6f}", f"{found.water_density:g}"
    notes = (
        f"{id_in_words(found.stage)}, {in_condition(found.condition)}, held upright, water of "
        f"{density} kg/m³; stations {h} m apart.",
        f"Displacement = 2 × {h} / 3 × sum of products × {density}.",
        f"LCB = {found.stations[0].x:.6f} + {h} × sum of moments / sum of products; a "
        "station's moment is its product times its number.",
        "Keel, skeg and whatever else is immersed: each from its own mesh, on its own row.",
    )
    return CsvTable.of(columns, (*_stations(found), *_bodies(found)), *notes)


def _stations(found: SimpsonSum) -> Rows:
    for s in found.stations:
        sums = (s.product, s.moment, None, None)
        yield (f"station {s.number}", s.x, s.water_z, s.half_area, s.multiplier, *sums)
    sums = (found.sum_of_products, found.sum_of_moments, None, None)
    yield ("sums", None, None, None, None, *sums)


def _bodies(found: SimpsonSum) -> Rows:
    rows = (
        ("canoe body by these sums", found.hull),
        ("canoe body exact", found.hull_exact),
        ("difference", _difference(found.hull, found.hull_exact)),
        *((other.id, other) for other in found.others),
        ("all by these sums", found.whole),
        ("all exact", found.whole_exact),
        ("difference overall", _difference(found.whole, found.whole_exact)),
    )
    for label, body in rows:
        yield (label, *(None,) * 6, body.mass, body.lcb)


def _difference(one: Immersed, other: Immersed) -> Immersed:
    return Immersed("difference", one.mass - other.mass, one.lcb - other.lcb)
