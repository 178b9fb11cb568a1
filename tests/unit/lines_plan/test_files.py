"""The lines plan on paper: words clear of each other, scale true, files read back."""

import csv
import io
import re
from itertools import combinations
from xml.etree import ElementTree

import ezdxf.recover
import numpy as np
import pypdfium2
import pytest
from plans import KINDS, boat_of_kind, boat_with, hull_of_kind, origin_of, plan_of_kind

from hullchange.lines_plan.drawing import plan_sheet
from hullchange.lines_plan.export import plan_file
from hullchange.lines_plan.files import plan_dxf, plan_svg
from hullchange.lines_plan.layout import FRAME, PAPERS
from hullchange.lines_plan.lengths import FEET, METRIC
from hullchange.lines_plan.offsets import faired_table, offset_rows, readings_table
from hullchange.lines_plan.pages import TABLE_PAGE, page_labels, parted, plan_pdf
from hullchange.lines_plan.plan import lines_plan
from hullchange.lines_plan.sheet import PENS, Label, spread, without_overlaps, wrapped
from hullchange.lines_plan.title import title_block
from hullchange.present.writing import Writing
from hullchange.quantity_text import SHIPWRIGHTS, length_of

EVERY = ("demo", *KINDS)
SVG = "{http://www.w3.org/2000/svg}"


def sheet_of(kind, length=10.0, paper=None, lengths=METRIC):
    boat = boat_of_kind(kind, length)
    return plan_sheet(plan_of_kind(kind, length, lengths), origin_of(boat), paper)


def overlapping(labels):
    """Pairs of words whose boxes have an area in common."""
    pairs = combinations(labels, 2)
    return [
        (a.words, b.words)
        for a, b in pairs
        if a.box[0] < b.box[2]
        and b.box[0] < a.box[2]
        and a.box[1] < b.box[3]
        and b.box[1] < a.box[3]
    ]


SHEETS = [(kind, 10.0, None) for kind in EVERY]
SHEETS += [("multi-chine", 18.0, None), ("single-chine", 6.0, None), ("round", 6.0, "A3")]
SHEETS += [("canoe-stern", 18.0, "A3"), ("long-keel", 6.0, "A0"), ("barge", 14.0, "A3")]


IN_FEET = [("demo", 10.0, None), ("round", 6.0, "A3"), ("multi-chine", 18.0, "A3")]


@pytest.mark.parametrize(
    ("kind", "length", "paper", "lengths"),
    [*((*one, METRIC) for one in SHEETS), *((*one, FEET) for one in IN_FEET)],
)
def test_words_stand_clear_of_each_other_and_everything_within_the_frame(
    kind, length, paper, lengths
):
    sheet = sheet_of(kind, length, paper, lengths)
    assert overlapping(sheet.labels) == []
    wide, high = sheet.layout.size_mm
    boxes = np.array([label.box for label in sheet.labels])
    points = np.concatenate([stroke.points for stroke in sheet.strokes])
    for low, top in ((boxes[:, :2], boxes[:, 2:]), (points, points)):
        assert (low >= FRAME - 1e-9).all()
        assert (top <= np.array([wide, high]) - FRAME + 1e-9).all()


@pytest.mark.parametrize(("kind", "length", "paper"), SHEETS)
def test_nothing_of_the_title_block_and_no_whole_station_is_left_out(kind, length, paper):
    sheet = sheet_of(kind, length, paper)
    plan = plan_of_kind(kind, length)
    assert set(title_block(plan, sheet.layout, sheet.origin).labels) <= set(sheet.labels)
    words = [label.words for label in sheet.labels]
    for number in range(11):
        assert words.count(str(number)) >= 2
    assert words.count("DWL") >= 4
    assert {mark.replace("-", " ") for mark in plan.marks} <= set(words)


@pytest.mark.parametrize("kind", EVERY)
def test_words_of_the_tables_stand_clear_and_on_the_page(kind):
    sheet, plan = sheet_of(kind), plan_of_kind(kind)
    for table in (faired_table(plan), readings_table(plan)):
        parts = parted(table)
        shown = [row[0] for part in parts for row in part.rows]
        assert shown[: len(table.rows)] == [row[0] for row in table.rows]
        for part in parts:
            labels = page_labels(sheet, part, "page 1 of 9")
            assert overlapping(labels) == []
            boxes = np.array([label.box for label in labels])
            assert (boxes > 8.0).all()
            assert (boxes[:, 2:] < np.array(TABLE_PAGE) - 8.0).all()


def test_the_scale_is_the_largest_that_fits_and_smaller_on_smaller_paper():
    scales = [sheet_of("demo", paper=paper).layout.scale for paper in PAPERS]
    assert scales == sorted(scales, reverse=True)
    assert set(scales) <= set(METRIC.scales)
    assert (sheet_of("demo").layout.paper, sheet_of("demo").layout.scale) == ("A1", 25)
    assert sheet_of("single-chine", 6.0).layout.paper in ("A3", "A2")
    assert sheet_of("multi-chine", 18.0).layout.scale <= 25


@pytest.mark.parametrize("kind", EVERY)
def test_the_drawing_file_is_clean_and_at_full_size_in_the_hulls_own_coordinates(kind):
    sheet, plan = sheet_of(kind), plan_of_kind(kind)
    content = plan_dxf(sheet)
    document, auditor = ezdxf.recover.read(io.BytesIO(content))
    assert (auditor.errors, auditor.fixes) == ([], [])
    assert document.units == ezdxf.units.MM
    space = document.modelspace()
    assert {entity.dxf.layer for entity in space} <= set(PENS)
    polylines = [
        np.array(one.get_points("xy")) / 1e3
        for one in space.query('LWPOLYLINE[layer=="SHEER"]')
    ]
    sheer = plan.hull.lines.sheer
    profile = next(one for one in polylines if np.ptp(one[:, 0]) > 0.9 * plan.hull.length)
    assert profile[:, 1] == pytest.approx(sheer.at(profile[:, 0])[:, 1], abs=2e-4)
    words = {entity.dxf.text for entity in space.query("TEXT")}
    assert words == {label.words for label in sheet.labels}
    assert "full size, millimetres" in content.decode("cp1252")


@pytest.mark.parametrize(("kind", "length"), [("demo", 10.0), ("single-chine", 6.0)])
def test_the_paper_has_its_size_and_the_drawing_its_scale(kind, length):
    boat, plan = boat_of_kind(kind, length), plan_of_kind(kind, length)
    sheet = sheet_of(kind, length)
    fine = 4.0  # pixels a millimetre
    with pypdfium2.PdfDocument(plan_pdf(plan, origin_of(boat))) as document:
        page = document[0]
        size = np.array(page.get_size()) * 25.4 / 72.0
        assert size == pytest.approx(sheet.layout.size_mm, abs=0.01)
        shown = np.asarray(page.render(scale=fine * 25.4 / 72.0).to_pil().convert("RGB"), int)
        words = page.get_textpage().get_text_bounded()
        others = [one.get_textpage().get_text_bounded() for one in list(document)[1:]]
    assert f"Scale 1 : {sheet.layout.scale}" in words
    blue = (shown[..., 2] > shown[..., 0] + 60) & (shown[..., 2] > 120)
    extent = sheet.layout.extent
    water = np.flatnonzero(blue[int(np.argmax(blue.sum(axis=1)))]) / fine
    profile = water[water < sheet.layout.body.low_mm[0] - 1.0]
    across = (extent.aft - extent.fore) * 1e3 / sheet.layout.scale
    assert np.ptp(profile) == pytest.approx(across, abs=0.6)
    assert any("faired" in text for text in others)
    assert any("as read" in text for text in others)


def test_a_large_sheet_comes_on_the_paper_at_hand_too():
    boat = boat_of_kind("demo")
    with pypdfium2.PdfDocument(plan_pdf(plan_of_kind("demo"), origin_of(boat))) as document:
        sizes = [np.array(page.get_size()) * 25.4 / 72.0 for page in document]
    assert [tuple(size.round().astype(int)) for size in sizes[:2]] == [(841, 594), (420, 297)]
    assert {tuple(size.round().astype(int)) for size in sizes[2:]} == {(297, 210)}


@pytest.mark.parametrize("kind", EVERY)
def test_the_picture_is_well_formed_and_in_millimetres(kind):
    sheet = sheet_of(kind)
    root = ElementTree.fromstring(plan_svg(sheet).decode())
    wide, high = sheet.layout.size_mm
    assert (root.get("width"), root.get("height")) == (f"{wide:g}mm", f"{high:g}mm")
    assert root.get("viewBox") == f"0 0 {wide:g} {high:g}"
    assert [one.text for one in root.iter(f"{SVG}text")] == [one.words for one in sheet.labels]
    assert {group.get("id") for group in root.iter(f"{SVG}g")} >= {"SHEER", "STATIONS", "DWL"}


def test_the_sheet_says_where_the_lines_come_from_and_what_its_points_stand_off():
    boat = boat_of_kind("demo")
    with pypdfium2.PdfDocument(plan_file("lines-plan.pdf", boat, origin_of(boat))) as document:
        words = [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]
    assert "The points of the lines are as measured, each to 5 mm" in words[0]
    assert "as read" in words[-1]
    assert " off " in words[-1]
    hull = hull_of_kind("round", 12.0, 3)
    hull["from"] = {"source": "dimensions", "plus_minus_m": 0.06}
    guessed = boat_with(hull)
    with pypdfium2.PdfDocument(
        plan_file("lines-plan.pdf", guessed, origin_of(guessed))
    ) as document:
        words = [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]
    assert "are guessed from the main dimensions, each to 60 mm" in words[0]
    assert not any("as read" in text for text in words)


def test_every_file_says_what_it_is_of_and_comes_out_the_same_again():
    boat = boat_of_kind("long-keel", 6.0)
    origin = origin_of(boat)
    for name in ("lines-plan.pdf", "lines-plan.svg", "lines-plan.dxf", "offsets.csv"):
        content = plan_file(name, boat, origin)
        assert content == plan_file(name, boat, origin)
        if name != "lines-plan.pdf":
            assert origin.document.encode() in content
    rows = list(csv.reader(io.StringIO(plan_file("offsets.csv", boat, origin).decode())))
    columns, *below = rows[rows.index([]) + 1 :]
    assert columns[:2] == ["station", "x_m"]
    assert {len(row) for row in below} == {len(columns)}


def test_crosses_stand_where_the_points_were_read():
    sheet, plan = sheet_of("demo"), plan_of_kind("demo")
    crosses = np.array([s.points.mean(axis=0) for s in sheet.strokes if s.layer == "READINGS"])
    view = sheet.layout.profile
    for point in plan.readings:
        at = view.on_paper(np.array([[point.at[0], point.at[2]]]))[0]
        assert np.hypot(*(crosses - at).T).min() < 1e-9


def test_fore_sections_are_to_starboard_and_after_ones_to_port():
    sheet, plan = sheet_of("demo"), plan_of_kind("demo")
    middle = sheet.layout.body.origin_mm[0]
    sections = [s.points for s in sheet.strokes if s.layer == "STATIONS"]
    starboard = [points for points in sections if points[:, 0].max() > middle + 1.0]
    fore = [s for s in plan.stations if s.x <= plan.length_waterline / 2.0 + 1e-9]
    aft = [s for s in plan.stations if s.x >= plan.length_waterline / 2.0 - 1e-9]
    assert len(starboard) >= len(fore)  # and the sample among the signs
    port = [p for p in sections if sheet.layout.body.low_mm[0] - 1 < p[:, 0].min() < middle - 1]
    assert len(port) == len(aft)


def test_many_marks_with_long_names_stay_apart():
    hull = hull_of_kind("double-chine", 9.0, 2)
    mark = {"sheer_z_m": 1.0, "freeboard_m": {"port": 1.0, "starboard": 1.0}}
    marks = {f"mark-with-a-name-{n}": mark | {"x_m": 0.4 * n} for n in range(12)}
    boat = boat_with(hull, **marks)
    sheet = plan_sheet(lines_plan(boat), origin_of(boat), "A3")
    names = [label for label in sheet.labels if label.words.startswith("mark w")]
    assert len(names) == 12
    view = sheet.layout.profile
    assert min(name.box[0] for name in names) >= view.low_mm[0]
    assert max(name.box[2] for name in names) <= view.high_mm[0]
    assert overlapping(sheet.labels) == []


def test_of_words_that_would_overlap_the_more_important_stay():
    far, near, first = (
        Label("far", (50.0, 0.0), 3.0, rank=9),
        Label("near", (1.0, 1.0), 3.0, rank=2),
        Label("first", (0.0, 0.0), 3.0, rank=1),
    )
    assert without_overlaps([far, near, first]) == (first, far)


def test_boxes_in_a_row_keep_their_order_and_their_distance():
    at = spread([0.0, 0.1, 0.2, 9.9], [1.0, 2.0, 1.0, 1.0], 0.0, 10.0)
    assert at == pytest.approx([0.5, 2.0, 3.5, 9.5])
    assert spread([3.0, 3.0], [4.0, 4.0], 0.0, 5.0) == pytest.approx([2.0, 6.0])


def test_words_are_wrapped_to_a_width():
    rows = wrapped("one two three four five", 3.0, 18.0)
    assert " ".join(rows) == "one two three four five"
    assert all(Label(row, (0.0, 0.0), 3.0).width <= 18.0 for row in rows)


@pytest.mark.parametrize("kind", ["demo", "round", "long-keel"])
def test_the_table_in_feet_reads_back_to_half_a_sixteenth(kind):
    plan = plan_of_kind(kind, 10.0, FEET)
    rows = {row.name: row.values for row in offset_rows(plan)}
    table = [row for row in faired_table(plan).rows if len(row) > 1]
    assert "feet-inches-eighths" in faired_table(plan).title
    assert len(table) == len(offset_rows(plan))
    for (name, *cells), row in zip(table, offset_rows(plan), strict=True):
        for cell, value in zip(cells, row.values, strict=True):
            assert (cell == "-") == (value is None), name
            if value is not None:
                read = length_of(cell, SHIPWRIGHTS)
                assert read == pytest.approx(value, abs=0.0254 / 32 + 1e-9)
    assert any(cell.startswith("-") and cell != "-" for row in table for cell in row[1:])
    assert rows


def test_waterlines_and_scales_are_round_ones_of_feet():
    plan = plan_of_kind("demo", 10.0, FEET)
    for level in (*plan.waterlines, *plan.buttocks):
        assert level / 0.0762 == pytest.approx(round(level / 0.0762), abs=1e-4)  # 3 inches
    sheet = sheet_of("demo", lengths=FEET)
    assert sheet.layout.scale in FEET.scales
    words = {label.words for label in sheet.labels}
    assert {"1 ft", "Print at full size; lengths in feet-inches-eighths."} <= words
    assert any(word.endswith(" lb") for word in words)
    assert not any(word.endswith((" m", " kg")) for word in words)


def test_the_files_follow_the_readers_units_and_the_drawing_stays_in_millimetres():
    boat = boat_of_kind("round", 10.0)
    metric, feet = (
        {
            name: plan_file(name, boat, origin_of(boat), Writing(units))
            for name in ("lines-plan.svg", "lines-plan.dxf", "offsets.csv")
        }
        for units in ("metric", "imperial")
    )
    assert b"feet-inches-eighths" in feet["lines-plan.svg"]
    assert b"feet-inches-eighths" not in metric["lines-plan.svg"]
    columns = feet["offsets.csv"].decode().split("station,")[1].split("\n")[0]
    assert "x_ft" in columns
    feet_of = re.findall(r"buttock-([0-9.]+)_z_ft", columns)
    assert feet_of
    assert all(float(one) % 0.25 == 0.0 for one in feet_of)
    x, _, z = boat.hull.lines.sheer.points[0] * 1000.0
    for files in (metric, feet):
        document, _ = ezdxf.recover.read(io.BytesIO(files["lines-plan.dxf"]))
        sheer = [e for e in document.modelspace() if e.dxf.layer == "SHEER"]
        starts = np.array([next(iter(e.get_points("xy"))) for e in sheer])
        assert np.abs(starts - [x, z]).max(axis=1).min() < 0.01, "the hull's own x and z [mm]"
