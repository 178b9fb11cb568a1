"""What is set on a page: others see it, it is saved, refused in sight, and taken back."""

from onpage import (
    HOUSE_PICKED,
    field,
    figure,
    saved,
    scene,
    wait_until_drawn,
    wait_until_settled,
)
from playwright.sync_api import expect


def typed(page, key, value):
    """Type a value into the form."""
    entry = field(page, key).locator(".typed input")
    entry.fill(value)
    entry.press("Enter")


def wait_until_shown(page, key, value):
    """Wait until the form of a page shows a value."""
    expect(field(page, key).locator(".typed input")).to_have_value(value)


def test_two_pages_and_the_file_follow_one_another(open_page, boat):
    one, two = open_page(HOUSE_PICKED), open_page(HOUSE_PICKED)
    for page in (one, two):
        wait_until_drawn(page)
    typed(one, "side_height_m", "640")
    wait_until_shown(two, "side_height_m", "640")
    wait_until_settled(two)
    assert figure(one, "displacement") == figure(two, "displacement")
    # by hand, in the file
    assert saved(boat[1], "side_height_m: 0.64")
    text = boat[1].read_text(encoding="utf-8")
    boat[1].write_text(text.replace("side_height_m: 0.64", "side_height_m: 0.61"))
    for page in (one, two):
        wait_until_shown(page, "side_height_m", "610")
    # what is half typed stays as it is when another value comes in, and Enter applies it
    entry = field(one, "side_height_m").locator(".typed input")
    entry.fill("630")
    typed(two, "side_height_m", "615")
    wait_until_settled(two)
    expect(entry).to_have_attribute("data-kept", "615")
    expect(entry).to_have_value("630")
    entry.press("Enter")
    wait_until_shown(two, "side_height_m", "630")
    # both at once, each another value: both stand
    typed(one, "side_height_m", "620")
    typed(two, "roof_camber_m", "70")
    for page in (one, two):
        wait_until_shown(page, "side_height_m", "620")
        wait_until_shown(page, "roof_camber_m", "70")
        wait_until_settled(page)
    assert saved(boat[1], "side_height_m: 0.62")
    assert saved(boat[1], "roof_camber_m: 0.07")


def in_sight(element):
    """Whether an element stands on the part of the page that is seen."""
    return element.evaluate(
        """one => {
            const { top, bottom } = one.getBoundingClientRect();
            return top >= 0 && bottom <= innerHeight;
        }"""
    )


def test_what_may_not_be_left_out_is_reported_in_sight_until_it_is_dealt_with(open_page):
    page = open_page("#/ledger")
    taken = page.get_by_role("button", name="Leave out Deckhouse", exact=True)
    taken.click()
    alert = page.locator(".bar [role=alert]")
    expect(alert).to_contain_text("Not done: Deckhouse left out. Still used by")
    expect(alert).to_contain_text("side windows")
    page.mouse.wheel(0, 3000)
    page.wait_for_function("() => scrollY > 200")
    assert in_sight(alert)
    page.get_by_role("link", name="Stability").click()
    expect(alert).to_be_visible()
    alert.get_by_role("button", name="Understood").click()
    expect(alert).to_have_count(0)


def test_a_refusal_is_reported_once_at_its_field_and_in_the_bar_where_the_field_is_gone(page):
    typed(page, "side_height_m", "200")
    expect(field(page, "side_height_m").locator(".refused")).to_be_visible()
    expect(page.locator(".bar [role=alert]")).to_have_count(0)
    page.get_by_role("link", name="Boat", exact=True).click()
    expect(page.locator(".bar [role=alert]")).to_contain_text("side height 200 mm")


def test_what_is_typed_while_the_server_is_away_is_kept_reported_and_sent_later(page, boat):
    page.context.set_offline(True)
    typed(page, "side_height_m", "610")
    expect(field(page, "side_height_m").locator(".refused")).to_contain_text("Not sent")
    bar = page.locator(".bar")
    expect(bar).to_contain_text("The server does not answer")
    expect(bar).to_contain_text("side height 610 mm")
    expect(bar.get_by_role("button", name="Try again")).to_be_visible()
    expect(page.locator(".state")).to_contain_text("not saved")
    wait_until_shown(page, "side_height_m", "610")
    page.context.set_offline(False)
    page.evaluate("() => dispatchEvent(new Event('focus'))")  # or it looks by itself first
    expect(bar.get_by_role("alert")).to_have_count(0)
    wait_until_settled(page)
    wait_until_shown(page, "side_height_m", "610")
    assert saved(boat[1], "side_height_m: 0.61")


def test_saved_is_reported_when_the_file_holds_it(page, boat):
    state = page.locator(".state")
    expect(state).to_contain_text("saved in")
    page.evaluate(
        """() => {
            window.shownWords = [];
            const state = document.querySelector('.state');
            new MutationObserver(() => window.shownWords.push(state.textContent))
                .observe(state, { subtree: true, childList: true, characterData: true });
        }"""
    )
    typed(page, "side_height_m", "630")
    page.wait_for_function("() => window.shownWords.some(words => words.includes('saving'))")
    page.wait_for_function("() => / saved in /.test(window.shownWords.at(-1))")
    assert "side_height_m: 0.63 " in boat[1].read_text(encoding="utf-8")


def test_the_keys_take_back_the_typing_first_and_then_the_edit(page):
    entry = field(page, "side_height_m").locator(".typed input")
    typed(page, "side_height_m", "640")
    wait_until_settled(page)
    entry.press_sequentially("9")
    expect(entry).not_to_have_value("640")
    page.keyboard.press("Control+z")
    expect(entry).to_have_value("640")
    wait_until_settled(page)
    page.keyboard.press("Escape")
    page.keyboard.press("Control+z")
    wait_until_shown(page, "side_height_m", "580")
    page.keyboard.press("Control+Shift+z")
    wait_until_shown(page, "side_height_m", "640")
    page.locator("h1").click()
    page.keyboard.press("Meta+z")
    wait_until_shown(page, "side_height_m", "580")
    expect(page.locator(".state")).to_contain_text(" saved in")


def test_a_file_that_cannot_be_made_says_why_beside_its_link(page):
    page.get_by_role("button", name="Boats").click()
    link = page.get_by_role("link", name="Archive of Saltmarrow")
    page.context.set_offline(True)
    link.click()
    expect(page.locator(".boats .refused")).to_contain_text("The server does not answer")
    page.context.set_offline(False)
    with page.expect_download() as taken:
        link.click()
    assert taken.value.suggested_filename == "saltmarrow.zip"
    expect(page.locator(".boats .refused")).to_have_count(0)


def test_a_piece_that_cannot_be_loaded_is_reported_at_the_drawing(open_page):
    page = open_page()
    wait_until_drawn(page)
    page.route("**/api/meshes/**", lambda route: route.abort("internetdisconnected"))
    page.locator(".options select").select_option("balanced")
    message = page.locator(".three .refused")
    expect(message).to_contain_text("Some of her is not drawn")
    page.unroute("**/api/meshes/**")
    message.get_by_role("button", name="Draw again").click()
    expect(message).to_have_count(0)


def test_a_part_that_is_to_be_replaced_no_more_is_drawn_as_one_that_stays(open_page, boat):
    page = open_page()
    wait_until_drawn(page)
    assert scene(page)["existing.old-house"]["role"] == "replaced"
    text = boat[1].read_text(encoding="utf-8")
    boat[1].write_text(text.replace("    replaces: existing.old-house\n", ""))
    page.wait_for_function(
        """() => window.hullchange.describe().pieces
            .find((piece) => piece.id === 'existing.old-house')?.role === 'existing'"""
    )
