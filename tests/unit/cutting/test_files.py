"""The files of a cut pack: sound, stamped, full size where they say so."""

import csv
import io
import itertools
import json
from contextlib import closing

import numpy as np
import openpyxl
import pypdfium2
import pytest
import shapely
from refits import boat, demo_document

from hullchange.cutting.files import cut_files
from hullchange.cutting.labels import code_words
from hullchange.cutting.pack import QUICK, cut_pack
from hullchange.cutting.templates import CHECK, CORNER, TILE
from hullchange.plain_words import plate_in_words
from hullchange.shop.contour import Contour
from hullchange.shop.dxf import audited, read_again
from hullchange.shop.nest import Shape, Spacing, require_sound
from hullchange.shop.templates import laid_on_paper, tiles_of

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def pack():
    return cut_pack(boat(demo_document()), QUICK)


@pytest.fixture(scope="module")
def files(pack):
    return cut_files(pack)


def text_of(paper):
    with closing(pypdfium2.PdfDocument(paper)) as read:
        return " ".join(page.get_textpage().get_text_range() for page in read)


def rows_of(files, name):
    text = files[name].decode()
    return list(csv.DictReader(io.StringIO(text.split("\n\n", 1)[1])))


def test_one_service_file_for_each_mark_and_its_quantity(pack, files):
    service = {n.removeprefix("service/") for n in files if n.startswith("service/")}
    rows = rows_of(files, "service/quantities.csv")
    assert {row["file"] for row in rows} == service - {"quantities.csv"}
    assert sum(int(row["quantity"]) for row in rows) == len(pack.pieces)
    for name in service - {"quantities.csv"}:
        assert {layer for layer, _, _ in read_again(files[f"service/{name}"].decode())} == {
            "CUT"
        }


def test_every_dxf_is_sound_and_says_what_it_was_made_from(pack, files):
    texts = [content.decode() for name, content in files.items() if name.endswith(".dxf")]
    assert len(texts) > 30
    for text in texts:
        assert audited(text) == []
        assert pack.stamp.document in text[:400]
        assert "unsigned" in text[:400]


def test_a_nest_holds_its_pieces_where_the_placements_say(pack, files):
    placements = json.loads(files["placements.json"])
    assert placements["document_sha256"] == pack.stamp.document
    assert placements["state"] == "unsigned"
    sheet = next(n for n in placements["nests"] if n["thickness_mm"] == 4 and n["sheet"] == 1)
    loops = [
        shapely.Polygon(Contour(nodes).points)
        for layer, _, nodes in read_again(files["yard/nest-4mm-1.dxf"].decode())
        if layer == "CUT"
    ]
    for row in sheet["pieces"]:
        ring = next(p for p in pack.pieces if p.id == row["id"]).rings[0]
        placed = ring.placed(np.radians(row["turn_deg"]), np.array(row["shift_m"]))
        wanted = shapely.Polygon(placed.points)
        assert max(loop.intersection(wanted).area for loop in loops) == pytest.approx(
            wanted.area, rel=1e-4
        )


def test_the_yards_nests_are_drawn_on_all_kinds_of_paper(files):
    nests = {n.rsplit(".", 1)[0] for n in files if n.startswith("yard/nest-")}
    assert len(nests) >= 7
    for nest in nests:
        assert files[f"{nest}.svg"].startswith(b"<svg")
        assert files[f"{nest}.pdf"].startswith(b"%PDF")
        assert f"{nest}.dxf" in files


def pages(content, dpi):
    with pypdfium2.PdfDocument(content) as document:
        for page in document:
            yield np.asarray(page.render(scale=dpi / 72.0).to_pil().convert("L"))


def test_the_check_square_of_a_template_measures_a_hundred_millimetres(files):
    first = next(pages(files["torch/COCKPIT-05.pdf"], 254.0))
    dark = first[: first.shape[0] - 400] < 128  # the page's lower part holds no square
    columns = np.nonzero(dark.sum(axis=0) > 700)[0]
    rows = np.nonzero(dark.sum(axis=1) > 700)[0]
    for found in (columns, rows):
        assert (found.max() - found.min()) / 10.0 == pytest.approx(CHECK, abs=0.35)


def test_every_tile_of_a_template_shows_the_steel_that_lies_in_its_window(pack, files):
    scale, side = 0.5, np.array(TILE) / 1e3  # pixels a point
    for name in ("PLATFORM-02-S", "HOUSE-04-A", "COCKPIT-04-P"):
        piece = next(p for p in pack.pieces if p.id == name)
        tiles = tiles_of(piece, tuple(side))
        sheets = list(pages(files[f"torch/{name}.pdf"], 72.0 * scale))[1:]
        assert len(sheets) == len(tiles) > 2
        for sheet, (row, column) in zip(sheets, tiles, strict=True):
            left, low = CORNER
            at = np.array([left, low, left + TILE[0], low + TILE[1]]) * scale * 72.0 / 25.4
            x0, y0, x1, y1 = (int(v) for v in at)
            drawn = sheet[len(sheet) - y1 : len(sheet) - y0, x0:x1] < 230
            cross = int(5.0 * scale * 72.0 / 25.4)
            for y, x in itertools.product((slice(cross), slice(-cross, None)), repeat=2):
                drawn[y, x] = False  # the corner crosses
            corner = np.array([column, row]) * side
            window = shapely.box(*corner, *(corner + side)).buffer(-0.006)
            if window.intersection(piece.region.boundary).length > 0.02:
                assert drawn.sum() > 5, (name, row, column)


def test_the_roll_holds_every_piece_once_at_full_size(pack, files):
    assert pack.roll == 914.0
    with pypdfium2.PdfDocument(files["torch/roll-914mm.pdf"]) as document:
        words = " ".join(page.get_textpage().get_text_bounded() for page in document)
        for page in document:
            width, height = (side * 25.4 / 72.0 for side in page.get_size())
            assert height == pytest.approx(914.0)
            assert width <= 5080.0 + 1e-6
        room = 5080.0 - 125.0 - 20.0, 914.0 - 20.0
        strips = [p for p in pack.pieces if (p.size * 1e3 > np.array(room)).any()]
        assert {p.id for p in pack.pieces if f"{p.id}, strip" in words} == {
            p.id for p in strips
        }
        for page in list(document)[-2:]:  # strips, with lines on them beside the square's
            drawn = np.asarray(page.render(scale=0.3).to_pil().convert("L"))[:, 125:-25]
            assert (drawn < 200).sum() > 300
        shown = document[0].render(scale=254.0 / 72.0, crop=(0, 0, 0, 0), grayscale=True)
        dark = shown.to_numpy()[-1200:, :1150].squeeze() < 128
    for axis in (0, 1):
        (at,) = np.nonzero(dark.sum(axis=axis) > 900)
        near, far = (at[side].mean() for side in (at < at.mean(), at > at.mean()))
        assert (far - near) / 10.0 == pytest.approx(100.0, abs=0.05)  # a pixel is 0.1 mm


def test_paper_holds_every_shape_once_clear_of_the_others(pack):
    shapes = {p.id: Shape(p.id, p.region) for p in pack.pieces}
    nests, wider = laid_on_paper(tuple(shapes.values()), (4.9, 0.59))
    assert wider
    held = {name: one for name, one in shapes.items() if one not in wider}
    require_sound(nests, held, Spacing(0.010, 0.0))


def test_the_tiles_of_a_template_join_to_the_piece(pack, files):
    piece = next(p for p in pack.pieces if p.id == "COCKPIT-05")
    across = int(np.ceil(piece.size[0] * 1e3 / 180.0))
    up = int(np.ceil(piece.size[1] * 1e3 / 250.0))
    assert len(list(pages(files["torch/COCKPIT-05.pdf"], 20.0))) == 1 + across * up


def test_offsets_lie_on_the_contour(pack, files):
    rows = rows_of(files, "torch/offsets.csv")
    pieces = {p.id: p for p in pack.pieces}
    assert {row["id"] for row in rows} == set(pieces)
    for row in rows[::7]:
        ring = pieces[row["id"]].rings[int(row["contour"]) - 1]
        at = shapely.Point(float(row["along_mm"]) / 1e3, float(row["offset_mm"]) / 1e3)
        assert shapely.LinearRing(ring.points).distance(at) < 0.15e-3


def test_lists_have_columns_to_tick_off(pack, files):
    rows = rows_of(files, "yard/cut-list.csv")
    assert {row["id"] for row in rows} == {item.id for item in (*pack.pieces, *pack.steel.bars)}
    assert {"cut", "checked", "welded"} <= set(rows[0])
    book = openpyxl.load_workbook(io.BytesIO(files["yard/lists.xlsx"]))
    assert book.sheetnames[0] == "cut-list"
    assert book["cut-list"]["B2"].value == pack.stamp.document
    assert book["cut-list"].max_row > len(rows)


def test_what_comes_off_is_listed_and_drawn(pack, files):
    rows = rows_of(files, "yard/cut-out.csv")
    old = [plate for off in pack.comes_off for plate in off.plates]
    assert [row["id"] for row in rows if row["order"]] == [plate.piece.id for plate in old]
    fuel = next(row for row in rows if row["id"] == "fuel")
    assert (fuel["lift_by"], float(fuel["mass_kg"])) == ("pumped out", 126.0)
    with pypdfium2.PdfDocument(files["yard/cut-out.pdf"]) as document:
        words = [page.get_textpage().get_text_bounded() for page in document]
        for page in document:
            right, top = page.get_size()
            for thing in page.get_objects():
                x, y, x_end, y_end = thing.get_bounds()
                assert min(x, y, right - x_end, top - y_end) > 0.0, "runs off the paper"
    assert sum(": OLD-" in page.split("\n")[0] for page in words) == len(old)
    whole = " ".join(words)
    for text in (
        "rig loads",
        "hollow sections",
        "OLD-HOUSE-04 roof: 176 kg bare",
        "Lifting points",
    ):
        assert text in whole


def test_every_label_fits_a_code_that_says_revision_and_mark(pack, files):
    assert code_words(pack, "HOUSE-01-S") == (
        f"HULLCHANGE WORKING {pack.stamp.document[:16].upper()} HOUSE-01-S UNSIGNED"
    )
    count = len(pack.pieces) + len(pack.steel.bars)
    with pypdfium2.PdfDocument(files["yard/labels.pdf"]) as document:
        words = " ".join(page.get_textpage().get_text_bounded() for page in document)
        assert len(document) == -(-count // 24)
    for row in (*pack.pieces, *pack.steel.bars):
        # whole, the side at its end included
        assert plate_in_words(row.part, row.plate.id) in words


def test_the_yards_paper_reads_names_in_words_and_never_adds_steel_twice(pack, files):
    names = ("labels", "plates", "cut-out")
    paper = {name: text_of(files[f"yard/{name}.pdf"]) for name in names}
    old = [plate.piece for off in pack.comes_off for plate in off.plates]
    ids = {
        one.plate.id for one in (*pack.pieces, *pack.steel.bars, *old) if "-" in one.plate.id
    }
    assert ids
    assert [one for one in ids if f" {one}" in " ".join(paper.values())] == []
    assert "house side starboard" in paper["plates"]
    assert "Strength is not checked." in paper["plates"]
    assert "never add the two" in paper["cut-out"]


def test_the_note_names_state_layers_and_cautions(pack, files):
    note = files["note.txt"].decode()
    for words in (pack.stamp.document, "UNSIGNED", "kerf", "Cut nothing on a stale", "BEND"):
        assert words in note
    for words in (
        "Strength is not checked.",
        "thickness of old plate",
        "Ashore, move the shores",
    ):
        assert words in note


def test_every_list_says_that_strength_is_not_screened(files):
    lists = [name for name in files if name.endswith(".csv")]
    assert lists
    for name in lists:
        assert "strength,Strength is not checked." in files[name].decode(), name
    with pypdfium2.PdfDocument(files["yard/cut-out.pdf"]) as document:
        words = " ".join(page.get_textpage().get_text_bounded() for page in document)
    assert "Strength is not checked." in words


def test_the_same_document_gives_the_same_files(pack, files):
    again = cut_files(pack)
    assert {n for n in files if files[n] != again[n]} == set()


def test_a_plate_sheet_says_the_radius_of_its_scallops(pack, files):
    pages = pypdfium2.PdfDocument(files["yard/plates.pdf"])
    for page, piece in zip(pages, pack.pieces, strict=True):
        is_stated = "Scallops (R, mm)" in page.get_textpage().get_text_bounded()
        assert is_stated == any(name in piece.plate.id for name in ("knee", "bracket", "floor"))
