"""Where a hull comes from, over HTTP: previews change nothing, taking over is one step."""

import json
import math
from io import BytesIO
from pathlib import Path

import pytest
from hulls import random_hull
from PIL import Image
from reportlab.pdfgen.canvas import Canvas
from scans import scan_of

EXAMPLES = Path(__file__).parents[2] / "examples"
TABLE = (EXAMPLES / "saltmarrow-lines.csv").read_text(encoding="utf-8")
NINE = {
    **{"hull_type": "multi-chine", "length_m": 9.6, "waterline_m": 8.3, "beam_m": 3.2},
    **{"displacement_kg": 6150.0, "freeboard_forward_m": 1.15, "freeboard_least_m": 0.85},
    **{"freeboard_aft_m": 0.95, "transom_m": 2.1},
}


@pytest.fixture
def ask(page):
    """A preview by its source and what is sent; the refit must stay as it is."""

    def preview(source, **how):
        before = page.read().json()
        answer = page.client.post(f"/api/refits/dot/hull-sources/{source}", **how)
        assert page.read().json()["document"] == before["document"]
        return answer

    return preview


def given(preview, note=None):
    """What a page sends to take a preview over."""
    lines = {
        name: {key: line[key] for key in ("kind", "points_m", "knuckles_at_x_m")}
        for name, line in preview["lines"].items()
    }
    origin = {"source": preview["source"], "plus_minus_m": preview["plus_minus_m"]}
    return {"lines": lines, "origin": origin | ({"note": note} if note else {})}


def test_a_table_is_previewed_with_what_was_not_understood(ask):
    torn = TABLE.replace("\n", "\nsheer,sheer,abc,1,1\n", 2)
    body = ask("table", json={"csv": torn}).json()
    assert [(c["row"], c["column"], c["text"]) for c in body["not_understood"]] == [
        (2, "x_m", "abc"),
        (4, "x_m", "abc"),
    ]
    assert body["source"] == "points"
    assert body["faults"] == body["missing"] == []
    assert body["size"]["volume_m3"] > 5.0
    assert len(body["lines"]["sheer"]["points_m"]) > 5


def test_a_hull_is_guessed_taken_over_and_undone(page, ask):
    body = ask("dimensions", json=NINE).json()
    assert body["size"]["volume_m3"] == pytest.approx(6.0, rel=0.01)
    assert "KM ±" in body["worth"]
    sent = given(body, "brochure")
    answer = page.client.post(
        "/api/refits/dot/hull-sources/lines", json=sent, headers={"If-Match": '"1"'}
    )
    assert answer.status_code == 200, answer.text
    taken = answer.json()
    assert taken["undo_label"] == "lines from main dimensions"
    assert taken["document"]["hull"]["from"] == {
        **{"source": "dimensions", "plus_minus_m": pytest.approx(0.16), "note": "brochure"}
    }
    codes = {finding["code"] for finding in taken["assessment"]["findings"]}
    assert "hull-guessed" in codes
    assert taken["assessment"]["conditions"][0]["plus_minus"]["gm_m"] > 0.1
    page.read()
    assert page.undo().json()["document"]["hull"].get("from") is None


def test_measured_lines_take_the_guess_away(page, ask):
    sent = given(ask("dimensions", json=NINE).json())
    address = "/api/refits/dot/hull-sources/lines"
    page.client.post(address, json=sent, headers={"If-Match": '"1"'})
    page.read()
    taken = page.write("POST", "/lines", json={"csv": TABLE.replace("_m", ""), "unit": "m"})
    assert taken.status_code == 200, taken.text
    assert taken.json()["document"]["hull"]["from"]["source"] == "points"


def test_lines_that_are_no_hull_are_previewed_with_why_and_not_taken(page, ask, refused):
    one = "line,x_m,y_m,z_m\nsheer,0,1,1\nsheer,5,1,1"
    body = ask("table", json={"csv": one}).json()
    assert body["size"] is None
    assert "The centreline is missing" in body["missing"][0]
    assert {fault["code"] for fault in body["faults"]} == {"line-missing"}
    answer = page.client.post(
        "/api/refits/dot/hull-sources/lines", json=given(body), headers={"If-Match": '"1"'}
    )
    refused(answer, 422, "line-missing")
    assert page.read().json()["edit"] == 1


@pytest.mark.parametrize(
    ("source", "sent", "code"),
    [
        ("table", {"csv": ""}, "not-a-lines-table"),
        ("table", {"csv": "a,b,c,d\n1,2,3,4"}, "no-heading"),
        ("table", {"csv": "line,x,y,z\nsheer,1,2,3"}, "unit-missing"),
        ("table", {"csv": TABLE, "unit": "furlong"}, "unknown-unit"),
        ("table", {}, "bad-request"),
        ("dimensions", NINE | {"displacement_kg": 61500.0}, "dimensions-disagree"),
        ("dimensions", NINE | {"hull_type": "catamaran"}, "bad-request"),
        ("dimensions", NINE | {"beam_m": 1e400}, "bad-request"),
    ],
)
def test_bad_input_is_refused_in_words(ask, refused, source, sent, code):
    text = str(sent).replace("'", '"').replace("inf", "1e999") if "beam_m" in sent else None
    how = {"content": text, "headers": {"Content-Type": "application/json"}}
    refused(ask(source, **(how if text else {"json": sent})), 422, code)


OCTETS = {"Content-Type": "application/octet-stream"}


def test_tape_distances_are_previewed(ask):
    marks = "mark;x;y;z\nA;0;2.5;-1.6\nB;4;4.5;-1.6\nC;10;2.5;1.2\nD;5;3;1.5"
    rows = ["line;A;B;C;D"]
    places = ((0.0, 2.5, -1.6), (4.0, 4.5, -1.6), (10.0, 2.5, 1.2), (5.0, 3.0, 1.5))
    for x in (0.0, 3.0, 6.0, 9.0):
        taped = [math.dist((x, 1.0, 0.9), place) for place in places]
        rows.append(";".join(["sheer", *(f"{d:.4f}" for d in taped)]))
    sent = {"marks_csv": marks, "distances_csv": "\n".join(rows), "unit": "m"}
    body = ask("tape", json=sent).json()
    sheer = body["lines"]["sheer"]
    assert [p[2] for p in sheer["points_m"]] == pytest.approx([0.9] * 4, abs=0.003)
    assert min(sheer["errors_mm"]) > 3.0
    assert "The centreline is missing" in body["missing"][0]


def test_a_traced_drawing_is_previewed(ask, refused):
    corners = [(0.0, -0.5), (10.0, -0.5), (0.0, 1.5), (10.0, 1.5)]
    marks = [{"at_px": [100 * a, 900 - 100 * b], "place_m": [a, b]} for a, b in corners]
    pixels = [[100 * x, 900 - 100 * (1.0 + 0.02 * x)] for x in range(11)]
    curve = {"line": "sheer", "points_px": pixels}
    views = [
        {"view": view, "is_flat": True, "marks": marks, "curves": [curve]}
        for view in ("profile", "plan")
    ]
    body = ask("drawing", json={"views": views}).json()
    assert body["lines"]["sheer"]["points_m"][5] == pytest.approx([5.0, 1.1, 1.1])
    refused(ask("drawing", json={"views": [views[0] | {"marks": []}]}), 422, "no-scale")
    refused(ask("drawing", json={"views": []}), 422, "nothing-traced")


@pytest.mark.slow
def test_a_scan_is_shown_picked_and_previewed(ask, refused):
    scan = scan_of(random_hull(4), 4)
    content = "\n".join(" ".join(f"{v:.4f}" for v in p) for p in scan.points.tolist()).encode()
    how = {"content": content, "headers": OCTETS}
    query = {"name": "hull.xyz", "unit": "m"}
    shown = ask("cloud", params=query, **how).json()
    assert shown["count"] == len(scan.points)
    assert 5000 < len(shown["points_m"]) < 20_000
    picks = {"waterline_m": scan.waterline.tolist(), "bow_m": scan.bow.tolist()}
    body = ask("scan", params=query | {"picks": json.dumps(picks)}, **how).json()
    assert body["source"] == "scan"
    assert body["faults"] == []
    assert body["size"]["volume_m3"] > 0.5
    refused(ask("scan", params=query, **how), 422, "too-few-marks")
    refused(ask("scan", params=query | {"picks": '{"bow": 1}'}, **how), 422, "bad-picks")
    refused(ask("scan", params=query | {"unit": "mm"}, **how), 422, "too-few-marks")


@pytest.mark.parametrize(
    ("source", "query", "content", "status", "code"),
    [
        ("scan", {"name": "a.jpg", "unit": "m"}, b"x", 422, "not-a-scan"),
        ("scan", {"name": "a.xyz", "unit": ""}, b"1 2 3", 422, "unit-missing"),
        ("cloud", {"name": "a.ply", "unit": "m"}, b"ply\n", 422, "not-a-scan"),
        ("cloud", {"name": "a.ply"}, b"ply\n", 422, "bad-request"),
        ("cloud", {"name": "a.xyz", "unit": "m"}, bytes(21 * 1024**2), 413, "too-large"),
        ("step", {"name": "a.step"}, b"x", 422, "bad-request"),
    ],
)
def test_bad_files_are_refused(ask, refused, source, query, content, status, code):
    answer = ask(source, params=query, content=content, headers=OCTETS)
    assert len(refused(answer, status, code)["detail"]) < 250


@pytest.mark.slow
@pytest.mark.cad
def test_cad_files_and_pdf_pages_are_read_in_their_own_process(ask, refused):
    query = {"name": "a.step", "waterline_z_m": 0.0}
    refused(ask("step", params=query, content=b"x", headers=OCTETS), 422, "not-a-cad-file")
    refused(ask("pdf-page", content=b"no pdf", headers=OCTETS), 422, "not-a-pdf")
    file = BytesIO()
    canvas = Canvas(file, pagesize=(842, 595))
    canvas.line(100, 100, 700, 100)
    canvas.save()
    page = ask("pdf-page", content=file.getvalue(), headers=OCTETS)
    assert page.headers["content-type"] == "image/png"
    assert page.headers["x-page-count"] == "1"
    with Image.open(BytesIO(page.content)) as picture:
        assert picture.size == (3000, 2120)
        assert picture.convert("L").getextrema()[0] < 100
    answer = ask("pdf-page", params={"page": 2}, content=file.getvalue(), headers=OCTETS)
    refused(answer, 422, "unknown-page")


def test_the_length_of_the_waterline_comes_with_lines_that_are_taken(page, ask):
    sent = given(ask("dimensions", json=NINE).json()) | {"length_waterline_m": 8.123}
    page.read()
    taken = page.client.post(
        "/api/refits/dot/hull-sources/lines", json=sent, headers={"If-Match": f'"{page.seen}"'}
    )
    assert taken.json()["document"]["hull"]["length_waterline_m"] == 8.123
