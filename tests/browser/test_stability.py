"""The Stability page: levers before and after, the boat heeled, conditions, criteria."""

import math
import re

import pytest
from agreement import rows_of
from axe_playwright_python.sync_playwright import Axe
from onpage import field, figure, wait_until_drawn, wait_until_settled
from playwright.sync_api import expect

NOW = ".lever-plot .curve.now"
SLIDER = "Heel, on the plot of righting levers"


@pytest.fixture
def heeled(open_page):
    """The Stability page with its curves drawn."""
    page = open_page("#/stability?picked=deckhouse/house")
    page.locator(NOW).wait_for()
    wait_until_settled(page)
    return page


def read(page, name):
    """A value of the readout by its name."""
    cell = page.locator(
        ".readout div", has=page.locator("dt", has_text=re.compile(f"^{name}$"))
    )
    return cell.locator("dd").inner_text()


def unfold(page):
    """Open what is folded: verdicts and what happens at which heel."""
    for fold in page.locator(".criteria-group, .flag-list").all():
        if fold.get_attribute("open") is None:
            fold.locator("summary").click()


def turned(page, heel):
    """Set the heel by its slider."""
    page.get_by_label("heel", exact=True).fill(str(heel))


def test_every_curve_of_before_and_after_is_drawn_with_what_happens_where(heeled):
    for look in ("now", "bare", "before"):
        expect(heeled.locator(f".lever-plot .curve.{look}")).to_have_count(1)
    expect(heeled.locator(".lever-plot .band")).to_have_count(1)
    expect(heeled.locator(".lever-plot .area")).to_have_count(2)
    words = " ".join(heeled.locator(".lever-plot .flag-words").all_text_contents())
    for what in (
        "vanishes 1",
        "first unclosed opening 78°, her limit",
        "all openings open",
        "maximum GZ",
        "deck edge",
    ):
        assert what in words
    expect(heeled.locator(".lever-plot .flag-words")).to_have_count(5)
    expect(heeled.locator(".lever-plot .sign-words")).to_contain_text("rights her")
    for sign in ("rights", "capsizes", "hatched"):
        assert heeled.locator(f".lever-plot .signed.{sign}").get_attribute("d")
    lead = heeled.get_by_role("region", name="Angles and openings").locator(".lead")
    lead = lead.inner_text()
    assert lead.startswith("First unclosed opening under water: motor room vent, starboard, at")
    assert re.search(r"AVS \d+\.\d°, range \d+\.\d°", lead)
    assert re.search(r"without deckhouse buoyancy AVS \d+\.\d°", lead)
    heeled.get_by_label("as found, without deckhouse buoyancy").check()
    expect(heeled.locator(".lever-plot .curve.before.bare")).to_have_count(1)


def test_one_sentence_says_what_she_can_take_and_what_limits_it(heeled):
    first = heeled.get_by_role("region", name="Stability in short")
    assert re.search(
        r"As surveyed: She rights herself up to 12\d°; without deckhouse buoyancy up to 112°\. "
        r"Water can come in at 68° through the "
        r"side windows, port, if left open; at 78° through the motor room vent, starboard, "
        r"which nothing closes\. GM 0\.99 m, 0\.04 m less than as found\. "
        r"2 criteria (clearly )?missed \(2 of the cockpit\), \d (not )?met within doubt, "
        r"(\d met within doubt, )?\d+ to be confirmed, of \d+",
        first.inner_text(),
    )
    assert len(heeled.locator(".criteria-group, .no-criteria").all()) == 4


def test_she_heels_by_hand_by_presses_and_from_the_list_with_g_and_b_drawn(heeled):
    turned(heeled, 59)
    expect(heeled.locator(".forces .gz")).to_contain_text("GZ 0.48 m + rights her")
    g, b = (float(heeled.locator(f".forces .{one}").get_attribute("cx")) for one in "gb")
    assert b > g
    turned(heeled, 140)
    expect(heeled.locator(".forces .gz")).to_contain_text("− turns her over")
    turned(heeled, 0)
    box = heeled.locator(".heeled .sections").bounding_box()
    water = heeled.locator(".heeled .waterline").bounding_box()["y"]
    middle = box["x"] + box["width"] / 2
    heeled.mouse.move(middle + 100, water)
    heeled.mouse.down()
    heeled.mouse.move(middle + 100, water + 100, steps=3)
    heeled.mouse.up()
    assert 40 <= int(read(heeled, "heel").split("°")[0]) <= 50
    turned(heeled, 120)
    play = heeled.get_by_role("button", name="Heel her 10° more")
    play.click()
    assert read(heeled, "heel").startswith("129°")
    play.click()
    assert read(heeled, "heel") == "upright"
    heeled.get_by_text("What happens as she heels").click()
    heeled.get_by_role("button", name="deck edge 35°").press("Enter")
    assert read(heeled, "heel") == "35° to starboard"
    heeled.emulate_media(reduced_motion="no-preference")
    heeled.get_by_role("button", name="to port").click()
    heeled.get_by_role("button", name="Heel her", exact=True).click()
    stop = heeled.get_by_role("button", name="Stop")
    heeled.wait_for_function(
        "() => Number(document.querySelector('.lever-plot').ariaValueNow) < -36"
    )
    stop.click()
    assert re.fullmatch(r"\d+° to port", read(heeled, "heel"))


def test_a_dragged_house_height_brings_figures_first_and_the_curve_before_it_is_let_go(heeled):
    sent, held = [], []
    heeled.on("request", lambda r: r.method == "PATCH" and sent.append(r.post_data_json))
    heeled.route("**/working?*full=false&levers=true", lambda route: held.append(route))
    curve, angles = heeled.locator(NOW), heeled.locator(".angles").first
    before, old_angles = curve.get_attribute("d"), angles.inner_text()
    answer = heeled.locator(".answer")
    old_answer = answer.inner_text()
    slider = field(heeled, "side_height_m").locator("input[type=range]")
    slider.scroll_into_view_if_needed()
    box = slider.bounding_box()
    middle, at = box["y"] + box["height"] / 2, box["x"] + box["width"] * (0.58 - 0.25) / 0.75
    heeled.mouse.move(at, middle)
    heeled.mouse.down()
    for step in range(1, 9):
        heeled.mouse.move(at + step * 12, middle)
        heeled.wait_for_timeout(40)
    in_short = heeled.get_by_role("region", name="Stability in short")
    expect(in_short).to_contain_text("before this drag")
    expect(answer).not_to_have_text(old_answer, use_inner_text=True)
    assert curve.get_attribute("d") == before
    heeled.unroute("**/working?*full=false&levers=true")
    for request in held:
        request.continue_()
    expect(curve).not_to_have_attribute("d", before)
    expect(in_short).not_to_contain_text("before this drag")
    heeled.mouse.up()
    wait_until_settled(heeled)
    assert not any(edit.get("levers") for edit in sent)
    expect(angles).not_to_have_text(old_angles, use_inner_text=True)


def test_undo_and_redo_bring_the_curve_with_their_first_answer(heeled):
    curve = heeled.locator(NOW)
    drawn = curve.get_attribute("d")
    typed = field(heeled, "side_height_m").locator(".typed input")
    typed.fill("700")
    typed.press("Enter")
    expect(curve).not_to_have_attribute("d", drawn)
    changed = curve.get_attribute("d")
    for way, expected in (("Undo", drawn), ("Redo", changed)):
        with heeled.expect_response(lambda r: r.request.method == "POST") as answer:
            heeled.get_by_role("button", name=way).click()
        first = answer.value.json()
        assert first["partial"]
        assert all(c["righting_levers"] for c in first["assessment"]["conditions"])
        expect(curve).to_have_attribute("d", expected)
    wait_until_settled(heeled)


def test_other_pages_do_not_ask_for_levers(open_page):
    page = open_page("#/stability?picked=deckhouse/house")
    page.locator(NOW).wait_for()
    page.get_by_role("link", name="Float").click()
    typed = field(page, "side_height_m").locator(".typed input")
    typed.fill("620")
    with page.expect_request(lambda r: r.method == "PATCH") as sent:
        typed.press("Enter")
    assert "levers" not in sent.value.post_data_json
    wait_until_settled(page)


def heeled_scene(page, heel):
    """What the view shows once the boat is held at a heel."""
    if page.locator(".heeled canvas").count() == 0:
        page.get_by_role("button", name="quarter").click()
    page.wait_for_function(
        "heel => window.hullchange.describe()?.afloat?.now.heel === heel", arg=heel
    )
    return page.evaluate("window.hullchange.describe()")


def test_heel_by_keys_is_read_out_and_heels_the_boat(heeled):
    plot = heeled.get_by_role("slider", name=SLIDER)
    slider = heeled.get_by_label("heel", exact=True)
    plot.focus()
    heeled.keyboard.press("Home")
    expect(plot).to_have_attribute("aria-valuenow", "0")
    for key in ("PageDown", "PageUp", "PageUp", "ArrowRight", "ArrowRight", "ArrowLeft"):
        heeled.keyboard.press(key)
    expect(plot).to_have_attribute("aria-valuenow", "21")
    expect(slider).to_have_value("21")
    assert "21° to starboard, righting lever 0." in plot.get_attribute("aria-valuetext")
    assert "No opening under water" in slider.get_attribute("aria-valuetext")
    assert read(heeled, "heel") == "21° to starboard"
    assert float(read(heeled, "righting lever GZ").split()[0]) > 0.2
    heeled_scene(heeled, 21)
    slider.focus()
    heeled.keyboard.press("ArrowRight")
    expect(plot).to_have_attribute("aria-valuenow", "22")
    heeled_scene(heeled, 22)
    heeled.keyboard.press("End")
    assert read(heeled, "heel").startswith("180°")


def test_the_boat_lies_as_her_righting_lever_was_worked_out(heeled, boat):
    answer = heeled.request.get(f"{boat[0]}/api/refits/saltmarrow/revisions/working").json()
    refit = next(
        c
        for c in answer["assessment"]["conditions"]
        if (c["id"], c["stage"]) == ("survey-state", "refit")
    )
    levers = refit["righting_levers"]
    at_60 = levers["heel_deg"].index(60)
    turned(heeled, 60)
    shown = heeled_scene(heeled, 60)
    assert shown["afloat"]["now"]["trim"] == levers["trim_deg"][at_60]
    assert shown["afloat"]["now"]["offset"] == levers["water_offset_m"][at_60]
    half = answer["profile"]["length_waterline_m"] / 2
    up = -math.sin(math.radians(levers["trim_deg"][at_60])) * half
    sunk = round((levers["water_offset_m"][at_60] - up) * 1000)
    assert read(heeled, "midships").startswith(f"{abs(sunk):,} mm ")
    by_hand = {piece["id"]: piece for piece in shown["pieces"]}
    assert "replaced" not in {piece["role"] for piece in shown["pieces"]}
    turned(heeled, 0)
    upright = {piece["id"]: piece for piece in heeled_scene(heeled, 0)["pieces"]}
    assert by_hand["hull"]["max"][2] - by_hand["hull"]["min"][2] != pytest.approx(
        upright["hull"]["max"][2] - upright["hull"]["min"][2], abs=0.1
    )


def test_she_is_drawn_while_the_slider_is_dragged(heeled):
    slider = heeled.get_by_label("heel", exact=True)
    heeled_scene(heeled, 30)
    slider.scroll_into_view_if_needed()
    box = slider.bounding_box()
    middle = box["y"] + box["height"] / 2
    heeled.mouse.move(box["x"] + box["width"] / 6, middle)
    heeled.mouse.down()
    before = heeled.evaluate("window.hullchange.describe().frames")
    for step in range(1, 13):
        heeled.mouse.move(box["x"] + box["width"] * (1 / 6 + step / 30), middle)
        heeled.wait_for_timeout(60)
    assert heeled.evaluate("window.hullchange.describe().frames") >= before + 3
    heeled.mouse.up()
    heeled_scene(heeled, int(read(heeled, "heel").split("°")[0]))


LEVER_DRAWN = """gz => {
    const across = one => document.querySelector(`.heeled .${one}`).cx.baseVal.value;
    const lever = Math.abs(across('b') - across('g')) / window.hullchange.describe().perMetre;
    return Math.abs(lever - gz) < 0.006;
}"""


def test_she_is_looked_at_from_her_low_side_along_the_water_and_as_sections(heeled):
    eye = "window.hullchange.describe().view"
    heeled_scene(heeled, 30)
    assert heeled.evaluate(eye) == "starboard quarter"
    heeled.get_by_role("button", name="to port").click()
    assert read(heeled, "heel") == "30° to port"
    heeled.wait_for_function(f"() => {eye} === 'port quarter'")
    heeled.get_by_role("button", name="astern").click()
    heeled.wait_for_function(f"() => {eye} === 'body'")
    said = heeled.locator(".heeled .gz").text_content()
    heeled.wait_for_function(LEVER_DRAWN, arg=float(re.search(r"\d\.\d+", said)[0]))
    expect(heeled.locator(".heeled .cut-open")).to_have_count(3)
    heeled.get_by_role("button", name="sections").click()
    midship = heeled.locator(".heeled .midship")
    drawn = midship.get_attribute("d")
    turned(heeled, 40)
    expect(midship).not_to_have_attribute("d", drawn)
    expect(heeled.locator(".heeled .opening")).to_have_count(8)


def test_without_three_dimensions_she_is_heeled_as_sections(boat, chromium):
    page = chromium.new_page()
    page.add_init_script("HTMLCanvasElement.prototype.getContext = () => null;")
    page.goto(f"{boat[0]}/#/stability")
    page.get_by_role("button", name="quarter").click()
    expect(page.locator(".heeled .midship")).to_be_visible()
    expect(page.locator(".heeled")).to_contain_text("cannot draw in three dimensions here")
    expect(page.get_by_role("button", name="quarter")).to_be_disabled()
    page.close()


def test_dragging_on_the_plot_heels_her(heeled):
    box = heeled.locator(".lever-plot").bounding_box()
    heeled.mouse.move(box["x"] + box["width"] * 0.4, box["y"] + 100)
    assert read(heeled, "heel") == "30° to starboard"
    heeled.mouse.down()
    heeled.mouse.move(box["x"] + box["width"] * 0.5, box["y"] + 100)
    heeled.mouse.up()
    heel = int(read(heeled, "heel").split("°")[0])
    assert 80 < heel < 100
    assert heeled.get_by_label("heel", exact=True).input_value() == str(heel)


def test_openings_go_under_as_she_heels(heeled):
    shown = heeled.locator(".under-water")
    turned(heeled, 0)
    heeled_scene(heeled, 0)
    expect(heeled.locator(".heeled .opening")).to_have_count(8)
    expect(heeled.locator(".heeled .opening.wet")).to_have_count(0)
    expect(shown).to_contain_text("No opening under water. Next: ")
    turned(heeled, 72)
    expect(shown).to_contain_text("1 opening under water: side windows, starboard.")
    expect(heeled.locator(".heeled .opening.wet")).to_have_count(1)
    heeled.get_by_role("button", name="whole circle").click()
    expect(heeled.locator(".lever-plot .flag-words")).to_have_count(5)
    words = heeled.locator(".lever-plot .flag-words").all_text_contents()
    assert sum("vanishes" in word for word in words) == 2
    turned(heeled, -72)
    expect(shown).to_contain_text("1 opening under water: side windows, port.")
    turned(heeled, 180)
    expect(heeled.locator(".heeled .opening.wet")).to_have_count(8)


def test_a_condition_is_chosen_in_the_table(heeled):
    curve = heeled.locator(NOW)
    before = curve.get_attribute("d")
    rows = heeled.locator(".conditions-table tbody")
    expect(rows).to_have_count(6)
    expect(heeled.locator(".conditions-table .as_found")).to_have_count(6)
    departure = heeled.get_by_role("button", name="Departure")
    departure.click()
    expect(departure).to_have_attribute("aria-pressed", "true")
    expect(curve).not_to_have_attribute("d", before)
    expect(heeled.get_by_role("region", name="Criteria", exact=True)).to_contain_text(
        "Criteria, departure"
    )


def test_spilling_wells_are_drawn_read_listed_and_saved_where_they_stand_full(heeled):
    name = "wells spilling and filling at each heel"
    filled = heeled.locator(".lever-plot .curve.filled")
    listed = heeled.locator(".angles").get_by_role("row", name=name)
    expect(filled).to_have_count(0)
    expect(listed).to_have_count(0)
    heeled.get_by_role("button", name="Cockpit flooded").click()
    expect(filled).to_have_count(1)
    expect(heeled.locator(".plot-key")).to_contain_text(f"refit, {name}")
    expect(listed.first).to_contain_text(re.compile(r"\d+\.\d°"))
    lever, kg = re.match(r"([-−\d.]+) m with ([\d,]+) kg in them", read(heeled, name)).groups()
    with heeled.expect_download() as saved:
        heeled.get_by_role("button", name="Save CSV").click()
    rows = rows_of(saved.value.path().read_text(encoding="utf-8"))
    at_30 = next(row for row in rows if row["boat"] == "refit" and row["heel_deg"] == "30")
    assert lever == f"{float(at_30['gz_wells_full_m']):.3f}"
    assert kg == f"{float(at_30['water_in_wells_kg']):,.0f}"


def test_a_criterion_opens_its_source_and_its_state_is_a_word(heeled):
    texts = heeled.locator(".criteria .state").all_text_contents()
    states = {re.split(" margin| \\(as found", s)[0].strip() for s in texts}
    within = {"✓~ met within doubt", "✗~ not met within doubt"}
    assert states <= within | {
        *("✓ met", "✗ not met", "? to be confirmed", "\N{EN DASH} not answered"),
    }
    assert {"✓ met", "? to be confirmed"} <= states
    assert any(re.search(r"margin [+−]\d+\.\d sd", s) for s in texts)
    unfold(heeled)
    opens = heeled.locator(".criteria th button")
    assert opens.count() == heeled.locator(".criteria .state").count()
    for row in opens.all():
        row.click()
    for made in heeled.locator(".made-from:not([hidden])").all():
        parts = {p.inner_text() for p in made.locator("dt").all()}
        assert parts >= {"formula", "limit", "source", "grade"}
        assert made.get_by_label("Inputs").locator("li").count() > 0
        assert "" not in {p.inner_text().strip() for p in made.locator("dd").all()}
    for row in opens.all():
        row.click()
    index = heeled.get_by_role("button", name="Stability index")
    expect(index).to_have_attribute("aria-expanded", "false")
    index.press("Enter")
    expect(index).to_have_attribute("aria-expanded", "true")
    opened = heeled.locator(".made-from:not([hidden])")
    for what in ("ISO 12217-2", "FKR 1.", "0.0883", "sold, not free"):
        expect(opened).to_contain_text(what)
    assert "complies" not in heeled.locator("main").inner_text()
    colours = heeled.eval_on_selector_all(
        ".criteria .state", "cells => [...new Set(cells.map(c => getComputedStyle(c).color))]"
    )
    assert len(colours) == 1


def test_the_levers_are_saved_as_csv_and_svg(heeled):
    with heeled.expect_download() as saved:
        heeled.get_by_role("button", name="Save CSV").click()
    name = saved.value.suggested_filename
    assert re.fullmatch(r"saltmarrow-survey-state-levers-working-\w{8}-unsigned\.csv", name)
    rows = rows_of(saved.value.path().read_text(encoding="utf-8"))
    assert {row["boat"] for row in rows} == {"refit", "as_found"}
    at_30 = next(row for row in rows if row["boat"] == "refit" and row["heel_deg"] == "30")
    assert read(heeled, "heel") == "30° to starboard"
    assert read(heeled, "righting lever GZ").startswith(f"{float(at_30['gz_m']):.3f} ")
    with heeled.expect_download() as saved:
        heeled.get_by_role("button", name="Save SVG").click()
    drawing = saved.value.path().read_text(encoding="utf-8")
    assert drawing.startswith("<svg")
    assert "vanishes 12" in drawing
    assert "data-passing" not in drawing
    assert "var(" not in drawing


def test_targets_of_the_curve_stand_among_the_wanted(heeled):
    heeled.locator(".change-choice select").select_option("Whole refit")
    wanted = heeled.locator(".targets")
    expect(wanted).to_contain_text("angle of vanishing stability 120° or more, departure")
    expect(wanted).to_contain_text("without deckhouse 110° or more")
    assert "not answered yet" not in wanted.inner_text()


@pytest.mark.parametrize("paper", ["light", "dark"])
def test_axe_finds_nothing_with_everything_open(open_page, paper):
    page = open_page("#/stability", color_scheme=paper)
    page.locator(NOW).wait_for()
    page.get_by_role("button", name="whole circle").click()
    unfold(page)
    page.get_by_role("button", name="Stability index").click()
    result = Axe().run(page)
    assert result.violations_count == 0, result.generate_report()


def test_on_a_phone_all_is_there_and_nothing_is_cut_off(open_page):
    page = open_page("#/stability", viewport={"width": 390, "height": 844}, is_mobile=True)
    page.locator(NOW).wait_for()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    order = page.evaluate(
        "() => ['.answer', '.stability-answer', '.lever-plot', '.heeled', '.criteria-group', "
        "'.angles'].map(s => document.querySelector(s).getBoundingClientRect().top)"
    )
    assert order == sorted(order)


def test_what_to_weigh_next_is_reported_of_gm_and_of_the_angle_and_opens(heeled):
    part = heeled.get_by_role("region", name="What to measure next")
    words = part.inner_text()
    assert re.search(r"GM upright\s+VCG of the survey\s+\d+ %", words)
    assert re.search(r"AVS\s+VCG of the survey\s+\d+ %", words)
    assert "maximum GZ" in words
    part.get_by_role("button").first.click()
    expect(heeled.get_by_role("dialog")).to_contain_text("σ² of this cause")


def test_what_may_still_be_added_is_drawn_stated_and_listed(heeled):
    heeled.get_by_role("heading", name="Weight margin").click()
    part = heeled.locator(".still-allowed")
    expect(part.locator(".rooms li")).to_have_count(3)
    assert re.search(
        r"The roof, 1\.85 m above .* may take \d+ kg; governing limit:",
        part.locator(".rooms").inner_text(),
    )
    rows = part.locator("tbody tr")
    assert part.locator("path.limit:not(.plot-key path)").count() == rows.count() == 21
    expect(part.locator(".dot")).to_have_count(5)
    first = rows.first.inner_text()
    assert "Heel under sail in a fresh breeze" in first
    assert re.search(r"\+\d+ mm", first)
    heeled.get_by_role("radio", name="departure").check()
    expect(part.locator(".dot.chosen")).to_contain_text("departure")
    heeled.get_by_role("radio", name="cockpit flooded").check()
    expect(part).to_contain_text("Cockpit flooded is left out here")
    heeled.get_by_role("heading", name="Trade ratios").click()
    ratios = heeled.locator(".ratios")
    expect(ratios).to_contain_text("not measures of safety")
    expect(ratios.locator("tbody tr")).to_have_count(6)
    found = Axe().run(heeled, context=".still-allowed, .ratios")
    assert found.violations_count == 0, found.generate_report()


def test_a_boat_that_capsizes_is_reported_above_every_page(boat, open_page):
    _, file = boat
    arch = "arch-and-panels: {mass_kg: 148, at_m: [10.75, 0, 2.15]"
    text = file.read_text(encoding="utf-8")
    assert arch in text
    tower = arch.replace("148", "900").replace("10.75, 0, 2.15", "5.0, 0, 14.0")
    file.write_text(text.replace(arch, tower), encoding="utf-8")
    page = open_page("#/float")
    warning = page.locator(".falls")
    expect(warning).to_contain_text("capsizes and comes to rest upside down")
    expect(warning).to_contain_text("The drawings show her like that")
    expect(page.locator(".profile")).to_have_attribute("aria-label", re.compile("upside down"))
    expect(page.locator(".profile .mark")).to_have_count(0)
    assert "upside down" in figure(page, "list")
    assert "mm" not in figure(page, "midships").split("was")[0]
    wait_until_drawn(page)
    described = page.evaluate("window.hullchange.describe()")
    keel = next(p for p in described["pieces"] if p["role"] == "appendage")
    assert keel["max"][1] > 1.0  # up, above the water
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
