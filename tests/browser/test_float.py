"""The Float page: the boat in the water, live."""

import re
from pathlib import Path

from onpage import (
    HOUSE,
    all_figures,
    card,
    edits,
    field,
    figure,
    saved,
    scene,
    spot_of,
    wait_until_settled,
)
from playwright.sync_api import expect


def test_opens_on_the_boat_in_the_water(page):
    expect(page.get_by_role("heading", level=1)).to_have_text("Saltmarrow")
    expect(page.locator(".register .state")).to_contain_text("unsigned")
    assert [a.inner_text() for a in page.locator(".pages a").all()] == [
        "Float",
        "Stability",
        "Ledger",
        "Boat",
        "Cutting",
        "Review",
        "Print",
        "Guide",
    ]
    expect(all_figures(page)).to_have_count(9)
    assert re.search(r"\d+ mm by the stern", figure(page, "trim"))
    assert re.search(r"±.*was", figure(page, "displacement"))
    expect(page.locator(".card")).to_have_count(10)
    expect(page.locator(".middle .waterline")).to_have_count(2)
    expect(page.locator(".middle .mark")).to_have_count(3)
    assert page.locator(".beam .beam-weight.on").count() > 10
    assert page.locator(".beam .beam-weight.off").count() > 8


def test_new_and_replaced_steel_is_coloured_and_the_hull_is_not(page):
    pieces = scene(page)
    roles = {piece["role"] for piece in pieces.values()}
    assert roles >= {"hull", "appendage", "new", "replaced"}
    for piece in pieces.values():
        assert (piece["colour"] is not None) == (piece["role"] in ("new", "replaced"))
    expect(page.locator(".legend")).to_contain_text("by the bow", use_inner_text=True)
    expect(page.locator(".legend")).to_contain_text("by the stern", use_inner_text=True)
    coloured = page.get_by_label("coloured by")
    ends = {"list": "to port", "freeboard": "aft", "vcg": "higher VCG", "gm": "less GM"}
    for measure, words in ends.items():
        coloured.select_option(measure)
        expect(page.locator(".legend")).to_contain_text(words, use_inner_text=True)
        assert scene(page)["house"]["colour"] is not None
    coloured.select_option("mass")
    assert scene(page)["house"]["colour"] != pieces["house"]["colour"]
    expect(page.locator(".legend")).to_contain_text("kg", use_inner_text=True)
    coloured.select_option("plain")
    assert scene(page)["house"]["colour"] is None


def test_she_is_cut_open_at_a_station(page):
    page.get_by_label("cut at").select_option("station")
    place = page.get_by_role("slider", name="Place of the station")
    place.fill("5.2")
    expect(page.locator(".section-tool output")).to_contain_text(
        "5.20 m aft", use_inner_text=True
    )
    made = page.evaluate("() => window.hullchange.describe().cut")
    assert (made["kind"], made["at"]) == ("station", 5.2)
    # the hull, closed by deck and keel, and the house on her
    assert made["pieces"] > 40
    page.get_by_label("cut at").select_option("")
    assert page.evaluate("() => window.hullchange.describe().cut") is None


def test_the_scene_stands_in_the_frame_of_the_profile(page):
    hull = scene(page)["hull"]
    assert hull["min"][0] < 0 < 10 < hull["max"][0]
    assert abs(hull["min"][2] + hull["max"][2]) < 0.01
    page.get_by_role("button", name="profile").click()
    seen = page.evaluate("window.hullchange.describe()")
    assert seen["eye"] == [0, 0, 1]
    afloat = seen["afloat"]
    assert afloat["now"]["trim"] > afloat["before"]["trim"]


def described(page):
    return page.evaluate("() => window.hullchange.describe()")


def test_she_is_painted_to_the_water_of_the_condition_and_her_deck_is_open(page):
    first = described(page)
    assert first["paint"]["to"] == first["afloat"]["now"]
    assert 0.05 < first["paint"]["boot_top_m"] < 0.15
    [well] = first["openings_m"]  # the old one is taken away
    assert well[0] < well[2]
    assert well[1] < 0 < well[3]
    assert scene(page)["house"]["hasPanes"]
    page.get_by_role("radio", name="departure").check()
    other = described(page)
    assert other["paint"]["to"] == other["afloat"]["now"] != first["paint"]["to"]
    # there is no graphics processor here, and the page says so
    assert other["drawn"] in ("software", "plain")
    expect(page.locator(".three .left-out")).to_have_text(
        re.compile("no graphics processor|without shadows")
    )
    page.get_by_role("button", name="10 times").click()
    expect(page.locator(".drawn-times")).to_contain_text("drawn 10 times")
    drawn = described(page)
    assert drawn["paint"]["to"] == drawn["afloat"]["before"]
    change = drawn["afloat"]["now"]["trim"] - drawn["afloat"]["before"]["trim"]
    assert abs(drawn["shown"]["trim"] - drawn["afloat"]["before"]["trim"] - 10 * change) < 1e-9
    page.get_by_role("button", name="10 times").click()
    assert described(page)["shown"] == drawn["afloat"]["now"]


def test_the_hand_turns_her_within_bounds_and_the_wheel_is_the_pages_until_she_is_pressed(page):
    canvas = page.locator(".three canvas")
    box = canvas.bounding_box()
    x, y = box["x"] + 0.97 * box["width"], box["y"] + box["height"] / 2
    before = described(page)
    page.mouse.move(x, y)
    page.mouse.wheel(0, 300)
    assert described(page)["zoom"] == before["zoom"]
    canvas.evaluate("one => one.scrollIntoView({ block: 'end' })")
    page.locator(".middle").evaluate("one => one.scrollTo(0, 0)")
    page.mouse.down()
    page.mouse.move(x, y - 400, steps=4)
    page.mouse.up()
    low = described(page)
    # seven degrees under the level and no lower; the fit is kept
    assert abs(low["eye"][1] + 0.122) < 0.002
    assert low["view"] is None
    assert abs(low["zoom"] - before["zoom"]) < 1e-9
    page.mouse.click(x, y)
    page.mouse.wheel(0, -300)
    page.wait_for_function("(zoom) => hullchange.describe().zoom > zoom", arg=low["zoom"])
    page.keyboard.press("Shift+ArrowLeft")
    page.keyboard.press("f")
    fitted = described(page)
    assert fitted["eye"] == low["eye"]
    assert 0.3 * low["zoom"] < fitted["zoom"] < 3 * low["zoom"]
    page.get_by_role("button", name="oblique").click()
    assert abs(described(page)["zoom"] - before["zoom"]) < 1e-9


def test_the_view_is_saved_as_a_picture_and_keeps_its_height_on_a_phone(page):
    wide, high = page.evaluate(
        """async () => {
            const blob = await window.hullchange.view.png({ width: 480, height: 300 });
            const { width, height } = await createImageBitmap(blob);
            return blob.size > 10_000 ? [width, height] : [0, 0];
        }"""
    )
    assert (wide, high) == (480, 300)
    page.get_by_role("button", name="picture").click()
    with page.expect_download() as saving:
        page.get_by_role("button", name="Save SVG").click()
    drawing = Path(saving.value.path()).read_text(encoding="utf-8")
    assert saving.value.suggested_filename == "saltmarrow-survey-state.svg"
    assert "by the stern" in drawing
    assert "unsigned" in drawing
    assert drawing.count("<path") > 100
    page.set_viewport_size({"width": 390, "height": 844})
    page.wait_for_function("() => document.querySelector('.three canvas').clientHeight >= 200")


def test_a_part_picked_in_3d_is_the_card_that_is_pressed_and_back(page):
    x, y = spot_of(page, "cockpit")
    page.mouse.click(x, y)
    expect(card(page, "Cockpit")).to_have_attribute("aria-pressed", "true")
    expect(page.locator("#panel h2")).to_have_text("Cockpit")
    card(page, "Transom").click()
    expect(page.locator("#panel h2")).to_have_text("Transom")
    assert scene(page)["extension"]["selected"]
    assert not scene(page)["cockpit"]["selected"]


def test_a_drag_answers_while_it_lasts_and_is_one_step_of_undo(page, boat):
    undo = page.get_by_role("button", name="Undo")
    offered = undo.get_attribute("title")  # what an earlier test did, or nothing
    before = page.locator(".part-head").inner_text()
    mesh = scene(page)["house"]["mesh"]
    height = field(page, "side_height_m")
    height.scroll_into_view_if_needed()
    slider = height.locator("input[type=range]")
    box = slider.bounding_box()
    middle = box["y"] + box["height"] / 2
    at = box["x"] + box["width"] * (0.58 - 0.25) / 0.75
    page.mouse.move(at, middle)
    page.mouse.down()
    for step in range(1, 13):
        page.mouse.move(at + step * 6, middle)
        page.wait_for_timeout(30)
    expect(page.locator(".part-head")).not_to_have_text(before, use_inner_text=True)
    page.mouse.up()
    wait_until_settled(page)
    assert scene(page)["house"]["mesh"] != mesh
    typed = height.locator(".typed input").input_value()
    assert int(typed) > 700
    expect(page.locator("[data-spoken]")).to_contain_text(f"side height {typed} mm. ")
    assert saved(boat[1], f"side_height_m: {int(typed) / 1000}")
    undo.click()
    expect(height.locator(".typed input")).to_have_value("580")
    expect(undo).to_have_attribute("title", offered)
    wait_until_settled(page)
    assert scene(page)["house"]["mesh"] == mesh
    assert saved(boat[1], "side_height_m: 0.58 ")


def test_reloading_keeps_the_work_and_the_comments(page, boat):
    typed = field(page, "side_height_m").locator(".typed input")
    typed.fill("640")
    typed.press("Enter")
    wait_until_settled(page)
    expect(page.get_by_role("button", name="back to 580 mm")).to_be_visible()
    page.reload()
    expect(field(page, "side_height_m").locator(".typed input")).to_have_value("640")
    assert saved(boat[1], "side_height_m: 0.64 ")
    text = boat[1].read_text(encoding="utf-8")
    assert "# at mid-length, from the deck at the side to the roof's edge" in text


def test_a_window_taller_than_its_wall_is_refused_in_words(page):
    before = edits(page)
    shown = figure(page, "trim")
    mesh = scene(page)["house"]["mesh"]
    size = field(page, "side_windows").locator(f'[data-path="{HOUSE}.side_windows.size_m"]')
    height = size.locator(".field").nth(1).locator(".typed input")
    height.fill("700")
    height.press("Enter")
    refusal = size.locator(".refused")
    expect(refusal).to_be_visible()
    assert len(refusal.inner_text()) > 30
    expect(height).to_have_value("700")
    wait_until_settled(page)
    assert figure(page, "trim") == shown
    assert scene(page)["house"]["mesh"] == mesh
    assert edits(page) == before
    height.fill("250")
    height.press("Enter")
    expect(refusal).to_have_count(0)


def test_beyond_the_usual_is_warned_of_in_words(page):
    camber = field(page, "roof_camber_m")
    camber.locator(".typed input").fill("260")
    camber.locator(".typed input").press("Enter")
    expect(camber).to_contain_text("outside the usual 20 to 200 mm")


def test_somebody_else_was_first(page):
    page.evaluate(
        """async () => {
            const at = '/api/refits/saltmarrow/revisions/working';
            const edit = (await fetch(at)).headers.get('etag');
            const steps = [{op: 'set', path: 'changes.bow.stage', value: 'agreed'}];
            await fetch(at, {
                method: 'PATCH',
                headers: {'if-match': edit, 'content-type': 'application/json'},
                body: JSON.stringify({label: 'elsewhere', steps}),
            });
        }"""
    )
    typed = field(page, "side_height_m").locator(".typed input")
    typed.fill("610")
    typed.press("Enter")
    wait_until_settled(page)
    # they changed something else, so both stand
    expect(typed).to_have_value("610")
    both = page.evaluate(
        """async () => {
            const at = '/api/refits/saltmarrow/revisions/working';
            const { changes } = (await (await fetch(at)).json()).document;
            return [changes.bow.stage, changes.deckhouse.parts.house.side_height_m];
        }"""
    )
    assert both == ["agreed", 0.61]


def test_conditions_and_options_are_looked_at_without_changing_anything(page):
    before = edits(page)
    trim = figure(page, "trim")
    page.get_by_role("radio", name="departure").check()
    expect(page.locator(".answer")).to_have_attribute("aria-label", "Answer, Departure")
    assert figure(page, "trim") != trim
    options = page.locator(".options select")
    option = options.locator("option").nth(1).evaluate("option => option.value")
    options.select_option(option)
    wait_until_settled(page)
    expect(page).to_have_url(re.compile(f"option={option}"))
    page.reload()
    expect(page.locator(".options select")).to_have_value(option)
    assert edits(page) == before


def test_hints_go_away_for_good(page):
    for _ in range(page.get_by_role("button", name="Got it").count()):
        page.get_by_role("button", name="Got it").first.click()
    expect(page.locator(".hint")).to_have_count(0)
    page.reload()
    page.locator(".card").first.wait_for()
    expect(page.locator(".hint")).to_have_count(0)


def test_an_option_keeps_its_own_values_and_leaves_the_base_design(page, boat):
    page.locator(".options select").select_option(index=1)
    wait_until_settled(page)
    typed = field(page, "side_height_m").locator(".typed input")
    drawn_first = typed.input_value()
    typed.fill("470")
    typed.press("Enter")
    wait_until_settled(page)
    assert saved(boat[1], f"{HOUSE}.side_height_m: 0.47")
    expect(typed).to_have_value("470")
    page.locator(".options select").select_option("")
    wait_until_settled(page)
    expect(typed).to_have_value("580")
    assert saved(boat[1], "side_height_m: 0.58 ")
    assert drawn_first


def test_a_file_edited_by_hand_is_taken_up(page, boat):
    text = boat[1].read_text(encoding="utf-8")
    boat[1].write_text(text.replace("side_height_m: 0.58 ", "side_height_m: 0.66 "), "utf-8")
    page.evaluate("dispatchEvent(new Event('focus'))")
    expect(field(page, "side_height_m").locator(".typed input")).to_have_value("660")


def test_a_file_broken_by_hand_is_reported_at_once_and_forgotten_when_it_is_right(page, boat):
    text = boat[1].read_text(encoding="utf-8")
    boat[1].write_text(text.replace("side_height_m: 0.58 ", "side_height_m: 5,8 "), "utf-8")
    notice = page.locator(".notice")
    expect(notice).to_contain_text("side_height_m")
    expect(notice).to_contain_text("the last good version is shown")
    boat[1].write_text(text, "utf-8")
    expect(notice).to_have_count(0)
    expect(field(page, "side_height_m").locator(".typed input")).to_have_value("580")


def test_the_battery_bank_slides_along_the_boat(page, boat):
    card(page, "Electric drive").click()
    place = page.locator('[data-path="changes.electric-drive.adds.battery.at_m"]')
    expect(place).to_contain_text("may be placed from 3.5 to 7.0 m aft")
    trim = figure(page, "trim")
    slider = place.locator("input[type=range]")
    slider.focus()
    page.keyboard.press("End")
    wait_until_settled(page)
    expect(place.locator(".typed input")).to_have_value("7")
    expect(page.locator("[data-spoken]")).to_contain_text("battery at 7.00 m")
    assert figure(page, "trim") != trim
    assert saved(boat[1], "at_m: [7, 0, -0.38]") or saved(boat[1], "at_m: [7.0, 0, -0.38]")


def test_nothing_on_the_page_moves_while_the_height_is_dragged(page):
    page.evaluate(
        """() => {
            window.laid = new Set();
            const look = () => {
                const shown = ['.answer', '.profile', '.three', '.beam'].map(name => {
                    const one = document.querySelector(name);
                    const { top, height } = one.getBoundingClientRect();
                    return `${name} ${Math.round(top)} ${Math.round(height)}`;
                });
                window.laid.add(shown.join(', '));
                requestAnimationFrame(look);
            };
            look();
        }"""
    )
    slider = field(page, "side_height_m").locator("input[type=range]")
    slider.scroll_into_view_if_needed()
    box = slider.bounding_box()
    middle = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + box["width"] * 0.5, middle)
    page.mouse.down()
    for share in (0.6, 0.7, 0.8, 0.9, 0.98, 0.8, 0.6, 0.4, 0.3, 0.5):
        page.mouse.move(box["x"] + box["width"] * share, middle, steps=3)
        page.wait_for_timeout(150)
    page.mouse.up()
    wait_until_settled(page)
    assert page.evaluate("() => [...window.laid]") == [
        page.evaluate("() => [...window.laid][0]")
    ]
    expect(page.locator(".state")).to_contain_text(" saved in")
