"""What leaves for other programs: ledger and conditions as tables, plates as JSON."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from hullchange.answer.assessment import Assessment
from hullchange.answer.changes import Effect
from hullchange.assess.lines import lines_result
from hullchange.boat.boat import Boat
from hullchange.geometry.surface import MassProperties
from hullchange.hull.lines import point_place
from hullchange.hull.lines_csv import COLUMNS
from hullchange.present import check_tables
from hullchange.present.csv_table import Cell, CsvTable, Heads, Rows
from hullchange.units import mm_of_m

AXES = "x aft from the forward perpendicular, y to starboard, z up from the design waterline"
EFFECT = "effect_sinkage_mm effect_trim_mm effect_heel_deg effect_vcg_mm effect_gm_mm"


@dataclass(frozen=True)
class Origin:
    """The origin of an exported file, which stands in every one of them.

    Attributes:
        boat: her name.
        document: hash of the document.
        option: plan, or empty.
        revision: its number, or ``working``.
        revision_sha256: hash that a signature names; empty for the working copy.
        made_at: when the revision was frozen; empty for the working copy.
        state: how the review stands to it, such as ``unsigned``.
        tool: program and version that worked it out.
    """

    boat: str
    document: str
    option: str
    revision: str
    revision_sha256: str
    made_at: str
    state: str
    tool: str

    @property
    def heads(self) -> Heads:
        """Above every table."""
        return tuple((name, value) for name, value in self.fields.items() if value)

    @property
    def in_a_line(self) -> str:
        """The same where there is no table."""
        return "; ".join(f"{name} {value}" for name, value in self.heads)

    @property
    def fields(self) -> dict[str, str]:
        """Fields by name, empty ones included."""
        return {
            "boat": self.boat,
            "document_sha256": self.document,
            "option": self.option,
            "revision": self.revision,
            "revision_sha256": self.revision_sha256,
            "frozen_at": self.made_at,
            "status": self.state,
            "tool": self.tool,
        }


def exported_tables(answer: Assessment) -> dict[str, CsvTable]:
    """The ledger, the conditions and what belongs to them, by name."""
    found = answer.floats
    return {
        "ledger": _ledger(answer),
        "changes": _changes(answer),
        "parts": _parts(answer),
        "conditions": check_tables.results(answer.conditions),
        "freeboards": _freeboards(answer),
        "openings": check_tables.openings(found),
        "criteria": check_tables.criteria(found),
        "findings": CsvTable.of(
            "severity code place sentence source",
            ((f.severity, f.code, f.place, f.sentence, f.source) for f in answer.findings),
        ),
    }


OFF_COLUMNS = ("off_mm", "half_breadth_off_mm", "height_off_mm", "not_judged")
OFF_NOTE = (
    "off: reading less what all other readings make of it, wider and higher positive; empty "
    "where they do not tell"
)


def lines_table(boat: Boat) -> CsvTable:
    """The measured lines as they can be read back, with what each point stands off."""
    off = {point.place: point for point in lines_result(boat).points}

    def rows() -> Rows:
        for name, line in boat.document.hull.lines.items():
            for n, point in enumerate(line.points_m):
                one = off[f"hull.{point_place(name, n)}"]
                by = one.half_breadth_off_mm, one.height_off_mm
                yield (name, line.kind, *point, one.off_mm, *by, one.not_judged)

    return CsvTable((*COLUMNS, *OFF_COLUMNS), tuple(rows()), (AXES, OFF_NOTE))


def sidecar(
    origin: Origin, boat: Boat, solids: Mapping[str, Iterable[tuple[str, MassProperties]]]
) -> bytes:
    """What a STEP file cannot hold about its products, as JSON.

    Args:
        origin: of the file.
        boat: whose new steel it is.
        solids: the weighed solid of every plate by its id, by part.
    """
    plates = [
        {
            "product": f"{part}.{plate.id}",
            "part": part,
            "plate": plate.id,
            "change": built.change,
            "kind": plate.kind,
            "thickness_mm": round(mm_of_m(plate.gauge), 6),
            "mass_kg": weighed.mass,
            "centroid_m": list(weighed.centroid),
        }
        for part, built in boat.parts.items()
        for plate, (_, weighed) in zip(built.part.plates, solids[part], strict=True)
    ]
    parts = [
        _part(name, [plate for plate in plates if plate["part"] == name]) for name in boat.parts
    ]
    content = origin.fields | {"axes": AXES, "parts": parts, "plates": plates}
    return (json.dumps(content, indent=1, ensure_ascii=False) + "\n").encode()


def _part(name: str, plates: list[dict[str, object]]) -> dict[str, object]:
    masses = np.array([plate["mass_kg"] for plate in plates])
    centre = masses @ np.array([plate["centroid_m"] for plate in plates]) / masses.sum()
    return {"part": name, "mass_kg": float(masses.sum()), "centroid_m": centre.tolist()}


def _ledger(answer: Assessment) -> CsvTable:
    nowhere = (None, None, None)
    rows = (
        (i.change, i.path, i.role, i.mass_kg, i.plus_minus_kg, *i.at_m, *(i.to_m or nowhere))
        + (i.provenance, i.replaced_by)
        + _effect(i.effect)
        for i in answer.items
    )
    columns = (
        "change path role mass_kg plus_minus_kg x_m y_m z_m to_x_m to_y_m to_z_m from "
        f"replaced_by {EFFECT}"
    )
    removed = "A removed weight comes off; a moved one goes from x, y, z to to_x, to_y, to_z."
    return CsvTable.of(columns, rows, AXES, removed)


def _changes(answer: Assessment) -> CsvTable:
    rows = (
        (c.id, c.stage, c.added_kg, c.removed_kg, c.moved_kg, c.net_kg, *_effect(c.effect))
        for c in answer.changes
    )
    return CsvTable.of(f"change stage added_kg removed_kg moved_kg net_kg {EFFECT}", rows)


def _parts(answer: Assessment) -> CsvTable:
    rows = (
        (p.id, p.change, p.kind, p.mass_kg, *p.centroid_m, p.plate_area_m2)
        + (p.buoyant_volume_m3, p.weld_metal_kg, p.paint_kg, p.mass_counted_kg)
        + _effect(p.effect)
        for p in answer.parts
    )
    columns = (
        "part change kind mass_kg x_m y_m z_m plate_area_m2 buoyant_volume_m3 weld_metal_kg "
        f"paint_kg mass_counted_kg {EFFECT}"
    )
    return CsvTable.of(columns, rows, AXES)


def _freeboards(answer: Assessment) -> CsvTable:
    def rows() -> Rows:
        for c in answer.floats:
            for f in c.freeboards:
                yield (c.id, c.stage, f.mark, f.side, f.freeboard_mm, f.plus_minus_mm)

    return CsvTable.of("condition boat mark side freeboard_mm plus_minus_mm", rows())


def _effect(effect: Effect | None) -> tuple[Cell, ...]:
    if effect is None:
        return (None,) * len(EFFECT.split())
    return (
        effect.sinkage_mm,
        effect.trim_mm,
        effect.heel_deg,
        effect.vcg_mm,
        effect.gm_mm,
    )
