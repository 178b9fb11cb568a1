"""All of a refit in one file: its document, files beside it, history, revisions and review."""

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
    Kept,
    KeptAttachment,
    KeptComment,
    KeptHistory,
    KeptNests,
    KeptRemark,
    KeptRevision,
    KeptShopWord,
    KeptSignature,
    KeptStep,
    in_order,
    kept_of,
    rows_of,
)
from hullchange_api.store.attachments import ENDINGS, LARGEST, MEGABYTE, type_of
from hullchange_api.store.database import Database
from hullchange_api.store.files import FILE_NAME, PASSING, make_private, write_whole
from hullchange_api.store.plain_zip import PlainZip, damaged, write_plain
from hullchange_api.store.review_records import require_conditions
from hullchange_api.store.revisions import DOCUMENT, hash_over, kept_blob

BESIDE, STEPS, HISTORY = "beside/", "history/", "history.json"
WORDS, STEP = TypeAdapter(KeptHistory), TypeAdapter(KeptStep)
LISTS: Mapping[str, TypeAdapter[Any]] = {
    "revisions": TypeAdapter(tuple[KeptRevision, ...]),
    "comments": TypeAdapter(tuple[KeptComment, ...]),
    "remarks": TypeAdapter(tuple[KeptRemark, ...]),
    "signatures": TypeAdapter(tuple[KeptSignature, ...]),
    "attachments": TypeAdapter(tuple[KeptAttachment, ...]),
    "nests": TypeAdapter(tuple[KeptNests, ...]),
    "shop_words": TypeAdapter(tuple[KeptShopWord, ...]),
}
SAID = ("comments", "remarks", "signatures", "attachments", "shop_words")
Record = TypeVar("Record")


def write_archive(database: Database, refit: str, file: Path, out: IO[bytes]) -> None:
    """Write a refit as one archive; the same content gives the same bytes.

    Args:
        database: of the data folder.
        refit: its id.
        file: its document.
        out: to be written to.

    Raises:
        ModelError: ``bad-file-name``, ``not-saved``.
    """
    if not database.is_there:
        write_plain(out, refit, _members(Kept(), file, lambda _: b""))
        return
    with database.reading() as session:

        def blob(digest: str) -> bytes:
            content = session.get_one(tables.Blob, digest).content
            session.expunge_all()  # one at a time is enough
            return content

        write_plain(out, refit, _members(kept_of(session, refit), file, blob))


def restore_archive(database: Database, folder: Path, archive: PlainZip) -> None:
    """Take an archive up as the refit of a folder that is not there yet: all of it or nothing.

    The folder appears when everything else is on the disk. Where that last step was missed,
    the same archive goes on from there.

    Raises:
        ModelError: ``archive-damaged``, ``wrong-type``, ``too-large``, ``bad-file-name``,
            ``no-condition``; ``refit-exists`` where records of another are kept under its
            name; ``not-saved``.
    """
    kept = _kept_in(archive)
    files = {FILE_NAME: _text_in(archive, FILE_NAME)} | {
        name: _text_in(archive, f"{BESIDE}{name}") for name in archive.names(BESIDE)
    }
    if f"{BESIDE}{FILE_NAME}" in archive.manifest.members:
        raise damaged("it holds two documents")
    try:
        make_private(folder.parent)
        with TemporaryDirectory(prefix=PASSING, dir=folder.parent) as passing:
            made = Path(passing) / folder.name
            for name, text in files.items():
                make_private((made / name).parent)
                write_whole(made / name, text)
            with database.writing() as session:
                _take_up(session, folder.name, kept, archive)
            made.rename(folder)
    except OSError as error:
        sentence = (
            f"The refit could not be written ({error.strerror}): make room or allow writing, "
            "and restore it again."
        )
        raise ModelError("not-saved", sentence) from error


def _members(
    kept: Kept, file: Path, blob: Callable[[str], bytes]
) -> Iterator[tuple[str, bytes]]:
    if kept.history is not None and not file.is_file():
        yield FILE_NAME, kept.history.file_text.encode()
    else:
        yield FILE_NAME, file.read_bytes()
    for name, path in sorted(_beside(kept, file).items()):
        yield f"{BESIDE}{name}", path.read_bytes()
    yield from _records(kept)
    for revision in kept.revisions:
        for name, digest in sorted(revision.files.items()):
            yield _frozen(revision, name), blob(digest)
    for attachment in kept.attachments:
        yield _attached(attachment), blob(attachment.sha256)


def _records(kept: Kept) -> Iterator[tuple[str, bytes]]:
    def written(kind: TypeAdapter[Record], value: Record) -> bytes:
        return kind.dump_json(value, indent=1) + b"\n"

    if kept.history is not None:
        yield HISTORY, written(WORDS, kept.history)
    for step in kept.steps:
        yield f"{STEPS}{step.place}.json", written(STEP, step)
    for name, kind in LISTS.items():
        yield f"{name}.json", written(kind, getattr(kept, name))


def _frozen(revision: KeptRevision, name: str) -> str:
    return f"revisions/{revision.number}/{name}"


def _attached(attachment: KeptAttachment) -> str:
    return f"attachments/{attachment.id}{ENDINGS[attachment.media_type][0]}"


def _beside(kept: Kept, file: Path) -> dict[str, Path]:
    """Files beside the document that it or a step of its history names, or that we put there.

    By the name under which they are kept beside ``refit.yaml``.
    """
    folder = file.parent.resolve()
    try:
        written = [parsed(text_of(file)).document()]
    except ModelError:  # it is kept as it is, whatever is wrong with it
        written = []
    found = {}
    for plain in (*written, *(step.document for step in kept.steps)):
        name = os.path.normpath(lines_file(plain) or ".")
        path = folder / name
        if path.is_file() and path.resolve().is_relative_to(folder):
            found[Path(name).as_posix()] = path
    ours = f"{file.stem}.unsaved"
    for path in folder.iterdir() if folder.is_dir() else ():
        if path.name.startswith(ours) and path.suffix == ".yaml":
            found[f"refit.unsaved{path.name.removeprefix(ours)}"] = path
    return found


def _kept_in(archive: PlainZip) -> Kept:
    """What an archive says is kept, without the bytes of files."""
    has_history = HISTORY in archive.manifest.members
    steps = [_record(archive, f"{STEPS}{name}", STEP) for name in archive.names(STEPS)]
    steps.sort(key=lambda step: step.place)
    lists = {name: _record(archive, f"{name}.json", kind) for name, kind in LISTS.items()}
    lists |= {name: in_order(lists[name]) for name in SAID}
    kept = Kept(
        _record(archive, HISTORY, WORDS) if has_history else None, tuple(steps), **lists
    )
    _require_sense(kept)
    return kept


def _require_sense(kept: Kept) -> None:
    places = [step.place for step in kept.steps]
    if kept.history is None and kept != Kept():
        raise damaged(f"{HISTORY} is missing")
    if kept.history is not None and (
        kept.history.place not in places
        or places != list(range(places[0], places[0] + len(places)))
    ):
        raise damaged("a step of its history is missing or there twice")
    for name in LISTS:
        records = getattr(kept, name)
        keys = Counter(map(_key, records))
        if keys and max(keys.values()) > 1:
            raise damaged(f"{name}.json names one twice")
    for name in SAID:
        numbers = [record.arrival for record in getattr(kept, name)]
        if len(set(numbers)) < len(numbers) or 0 in numbers:
            raise damaged(f"{name}.json does not say in what order they came")
    for signature in kept.signatures:
        require_conditions(signature)


def _key(record: Any) -> object:  # noqa: ANN401 - of any of the lists
    """What there may be but one of."""
    match record:
        case KeptRevision():
            return record.number
        case KeptNests():
            return record.number, record.option
        case _:
            return record.id


def _record(archive: PlainZip, name: str, kind: TypeAdapter[Record]) -> Record:
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
        raise ModelError("wrong-type", f"{name} is no text: an archive holds none such there.")
    return content


def _take_up(session: Session, refit: str, kept: Kept, archive: PlainZip) -> None:
    """Put everything into the database, or find it there word for word."""
    for revision in kept.revisions:
        _keep_revision(session, revision, archive)
    for attachment in kept.attachments:
        _keep_attachment(session, attachment, archive)
    archive.require_all_read()
    there = kept_of(session, refit)
    if there not in (Kept(), kept):
        sentence = f"Records of a refit called {refit} are kept already: choose another name."
        raise ModelError("refit-exists", sentence, "name")
    if there == Kept() and kept.history is not None:
        for row in rows_of(refit, kept):
            session.add(row)
            session.flush()


def _keep_revision(session: Session, revision: KeptRevision, archive: PlainZip) -> None:
    files = {name: _text_in(archive, _frozen(revision, name)) for name in revision.files}
    digests = {name: kept_blob(session, content) for name, content in files.items()}
    is_whole = hash_over(revision.tool, files) == revision.sha256 and DOCUMENT in files
    if not is_whole or digests != revision.files:
        raise damaged(f"revision {revision.number} is not what its hash says")


def _keep_attachment(session: Session, card: KeptAttachment, archive: PlainZip) -> None:
    content = archive.content(_attached(card))
    if len(content) > LARGEST:
        sentence = f"{card.name} is larger than {LARGEST // MEGABYTE} MB."
        raise ModelError("too-large", sentence)
    found = type_of(card.name, content), len(content), sha256(content).hexdigest()
    if found != (card.media_type, card.size_bytes, card.sha256):
        raise damaged(f"{card.name} is not what {_attached(card)} holds")
    kept_blob(session, content)
    session.expunge_all()  # one at a time is enough
