"""Reading a cut list that comes back filled in."""

import csv
import re
import zipfile
from codecs import BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO, StringIO

from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException

from hullchange.cutting.lists import CUT_LIST
from hullchange.cutting.progress import STEPS, ShopStep
from hullchange.errors import ModelError

NOT_DONE = ("no", "n", "0", "not", "false", "nein", "nee", "non", "-", "\N{EN DASH}", "?")
IS_DONE = re.compile(
    # a date, a mark, a word for it, initials
    r"(?!not?\b).*[1-9].*|[x\N{CHECK MARK}\N{HEAVY CHECK MARK}]"
    r"|yes|ja|oui|ok|true|done|cut|checked|welded"
    r"|[^\W\d_](?:\.?\s?[^\W\d_]){0,3}\.?",
    re.IGNORECASE,
)
LONGEST_NOTE = 60
MOST_ROWS = 5000
LARGEST = 40 * 1024 * 1024  # bytes of a workbook once it is unpacked
WANTED = ("id", "shape", *STEPS)
FORMULA = "=+-@\t "  # no note begins so: a table would work it out

SheetRow = Sequence[object]


@dataclass(frozen=True)
class FilledCell:
    """One filled cell: of which piece and shape, the step, whether it is done, the text."""

    piece: str
    shape: str
    step: ShopStep
    done: bool
    note: str


@dataclass(frozen=True)
class FilledList:
    """The content of a filled list.

    Attributes:
        ticks: of the last row for a piece, where it has several.
        unclear: cells that are neither done nor not done, as "HOUSE-01 cut: perhaps".
    """

    ticks: tuple[FilledCell, ...]
    unclear: tuple[str, ...]


def read_filled_list(name: str, content: bytes) -> FilledList:
    """The filled cells of a cut list; an empty cell says nothing.

    Args:
        name: of the file; ``.xlsx``, or else it is read as CSV.
        content: its bytes.

    Raises:
        ModelError: ``not-a-cut-list``.
    """
    try:
        if name.lower().endswith(".xlsx"):
            return _found([_workbook(content)])
        return _found(_separated(_text_of(content)))
    except _NoListError as error:
        sentence = (
            f"{name} {error}: send back the cut list that hullchange wrote, saved as CSV or "
            "XLSX, with the columns cut, checked and welded filled in."
        )
        raise ModelError("not-a-cut-list", sentence) from error


class _NoListError(Exception):
    """What a file is or has, instead of being a cut list."""


def _found(readings: Iterable[list[SheetRow]]) -> FilledList:
    for rows in readings:
        table = iter(_not_too_many(rows))
        for row in table:
            heads = [_words(cell) for cell in row]
            if all(word in heads for word in WANTED):
                return _list_of(_cells([heads.index(word) for word in WANTED], table))
    raise _NoListError(f"has no heading row with the columns {', '.join(WANTED)}")


def _cells(
    columns: Sequence[int], rows: Iterable[SheetRow]
) -> Iterator[tuple[str, str, ShopStep, str]]:
    """Piece, shape, step and words of every filled cell."""
    for row in rows:
        piece, shape, *steps = (_words(row[at]) if at < len(row) else "" for at in columns)
        for step, cell in zip(STEPS, steps, strict=True):
            if piece and cell:
                yield piece, shape, step, cell


def _list_of(cells: Iterable[tuple[str, str, ShopStep, str]]) -> FilledList:
    ticks: dict[tuple[str, ShopStep], FilledCell] = {}
    unclear: dict[str, None] = {}
    for piece, shape, step, cell in cells:
        done = cell.lower() not in NOT_DONE
        note = cell.lstrip(FORMULA)[:LONGEST_NOTE]
        if done and not IS_DONE.fullmatch(cell):
            unclear[f"{piece} {step}: {note}"] = None
        else:
            ticks[piece, step] = FilledCell(piece, shape, step, done, note)
    return FilledList(tuple(ticks.values()), tuple(unclear))


def _words(cell: object) -> str:
    """A cell as words; midnight is no part of a date."""
    return "" if cell is None else str(cell).strip().removesuffix(" 00:00:00")


def _text_of(content: bytes) -> str:
    if content.startswith((BOM_UTF16_LE, BOM_UTF16_BE)):
        return content.decode("utf-16", errors="replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace")


def _separated(text: str) -> Iterator[list[SheetRow]]:
    """Rows, by each sign that programs put between cells."""
    for between in ",;\t":
        try:
            yield list(csv.reader(StringIO(text), delimiter=between))
        except csv.Error as error:
            raise _NoListError("cannot be read as a table") from error


def _workbook(content: bytes) -> list[SheetRow]:
    try:
        with zipfile.ZipFile(BytesIO(content)) as packed:
            size = sum(one.file_size for one in packed.infolist())
        if size > LARGEST:
            raise _NoListError("is too large for a cut list")
        book = load_workbook(BytesIO(content), read_only=True, data_only=True)
        sheet = book[CUT_LIST] if CUT_LIST in book.sheetnames else book.worksheets[0]
        return [row for row in sheet.iter_rows(values_only=True) if any(row)]
    except (zipfile.BadZipFile, InvalidFileException, KeyError, ValueError, OSError) as error:
        raise _NoListError("cannot be read as a workbook") from error


def _not_too_many(rows: list[SheetRow]) -> list[SheetRow]:
    if len(rows) > MOST_ROWS:
        raise _NoListError(f"has more than {MOST_ROWS} rows")
    return rows
