"""What crosses HTTP in the review: revisions, comments, signatures, attachments, links."""

from typing import Annotated, Literal
from uuid import UUID

from pydantic import (
    AfterValidator,
    Field,
    JsonValue,
    StringConstraints,
    WithJsonSchema,
    model_validator,
)

from hullchange.answer.assessment import Assessment
from hullchange.answer.drawing import Profile
from hullchange.answer.wire import Wire
from hullchange.assess.comparison import Comparison
from hullchange.document.quantities import readable
from hullchange_api.wire.working_copy import ScenePart

Kind = Literal["question", "defect", "condition"]
Gate = Literal["before-cutting", "before-welding-out", "before-launch", "after-inclining"]
Verdict = Literal["agreed", "agreed-with-conditions", "send-again", "not-looked-at"]
RemarkKind = Literal["reply", "closing", "reopening"]
ARRIVED = "by the server's clock; null for a record of a version that did not keep it"
Standing = Literal["unsigned", "signed", "signed with conditions", "sent back", "stale"]
Words = Annotated[
    str,
    StringConstraints(min_length=1, max_length=4000, strip_whitespace=True),
    AfterValidator(readable),
]
OneLine = Annotated[
    str,
    StringConstraints(min_length=1, max_length=200, strip_whitespace=True),
    AfterValidator(readable),
]
Id = Annotated[
    str,
    AfterValidator(lambda text: str(UUID(text))),
    WithJsonSchema({"type": "string", "format": "uuid"}),
]
Digest = Annotated[str, StringConstraints(pattern="^[0-9a-f]{64}$")]
RevisionNumber = Annotated[int, Field(ge=1, le=1_000_000)]
MOST_CONDITIONS = 100
"""That one signature names."""

PinMetres = Annotated[float, Field(ge=-1000, le=1000)]


class Freezing(Wire):
    """What a new revision is made for."""

    note: Annotated[str, StringConstraints(max_length=4000), AfterValidator(readable)] = ""


class RevisionCard(Wire):
    """A frozen revision in the list."""

    number: int
    note: str
    made_at: str
    edit: int = Field(description="edit of the working copy that was frozen")
    tool: str = Field(description="version that worked the results out")
    document_sha256: str
    sha256: str = Field(description="over the document, its files, the results and the tool")


class ListedRevision(RevisionCard):
    """A revision with where it stands now."""

    standing: "WholeStanding"


class Compared(Wire):
    """Two revisions, or one and the working copy, side by side; and both drawings."""

    comparison: Comparison
    scene_before: tuple[ScenePart, ...]
    scene_after: tuple[ScenePart, ...]


class Frozen(Wire):
    """A revision as it was frozen: document, results, drawing."""

    refit: str
    revision: RevisionCard
    standing: "WholeStanding"
    document: dict[str, JsonValue]
    options: tuple[str, ...]
    option: str | None
    condition: str
    assessment: Assessment
    profile: Profile
    scene: tuple[ScenePart, ...]
    drawn_by: str = Field(description="version that draws it now; the results are as frozen")


class Pin(Wire):
    """What a comment is about; a point is given with the part it lies on."""

    part: Annotated[str, StringConstraints(max_length=200)] | None = Field(
        default=None, description="id in the scene; None for the whole refit or a number"
    )
    plate: Annotated[str, StringConstraints(max_length=200)] | None = None
    path: Annotated[str, StringConstraints(max_length=400)] | None = Field(
        default=None, description="dotted path of a number"
    )
    point_m: tuple[PinMetres, PinMetres, PinMetres] | None = Field(
        default=None, description="in the boat's frame"
    )

    @model_validator(mode="after")
    def _is_one_thing(self) -> "Pin":
        if self.part is None and (self.plate is not None or self.point_m is not None):
            raise ValueError("a plate or a point is given with its part")
        if self.part is not None and self.path is not None:
            raise ValueError("a comment is about a part or about a number")
        return self


class NewComment(Wire):
    """A comment; its id is chosen by who writes it, so that it arrives once only."""

    id: Id
    on: Pin
    kind: Kind
    gate: Gate | None = Field(default=None, description="by when it must be closed")
    text: Words
    author: OneLine | None = Field(default=None, description="a share link knows its reviewer")
    revision_sha256: Digest | None = Field(default=None, description="None: the working copy")


class NewRemark(Wire):
    """What is added to a comment: a reply, its closing with evidence, its reopening."""

    id: Id
    kind: RemarkKind
    text: Words
    evidence: tuple[Id, ...] = Field(default=(), max_length=50, description="attachments")
    author: OneLine | None = None


class Remark(Wire):
    """A remark that was taken."""

    id: str
    comment: str
    kind: RemarkKind
    text: str
    evidence: tuple[str, ...]
    author: str
    through: str = Field(description="how it came: this computer, a share link, a review file")
    written_at: str
    arrived_at: str | None = Field(description=ARRIVED)


class Comment(Wire):
    """A comment with its thread."""

    id: str
    on: Pin
    kind: Kind
    gate: Gate | None
    text: str
    author: str
    through: str
    written_at: str
    arrived_at: str | None = Field(description=ARRIVED)
    revision_sha256: str | None
    state: Literal["open", "closed"]
    is_adrift: bool = Field(description="what it is pinned to is no longer in the refit")
    thread: tuple[Remark, ...]


class NewSignature(Wire):
    """A reviewer's word on a revision, whole or on one part."""

    id: Id
    revision_sha256: Digest = Field(description="what was looked at")
    part: Annotated[str, StringConstraints(max_length=200)] | None = None
    verdict: Verdict
    scope: Words = Field(
        description="what was looked at, such as 'floating and stability only'"
    )
    conditions: tuple[Words, ...] = Field(default=(), max_length=MOST_CONDITIONS)
    author: OneLine | None = None


class Changed(Wire):
    """One value that is not as it was signed."""

    path: str
    before: JsonValue
    after: JsonValue


class Signature(Wire):
    """A signature and whether it still stands for the working copy."""

    id: str
    revision_sha256: str
    revision: int | None = Field(description="None: a revision that is not here")
    part: str | None
    verdict: Verdict
    scope: str
    conditions: tuple[str, ...]
    author: str
    through: str
    written_at: str = Field(description="by the clock of the machine it was written on")
    arrived_at: str | None = Field(description=ARRIVED)
    arrival: int = Field(description="in what order it came, which no clock can turn round")
    is_superseded: bool = Field(description="its reviewer's other words put it out of force")
    is_stale: bool
    changed: tuple[Changed, ...] = Field(description="what makes it stale, by path")
    why_stale: str = Field(description="the same in one sentence, or empty")


class WholeStanding(Wire):
    """Where a document stands: what its reviewers' last words come to."""

    standing: Standing
    sentence: str
    conflicts: tuple[str, ...] = Field(description="words that contradict, each in a sentence")
    revision: int | None
    revision_sha256: str | None


class Review(Wire):
    """Everything that was said of a refit."""

    refit: str
    standing: WholeStanding
    comments: tuple[Comment, ...]
    loose_remarks: tuple[Remark, ...] = Field(description="whose comment is not here")
    signatures: tuple[Signature, ...] = Field(description="in the order in which they came")


class Sending(Wire):
    """What is said of a file that is sent."""

    id: Id = Field(description="chosen by the sender, so that it arrives once only")
    name: str = Field(description="of the file, without folders")
    author: OneLine | None = None


class AttachmentCard(Wire):
    """A photo, scale ticket or certificate."""

    id: str
    name: str
    media_type: str
    size_bytes: int
    sha256: str
    author: str
    through: str
    written_at: str
    removed_at: str | None = Field(description="when it was deleted; null where it was not")


class NewShare(Wire):
    """A link for one reviewer."""

    label: OneLine = Field(description="for whom it is")
    revisions: tuple[RevisionNumber, ...] = Field(min_length=1, max_length=1000)
    opens_for_s: Annotated[int, Field(ge=1, le=366 * 86400)] = Field(
        default=30 * 86400, description="how long it opens"
    )


class ShareCard(Wire):
    """A link that was handed out; its token is not kept."""

    id: str
    label: str
    revisions: tuple[int, ...]
    reviewer: str
    made_at: str
    expires_at: str
    revoked_at: str | None
    last_used_at: str | None = Field(description="to the minute; null where nobody came yet")


class NewLink(Wire):
    """A link, told this once."""

    share: ShareCard
    link: str = Field(description="address that opens the review")
    opens_here_alone: bool = Field(description="it names this computer, which no other reaches")


class Entry(Wire):
    """The secret of a link, sent once by the page it opened."""

    token: Annotated[str, StringConstraints(min_length=20, max_length=200)]


class ReviewerName(Wire):
    """The reviewer's name, asked once."""

    name: OneLine


class Visitor(Wire):
    """Who asks, as the server sees it."""

    role: Literal["owner", "reviewer"]
    refit: str | None = Field(description="the one refit a reviewer sees")
    revisions: tuple[int, ...]
    name: str
    expires_at: str | None
