"""HTTP schemas for review: revisions, comments, signatures, attachments, links."""

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
from hullchange.comparison.comparison import Comparison
from hullchange.document.quantities import readable
from hullchange_api.wire.working_copy import ScenePart

Kind = Literal["question", "defect", "condition"]
Gate = Literal["before-cutting", "before-welding-out", "before-launch", "after-inclining"]
Verdict = Literal["agreed", "agreed-with-conditions", "send-again", "not-looked-at"]
RemarkKind = Literal["reply", "closing", "reopening"]
ARRIVED = "by the server's clock; null if stored by a version that did not record it"
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
"""Per signature."""

PinMetres = Annotated[float, Field(ge=-1000, le=1000)]


class NewRevision(Wire):
    """A request to freeze a revision."""

    note: Annotated[str, StringConstraints(max_length=4000), AfterValidator(readable)] = ""


class RevisionCard(Wire):
    """A frozen revision as listed."""

    number: int
    note: str
    made_at: str
    edit: int = Field(description="edit of the working copy that was frozen")
    tool: str = Field(description="version that calculated the results")
    document_sha256: str
    sha256: str = Field(
        description="hash of the document, its files, the results and the tool version"
    )


class ListedRevision(RevisionCard):
    """A revision with its current review status."""

    standing: "ReviewStatus"
    has_newer: bool = Field(description="whether a later one was frozen, listed or not")


class Compared(Wire):
    """Two revisions, or one and the working copy, compared; with both scenes."""

    comparison: Comparison
    scene_before: tuple[ScenePart, ...]
    scene_after: tuple[ScenePart, ...]


class Frozen(Wire):
    """A frozen revision: document, results, drawing."""

    refit: str
    revision: RevisionCard
    standing: "ReviewStatus"
    document: dict[str, JsonValue]
    options: tuple[str, ...]
    option: str | None
    condition: str
    assessment: Assessment
    profile: Profile
    scene: tuple[ScenePart, ...]
    drawn_by: str = Field(description="version that drew the scene; the results are as frozen")


class Pin(Wire):
    """What a comment is pinned to; a plate or point needs its part."""

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
    """A new comment; the client chooses its id, so that a retry is stored once."""

    id: Id
    on: Pin
    kind: Kind
    gate: Gate | None = Field(default=None, description="deadline for closing it")
    text: Words
    author: OneLine | None = Field(
        default=None, description="ignored for a share link, which has a reviewer's name"
    )
    revision_sha256: Digest | None = Field(default=None, description="None: the working copy")


class NewRemark(Wire):
    """An addition to a comment: a reply, a closing with evidence, a reopening."""

    id: Id
    kind: RemarkKind
    text: Words
    evidence: tuple[Id, ...] = Field(default=(), max_length=50, description="attachments")
    author: OneLine | None = None


class Remark(Wire):
    """A stored remark."""

    id: str
    comment: str
    kind: RemarkKind
    text: str
    evidence: tuple[str, ...]
    author: str
    through: str = Field(description="channel: the owner's pages, a share link, a review file")
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
    """A reviewer's signature on a revision, or on one part of it."""

    id: Id
    revision_sha256: Digest = Field(description="revision that was reviewed")
    part: Annotated[str, StringConstraints(max_length=200)] | None = None
    verdict: Verdict
    scope: Words = Field(description="what was reviewed, such as 'floating and stability only'")
    conditions: tuple[Words, ...] = Field(default=(), max_length=MOST_CONDITIONS)
    author: OneLine | None = None


class Changed(Wire):
    """A value that differs from the signed one."""

    path: str
    before: JsonValue
    after: JsonValue


class Signature(Wire):
    """A signature, and whether it still applies."""

    id: str
    revision_sha256: str
    revision: int | None = Field(description="None if the revision is not here")
    part: str | None
    verdict: Verdict
    scope: str
    conditions: tuple[str, ...]
    author: str
    through: str
    written_at: str = Field(description="by the clock of the machine where it was written")
    arrived_at: str | None = Field(description=ARRIVED)
    arrival: int = Field(
        description="running number in order of arrival, whatever the clocks say"
    )
    is_superseded: bool = Field(
        description="replaced by another signature of the same reviewer"
    )
    is_stale: bool
    changed: tuple[Changed, ...] = Field(description="changes that make it stale, by path")
    why_stale: str = Field(description="the same in one sentence, or empty")


class ReviewStatus(Wire):
    """The review status of a document, from each reviewer's latest signature."""

    standing: Standing
    sentence: str
    conflicts: tuple[str, ...] = Field(
        description="contradictory signatures, one sentence each"
    )
    revision: int | None
    revision_sha256: str | None


class Review(Wire):
    """The comments and signatures of a refit, and its review status."""

    refit: str
    standing: ReviewStatus
    comments: tuple[Comment, ...]
    loose_remarks: tuple[Remark, ...] = Field(description="remarks whose comment is missing")
    signatures: tuple[Signature, ...] = Field(description="in order of arrival")


class UploadQuery(Wire):
    """Query parameters of an upload; the request body is the file."""

    id: Id = Field(description="chosen by the client, so that a retry is stored once")
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
    removed_at: str | None = Field(description="time of deletion, or null")


class NewShare(Wire):
    """A link for one reviewer."""

    label: OneLine = Field(description="who it is for")
    revisions: tuple[RevisionNumber, ...] = Field(min_length=1, max_length=1000)
    opens_for_s: Annotated[int, Field(ge=1, le=366 * 86400)] = Field(
        default=30 * 86400, description="how long the link is valid"
    )


class ShareCard(Wire):
    """A share link; its token is not stored."""

    id: str
    label: str
    revisions: tuple[int, ...]
    reviewer: str
    made_at: str
    expires_at: str
    revoked_at: str | None
    last_used_at: str | None = Field(description="to the minute; null if never used")


class NewLink(Wire):
    """A new share link, returned only this once."""

    share: ShareCard
    link: str = Field(description="URL that opens the review")
    opens_here_alone: bool = Field(
        description="a loopback URL, which opens on this computer only"
    )


class LinkSecret(Wire):
    """The secret of a link, sent once by the page that the link opened."""

    token: Annotated[str, StringConstraints(min_length=20, max_length=200)]


class ReviewerName(Wire):
    """The reviewer's name, asked for once."""

    name: OneLine


class Visitor(Wire):
    """The sender of a request: the owner, or a reviewer by a share link."""

    role: Literal["owner", "reviewer"]
    refit: str | None = Field(description="the only refit a reviewer may see")
    revisions: tuple[int, ...]
    name: str
    expires_at: str | None
    boat: str = Field(default="", description="the name of the boat a reviewer may see")
