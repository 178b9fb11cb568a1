"""New steel on a boat unlike the demo: proposed, tried, refused with an offer, added."""

from axe_playwright_python.sync_playwright import Axe
from onpage import wait_until_fits_across, wait_until_settled
from playwright.sync_api import expect

HOUSE = "changes.new-works.parts.house"
KINDS = {
    "cockpit": ("cockpit", "free deck"),
    "transom_extension": ("extension", "On the transom"),
    "bow_platform": ("platform", "over the stem"),
    "mast_support": ("mast support", "Under house"),
}
"""Name and a word of the sentence of what is added after the house."""


def new_steel(page, kind):
    """The form of a new part of a kind, once it was tried."""
    page.get_by_role("button", name="add new steel to New works").click()
    form = page.get_by_role("form", name="New steel")
    form.get_by_label("what").select_option(kind)
    expect(form.locator(".check")).to_contain_text("It works:")
    return form


def typed(form, path, millimetres):
    """Type a number into a field of a form."""
    entry = form.locator(f'[data-path="{path}"] .typed input').first
    entry.fill(str(millimetres))
    entry.press("Enter")


def take_offer(field):
    """Press the first offer at a field that was refused; the field then shows it."""
    expect(field.locator(".refused")).to_be_visible()
    offer = field.get_by_role("button", name="use ").first
    height = offer.inner_text().removeprefix("use ").removesuffix(" mm")
    assert 60 < float(height) < 700
    offer.click()
    expect(field.locator(".refused")).to_have_count(0)
    expect(field.locator(".typed input")).to_have_value(height)


def test_parts_that_fit_are_added_and_an_offer_is_taken(bare_boat):
    page = bare_boat
    page.evaluate("location.hash = '#/ledger'")
    page.get_by_label("Name of the new change").fill("New works")
    page.get_by_role("button", name="Add the change").click()

    form = new_steel(page, "deckhouse")
    expect(form.locator(".proposed")).to_contain_text("headroom")
    typed(form, f"{HOUSE}.side_height_m", 60)
    result = Axe().run(page)
    assert result.violations_count == 0, result.generate_report()
    size = page.viewport_size
    page.set_viewport_size({"width": 390, "height": 844})
    wait_until_fits_across(page)
    page.set_viewport_size(size)
    expect(form.locator(".check")).to_contain_text("does not work yet: see side height")
    take_offer(form.locator(f'[data-path="{HOUSE}.side_height_m"]'))
    expect(form.locator(".check")).to_contain_text("It works:")
    # what is typed and is no number is not left behind in silence
    typed(form, f"{HOUSE}.roof_camber_m", "1,234.5")
    form.get_by_role("button", name="Add", exact=True).click()
    expect(form.get_by_role("alert").last).to_have_text(
        "roof camber: “1,234.5” is not a number."
    )
    form.locator(f'[data-path="{HOUSE}.roof_camber_m"] .typed input').press("Escape")
    form.get_by_role("button", name="Add", exact=True).click()
    expect(form).to_have_count(0)

    for kind, (name, words) in KINDS.items():
        form = new_steel(page, kind)
        expect(form.locator(".proposed")).to_contain_text(words)
        expect(form.get_by_label("name")).to_have_value(name)
        form.get_by_role("button", name="Add", exact=True).click()
        expect(form).to_have_count(0)
        wait_until_settled(page)

    page.evaluate("location.hash = '#/float?picked=new-works/house'")
    dimensions = page.get_by_role("form", name="Dimensions of house")
    typed(dimensions, f"{HOUSE}.side_height_m", 60)
    take_offer(dimensions.locator(f'[data-path="{HOUSE}.side_height_m"]'))
    wait_until_settled(page)
