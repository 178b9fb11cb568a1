"""HTTP schemas for the working copy, its edits and its scene."""

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field, JsonValue, StringConstraints

from hullchange.answer.assessment import Assessment, RecordResult
from hullchange.answer.drawing import Profile
from hullchange.answer.wire import Wire
from hullchange.document.quantities import Name

LONGEST_LABEL = 200


def _shortened(label: str) -> str:
    """A label cut to length: every step of the history stores it, and a button shows it."""
    return label if len(label) <= LONGEST_LABEL else f"{label[: LONGEST_LABEL - 1]}…"


class Problem(Wire):
    """Problem details (RFC 9457), the form of every refusal."""

    type: str = "about:blank"
    title: str
    status: int
    detail: str
    code: str = Field(description="stable, unlike the wording of the sentence")
    faults: tuple["ProblemFault", ...] = ()
    offers: tuple["ProblemOffer", ...] = Field(
        default=(), description="edits that would be accepted instead, the nearest first"
    )


class ProblemFault(Wire):
    """One of several faults, with its dotted path."""

    code: str
    place: str
    sentence: str


class ProblemOffer(Wire):
    """An edit that would be accepted instead of the one that was refused."""

    sentence: str = Field(description="what it sets, in words")
    values: tuple["OfferedValue", ...] = Field(
        description="set beside what the refused edit sets elsewhere"
    )


class OfferedValue(Wire):
    """A value of an offer."""

    path: str
    value: JsonValue = Field(description="null takes away what is there")


class CopiedRefit(Wire):
    """The name of a copy."""

    name: Annotated[str, StringConstraints(min_length=1, max_length=200)]


class OpenedDocument(Wire):
    """A refit document, as the owner's file holds it."""

    text: str = Field(description="YAML; its lines must stand in it")
    name: Annotated[str, StringConstraints(max_length=200)] | None = Field(
        default=None, description="the boat's name, in place of the one in the document"
    )


class ExampleCard(Wire):
    """An example boat, to look at or to begin from."""

    id: str
    name: str
    about: str


class RefitCard(Wire):
    """A refit as listed."""

    id: str
    name: str
    kept_in: str = Field(description="name of the file that edits are saved to")
    path: str = Field(default="", description="where that file lies on the server's machine")


class ScenePart(Wire):
    """One part of the scene; the mesh's name is the hash of its content."""

    id: str
    role: Literal["hull", "appendage", "new", "replaced", "existing"]
    change: str | None
    mesh: str = Field(
        description="URL path of its GLB, in the boat's frame rotated to glTF axes"
    )
    glb: str = Field(
        "",
        description="that GLB in base64 if an edit changed it; else fetch it by path",
    )
    opens_m: tuple[tuple[float, float, float, float], ...] = Field(
        (), description="x0, y0, x1, y1 in plan of each well it makes: the deck is open there"
    )


class Working(Wire):
    """The working copy: document, answer, drawing."""

    refit: str
    edit: int = Field(description="number of the edit; in quotes it is the ETag")
    kept_in: str
    can_undo: bool
    can_redo: bool
    undo_label: str = ""
    redo_label: str = ""
    saved: bool = Field(
        description="True once the file holds this edit. It is written shortly after the "
        "response: an event reports that, or trouble says why it failed"
    )
    trouble: str = Field(
        description="why saving or loading failed and what became of the edits, or empty"
    )
    document: dict[str, JsonValue]
    options: tuple[str, ...]
    option: str | None
    condition: str
    partial: bool = Field(
        description="True if only the chosen condition is calculated, and no item effects"
    )
    assessment: Assessment
    profile: Profile
    scene: tuple[ScenePart, ...]


class Set(Wire):
    """Set the value at a path; a mapping adds or replaces a named item."""

    op: Literal["set"] = "set"
    path: str
    value: JsonValue


class Remove(Wire):
    """Remove the value at a path."""

    op: Literal["remove"] = "remove"
    path: str


class Edit(Wire):
    """Changes applied together, as one undo step."""

    label: Annotated[str, AfterValidator(_shortened)] = Field(
        description="undo label, e.g. 'side height 580 mm'; shortened if too long"
    )
    steps: tuple[Set | Remove, ...]
    condition: str | None = None
    levers: bool = Field(
        default=False, description="include the righting levers of the chosen condition"
    )
    gesture: Annotated[str, StringConstraints(max_length=LONGEST_LABEL)] | None = Field(
        default=None,
        description="edits of one gesture (a drag) form a single undo step",
    )


class DocumentChoices(Wire):
    """What a text may name: everything a pattern fits, as a template writes it."""

    pattern: str = Field(description="such as tanks.*; {same} is the second step of the place")
    template: str = Field(description="with {name} and {path} of what fits filled in")


class DocumentPointer(Wire):
    """A text of the document that names something else in it."""

    pattern: str = Field(description="where it stands; * is any one step")
    what: str = Field(description="what it names, in words")
    is_key: bool = Field(description="whether the key is the name")
    words: tuple[str, ...] = Field(description="fixed words that are allowed")
    choices: tuple[DocumentChoices, ...]


class DocumentGrammar(Wire):
    """What a document may say: its JSON Schema, and which texts name something in it."""

    document_schema: dict[str, Any]
    pointers: tuple[DocumentPointer, ...]


class PartKind(Wire):
    """A kind of part that an owner can add, with the JSON Schema of its form."""

    kind: str
    title: str
    about: str
    parameters: dict[str, Any]
    example: dict[str, JsonValue]


class PartProposal(Wire):
    """A part that is proposed for a change, or the reason why there is none."""

    kind: str
    name: str = Field(description="that no other part of the refit has")
    dimensions: dict[str, JsonValue] | None = Field(
        description="that build on this hull; null if there is no place for such a part"
    )
    sentence: str = Field(description="how they were chosen, or why there are none")
    replaces: str = Field(
        description="path of the existing part whose place it takes, or empty"
    )


class AppendageProposal(Wire):
    """A keel, skeg or rudder to begin from."""

    kind: str
    title: str = Field(description="what it is called")
    appendages: dict[str, dict[str, JsonValue]] = Field(
        description="laid under this hull, by names that no other has"
    )
    sentence: str = Field(description="how it was chosen, or why it has no place")
    fits: bool = Field(description="whether it can be put in beside what she has")


class ProposedEdit(Wire):
    """An edit that is proposed: nothing is changed yet."""

    sentence: str = Field(description="the result")
    values: tuple[OfferedValue, ...] = Field(description="set in this order, as one step")


class PartToTry(Wire):
    """A part as it would be added to a change."""

    change: Name
    name: Name
    dimensions: dict[str, JsonValue]
    replaces: str = Field("", description="path of the existing part whose place it takes")


class PartTrial(Wire):
    """A part that was built and not added."""

    mass_kg: float = Field(description="of its plates and bars")
    at_m: tuple[float, float, float] = Field(description="their centre")
    findings: tuple[str, ...] = Field(description="what is doubtful about it")


class Caution(Wire):
    """A caution shown with the results."""

    topic: str
    sentence: str
    source: str


class RecordAnswer(Wire):
    """The CAD record of an edit, or a pending one."""

    edit: int
    record: RecordResult
