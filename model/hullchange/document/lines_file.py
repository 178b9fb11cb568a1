"""Lines of the hull from a table in a file beside the document."""

import os
from collections.abc import Mapping
from pathlib import Path

from pydantic import JsonValue

from hullchange.document.matching import PlainDocument
from hullchange.document.sections import DocumentHull
from hullchange.errors import DocumentError, Fault, ModelError
from hullchange.hull.lines_csv import LARGEST, lines_of_csv

LONGEST_NAME = 200
PLACE = "hull.lines.file"


def with_lines_read(document: Mapping[str, JsonValue], folder: Path | None) -> PlainDocument:
    """The document with the lines of its file in place of the file's name.

    Args:
        document: plain; ``hull.lines: {file: x.csv}`` or ``hull.file: x.csv``, or the lines.
        folder: where the document lies; the file must lie in it or below.

    Raises:
        DocumentError: path-leaves-folder, no-lines-file, lines-file-unreadable; those of the
            table of lines.
    """
    hull = document.get("hull")
    if not isinstance(hull, dict):
        return dict(document)
    lines = hull.get("lines")
    name = hull.get("file")
    if isinstance(lines, dict) and set(lines) == {"file"}:
        name = lines["file"]
    elif lines is not None or name is None:
        return dict(document)
    rest = {key: value for key, value in hull.items() if key not in ("file", "lines")}
    return {**document, "hull": {**rest, "lines": plain_lines(_text_within(folder, name))}}


def with_lines(document: Mapping[str, JsonValue], hull: DocumentHull) -> PlainDocument:
    """The document with the lines that were read once in place of their file's name."""
    whole = dict(document)
    if lines_file(document) is not None and isinstance(given := document["hull"], dict):
        rest = {key: value for key, value in given.items() if key != "file"}
        lines = hull.model_dump(mode="json", by_alias=True, exclude_unset=True)["lines"]
        whole["hull"] = {**rest, "lines": lines}
    return whole


def lines_file(document: Mapping[str, JsonValue]) -> str | None:
    """The name of the file a document's lines are read from, or None."""
    hull = document.get("hull")
    if not isinstance(hull, dict):
        return None
    lines = hull.get("lines")
    name = lines.get("file") if isinstance(lines, dict) and set(lines) == {"file"} else None
    if lines is None:
        name = hull.get("file")
    return name if isinstance(name, str) else None


def plain_lines(table: str) -> PlainDocument:
    """Named lines, each with kind and points, as they stand under ``hull.lines``.

    Args:
        table: CSV with the columns line, kind, x_m, y_m, z_m.

    Raises:
        DocumentError: not-a-lines-table, bad-row.
    """
    try:
        found = lines_of_csv(table)
    except ModelError as error:
        faults = getattr(error, "faults", (error,))
        placed = (Fault(fault.code, PLACE, fault.sentence) for fault in faults)
        raise DocumentError(tuple(placed)) from error
    return {
        name: {"kind": line.kind, "points_m": [list(point) for point in line.points]}
        for name, line in found.items()
    }


def _text_within(folder: Path | None, name: JsonValue) -> str:
    """The text of a file that must lie within the folder, links followed."""
    if folder is None:
        raise _refused("path-leaves-folder", f"{name} cannot be read: no folder is open.")
    inside = folder.resolve()
    is_name = isinstance(name, str) and 0 < len(name) <= LONGEST_NAME and name.isprintable()
    path = Path(os.path.realpath(inside / str(name))) if is_name else inside
    if path == inside or not path.is_relative_to(inside) or Path(str(name)).is_absolute():
        sentence = (
            f"{str(name)[:LONGEST_NAME]!r} is outside the document's folder: put the file "
            "beside the document and write its name."
        )
        raise _refused("path-leaves-folder", sentence)
    if not path.is_file():
        raise _refused("no-lines-file", f"There is no file {name} beside the document.")
    try:
        with path.open(encoding="utf-8-sig") as file:
            return file.read(LARGEST + 1)
    except (OSError, UnicodeDecodeError) as error:
        sentence = f"{name} cannot be read as text: save it as CSV in UTF-8."
        raise _refused("lines-file-unreadable", sentence) from error


def _refused(code: str, sentence: str) -> DocumentError:
    return DocumentError((Fault(code, PLACE, sentence),))
