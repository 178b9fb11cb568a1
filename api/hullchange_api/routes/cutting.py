"""The cut pack of a working copy or a revision: making it, its files, shop progress."""

from collections import defaultdict
from collections.abc import Iterable
from typing import Annotated, Any

from fastapi import APIRouter, Body, Depends, Query, Request, Response

from hullchange.answer.cut_pack import CutAnswer, CutBar, CutPiece
from hullchange.cutting.filled_list import FilledCell, read_filled_list
from hullchange.cutting.progress import (
    STAGES,
    ShopStage,
    StageOffer,
    StepRecord,
    least_stage,
    stage_offers,
)
from hullchange.errors import ModelError
from hullchange_api.cutting.packs import CutPacks, Source, zipped
from hullchange_api.routes.dependencies import CopyDep, Option, WorkingOrNumber
from hullchange_api.store.revisions import now
from hullchange_api.wire.cutting import (
    CutFile,
    CutFiles,
    Cutting,
    ListTaken,
    NewTicks,
    PartProgress,
    PieceProgress,
    ShopList,
    ShopProgress,
    StageOffered,
    StepDone,
)
from hullchange_api.working_copy.access import VisitorDep, author_of, channel_of, for_reviewers

router = APIRouter(prefix="/api/refits/{refit}/revisions/{revision}/cutting", tags=["cutting"])
R12 = Annotated[bool, Query(description="add an R12 copy of every DXF; R12 states no unit")]
FileName = Annotated[str, Query(description="name in the list of files")]
MEDIA_TYPES = {
    "csv": "text/csv; charset=utf-8",
    "txt": "text/plain; charset=utf-8",
    "json": "application/json",
    "svg": "image/svg+xml",
    "pdf": "application/pdf",
    "dxf": "image/vnd.dxf",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "zip": "application/zip",
}
BYTES: dict[int | str, dict[str, Any]] = {
    200: {"content": {"application/octet-stream": {"schema": {"type": "string"}}}}
}


def cut_packs_of(request: Request) -> CutPacks:
    """The cut packs of this server."""
    packs: CutPacks = request.app.state.cut_packs
    return packs


def source_of(copy: CopyDep, revision: WorkingOrNumber, option: Option = None) -> Source:
    """The source named in the URL."""
    return Source(copy.refit, None if revision == "working" else revision, option)


CutPacksDep = Annotated[CutPacks, Depends(cut_packs_of)]
SourceDep = Annotated[Source, Depends(source_of)]


@router.get("")
@for_reviewers
def read_cutting(packs: CutPacksDep, source: SourceDep) -> Cutting:
    """The status of the pack, what it was made for, and the review status."""
    return packs.status(source)


@router.post("", status_code=202)
def begin_cutting(packs: CutPacksDep, source: SourceDep) -> Cutting:
    """Start making the pack: quick nests first, good ones in the background."""
    return packs.begin(source)


@router.delete("")
def cancel_cutting(packs: CutPacksDep, source: SourceDep) -> Cutting:
    """Cancel; nests found so far stay."""
    return packs.cancel(source)


@router.get("/answer")
@for_reviewers
def read_cut_pack(packs: CutPacksDep, source: SourceDep) -> CutAnswer:
    """Pieces with their drawings, nests, bars, purchase, seams, quantities, findings."""
    return packs.answer(source)


@router.get("/lists/{name}", response_class=Response, responses=BYTES)
@for_reviewers
def read_cut_list(packs: CutPacksDep, source: SourceDep, name: str) -> Response:
    """One list as CSV, or all of them as lists.xlsx, with the progress filled in."""
    return _saved(name, packs.list_of(source, name))


@router.get("/files")
@for_reviewers
def list_cut_files(packs: CutPacksDep, source: SourceDep, r12: R12 = False) -> CutFiles:
    """Every file of the pack, checked by reading it back, stamped with the review status."""
    stamp, files = packs.files(source, r12)
    return CutFiles(
        stamp=stamp.words,
        zip_name=_zip_name(source, stamp.words),
        files=tuple(CutFile(name=n, size_bytes=len(content)) for n, content in files.items()),
    )


@router.get("/file", response_class=Response, responses=BYTES)
@for_reviewers
def read_cut_file(
    packs: CutPacksDep, source: SourceDep, name: FileName, r12: R12 = False
) -> Response:
    """One file of the pack, by its name including its folder."""
    _, files = packs.files(source, r12)
    if name not in files:
        raise ModelError("unknown-file", f"There is no file {name} in this pack.")
    return _saved(name.rsplit("/", 1)[-1], files[name])


@router.get("/pack.zip", response_class=Response, responses=BYTES)
@for_reviewers
def read_cut_zip(packs: CutPacksDep, source: SourceDep, r12: R12 = False) -> Response:
    """The whole pack in one file."""
    stamp, files = packs.files(source, r12)
    return _saved(_zip_name(source, stamp.words), zipped(files))


@router.get("/progress")
@for_reviewers
def read_progress(packs: CutPacksDep, source: SourceDep) -> ShopProgress:
    """The progress of every piece and part of the pack."""
    return _progress(packs, source)


@router.post("/progress")
def tick_pieces(
    new: NewTicks, packs: CutPacksDep, source: SourceDep, visitor: VisitorDep
) -> ShopProgress:
    """The progress after ticking or unticking steps."""
    shapes, at = packs.shapes(source), now()
    who = author_of(visitor, new.author)
    for tick in new.ticks:
        if tick.piece not in shapes:
            sentence = f"There is no piece {tick.piece} in this pack: reload it."
            raise ModelError("unknown-name", sentence, "ticks")
    packs.add_records(
        source,
        (StepRecord(t.piece, t.step, t.done, shapes[t.piece], "", who, at) for t in new.ticks),
        channel_of(visitor),
    )
    return _progress(packs, source)


@router.post("/progress/list")
def take_list(
    sent: Annotated[ShopList, Query()],
    content: Annotated[bytes, Body(media_type="application/octet-stream")],
    packs: CutPacksDep,
    source: SourceDep,
    visitor: VisitorDep,
) -> ListTaken:
    """Import a filled-in cut list: the request body is the file."""
    shapes, at = packs.shapes(source), now()
    who = author_of(visitor, sent.author)
    filled_list = read_filled_list(sent.name, content)
    here = [t for t in filled_list.ticks if t.piece in shapes]
    count = packs.add_records(
        source,
        (StepRecord(t.piece, t.step, t.done, t.shape, t.note, who, at) for t in here),
        f"the list {sent.name}",
    )
    return ListTaken(
        taken_count=count,
        not_here=_pieces_of(t for t in filled_list.ticks if t.piece not in shapes),
        other_shape=_pieces_of(t for t in here if t.shape != shapes[t.piece]),
        unclear=filled_list.unclear,
        progress=_progress(packs, source),
    )


def _pieces_of(ticks: Iterable[FilledCell]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(tick.piece for tick in ticks))


def _progress(packs: CutPacks, source: Source) -> ShopProgress:
    progress = packs.progress(source)
    parts: dict[tuple[str, str], list[ShopStage]] = defaultdict(list)
    answer = packs.answer(source)
    rows: tuple[CutPiece | CutBar, ...] = (*answer.pieces, *answer.bars)
    for piece in rows:
        parts[piece.part, piece.change].append(progress[piece.id].stage)
    stage_of_part = {
        (change, part): least_stage(stages) for (part, change), stages in parts.items()
    }
    # if the boat has changed since, the progress of the new steel is not known
    outdated = packs.status(source).is_outdated
    offers = () if outdated else stage_offers(packs.document(source), stage_of_part)
    return ShopProgress(
        pieces=tuple(
            PieceProgress(
                id=name,
                stage=one.stage,
                done=tuple(
                    StepDone(step=step, who=w.who, written_at=w.when, note=w.note)
                    for step, w in one.done.items()
                ),
                is_other_shape=one.is_other_shape,
            )
            for name, one in progress.items()
        ),
        parts=tuple(
            PartProgress(
                part=part,
                change=change,
                stage=stage_of_part[change, part],
                pieces_count=len(stages),
                cut_count=_reached(stages, "cut"),
                checked_count=_reached(stages, "checked"),
                welded_count=_reached(stages, "welded"),
            )
            for (part, change), stages in parts.items()
        ),
        stages_offered=tuple(_offered(offer) for offer in offers),
    )


def _offered(offer: StageOffer) -> StageOffered:
    return StageOffered(
        path=offer.path,
        change=offer.change,
        parts=offer.parts,
        before=offer.before,
        stage=offer.stage,
    )


def _reached(stages: list[ShopStage], stage: ShopStage) -> int:
    return sum(STAGES.index(one) >= STAGES.index(stage) for one in stages)


def _zip_name(source: Source, stamp: str) -> str:
    return f"{source.refit}-{stamp.lower().replace(' ', '-')}.zip"


def _saved(name: str, content: bytes) -> Response:
    """A download; its content may change with the next tick."""
    media_type = MEDIA_TYPES.get(name.rsplit(".", 1)[-1], "application/octet-stream")
    headers = {
        "Content-Disposition": f'attachment; filename="{name}"',
        "Cache-Control": "no-store",
    }
    return Response(content, media_type=media_type, headers=headers)
