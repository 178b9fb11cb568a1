"""A person on the Float page, and the refit in a photograph, set and saved by hand and keys."""

import struct
import zlib
from copy import deepcopy

import numpy as np
import pytest
from onpage import page_over
from playwright.sync_api import expect
from refits import boat, demo_document

from hullchange.photograph.camera import Camera
from hullchange.present.photograph import offered_marks

WIDTH, HEIGHT = 1200, 800
NAMES = (
    *("stem-head", "transom-starboard", "mark-forward-starboard", "mark-aft-starboard"),
    *("old-house-forward-roof-port", "old-house-after-roof-starboard"),
)


def refit():
    plain = deepcopy(demo_document())
    helm = {"x_m": 8.9, "floor_z_m": 0.8}
    plain["person"] = {"height_m": 1.78, "sole_z_m": -0.22, "helm": helm}
    return plain


def grey_png():
    """A picture of one grey."""

    def chunk(kind, data):
        checked = kind + data
        return struct.pack(">I", len(data)) + checked + struct.pack(">I", zlib.crc32(checked))

    head = struct.pack(">IIBBBBB", WIDTH, HEIGHT, 8, 0, 0, 0, 0)
    rows = zlib.compress((b"\0" + b"\x90" * WIDTH) * HEIGHT)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")
    )


def bow_camera():
    """A camera off the starboard bow."""
    at, towards = np.array([-4.0, 13.0, 3.0]), np.array([5.0, 0.0, 0.7])
    ahead = (towards - at) / np.linalg.norm(towards - at)
    right = np.cross(ahead, [0.0, 0.0, 1.0])
    right /= np.linalg.norm(right)
    turn = np.array([right, np.cross(ahead, right), ahead])
    return Camera(at, turn, 1200.0, np.array([WIDTH, HEIGHT]) / 2.0)


CAMERA = bow_camera()


def seen_from_the_bow():
    """Where that camera has each mark, by its name."""
    return {m.id: CAMERA.pixels(np.array([m.at]))[0] for m in offered_marks(boat(refit()))}


@pytest.fixture
def page(tmp_path, chromium):
    size = {"width": 1440, "height": 900}
    with page_over(refit(), tmp_path, chromium, viewport=size) as opened:
        yield opened


def photographed_and_marked(page):
    """A photograph given, six offered places and one of her owner's own marked in it."""
    photograph = page.locator(".photograph .file-drop input")
    text = {"name": "notes.jpg", "mimeType": "image/jpeg", "buffer": b"no picture"}
    photograph.set_input_files(text)
    expect(page.locator(".photograph .refused")).to_contain_text("is not a picture")
    picture = {"name": "hull.png", "mimeType": "image/png", "buffer": grey_png()}
    photograph.set_input_files(picture)
    place = page.locator(".picture")
    expect(place.locator("img")).to_be_visible()

    def press(name, at):
        page.locator(".mark-list select").select_option(name)
        wide = place.bounding_box()["width"] / WIDTH
        place.click(position={"x": at[0] * wide, "y": at[1] * wide})

    for name in NAMES:
        press(name, seen_from_the_bow()[name])
    marks = page.locator(".mark-list")
    expect(marks).to_contain_text("The marks agree to")
    page.get_by_role("button", name="a place of your own").click()
    own = page.get_by_role("form", name="A place of your own")
    for field, typed in (("name", "Lüke"), ("x", "1"), ("y", "0.3"), ("z", "1.4")):
        own.get_by_label(field).fill(typed)
    own.get_by_role("button", name="Mark it next").click()
    press("luke", CAMERA.pixels(np.array([[1.0, 0.3, 1.4]]))[0])
    expect(marks.locator("li").last).to_contain_text("Lüke · off")
    expect(page.locator(".weights-seen li")).to_have_count(3)
    return marks


def test_a_person_is_drawn_and_a_photograph_gets_the_refit(page):
    panel = page.locator(".person-panel")
    expect(panel).to_contain_text("1.92 m least")
    expect(panel).to_contain_text("hidden ahead")
    figures = page.locator(".profile .person .figure")
    expect(figures).to_have_count(2)
    panel.get_by_role("checkbox").uncheck()
    expect(figures).to_have_count(0)
    panel.locator(".opens").first.click()
    expect(page.locator(".opened:popover-open")).to_contain_text("least of h under the roof")
    page.keyboard.press("Escape")
    page.get_by_role("link", name="See the refit in your own photograph").click()
    marks = photographed_and_marked(page)
    before = marks.inner_text()
    page.locator(".picture .mark").first.press("Shift+ArrowRight")
    expect(marks).not_to_have_text(before, use_inner_text=True)
    divider = page.get_by_role("slider")
    divider.press("ArrowLeft")
    expect(page.get_by_role("img", name="Divider at 49 %")).to_be_visible()
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save as PNG").click()
    assert saved.value.suggested_filename == "hull-refit.png"
    page.evaluate("localStorage.clear()")  # as another browser would have it
    page.reload()
    expect(marks.locator("li")).to_have_count(len(NAMES) + 1)
    expect(marks.locator("li").last).to_contain_text("Lüke")
    page.get_by_role("button", name="Delete the mark stem head").click()
    expect(marks.locator("li")).to_have_count(len(NAMES))
    page.locator(".toast").get_by_role("button", name="Undo").click()
    expect(marks.locator("li")).to_have_count(len(NAMES) + 1)
