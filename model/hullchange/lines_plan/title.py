"""The strip at the foot of the sheet: whose plan it is, dimensions, signs, scale, notes."""

from collections.abc import Iterator, Mapping

import numpy as np

from hullchange.answer.cautions import STRENGTH
from hullchange.lines_plan.layout import FRAME, INSIDE, LETTERS, PAPERS, Paper, SheetLayout
from hullchange.lines_plan.lengths import LengthStyle
from hullchange.lines_plan.plan import LinesPlan
from hullchange.lines_plan.sheet import PENS, Label, PlanLayer, Stroke, fitted, wrapped
from hullchange.lines_plan.views import LAYER_OF, OnSheet
from hullchange.present.export import AXES, Origin
from hullchange.units import MM_PER_M

ROW = 1.55  # of a line of words, in sizes of letters
ROWS = 6  # of the columns
COLUMNS = (0.27, 0.23, 0.24, 0.26)  # shares of the width
NOTES = (
    "No plate thickness is added or deducted. The curves pass through the points; between "
    "neighbouring lines the sections are straight. Levels and breadths beside the views are "
    "metres from the design waterline (DWL) and the centreline (CL); stations divide the "
    f"length between perpendiculars into tenths. Axes: {AXES}.",
    f"An aid to judgement, not an approval. {STRENGTH.sentence}",
)


def strip_height(plan: LinesPlan, paper: Paper) -> float:
    """Height [mm] of the strip on a paper, with the space above it."""
    letters = LETTERS[paper]
    return (ROWS + len(_note_rows(plan, paper)) + 1.5) * ROW * letters + INSIDE


def title_block(plan: LinesPlan, layout: SheetLayout, origin: Origin) -> OnSheet:
    """The frame of the sheet and the strip at its foot."""
    letters, (wide, high) = layout.letters, layout.size_mm
    top = FRAME + strip_height(plan, layout.paper) - INSIDE
    inner = wide - 2.0 * FRAME
    edges = np.cumsum([0.0, *COLUMNS]) * inner + FRAME
    foot = FRAME + (len(_note_rows(plan, layout.paper)) + 0.9) * ROW * letters
    lines = [np.array([[FRAME, top], [wide - FRAME, top]])]
    lines.append(np.array([[FRAME, foot], [wide - FRAME, foot]]))
    lines += [np.array([[x, foot], [x, top]]) for x in edges[1:-1].tolist()]
    frame = np.array([[FRAME, FRAME], [wide - FRAME, FRAME]])
    rim = np.concatenate([frame, [[wide - FRAME, high - FRAME], [FRAME, high - FRAME]]])
    whole = OnSheet((Stroke("FRAME", rim, closed=True), *(Stroke("FRAME", p) for p in lines)))
    corners = [(x + 1.2 * letters, top) for x in edges[:-1].tolist()]
    widths = [share * inner - 2.4 * letters for share in COLUMNS]
    return whole.with_(
        OnSheet(labels=tuple(_names(origin, corners[0], widths[0], letters))),
        OnSheet(labels=tuple(_dimensions(plan, corners[1], widths[1], letters))),
        _signs(plan, corners[2], widths[2], letters),
        _scale(layout, corners[3], widths[3], plan.lengths),
        OnSheet(labels=tuple(_notes(plan, layout))),
    )


def _names(
    origin: Origin, corner: tuple[float, float], width: float, letters: float
) -> Iterator[Label]:
    x, top = corner
    yield fitted(Label(origin.boat, (x, top - 2.6 * letters), 2.2 * letters, bold=True), width)
    yield Label("Lines plan", (x, top - 4.7 * letters), 1.4 * letters)
    revision = "working copy" if origin.revision == "working" else f"revision {origin.revision}"
    rows = [
        ", ".join(
            words
            for words in (
                revision,
                origin.state,
                origin.made_at and f"frozen {origin.made_at}",
                origin.option and f"option {origin.option}",
            )
            if words
        ),
        f"document {origin.document[:8]}, {origin.tool}",
    ]
    for n, words in enumerate(rows):
        yield fitted(Label(words, (x, top - (6.9 + ROW * n) * letters), letters), width)


def _dimensions(
    plan: LinesPlan, corner: tuple[float, float], width: float, letters: float
) -> Iterator[Label]:
    found = plan.figures
    width = min(width, 25.0 * letters)
    rows = (
        ("length of the canoe body", plan.lengths.with_unit(found.length_m)),
        ("between perpendiculars", plan.lengths.with_unit(plan.length_waterline)),
        ("beam", plan.lengths.with_unit(found.beam_m)),
        ("beam at the DWL", plan.lengths.with_unit(found.beam_waterline_m)),
        ("draught at the DWL", plan.lengths.with_unit(found.draught_m)),
        ("displacement at the DWL", plan.lengths.mass(found.displacement_at_dwl_kg)),
    )
    for n, (name, value) in enumerate(rows):
        y = corner[1] - (n + 1.0) * ROW * letters
        number = Label(value, (corner[0] + width, y), letters, 1.0)
        yield fitted(Label(name, (corner[0], y), letters), width - number.width - letters)
        yield number


def _signs(
    plan: LinesPlan, corner: tuple[float, float], width: float, letters: float
) -> OnSheet:
    """What each kind of line is; only what is on the sheet."""
    used = {LAYER_OF[curve.role] for curve in plan.curves}
    shown: Mapping[PlanLayer, bool] = {
        "DWL": True,
        "READINGS": bool(plan.readings),
        "MARKS": bool(plan.marks),
        "APPENDAGES": bool(plan.side_views),
    }
    layers = [layer for layer in PENS if shown.get(layer, layer in used)]
    strokes, labels = [], []
    column = width / 2.0
    for n, layer in enumerate(layers[: 2 * ROWS]):
        x = corner[0] + (n // ROWS) * column
        y = corner[1] - (n % ROWS + 1.0) * ROW * letters
        strokes += _sample(layer, x, y + 0.3 * letters, letters)
        meaning = PENS[layer].meaning
        if layer == "READINGS":
            meaning = f"{meaning} {plan.as_given}"
        words = Label(meaning, (x + 5.2 * letters, y), letters)
        labels.append(fitted(words, column - 6.0 * letters))
    return OnSheet(tuple(strokes), tuple(labels))


def _sample(layer: PlanLayer, x: float, y: float, letters: float) -> list[Stroke]:
    arm = 0.45 * letters
    if layer == "READINGS":
        across = np.array([[x + 2.2 * letters - arm, y], [x + 2.2 * letters + arm, y]])
        upright = np.array([[x + 2.2 * letters, y - arm], [x + 2.2 * letters, y + arm]])
        return [Stroke(layer, across), Stroke(layer, upright)]
    return [Stroke(layer, np.array([[x, y], [x + 4.4 * letters, y]]))]


def _scale(
    layout: SheetLayout, corner: tuple[float, float], width: float, lengths: LengthStyle
) -> OnSheet:
    """The scale in words, and a bar to measure the paper by."""
    letters, (x, top) = layout.letters, corner
    strokes, marks = _bar(layout, (x, top - 5.6 * letters), width - 2.0 * letters, lengths)
    labels = [
        Label(f"Scale 1 : {layout.scale}", (x, top - 2.4 * letters), 1.7 * letters, bold=True),
        Label(f"on {layout.paper}", (x + width, top - 2.4 * letters), 1.3 * letters, 1.0),
        *marks,
        fitted(
            Label(f"Print at full size; {lengths.foot}.", (x, top - 8.9 * letters), letters),
            width,
        ),
    ]
    return OnSheet(tuple(strokes), tuple(labels))


def _bar(
    layout: SheetLayout, at: tuple[float, float], room: float, lengths: LengthStyle
) -> tuple[list[Stroke], list[Label]]:
    """A bar of whole metres or feet no longer than there is room [mm], its first one parted."""
    letters, (x, y), (unit, length, parts) = layout.letters, at, lengths.bar
    per_unit = length * MM_PER_M / layout.scale
    count = next((m for m in lengths.bars if m * per_unit <= room), 1)
    places = [k / parts for k in range(parts)] + [float(m) for m in range(1, count + 1)]
    strokes = [Stroke("FRAME", np.array([[x, y], [x + count * per_unit, y]]))]
    for place in places:
        high = (0.9 if place == int(place) else 0.5) * letters
        along = x + place * per_unit
        strokes.append(Stroke("FRAME", np.array([[along, y], [along, y + high]])))
    labels = [
        Label(
            f"{m} {unit}" if m else "0",
            (x + m * per_unit, y - 1.1 * letters),
            letters,
            0.5 * (m > 0),
        )
        for m in dict.fromkeys((0, 1, count))
    ]
    return strokes, labels


def _note_rows(plan: LinesPlan, paper: Paper) -> list[str]:
    exact = plan.lengths.small(plan.hull.exactness.plus_minus)
    source = f"The points of the lines {plan.source}, each to {exact} (standard deviation)."
    about = NOTES[0].replace("are metres", f"are {plan.lengths.on_sheet}")
    notes = (f"{source} {about}", *NOTES[1:])
    width = PAPERS[paper][0] - 2.0 * FRAME - 2.4 * LETTERS[paper]
    return [row for note in notes for row in wrapped(note, LETTERS[paper], width)]


def _notes(plan: LinesPlan, layout: SheetLayout) -> Iterator[Label]:
    rows, letters = _note_rows(plan, layout.paper), layout.letters
    for n, row in enumerate(rows):
        y = FRAME + (len(rows) - n - 0.5) * ROW * letters
        yield Label(row, (FRAME + 1.2 * letters, y), letters)
