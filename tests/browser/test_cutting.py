"""Cutting: a pack is made, a plate is lit on its sheet and in the boat, steel is ticked."""

import io

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from onpage import begin_with_stock, scene
from playwright.sync_api import expect

PIECE = "BATTERY-SHELF-01"


@pytest.fixture
def cutting(open_page, boat):
    """How to open the Cutting page of a small boat with one new plate, its pack made."""
    address, _ = boat

    def opened(name, sheet_m=None):
        page = open_page()
        begin_with_stock(page, address, name, sheet_m)
        page.goto(f"{address}/#/cutting?boat={name.lower()}")
        page.reload()
        page.get_by_role("button", name="Make").click()
        page.locator(".cut-list").wait_for(timeout=60_000)
        return page

    return opened


def parts_with_lit_plate(page):
    """The parts of the scene that have a lit plate."""
    return page.evaluate(
        "() => window.hullchange.describe().pieces.filter(p => p.lit).map(p => p.id)"
    )


def test_of_a_plate_cut_in_parts_the_part_alone_is_lit(cutting):
    page = cutting("Parted", sheet_m=[0.8, 0.4])
    expect(page.locator(".not-screened")).to_have_text("Strength is not checked.")
    expect(page.locator(".comes-off th[scope=row]").last).to_have_text("old stove")

    def boxes():
        shelf = scene(page)["battery-shelf"]
        return shelf["min"], shelf["max"], shelf["lit"]

    for part in (f"{PIECE}-A", f"{PIECE}-B"):
        page.locator(".cut-list").get_by_role("button", name=part).click()
        expect(page.get_by_role("img", name=f"{part} flat")).to_be_visible()
        low, high, lit_box = boxes()
        # the shelf is 0.60 along and 0.70 across the boat, which is the scene's third axis
        sides = np.subtract(lit_box["max"], lit_box["min"])
        assert sides == pytest.approx([0.6, 0.004, 0.35], abs=2e-3)
        assert lit_box["min"][2] >= low[2] - 1e-3
        assert lit_box["max"][2] <= high[2] + 1e-3
    b_is_to_port = lit_box["max"][2] > 0.01
    # a press in the boat picks the part that lies there
    spot, before = (
        """y => {
            const view = window.hullchange.view;
            view.view('plan');
            const { left, top } = view.canvas.getBoundingClientRect();
            const [x, z] = view.spot([4.3, y, -0.28]);
            return [left + x, top + z];
        }""",
        None,
    )
    # lists that are still being laid out move the drawing
    while (on_page := page.evaluate(spot, 0.2 if b_is_to_port else -0.2)) != before:
        before = on_page
        page.wait_for_timeout(300)
    page.mouse.click(*on_page)
    expect(page.get_by_role("img", name=f"{PIECE}-A flat")).to_be_visible()


def test_a_plate_is_lit_everywhere_and_ticked_off(cutting):
    page = cutting("Shelf")
    expect(page.locator(".pack-stamp")).to_contain_text("UNSIGNED")
    expect(page.locator(".pack-stamp")).to_contain_text("Cut nothing on a stale or unsigned")
    expect(page.get_by_role("img", name=f"{PIECE} flat")).to_be_visible()
    on_sheet = page.get_by_label("Sheet nest-4mm-1").get_by_role("button", name=PIECE)
    on_sheet.focus()
    page.keyboard.press("Enter")
    expect(on_sheet).to_have_attribute("aria-pressed", "true")
    expect(on_sheet.locator(".contour.lit")).to_have_count(1)
    page.wait_for_function("() => window.hullchange.describe().pieces.some(p => p.lit)")
    assert parts_with_lit_plate(page) == ["battery-shelf"]

    cut = page.get_by_label(f"{PIECE} cut")
    cut.check()
    expect(page.locator(".pack-state .refused")).to_have_count(0)
    expect(page.get_by_role("region", name="Progress of the parts")).to_contain_text("1 of 1")
    page.get_by_label("stage").select_option("to cut")
    expect(page.locator(".cut-list tbody tr")).to_have_count(0)
    page.get_by_label("stage").select_option("cut")
    expect(page.locator(".cut-list tbody tr")).to_have_count(1)
    with page.expect_download() as saved:
        page.get_by_role("link", name="Cut list, CSV").click()
    text = saved.value.path().read_text(encoding="utf-8")
    rows = text.splitlines()
    rows[-1] = f"{rows[-1].rsplit(',', 1)[0]},AB"
    page.locator(".file-drop input").set_input_files(
        {
            "name": "back.csv",
            "mimeType": "text/csv",
            "buffer": io.BytesIO("\n".join(rows).encode()).getvalue(),
        }
    )
    expect(page.locator(".file-drop")).to_contain_text("back.csv read: 1 new entry.")
    # welded by now, so among those that are cut and no further it is not
    expect(page.locator(".cut-list tbody tr")).to_have_count(0)
    page.get_by_label("stage").select_option("")
    expect(page.get_by_label(f"{PIECE} welded")).to_be_checked()
    how_far = page.get_by_role("region", name="Progress of the parts")
    expect(how_far).to_contain_text("all plates and bars are welded by the cut list")
    how_far.get_by_role("button", name="Set drive to fitted").click()
    expect(how_far.get_by_role("button")).to_have_count(0)
    page.get_by_role("button", name="Undo").click()
    expect(how_far.get_by_role("button", name="Set drive to fitted")).to_be_visible()
    cut.uncheck()
    assert Axe().run(page).violations_count == 0
    page.emulate_media(media="print")
    expect(page.get_by_label("Sheet nest-4mm-1")).to_be_visible()
    expect(page.locator(".plate-in-boat")).to_be_hidden()
