"""Making a cut pack and writing its files, each in a process of its own."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from threading import Lock, Thread
from typing import Literal

from hullchange.boat.boat import boat_of
from hullchange.cutting.pack import GOOD, QUICK, CutPack, cut_pack, nested_anew, stamped
from hullchange.cutting.placements import laid_as
from hullchange.cutting.progress import PieceSteps
from hullchange.document.document import Document
from hullchange.errors import ModelError
from hullchange_api.processes.child import Child
from hullchange_api.wire.unexpected import words_of

JobState = Literal["working", "done", "cancelled", "failed"]
Nested = Literal["none", "quick", "good", "kept"]
Tell = Callable[[object], None]
Files = dict[str, bytes]
Far = Mapping[str, PieceSteps]


@dataclass(frozen=True)
class Order:
    """What a pack is made of.

    Attributes:
        document: with its option applied.
        revision: its number, or ``working``.
        state: how the review stood when it was ordered.
        kept: placements that stay, where there are such.
    """

    document: Document
    revision: str
    state: str
    kept: str | None = None


class CutJob:
    """A pack on its way: quick nests first, good ones after them."""

    def __init__(self, order: Order, keep: Callable[[CutPack], bool]) -> None:
        """Nothing is started yet.

        Args:
            order: what it is made of.
            keep: called with the pack when it is done; False where other nests are kept.
        """
        self.order = order
        self.state: JobState = "working"
        self.nests: Nested = "none"
        self.said = "waiting for another pack"
        self.pack: CutPack | None = None
        self.problem: ModelError | None = None
        self._keep = keep
        self._child: Child | None = None
        self._lock = Lock()

    def start(self, gate: Lock) -> None:
        """Begin as soon as the gate opens; one pack at a time is enough for a small machine."""
        Thread(target=self._run, args=(gate,), daemon=True).start()

    def cancel(self) -> None:
        """End it; nests that were found stay."""
        with self._lock:
            if self.state == "working":
                self.state = "cancelled"
                if self._child is not None:
                    self._child.stop()

    def _run(self, gate: Lock) -> None:
        sentence = (
            "The process that makes the pack ended by itself, perhaps for want of "
            "memory: start it again."
        )
        try:
            with gate:
                self._listen()
        except Exception as error:  # see `mistakes`: nobody waits for this thread
            sentence = words_of(error, "making a cut pack")
        with self._lock:
            if self.state == "working":
                self.state, self.problem = "failed", ModelError("cut-ended", sentence)

    def _listen(self) -> None:
        with self._lock:
            if self.state != "working":
                return
            child = self._child = Child(made, self.order)
        for told in child.told():
            self._take(told)

    def _take(self, told: object) -> None:
        with self._lock:
            if self.state != "working":
                return
            match told:
                case str():
                    self.said = told
                case ModelError():
                    self.state, self.problem = "failed", told
                case (CutPack() as pack, "quick"):
                    self.pack, self.nests = pack, "quick"
                case (CutPack() as pack, "good" | "kept" as nests):
                    self._settle(pack, nests)

    def _settle(self, pack: CutPack, nests: Nested) -> None:
        try:
            self.nests = nests
            if self._keep(pack):
                self.pack = pack
            else:
                self.nests = "kept"
            self.state = "done"
        except ModelError as error:
            self.state, self.problem = "failed", error


def made(tell: Tell, order: Order) -> None:
    """Make a pack: words on the way, then packs, each with how good its nests are."""
    try:
        boat = boat_of(order.document)
        pack = cut_pack(boat, QUICK, tell, order.revision, order.state)
        if order.kept is not None:
            tell((laid_as(pack, order.kept), "kept"))
            return
        tell((pack, "quick"))
        tell((nested_anew(pack, GOOD, tell), "good"))
    except Exception as error:  # see `mistakes`: the page shows what is told here
        tell(_refusal(error, "making a cut pack"))


def written(tell: Tell, pack: CutPack, state: str, r12: bool, far: Far) -> None:
    """Write every file of a pack as the review stands and the steel is."""
    from hullchange.cutting.files import cut_files

    try:
        tell(cut_files(stamped(pack, state), r12, far))
    except Exception as error:  # as above
        tell(_refusal(error, "writing the files of a cut pack"))


def _refusal(error: Exception, doing: str) -> ModelError:
    """An error as it goes through a pipe: a refusal as it is, a mistake in its sentence."""
    if isinstance(error, ModelError):
        return ModelError(error.code, error.sentence, error.place)
    return ModelError("cut-ended", words_of(error, doing))


def files_of(pack: CutPack, state: str, r12: bool, far: Far) -> Files:
    """Every file of a pack, waited for.

    Raises:
        ModelError: ``file-fails-check``, ``cut-ended``.
    """
    for told in Child(written, pack, state, r12, far).told():
        if isinstance(told, ModelError):
            raise told
        if isinstance(told, dict):
            return told
    sentence = "The process that writes the files ended by itself: ask again."
    raise ModelError("cut-ended", sentence)
