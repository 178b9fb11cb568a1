"""Photos, scale tickets and certificates: a few file types, recognised by their content."""

import re
from dataclasses import asdict, dataclass
from hashlib import sha256

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from hullchange.errors import ModelError
from hullchange_api.store import tables
from hullchange_api.store.arrival import next_arrival
from hullchange_api.store.database import Database
from hullchange_api.store.files import MEGABYTE
from hullchange_api.store.revisions import now, stored_blob
from hullchange_api.wire.review import AttachmentCard

LARGEST = 25 * MEGABYTE
MOST_PER_REFIT = 1000 * MEGABYTE
LONGEST_NAME = 120
MAGIC_BYTES = {
    b"\xff\xd8\xff": "image/jpeg",
    b"\x89PNG\r\n\x1a\n": "image/png",
    b"%PDF-": "application/pdf",
}
ENDINGS = {
    "image/jpeg": (".jpg", ".jpeg"),
    "image/png": (".png",),
    "image/webp": (".webp",),
    "image/heic": (".heic", ".heif"),
    "application/pdf": (".pdf",),
}
SHOWN = ("image/jpeg", "image/png", "image/webp")
"""Types that a browser may show inline; it only downloads the rest."""
HEIC_BRANDS = (b"heic", b"heix", b"mif1", b"heim", b"heis")
_NAME = re.compile(r"[^/\\:*?\"<>|\x00-\x1f\x7f]+")


@dataclass(frozen=True)
class Upload:
    """An uploaded file and its author.

    Attributes:
        id: chosen by the client, so that a retry is stored once.
        name: given by the client.
        content: its bytes.
        author: who uploaded it.
        through: channel, in words.
    """

    id: str
    name: str
    content: bytes
    author: str
    through: str


class Attachments:
    """The attachments of every refit."""

    def __init__(self, database: Database) -> None:
        """Read nothing yet."""
        self._database = database

    def add(self, refit: str, upload: Upload) -> AttachmentCard:
        """Store a file.

        Raises:
            ModelError: ``bad-file-name``, ``wrong-type``, ``too-large``, ``too-many``,
                ``id-taken``, ``not-saved``.
        """
        media_type = type_of(upload.name, upload.content)
        if len(upload.content) > LARGEST:
            sentence = f"A file may be at most {LARGEST // MEGABYTE} MB."
            raise ModelError("too-large", sentence)
        with self._database.writing() as session:
            stored = session.get(tables.Attachment, (refit, upload.id))
            if stored is not None:
                if stored.sha256 != sha256(upload.content).hexdigest():
                    raise ModelError(
                        "id-taken", "Another file has this id: choose a new one.", "id"
                    )
                return card_of(stored)
            held = select(func.sum(tables.Attachment.size_bytes))
            size = session.scalar(held.where(tables.Attachment.refit == refit)) or 0
            if size + len(upload.content) > MOST_PER_REFIT:
                raise ModelError(
                    "too-many", "This refit has as many files as it may: delete some first."
                )
            row = tables.Attachment(
                id=upload.id,
                refit=refit,
                name=upload.name,
                media_type=media_type,
                size_bytes=len(upload.content),
                sha256=stored_blob(session, upload.content),
                author=upload.author,
                removed_at=None,
                **asdict(next_arrival(session, refit, upload.through)),
            )
            session.add(row)
            return card_of(row)

    def cards(self, refit: str) -> tuple[AttachmentCard, ...]:
        """All attachments of a refit, deleted ones too, in order of arrival."""
        with self._database.reading() as session:
            rows = session.scalars(
                select(tables.Attachment)
                .where(tables.Attachment.refit == refit)
                .order_by(tables.Attachment.arrival, tables.Attachment.id)
            )
            return tuple(card_of(row) for row in rows)

    def content(self, refit: str, attachment: str) -> tuple[AttachmentCard, bytes]:
        """One attachment with its bytes.

        Raises:
            ModelError: ``unknown-attachment`` if it is missing or deleted.
        """
        with self._database.reading() as session:
            row = _row(session, refit, attachment)
            if row.removed_at is not None:
                sentence = f"{row.name} was deleted; its owner can restore it."
                raise ModelError("unknown-attachment", sentence)
            return card_of(row), session.get_one(tables.Blob, row.sha256).content

    def delete(self, refit: str, attachment: str) -> AttachmentCard:
        """An attachment, now deleted; its name, hash and bytes stay.

        Raises:
            ModelError: ``unknown-attachment``, ``not-saved``.
        """
        return self._marked(refit, attachment, now())

    def bring_back(self, refit: str, attachment: str) -> AttachmentCard:
        """A deleted attachment, restored.

        Raises:
            ModelError: ``unknown-attachment``, ``not-saved``.
        """
        return self._marked(refit, attachment, None)

    def _marked(self, refit: str, attachment: str, removed_at: str | None) -> AttachmentCard:
        with self._database.writing() as session:
            row = _row(session, refit, attachment)
            row.removed_at = removed_at
            return card_of(row)


def _row(session: Session, refit: str, attachment: str) -> tables.Attachment:
    row = session.get(tables.Attachment, (refit, attachment))
    if row is None:
        raise ModelError("unknown-attachment", "There is no file with this id.")
    return row


def type_of(name: str, content: bytes) -> str:
    """The media type of a file, from its content; its name must agree.

    Raises:
        ModelError: ``bad-file-name``, ``wrong-type``.
    """
    if not _NAME.fullmatch(name) or name.startswith(".") or len(name) > LONGEST_NAME:
        sentence = "Use a file name without folders and without characters such as / or :."
        raise ModelError("bad-file-name", sentence, "name")
    found = next((t for start, t in MAGIC_BYTES.items() if content.startswith(start)), "")
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        found = "image/webp"
    if content[4:8] == b"ftyp" and content[8:12] in HEIC_BRANDS:
        found = "image/heic"
    if not found or not name.lower().endswith(ENDINGS[found]):
        sentence = (
            "Send a photo (JPEG, PNG, WebP, HEIC) or a PDF, with the file ending that matches."
        )
        raise ModelError("wrong-type", sentence, "name")
    return found


def card_of(row: tables.Attachment) -> AttachmentCard:
    """A row as sent to clients."""
    return AttachmentCard.model_validate(row, from_attributes=True)
