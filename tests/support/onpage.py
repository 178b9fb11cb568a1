"""What is on the page, read as a person would: figures, fields, the scene as plain data."""

import json
import subprocess
import sys
import time
from contextlib import contextmanager

from cutting import STOCK
from playwright.sync_api import expect

HOUSE = "changes.deckhouse.parts.house"
HOUSE_PICKED = "#/float?picked=deckhouse/house"
MAIN_DIMENSIONS = {
    **{"length_m": "9,4", "waterline_m": "7.9", "beam_m": "2.95", "displacement_kg": "6200"},
    **{"draught_m": "1.45", "freeboard_forward_m": "1.25", "freeboard_least_m": "0.9"},
    **{"freeboard_aft_m": "1.0", "transom_m": "1.7"},
}


@contextmanager
def serving(file=None, folder=None):
    """Address of a server of its own over a file, or over a folder of boats."""
    command = [sys.executable, "-m", "hullchange_api", "serve", *([str(file)] if file else [])]
    command += ["--port", "0", "--no-browser", "--data", str(folder or file.parent / "data")]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
        try:
            address = next(line.strip() for line in server.stdout if line.startswith("http"))
            yield address.rstrip("/")
        finally:
            server.terminate()  # also where a test fails, which waited for ever otherwise


@contextmanager
def page_over(plain, folder, chromium, *, refusals=False, name="other", **settings):
    """A page over a document; what goes wrong on it fails the test, refusals where asked."""
    file = folder / f"{name}.yaml"
    file.write_text(json.dumps(plain), encoding="utf-8")
    with page_on(chromium, file, refusals=refusals, **settings) as page:
        yield page


@contextmanager
def page_on(chromium, file=None, folder=None, *, refusals=False, **settings):
    """A page of a server over a file or a folder of boats; what goes wrong fails the test."""
    troubles = []

    def note(call):
        if call.type == "error" and not (refusals and "status of 422" in call.text):
            troubles.append(call.text)

    with serving(file, folder) as address:
        context = chromium.new_context(reduced_motion="reduce", base_url=address, **settings)
        page = context.new_page()
        page.on("pageerror", lambda error: troubles.append(str(error)))
        page.on("console", note)
        page.goto(address)
        try:
            yield page
        finally:
            context.close()
    assert troubles == [], troubles


def scene(page):
    """The pieces of the scene by id."""
    described = page.evaluate("window.hullchange.describe()")
    return {piece["id"]: piece for piece in described["pieces"]}


def wait_until_drawn(page):
    """Wait until every piece of the scene is there."""
    # drawn by software, beside another browser and two servers on two cores
    page.wait_for_function(
        "() => (window.hullchange.describe()?.pieces.length ?? 0) > 8", timeout=90_000
    )


def figure(page, label):
    """The whole text of one of the nine figures at the top."""
    return all_figures(page).filter(has_text=label).first.inner_text()


def all_figures(page):
    """The nine figures at the top, unfolded."""
    fold = page.get_by_role("button", name="All figures ±")
    if fold.count():
        fold.click()
    return page.locator(".strip .figure")


def card(page, name):
    """The card of a change."""
    return page.locator(".card", has=page.locator(".name", has_text=name))


def field(page, key):
    """A field of the form by its key."""
    return page.locator(f'[data-path="{HOUSE}.{key}"]')


def wait_until_settled(page):
    """Wait until nothing is on its way."""
    expect(page.locator(".answer")).to_have_attribute("aria-busy", "false")


def edits(page):
    """How many edits the boat on the page has had."""
    return page.evaluate(
        """async () => {
            const at = '/api/refits/saltmarrow/revisions/working?full=false';
            return (await (await fetch(at)).json()).edit;
        }"""
    )


def saved(file, text, there=True):
    """Wait until the file holds a text (or holds it no more), and answer whether it does so."""
    for _ in range(100):
        if (text in file.read_text(encoding="utf-8")) == there:
            return True
        time.sleep(0.1)
    return False


def spot_of(page, piece):
    """A point of the page where a piece of the scene is on top."""
    return page.evaluate(
        """piece => {
            const { left, top, width, height } =
                document.querySelector('.three canvas').getBoundingClientRect();
            const view = window.hullchange.view;
            for (let y = 6; y < height; y += 7)
                for (let x = 6; x < width; x += 7)
                    if (view.at(left + x, top + y) === piece
                        && view.at(left + x + 3, top + y) === piece)
                        return [left + x + 1, top + y];
            return null;
        }""",
        piece,
    )


def begin_with_stock(page, address, name, sheet_m=None):
    """Begin a small boat, unless she is there: one new plate, its stock, a stove to go."""
    made = page.request.post(f"{address}/api/refits", data={"name": name})
    if made.status != 201:
        return
    working = f"{address}/api/refits/{name.lower()}/revisions/working"
    stove = {"mass_kg": 18, "at_m": [3.2, 0.8, 0.1], "from": "weighed"}
    stock = STOCK | {"changes.drive.removes.old-stove": stove}
    stock |= {"stock.plates.four.sizes_m": [sheet_m]} if sheet_m else {}
    steps = [{"op": "set", "path": path, "value": value} for path, value in stock.items()]
    edit = page.request.get(working).headers["etag"]
    body = {"label": "stock", "steps": steps}
    assert page.request.patch(working, data=body, headers={"If-Match": edit}).ok


def wait_until_fits_across(page, **wait):
    """Wait until nothing reaches beyond the page's width; a resize lays it out anew."""
    page.wait_for_function("() => document.documentElement.scrollWidth <= innerWidth", **wait)
