"""Files taken away from the page, and a boat archived and restored from it."""

import json
from io import BytesIO
from zipfile import ZipFile

from onpage import wait_until_settled
from playwright.sync_api import expect


def test_files_for_other_programs_come_from_the_print_page(open_page):
    page = open_page("#/print")
    wait_until_settled(page)
    files = page.get_by_role("region", name="Files for other programs")
    for words, ending, begins in (
        ("New steel, STEP", "-unsigned.step", b"ISO-10303-21;"),
        ("Ledger, CSV", "-unsigned.csv", b"boat,Saltmarrow"),
        ("Lines plan, PDF", "-unsigned.pdf", b"%PDF"),
        ("All tables, XLSX", "-unsigned.xlsx", b"PK"),
    ):
        with page.expect_download(timeout=120_000) as taken:
            files.get_by_role("button", name=words).click()
        assert taken.value.suggested_filename.startswith("saltmarrow-")
        assert taken.value.suggested_filename.endswith(ending)
        with open(taken.value.path(), "rb") as file:
            assert file.read(len(begins)) == begins
        expect(files.get_by_role("button", name=words)).to_be_enabled()


def test_a_boat_is_archived_and_restored_under_another_name(open_page, tmp_path):
    page = open_page("#/print")
    page.get_by_role("button", name="Boats").click()
    with page.expect_download() as taken:
        page.get_by_role("link", name="Archive of Saltmarrow").click()
    assert taken.value.suggested_filename == "saltmarrow.zip"
    archive = tmp_path / "saltmarrow.zip"
    taken.value.save_as(archive)
    with ZipFile(BytesIO(archive.read_bytes())) as packed:
        assert json.loads(packed.read("manifest.json"))["refit"] == "saltmarrow"
    form = page.get_by_role("form", name="Restore a boat")
    form.get_by_label("from her archive").set_input_files(archive)
    form.get_by_role("button", name="Restore", exact=True).click()
    expect(form.get_by_role("alert")).to_contain_text("choose another name")
    form.get_by_label("new name (empty").fill("Second")
    form.get_by_role("button", name="Restore", exact=True).click()
    page.wait_for_url("**boat=second**")
    page.locator(".answer-figure").first.wait_for()
    page.get_by_role("button", name="Boats").click()
    expect(page.locator(".boats li").filter(has_text="refit.yaml").first).to_be_visible()
