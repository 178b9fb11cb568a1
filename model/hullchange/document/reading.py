"""From a file to a document, with everything that is wrong with it listed in one go."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import cast

from pydantic import JsonValue, ValidationError

from hullchange.document.consistency import plausibility_faults
from hullchange.document.document import Document
from hullchange.document.fault_messages import faults_of, with_numbers_capped
from hullchange.document.lines_file import with_lines_read
from hullchange.document.matching import PlainDocument, last_step, names_at, words_at
from hullchange.document.options import with_option
from hullchange.document.references import reference_faults
from hullchange.document.yaml_text import MOST_CHARACTERS, YamlText, parsed
from hullchange.errors import DocumentError, Fault, ModelError
from hullchange.shop.layers import layer_faults


@dataclass(frozen=True)
class ReadDocument:
    """A file that was read.

    Attributes:
        document: its values, validated.
        plain: the same as plain values, lines of a file still by the file's name.
        written: the text and where in it everything stands.
        folder: where files named in it are looked for.
    """

    document: Document
    plain: PlainDocument
    written: YamlText
    folder: Path


def document_of(plain: Mapping[str, JsonValue], folder: Path | None = None) -> Document:
    """The document of plain values.

    Args:
        plain: as read from YAML or JSON.
        folder: where a file of lines is looked for.

    Raises:
        DocumentError: with everything that is wrong, each at its path.
    """
    whole = with_lines_read(plain, folder)
    faults: list[Fault] = []
    document = None
    try:
        document = Document.model_validate(whole)
    except ValidationError as error:
        whole = cast("PlainDocument", with_numbers_capped(whole))
        faults += faults_of(error, whole)
    faults += [*reference_faults(whole), *plausibility_faults(whole)]
    layers = words_at(dict(whole), "cutting.layers.*")
    faults += layer_faults({last_step(path): name for path, name in layers})
    if document is None or faults:
        raise DocumentError(tuple(faults))
    return document


def read_document(path: Path) -> ReadDocument:
    """The document in a file.

    Raises:
        DocumentError: with everything that is wrong, each at its path and line; options are
            taken one by one and must make a document too.
    """
    written = parsed(text_of(path))
    plain = written.document()
    try:
        document = document_of(plain, path.parent)
        _examine_options(plain, path.parent)
    except DocumentError as error:
        raise DocumentError(_with_lines(error.faults, written)) from error
    return ReadDocument(document, plain, written, path.parent)


def text_of(path: Path) -> str:
    """The text of a document's file.

    Raises:
        DocumentError: no-file, unreadable, file-too-large, not-text.
    """
    if path.is_dir():
        raise _refused("no-file", f"{path.name} is a folder: add the document's name.")
    if not path.is_file():
        raise _refused("no-file", f"There is no file {path.name}: check the name.")
    if path.stat().st_size > MOST_CHARACTERS:
        size = path.stat().st_size / 1e6
        raise _refused(
            "file-too-large",
            f"The file is {size:.0f} MB, too large for a boat: is it the right one?",
        )
    try:
        return path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise _refused("unreadable", f"The file cannot be read: {error.strerror}.") from error
    except UnicodeDecodeError as error:
        sentence = "The file is not plain text: save it as UTF-8."
        raise _refused("not-text", sentence) from error


def _examine_options(plain: PlainDocument, folder: Path) -> None:
    """Each option, taken alone, must make a document."""
    faults: list[Fault] = []
    for name in names_at(plain, "options"):
        try:
            document_of(with_option(plain, name), folder)
        except DocumentError as error:
            faults += [
                Fault(f.code, f"options.{name}", f"In this option: {f.place}: {f.sentence}")
                for f in error.faults
            ]
        except ModelError as error:
            faults.append(Fault(error.code, error.place, error.sentence))
    if faults:
        raise DocumentError(tuple(faults))


def _with_lines(faults: Iterable[Fault], written: YamlText) -> tuple[Fault, ...]:
    return tuple(
        fault if fault.line else replace(fault, line=written.line_of(fault.place))
        for fault in faults
    )


def _refused(code: str, sentence: str) -> DocumentError:
    return DocumentError((Fault(code, "", sentence),))
