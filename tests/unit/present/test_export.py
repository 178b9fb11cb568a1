"""Files for other programs: units in heads, numbers as numbers, no formula out of a text."""

import csv
import io
import json
import struct

import openpyxl
import pytest
from refits import demo, demo_answer

from hullchange.hull.lines_csv import lines_of_csv
from hullchange.present.csv_table import CsvTable, csv_under
from hullchange.present.export import Origin, exported_tables, lines_table
from hullchange.present.scene import whole_scene
from hullchange.present.workbook import workbook

ORIGIN = Origin("=Boat()", "ab" * 32, "", "working", "", "", "unsigned", "hullchange")
TEXTS = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "x\r=1", "a=b", "'x", "")
NASTY = CsvTable.of("a_kg b", [(1.5, text) for text in TEXTS], "=NOTE()")
FIRST_ROW = 9


def test_no_text_of_a_csv_is_a_formula():
    text = csv_under(ORIGIN.heads, NASTY)
    rows = list(csv.reader(io.StringIO(text, newline="")))
    assert rows[0] == ["boat", "'=Boat()"]
    assert ["status", "unsigned"] in rows
    assert ["note", "'=NOTE()"] in rows
    cells = [cell for row in rows for cell in row]
    assert [cell for cell in cells if cell.strip()[:1] in tuple("=+-@")] == []
    assert ["1.5", "a=b"] in rows


def test_a_negative_number_stays_a_number():
    assert csv_under((), CsvTable.of("x_m", [(-1.25,), (-3,)])).splitlines()[2:] == [
        "-1.25",
        "-3",
    ]


def test_no_text_of_a_workbook_is_a_formula():
    made = workbook(ORIGIN.heads, {"nasty": NASTY})
    sheet = openpyxl.load_workbook(io.BytesIO(made))["nasty"]
    kinds = {cell.data_type for row in sheet.iter_rows() for cell in row}
    assert kinds <= {"s", "n", "inlineStr"}
    assert sheet["B1"].value == "=Boat()"
    assert sheet["B1"].quotePrefix
    assert [sheet.cell(FIRST_ROW + k, 2).value or "" for k in range(2)] == ["=1+1", "+1"]
    assert sheet.cell(FIRST_ROW, 1).value == 1.5
    assert workbook(ORIGIN.heads, {"nasty": NASTY}) == made


@pytest.mark.slow
def test_every_table_of_the_demo_has_its_units_and_its_rows():
    answer = demo_answer()
    tables = exported_tables(answer)
    made = workbook(ORIGIN.heads, tables)
    book = openpyxl.load_workbook(io.BytesIO(made))
    assert book.sheetnames == list(tables)
    assert len(tables["ledger"].rows) == len(answer.items)
    assert len(tables["conditions"].rows) == len(answer.conditions)
    assert sum(row[3] for row in tables["parts"].rows) == pytest.approx(
        sum(part.mass_kg for part in answer.parts)
    )
    for name, table in tables.items():
        assert all(len(row) == len(table.columns) for row in table.rows), name
        for row in table.rows:
            for column, value in zip(table.columns, row, strict=True):
                numeric = isinstance(value, float)
                assert not numeric or column.rsplit("_", 1)[-1] in UNITS, (name, column)
    sheet = book["ledger"]
    column = [cell.value for cell in sheet["D"]]
    assert sum(isinstance(value, (int, float)) for value in column) == len(answer.items)


UNITS = {"kg", "m", "mm", "deg", "m2", "m3", "value", "limit", "minus", "sd", "probability"}


@pytest.mark.slow
def test_a_scene_says_where_it_comes_from(gltf_report):
    made = whole_scene(demo()[0], ORIGIN.fields)
    size = struct.unpack_from("<I", made, 12)[0]
    asset = json.loads(made[20 : 20 + size])["asset"]
    assert asset["extras"]["document_sha256"] == "ab" * 32
    assert asset["extras"]["status"] == "unsigned"
    issues = gltf_report(made)["issues"]
    assert (issues["numErrors"], issues["numWarnings"]) == (0, 0)


def test_the_lines_saved_say_what_each_point_stands_off_and_are_read_back_without_it():
    boat = demo()[0]
    text = csv_under(ORIGIN.heads, lines_table(boat))
    read = lines_of_csv(text)
    assert {name: line.points for name, line in read.items()} == {
        name: line.points_m for name, line in boat.document.hull.lines.items()
    }
    lines = text.splitlines()
    start = next(n for n, line in enumerate(lines) if line.startswith("line,kind,x_m"))
    rows = list(csv.DictReader(lines[start:]))
    off = {point.place: point for point in demo_answer().lines.points}
    assert len(rows) == len(off)
    for row, point in zip(rows, off.values(), strict=True):
        assert row["not_judged"] == point.not_judged
        for key in ("off_mm", "half_breadth_off_mm", "height_off_mm"):
            read = float(row[key]) if row[key] else None
            assert read == pytest.approx(getattr(point, key), abs=1e-6)
    assert all(row["not_judged"] or row["height_off_mm"] for row in rows)
