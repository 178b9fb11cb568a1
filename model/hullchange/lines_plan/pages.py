"""The lines plan as PDF: the drawing at its scale, the same on A3, the tables of offsets."""

from io import BytesIO

import numpy as np
from reportlab.pdfgen.canvas import Canvas

from hullchange.answer.cautions import STRENGTH
from hullchange.cutting.drawing import POINT, draw_text, new_canvas
from hullchange.lines_plan.drawing import PlanSheet, plan_sheet
from hullchange.lines_plan.layout import Paper
from hullchange.lines_plan.offsets import PaperTable, faired_table, readings_table
from hullchange.lines_plan.plan import LinesPlan
from hullchange.lines_plan.sheet import PENS, Label, fitted
from hullchange.present.export import Origin

AT_HAND: Paper = "A3"
"""The largest paper that a printer at home or in an office takes."""
TABLE_PAGE = (297.0, 210.0)  # [mm] A4 on its side
RIM, HEAD, FOOT = 14.0, 14.0, 8.0  # [mm]
LINE, LETTERS, CELL, NAME = 4.3, 2.5, 12.6, 38.0  # [mm] of a row, letters and columns
ROWS = int((TABLE_PAGE[1] - 2.0 * RIM - HEAD - FOOT) / LINE)
CELLS = int((TABLE_PAGE[0] - 2.0 * RIM - NAME) / CELL)


def plan_pdf(plan: LinesPlan, origin: Origin) -> bytes:
    """The drawing on its paper and on A3, then pages of A4 with the tables of offsets."""
    stream = BytesIO()
    sheet = plan_sheet(plan, origin)
    canvas = new_canvas(stream, sheet.layout.size_mm, sheet.title)
    canvas.setSubject(origin.in_a_line)
    _drawing(canvas, sheet)
    if sheet.layout.paper != AT_HAND:
        _drawing(canvas, plan_sheet(plan, origin, AT_HAND))
    pages = [
        page for table in (faired_table(plan), readings_table(plan)) for page in parted(table)
    ]
    for number, page in enumerate(pages, 1):
        canvas.setPageSize((TABLE_PAGE[0] * POINT, TABLE_PAGE[1] * POINT))
        for label in page_labels(sheet, page, f"page {number} of {len(pages)}"):
            _write(canvas, label)
        _rules(canvas, page)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _drawing(canvas: Canvas, sheet: PlanSheet) -> None:
    """A page with the sheet."""
    wide, high = sheet.layout.size_mm
    canvas.setPageSize((wide * POINT, high * POINT))
    canvas.setLineJoin(1)
    for layer, pen in PENS.items():
        canvas.setStrokeColor(pen.colour)
        canvas.setLineWidth(pen.width_mm * POINT)
        canvas.setDash([length * POINT for length in pen.dash_mm])
        for stroke in (one for one in sheet.strokes if one.layer == layer):
            path = canvas.beginPath()
            (x, y), *others = (stroke.points * POINT).tolist()
            path.moveTo(x, y)
            for x, y in others:
                path.lineTo(x, y)
            if stroke.closed:
                path.close()
            canvas.drawPath(path)
    for label in sheet.labels:
        _write(canvas, label)
    canvas.showPage()


def _write(canvas: Canvas, label: Label) -> None:
    left = label.box[0], label.at[1]
    draw_text(canvas, left, label.words, label.size * POINT, label.bold)


def parted(table: PaperTable) -> list[PaperTable]:
    """The table in parts that go on a page each, with all heads on every one."""
    starts = range(1, len(table.heads[0]), CELLS)
    room = ROWS - len(table.heads)
    parts = []
    for start in starts:
        heads = tuple((row[0], *row[start : start + CELLS]) for row in table.heads)
        for first in range(0, len(table.rows), room):
            rows = tuple(
                (row[0], *row[start : start + CELLS])
                for row in table.rows[first : first + room]
            )
            parts.append(PaperTable(table.title, heads, rows))
    return parts


def page_labels(sheet: PlanSheet, table: PaperTable, page: str) -> list[Label]:
    """Everything that is written on a page of a table."""
    wide, high = TABLE_PAGE
    origin, top = sheet.origin, high - RIM
    standing = f"document {origin.document[:8]}, {origin.revision}, {origin.state}; {page}"
    aside = Label(standing, (wide - RIM, top - 3.0), LETTERS, 1.0)
    title = Label(f"{origin.boat}: {table.title}", (RIM, top - 3.5), 1.6 * LETTERS, bold=True)
    labels = [fitted(title, wide - 2.0 * RIM - aside.width - 5.0), aside]
    foot = f"An aid to judgement, not an approval. {STRENGTH.sentence}"
    labels.append(Label(foot, (RIM, RIM), LETTERS))
    y = top - HEAD
    for n, row in enumerate((*table.heads, *table.rows)):
        bold = n < len(table.heads) or len(row) == 1
        name = Label(row[0], (RIM, y), LETTERS, bold=bold)
        labels.append(fitted(name, wide - 2 * RIM if len(row) == 1 else NAME - 1.0))
        for k, cell in enumerate(row[1:], 1):
            at = RIM + NAME + k * CELL, y
            labels.append(fitted(Label(cell, at, LETTERS, 1.0, bold), CELL - 0.8))
        y -= LINE
    return labels


def _rules(canvas: Canvas, table: PaperTable) -> None:
    """A thin line below the heads, and below every fifth row."""
    canvas.setStrokeColor("#9aa0a6")
    top = TABLE_PAGE[1] - RIM - HEAD
    for n in np.arange(len(table.heads), len(table.heads) + len(table.rows) + 1, 5):
        canvas.setLineWidth((0.25 if n == len(table.heads) else 0.08) * POINT)
        y = (top - (n - 1) * LINE - 0.35 * LINE) * POINT
        canvas.line(RIM * POINT, y, (TABLE_PAGE[0] - RIM) * POINT, y)
