"""Jobs that make a cut pack or write its files, each in its own process."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from threading import Lock, Thread
from typing import Literal

from hullchange.boat.boat import boat_of
from hullchange.cutting.pack import GOOD, QUICK, CutPack, cut_pack, nested_anew, with_state
from hullchange.cutting.placements import with_placements
from hullchange.cutting.progress import PieceSteps
from hullchange.document.document import Document
from hullchange.errors import ModelError
from hullchange_api.processes.child import Child
from hullchange_api.wire.unexpected import Background

JobState = Literal["working", "done", "cancelled", "failed"]
Nested = Literal["none", "quick", "good", "kept"]
Send = Callable[[object], None]
Files = dict[str, bytes]
Progress = Mapping[str, PieceSteps]


@dataclass(frozen=True)
class PackOrder:
    """The input of a cut job.

    Attributes:
        document: with its option applied.
        revision: number of the revision, or ``working``.
        state: the review status when the pack was requested.
        placements: where the pieces must lie; None to nest them.
    """

    document: Document
    revision: str
    state: str
    placements: str | None = None


class CutJob:
    """A pack being made: quick nests first, then good ones."""

    def __init__(self, order: PackOrder, store: Callable[[CutPack], bool]) -> None:
        """Start nothing yet.

        Args:
            order: its input.
            store: called with the pack when it is done; False if other nests are stored.
        """
        self.order = order
        self.state: JobState = "working"
        self.nests: Nested = "none"
        self.progress = "waiting for another pack"
        self.pack: CutPack | None = None
        self.problem: ModelError | None = None
        self._store = store
        self._child: Child | None = None
        self._lock = Lock()

    def start(self, one_at_a_time: Lock) -> None:
        """Start once the lock is free: a small machine makes one pack at a time."""
        Thread(target=self._run, args=(one_at_a_time,), daemon=True).start()

    def cancel(self) -> None:
        """Stop; nests found so far stay."""
        with self._lock:
            if self.state == "working":
                self.state = "cancelled"
                if self._child is not None:
                    self._child.stop()

    def _run(self, one_at_a_time: Lock) -> None:
        with Background("making a cut pack") as work, one_at_a_time:
            self._listen()
        sentence = work.message or (
            "The process that makes the pack stopped, perhaps for lack of memory: start it "
            "again."
        )
        with self._lock:
            if self.state == "working":
                self.state, self.problem = "failed", ModelError("cut-ended", sentence)

    def _listen(self) -> None:
        with self._lock:
            if self.state != "working":
                return
            child = self._child = Child(make_pack, self.order)
        for message in child.messages():
            self._receive(message)

    def _receive(self, message: object) -> None:
        with self._lock:
            if self.state != "working":
                return
            match message:
                case str():
                    self.progress = message
                case ModelError():
                    self.state, self.problem = "failed", message
                case (CutPack() as pack, "quick"):
                    self.pack, self.nests = pack, "quick"
                case (CutPack() as pack, "good" | "kept" as nests):
                    self._finish(pack, nests)

    def _finish(self, pack: CutPack, nests: Nested) -> None:
        try:
            self.nests = nests
            if self._store(pack):
                self.pack = pack
            else:
                self.nests = "kept"
            self.state = "done"
        except ModelError as error:
            self.state, self.problem = "failed", error


def make_pack(send: Send, order: PackOrder) -> None:
    """Make a pack: send progress messages, and packs with the quality of their nests."""
    with Background("making a cut pack") as work:
        boat = boat_of(order.document)
        pack = cut_pack(boat, QUICK, send, order.revision, order.state)
        if order.placements is not None:
            send((with_placements(pack, order.placements), "kept"))
            return
        send((pack, "quick"))
        send((nested_anew(pack, GOOD, send), "good"))
    _send_refusal(send, work)


def write_files(send: Send, pack: CutPack, state: str, r12: bool, progress: Progress) -> None:
    """Send every file of a pack, with the review status and the shop progress."""
    from hullchange.cutting.files import cut_files

    with Background("writing the files of a cut pack") as work:
        send(cut_files(with_state(pack, state), r12, progress))
    _send_refusal(send, work)


def _send_refusal(send: Send, work: Background) -> None:
    """Send why work ended, if it failed, as an error that can go through a pipe."""
    if isinstance(work.error, ModelError):
        send(ModelError(work.error.code, work.error.sentence, work.error.place))
    elif work.error is not None:
        send(ModelError("cut-ended", work.message))


def files_of(pack: CutPack, state: str, r12: bool, progress: Progress) -> Files:
    """Every file of a pack; waits until they are written.

    Raises:
        ModelError: ``file-fails-check``, ``cut-ended``.
    """
    for message in Child(write_files, pack, state, r12, progress).messages():
        if isinstance(message, ModelError):
            raise message
        if isinstance(message, dict):
            return message
    sentence = "The process that writes the files stopped: try again."
    raise ModelError("cut-ended", sentence)
