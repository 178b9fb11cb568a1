"""Every section of the Boat page with a thing open and another begun: eyes and thumbs."""

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from every_key import every_key_document
from fields import BoatPage
from onpage import page_over
from playwright.sync_api import expect
from refits import SALTMARROW

from hullchange.document.yaml_text import parsed
from hullchange.proposals.appendages import APPENDAGE_KINDS

SECTIONS = (
    *("boat", "lines", "deck", "keel", "existing", "freeboards", "aboard", "tanks", "openings"),
    *(
        "rig",
        "person",
        "photographs",
        "conditions",
        "targets",
        "changes",
        "options",
        "stock",
        "trials",
        "hydrostatics",
    ),
)
DESK = {"viewport": {"width": 1440, "height": 900}}
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}
SMALL = """() => [...document.querySelectorAll('main button, main select, main input, main a')]
    .filter((e) => e.checkVisibility() && !e.matches('[type=checkbox], [type=radio], .opens')
        && !e.closest('.findings, p.about, .answer'))
    .map((e) => [e.getAttribute('aria-label') ?? e.innerText, e.getBoundingClientRect().height])
    .filter(([, height]) => height > 0 && height < 43.5)
    .map(([name, height]) => `${name}: ${height}`)"""

PASTE = """([cell, text]) => {
    const clipboardData = new DataTransfer();
    clipboardData.setData('text/plain', text);
    const often = { bubbles: true, cancelable: true };
    cell.dispatchEvent(new ClipboardEvent('paste', { clipboardData, ...often }));
}"""


def opened(page):
    """Open the first thing of every list, and begin another of the last one."""
    for entry in page.locator(".named-list > ul > li:first-child > .named-head").all():
        entry.get_by_role("button").first.click()
    adding = page.locator(".named-list > button")
    if adding.count():
        adding.last.click()


@pytest.fixture
def boat_page(request, tmp_path, chromium):
    """The Boat page over a boat with every key of the grammar."""
    document = every_key_document()
    with page_over(document, tmp_path, chromium, refusals=True, **request.param) as page:
        page.locator(".answer-figure").first.wait_for()
        yield BoatPage(page, "other")


@pytest.mark.parametrize(
    "boat_page",
    [DESK | {"color_scheme": "dark"}, PHONE | {"color_scheme": "light"}],
    ids=["desk, dark", "phone, light"],
    indirect=True,
)
def test_every_section_is_for_everybody(boat_page):
    page, found = boat_page.page, {}
    is_phone = page.viewport_size["width"] < 760
    for section in SECTIONS:
        boat_page.go(section)
        opened(page)
        result = Axe().run(page, ".boat-page")
        wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        small = page.evaluate(SMALL) if is_phone else []
        troubles = [result.generate_report()] if result.violations_count else []
        troubles += [f"{wide} px too wide"] if wide > 0 else []
        if troubles or small:
            found[section] = [*troubles, *small]
    assert found == {}


@pytest.mark.parametrize("boat_page", [PHONE], indirect=True)
def test_with_one_thumb(boat_page):
    page = boat_page.page
    boat_page.go("boat")
    section = page.get_by_label("Section", exact=True)
    undo = page.locator(".thumb-bar").get_by_role("button", name="Undo")
    for control in (section, undo):
        box = control.bounding_box()
        assert box["y"] > 844 * 0.6
        assert box["y"] + box["height"] <= 844
    section.select_option("Rig")
    page.locator('[data-section="rig"]').wait_for()
    luff = page.get_by_label("luff")
    before = luff.input_value()
    luff.fill("11")
    assert boat_page.answered(lambda: luff.press("Enter")).ok
    assert boat_page.answered(undo.click).ok
    page.wait_for_function("([e, v]) => e.value === v", arg=[luff.element_handle(), before])


@pytest.mark.parametrize("boat_page", [DESK], indirect=True)
def test_an_appendage_begins_from_a_picture_and_is_undone_in_one_step(boat_page):
    page = boat_page.page
    boat_page.go("keel")
    entries = page.locator('[data-entry^="hull.appendages."]')
    before = entries.count()
    page.get_by_role("button", name="Add an appendage").click()
    kinds = page.locator(".appendage-kinds li")
    kinds.first.wait_for()
    expect(kinds).to_have_count(len(APPENDAGE_KINDS))
    assert kinds.locator("svg path.own").count() >= kinds.count()
    free = kinds.locator("button:enabled").last
    title = free.locator("span").inner_text().lower()
    assert boat_page.answered(free.click).ok
    page.locator(".named-list li.open .side-drawing .handle-grip").first.wait_for()
    assert entries.count() > before
    undo = page.get_by_role("button", name=f"Undo {title} added")
    assert boat_page.answered(undo.first.click).ok
    page.wait_for_function(
        "n => document.querySelectorAll('[data-entry^=\"hull.appendages.\"]').length === n",
        arg=before,
    )


def test_what_to_measure_next_opens_the_closed_entry_it_lies_in(tmp_path, chromium):
    plain = every_key_document()
    name = list(plain["hull"]["appendages"])[-1]
    plain["assumed"] = [f"hull.appendages.{name}"]
    with page_over(plain, tmp_path, chromium) as page:
        page.locator(".answer-figure").first.wait_for()
        page.evaluate("() => { location.hash = '#/start'; }")
        page.get_by_role("link", name="Measure next").click()
        entry = page.locator(f'[data-entry="hull.appendages.{name}"]')
        entry.locator(".side-drawing").first.wait_for()
        inside = "e => e.contains(document.activeElement)"
        page.wait_for_function(f"e => ({inside})(e)", arg=entry.element_handle())
        others = page.locator("[data-entry] > .named-head > [aria-expanded=true]")
        expect(others).to_have_count(1)


def test_one_press_raises_the_old_house_at_both_ends(tmp_path, chromium):
    plain = parsed(SALTMARROW.read_text(encoding="utf-8")).document()
    with page_over(plain, tmp_path, chromium, refusals=True) as page:
        page.locator(".answer-figure").first.wait_for()
        boat_page = BoatPage(page, "other")
        boat_page.go("changes")
        before = boat_page.document()
        raising = page.get_by_role("form", name="Raise the old house")
        raising.get_by_label("forward").fill("50 mm")
        raising.get_by_label("aft").fill("7.874 in")
        press = raising.get_by_role("button", name="Raise the old house")
        assert boat_page.answered(press.click).ok
        house = boat_page.document()["changes"]["deckhouse"]["parts"]["house"]
        assert "side_height_m" not in house
        assert 0.5 < house["side_height_aft_m"] < 0.7
        boat_page.undo(1)
        assert boat_page.document() == before
        raising.get_by_label("aft").fill("-2")
        press.click()
        raising.get_by_text("lower it by less").wait_for()
        assert boat_page.document() == before


def test_what_is_half_typed_stays_when_the_boat_changes_elsewhere(tmp_path, chromium):
    with page_over(every_key_document(), tmp_path, chromium) as page:
        page.locator(".answer-figure").first.wait_for()
        boat_page = BoatPage(page, "other")
        boat_page.go("lines")
        note = page.locator('[data-path="hull.from.note"] textarea')
        note.fill("half ty")
        working = "/api/refits/other/revisions/working"
        step = {"op": "set", "path": "hull.length_waterline_m", "value": 7.77}
        edit = page.request.get(working).headers["etag"]
        body = {"label": "by another", "steps": [step]}
        assert page.request.patch(working, data=body, headers={"If-Match": edit}).ok
        length = page.locator('[data-path="hull.length_waterline_m"] input')
        expect(length).to_have_value("7.77")
        expect(note).to_have_value("half ty")


@pytest.mark.parametrize("boat_page", [DESK], indirect=True)
def test_a_table_is_pasted_and_a_thing_copied_and_deleted_each_undone_in_one_step(boat_page):
    page = boat_page.page
    boat_page.go("keel")
    before = boat_page.document()
    boat_page.turn("hull.appendages.fin")
    table = page.locator('[data-path="hull.appendages.fin.outline_m"] .table-field')
    cell = table.get_by_label("outline, x, aft, 1", exact=True).element_handle()
    page.evaluate(PASTE, [cell, "3.0\t-0.3\n3.2 m\tdeep\nabout 3\t-1.1"])
    misread = table.get_by_role("alert")
    expect(misread).to_contain_text("Nothing was pasted")
    expect(misread.locator("li")).to_have_count(2)
    assert boat_page.document() == before
    points = [[x, z - 0.02] for x, z in before["hull"]["appendages"]["fin"]["outline_m"]]
    rows = "\n".join(f"{x}\t{z:.3f} m" for x, z in points)
    cell = table.get_by_label("outline, x, aft, 1", exact=True).element_handle()
    assert boat_page.answered(lambda: page.evaluate(PASTE, [cell, rows])).ok
    expect(misread).to_have_count(0)
    pasted = boat_page.document()["hull"]["appendages"]["fin"]["outline_m"]
    assert pasted == pytest.approx(np.array(points))
    boat_page.undo(1)
    assert boat_page.document() == before
    boat_page.go("conditions")
    entry = page.locator('[data-entry="conditions.home"] > .named-head')
    assert boat_page.answered(entry.get_by_role("button", name="Copy").click).ok
    copied = boat_page.document()["conditions"]
    assert [name for name in copied if name not in before["conditions"]] == ["home-2"]
    assert copied["home-2"] == before["conditions"]["home"]
    boat_page.undo(1)
    assert boat_page.document() == before
    entry = page.locator('[data-entry="conditions.one-sided"] > .named-head')
    assert boat_page.answered(entry.get_by_role("button", name="Delete").click).ok
    assert "one-sided" not in boat_page.document()["conditions"]
    boat_page.undo(1)
    assert boat_page.document() == before
