"""What crosses HTTP about cutting: how a pack is doing, its files, how far the steel is."""

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from hullchange.answer.wire import Wire
from hullchange.cutting.progress import ShopStage, ShopStep
from hullchange.document.quantities import ChangeStage
from hullchange_api.wire.review import OneLine, WholeStanding
from hullchange_api.wire.working_copy import Problem

PieceId = Annotated[str, StringConstraints(min_length=1, max_length=120)]


class Cutting(Wire):
    """How the cut pack of a working copy or a revision is doing."""

    refit: str
    revision: int | None = Field(description="None: the working copy")
    option: str | None
    state: Literal["none", "working", "done", "cancelled", "failed"]
    nests: Literal["none", "quick", "good", "kept"] = Field(
        description="what is in hand; kept are those of a revision, which stay"
    )
    said: str = Field(description="what is being done, or empty")
    edit: int | None = Field(description="edit of the working copy it was made for")
    document_sha256: str | None
    is_outdated: bool = Field(description="the boat has changed since")
    sentence: str = Field(description="what it was made for, and whether that still stands")
    standing: WholeStanding = Field(description="of the review, as of now")
    problem: Problem | None


class CutFile(Wire):
    """One file of a pack."""

    name: str = Field(description="with its folder")
    size_bytes: int


class CutFiles(Wire):
    """Every file of a pack, written and read again."""

    stamp: str = Field(description="what every one of them carries")
    zip_name: str
    files: tuple[CutFile, ...]


class Tick(Wire):
    """One step of one piece: done, or not after all."""

    piece: PieceId
    step: ShopStep
    done: bool


class NewTicks(Wire):
    """What somebody ticks off."""

    ticks: tuple[Tick, ...] = Field(min_length=1, max_length=2000)
    author: OneLine


class ShopList(Wire):
    """What is said of a filled cut list that is sent; the body is the file."""

    name: Annotated[str, StringConstraints(min_length=1, max_length=200)]
    author: OneLine


class StepDone(Wire):
    """A step that is done, by whose word and when."""

    step: ShopStep
    who: str
    written_at: str
    note: str = Field(description="as it stood in the list, or empty")


class PieceProgress(Wire):
    """How far one piece is."""

    id: str
    stage: ShopStage
    done: tuple[StepDone, ...]
    is_other_shape: bool = Field(
        description="something was done to a piece of this name before its shape changed"
    )


class PartProgress(Wire):
    """How far one part is: as far as the last of its pieces."""

    part: str
    change: str
    stage: ShopStage
    pieces_count: int
    cut_count: int
    checked_count: int
    welded_count: int


class StageOffered(Wire):
    """A change whose pieces are further than its stage says."""

    path: str = Field(description="of the stage in the document; nothing is set by itself")
    change: str
    parts: tuple[str, ...]
    before: ChangeStage
    stage: ChangeStage


class ShopProgress(Wire):
    """How far the steel of a pack is."""

    pieces: tuple[PieceProgress, ...]
    parts: tuple[PartProgress, ...]
    stages_offered: tuple[StageOffered, ...]


class ListTaken(Wire):
    """What became of a filled cut list."""

    taken_count: int = Field(description="what it said that was not known")
    not_here: tuple[str, ...] = Field(description="ids that this pack has not")
    other_shape: tuple[str, ...] = Field(description="ids whose piece has another shape now")
    unclear: tuple[str, ...] = Field(description="cells that say neither done nor not done")
    progress: ShopProgress
