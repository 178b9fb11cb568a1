"""Ledger, Boat and the empty start: the boat becomes the owner's own."""

import re

from axe_playwright_python.sync_playwright import Axe
from onpage import MAIN_DIMENSIONS, figure, saved, wait_until_settled
from playwright.sync_api import expect

from hullchange.hull.lines_csv import lines_of_csv

ROW = "tr:has(> th:text-is('{}'))"


def test_a_weight_is_added_edited_and_taken_out(open_page, boat):
    page = open_page("#/ledger")
    before = boat[1].read_text(encoding="utf-8")
    displacement = figure(page, "displacement")
    page.get_by_role("button", name="add a weight to Arch").click()
    form = page.get_by_role("form", name="A new weight")
    form.get_by_label("name").fill("Wind generator")
    form.get_by_label("mass, kg").fill("420,5")
    form.get_by_label("x, m aft").fill("10.9")
    form.get_by_label("z, m up").fill("3,4")
    form.get_by_label("from").select_option("catalogue")
    form.get_by_role("button", name="Add").click()
    row = page.locator(ROW.format("wind generator"))
    expect(row).to_contain_text("goes on")
    wait_until_settled(page)
    assert figure(page, "displacement") != displacement
    assert saved(boat[1], "wind-generator")
    assert saved(boat[1], "mass_kg: 420.5")

    row.get_by_role("button", name="Edit wind generator").click()
    mass = page.get_by_role("region", name="wind generator").get_by_label("mass", exact=True)
    mass.fill("90")
    mass.press("Enter")
    wait_until_settled(page)
    assert saved(boat[1], "mass_kg: 90")
    row.get_by_role("button", name="Delete wind generator").click()
    expect(row).to_have_count(0)
    wait_until_settled(page)
    assert figure(page, "displacement") == displacement
    assert saved(boat[1], "wind-generator", there=False)
    after = boat[1].read_text(encoding="utf-8")
    assert comments(after) == comments(before)


def comments(text):
    """The comments of a document, in order."""
    return [line.split("#", 1)[1].strip() for line in text.splitlines() if "#" in line]


def test_what_was_taken_out_comes_back_with_undo(open_page, boat):
    page = open_page("#/ledger")
    page.get_by_role("button", name="Delete lead pigs").click()
    expect(page.locator(ROW.format("lead pigs"))).to_have_count(0)
    page.locator(".travel.undo").click()
    expect(page.locator(ROW.format("lead pigs"))).to_have_count(1)
    wait_until_settled(page)
    assert saved(boat[1], "lead-pigs")


def test_the_ledger_is_found_sorted_grouped_and_its_sums_stay_in_sight(open_page):
    page = open_page("#/ledger")
    rows = page.locator("tr[data-item]:visible")
    sums = page.locator(".ledger-sums")
    expect(sums).to_contain_text("All, 38 rows")
    net = (
        page.locator(".ledger .lead").first.inner_text().split(": ")[1].split(" on balance")[0]
    )
    expect(sums).to_contain_text(net)
    page.get_by_label("find").fill("windlass")
    expect(rows).to_have_count(2)
    expect(sums).to_contain_text(re.compile(r"Shown, 2 rows.*goes on 37 kg.*off 23 kg", re.S))
    page.get_by_label("find").fill("")
    page.get_by_label("kind").select_option("moves")
    expect(rows).to_have_count(3)
    page.get_by_role("button", name="Show all, as entered").click()
    page.get_by_role("button", name="none", exact=True).click()
    mass = page.locator(".ledger-table").get_by_role("columnheader", name="kg")
    for order, first in (("ascending", "weld metal of platform"), ("descending", "cockpit")):
        mass.get_by_role("button").click()
        expect(mass).to_have_attribute("aria-sort", order)
        expect(rows.first).to_contain_text(first)
    page.evaluate("scrollTo(0, 400)")
    assert in_window(sums)
    # a row and its place are lit together
    page.mouse.move(5, 5)
    rig = page.locator('[data-item$="moves.rig"]')
    rig.get_by_role("button").first.focus()
    expect(rig).to_have_class(re.compile("lit"))
    expect(page.locator(".ledger-weights .meant text")).to_have_text("rig")
    page.get_by_role("button", name="Delete lead pigs").focus()
    expect(page.locator(".ledger-weights .meant text")).to_have_text("lead pigs")
    page.evaluate("scrollTo(0, 0)")
    dot = page.locator(".ledger-weights .meant circle").bounding_box()
    page.mouse.click(dot["x"] + dot["width"] / 2, dot["y"] + dot["height"] / 2)
    assert in_window(page.locator('[data-item$="removes.lead-pigs"]'))


def in_window(place):
    """Whether it lies within the window."""
    box = place.bounding_box()
    return box["y"] >= 0 and box["y"] + box["height"] <= place.page.viewport_size["height"] + 1


def test_weights_are_entered_in_a_line_and_pasted_all_or_none_with_one_undo(open_page, boat):
    page = open_page("#/ledger")
    form = page.get_by_role("form", name="Enter or paste weights")
    entry = form.get_by_label("Enter or paste weights")
    form.get_by_label("add to change").select_option("arch")
    entry.fill("Flag pole; 4,5; 11.2; 0; 1.4")
    entry.press("Enter")
    expect(page.locator(ROW.format("flag pole"))).to_contain_text("goes on")
    expect(form).to_contain_text("1 weight added.")
    wait_until_settled(page)
    before = boat[1].read_text(encoding="utf-8")
    entry.fill(
        "what\tkg\tx\ty\tz\thow\nstove\t18\t3.2\t-0.8\t0.1\tcomes off\nflag\tlots\t1\t\t2\n"
    )
    form.get_by_role("button", name="Add 1 weight").click()
    expect(form.get_by_role("alert")).to_contain_text(
        "Row 3 has “lots” for kg, which is not a number."
    )
    assert boat[1].read_text(encoding="utf-8") == before
    entry.fill(
        "what\tkg\tx\ty\tz\thow\nstove\t18\t3.2\t-0.8\t0.1\tcomes off\nflag\t1\t1\t\t2\n"
    )
    form.get_by_role("button", name="Add 2 weights").click()
    expect(page.locator(ROW.format("stove"))).to_contain_text("comes off")
    expect(page.locator(ROW.format("flag"))).to_have_count(1)
    wait_until_settled(page)
    page.locator(".travel.undo").click()
    expect(page.locator(ROW.format("stove"))).to_have_count(0)
    expect(page.locator(ROW.format("flag"))).to_have_count(0)
    expect(page.locator(ROW.format("flag pole"))).to_have_count(1)
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


def test_new_steel_begins_from_its_proposal_and_has_a_form(open_page, boat):
    page = open_page("#/ledger")
    page.get_by_label("Name of the new change").fill("Tank shelf")
    page.get_by_role("button", name="Add the change").click()
    page.get_by_role("button", name="add new steel to Tank shelf").click()
    form = page.get_by_role("form", name="New steel")
    form.get_by_label("what").select_option("plating")
    expect(form.locator(".proposed")).to_contain_text("level shelf amidships")
    form.get_by_label("name").fill("shelf")
    form.get_by_role("button", name="Add", exact=True).click()
    expect(page.locator(ROW.format("shelf"))).to_contain_text("new steel")
    page.get_by_role("button", name="Dimensions of shelf").click()
    expect(page.locator("#panel h2")).to_have_text("Tank shelf")
    corners = page.locator('[data-path="changes.tank-shelf.parts.shelf.corners_m"]')
    expect(corners.locator("tbody tr")).to_have_count(4)
    first = corners.locator(".typed input").first
    first.fill("5900")
    first.press("Enter")
    wait_until_settled(page)
    assert saved(boat[1], "5.9")


def test_the_steps_close(open_page):
    page = open_page("#/ledger")
    steps = page.get_by_role("region", name="Step by step")
    expect(steps.locator("tbody tr")).to_have_count(9)
    expect(steps.locator("tfoot")).to_contain_text("whole refit")
    expect(steps.locator("tfoot")).to_contain_text("whole refit less the sum of the cards")


def test_lines_come_from_a_file_and_a_bad_one_is_refused(open_page, boat):
    page = open_page("#/boat?section=lines")
    page.get_by_role("button", name="a table or CSV file").click()
    chooser = page.locator(".file-drop input[type=file]")
    lines = (boat[1].parent / "saltmarrow-lines.csv").read_text(encoding="utf-8")
    deeper = lines.replace("sheer,sheer,5.50,1.87,1.11", "sheer,sheer,5.50,1.95,1.11")
    assert deeper != lines
    send(chooser, "deeper.csv", deeper)
    read = page.get_by_role("region", name="What was read")
    expect(read).to_contain_text("4 lines, 60 points")
    read.get_by_role("button", name="Use these lines").click()
    expect(read).to_contain_text("Undo restores the old ones")
    assert saved(boat[1], "1.95")
    points = page.locator("[data-path='hull.lines.sheer.points_m']")
    ninth = points.get_by_label("points, y, to starboard, 9", exact=True)
    expect(ninth).to_have_value("1.95")

    send(chooser, "bad.csv", "line,kind,x_m,y_m,z_m\nsheer,sheer,0,1\n")
    refusal = page.locator(".source .refused").first
    expect(refusal).to_be_visible()
    assert len(refusal.inner_text()) > 20
    expect(ninth).to_have_value("1.95")
    page.locator(".travel.undo").click()
    expect(ninth).to_have_value("1.87")


def test_lines_are_saved_as_they_can_be_read_back(open_page, boat):
    page = open_page("#/hull")
    with page.expect_download() as taken:
        page.get_by_role("button", name="Save CSV").click()
    text = taken.value.path().read_text(encoding="utf-8")
    assert text.startswith("boat,Saltmarrow\n")
    lines = (boat[1].parent / "saltmarrow-lines.csv").read_text(encoding="utf-8")
    assert {k: v.points for k, v in lines_of_csv(text).items()} == {
        k: v.points for k, v in lines_of_csv(lines).items()
    }


def send(chooser, name, text):
    """Choose a file of this content."""
    chooser.set_input_files({"name": name, "mimeType": "text/csv", "buffer": text.encode()})


def test_freeboards_are_set_and_their_residuals_follow(open_page, boat):
    page = open_page("#/boat?section=freeboards")
    aft = page.locator(ROW.format("aft")).first
    residual = aft.locator("td").nth(3).inner_text()
    port = page.get_by_label("freeboard aft, port")
    port.fill("1031")
    port.press("Enter")
    wait_until_settled(page)
    assert saved(boat[1], "port: 1.031")
    expect(aft.locator("td").nth(3)).not_to_have_text(residual, use_inner_text=True)
    expect(page.get_by_role("region", name="Freeboards and stability")).to_contain_text("χ²")


def test_a_new_boat_begins_with_her_dimensions_and_counts_what_is_hers(open_page):
    page = open_page()
    page.get_by_role("button", name="Boats").click()
    form = page.get_by_role("form", name="Begin a boat")
    form.get_by_label("New boat, name").fill("Plover")
    for name, value in list(MAIN_DIMENSIONS.items())[1:]:
        form.locator(f"[name={name}]").fill(value)
    form.get_by_role("button", name="Begin", exact=True).click()
    expect(form.locator(".refused")).to_contain_text("Still to fill in: length over all.")
    form.locator("[name=length_m]").fill(MAIN_DIMENSIONS["length_m"])
    form.get_by_role("button", name="Begin", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Plover")
    steps = page.locator(".start h3")
    expect(steps).to_have_count(11)
    expect(steps.nth(0)).to_contain_text("Her hull assumed so far")
    expect(page.locator(".start .picture")).to_have_count(11)
    hers = page.get_by_role("region", name="Progress: figures that are yours")
    expect(hers).to_contain_text("7 of 142 figures are yours. Measure next: the hull's lines")
    hers.get_by_role("link", name="Measure next").click()
    x = page.get_by_label("points, y, to starboard, 4", exact=True)
    x.fill("0.66")
    x.press("Enter")
    wait_until_settled(page)
    page.get_by_role("link", name="Start").click()
    expect(hers).not_to_contain_text("7 of 142")
    page.locator(".travel.undo").click()
    expect(hers).to_contain_text("7 of 142")


def test_what_an_option_adds_is_edited_taken_out_and_undone_like_the_rest(open_page, boat):
    page = open_page("#/ledger?option=balanced")
    row = page.locator('[data-path="changes.keel-blocks.adds.blocks"]')
    expect(row).to_contain_text("drawn")
    page.get_by_role("button", name="Edit Blocks").click()
    form = page.get_by_role("region", name="Blocks")
    expect(form.locator('[data-path$=".from"] select')).to_have_value("drawn")
    mass = form.locator('[data-path$="mass_kg"]').first.locator("input")
    expect(mass).to_have_value("330")
    mass.fill("300")
    mass.press("Enter")
    wait_until_settled(page)
    expect(row).to_contain_text("300")
    assert saved(boat[1], "mass_kg: 300, at_m: [3.50, 0, -1.12]")
    page.get_by_role("button", name="Delete Blocks").click()
    wait_until_settled(page)
    expect(row).to_have_count(0)
    assert saved(boat[1], "-1.12", there=False)
    for _ in range(2):
        page.locator(".travel.undo").click()
        wait_until_settled(page)
    expect(row).to_contain_text("330")
    assert saved(boat[1], "mass_kg: 330, at_m: [3.50, 0, -1.12]")
    # what the base design has is left out under the option alone
    page.get_by_role("button", name="Leave out Arch", exact=True).click()
    wait_until_settled(page)
    page.locator(".options select").select_option("")
    wait_until_settled(page)
    expect(page.get_by_role("button", name="Leave out Arch", exact=True)).to_be_visible()


def test_a_form_shows_the_part_that_the_option_builds(open_page, boat):
    text = boat[1].read_text(encoding="utf-8")
    long = (
        "  long:\n    set: {changes.transom.parts.extension.plate_mm: 5}\n"
        "    adds: {transom: {parts: "
        "{extension: {kind: transom_extension, length_m: 0.95, bottom_forward_z_m: 0.20, "
        "bottom_aft_z_m: 0.30, platform_z_m: 0.52, plate_mm: 4}}}}\n"
    )
    boat[1].write_text(text.replace("  balanced:\n", f"{long}  balanced:\n", 1), "utf-8")
    page = open_page("#/float?option=long")
    page.locator(".card", has_text="Transom").first.click()
    part = "changes.transom.parts.extension"
    length = page.locator(f'[data-path="{part}.length_m"] .typed input')
    expect(length).to_have_value("950")
    expect(page.locator(f'[data-path="{part}.plate_mm"] .typed input')).to_have_value("5")
    length.fill("700")
    length.press("Enter")
    wait_until_settled(page)
    expect(length).to_have_value("700")
    assert saved(boat[1], "length_m: 0.7, bottom_forward_z_m: 0.20")
    page.locator(".options select").select_option("")
    wait_until_settled(page)
    expect(length).to_have_value("620")


def test_the_demos_first_page_offers_the_other_examples(own_demo):
    page = own_demo
    hint = page.locator(".other-examples")
    expect(hint).to_contain_text("Saltmarrow is an invented example")
    assert hint.get_by_role("button").all_inner_texts() == ["Brackwren", "Fernskerry"]
    hint.get_by_role("button", name="Brackwren").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Brackwren")
    expect(page.locator(".other-examples")).to_contain_text("Saltmarrow")


LATE = """() => {
    const later = window.setTimeout.bind(window);
    window.setTimeout = (what, ms = 0, ...rest) => later(what, ms + 700, ...rest);
    window.requestAnimationFrame = what => later(() => what(performance.now()), 700);
}"""


def test_a_page_that_arrives_between_its_drawing_and_its_effects_is_shown(open_page):
    page = open_page("#/float")
    page.add_init_script(f"({LATE})()")
    held = []
    page.route("**/assets/page-*.js", lambda one: held.append(one))
    page.goto(f"{page.url.split('#')[0]}?again#/ledger")
    expect(page.get_by_text("Opening…")).to_be_visible()
    for one in held:
        one.continue_()
    expect(page.get_by_role("button", name="add a weight to Arch")).to_be_visible()
