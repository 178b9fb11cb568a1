"""The shared file: opened from disk with no network, it shows the boat and changes nothing."""

import json
import re
import subprocess
import sys

import pytest
from agreement import rows_of
from onpage import all_figures, card, figure, scene, wait_until_drawn
from playwright.sync_api import expect
from refits import SALTMARROW

LARGEST_BYTES = 4_000_000


def output_of(*words):
    command = [sys.executable, "-m", "hullchange_api", *map(str, words)]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert run.stderr == ""
    return run.stdout


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    file = tmp_path_factory.mktemp("shared") / "saltmarrow.html"
    output_of("share", SALTMARROW, "--quick", "--out", file)
    return file


@pytest.fixture
def page(file, from_disk):
    """The file opened from disk, offline."""
    return from_disk(file)


def test_figures_open_without_a_server(page):
    all_figures(page).filter(has_text="displacement").click()
    card = page.locator(".opened:popover-open")
    card.get_by_role("button", name="net mass of bow").click()
    expect(card.locator(".formula")).to_contain_text("m on − m off")


def test_she_is_drawn_from_one_file(page, file):
    assert file.stat().st_size < LARGEST_BYTES
    wait_until_drawn(page)
    expect(page.locator("#app .cover")).to_have_count(0)
    assert {p["role"] for p in scene(page).values()} >= {"hull", "new", "replaced"}
    colours = page.evaluate(
        """() => new Promise(done => requestAnimationFrame(() => {
            const canvas = document.querySelector('.three canvas');
            window.hullchange.view.view('profile');
            requestAnimationFrame(() => {
                const copy = document.createElement('canvas');
                [copy.width, copy.height] = [canvas.width, canvas.height];
                const flat = copy.getContext('2d');
                flat.drawImage(canvas, 0, 0);
                const { data } = flat.getImageData(0, 0, copy.width, copy.height);
                done(new Set(new Uint32Array(data.buffer)).size);
            });
        }))"""
    )
    assert colours > 100
    drawing = page.evaluate("() => window.hullchange.view.svg({ width: 800 })")
    assert drawing.startswith("<svg")
    assert drawing.count("<path") > 100


def test_its_numbers_are_those_of_the_command_line(page):
    answer = json.loads(output_of("assess", SALTMARROW, "--quick", "--json"))
    held = json.loads(page.locator("#refit").text_content())
    assert held["working"]["assessment"] == answer
    reference = answer["reference_condition"]
    row = [c for c in answer["conditions"] if c["id"] == reference][-1]
    assert f"{abs(row['trim_mm']):.0f} mm" in figure(page, "trim")
    other = next(c["id"] for c in answer["conditions"] if c["id"] != reference)
    page.locator(".register label", has_text=other.replace("-", " ")).first.click()
    row = [c for c in answer["conditions"] if c["id"] == other][-1]
    expect(all_figures(page).filter(has_text="trim").first).to_contain_text(
        f"{abs(row['trim_mm']):.0f} mm"
    )


def test_it_is_unsigned_and_changes_nothing(page):
    expect(page.locator(".register .state")).to_contain_text("unsigned")
    expect(page.locator(".cautions summary")).to_contain_text("not an approval")
    expect(page.locator(".cautions summary")).to_contain_text("Strength is not checked.")
    for name in ("Undo", "Redo", "Boats", "New plan"):
        expect(page.get_by_role("button", name=name, exact=True)).to_have_count(0)
    card(page, "Deckhouse").click()
    expect(page.locator(".form .field").first).to_be_visible()
    expect(page.locator(".form input:enabled, .form select:enabled")).to_have_count(0)
    for place in ("stability", "ledger", "boat", "print", "guide"):
        page.locator(f".pages a[href^='#/{place}']").click()
        expect(page.locator(f".app.on-{place}")).to_be_visible()
        expect(page.get_by_role("button", name="Delete")).to_have_count(0)


def test_distances_are_measured_in_it(page):
    page.get_by_role("button", name="distance").click()
    page.get_by_label("from, by name").select_option(label="Aft, port")
    page.get_by_label("to, by name").select_option(label="Aft, starboard")
    expect(page.locator(".tape output")).to_contain_text("to starboard, 0 mm up")


def test_she_is_heeled_and_her_levers_are_saved_without_a_server(page):
    page.locator(".pages a[href^='#/stability']").click()
    slider = page.get_by_label("heel", exact=True)
    slider.fill("23")
    lever = page.locator(".readout div", has_text="righting lever GZ").locator("dd")
    expect(lever).to_have_text(re.compile(r"^0\.\d{3} "))
    before = lever.inner_text()
    slider.fill("30")
    expect(lever).not_to_have_text(before, use_inner_text=True)
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save CSV").click()
    rows = rows_of(saved.value.path().read_text(encoding="utf-8"))
    at_30 = next(row for row in rows if row["boat"] == "refit" and row["heel_deg"] == "30")
    assert lever.inner_text().startswith(f"{float(at_30['gz_m']):.3f} ")


def test_it_says_where_files_for_other_programs_are_made(page):
    page.get_by_role("navigation", name="Pages").get_by_role("link", name="Print").click()
    expect(page.locator(".take-away")).to_contain_text("ask the owner for them")
    expect(page.get_by_role("button", name="Ledger, CSV")).to_have_count(0)
    with page.expect_download() as saved:
        page.get_by_role("button", name="Lines plan, SVG").click()
    assert saved.value.path().read_text(encoding="utf-8").startswith("<svg ")


def test_a_figure_changed_in_the_file_is_noticed_and_not_signed(file, from_disk):
    text = file.read_text(encoding="utf-8")
    gm = re.search(r'"gm_m":(0\.\d+)', text)
    other = file.with_name("changed.html")
    other.write_text(text.replace(gm[0], '"gm_m":1.234', 1), encoding="utf-8")
    changed = from_disk(other)
    alarm = changed.get_by_role("alert").filter(has_text="was changed after it was made")
    for place in ("review", "print"):
        changed.locator(f".pages a[href^='#/{place}']").click()
        expect(alarm).to_be_visible()
    changed.emulate_media(media="print")
    expect(alarm).to_be_visible()
    changed.emulate_media(media="screen")
    changed.locator(".pages a[href^='#/review']").click()
    form = changed.get_by_role("form", name="Sign")
    form.get_by_label("your verdict").select_option("agreed")
    form.get_by_label("what you reviewed").fill("stability")
    form.get_by_label("your name").fill("Consultant")
    form.get_by_role("button", name="Sign").click()
    expect(form).to_contain_text("do not sign")
    expect(changed.locator("[aria-label=Signatures]")).to_have_count(0)
