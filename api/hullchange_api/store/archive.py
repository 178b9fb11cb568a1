"""A whole refit in one file: document, files beside it, history, revisions and review."""

import os
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import IO, Any, TypeVar

from pydantic import TypeAdapter, ValidationError
from sqlalchemy.orm import Session

from hullchange.document.lines_file import lines_file
from hullchange.document.reading import text_of
from hullchange.document.yaml_text import parsed
from hullchange.errors import ModelError
from hullchange_api.store import tables
from hullchange_api.store.archive_shapes import (
    ArchivedAttachment,
    ArchivedComment,
    ArchivedHistory,
    ArchivedNests,
    ArchivedRefit,
    ArchivedRemark,
    ArchivedRevision,
    ArchivedShopRecord,
    ArchivedSignature,
    ArchivedStep,
    archived_refit,
    in_order,
    rows_of,
)
from hullchange_api.store.attachments import ENDINGS, LARGEST, type_of
from hullchange_api.store.database import Database
from hullchange_api.store.files import (
    FILE_NAME,
    MEGABYTE,
    RESTORING,
    make_private,
    write_atomically,
)
from hullchange_api.store.plain_zip import PlainZip, damaged, write_plain
from hullchange_api.store.review_records import require_conditions
from hullchange_api.store.revisions import DOCUMENT, hash_over, stored_blob

BESIDE, STEPS, HISTORY = "beside/", "history/", "history.json"
HISTORY_JSON, STEP_JSON = TypeAdapter(ArchivedHistory), TypeAdapter(ArchivedStep)
LISTS: Mapping[str, TypeAdapter[Any]] = {
    "revisions": TypeAdapter(tuple[ArchivedRevision, ...]),
    "comments": TypeAdapter(tuple[ArchivedComment, ...]),
    "remarks": TypeAdapter(tuple[ArchivedRemark, ...]),
    "signatures": TypeAdapter(tuple[ArchivedSignature, ...]),
    "attachments": TypeAdapter(tuple[ArchivedAttachment, ...]),
    "nests": TypeAdapter(tuple[ArchivedNests, ...]),
    "shop_words": TypeAdapter(tuple[ArchivedShopRecord, ...]),
}
ARRIVED = ("comments", "remarks", "signatures", "attachments", "shop_words")
ArchivedRecord = TypeVar("ArchivedRecord")


def write_archive(database: Database, refit: str, file: Path, out: IO[bytes]) -> None:
    """Write a refit as one archive; the same content gives the same bytes.

    Args:
        database: of the data folder.
        refit: its id.
        file: its document.
        out: the stream to write to.

    Raises:
        ModelError: ``bad-file-name``, ``not-saved``.
    """
    if not database.exists:
        write_plain(out, refit, _members(ArchivedRefit(), file, lambda _: b""))
        return
    with database.reading() as session:

        def blob(digest: str) -> bytes:
            content = session.get_one(tables.Blob, digest).content
            session.expunge_all()  # hold one in memory at a time
            return content

        write_plain(out, refit, _members(archived_refit(session, refit), file, blob))


def restore_archive(database: Database, folder: Path, archive: PlainZip) -> None:
    """Restore a refit from an archive into a new folder: all of it or nothing.

    The folder is moved into place last, once everything else is on disk. If that step is
    missed, restoring the same archive again completes it.

    Raises:
        ModelError: ``archive-damaged``, ``wrong-type``, ``too-large``, ``bad-file-name``,
            ``no-condition``; ``refit-exists`` if another has records under its name;
            ``not-saved``.
    """
    archived = _archived_in(archive)
    files = {FILE_NAME: _text_in(archive, FILE_NAME)} | {
        name: _text_in(archive, f"{BESIDE}{name}") for name in archive.names(BESIDE)
    }
    if f"{BESIDE}{FILE_NAME}" in archive.manifest.members:
        raise damaged("it contains two documents")
    try:
        make_private(folder.parent)
        with TemporaryDirectory(prefix=RESTORING, dir=folder.parent) as temporary:
            made = Path(temporary) / folder.name
            for name, text in files.items():
                make_private((made / name).parent)
                write_atomically(made / name, text)
            with database.writing() as session:
                _add_records(session, folder.name, archived, archive)
            made.rename(folder)
    except OSError as error:
        sentence = (
            f"The refit could not be written ({error.strerror}): free some space or allow "
            "writing, then restore it again."
        )
        raise ModelError("not-saved", sentence) from error


def _members(
    archived: ArchivedRefit, file: Path, blob: Callable[[str], bytes]
) -> Iterator[tuple[str, bytes]]:
    if archived.history is not None and not file.is_file():
        yield FILE_NAME, archived.history.file_text.encode()
    else:
        yield FILE_NAME, file.read_bytes()
    for name, path in sorted(_beside(archived, file).items()):
        yield f"{BESIDE}{name}", path.read_bytes()
    yield from _records(archived)
    for revision in archived.revisions:
        for name, digest in sorted(revision.files.items()):
            yield _revision_member(revision, name), blob(digest)
    for attachment in archived.attachments:
        yield _attachment_member(attachment), blob(attachment.sha256)


def _records(archived: ArchivedRefit) -> Iterator[tuple[str, bytes]]:
    def written(kind: TypeAdapter[ArchivedRecord], value: ArchivedRecord) -> bytes:
        return kind.dump_json(value, indent=1) + b"\n"

    if archived.history is not None:
        yield HISTORY, written(HISTORY_JSON, archived.history)
    for step in archived.steps:
        yield f"{STEPS}{step.place}.json", written(STEP_JSON, step)
    for name, kind in LISTS.items():
        yield f"{name}.json", written(kind, getattr(archived, name))


def _revision_member(revision: ArchivedRevision, name: str) -> str:
    return f"revisions/{revision.number}/{name}"


def _attachment_member(attachment: ArchivedAttachment) -> str:
    return f"attachments/{attachment.id}{ENDINGS[attachment.media_type][0]}"


def _beside(archived: ArchivedRefit, file: Path) -> dict[str, Path]:
    """Files that the document or a step of its history names, and unsaved copies of it.

    The keys are their names beside ``refit.yaml`` in the archive.
    """
    folder = file.parent.resolve()
    try:
        written = [parsed(text_of(file)).document()]
    except ModelError:  # archived as it is, faults included
        written = []
    found = {}
    for plain in (*written, *(step.document for step in archived.steps)):
        name = os.path.normpath(lines_file(plain) or ".")
        path = folder / name
        if path.is_file() and path.resolve().is_relative_to(folder):
            found[Path(name).as_posix()] = path
    ours = f"{file.stem}.unsaved"
    for path in folder.iterdir() if folder.is_dir() else ():
        if path.name.startswith(ours) and path.suffix == ".yaml":
            found[f"refit.unsaved{path.name.removeprefix(ours)}"] = path
    return found


def _archived_in(archive: PlainZip) -> ArchivedRefit:
    """The records of an archive, without the bytes of files."""
    has_history = HISTORY in archive.manifest.members
    steps = [_record(archive, f"{STEPS}{name}", STEP_JSON) for name in archive.names(STEPS)]
    steps.sort(key=lambda step: step.place)
    lists = {name: _record(archive, f"{name}.json", kind) for name, kind in LISTS.items()}
    lists |= {name: in_order(lists[name]) for name in ARRIVED}
    archived = ArchivedRefit(
        _record(archive, HISTORY, HISTORY_JSON) if has_history else None, tuple(steps), **lists
    )
    _require_consistent(archived)
    return archived


def _require_consistent(archived: ArchivedRefit) -> None:
    places = [step.place for step in archived.steps]
    if archived.history is None and archived != ArchivedRefit():
        raise damaged(f"{HISTORY} is missing")
    if archived.history is not None and (
        archived.history.place not in places
        or places != list(range(places[0], places[0] + len(places)))
    ):
        raise damaged("a step of its history is missing or duplicated")
    for name in LISTS:
        records = getattr(archived, name)
        keys = Counter(map(_key, records))
        if keys and max(keys.values()) > 1:
            raise damaged(f"{name}.json names one twice")
    for name in ARRIVED:
        numbers = [record.arrival for record in getattr(archived, name)]
        if len(set(numbers)) < len(numbers) or 0 in numbers:
            raise damaged(f"{name}.json does not give the order of arrival")
    for signature in archived.signatures:
        require_conditions(signature)


def _key(record: Any) -> object:  # noqa: ANN401 - of any of the lists
    """What identifies a record in its list."""
    match record:
        case ArchivedRevision():
            return record.number
        case ArchivedNests():
            return record.number, record.option
        case _:
            return record.id


def _record(archive: PlainZip, name: str, kind: TypeAdapter[ArchivedRecord]) -> ArchivedRecord:
    try:
        return kind.validate_json(archive.content(name))
    except ValidationError as error:
        raise damaged(f"{name} cannot be read") from error


def _text_in(archive: PlainZip, name: str) -> bytes:
    content = archive.content(name)
    try:
        is_text = "\0" not in content.decode()
    except UnicodeDecodeError:
        is_text = False
    if not is_text:
        raise ModelError(
            "wrong-type", f"{name} is not plain text, as it must be in an archive."
        )
    return content


def _add_records(
    session: Session, refit: str, archived: ArchivedRefit, archive: PlainZip
) -> None:
    """Add everything to the database, unless it already holds exactly the same."""
    for revision in archived.revisions:
        _add_revision(session, revision, archive)
    for attachment in archived.attachments:
        _add_attachment(session, attachment, archive)
    archive.require_all_read()
    stored = archived_refit(session, refit)
    if stored not in (ArchivedRefit(), archived):
        sentence = f"There are already records of a refit {refit}: choose another name."
        raise ModelError("refit-exists", sentence, "name")
    if stored == ArchivedRefit() and archived.history is not None:
        for row in rows_of(refit, archived):
            session.add(row)
            session.flush()


def _add_revision(session: Session, revision: ArchivedRevision, archive: PlainZip) -> None:
    files = {
        name: _text_in(archive, _revision_member(revision, name)) for name in revision.files
    }
    digests = {name: stored_blob(session, content) for name, content in files.items()}
    is_whole = hash_over(revision.tool, files) == revision.sha256 and DOCUMENT in files
    if not is_whole or digests != revision.files:
        raise damaged(f"revision {revision.number} does not match its hash")


def _add_attachment(session: Session, card: ArchivedAttachment, archive: PlainZip) -> None:
    content = archive.content(_attachment_member(card))
    if len(content) > LARGEST:
        sentence = f"{card.name} is larger than {LARGEST // MEGABYTE} MB."
        raise ModelError("too-large", sentence)
    found = type_of(card.name, content), len(content), sha256(content).hexdigest()
    if found != (card.media_type, card.size_bytes, card.sha256):
        raise damaged(f"{card.name} does not match {_attachment_member(card)}")
    stored_blob(session, content)
    session.expunge_all()  # hold one in memory at a time
