"""The lines plan as files: SVG and DXF of the drawing, PDF with the tables, CSV."""

from xml.sax.saxutils import escape

import numpy as np

from hullchange.lines_plan.drawing import PlanSheet
from hullchange.lines_plan.sheet import PENS, Label, Stroke
from hullchange.shop.dxf import DxfText, drawing_dxf

CAPITAL = 0.72
"""Height of a capital, in sizes of letters."""


def plan_svg(sheet: PlanSheet) -> bytes:
    """The sheet as SVG: millimetres of paper, a group for each layer, words as words."""
    width, height = sheet.layout.size_mm
    rows = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}mm" height="{height:g}mm" '
        f'viewBox="0 0 {width:g} {height:g}">',
        f"<title>{escape(sheet.title)}</title>",
        f"<desc>{escape(sheet.origin.in_a_line)}</desc>",
        f'<rect width="{width:g}" height="{height:g}" fill="#ffffff"/>',
    ]
    for layer, pen in PENS.items():
        strokes = [stroke for stroke in sheet.strokes if stroke.layer == layer]
        if strokes:
            dash = " ".join(f"{length:g}" for length in pen.dash_mm)
            dashes = f' stroke-dasharray="{dash}"' if dash else ""
            path = "".join(_svg_path(stroke, height) for stroke in strokes)
            rows.append(
                f'<g id="{layer}" fill="none" stroke="{pen.colour}" stroke-linejoin="round" '
                f'stroke-width="{pen.width_mm:g}"{dashes}><path d="{path}"/></g>'
            )
    rows.append('<g id="TEXT" fill="#111111" font-family="Helvetica, Arial, sans-serif">')
    rows += [_svg_text(label, height) for label in sheet.labels]
    return "\n".join([*rows, "</g>", "</svg>", ""]).encode()


def _svg_path(stroke: Stroke, height: float) -> str:
    points = stroke.points * np.array([1.0, -1.0]) + np.array([0.0, height])
    steps = "L".join(f"{x:.3f} {y:.3f}" for x, y in points.tolist())
    return f"M{steps}{'Z' if stroke.closed else ''}"


def _svg_text(label: Label, height: float) -> str:
    left, _, right, _ = label.box
    weight = ' font-weight="bold"' if label.bold else ""
    return (
        f'<text x="{left:.3f}" y="{height - label.at[1]:.3f}" font-size="{label.size:.3f}" '
        f'textLength="{right - left:.3f}" lengthAdjust="spacingAndGlyphs"{weight}>'
        f"{escape(label.words)}</text>"
    )


def plan_dxf(sheet: PlanSheet) -> bytes:
    """The sheet as DXF at full size: the profile in the hull's own x and z [mm]."""
    layout = sheet.layout
    origin, scale = np.array(layout.profile.origin_mm), float(layout.scale)
    lines = [
        (stroke.layer, (stroke.points - origin) * scale, stroke.closed)
        for stroke in sheet.strokes
    ]
    words = [
        DxfText(
            label.words,
            tuple(((np.array(label.at) - origin) * scale).tolist()),
            label.size * CAPITAL * scale,
            label.across,
        )
        for label in sheet.labels
    ]
    heads = (f"{name} {value}" for name, value in sheet.origin.heads)
    colours: dict[str, int] = {layer: pen.dxf_colour for layer, pen in PENS.items()}
    return drawing_dxf(lines, words, colours, (sheet.title, *heads, *_views_in_words(sheet)))


def _views_in_words(sheet: PlanSheet) -> tuple[str, ...]:
    layout = sheet.layout
    origin = np.array(layout.profile.origin_mm)
    body, breadths = (
        (np.array(view.origin_mm) - origin) * layout.scale
        for view in (layout.body, layout.breadths)
    )
    return (
        "full size, millimetres",
        "profile: x aft from the forward perpendicular, z up from the design waterline",
        f"body plan: y to starboard from X = {body[0]:.1f}, z as in the profile",
        f"plan: x as in the profile, y to starboard from Y = {breadths[1]:.1f}",
        f"letters and frame are for plotting at 1 : {layout.scale} on {layout.paper}",
    )
