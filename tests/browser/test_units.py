"""Feet and inches, a decimal comma, and names in any script, chosen once and on every page."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from onpage import (
    all_figures,
    field,
    figure,
    saved,
    wait_until_drawn,
    wait_until_fits_across,
    wait_until_settled,
)
from playwright.sync_api import expect

FEET = "feet and inches"
NAMES = {"Чайка": "chayka", "Αιγαίο": "aigaio", "海鸥": "change-1"}
PAGES = ("float", "stability", "ledger", "boat", "print", "guide")


def choose(page, **wanted):
    """Chooses units, or the decimal sign, in the header."""
    page.locator(".units summary").click()
    for label, value in wanted.items():
        page.locator(".units").get_by_label(label).select_option(value)
    if page.locator(".units[open]").count():
        page.locator(".units summary").click()


def turn_to(page, place):
    """Goes to another page of the boat."""
    page.goto(f"{page.url.split('#')[0]}#/{place}")
    page.locator(f".on-{place}:not(:has(.waiting))").wait_for()
    wait_until_settled(page)


def test_feet_and_inches_are_shown_and_typed_and_the_file_stays_metric(boat, page):
    _, file = boat
    before = file.read_bytes()
    assert "mm by the stern" in figure(page, "trim")
    choose(page, units=FEET)
    assert re.search(r"\d+ \d+/\d+ in\s+by the stern", figure(page, "trim"))
    assert re.search(r"27,\d{3} lb", figure(page, "displacement"))
    assert re.search(r"17\u2032 \d", figure(page, "LCG"))
    height = field(page, "side_height_m").get_by_role("textbox")
    shown = height.input_value()
    height.focus()
    height.press("Enter")
    # untouched: what is shown is rounded to a sixteenth, the value is not
    wait_until_settled(page)
    assert file.read_bytes() == before
    for entry in ("2' 1 1/2", "2-1-4", "647.7 mm", "25 1/2"):
        height.fill(entry)
        height.press("Enter")
        expect(height).to_have_value("25 1/2")
        wait_until_settled(page)
        assert saved(file, "side_height_m: 0.6477 ")
        page.get_by_role("button", name="Undo").first.click()
        expect(height).to_have_value(shown)
    height.fill("10,000")
    height.press("Enter")
    expect(field(page, "side_height_m").get_by_role("alert")).to_contain_text("number in in")
    height.press("Escape")
    assert saved(file, "side_height_m: 0.58 ")
    page.reload()
    wait_until_drawn(page)
    assert "in\n" in figure(page, "trim") or " in " in figure(page, "trim")
    choose(page, units="metric")
    assert "mm by the stern" in figure(page, "trim")
    page.locator(".units summary").click()
    found = Axe().run(page, context=".head")
    assert found.violations_count == 0, found.generate_report()
    page.set_viewport_size({"width": 390, "height": 844})
    wait_until_fits_across(page)


@pytest.mark.slow
def test_no_metric_unit_is_left_on_a_page_in_feet(open_page):
    page = open_page("#/float")
    choose(page, units=FEET)
    for place in PAGES:
        turn_to(page, place)
        expect(all_figures(page).first).to_contain_text("lb")
        words = page.locator("main").inner_text()
        left = re.findall(r"[^\n]*\d (?:mm|m|kg|cm²|kg/cm)\b[^\n]*", words)
        # what is quoted of a rule stands as it was published
        assert [one for one in left if not re.search("grade|length|tonnes", one)] == [], place


def test_a_comma_is_shown_and_read(boat, page):
    _, file = boat
    choose(page, decimals=",")
    assert re.search(r"0,\d+ m", figure(page, "GM upright"))
    assert "12\u202f" in figure(page, "displacement")
    turn_to(page, "ledger")
    page.get_by_role("button", name="add a weight").first.click()
    adding = page.get_by_role("form", name="A new weight")
    adding.get_by_label("name").fill("Якорь запасной")
    for label, entry in (("mass, kg", "7,25"), ("x, m aft", "1.250"), ("z, m up", "0,9")):
        adding.get_by_label(label).fill(entry)
    adding.get_by_role("button", name="Add", exact=True).click()
    # where the comma is the decimal sign, 1.250 may be twelve hundred and fifty
    expect(adding.locator(".refused")).to_contain_text("Mass and place must be numbers")
    adding.get_by_label("x, m aft").fill("1,25")
    adding.get_by_role("button", name="Add", exact=True).click()
    expect(page.get_by_role("row", name=re.compile("^Якорь запасной"))).to_contain_text("7,3")
    assert saved(file, 'yakor-zapasnoy: "Якорь запасной"')
    assert saved(file, "mass_kg: 7.25")
    page.get_by_role("button", name="Delete Якорь запасной").click()
    assert saved(file, "yakor", there=False)


@pytest.mark.slow
def test_names_in_three_scripts_are_kept_shown_written_and_deleted(boat, page):
    _, file = boat
    turn_to(page, "ledger")
    form = page.get_by_role("form", name="A new change")
    for name in NAMES:
        form.get_by_label("Name of the new change").fill(name)
        form.get_by_role("button", name="Add the change").click()
        expect(page.get_by_role("rowheader", name=re.compile(f"^{name}"))).to_be_visible()
    for name, key in NAMES.items():
        assert saved(file, f'{key}: "{name}"')
    for place, where in (
        ("float", ".cards"),
        ("boat/changes", "main"),
        ("print", ".print-sheet"),
    ):
        page.goto(f"{page.url.split('#')[0]}#/{place}")
        for name in NAMES:
            expect(page.locator(where).first).to_contain_text(name)
    choose(page, units=FEET, decimals=",")
    with page.expect_download() as made:
        page.get_by_role("button", name="All tables, XLSX").click()
    assert made.value.suggested_filename.isascii()
    turn_to(page, "ledger")
    for name in NAMES:
        page.get_by_role("button", name=f"Leave out {name}").click()
        expect(page.get_by_role("rowheader", name=re.compile(f"^{name}"))).to_have_count(0)
    assert saved(file, "titles:", there=False)
    page.get_by_role("button", name="Undo").first.click()
    expect(page.get_by_role("rowheader", name=re.compile("^海鸥")).first).to_be_visible()
    assert saved(file, "海鸥")
    page.get_by_role("button", name="Redo").first.click()
    assert saved(file, "海鸥", there=False)
