"""Where a hull comes from, over HTTP: previews change nothing, taking over is one step."""

from pathlib import Path

import pytest

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
