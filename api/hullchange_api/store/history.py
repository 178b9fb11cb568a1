"""The steps a refit went through, and which of them it is at.

Frozen, so that it can be written down while the next edit is already being made.
"""

from dataclasses import dataclass, replace
from hashlib import sha256

from hullchange.document.matching import PlainDocument

UNDO_STEPS = 200


@dataclass(frozen=True, eq=False)
class Step:
    """The document after one step.

    Attributes:
        plain: plain values; shared structure, never changed in place.
        label: what led here, for undo.
        gesture: edits of one gesture are one step; none outlives its session.
        text: the same as it is written in the file; None until it was.
    """

    plain: PlainDocument
    label: str = ""
    gesture: str | None = None
    text: str | None = None


@dataclass(frozen=True, eq=False)
class History:
    """Steps, oldest first, and the file they are written to.

    Attributes:
        edit: counts up with every change, undo and redo included.
        steps: those that can be reached by undo and redo, and the present one.
        first: running number of the first of them.
        at: index of the present one.
        file_text: what the file holds, or is about to.
        file_sha256: digest of the file that holds it.
        before_sha256: what the file held before that, until it is written.
    """

    edit: int
    steps: tuple[Step, ...]
    first: int
    at: int
    file_text: str
    file_sha256: str
    before_sha256: str = ""

    @property
    def present(self) -> Step:
        """The step it is at."""
        return self.steps[self.at]

    @property
    def undo_label(self) -> str:
        """What undo would take back, or empty."""
        return self.present.label if self.at else ""

    @property
    def redo_label(self) -> str:
        """What redo would do again, or empty."""
        return self.steps[self.at + 1].label if self.at + 1 < len(self.steps) else ""

    @property
    def is_in_file(self) -> bool:
        """Whether the file is said to hold the present step."""
        return self.present.text is not None and self.present.text == self.file_text

    def after(self, step: Step, *, joins: bool) -> "History":
        """With one more step, or the present one replaced; what was undone is forgotten."""
        kept = self.steps[: self.at + (0 if joins else 1)]
        forgotten = max(0, len(kept) - UNDO_STEPS)
        steps = (*kept[forgotten:], step)
        return replace(
            self,
            edit=self.edit + 1,
            steps=steps,
            first=self.first + forgotten,
            at=len(steps) - 1,
        )

    def travelled(self, by: int) -> "History | None":
        """One step back (-1) or on (1), or None where there is none."""
        there = self.at + by
        if not 0 <= there < len(self.steps):
            return None
        rested = replace(self.steps[there], gesture=None)
        return replace(self._with(there, rested), edit=self.edit + 1, at=there)

    def to_be_written(self, text: str) -> "History":
        """With the present step about to be written to the file as ``text``."""
        step = replace(self.present, text=text)
        return replace(
            self._with(self.at, step),
            file_text=text,
            file_sha256=digest(text),
            before_sha256=self.file_sha256,
        )

    def taken_up(self, step: Step, text: str, file_sha256: str) -> "History":
        """With a step that came with a file somebody else wrote."""
        later = self.after(step, joins=False)
        return replace(later, file_text=text, file_sha256=file_sha256, before_sha256="")

    def _with(self, index: int, step: Step) -> "History":
        return replace(self, steps=(*self.steps[:index], step, *self.steps[index + 1 :]))


def digest(text: str) -> str:
    """SHA-256 of a text as it is written."""
    return sha256(text.encode()).hexdigest()
