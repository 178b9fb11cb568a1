"""Where a hull comes from: previews of lines that change nothing, and taking lines over."""

from types import MappingProxyType
from typing import Annotated, Any

import numpy as np
from fastapi import APIRouter, Body, Query, Response
from pydantic import JsonValue, ValidationError

from hullchange.document.assumed import is_assumed
from hullchange.document.quantities import FARTHEST_M
from hullchange.errors import ModelError
from hullchange.hull_sources.cad_hull import CadAsked, lines_of_cad
from hullchange.hull_sources.cloud_files import cloud_points
from hullchange.hull_sources.drawing import TracedCurve, TracedView, lines_of_drawing
from hullchange.hull_sources.found import FoundLines
from hullchange.hull_sources.main_dimensions import MainDimensions, first_guess
from hullchange.hull_sources.points import TableAsked, lines_of_table
from hullchange.hull_sources.preview import previewed
from hullchange.hull_sources.scan import ScanMarks, lines_of_scan
from hullchange.hull_sources.tape import lines_by_tape
from hullchange.units import m_of_mm, mm_of_m
from hullchange_api.processes.cad_child import body_of, page_of
from hullchange_api.routes.dependencies import CopiesDep, CopyDep, ExpectedDep, ViewDep
from hullchange_api.wire.hull_sources import (
    CadQuery,
    CellNotUnderstood,
    CloudPoints,
    GivenLines,
    LinesPreview,
    NineDimensions,
    PictureView,
    PreviewDoubt,
    PreviewLine,
    PreviewSize,
    ScanPicks,
    TableText,
    TapeText,
    TracedDrawing,
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
    lines: JsonValue = {
        name: line.model_dump(mode="json", exclude_defaults=True)
        for name, line in given.lines.items()
    }
    origin = given.origin.model_dump(mode="json", exclude_none=True)
    values: dict[str, JsonValue] = {"hull.lines": lines, "hull.from": origin}
    if given.length_waterline_m is not None:
        values["hull.length_waterline_m"] = given.length_waterline_m
    if given.origin.source == "dimensions":
        assumed = copy.state.document.assumed
        others = [path for path in assumed if not is_assumed(path, (LINES,))]
        values["assumed"] = [LINES, *others]
    steps = tuple(Set(path=path, value=value) for path, value in values.items())
    edit = Edit(label=f"lines from {WORDS[given.origin.source]}", steps=steps)
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


FileBytes = Annotated[bytes, Body(media_type="application/octet-stream")]
ScanName = Annotated[str, Query(max_length=200, description="with its ending")]
ScanUnit = Annotated[str, Query(max_length=20, description="m, cm, mm, ft or in")]
PAGE: dict[int | str, dict[str, Any]] = {
    200: {"content": {"image/png": {"schema": {"type": "string", "format": "binary"}}}}
}
SHOWN_POINTS = 8000


@router.post("/tape")
def preview_tape(given: TapeText, copy: CopyDep) -> LinesPreview:  # noqa: ARG001
    """Lines by tape distances from marks, with the error of each point."""
    asked = TableAsked(given.unit, (), given.decimal)
    tape_sd = m_of_mm(given.plus_minus_mm)
    return preview_of(lines_by_tape(given.marks_csv, given.distances_csv, asked, tape_sd))


@router.post("/drawing")
def preview_drawing(drawing: TracedDrawing, copy: CopyDep) -> LinesPreview:  # noqa: ARG001
    """Lines traced over pictures of profile, plan and body plan."""
    return preview_of(lines_of_drawing(tuple(_traced(view) for view in drawing.views)))


@router.post("/pdf-page", response_class=Response, responses=PAGE)
def read_pdf_page(
    copies: CopiesDep,
    copy: CopyDep,  # noqa: ARG001
    content: FileBytes,
    page: Annotated[int, Query(ge=1, le=10_000)] = 1,
) -> Response:
    """A page of a PDF as a picture to trace over; the request body is the file."""
    picture = copies.cad.run(page_of, content, page)
    headers = {"X-Page-Count": str(picture.pages), "Cache-Control": "no-store"}
    return Response(picture.png, media_type="image/png", headers=headers)


@router.post("/cloud")
def read_cloud(
    copy: CopyDep,  # noqa: ARG001
    content: FileBytes,
    name: ScanName,
    unit: ScanUnit,
) -> CloudPoints:
    """A scan thinned to some thousand points, to pick marks on; the body is the file."""
    points = cloud_points(name, content, unit)
    shown = points[:: max(1, len(points) // SHOWN_POINTS)]
    far = np.abs(shown).max(axis=1) > FARTHEST_M
    places = tuple((x, y, z) for x, y, z in shown[~far].round(4).tolist())
    return CloudPoints(points_m=places, count=len(points))


@router.post("/scan")
def preview_scan(
    copy: CopyDep,  # noqa: ARG001
    content: FileBytes,
    name: ScanName,
    unit: ScanUnit,
    picks: Annotated[str, Query(max_length=20_000, description="ScanPicks as JSON")] = "{}",
) -> LinesPreview:
    """Lines of the bare hull in a scan or point cloud; the request body is the file."""
    picked = _picks(picks)
    marks = ScanMarks(
        np.array(picked.waterline_m, float).reshape(-1, 3),
        None if picked.bow_m is None else np.array(picked.bow_m),
        MappingProxyType({line: np.array(at) for line, at in picked.chines.items()}),
    )
    return preview_of(lines_of_scan(cloud_points(name, content, unit), marks))


@router.post("/step")
def preview_step(
    copies: CopiesDep,
    copy: CopyDep,  # noqa: ARG001
    content: FileBytes,
    query: Annotated[CadQuery, Query()],
) -> LinesPreview:
    """Lines of a body in a STEP or IGES file, z up; the request body is the file."""
    body = copies.cad.run(body_of, query.name, content, query.body_number)
    asked = CadAsked(query.waterline_z_m, query.unit, query.is_bow_aft)
    return preview_of(lines_of_cad(body, asked))


def _picks(text: str) -> ScanPicks:
    try:
        return ScanPicks.model_validate_json(text)
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(str(step) for step in first["loc"])
        raise ModelError("bad-picks", f"Marks on the scan, {place}: {first['msg']}.") from error


def _traced(view: PictureView) -> TracedView:
    return TracedView(
        view.view,
        np.array([mark.at_px for mark in view.marks], float).reshape(-1, 2),
        np.array([mark.place_m for mark in view.marks], float).reshape(-1, 2),
        view.is_flat,
        tuple(
            TracedCurve(c.line, np.array(c.points_px, float), c.kind, c.station_x_m)
            for c in view.curves
        ),
    )
