"""The shared file: opened from disk with no network, it shows the boat and changes nothing."""

import json
import subprocess
import sys

import pytest
from onpage import drawn, figure, scene
from playwright.sync_api import expect
from refits import SALTMARROW

LARGEST_BYTES = 4_000_000


def told(*words):
    command = [sys.executable, "-m", "hullchange_api.cli", *map(str, words)]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert run.stderr == ""
    return run.stdout


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    file = tmp_path_factory.mktemp("shared") / "saltmarrow.html"
    told("share", SALTMARROW, "--quick", "--out", file)
    return file


@pytest.fixture
def page(file, chromium):
    """The file opened from disk, offline; a word on the console or a request fails the test."""
    context = chromium.new_context(
        offline=True, viewport={"width": 1440, "height": 900}, reduced_motion="reduce"
    )
    page = context.new_page()
    troubles = []
    page.on("pageerror", lambda error: troubles.append(str(error)))
    page.on("console", lambda said: said.type == "error" and troubles.append(said.text))
    page.on("request", lambda r: r.url.startswith("http") and troubles.append(r.url))
    page.goto(file.as_uri())
    page.locator(".strip .figure").first.wait_for()
    yield page
    context.close()
    assert troubles == []


def test_she_is_drawn_from_one_file(page, file):
    assert file.stat().st_size < LARGEST_BYTES
    drawn(page)
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


def test_its_numbers_are_those_of_the_command_line(page):
    answer = json.loads(told("assess", SALTMARROW, "--quick", "--json"))
    held = json.loads(page.locator("#refit").text_content())
    assert held["working"]["assessment"] == answer
    reference = answer["reference_condition"]
    row = [c for c in answer["conditions"] if c["id"] == reference][-1]
    assert f"{abs(row['trim_mm']):.0f} mm" in figure(page, "trim")
    other = next(c["id"] for c in answer["conditions"] if c["id"] != reference)
    page.locator(".register label", has_text=other.replace("-", " ")).first.click()
    row = [c for c in answer["conditions"] if c["id"] == other][-1]
    expect(page.locator(".strip .figure", has_text="trim").first).to_contain_text(
        f"{abs(row['trim_mm']):.0f} mm"
    )


def test_it_is_unsigned_and_changes_nothing(page):
    expect(page.locator(".boat .state")).to_contain_text("unsigned")
    expect(page.locator(".cautions")).to_contain_text("not an approval")
    for name in ("Undo", "Redo", "Boats", "New plan"):
        assert page.get_by_role("button", name=name, exact=True).count() == 0
    expect(page.locator(".form .field").first).to_be_visible()
    assert page.locator(".form input:enabled, .form select:enabled").count() == 0
    for place in ("stability", "ledger", "hull", "print"):
        page.locator(f".pages a[href^='#/{place}']").click()
        expect(page.locator(f".app.on-{place}")).to_be_visible()
        assert page.get_by_role("button", name="take out").count() == 0
