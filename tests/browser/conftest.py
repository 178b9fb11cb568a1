"""A real server on a copy of the demo boat, and a real Chromium to look at her with."""

import os
import shutil
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from onpage import HOUSE_PICKED, page_over, serving, wait_until_drawn
from other_refits import other_refit
from playwright.sync_api import expect, sync_playwright

from hullchange.document.reading import read_document

EXAMPLES = Path(__file__).parents[2] / "examples"
CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
ARGUMENTS = [
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# as long as a whole answer may take where several tests share a slow machine
expect.set_options(timeout=30_000)


def pytest_collection_modifyitems(items):
    """Everything in this folder drives a browser, and begins first."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.browser)
    items.sort(key=lambda item: item.get_closest_marker("browser") is None)


@pytest.fixture(scope="session")
def demo_server(tmp_path_factory):
    """Address of a server with the demo boat, and the file she is kept in."""
    folder = tmp_path_factory.mktemp("harbour")
    for name in ("saltmarrow.yaml", "saltmarrow-lines.csv"):
        shutil.copy(EXAMPLES / name, folder)
    file = folder / "saltmarrow.yaml"
    with serving(file) as address:
        yield address, file


@pytest.fixture(params=[2])
def other_boat(request, tmp_path, chromium):
    """A page over a boat unlike the demo, drawn from a seed, and her document."""
    plain = other_refit(request.param).plain
    with page_over(plain, tmp_path, chromium) as page:
        yield page, plain


@pytest.fixture(params=[11])
def bare_boat(request, tmp_path, chromium):
    """A page over a boat unlike the demo with nothing on her deck and no change."""
    plain = other_refit(request.param).plain
    bare = ("existing", "changes", "options", "targets", "openings", "conditions")
    kept = {key: value for key, value in plain.items() if key not in bare}
    kept.pop("reference_condition", None)
    with page_over(kept, tmp_path, chromium, refusals=True) as page:
        yield page


@pytest.fixture
def own_demo(tmp_path, chromium):
    """A page over the demo boat on a server of her own."""
    plain = read_document(EXAMPLES / "saltmarrow.yaml").plain
    with page_over(plain, tmp_path, chromium, name="saltmarrow") as page:
        yield page


@pytest.fixture(scope="session")
def chromium():
    """A browser, started once."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture
def boat(demo_server):
    """Address and file, the boat as she was in the example."""
    address, file = demo_server
    shutil.copy(EXAMPLES / "saltmarrow.yaml", file)
    return address, file


@pytest.fixture
def open_page(boat, chromium):
    """How to open a page of the viewer; what goes wrong on it fails the test."""
    address, _ = boat
    contexts, troubles = [], []

    def note(message):
        expected = "status of 4", "net::ERR_INTERNET_DISCONNECTED"
        if message.type == "error" and not any(one in message.text for one in expected):
            troubles.append(message.text)

    def opened(place="#/float", **settings):
        defaults = {"viewport": {"width": 1440, "height": 900}, "reduced_motion": "reduce"}
        context = chromium.new_context(**{**defaults, **settings})
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: troubles.append(str(error)))
        page.on("console", note)
        page.on("request", lambda request: foreign(request.url))
        page.goto(f"{address}/{place}")
        page.locator(".answer-figure").first.wait_for()
        return page

    def foreign(url):
        if urlsplit(url).scheme in ("http", "https") and not url.startswith(address):
            troubles.append(f"asked elsewhere: {url}")

    yield opened
    for context in contexts:
        context.close()
    assert troubles == []


@pytest.fixture
def page(open_page):
    """The Float page with the house picked and everything of the scene in place."""
    page = open_page(HOUSE_PICKED)
    wait_until_drawn(page)
    return page


@pytest.fixture
def from_disk(chromium):
    """How a file is opened with no network; a word on the console or a request fails."""
    context = chromium.new_context(
        offline=True, viewport={"width": 1440, "height": 900}, reduced_motion="reduce"
    )
    troubles = []

    def opened(file):
        page = context.new_page()
        page.on("pageerror", lambda error: troubles.append(str(error)))
        page.on("console", lambda call: call.type == "error" and troubles.append(call.text))
        page.on("request", lambda r: r.url.startswith("http") and troubles.append(r.url))
        page.goto(file.as_uri())
        page.locator(".answer-figure").first.wait_for()
        return page

    yield opened
    context.close()
    assert troubles == []
