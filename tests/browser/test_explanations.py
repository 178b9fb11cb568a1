"""Numbers open, down to what was measured, and lead to where they are entered."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from onpage import HOUSE, all_figures, wait_until_drawn
from playwright.sync_api import expect

PHONE = {"viewport": {"width": 390, "height": 844}, "is_mobile": True, "has_touch": True}
CARD = ".opened:popover-open"
FROM_GM = (
    "GM upright with the liquids frozen",
    "height of the metacentre, upright",
    "displacement",
    "mass of the boat as surveyed, all aboard",
    "displacement of the survey",
    "sinkage of the survey",
    "freeboard, port, forward",
)


def made_from(page, name):
    return page.locator(f"{CARD} .made-of").get_by_role("button", name=name, exact=True)


def test_gm_opens_down_to_a_freeboard_by_the_keyboard(page):
    figure = all_figures(page).filter(has_text="GM")
    figure.focus()
    page.keyboard.press("Enter")
    card = page.locator(CARD)
    expect(card).to_contain_text("metacentric height")
    expect(card.locator(".formula")).to_contain_text("GM = GM solid − rise / 1000")
    expect(card).to_contain_text("conditions.survey-state.refit.gm_m")
    for name in FROM_GM:
        made_from(page, name).focus()
        page.keyboard.press("Enter")
        expect(card.locator(".opened-title")).to_contain_text(name.split(",")[0])
        expect(card.locator(".opened-title")).to_be_focused()
    expect(card).to_contain_text("1.396 ± 0.005 m")
    expect(card).to_contain_text("Measured on this boat.")
    way = card.get_by_role("navigation")
    expect(way.get_by_role("button")).to_have_count(len(FROM_GM))
    way.get_by_role("button", name="height of the metacentre, upright").click()
    expect(card.locator(".formula")).to_contain_text("KM = KB + I / ∇")
    page.keyboard.press("Escape")
    expect(card).to_have_count(0)
    expect(figure).to_be_focused()


def test_a_figure_leads_to_its_place_in_the_guide_which_is_searched(page):
    all_figures(page).filter(has_text="trim").first.click()
    page.locator(CARD).get_by_role("link", name="More in the guide").click()
    entry = page.locator("#guide-trim")
    expect(entry).to_be_focused()
    expect(entry).to_contain_text("by the stern (±")
    expect(entry.get_by_role("img", name="From the side, bow to the left")).to_be_visible()
    search = page.get_by_label("Search the guide")
    search.fill("Plumb sheer")
    expect(page.locator(".guide-search [role=status]")).to_have_text(
        "1 entry has “Plumb sheer”."
    )
    expect(page.locator("mark", has_text="plumb").first).to_be_visible()
    search.press("Enter")
    expect(page.locator("#guide-measure-lines")).to_be_focused()
    search.fill("nowhere")
    expect(page.locator(".guide-search [role=status]")).to_contain_text("Nothing in the guide")
    search.press("Escape")
    expect(entry).to_be_visible()


def test_a_freeboard_of_the_drawing_leads_to_where_it_is_entered(page):
    page.get_by_role("button", name="Freeboard forward").click()
    card = page.locator(CARD)
    card.get_by_role("button", name="mm").first.click()
    expect(card.locator(".formula")).to_contain_text("(port + starboard) / 2")
    made_from(page, "freeboard at forward, starboard").click()
    expect(card.locator(".formula")).to_contain_text("cos θ cos φ")
    made_from(page, "x, forward").click()
    card.get_by_role("button", name="Go to where it is entered").click()
    expect(card).to_have_count(0)
    field = page.locator('[data-path="survey.marks.forward.x_m"] input')
    expect(field).to_be_focused()
    expect(field).to_have_value("0.3")


def test_a_line_of_the_ledger_leads_to_the_dimension_it_rises_with(page):
    page.goto(f"{page.url.split('#')[0]}#/ledger")
    page.locator("tr.moved", has_text="rig").locator("td.n .opens").nth(7).click()
    card = page.locator(CARD)
    expect(card.locator(".formula")).to_contain_text("z + h − h₀")
    made_from(page, "side height, house").click()
    card.get_by_role("button", name="Go to where it is entered").click()
    field = page.locator(f'[data-path="{HOUSE}.side_height_m"] input').first
    expect(field).to_be_focused()
    expect(page.locator("#panel h2")).to_have_text("Deckhouse")


def test_steps_weights_on_a_card_and_changes_of_angles_open_too(page):
    for place, figures, formula in (
        ("float?picked=deckhouse", ".change-weights .opens", "m, as entered"),
        ("stability", ".angles td:last-child .opens", "refit minus boat as found"),
        ("ledger", ".steps tfoot .opens", "Σ e of the steps"),
    ):
        page.goto(f"{page.url.split('#')[0]}#/{place}")
        page.locator(figures).first.click()
        expect(page.locator(CARD).locator(".formula")).to_contain_text(formula)
        page.keyboard.press("Escape")


@pytest.mark.parametrize("paper", ["light", "dark"])
def test_an_open_card_is_found_clean_and_fits_a_phone(open_page, paper):
    page = open_page(color_scheme=paper, **PHONE)
    wait_until_drawn(page)
    all_figures(page).filter(has_text="LCG").tap()
    card = page.locator(CARD)
    expect(card.locator(".made-of tr").nth(20)).to_be_attached()
    made_from(page, "displacement").tap()
    expect(card.locator("nav")).to_be_visible()
    box = card.bounding_box()
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= 390
    assert card.evaluate("e => e.scrollWidth <= e.clientWidth")
    result = Axe().run(page)
    assert result.violations_count == 0, result.generate_report()


def test_what_is_read_off_a_curve_opens_at_the_heels_around_it(open_page):
    page = open_page("#/stability")
    page.locator(".lever-plot .curve.now").wait_for()
    page.get_by_label("heel", exact=True).fill("33")
    lever = page.locator(".readout div", has_text="righting lever GZ").get_by_role("button")
    lever.click()
    card = page.locator(CARD)
    expect(card).to_contain_text("Held at this heel, free to sink and to trim.")
    expect(card).to_contain_text("GZ ±")
    card.get_by_role("button", name=" m").first.click()
    expect(card.locator(".formula")).to_contain_text("GZ")
    expect(card).to_contain_text("Interpolated along the curve by its exact slopes")
    page.keyboard.press("Escape")
    row = page.locator(".angles").get_by_role("row", name="deck edge")
    row.get_by_role("button").last.click()
    expect(card.locator(".formula")).to_contain_text("refit minus boat as found")
    made_from(page, "heel at which the deck edge goes under, as surveyed, as found").click()
    expect(card).to_contain_text("as_found.deck_edge_angle_deg")


def test_the_beam_s_sum_opens(page):
    page.locator(".beam-sum").get_by_role("button").click()
    card = page.locator(CARD)
    expect(card).to_contain_text("distance aft of the centre of flotation")
    card.get_by_role("button", name="kg·m/cm").click()
    expect(card.locator(".formula")).to_contain_text("GML")
