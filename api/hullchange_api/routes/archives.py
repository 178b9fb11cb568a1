"""A whole refit as one file, to download and upload; for the owner only."""

from collections.abc import Iterator
from tempfile import TemporaryFile
from typing import IO, Annotated, Any

from fastapi import APIRouter, Query, Request, Response
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import StreamingResponse

from hullchange.errors import ModelError
from hullchange_api.routes.dependencies import CopiesDep
from hullchange_api.wire.working_copy import RefitCard

router = APIRouter(tags=["refits"])
ZIP = "application/zip"
BINARY: dict[str, Any] = {"content": {ZIP: {"schema": {"type": "string", "format": "binary"}}}}
CHUNK = 1024 * 1024
NewName = Annotated[
    str | None, Query(description="new name of the refit; its old name if absent")
]


@router.get("/api/refits/{refit}/archive", response_class=Response, responses={200: BINARY})
def read_archive(refit: str, copies: CopiesDep) -> StreamingResponse:
    """The document, files beside it, history, revisions, comments, signatures, attachments."""
    file = TemporaryFile()  # noqa: SIM115 - closed at the end of the response
    try:
        copies.refits.archive(refit, file)
    except BaseException:
        file.close()
        raise
    headers = {
        "Content-Length": str(file.tell()),
        "Content-Disposition": f'attachment; filename="{refit}.zip"',
        "Cache-Control": "no-store",
    }
    return StreamingResponse(_chunks(file), media_type=ZIP, headers=headers)


@router.post(
    "/api/archive", status_code=201, openapi_extra={"requestBody": {**BINARY, "required": True}}
)
async def restore_archive(
    request: Request, copies: CopiesDep, name: NewName = None
) -> RefitCard:
    """Restore a refit from its archive: the request body is the file."""
    with TemporaryFile() as file:
        try:
            async for chunk in request.stream():
                file.write(chunk)
        except OSError as error:
            sentence = f"The archive could not be saved ({error.strerror}): free some space."
            raise ModelError("not-saved", sentence) from error
        refit = await run_in_threadpool(copies.refits.restore, file, name)
    return await run_in_threadpool(copies.card, refit)


def _chunks(file: IO[bytes]) -> Iterator[bytes]:
    with file:
        file.seek(0)
        while chunk := file.read(CHUNK):
            yield chunk
