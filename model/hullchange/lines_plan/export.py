"""The files of a lines plan, by name."""

from typing import Literal

from hullchange.assess.lines import lines_result
from hullchange.boat.boat import Boat
from hullchange.lines_plan.drawing import plan_sheet
from hullchange.lines_plan.files import plan_dxf, plan_svg
from hullchange.lines_plan.lengths import length_style
from hullchange.lines_plan.offsets import offsets_csv
from hullchange.lines_plan.pages import plan_pdf
from hullchange.lines_plan.plan import lines_plan
from hullchange.present.csv_table import csv_under
from hullchange.present.export import Origin
from hullchange.present.writing import PLAIN, Writing

PlanFile = Literal["lines-plan.pdf", "lines-plan.svg", "lines-plan.dxf", "offsets.csv"]


def plan_file(name: PlanFile, boat: Boat, origin: Origin, writing: Writing = PLAIN) -> bytes:
    """One file of the lines plan.

    Args:
        name: of the file.
        boat: whose hull it is of.
        origin: as every file states it.
        writing: units of the plan and of the table of offsets, and the table's decimal sign.
    """
    off = {point.place: point.off_mm for point in lines_result(boat).points}
    plan = lines_plan(boat, off, length_style(writing.units))
    match name:
        case "lines-plan.pdf":
            return plan_pdf(plan, origin)
        case "lines-plan.svg":
            return plan_svg(plan_sheet(plan, origin))
        case "lines-plan.dxf":
            return plan_dxf(plan_sheet(plan, origin))
        case "offsets.csv":
            table = writing.table(offsets_csv(plan))
            return csv_under(writing.heads(origin.heads), table, writing.separator).encode()
