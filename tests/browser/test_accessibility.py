"""Everybody reaches everything: keyboard, screen reader, phone, dark paper, print."""

import base64
import re

import pypdfium2
import pytest
from axe_playwright_python.sync_playwright import Axe
from onpage import (
    HOUSE_PICKED,
    card,
    field,
    wait_until_drawn,
    wait_until_fits_across,
    wait_until_settled,
)
from playwright.sync_api import TimeoutError as PlaywrightTimeout
from playwright.sync_api import expect

PAGES = ["float", "stability", "ledger", "boat", "photograph", "cutting", "review", "print"]
PAGES += ["start", "guide"]
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}


def focused(page):
    """What has the focus, as a screen reader would name it."""
    return page.evaluate(
        "() => document.activeElement.getAttribute('aria-label')"
        " ?? document.activeElement.innerText ?? ''"
    )


def tab_to(page, pattern, most=120):
    """Press Tab until what has the focus matches."""
    for _ in range(most):
        page.keyboard.press("Tab")
        if re.search(pattern, focused(page)):
            return
    raise AssertionError(f"{pattern} is not reached with Tab")


def test_with_the_keyboard_alone(page):
    tab_to(page, r"^Transom")
    page.keyboard.press("Enter")
    expect(page.locator("#panel h2")).to_have_text("Transom")
    tab_to(page, r"^length, slider")
    ring = page.evaluate("() => getComputedStyle(document.activeElement).outlineStyle")
    assert ring == "solid"
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    wait_until_settled(page)
    expect(page.locator("[data-spoken]")).to_contain_text("length 640 mm")
    tab_back = page.get_by_role("button", name="Undo")
    tab_back.focus()
    page.keyboard.press("Enter")
    wait_until_settled(page)
    expect(page.locator("[data-spoken]")).to_contain_text("undo of length 640 mm")


def test_the_boat_turns_and_parts_are_picked_by_keys(page):
    tab_to(page, r"^Boat in three dimensions")
    eye = page.evaluate("window.hullchange.describe().eye")
    page.keyboard.press("ArrowLeft")
    assert page.evaluate("window.hullchange.describe().eye") != eye
    zoom = page.evaluate("window.hullchange.describe().zoom")
    page.keyboard.press("+")
    assert page.evaluate("window.hullchange.describe().zoom") > zoom
    chosen = page.locator("#panel h2").inner_text()
    page.keyboard.press(".")
    page.keyboard.press(".")
    expect(page.locator("#panel h2")).not_to_have_text(chosen, use_inner_text=True)


def test_the_beam_is_one_stop_and_its_weights_are_named(page):
    tab_to(page, r"kg (goes on|comes off|moves)")
    first = focused(page)
    assert re.search(r"\d+(\.\d)? kg (goes on|comes off|moves)", first)
    page.keyboard.press("ArrowRight")
    assert focused(page) != first
    page.keyboard.press("Enter")
    expect(page.locator(".card[aria-pressed=true]")).to_have_count(1)
    page.keyboard.press("Tab")
    assert not re.search(r"kg (goes on|comes off|moves)", focused(page))


@pytest.mark.parametrize("paper", ["light", "dark"])
def test_axe_finds_nothing(open_page, paper):
    page = open_page(color_scheme=paper)
    wait_until_drawn(page)
    found = {}
    for name in PAGES:
        page.goto(f"{page.url.split('#')[0]}#/{name}")
        page.locator("main h2, main .card").first.wait_for()
        result = Axe().run(page)
        if result.violations_count:
            found[name] = result.generate_report()
    assert found == {}


def test_on_a_phone_nothing_is_cut_off_and_everything_is_large_enough(open_page):
    page = open_page(**PHONE)
    wait_until_drawn(page)
    for name in PAGES:
        page.goto(f"{page.url.split('#')[0]}#/{name}")
        page.locator("main h2, main .card").first.wait_for()
        width = page.evaluate("document.documentElement.scrollWidth")
        assert width <= 390, name
    page.goto(f"{page.url.split('#')[0]}#/float")
    small = page.evaluate(
        """() => [...document.querySelectorAll('button, select, input, .pages a')]
            .filter(e => e.checkVisibility() && !e.closest('.opens, .opened')
                && !e.matches('.opens, [type=radio], [type=checkbox]'))
            .map(e => [e.getAttribute('aria-label') ?? e.innerText, e.getBoundingClientRect()])
            .filter(([, r]) => r.height < 44 && r.height > 0)
            .map(([name, r]) => `${name}: ${r.height}`)"""
    )
    assert small == []
    order = page.evaluate(
        "() => ['.answer', '.three', '.profile', '.beam', '.cards'].map("
        "s => document.querySelector(s).getBoundingClientRect().top)"
    )
    assert order == sorted(order)


WIDEST = """() => [...document.querySelectorAll('body *')]
    .filter((e) => e.getBoundingClientRect().right > innerWidth + 0.5)
    .map((e) => `${e.tagName}.${e.getAttribute('class')} ${e.getBoundingClientRect().right}`)
    .slice(0, 12)"""


@pytest.mark.parametrize("place", PAGES)
def test_no_page_is_wider_than_its_window(open_page, place):
    page = open_page(HOUSE_PICKED)
    for height in ("610", "620"):  # so that undo and redo carry their labels
        typed = field(page, "side_height_m").locator(".typed input")
        typed.fill(height)
        typed.press("Enter")
        wait_until_settled(page)
    page.keyboard.press("Control+z")
    page.goto(f"{page.url.split('#')[0]}#/{place}")
    expect(page.locator(".travel.redo .what")).to_contain_text("620")
    wait_until_settled(page)
    wider = {}
    for width in (320, 390, 560, 700, 760, 761, 820, 960, 1080, 1081, 1180, 1181, 1281, 1600):
        page.set_viewport_size({"width": width, "height": 800})
        try:
            wait_until_fits_across(page, timeout=5_000)  # drawings are laid out anew
        except PlaywrightTimeout:
            wider[width] = page.evaluate(WIDEST)
    assert wider == {}


def test_on_a_phone_a_card_leads_to_its_form(open_page):
    page = open_page(**PHONE)
    wait_until_drawn(page)
    card(page, "Cockpit").tap()
    expect(page.locator("#panel h2")).to_have_text("Cockpit")
    expect(page.locator("#panel h2")).to_be_in_viewport()
    page.evaluate("scrollTo(0, 0)")
    sheets = page.locator(".sheet")
    sheets.first.evaluate("e => e.scrollLeft = 120")
    page.wait_for_function("() => document.querySelectorAll('.sheet')[1].scrollLeft === 120")


def test_dark_paper_is_chosen_and_remembered(page):
    light = page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
    page.get_by_role("button", name="Dark", exact=True).click()
    dark = page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
    assert dark != light
    page.reload()
    expect(page.get_by_role("button", name="Light", exact=True)).to_be_visible()
    assert page.evaluate("getComputedStyle(document.documentElement).backgroundColor") == dark


@pytest.mark.parametrize("place", ["print", "float"])
def test_the_print_has_the_figures_on_its_first_page_and_the_cautions_on_its_second(
    open_page, place
):
    page = open_page(f"#/{place}")
    page.locator("main h2, main .card").first.wait_for()
    wait_until_settled(page)
    if place == "print":
        picture = page.locator(".print-sheet figure")
        expect(picture).to_contain_text("afloat in: as surveyed")
        expect(picture).to_be_visible()
    else:  # the keys wait for the picture
        page.evaluate("() => { window.print = () => { document.title = 'printing'; }; }")
        page.keyboard.press("Control+p")
        expect(page).to_have_title("printing", timeout=60_000)
    printed = page.pdf(format="A4", prefer_css_page_size=True)
    with pypdfium2.PdfDocument(printed) as document:
        first, second = (page.get_textpage().get_text_bounded() for page in document)
        assert any(isinstance(one, pypdfium2.PdfImage) for one in document[0].get_objects())
    assert "First unclosed opening under water: motor room vent" in " ".join(first.split())
    assert "Cautions" in second
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    sheet = page.locator(".print-sheet")
    expect(sheet).to_be_visible()
    expect(sheet).to_contain_text("unsigned")
    expect(sheet).to_contain_text("Cut nothing on a stale or unsigned review")
    expect(sheet).to_contain_text("29 CFR 1915")
    readings = sheet.get_by_role("table").filter(has_text="readings of the lines")
    expect(readings.get_by_role("rowheader")).to_have_text(
        [re.compile(r", point \d+$")] * 3 + ["points not judged"]
    )
    expect(readings).to_contain_text(re.compile(r"\d+ of \d+"))
    expect(sheet).to_contain_text("Strength is not checked.")
    expect(sheet).to_contain_text("First unclosed opening under water: motor room vent")
    expect(page.locator(".head")).to_be_hidden()


def test_without_3d_everything_else_works(chromium, boat):
    page = chromium.new_page()
    page.add_init_script(
        "HTMLCanvasElement.prototype.getContext = function () { return null; };"
    )
    page.goto(f"{boat[0]}/{HOUSE_PICKED}")
    expect(page.locator(".lost")).to_be_visible()
    typed = field(page, "side_height_m").locator(".typed input")
    typed.fill("600")
    typed.press("Enter")
    wait_until_settled(page)
    expect(page.locator("[data-spoken]")).to_contain_text("side height 600 mm")
    page.close()


@pytest.mark.parametrize("sight", ["protanopia", "deuteranopia", "tritanopia"])
def test_bow_and_stern_are_told_apart_by_every_kind_of_colour_sight(page, sight):
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setEmulatedVisionDeficiency", {"type": sight})
    box = page.locator(".legend-bar").bounding_box()
    row = box["y"] + box["height"] / 2
    ends = []
    for x in (box["x"] + 3, box["x"] + box["width"] - 4):
        shot = page.screenshot(clip={"x": x, "y": row, "width": 1, "height": 1})
        ends.append(colour_of(page, shot))
    bow, stern = ends
    assert sum((a - b) ** 2 for a, b in zip(bow, stern, strict=True)) ** 0.5 > 60


def test_bow_and_stern_are_told_apart_in_grey(page):
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setEmulatedVisionDeficiency", {"type": "achromatopsia"})
    box = page.locator(".legend-bar").bounding_box()
    row = box["y"] + box["height"] / 2
    bow, stern = (
        min(
            colour_of(
                page, page.screenshot(clip={"x": x + i, "y": row, "width": 1, "height": 1})
            )
            for i in range(6)  # across the hatching
        )
        for x in (box["x"] + 3, box["x"] + box["width"] - 10)
    )
    assert stern[0] - bow[0] > 60, (bow, stern)


def colour_of(page, shot):
    """The colour of a picture of one point."""
    return page.evaluate(
        """async png => {
            const image = new Image();
            image.src = 'data:image/png;base64,' + png;
            await image.decode();
            const canvas = document.createElement('canvas');
            const ink = canvas.getContext('2d');
            ink.drawImage(image, 0, 0);
            return [...ink.getImageData(0, 0, 1, 1).data].slice(0, 3);
        }""",
        base64.b64encode(shot).decode(),
    )
