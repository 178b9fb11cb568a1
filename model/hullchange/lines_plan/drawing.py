"""The sheet of a lines plan: paper and scale chosen, everything on it in millimetres."""

from dataclasses import dataclass

from hullchange.lines_plan.layout import (
    PAPERS,
    Paper,
    SheetLayout,
    extent_of,
    layout_of,
    paper_for,
)
from hullchange.lines_plan.offsets import faired_table, readings_table
from hullchange.lines_plan.plan import LinesPlan
from hullchange.lines_plan.sheet import Label, Stroke, without_overlaps
from hullchange.lines_plan.sheet_table import table_size, tables_on_sheet
from hullchange.lines_plan.title import strip_height, title_block
from hullchange.lines_plan.views import views_of
from hullchange.present.export import Origin


@dataclass(frozen=True, eq=False)
class PlanSheet:
    """A sheet ready to be written.

    Attributes:
        origin: whose it is.
        layout: its paper and scale.
        strokes: in the order in which they are drawn.
        labels: none over another.
    """

    origin: Origin
    layout: SheetLayout
    strokes: tuple[Stroke, ...]
    labels: tuple[Label, ...]

    @property
    def title(self) -> str:
        """What it is, in a line."""
        layout = self.layout
        return f"{self.origin.boat}: lines plan, 1 : {layout.scale} on {layout.paper}"


def plan_sheet(plan: LinesPlan, origin: Origin, paper: Paper | None = None) -> PlanSheet:
    """The sheet of a plan.

    Args:
        plan: what is drawn.
        origin: as every file states it.
        paper: by name; None for the smallest on which she is well seen.
    """
    extent, tables = extent_of(plan), (faired_table(plan), readings_table(plan))
    lengths = plan.lengths
    well_seen = tuple(s for s in lengths.scales if s <= lengths.well_seen)
    strips = {name: strip_height(plan, name) for name in PAPERS}
    chosen = paper or paper_for(extent, strips, well_seen)
    layout = layout_of(extent, strips[chosen], chosen, table_size(tables[0]), lengths.scales)
    drawn = title_block(plan, layout, origin).with_(views_of(plan, layout))
    if layout.table is not None:
        drawn = drawn.with_(*tables_on_sheet(tables, layout.table, layout))
    return PlanSheet(origin, layout, drawn.strokes, without_overlaps(drawn.labels))
