"""A review by two people in two browsers: shared, commented, signed, stale, looked at again."""

import shutil
import subprocess
import sys

import pytest
from axe_playwright_python.sync_playwright import Axe
from onpage import wait_until_drawn, wait_until_fits_across
from playwright.sync_api import expect
from refits import SALTMARROW

PATIENCE_MS = 120_000
HEIGHT = '[data-path$="house.side_height_m"] input[type=range]'
PHONE = {"width": 390, "height": 844}


@pytest.fixture(scope="module")
def review_server(tmp_path_factory):
    """Address of a server with the demo boat under review; her other plans are left out."""
    folder = tmp_path_factory.mktemp("review")
    text = SALTMARROW.read_text(encoding="utf-8")
    file = folder / "saltmarrow.yaml"
    file.write_text(text[: text.index("\noptions:")] + "\n", encoding="utf-8")
    shutil.copy(SALTMARROW.with_name("saltmarrow-lines.csv"), folder)
    command = [sys.executable, "-m", "hullchange_api", "serve", str(file)]
    command += ["--port", "0", "--data", str(folder / "data")]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
        yield next(line.strip() for line in server.stdout if line.startswith("http"))
        server.terminate()


@pytest.fixture
def open_other_browser(chromium):
    """How another person's browser is opened; what goes wrong in it fails the test."""
    contexts, troubles = [], []

    def note(message):
        if message.type == "error" and "status of 4" not in message.text:
            troubles.append(message.text)

    def open_browser():
        size = {"width": 1440, "height": 900}
        context = chromium.new_context(viewport=size, reduced_motion="reduce")
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(PATIENCE_MS)
        page.on("pageerror", lambda error: troubles.append(str(error)))
        page.on("console", note)
        return page

    yield open_browser
    for context in contexts:
        context.close()
    assert troubles == []


def part(page, name):
    """A section of the Review page."""
    return page.get_by_role("region", name=name, exact=True)


def step(page, name):
    """A step of the review, opened where it is not the next one."""
    step = page.locator(".step", has=page.get_by_role("heading", name=name))
    if step.get_attribute("open") is None:
        step.locator(".step-head").click()
    return step


def to(page, name):
    """Open another page of the boat."""
    page.get_by_role("navigation", name="Pages").get_by_role("link", name=name).click()


def freeze(page, note):
    """Freeze a revision, and wait for it."""
    rows = page.locator(".revisions li")
    before = rows.count()
    step(page, "Freeze")
    page.get_by_label("what this revision is for").fill(note)
    page.get_by_role("button", name="Freeze a revision").click()
    expect(rows).to_have_count(before + 1, timeout=PATIENCE_MS)


def link_for(page, label):
    """A link that opens what is ticked."""
    page.get_by_label("for whom").fill(label)  # it is the next step, and opens by itself
    page.get_by_role("button", name="Make a link", exact=True).click()
    made = page.get_by_label("This link opens on this computer only. It is shown only once.")
    expect(page.locator(".links > ul")).to_contain_text(label)
    link = made.input_value()
    expect(page.locator(".made")).to_contain_text("--host")
    expect(page.locator(".made").get_by_role("link", name="as one file").first).to_be_visible()
    expect(page.locator("select[name=days]")).to_have_value("30")
    return link


def standing(page, words):
    """Wait until the head of the page says where it stands."""
    expect(page.locator(".register .state b")).to_have_text(words, timeout=PATIENCE_MS)


def comment_on_a_plate(page):
    """A question on the roof by keys alone, from the list of plates."""
    to(page, "Float")
    page.locator(".card", has_text="Deckhouse").focus()
    page.keyboard.press("Enter")
    plates = page.locator(".plates summary")
    plates.focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Comment on House, front").first.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("textbox", name="comment")).to_be_focused()
    page.keyboard.type("Is this stiff enough for a boarding sea?")
    page.keyboard.press("Tab")
    page.keyboard.press("d")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator(".composer")).to_have_count(0)


def sign_with_a_condition(page):
    """The consultant's word on the whole."""
    form = page.get_by_role("form", name="Sign", exact=True)
    form.get_by_label("your verdict").select_option("agreed-with-conditions")
    form.get_by_label("what you reviewed, such as").fill("floating and stability only")
    form.get_by_label("conditions, one per line").fill("Weigh the bank before it goes in.")
    form.get_by_role("button", name="Sign revision").click()


@pytest.mark.slow
def test_a_review_from_the_first_link_to_the_last(review_server, open_other_browser):
    owner, consultant = open_other_browser(), open_other_browser()
    owner.goto(f"{review_server}#/review")
    standing(owner, "unsigned")
    freeze(owner, "for the surveyor")
    open_link(consultant, link_for(owner, "Mr Brook"))
    standing(consultant, "unsigned")
    read_only_on_every_page(consultant)
    comment_on_a_plate(consultant)
    pin = consultant.get_by_role("list", name="Comments in the drawing").get_by_role("button")
    expect(pin).to_have_accessible_name("1. Defect on House, front")
    pin.press("Enter")
    expect(part(consultant, "Comments")).to_contain_text("Is this stiff enough")
    sign_with_a_condition(consultant)
    standing(consultant, "signed with conditions")
    made_stale_by_an_edit(owner)
    expect(part(consultant, "Sign-off").locator("td b")).to_have_text("stale")  # not reloaded
    step(owner, "Freeze")
    part(owner, "Dimensions").wait_for()  # the comparison as well
    assert Axe().run(owner).violations_count == 0
    answer_with_evidence(owner)
    freeze(owner, "the house raised")
    expect(part(consultant, "Sign-off")).to_contain_text("There is a newer revision.")
    open_link(consultant, link_for(owner, "Mr Brook again"))
    standing(consultant, "stale")
    what_moved(consultant)
    owner.set_viewport_size(PHONE)
    wait_until_fits_across(owner)
    step(owner, "Send")
    owner.get_by_role("button", name="Revoke the link for Mr Brook again").click()
    expect(part(owner, "Share links").locator(".shut")).to_have_count(1)
    shut = consultant.locator(".bar .notice")
    expect(shut).to_contain_text("This link was revoked: ask for a new one. Nothing you enter")
    assert consultant.request.get(f"{review_server}api/visitor").status == 403
    consultant.reload()
    expect(consultant.get_by_role("alert")).to_contain_text("This link was revoked")


def open_link(page, link):
    """Open a link and say a name."""
    page.goto(link)
    cover = page.get_by_role("img", name="Saltmarrow from her port bow")
    cover.wait_for()
    page.wait_for_function("image => image.naturalWidth === 1600", arg=cover.element_handle())
    page.get_by_label("Your name and profession, as you sign").fill("T. Brook")
    page.get_by_role("button", name="Open the review").click()
    page.locator(".answer-figure").first.wait_for()


def read_only_on_every_page(page):
    """Nothing of the owner's is there; the revision is named wherever one looks."""
    assert "shared" not in page.url
    expect(page.get_by_role("form", name="Freeze a revision")).to_have_count(0)
    expect(part(page, "Share links")).to_have_count(0)
    for name in ("Stability", "Ledger", "Boat"):
        to(page, name)
        expect(page.locator(".register .state")).to_contain_text("revision 1")
    takes_its_files(page)
    to(page, "Float")
    expect(page.locator(HEIGHT)).to_have_count(0)
    wait_until_drawn(page)


def takes_its_files(page):
    """The files for other programs are of the revision that is shown."""
    to(page, "Print")
    with page.expect_download() as taken:
        page.get_by_role("button", name="Ledger, CSV").click()
    assert taken.value.suggested_filename.startswith("saltmarrow-ledger-1-")


def made_stale_by_an_edit(owner):
    """The owner hears of the signature; one step of a slider, and it names what changed."""
    standing(owner, "signed with conditions")
    step(owner, "Answer")
    expect(part(owner, "Comments")).to_contain_text("T. Brook")
    step(owner, "Send")
    expect(part(owner, "Share links")).to_contain_text("opened by T. Brook")
    to(owner, "Float")
    owner.locator(".card", has_text="Deckhouse").click()
    height = owner.locator(HEIGHT)
    height.focus()
    height.press("ArrowRight")
    standing(owner, "stale")
    to(owner, "Review")
    step(owner, "Sign")
    expect(part(owner, "Sign-off")).to_contain_text("house.side_height_m")
    expect(part(owner, "Sign-off")).to_contain_text("Strength is not checked.")


def answer_with_evidence(page):
    """The comment is closed with a photo."""
    step(page, "Answer")
    page.get_by_role("button", name="Answer comment 1").click()
    form = page.get_by_role("form", name="Answer comment 1")
    form.get_by_label("answer", exact=True).fill("Two more stiffeners.")
    photo = {"name": "front.jpg", "mimeType": "image/jpeg", "buffer": b"\xff\xd8\xff\xe0 photo"}
    form.get_by_label("evidence").set_input_files(photo)
    form.get_by_label("your name").fill("Owner")
    form.get_by_role("button", name="Close it with this").click()
    expect(step(page, "Answer")).to_contain_text("0 open, 1 closed")
    photo = part(page, "Comments").get_by_role("link", name="front.jpg")
    expect(photo).to_be_visible()
    part(page, "Comments").get_by_role("button", name="delete front.jpg").click()
    expect(part(page, "Comments")).to_contain_text("front.jpg, deleted")
    expect(photo).to_have_count(0)
    part(page, "Comments").get_by_role("button", name="Undo front.jpg").click()
    expect(photo).to_be_visible()


def what_moved(consultant):
    """By a link to both revisions the second shows only what moved, also in the drawing."""
    changed = part(consultant, "What changed")
    expect(changed.get_by_role("combobox")).to_have_value("1")
    dimensions = part(consultant, "Dimensions").locator("tbody tr")
    expect(dimensions).to_have_count(1)
    expect(dimensions).to_contain_text("side height")
    parts = part(consultant, "Parts").locator(".scrolls").first.locator("tbody tr").all()
    assert {row.get_attribute("data-path").split(".")[1] for row in parts} == {
        "house",
        "mast-support",
    }
    changed.get_by_role("button", name="Old and new in one drawing").click()
    consultant.wait_for_function(
        "() => window.hullchange.describe()?.pieces.some(p => p.id === 'before house')"
    )
    pieces = consultant.evaluate("window.hullchange.describe().pieces")
    outlined = {p["id"] for p in pieces if p["id"].startswith("before")}
    assert outlined == {"before house", "before mast-support"}
    assert "house" in [p["id"] for p in pieces if p["selected"]]
