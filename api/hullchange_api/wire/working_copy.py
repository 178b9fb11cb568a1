"""What crosses HTTP besides the assessment: the working copy, its edits, its scene."""

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field, JsonValue, StringConstraints

from hullchange.answer.assessment import Assessment, RecordResult
from hullchange.answer.drawing import Profile
from hullchange.answer.wire import Wire

LONGEST_LABEL = 200


def _shortened(label: str) -> str:
    """A label that fits: it stands in every step of the history, and on a button."""
    return label if len(label) <= LONGEST_LABEL else f"{label[: LONGEST_LABEL - 1]}…"


class Problem(Wire):
    """RFC 9457: one shape for every refusal."""

    type: str = "about:blank"
    title: str
    status: int
    detail: str
    code: str = Field(description="stable; the sentence may change, the code does not")
    faults: tuple["ProblemFault", ...] = ()


class ProblemFault(Wire):
    """One of several things wrong, with its dotted path."""

    code: str
    place: str
    sentence: str


class RefitCard(Wire):
    """A refit in the list."""

    id: str
    name: str
    kept_in: str = Field(description="where edits are saved: the file's name, or the store")


class ScenePart(Wire):
    """One part of the scene; the mesh's name is the hash of its content."""

    id: str
    role: Literal["hull", "appendage", "new", "replaced", "existing"]
    change: str | None
    mesh: str = Field(description="path of its GLB, in the boat's frame turned to glTF axes")
    glb: str = Field(
        "", description="that GLB, base64, where an edit drew it anew; else it is asked for"
    )


class Working(Wire):
    """The working copy: document, answer, drawing."""

    refit: str
    edit: int = Field(description="number of the edit; its quoted form is the ETag")
    kept_in: str
    can_undo: bool
    can_redo: bool
    undo_label: str = ""
    redo_label: str = ""
    saved: bool = Field(
        description="True once the file holds this edit; it is written a moment after an edit "
        "is answered, which the events tell, or (trouble) cannot be"
    )
    trouble: str = Field(
        description="why it was refused and what became of the edits, or empty"
    )
    document: dict[str, JsonValue]
    options: tuple[str, ...]
    option: str | None
    condition: str
    partial: bool = Field(
        description="True where only the chosen condition and no item effects are answered yet"
    )
    assessment: Assessment
    profile: Profile
    scene: tuple[ScenePart, ...]


class Set(Wire):
    """Put a value at a path; a mapping adds or replaces a named thing."""

    op: Literal["set"] = "set"
    path: str
    value: JsonValue


class Remove(Wire):
    """Take the value at a path away."""

    op: Literal["remove"] = "remove"
    path: str


class Edit(Wire):
    """Edits applied together, as one step of undo."""

    label: Annotated[str, AfterValidator(_shortened)] = Field(
        description="what it is called in undo, e.g. 'side height 580 mm'; long ones are cut"
    )
    steps: tuple[Set | Remove, ...]
    condition: str | None = None
    levers: bool = Field(
        default=False, description="heel the chosen condition round in the first answer too"
    )
    gesture: Annotated[str, StringConstraints(max_length=LONGEST_LABEL)] | None = Field(
        default=None,
        description="edits of one gesture (a drag) join to a single step of undo",
    )


class PartKind(Wire):
    """A kind of part an owner can add, and the JSON Schema its form is drawn from."""

    kind: str
    title: str
    about: str
    parameters: dict[str, Any]
    example: dict[str, JsonValue]


class Caution(Wire):
    """A caution shown with the results."""

    topic: str
    sentence: str
    source: str


class LinesText(Wire):
    """Lines as CSV text: line,kind,x_m,y_m,z_m."""

    csv: str


class RecordAnswer(Wire):
    """The CAD record of an edit, once its workers are done."""

    edit: int
    record: RecordResult
