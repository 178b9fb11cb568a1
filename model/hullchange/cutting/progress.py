"""Progress of the steel: records of each piece, and the stages that follow."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal, get_args

from hullchange.document.document import Document
from hullchange.document.quantities import ChangeStage

ShopStep = Literal["cut", "checked", "welded"]
ShopStage = Literal["to cut", "cut", "checked", "welded"]
STEPS: tuple[ShopStep, ...] = get_args(ShopStep)
STAGES: tuple[ShopStage, ...] = get_args(ShopStage)


@dataclass(frozen=True)
class StepRecord:
    """A record of one step of one piece.

    Attributes:
        piece: its id, as on its label.
        step: that is done, or is not.
        done: which of the two.
        shape: sign of the piece's shape when it was recorded.
        note: as it stood in a list, or empty.
        who: recorded it.
        when: UTC, ISO 8601.
    """

    piece: str
    step: ShopStep
    done: bool
    shape: str
    note: str
    who: str
    when: str

    @property
    def cell(self) -> str:
        """The text in a list's cell."""
        return (self.note or f"{self.when[:10]} {self.who}") if self.done else ""


@dataclass(frozen=True)
class PieceSteps:
    """Progress of one piece.

    Attributes:
        stage: the furthest step that is done.
        done: the word on each step that is done.
        is_other_shape: something was done to a piece of this name that had another shape.
    """

    stage: ShopStage = "to cut"
    done: Mapping[ShopStep, StepRecord] = field(default_factory=dict)
    is_other_shape: bool = False


def piece_steps(
    shapes: Mapping[str, str], records: Iterable[StepRecord]
) -> dict[str, PieceSteps]:
    """Progress of every piece.

    Args:
        shapes: sign of each piece's shape, by its id.
        records: oldest first; the last word on a step of a piece stands.
    """
    last = {(word.piece, word.step): word for word in records}
    return {piece: _progress(piece, shape, last) for piece, shape in shapes.items()}


def _progress(
    piece: str, shape: str, last: Mapping[tuple[str, ShopStep], StepRecord]
) -> PieceSteps:
    words = [last[piece, step] for step in STEPS if (piece, step) in last]
    done = {word.step: word for word in words if word.done and word.shape == shape}
    other = any(word.done and word.shape != shape for word in words)
    stage = STAGES[max((STEPS.index(step) + 1 for step in done), default=0)]
    return PieceSteps(stage, done, other)


@dataclass(frozen=True)
class CutListRow:
    """A row of a cut list: whose piece, its id, the sign of its shape."""

    change: str
    part: str
    id: str
    shape: str


def part_stages(
    rows: Iterable[CutListRow], done: Mapping[tuple[str, ShopStep], str]
) -> dict[tuple[str, str], ShopStage]:
    """Stage of each part, by its change and its name.

    Args:
        rows: every piece there is.
        done: steps that are done by a list, by piece, with the shape in the list.
    """
    stages: dict[tuple[str, str], list[ShopStage]] = {}
    for row in rows:
        steps = [n for n, step in enumerate(STEPS, 1) if done.get((row.id, step)) == row.shape]
        stages.setdefault((row.change, row.part), []).append(STAGES[max(steps, default=0)])
    return {part: least_stage(those) for part, those in stages.items()}


MAKES: Mapping[ShopStage, ChangeStage] = {
    "cut": "cut",
    "checked": "cut",
    "welded": "fitted",
}
"""The stage of a change whose last piece is so far."""

_ORDER: tuple[ChangeStage, ...] = get_args(ChangeStage)


@dataclass(frozen=True)
class StageOffer:
    """A further stage of a change than the document has, by its pieces.

    Attributes:
        change: its name.
        parts: of it, all of whose pieces are so far.
        before: stage in the document.
        stage: that is offered.
    """

    change: str
    parts: tuple[str, ...]
    before: ChangeStage
    stage: ChangeStage

    @property
    def path(self) -> str:
        """Where the stage stands in the document."""
        return f"changes.{self.change}.stage"


def stage_offers(
    document: Document, far: Mapping[tuple[str, str], ShopStage]
) -> tuple[StageOffer, ...]:
    """Changes whose pieces are further than their stage; no stage goes back.

    Args:
        document: as it is now.
        far: how far each part is, by its change and its name.
    """
    offers = []
    for name, change in document.changes.items():
        stages = [far.get((name, part), STAGES[0]) for part in change.parts]
        made = MAKES.get(least_stage(stages)) if stages else None
        if made and _ORDER.index(made) > _ORDER.index(change.stage):
            offers.append(StageOffer(name, tuple(change.parts), change.stage, made))
    return tuple(offers)


def least_stage(stages: Iterable[ShopStage]) -> ShopStage:
    """The lowest of some stages."""
    return min(stages, key=STAGES.index)
