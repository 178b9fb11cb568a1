"""The working copy of a refit: read, edit, undo, redo, import lines, CAD record."""

from fastapi import APIRouter, Request, Response

from hullchange.hull_sources.points import TableAsked, whole_table
from hullchange_api.routes.dependencies import (
    CopiesDep,
    CopyDep,
    ExpectedDep,
    Option,
    ReviewsDep,
    RevisionPath,
    ViewDep,
)
from hullchange_api.wire.hull_sources import TableText
from hullchange_api.wire.review import Compared
from hullchange_api.wire.working_copy import Edit, RecordAnswer, Set, Working
from hullchange_api.working_copy.read_queue import ReadQueue

router = APIRouter(prefix="/api/refits/{refit}/revisions/working", tags=["working copy"])


@router.get("", response_model=Working)
async def read_working(
    copies: CopiesDep,
    copy: CopyDep,
    request: Request,
    view: ViewDep,
    full: bool = True,
) -> Response:
    """The working copy with its full answer, or (full=false) the chosen condition only.

    During a drag the full answer waits, half a minute at most, so as not to slow the drag.
    """

    def work() -> tuple[int, bytes]:
        copy.load_changed_file()
        return copies.answer_text(copy, view, full=full)

    reads: ReadQueue = request.app.state.reads
    key = (copy.refit, view, full)
    edit, content = await reads.answer(key, work, copy if full else None)
    return _json(edit, content)


@router.patch("", response_model=Working)
def edit_working(
    edit: Edit,
    copies: CopiesDep,
    copy: CopyDep,
    expected: ExpectedDep,
    option: Option = None,
) -> Response:
    """The working copy after an edit, with the chosen condition only: ask again for the rest.

    Meshes that the edit changed are included.
    """
    working = copies.edited(copy, edit, expected, option)
    return _json(working.edit, working.model_dump_json(by_alias=True).encode())


@router.post("/undo")
def undo_working(
    copies: CopiesDep,
    copy: CopyDep,
    expected: ExpectedDep,
    response: Response,
    view: ViewDep,
) -> Working:
    """The working copy before the last step, with the chosen condition only."""
    return _tagged(response, copies.moved(copy, copy.undo, expected, view))


@router.post("/redo")
def redo_working(
    copies: CopiesDep,
    copy: CopyDep,
    expected: ExpectedDep,
    response: Response,
    view: ViewDep,
) -> Working:
    """The working copy after the step that was undone, with the chosen condition only."""
    return _tagged(response, copies.moved(copy, copy.redo, expected, view))


@router.post("/lines")
def replace_lines(
    table: TableText,
    copies: CopiesDep,
    copy: CopyDep,
    expected: ExpectedDep,
    response: Response,
    view: ViewDep,
) -> Working:
    """The working copy with the hull lines read from a table, every cell of it understood."""
    asked = TableAsked(table.unit, table.columns, table.decimal)
    found = whole_table(table.csv, asked)
    lines = {
        line.name: {"kind": line.kind, "points_m": [list(p) for p in line.points]}
        | ({"knuckles_at_x_m": list(line.knuckles)} if line.knuckles else {})
        for line in found.lines
    }
    origin = {"source": found.source, "plus_minus_m": found.plus_minus}
    steps = (Set(path="hull.lines", value=lines), Set(path="hull.from", value=origin))
    copies.edited(copy, Edit(label="lines from a table", steps=steps), expected, view.option)
    return _tagged(response, copies.answer(copy, view, full=True))


@router.get("/since/{before}")
def compare_working(
    copy: CopyDep, before: RevisionPath, reviews: ReviewsDep, option: Option = None
) -> Compared:
    """The differences between the working copy and a revision."""
    return reviews.since(copy, before, None, option)


@router.get("/record")
def read_record(copies: CopiesDep, copy: CopyDep, option: Option = None) -> RecordAnswer:
    """Part weights from their CAD solids; ask again while pending."""
    return copies.record(copy, option)


def _json(edit: int, content: bytes) -> Response:
    """A response in JSON, which FastAPI does not validate again."""
    return Response(content, media_type="application/json", headers={"ETag": f'"{edit}"'})


def _tagged(response: Response, working: Working) -> Working:
    response.headers["ETag"] = f'"{working.edit}"'
    return working
