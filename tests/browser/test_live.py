"""Two browsers on one refit: each sees what the other does, and neither loses its own."""

from onpage import drawn, field, figure, saved, settled
from playwright.sync_api import expect


def typed(page, key, value):
    """Type a value into the form."""
    entry = field(page, key).locator(".typed input")
    entry.fill(value)
    entry.press("Enter")


def shows(page, key, value):
    """Wait until the form of a page shows a value."""
    expect(field(page, key).locator(".typed input")).to_have_value(value)


def test_two_pages_and_the_file_follow_one_another(looking, boat):
    one, two = looking(), looking()
    for page in (one, two):
        drawn(page)
    typed(one, "side_height_m", "640")
    shows(two, "side_height_m", "640")
    settled(two)
    assert figure(one, "displacement") == figure(two, "displacement")
    # by hand, in the file
    assert saved(boat[1], "side_height_m: 0.64")
    text = boat[1].read_text(encoding="utf-8")
    boat[1].write_text(text.replace("side_height_m: 0.64", "side_height_m: 0.61"))
    for page in (one, two):
        shows(page, "side_height_m", "610")
    # both at once, each another value: both stand
    typed(one, "side_height_m", "620")
    typed(two, "roof_camber_m", "70")
    for page in (one, two):
        shows(page, "side_height_m", "620")
        shows(page, "roof_camber_m", "70")
        settled(page)
    assert saved(boat[1], "side_height_m: 0.62")
    assert saved(boat[1], "roof_camber_m: 0.07")
