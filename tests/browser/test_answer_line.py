"""The answer first: what was asked, what is missed and a way out; deletions that are undone."""

import re

from onpage import saved, wait_until_settled
from playwright.sync_api import expect

CARD = ".opened:popover-open"
PHONE = {"viewport": {"width": 390, "height": 844}, "is_mobile": True, "has_touch": True}
TRIM = ".answer-figure.of-trim"


def test_a_missed_trim_is_said_and_a_weight_moved_brings_it_nearer(open_page, boat):
    page = open_page()
    trim = page.locator(TRIM)
    expect(trim).to_contain_text("112 mm by the stern you asked for 25 mm or less missed")
    expect(trim.locator("xpath=self::*[contains(@class,'missed')]")).to_have_count(1)
    edge = trim.evaluate("e => getComputedStyle(e).borderLeftWidth")
    assert float(edge.removesuffix("px")) >= 4
    expect(page.locator(".strip")).to_have_count(0)
    expect(page.locator("#panel h2")).to_have_text("Whole refit")
    page.get_by_role("button", name="A way out").click()
    way = page.locator(f"{CARD} li", has_text="Battery")
    expect(way).to_contain_text(re.compile(r"1\.85 m forward, to 3\.50 m.*about 80 mm", re.S))
    expect(page.locator(CARD)).to_contain_text("Estimated")
    way.get_by_role("button", name="Move it").click()
    expect(trim).to_contain_text("80 mm by the stern")
    wait_until_settled(page)
    assert saved(boat[1], "at_m: [3.5, 0, -0.38]")
    page.keyboard.press("Escape")
    page.keyboard.press("Control+z")
    expect(trim).to_contain_text("112 mm by the stern")
    trim.get_by_role("button").click()
    expect(page.locator(CARD)).to_contain_text("conditions.survey-state.refit.trim_mm")


def test_where_no_target_is_set_one_is_set_in_two_presses(open_page, boat):
    page = open_page("#/float?condition=arrival")
    trim = page.locator(TRIM)
    expect(trim).to_contain_text("no trim target; usual target 25 mm or less")
    expect(trim.locator(".verdict")).to_have_count(0)
    page.get_by_role("button", name="Set a target").click()
    page.locator(CARD).get_by_role("button", name="Set: trim 25 mm or less").click()
    expect(trim.locator(".verdict")).to_have_text("missed")
    expect(page.get_by_role("button", name="Set a target")).to_have_count(0)
    assert saved(boat[1], "level-arrival:")
    page.get_by_role("button", name="Undo", exact=False).first.click()
    expect(trim).to_contain_text("no trim target")
    assert saved(boat[1], "level-arrival:", there=False)


def test_what_is_deleted_comes_back_from_the_word_that_says_so(open_page):
    page = open_page("#/ledger")
    page.clock.install()
    row = page.locator("tr", has_text="arch and panels").first
    row.get_by_role("button", name=re.compile("^(Take out|Delete) ")).click()
    toast = page.locator(".toast")
    expect(toast).to_contain_text("arch and panels deleted.")
    expect(row).to_have_count(0)
    toast.get_by_role("button", name="Undo").focus()
    page.clock.fast_forward(30_000)  # held as long as it has the focus
    page.keyboard.press("Enter")
    expect(row).to_be_visible()
    expect(toast.get_by_role("button")).to_have_count(0)
    row.get_by_role("button", name=re.compile("^(Take out|Delete) ")).click()
    undo = toast.get_by_role("button", name="Undo")
    expect(undo).to_be_visible()
    page.clock.fast_forward(9_000)
    expect(undo).to_be_visible()
    page.clock.fast_forward(2_000)
    expect(toast.get_by_role("button")).to_have_count(0)


def test_on_a_phone_the_sheet_comes_from_below_and_the_figures_stay_in_sight(open_page):
    page = open_page("#/float?picked=deckhouse/house", **PHONE)
    assert page.locator(".answer").bounding_box()["y"] <= 120
    assert page.locator(".three canvas").bounding_box()["height"] >= 200
    handle = page.locator(".panel-handle")
    height = page.locator('[data-path$="house.side_height_m"] input[type=range]')
    expect(height).to_be_hidden()
    handle.tap()
    height.scroll_into_view_if_needed()
    expect(height).to_be_in_viewport()
    expect(page.locator(f"{TRIM} .value")).to_be_in_viewport()
    expect(page.locator(".of-gm .value")).to_be_in_viewport()
    height.focus()
    page.keyboard.press("Escape")
    expect(height).to_be_hidden()
    expect(handle).to_be_focused()
    box = handle.bounding_box()
    page.mouse.move(box["x"] + 40, box["y"] + 20)
    page.mouse.down()
    page.mouse.move(box["x"] + 40, box["y"] - 60, steps=4)
    page.mouse.up()
    expect(handle).to_have_attribute("aria-expanded", "true")
