"""Distances in the drawing: between pressed spots, named places and typed ones."""

import math

from axe_playwright_python.sync_playwright import Axe
from onpage import HOUSE_PICKED, spot_of, wait_until_drawn
from playwright.sync_api import expect

PHONE = {"width": 390, "height": 844}
# after end of the roof's starboard edge [m]
CORNER = (7, 1.14, 1.678)
NUMBERS = "ends => ends.map(e => Number(e.value.replace('−', '-')))"


def reading(page):
    return page.get_by_role("region", name="Distance").get_by_role("status")


def place(page, end):
    """A place as its three fields say it [m]."""
    return page.locator(f".tape input[aria-label^='{end}']").evaluate_all(NUMBERS)


def on_page(page, point):
    """Where a point of the boat is on the page [px]."""
    return page.evaluate(
        """async point => {
            for (let i = 0; i < 2; i += 1) await new Promise(requestAnimationFrame);
            const canvas = document.querySelector('.three canvas');
            const { left, top } = canvas.getBoundingClientRect();
            const [x, y] = window.hullchange.view.spot(point);
            return [left + x, top + y];
        }""",
        point,
    )


def test_between_two_pressed_spots_near_a_corner_it_is_the_corner(page):
    page.get_by_role("button", name="distance").click()
    expect(reading(page)).to_contain_text("Press the spot it begins at")
    x, y = on_page(page, CORNER)
    page.mouse.click(x - 3, y + 2)
    expect(reading(page)).to_contain_text("Press the spot it goes to")
    # of the plate's upper or lower side
    assert math.dist(place(page, "from"), CORNER) < 0.006
    page.mouse.click(*spot_of(page, "cockpit"))
    expect(reading(page)).to_contain_text("mm aft")
    apart = math.dist(place(page, "from"), place(page, "to"))
    straight = reading(page).locator("b").inner_text()
    assert abs(float(straight.replace(",", "").replace(" mm", "")) - apart * 1000) < 11
    expect(page.locator(".tape-line circle")).to_have_count(2)
    expect(page.locator(".tape-line text")).to_have_text(straight)
    # pressing measures and does nothing else
    expect(page.get_by_role("button", name="Comment here")).to_have_count(0)
    expect(page.locator("#panel h2")).to_have_text("Deckhouse")


def test_what_is_cut_away_is_not_pressed(page):
    spot = spot_of(page, "platform")
    page.get_by_label("cut at").select_option("station")
    page.get_by_role("button", name="distance").click()
    page.mouse.click(*spot)
    expect(reading(page)).to_contain_text("Press the spot it begins at")


def test_by_keys_alone_between_names_and_typed_places(page):
    page.get_by_role("button", name="distance").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.get_by_label("from, by name").select_option(label="Forward, at the waterline")
    page.get_by_label("to, m aft").fill("3")
    page.keyboard.press("Tab")
    page.keyboard.type("−4")
    page.keyboard.press("Tab")
    page.keyboard.type("12,0")
    page.keyboard.press("Enter")
    words = "13,000 mm 3,000 mm aft, 4,000 mm to port, 12,000 mm up"
    expect(reading(page)).to_have_text(words)
    page.get_by_label("to, m up").fill("high")
    page.keyboard.press("Enter")
    expect(reading(page)).to_have_text(words)
    assert Axe().run(page).violations_count == 0
    page.keyboard.press("Escape")
    expect(reading(page)).to_have_count(0)


def test_a_named_place_goes_with_the_boat_and_the_phone_shows_it_all(open_page):
    page = open_page(HOUSE_PICKED, viewport=PHONE, has_touch=True)
    wait_until_drawn(page)
    page.get_by_role("button", name="distance").tap()
    page.get_by_label("from, by name").select_option(label="Aft, port")
    page.get_by_label("to, by name").select_option(label="House")
    expect(reading(page)).to_contain_text("mm ahead")
    before = reading(page).inner_text()
    page.locator(".panel-handle").tap()
    height = page.locator('[data-path$="house.side_height_m"] input[type=range]')
    height.focus()
    height.press("ArrowRight")
    expect(reading(page)).not_to_have_text(before, use_inner_text=True)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
