"""Boats called in any script, begun, deleted and brought back; a first second that is true."""

from axe_playwright_python.sync_playwright import Axe
from onpage import MAIN_DIMENSIONS, wait_until_fits_across
from playwright.sync_api import expect

PHONE = {"width": 390, "height": 844}


def boats(page):
    """The list of boats, opened."""
    page.get_by_role("button", name="Boats", exact=True).click()
    listed = page.locator(".boats")
    expect(listed).to_be_visible()
    return listed


def begun(page, name):
    """A new boat of a name, her Start page open."""
    boats(page).get_by_label("New boat, name").fill(name)
    for dimension, value in MAIN_DIMENSIONS.items():
        page.locator(f".boats [name={dimension}]").fill(value)
    page.get_by_role("button", name="Begin", exact=True).last.click()
    expect(page.locator(".head h1")).to_have_text(name, timeout=60_000)


def test_a_boat_in_another_script_is_begun_deleted_and_brought_back(open_page):
    page = open_page()
    page.set_default_timeout(60_000)
    begun(page, "Чайка Åse")
    assert "boat=chayka-ase" in page.url
    boats(page).get_by_role("button", name="delete Чайка Åse").click()
    gone = page.locator(".notice.gone")
    expect(gone).to_contain_text("Чайка Åse was deleted.")
    expect(page.locator(".head h1")).to_have_text("Saltmarrow")
    assert Axe().run(page).violations_count == 0
    gone.get_by_role("button", name="Undo Чайка Åse").click()
    expect(page.locator(".head h1")).to_have_text("Чайка Åse")
    expect(gone).to_have_count(0)
    boats(page).get_by_role("button", name="delete Чайка Åse").click()
    gone.get_by_role("button", name="Understood").click()
    listed = boats(page).get_by_role("region", name="Deleted boats")
    expect(listed).to_contain_text("Чайка Åse")
    refused = page.locator(".boats .refused")
    # copies that were restored from archives bear her name too
    page.get_by_role("button", name="delete Saltmarrow").first.click()
    expect(refused).to_contain_text("is your own file")
    page.set_viewport_size(PHONE)
    wait_until_fits_across(page)


def test_a_name_typed_on_a_page_says_how_it_is_kept(open_page):
    page = open_page("#/ledger")
    form = page.get_by_role("form", name="A new change")
    field = form.get_by_label("Name of the new change")
    hint = form.locator("small")
    field.fill("Батарея Nº 2")
    expect(hint).to_have_text("kept as batareya-no-2")
    field.fill("電池")
    expect(hint).to_have_text("kept as change-1")
    field.fill("new bilge pump")
    expect(hint).to_have_text("")
    field.fill("Nýtt þil")
    form.get_by_role("button", name="Add the change").click()
    expect(page.get_by_text("Nytt thil").first).to_be_visible()
    expect(field).to_have_value("")
    expect(hint).to_have_text("")


def test_before_the_review_is_there_nothing_is_shown_of_it(open_page):
    page = open_page()
    held = []
    page.route("**/api/refits/*/review", lambda route: held.append(route))
    page.reload()
    page.locator(".answer-figure").first.wait_for()
    page.get_by_role("navigation", name="Pages").get_by_role("link", name="Review").click()
    expect(page.locator(".review")).to_contain_text("Loading the review…")
    for untrue in ("None yet", "Nobody", "not reviewed"):
        expect(page.get_by_text(untrue)).to_have_count(0)
    page.get_by_role("navigation", name="Pages").get_by_role("link", name="Print").click()
    expect(page.locator(".title-block").first).to_contain_text("…")
    page.unroute("**/api/refits/*/review")
    page.reload()
    page.get_by_role("navigation", name="Pages").get_by_role("link", name="Review").click()
    expect(page.locator(".review")).to_contain_text("None yet")
