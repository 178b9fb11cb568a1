"""Tables as sheets of one workbook: numbers are numbers, texts are texts."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from openpyxl import Workbook
from openpyxl.cell import Cell as SheetCell
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet
from openpyxl.xml.functions import tostring

from hullchange.present.csv_table import Cell, CsvTable, Heads, is_risky, rounded

_MOMENT = datetime(2000, 1, 1)  # a workbook is dated, and must be the same again
_PROPERTIES = "docProps/core.xml"
WIDEST = 60


def workbook(heads: Heads, tables: Mapping[str, CsvTable]) -> bytes:
    """A sheet for each table, under the same heads as its CSV."""
    book = Workbook()
    book.remove(book.worksheets[0])
    for name, table in tables.items():
        _fill(book.create_sheet(name), heads, table)
    stream = BytesIO()
    book.save(stream)
    book.properties.created = book.properties.modified = _MOMENT
    return _undated(stream, {_PROPERTIES: tostring(book.properties.to_tree())})


def _fill(sheet: Worksheet, heads: Heads, table: CsvTable) -> None:
    for row in (*heads, *(("note", note) for note in table.notes), ()):
        _append(sheet, row)
    _append(sheet, table.columns)
    top = sheet.max_row
    for cell in sheet[top]:
        cell.font = Font(bold=True)
    for row in table.rows:
        _append(sheet, row)
    sheet.freeze_panes = f"A{top + 1}"
    sheet.auto_filter.ref = f"A{top}:{get_column_letter(len(table.columns))}{sheet.max_row}"
    for number, column in enumerate(table.columns, 1):
        longest = max((len(str(rounded(row[number - 1]))) for row in table.rows), default=0)
        letter = get_column_letter(number)
        sheet.column_dimensions[letter].width = min(WIDEST, max(len(column), longest) + 2)


def _append(sheet: Worksheet, row: Iterable[Cell]) -> None:
    """One more row; what a spreadsheet would work out stays the text it is."""
    cells = []
    for value in row:
        cell = SheetCell(sheet, value=rounded(value))
        if isinstance(value, str):
            cell.data_type, cell.quotePrefix = "s", is_risky(value)
        cells.append(cell)
    sheet.append(cells)


def _undated(stream: BytesIO, replaced: Mapping[str, bytes]) -> bytes:
    """The same zip with no moment of writing in it."""
    out = BytesIO()
    with ZipFile(stream) as made, ZipFile(out, "w", ZIP_DEFLATED) as packed:
        for name in made.namelist():
            entry = ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            packed.writestr(entry, replaced.get(name) or made.read(name), ZIP_DEFLATED)
    return out.getvalue()
