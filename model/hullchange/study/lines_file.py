"""Lines of the hull from a CSV beside the document: line, kind, x_m, y_m, z_m."""

import csv
import io
import os
from collections.abc import Mapping
from pathlib import Path

from pydantic import JsonValue

from hullchange.errors import DocumentError, Fault

COLUMNS = ("line", "kind", "x_m", "y_m", "z_m")
MOST_BYTES = 1_000_000
MOST_ROWS = 10_000
PLACE = "hull.lines.file"

Plain = dict[str, JsonValue]


def lines_of_csv(text: str) -> Plain:
    r"""Named lines, each with its kind and points, as they stand under ``hull.lines``.

    Underscores and blanks in names become hyphens; semicolons with decimal commas are read too.

    >>> lines_of_csv("line,kind,x_m,y_m,z_m\nupper chine,chine,0,0.28,0.58")
    {'upper-chine': {'kind': 'chine', 'points_m': [[0.0, 0.28, 0.58]]}}

    Raises:
        DocumentError: lines-file, with every row that cannot be read.
    """
    semicolons = ";" in text.partition("\n")[0]
    rows = list(csv.DictReader(io.StringIO(text), delimiter=";" if semicolons else ","))
    header = set(rows[0]) if rows else set()
    if not header >= set(COLUMNS) or len(rows) > MOST_ROWS:
        sentence = f"The file of lines needs the columns {', '.join(COLUMNS)} and some rows."
        raise DocumentError((Fault("lines-file", PLACE, sentence),))
    lines: dict[str, Plain] = {}
    points: dict[str, list[JsonValue]] = {}
    faults: list[Fault] = []
    for number, row in enumerate(rows, start=2):
        name = "-".join((row["line"] or "").replace("_", " ").lower().split())
        line = lines.setdefault(name, {"kind": (row["kind"] or "").strip()})
        try:
            points.setdefault(name, []).append([_number(row[key]) for key in COLUMNS[2:]])
        except ValueError:
            sentence = f"Row {number} of the file of lines has no plain numbers for x, y and z."
            faults.append(Fault("lines-file", PLACE, sentence))
        line["points_m"] = points.get(name, [])
    if faults:
        raise DocumentError(tuple(faults))
    return dict(lines)


def with_lines_read(document: Mapping[str, JsonValue], folder: Path | None) -> Plain:
    """The document with the lines of its file in place of the file's name.

    Args:
        document: plain; ``hull.lines: {file: x.csv}`` or ``hull.file: x.csv``, or the lines.
        folder: where the document lies; the file must lie in it or below.

    Raises:
        DocumentError: path-leaves-folder, no-lines-file, lines-file.
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
    text = _text_within(folder, name)
    rest = {key: value for key, value in hull.items() if key not in ("file", "lines")}
    return {**document, "hull": {**rest, "lines": lines_of_csv(text)}}


def _text_within(folder: Path | None, name: JsonValue) -> str:
    """The text of a file that must lie within the folder, links followed."""
    if folder is None:
        raise _refused("path-leaves-folder", f"{name}: no folder is open to read it from.")
    inside = folder.resolve()
    path = Path(os.path.realpath(inside / str(name)))
    if not isinstance(name, str) or Path(name).is_absolute() or not path.is_relative_to(inside):
        raise _refused(
            "path-leaves-folder",
            f"{name} leads out of the document's folder: put the file beside the document and "
            "write its name.",
        )
    if not path.is_file():
        raise _refused("no-lines-file", f"There is no file {name} beside the document.")
    if path.stat().st_size > MOST_BYTES:
        raise _refused("lines-file", f"{name} is larger than {MOST_BYTES:,} bytes: no hull is.")
    try:
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        raise _refused("lines-file", f"{name} is no text: save it as CSV in UTF-8.") from error


def _number(text: str | None) -> float:
    return float((text or "").strip().replace(",", "."))


def _refused(code: str, sentence: str) -> DocumentError:
    return DocumentError((Fault(code, PLACE, sentence),))
