"""Zip files of uncompressed members: the same content gives the same file on every machine.

Compressed bytes could differ between machines, and a small compressed file could fill a disk.
A manifest lists every other member with its digest.
"""

import stat
import struct
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from hashlib import sha256
from typing import IO
from zipfile import ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from pydantic import BaseModel, ValidationError

from hullchange.answer.wire import Wire
from hullchange.errors import ModelError
from hullchange_api.store.files import MEGABYTE
from hullchange_api.wire.review import Digest

FORMAT = 2
"""Format 1 did not record the order of arrival."""
MANIFEST = "manifest.json"
LARGEST_MEMBER, LARGEST_WHOLE = 100 * MEGABYTE, 1500 * MEGABYTE
MOST_MEMBERS, LONGEST_NAME = 100_000, 300
REGULAR_FILE = stat.S_IFREG | 0o644
UNREADABLE = (  # what the zip reader raises for a file that it cannot read
    *(BadZipFile, EOFError, NotImplementedError, OverflowError, RuntimeError, ValueError),
    *(OSError, struct.error),
)


class Member(Wire):
    """A member, as the manifest describes it."""

    sha256: Digest
    size_bytes: int


class Manifest(Wire):
    """The refit that an archive is of, and its members."""

    format: int
    refit: str
    members: Mapping[str, Member]


class _Version(BaseModel):
    format: int


def write_plain(out: IO[bytes], refit: str, members: Iterable[tuple[str, bytes]]) -> None:
    """Write an archive; the manifest comes last.

    Raises:
        ModelError: ``bad-file-name``.
    """
    listed = {}
    with ZipFile(out, "w", ZIP_STORED) as packed:
        for name, content in members:
            _require_plain_name(name)
            packed.writestr(_zip_info(name), content)
            digest = sha256(content).hexdigest()
            listed[name] = Member(sha256=digest, size_bytes=len(content))
        manifest = Manifest(format=FORMAT, refit=refit, members=listed)
        packed.writestr(_zip_info(MANIFEST), manifest.model_dump_json(indent=1) + "\n")


class PlainZip:
    """An archive to read; every member is checked against the manifest when read."""

    def __init__(self, file: IO[bytes]) -> None:
        """Read the manifest.

        Raises:
            ModelError: ``not-an-archive``, ``newer-data``, ``archive-not-plain``,
                ``archive-damaged``, ``bad-file-name``, ``too-large``.
        """
        size = file.seek(0, 2)
        with _errors_as_refusals():
            self._zip = ZipFile(file)
        entries = self._zip.infolist()
        _require_plain(entries, size)
        self._entries = {entry.filename: entry for entry in entries}
        self.manifest = self._manifest()
        if self._entries.keys() - {MANIFEST} != self.manifest.members.keys():
            odd = sorted((self._entries.keys() - {MANIFEST}) ^ self.manifest.members.keys())
            raise damaged(f"it and its manifest differ by {odd[0]}")
        self._unread = set(self.manifest.members)

    def names(self, under: str) -> list[str]:
        """Names of the members below a folder, relative to it."""
        return [n.removeprefix(under) for n in self.manifest.members if n.startswith(under)]

    def content(self, name: str) -> bytes:
        """The bytes of a member.

        Raises:
            ModelError: ``archive-damaged``, ``not-an-archive``.
        """
        listed = self.manifest.members.get(name)
        if listed is None:
            raise damaged(f"{name} is missing")
        content = self._read(name)
        if (listed.size_bytes, listed.sha256) != (len(content), sha256(content).hexdigest()):
            raise damaged(f"{name} does not match the manifest")
        self._unread.discard(name)
        return content

    def require_all_read(self) -> None:
        """Refuse if a member was never read.

        Raises:
            ModelError: ``archive-damaged``.
        """
        if self._unread:
            raise damaged(f"{min(self._unread)} does not belong to it")

    def _read(self, name: str) -> bytes:
        with _errors_as_refusals():
            return self._zip.read(self._entries[name])

    def _manifest(self) -> Manifest:
        if MANIFEST not in self._entries:
            raise _not_an_archive()
        text = self._read(MANIFEST)
        try:
            newer = _Version.model_validate_json(text).format > FORMAT
            if newer:
                sentence = (
                    "The archive was written by a newer hullchange: install that version."
                )
                raise ModelError("newer-data", sentence)
            return Manifest.model_validate_json(text)
        except ValidationError as error:
            raise _not_an_archive() from error


def damaged(why: str) -> ModelError:
    """The refusal of an archive that contradicts its manifest or hashes."""
    sentence = f"The archive is damaged or was changed ({why}): write it again, or use another."
    return ModelError("archive-damaged", sentence)


def _not_an_archive() -> ModelError:
    sentence = "This is not an archive of a refit: use one written by hullchange archive."
    return ModelError("not-an-archive", sentence)


@contextmanager
def _errors_as_refusals() -> Iterator[None]:
    try:
        yield
    except UNREADABLE as error:
        raise _not_an_archive() from error


def _zip_info(name: str) -> ZipInfo:
    entry = ZipInfo(name, (1980, 1, 1, 0, 0, 0))
    entry.create_system = 3
    entry.external_attr = REGULAR_FILE << 16
    return entry


def _require_plain(entries: list[ZipInfo], size: int) -> None:
    if len(entries) > MOST_MEMBERS or size > LARGEST_WHOLE:
        raise ModelError(
            "too-large", "The archive is too large for a refit: is it the right file?"
        )
    for entry in entries:
        _require_plain_name(entry.filename)
        mode = entry.external_attr >> 16
        is_file = stat.S_IFMT(mode) in (0, stat.S_IFREG)
        is_packed = entry.compress_type != ZIP_STORED or entry.compress_size != entry.file_size
        if is_packed or not is_file or entry.flag_bits & 1:
            sentence = (
                f"{entry.filename} is compressed, locked or a link, and an archive of "
                "hullchange contains plain files only. Use the original, not one packed again."
            )
            raise ModelError("archive-not-plain", sentence)
        if entry.file_size > LARGEST_MEMBER:
            most = LARGEST_MEMBER // MEGABYTE
            sentence = f"{entry.filename} is larger than {most} MB."
            raise ModelError("too-large", sentence)
    if sum(entry.file_size for entry in entries) > size:
        raise damaged("its files are larger than the archive")
    if len({entry.filename.casefold() for entry in entries}) < len(entries):
        raise damaged("it contains a name twice")


def _require_plain_name(name: str) -> None:
    steps = name.split("/")
    is_plain = name.isprintable() and len(name) <= LONGEST_NAME and not set(name) & set("\\:")
    if not is_plain or any(not step or step.startswith(".") for step in steps):
        shown = "".join(sign if sign.isprintable() else "?" for sign in name[:LONGEST_NAME])
        sentence = (
            f"{shown!r} is not allowed as a file name in an archive: no leading / or ., no "
            ".., \\ or : in it. Rename it."
        )
        raise ModelError("bad-file-name", sentence)
