"""HTTP schemas for cutting: the status of a pack, its files, progress in the shop."""

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from hullchange.answer.wire import Wire
from hullchange.cutting.progress import ShopStage, ShopStep
from hullchange.document.quantities import ChangeStage
from hullchange_api.wire.review import OneLine, ReviewStatus
from hullchange_api.wire.working_copy import Problem

PieceId = Annotated[str, StringConstraints(min_length=1, max_length=120)]


class Cutting(Wire):
    """The status of the cut pack of a working copy or a revision."""

    refit: str
    revision: int | None = Field(description="None: the working copy")
    option: str | None
    state: Literal["none", "working", "done", "cancelled", "failed"]
    nests: Literal["none", "quick", "good", "kept"] = Field(
        description="available now; kept: stored with a revision, and fixed"
    )
    said: str = Field(description="progress message, or empty")
    edit: int | None = Field(description="edit of the working copy that it was made for")
    document_sha256: str | None
    is_outdated: bool = Field(description="the boat has changed since")
    sentence: str = Field(description="what it was made for, and whether it is still current")
    standing: ReviewStatus = Field(description="current review status")
    problem: Problem | None


class CutFile(Wire):
    """One file of a pack."""

    name: str = Field(description="including its folder")
    size_bytes: int


class CutFiles(Wire):
    """Every file of a pack, written and checked by reading it back."""

    stamp: str = Field(description="stamp that every file carries")
    zip_name: str
    files: tuple[CutFile, ...]


class Tick(Wire):
    """One step of one piece, ticked or unticked."""

    piece: PieceId
    step: ShopStep
    done: bool


class NewTicks(Wire):
    """Steps to tick or untick."""

    ticks: tuple[Tick, ...] = Field(min_length=1, max_length=2000)
    author: OneLine


class ShopList(Wire):
    """Query parameters of a filled-in cut list; the request body is the file."""

    name: Annotated[str, StringConstraints(min_length=1, max_length=200)]
    author: OneLine


class StepDone(Wire):
    """A completed step: who recorded it, and when."""

    step: ShopStep
    who: str
    written_at: str
    note: str = Field(description="from the cut list, or empty")


class PieceProgress(Wire):
    """The progress of one piece."""

    id: str
    stage: ShopStage
    done: tuple[StepDone, ...]
    is_other_shape: bool = Field(
        description="work was recorded on a piece of this name before its shape changed"
    )


class PartProgress(Wire):
    """The progress of one part: that of its least advanced piece."""

    part: str
    change: str
    stage: ShopStage
    pieces_count: int
    cut_count: int
    checked_count: int
    welded_count: int


class StageOffered(Wire):
    """A suggested stage for a change whose pieces are further along than its stage."""

    path: str = Field(
        description="of the stage in the document, which is never set automatically"
    )
    change: str
    parts: tuple[str, ...]
    before: ChangeStage
    stage: ChangeStage


class ShopProgress(Wire):
    """The progress of the steel of a pack."""

    pieces: tuple[PieceProgress, ...]
    parts: tuple[PartProgress, ...]
    stages_offered: tuple[StageOffered, ...]


class ListTaken(Wire):
    """The result of importing a filled-in cut list."""

    taken_count: int = Field(description="number of new records")
    not_here: tuple[str, ...] = Field(description="ids that are not in this pack")
    other_shape: tuple[str, ...] = Field(
        description="ids of pieces whose shape has changed since"
    )
    unclear: tuple[str, ...] = Field(description="cells that mean neither done nor not done")
    progress: ShopProgress
