"""What is grasped in a drawing: by hand, keys, figure and finger; refused, returned, undone."""

import re

from onpage import HOUSE, card, wait_until_settled
from playwright.sync_api import expect


def grip(page, path, where=".sheet"):
    """The handle of a value in one of the drawings."""
    return page.locator(f'{where} .handle-grip[data-grip="{path}"]').first


def now(handle):
    """The value a handle says it has, in its own unit."""
    return float(handle.get_attribute("aria-valuenow"))


def middle_of(handle):
    """Where a handle lies on the page, brought into the middle of what is seen."""
    handle.evaluate("one => one.scrollIntoView({ block: 'center' })")
    box = handle.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


KEYS = """(one, keys) => {
    for (const [key, shiftKey] of keys)
        one.dispatchEvent(new KeyboardEvent('keydown', { key, shiftKey, bubbles: true }));
}"""


def held(page, handle, by):
    """Take a handle and drag it, in steps; it stays held."""
    x, y = middle_of(handle)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + by[0], y + by[1], steps=6)


def test_the_roof_is_dragged_in_the_side_view_by_hand_keys_and_figure(page):
    undo = page.get_by_role("button", name="Undo")
    undone = undo.inner_text()
    roof = grip(page, f"{HOUSE}.side_height_m")
    frame = page.locator("svg.profile").first.get_attribute("viewBox")
    held(page, roof, (0, -14))
    words = page.locator(".grasp-words")
    expect(words).to_contain_text("house side height")
    expect(words).to_contain_text("by the stern")
    expect(page.locator("svg.profile .ghost").first).to_be_attached()
    assert now(roof) > 700
    assert page.locator("svg.profile").first.get_attribute("viewBox") == frame
    page.keyboard.press("Escape")
    expect(words).to_have_count(0)
    page.mouse.up()
    wait_until_settled(page)
    assert now(roof) == 580
    expect(undo).to_have_text(undone)  # what came back where it was is no step
    held(page, roof, (0, -14))
    page.mouse.up()
    wait_until_settled(page)
    dragged = now(roof)
    assert dragged > 700
    expect(undo).to_have_attribute("title", re.compile(f"{dragged:.0f} mm"))
    # in one breath: a slow machine would make two runs of them
    roof.evaluate(KEYS, [["ArrowUp", False], ["ArrowUp", False], ["ArrowDown", True]])
    wait_until_settled(page)
    assert now(roof) == dragged - 80
    page.keyboard.press("Enter")
    typed = page.locator(".grasp-typed input")
    expect(typed).to_be_focused()
    typed.fill("62 cm")
    typed.press("Enter")
    expect(typed).to_have_count(0)
    expect(roof).to_be_focused()
    expect(roof).to_have_attribute("aria-valuetext", "620 mm")
    for before in (dragged - 80, dragged, 580):
        undo.click()
        wait_until_settled(page)
        expect(roof).to_have_attribute("aria-valuenow", f"{before:.0f}")
    expect(undo).to_have_text(undone)


def test_what_does_not_fit_is_refused_beside_its_handle_until_it_is_put_away(page):
    front = grip(page, f"{HOUSE}.x_forward_m")
    held(page, front, (-330, 0))
    refused = page.locator(".grasp-refused")
    expect(refused).to_contain_text("off the deck")
    page.mouse.up()
    wait_until_settled(page)
    assert -950 < now(front) <= 2900  # the last that fitted, or where it was
    expect(refused).to_have_count(1)
    expect(refused).to_contain_text("it stays at")
    refused.get_by_role("button", name="OK").click()
    expect(refused).to_have_count(0)


BATTERY = "changes.electric-drive.adds.battery.at_m"


def test_a_weight_is_dragged_on_the_beam_by_a_finger_and_in_three_dimensions(page):
    undo = page.get_by_role("button", name="Undo")
    crate = grip(page, BATTERY, ".beam")
    hand = page.context.new_cdp_session(page)
    hand.send("Emulation.setTouchEmulationEnabled", {"enabled": True})
    page.wait_for_function(
        "matchMedia('(pointer: coarse)').matches"
    )  # which lays the page anew
    x, y = middle_of(crate)
    touch = "Input.dispatchTouchEvent"
    hand.send(touch, {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for step in range(1, 8):
        hand.send(touch, {"type": "touchMove", "touchPoints": [{"x": x - 40 * step, "y": y}]})
    words = page.locator(".grasp-words")
    expect(words).to_contain_text("battery 3.5 m")
    expect(words).to_contain_text("as far as it may go")
    hand.send(touch, {"type": "touchEnd", "touchPoints": []})
    expect(words).to_have_count(0)
    hand.send("Emulation.setTouchEmulationEnabled", {"enabled": False})
    wait_until_settled(page)
    assert now(crate) == 3.5
    undo.click()
    wait_until_settled(page)
    assert now(crate) == 5.35
    card(page, "Electric drive").click()
    inside = grip(page, BATTERY, ".handles-3d")
    expect(inside).to_have_class(re.compile("behind"))  # the hull hides it
    page.get_by_role("button", name="x-ray").click()
    expect(inside).not_to_have_class(re.compile("behind"))
    held(page, inside, (-30, 10))
    page.mouse.up()
    wait_until_settled(page)
    assert 3.5 <= now(inside) < 5.35
    assert now(crate) == now(inside)


def test_a_weight_without_a_range_says_how_it_gets_one(page):
    motor = page.locator(".beam-weight.on", has_text="motor").first
    motor.evaluate("one => one.scrollIntoView({ block: 'center' })")
    box = motor.locator("rect").bounding_box()
    page.mouse.move(box["x"] + 3, box["y"] + 3)
    page.mouse.down()
    page.mouse.move(box["x"] + 40, box["y"] + 3, steps=5)
    page.mouse.up()
    page.get_by_role("button", name="Give motor a range").click()
    expect(page.locator('[data-section="changes"]')).to_be_visible()
    range_of = page.locator('[data-path="changes.electric-drive.adds.motor.may_lie_m"]')
    expect(range_of).to_be_in_viewport()
