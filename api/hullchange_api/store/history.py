"""The undo history of a refit: its steps, and the present one.

Frozen, so that it can be stored while the next edit is being made.
"""

from dataclasses import dataclass, replace
from hashlib import sha256

from hullchange.document.matching import PlainDocument

UNDO_STEPS = 200


@dataclass(frozen=True, eq=False)
class UndoStep:
    """The document after one step.

    Attributes:
        plain: plain values; shared structure, never changed in place.
        label: of the edit that led here, for undo.
        gesture: edits of one gesture are one step; not stored beyond the session.
        text: the document as written to the file; None until then.
    """

    plain: PlainDocument
    label: str = ""
    gesture: str | None = None
    text: str | None = None


@dataclass(frozen=True, eq=False)
class History:
    """Steps, oldest first, and what the file holds.

    Attributes:
        edit: counts up with every change, undo and redo included.
        steps: those within reach of undo and redo, and the present one.
        first: running number of the first of them.
        at: index of the present one.
        file_text: what the file holds, or is about to.
        file_sha256: digest of that text as a file.
        before_sha256: digest of what the file held before, until it is written.
    """

    edit: int
    steps: tuple[UndoStep, ...]
    first: int
    at: int
    file_text: str
    file_sha256: str
    before_sha256: str = ""

    @property
    def present(self) -> UndoStep:
        """The present step."""
        return self.steps[self.at]

    @property
    def undo_label(self) -> str:
        """Label of the step that undo would undo, or empty."""
        return self.present.label if self.at else ""

    @property
    def redo_label(self) -> str:
        """Label of the step that redo would redo, or empty."""
        return self.steps[self.at + 1].label if self.at + 1 < len(self.steps) else ""

    @property
    def is_in_file(self) -> bool:
        """Whether the file holds the present step, as far as is known here."""
        return self.present.text is not None and self.present.text == self.file_text

    def after(self, step: UndoStep, *, joins: bool) -> "History":
        """With one more step, or the present one replaced; undone steps are dropped.

        A gesture that is back where it began, or went nowhere, leaves no step.
        """
        if step.gesture is not None and self.present.plain == step.plain:
            return replace(self, edit=self.edit + 1)
        if joins and self.at and self.steps[self.at - 1].plain == step.plain:
            return replace(
                self, edit=self.edit + 1, steps=self.steps[: self.at], at=self.at - 1
            )
        kept = self.steps[: self.at + (0 if joins else 1)]
        dropped = max(0, len(kept) - UNDO_STEPS)
        steps = (*kept[dropped:], step)
        return replace(
            self,
            edit=self.edit + 1,
            steps=steps,
            first=self.first + dropped,
            at=len(steps) - 1,
        )

    def moved(self, by: int) -> "History | None":
        """One step back (-1) or forward (1), or None if there is none."""
        at = self.at + by
        if not 0 <= at < len(self.steps):
            return None
        step = replace(self.steps[at], gesture=None)
        return replace(self._with(at, step), edit=self.edit + 1, at=at)

    def to_be_written(self, text: str) -> "History":
        """With the present step about to be written to the file as ``text``."""
        step = replace(self.present, text=text)
        return replace(
            self._with(self.at, step),
            file_text=text,
            file_sha256=digest(text),
            before_sha256=self.file_sha256,
        )

    def loaded(self, step: UndoStep, text: str, file_sha256: str) -> "History":
        """With a step loaded from a file that another program wrote."""
        later = self.after(step, joins=False)
        return replace(later, file_text=text, file_sha256=file_sha256, before_sha256="")

    def _with(self, index: int, step: UndoStep) -> "History":
        return replace(self, steps=(*self.steps[:index], step, *self.steps[index + 1 :]))


def digest(text: str) -> str:
    """SHA-256 of a text as UTF-8."""
    return sha256(text.encode()).hexdigest()
