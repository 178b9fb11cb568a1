"""A review with no network: one file to the consultant, one back, merged twice alike."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from onpage import begin_with_stock, wait_until_fits_across
from playwright.sync_api import expect

LARGEST_BYTES = 4_000_000
PATIENCE_MS = 60_000
PHONE = {"width": 390, "height": 844}


@pytest.fixture
def owner(open_page, boat):
    """The owner's Review page of a small boat with one new plate, a revision frozen."""
    address, _ = boat
    page = open_page()
    page.set_default_timeout(PATIENCE_MS)
    begin_with_stock(page, address, "Sloop")
    page.goto(f"{address}/#/review?boat=sloop")
    page.reload()
    page.get_by_label("what this revision is for").fill("for the surveyor")
    page.get_by_role("button", name="Freeze a revision").click()
    page.get_by_role("link", name="Save revision 1 as one file").wait_for()
    return page


def saved(page, press, place):
    """The file that a press hands over."""
    with page.expect_download() as coming:
        press.click()
    file = place / coming.value.suggested_filename
    coming.value.save_as(file)
    return file


def to(page, name):
    """Open another page of the boat."""
    page.get_by_role("navigation", name="Pages").get_by_role("link", name=name).click()


def comment_and_sign(page):
    """A defect on a plate, and a word with a condition; both stay when it is opened again."""
    page.locator(".card").nth(1).click()  # the first is the whole refit
    page.locator(".plates summary").click()
    page.locator(".plates").get_by_role("button", name="Comment on").first.click()
    page.get_by_role("textbox", name="comment").fill("No lashing point for the bank.")
    page.get_by_label("it is a").select_option("defect")
    page.get_by_label("your name").fill("T. Brook")
    page.get_by_role("button", name="Add the comment").click()
    to(page, "Review")
    form = page.get_by_role("form", name="Sign", exact=True)
    form.get_by_label("your verdict").select_option("agreed-with-conditions")
    form.get_by_label("what you reviewed, such as").fill("floating and stability only")
    form.get_by_label("conditions, one per line").fill("Weigh the bank before it goes in.")
    form.get_by_role("button", name="Sign revision 1").click()
    hand = page.get_by_role("region", name="Your review")
    expect(hand).to_contain_text("2 entries, not saved yet")
    expect(page.locator(".register .state")).to_contain_text("unsigned")
    whole = page.locator(".sign-off tbody tr").filter(has_text="The whole refit")
    expect(whole).to_contain_text("counts once merged")
    page.reload()
    expect(hand).to_contain_text("2 entries, not saved yet")
    expect(page.get_by_role("region", name="Comments", exact=True)).to_contain_text("lashing")
    assert Axe().run(page).violations_count == 0
    page.set_viewport_size(PHONE)
    wait_until_fits_across(page)


@pytest.mark.slow
def test_one_file_goes_and_one_comes_back(owner, from_disk, tmp_path):
    link = owner.get_by_role("link", name="Save revision 1 as one file")
    file = saved(owner, link, tmp_path)
    assert file.name == "sloop-revision-1.html"
    assert file.stat().st_size < LARGEST_BYTES
    page = from_disk(file)
    expect(page.locator(".register .state")).to_contain_text("read only · revision 1")
    comment_and_sign(page)
    back = saved(page, page.get_by_role("button", name="Save your review"), tmp_path)
    expect(page.get_by_role("region", name="Your review")).to_contain_text("2 entries, saved")
    owner.locator(".step-head", has_text="Answer").click()
    merging = owner.get_by_role("region", name="Review files")
    for words in ("2 new entries, 0 already there", "0 new entries, 2 already there"):
        merging.locator("input[type=file]").set_input_files(back)
        expect(merging).to_contain_text(words)
        answers = owner.locator(".step", has=owner.get_by_role("heading", name="Answer"))
        expect(answers).to_contain_text("No lashing point")
        expect(answers).to_contain_text("1 open, 0 closed")
        expect(owner.locator(".signatures > li")).to_have_count(1)
    expect(owner.locator(".signatures")).to_contain_text("T. Brook")
    expect(owner.locator(".sign-off tbody")).to_contain_text("still valid")
    expect(owner.locator(".signatures")).to_contain_text("through a review file")
    expect(owner.locator(".register .state b")).to_have_text("signed with conditions")
    merging.locator("input[type=file]").set_input_files(file)
    expect(merging.get_by_role("alert")).to_contain_text("not a review saved")
