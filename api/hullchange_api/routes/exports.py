"""Files for other programs, of the working copy or a revision."""

from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Query, Response

from hullchange.present.writing import DecimalWord, UnitSystem, Writing
from hullchange_api.review.exports import ExportName, exports_of
from hullchange_api.routes.dependencies import GLB, CopyDep, Option, ReviewsDep, WorkingOrNumber
from hullchange_api.working_copy.access import for_reviewers

router = APIRouter(prefix="/api/refits/{refit}/revisions/{revision}/files", tags=["files"])
LeversOf = Annotated[
    str | None, Query(description="whose righting levers; all conditions if absent")
]
UnitsOf = Annotated[UnitSystem, Query(description="of the columns of a table")]
DecimalOf = Annotated[
    DecimalWord,
    Query(description="decimal sign; with a comma, cells are separated by semicolons"),
]


@dataclass(frozen=True)
class FileAsked:
    """Of a table: whose levers, and how its numbers are written."""

    condition: str | None
    writing: Writing


def file_asked(
    condition: LeversOf = None, units: UnitsOf = "metric", decimal: DecimalOf = "point"
) -> FileAsked:
    """What a request says of a table."""
    return FileAsked(condition, Writing(units, decimal))


MEDIA_TYPES = {
    "step": "model/step",
    "json": "application/json",
    "glb": GLB,
    "pdf": "application/pdf",
    "svg": "image/svg+xml",
    "dxf": "image/vnd.dxf",
    "csv": "text/csv; charset=utf-8",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}
BINARY: dict[int | str, dict[str, Any]] = {
    200: {
        "content": {
            "application/octet-stream": {"schema": {"type": "string", "format": "binary"}}
        }
    }
}


@router.get("/{name}", response_class=Response, responses=BINARY)
@for_reviewers
def read_export(
    copy: CopyDep,
    revision: WorkingOrNumber,
    name: ExportName,
    reviews: ReviewsDep,
    asked: Annotated[FileAsked, Depends(file_asked)],
    option: Option = None,
) -> Response:
    """One file: CAD record, scene, tables of weights and conditions, lines plan."""
    number = None if revision == "working" else revision
    exports = exports_of(reviews, copy, number, option)
    content = exports.file(name, asked.condition, asked.writing)
    called = exports.file_name(copy.refit, name, asked.condition)
    headers = {
        "Content-Disposition": f'attachment; filename="{called}"',
        "Cache-Control": "no-store",
    }
    media_type = MEDIA_TYPES[name.rsplit(".", 1)[-1]]
    return Response(content, media_type=media_type, headers=headers)
