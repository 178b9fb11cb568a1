"""Where a hull comes from: previews of lines that change nothing, and taking lines over."""

from fastapi import APIRouter, Response

from hullchange.document.assumed import is_assumed
from hullchange.hull_sources.found import FoundLines
from hullchange.hull_sources.main_dimensions import MainDimensions, first_guess
from hullchange.hull_sources.points import TableAsked, lines_of_table
from hullchange.hull_sources.preview import previewed
from hullchange.units import mm_of_m
from hullchange_api.routes.dependencies import CopiesDep, CopyDep, ExpectedDep, ViewDep
from hullchange_api.wire.hull_sources import (
    CellNotUnderstood,
    GivenLines,
    LinesPreview,
    NineDimensions,
    PreviewDoubt,
    PreviewLine,
    PreviewSize,
    TableText,
)
from hullchange_api.wire.working_copy import Edit, ProblemFault, Set, Working

router = APIRouter(prefix="/api/refits/{refit}/hull-sources", tags=["hull sources"])


@router.post("/table")
def preview_table(table: TableText, copy: CopyDep) -> LinesPreview:  # noqa: ARG001
    """The lines in a table, with every cell that was not understood."""
    asked = TableAsked(table.unit, table.columns, table.decimal)
    return preview_of(lines_of_table(table.csv, asked))


@router.post("/dimensions")
def preview_dimensions(given: NineDimensions, copy: CopyDep) -> LinesPreview:  # noqa: ARG001
    """A first guess at the lines of a boat of these main dimensions."""
    freeboards = (given.freeboard_forward_m, given.freeboard_least_m, given.freeboard_aft_m)
    dimensions = MainDimensions(
        given.hull_type,
        given.length_m,
        given.waterline_m,
        given.beam_m,
        given.displacement_kg / given.water_density_kg_m3,
        freeboards,
        given.transom_m,
    )
    return preview_of(first_guess(dimensions))


@router.post("/lines")
def take_lines(
    given: GivenLines,
    copies: CopiesDep,
    copy: CopyDep,
    expected: ExpectedDep,
    response: Response,
    view: ViewDep,
) -> Working:
    """The working copy with these lines as its hull's, and where they come from: one step.

    They are the owner's from then on; a guess from main dimensions stays assumed.
    """
    lines = {
        name: line.model_dump(mode="json", exclude_defaults=True)
        for name, line in given.lines.items()
    }
    origin = given.origin.model_dump(mode="json", exclude_none=True)
    steps = [Set(path="hull.lines", value=lines), Set(path="hull.from", value=origin)]
    if given.origin.source == "dimensions":
        assumed = copy.state.document.assumed
        others = [path for path in assumed if not is_assumed(path, (LINES,))]
        steps.append(Set(path="assumed", value=[LINES, *others]))
    edit = Edit(label=f"lines from {WORDS[given.origin.source]}", steps=tuple(steps))
    copies.edited(copy, edit, expected, view.option)
    working = copies.answer(copy, view, full=True)
    response.headers["ETag"] = f'"{working.edit}"'
    return working


LINES = "hull.lines"
WORDS = {
    "points": "a table",
    "tape": "tape distances",
    "drawing": "a drawing",
    "scan": "a scan",
    "step": "a CAD file",
    "dimensions": "main dimensions",
}


def preview_of(found: FoundLines) -> LinesPreview:
    """Lines that were found, for the page."""
    preview = previewed(found)
    size = preview.size
    return LinesPreview(
        source=found.source,
        lines={
            line.name: PreviewLine(
                kind=line.kind,
                points_m=line.points,
                knuckles_at_x_m=line.knuckles,
                errors_mm=tuple(mm_of_m(float(e)) for e in found.errors.get(line.name, ())),
            )
            for line in found.lines
        },
        plus_minus_m=found.plus_minus,
        worth=found.worth,
        notes=found.notes,
        missing=found.missing,
        not_understood=tuple(
            CellNotUnderstood(row=c.row, column=c.column, text=c.text, sentence=c.sentence)
            for c in found.not_understood
        ),
        faults=tuple(
            ProblemFault(code=f.code, place=f"hull.{f.place}", sentence=f.sentence)
            for f in preview.faults
        ),
        doubts=tuple(
            PreviewDoubt(place=f"hull.{f.place}", sentence=f.sentence) for f in preview.findings
        ),
        size=size
        and PreviewSize(
            length_m=size.length,
            beam_m=size.beam,
            waterline_m=size.waterline,
            volume_m3=size.volume,
            lcb_m=size.lcb,
        ),
    )
