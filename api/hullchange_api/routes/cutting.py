"""The cut pack of a working copy or a revision: made, drawn, written, and how far it is."""

from collections import defaultdict
from collections.abc import Iterable
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Body, Depends, Path, Query, Request, Response

from hullchange.answer.cut_pack import CutAnswer, CutBar, CutPiece
from hullchange.cutting.filled_list import FilledCell, filled
from hullchange.cutting.progress import (
    STAGES,
    ShopStage,
    StageOffer,
    Word,
    least,
    stage_offers,
)
from hullchange.errors import ModelError
from hullchange_api.cutting.packs import CuttingDesk, Source, zipped
from hullchange_api.routes.dependencies import OneCopy, Option
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
from hullchange_api.working_copy.access import OneVisitor, author_of, for_reviewers, through

router = APIRouter(prefix="/api/refits/{refit}/revisions/{revision}/cutting", tags=["cutting"])
Revision = Annotated[
    Literal["working"] | Annotated[int, Path(ge=1, le=1_000_000)],
    Path(description="number of a revision, or working"),
]
R12 = Annotated[bool, Query(description="add a twin of every DXF in R12, which says no unit")]
FileName = Annotated[str, Query(description="as the list of files has it")]
KINDS = {
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


def cutting_of(request: Request) -> CuttingDesk:
    """The cutting desk of the application that answers."""
    cutting: CuttingDesk = request.app.state.cutting
    return cutting


def source_of(copy: OneCopy, revision: Revision, option: Option = None) -> Source:
    """Whose steel the address names."""
    return Source(copy.refit, None if revision == "working" else revision, option)


OneCutting = Annotated[CuttingDesk, Depends(cutting_of)]
OneSource = Annotated[Source, Depends(source_of)]


@router.get("")
@for_reviewers
def read_cutting(cutting: OneCutting, source: OneSource) -> Cutting:
    """How the pack is doing, what it was made for, and how the review stands."""
    return cutting.status(source)


@router.post("", status_code=202)
def begin_cutting(cutting: OneCutting, source: OneSource) -> Cutting:
    """Start to make the pack: quick nests first, good ones in the background."""
    return cutting.begin(source)


@router.delete("")
def cancel_cutting(cutting: OneCutting, source: OneSource) -> Cutting:
    """Stop; nests that were found stay."""
    return cutting.cancel(source)


@router.get("/answer")
@for_reviewers
def read_cut_pack(cutting: OneCutting, source: OneSource) -> CutAnswer:
    """Pieces with their drawings, nests, bars, purchase, seams, quantities, findings."""
    return cutting.answer(source)


@router.get("/lists/{name}", response_class=Response, responses=BYTES)
@for_reviewers
def read_cut_list(cutting: OneCutting, source: OneSource, name: str) -> Response:
    """One list as CSV, or all of them as lists.xlsx, filled in as far as the steel is."""
    return _saved(name, cutting.list_of(source, name))


@router.get("/files")
@for_reviewers
def list_cut_files(cutting: OneCutting, source: OneSource, r12: R12 = False) -> CutFiles:
    """Every file of the pack, written, read again and stamped as the review stands."""
    stamp, files = cutting.files(source, r12)
    return CutFiles(
        stamp=stamp.words,
        zip_name=_zip_name(source, stamp.words),
        files=tuple(CutFile(name=n, size_bytes=len(content)) for n, content in files.items()),
    )


@router.get("/file", response_class=Response, responses=BYTES)
@for_reviewers
def read_cut_file(
    cutting: OneCutting, source: OneSource, name: FileName, r12: R12 = False
) -> Response:
    """One file of the pack, by its name with its folder."""
    _, files = cutting.files(source, r12)
    if name not in files:
        raise ModelError("unknown-file", f"There is no file called {name} in this pack.")
    return _saved(name.rsplit("/", 1)[-1], files[name])


@router.get("/pack.zip", response_class=Response, responses=BYTES)
@for_reviewers
def read_cut_zip(cutting: OneCutting, source: OneSource, r12: R12 = False) -> Response:
    """The whole pack in one file."""
    stamp, files = cutting.files(source, r12)
    return _saved(_zip_name(source, stamp.words), zipped(files))


@router.get("/progress")
@for_reviewers
def read_progress(cutting: OneCutting, source: OneSource) -> ShopProgress:
    """How far every piece and part of the pack is."""
    return _progress(cutting, source)


@router.post("/progress")
def tick_pieces(
    new: NewTicks, cutting: OneCutting, source: OneSource, visitor: OneVisitor
) -> ShopProgress:
    """How far the steel is after steps were ticked off, or taken back."""
    shapes, at = cutting.shapes(source), now()
    who = author_of(visitor, new.author)
    for tick in new.ticks:
        if tick.piece not in shapes:
            sentence = f"There is no piece called {tick.piece} in this pack: load it again."
            raise ModelError("unknown-name", sentence, "ticks")
    cutting.say(
        source,
        (Word(t.piece, t.step, t.done, shapes[t.piece], "", who, at) for t in new.ticks),
        through(visitor),
    )
    return _progress(cutting, source)


@router.post("/progress/list")
def take_list(
    sent: Annotated[ShopList, Query()],
    content: Annotated[bytes, Body(media_type="application/octet-stream")],
    cutting: OneCutting,
    source: OneSource,
    visitor: OneVisitor,
) -> ListTaken:
    """Take a cut list that comes back filled in: the request's body is the file."""
    shapes, at = cutting.shapes(source), now()
    who = author_of(visitor, sent.author)
    given = filled(sent.name, content)
    here = [t for t in given.ticks if t.piece in shapes]
    count = cutting.say(
        source,
        (Word(t.piece, t.step, t.done, t.shape, t.note, who, at) for t in here),
        f"the list {sent.name}",
    )
    return ListTaken(
        taken_count=count,
        not_here=_pieces_of(t for t in given.ticks if t.piece not in shapes),
        other_shape=_pieces_of(t for t in here if t.shape != shapes[t.piece]),
        unclear=given.unclear,
        progress=_progress(cutting, source),
    )


def _pieces_of(ticks: Iterable[FilledCell]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(tick.piece for tick in ticks))


def _progress(cutting: CuttingDesk, source: Source) -> ShopProgress:
    far = cutting.far(source)
    parts: dict[tuple[str, str], list[ShopStage]] = defaultdict(list)
    answer = cutting.answer(source)
    rows: tuple[CutPiece | CutBar, ...] = (*answer.pieces, *answer.bars)
    for piece in rows:
        parts[piece.part, piece.change].append(far[piece.id].stage)
    least_far = {(change, part): least(stages) for (part, change), stages in parts.items()}
    # of steel that has changed since, nobody knows how far it is
    outdated = cutting.status(source).is_outdated
    offers = () if outdated else stage_offers(cutting.document(source), least_far)
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
            for name, one in far.items()
        ),
        parts=tuple(
            PartProgress(
                part=part,
                change=change,
                stage=least_far[change, part],
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
    """A file to be kept by the browser; what is in it may change with the next tick."""
    kind = KINDS.get(name.rsplit(".", 1)[-1], "application/octet-stream")
    headers = {
        "Content-Disposition": f'attachment; filename="{name}"',
        "Cache-Control": "no-store",
    }
    return Response(content, media_type=kind, headers=headers)
