"""The Stability page: levers before and after, the boat heeled, conditions, criteria."""

import csv
import io
import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from onpage import field, settled
from playwright.sync_api import expect

NOW = ".lever-plot .curve.now"
SLIDER = "Heel, on the plot of righting levers"


@pytest.fixture
def heeled(looking):
    """The Stability page with its curves drawn."""
    page = looking("#/stability")
    page.locator(NOW).wait_for()
    settled(page)
    return page


def read(page, name):
    """A value of the readout by its name."""
    cell = page.locator(
        ".readout div", has=page.locator("dt", has_text=re.compile(f"^{name}$"))
    )
    return cell.locator("dd").inner_text()


def turned(page, heel):
    """Set the heel by its slider."""
    page.get_by_label("heel", exact=True).fill(str(heel))


def test_every_curve_of_before_and_after_is_drawn_with_what_happens_where(heeled):
    for look in ("now", "bare", "before"):
        assert heeled.locator(f".lever-plot .curve.{look}").count() == 1
    assert heeled.locator(".lever-plot .band").count() == 1
    assert heeled.locator(".lever-plot .area").count() == 2
    words = " ".join(heeled.locator(".lever-plot .flag-words").all_text_contents())
    for what in ("vanishes 1", "without house 1", "downflooding", "all left open", "deck edge"):
        assert what in words
    lead = heeled.locator(".levers .lead").inner_text()
    assert re.search(r"Vanishing angle \d+\.\d°, with the house not counted \d+\.\d°", lead)
    heeled.get_by_label("as found, house not counted").check()
    expect(heeled.locator(".lever-plot .curve.before.bare")).to_have_count(1)


def test_the_curve_answers_a_dragged_house_height_while_it_lasts(heeled):
    answers = []
    heeled.on("response", lambda r: r.request.method == "PATCH" and answers.append(r))
    curve, angles = heeled.locator(NOW), heeled.locator(".angles")
    before, said = curve.get_attribute("d"), angles.inner_text()
    slider = field(heeled, "side_height_m").locator("input[type=range]")
    slider.scroll_into_view_if_needed()
    box = slider.bounding_box()
    middle, at = box["y"] + box["height"] / 2, box["x"] + box["width"] * (0.58 - 0.25) / 0.75
    heeled.mouse.move(at, middle)
    heeled.mouse.down()
    for step in range(1, 9):
        heeled.mouse.move(at + step * 6, middle)
        heeled.wait_for_timeout(40)
    expect(curve).not_to_have_attribute("d", before)
    heeled.mouse.up()
    settled(heeled)
    assert answers[0].request.post_data_json["levers"] is True
    first = answers[0].json()
    assert first["partial"]
    assert all(c["righting_levers"] for c in first["assessment"]["conditions"])
    expect(angles).not_to_have_text(said)


def test_other_pages_do_not_ask_for_levers(looking):
    page = looking("#/stability")
    page.locator(NOW).wait_for()
    page.get_by_role("link", name="Float").click()
    typed = field(page, "side_height_m").locator(".typed input")
    typed.fill("620")
    with page.expect_request(lambda r: r.method == "PATCH") as sent:
        typed.press("Enter")
    assert "levers" not in sent.value.post_data_json
    settled(page)


def test_heel_by_keys_is_read_out_and_heels_the_boat(heeled):
    plot = heeled.get_by_role("slider", name=SLIDER)
    plot.focus()
    heeled.keyboard.press("Home")
    expect(plot).to_have_attribute("aria-valuenow", "0")
    sheer = heeled.locator(".heeled .midship")
    upright = sheer.get_attribute("d")
    for key in ("PageDown", "PageUp", "PageUp", "ArrowRight", "ArrowRight", "ArrowLeft"):
        heeled.keyboard.press(key)
    expect(plot).to_have_attribute("aria-valuenow", "21")
    assert "21° to starboard, lever 0." in plot.get_attribute("aria-valuetext")
    assert read(heeled, "heel") == "21° to starboard"
    assert float(read(heeled, "lever").split()[0]) > 0.2
    assert sheer.get_attribute("d") != upright
    heeled.keyboard.press("End")
    assert read(heeled, "heel").startswith("180°")


def test_the_pointer_on_the_plot_is_the_heel(heeled):
    box = heeled.locator(".lever-plot").bounding_box()
    heeled.mouse.move(box["x"] + box["width"] * 0.5, box["y"] + 100)
    heel = int(read(heeled, "heel").split("°")[0])
    assert 80 < heel < 100
    assert heeled.get_by_label("heel", exact=True).input_value() == str(heel)


def test_openings_go_under_as_she_heels(heeled):
    shown = heeled.locator(".heeled")
    turned(heeled, 0)
    assert heeled.locator(".heeled .opening").count() == 8
    assert heeled.locator(".heeled .opening.wet").count() == 0
    turned(heeled, 72)
    expect(shown).to_contain_text("side windows, starboard")
    assert heeled.locator(".heeled .opening.wet").count() == 1
    turned(heeled, -72)
    expect(shown).to_contain_text("side windows, port")
    turned(heeled, 180)
    assert heeled.locator(".heeled .opening.wet").count() == 8
    heeled.get_by_role("button", name="whole circle").click()
    marks = heeled.locator(".lever-plot .flag-words.vanishing")
    assert marks.count() == 2


def test_a_condition_is_chosen_in_the_table(heeled):
    curve = heeled.locator(NOW)
    before = curve.get_attribute("d")
    rows = heeled.locator(".conditions-table tbody")
    assert rows.count() == 6
    assert heeled.locator(".conditions-table .as_found").count() == 6
    departure = heeled.get_by_role("button", name="Departure")
    departure.click()
    expect(departure).to_have_attribute("aria-pressed", "true")
    expect(curve).not_to_have_attribute("d", before)
    expect(heeled.get_by_role("region", name="Criteria", exact=True)).to_contain_text(
        "Criteria, departure"
    )


def test_a_criterion_opens_its_source_and_its_state_is_a_word(heeled):
    states = {s.strip() for s in heeled.locator(".criteria .state").all_text_contents()}
    assert states <= {"✓ met", "✗ not met", "? to be confirmed", "\N{EN DASH} not answered"}
    assert {"✓ met", "? to be confirmed"} <= states
    index = heeled.get_by_role("button", name="Stability index")
    expect(index).to_have_attribute("aria-expanded", "false")
    index.press("Enter")
    expect(index).to_have_attribute("aria-expanded", "true")
    opened = heeled.locator(".made-from:not([hidden])")
    for what in ("ISO 12217-2", "FKR 1.", "0.0883", "sold, not open"):
        expect(opened).to_contain_text(what)
    assert "complies" not in heeled.locator("main").inner_text()
    colours = heeled.eval_on_selector_all(
        ".criteria .state", "cells => [...new Set(cells.map(c => getComputedStyle(c).color))]"
    )
    assert len(colours) == 1


def test_the_levers_are_saved_as_csv_and_svg(heeled):
    with heeled.expect_download() as saved:
        heeled.get_by_role("button", name="Save CSV").click()
    assert saved.value.suggested_filename == "saltmarrow-survey-state-levers.csv"
    rows = list(csv.DictReader(io.StringIO(saved.value.path().read_text(encoding="utf-8"))))
    assert {row["boat"] for row in rows} == {"refit", "as_found"}
    at_30 = next(row for row in rows if row["boat"] == "refit" and row["heel_deg"] == "30")
    assert read(heeled, "heel") == "30° to starboard"
    assert f"{float(at_30['gz_m']):.3f} m" == read(heeled, "lever")
    with heeled.expect_download() as saved:
        heeled.get_by_role("button", name="Save SVG").click()
    drawing = saved.value.path().read_text(encoding="utf-8")
    assert drawing.startswith("<svg")
    assert "vanishes 12" in drawing
    assert "data-passing" not in drawing
    assert "var(" not in drawing


def test_targets_of_the_curve_stand_among_the_wanted(heeled):
    heeled.locator(".change-choice select").select_option("all together")
    wanted = heeled.locator(".targets")
    expect(wanted).to_contain_text("vanishing angle at least 120°, departure")
    expect(wanted).to_contain_text("vanishing angle without house at least 110°")
    assert "not answered yet" not in wanted.inner_text()


@pytest.mark.parametrize("paper", ["light", "dark"])
def test_axe_finds_nothing_with_everything_open(looking, paper):
    page = looking("#/stability", color_scheme=paper)
    page.locator(NOW).wait_for()
    page.get_by_role("button", name="whole circle").click()
    page.get_by_role("button", name="Stability index").click()
    result = Axe().run(page)
    assert result.violations_count == 0, result.generate_report()


def test_on_a_phone_all_is_there_and_nothing_is_cut_off(looking):
    page = looking("#/stability", viewport={"width": 390, "height": 844}, is_mobile=True)
    page.locator(NOW).wait_for()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    order = page.evaluate(
        "() => ['.strip', '.lever-plot', '.heeled', '.angles', '.openings', '.criteria'].map("
        "s => document.querySelector(s).getBoundingClientRect().top)"
    )
    assert order == sorted(order)
