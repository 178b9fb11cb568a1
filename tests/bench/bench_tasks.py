"""What three people have to press for their tasks: owner, consultant, fabricator.

A real Chromium on a real server of the demo, 1440 x 900. Counted is every press, every entry
typed into one field, every choice in a list twice (opened, chosen) and every scroll that brings
something into sight. Seconds are from the first press until the answer stands there: those of a
script, which neither reads nor thinks. It judges nothing.
"""

import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import sync_playwright

EXAMPLES = Path(__file__).parents[2] / "examples"
SIZE = {"width": 1440, "height": 900}
ROUNDS = 3
BEFORE = {"targets": 2, "raise": 4, "vent": 1, "send": 5, "weight": 8, "plate": 2}
"""Presses on the version before, 4833681, counted in the same way."""
IN_SIGHT = """e => {
    const { x, y, width, height } = e.getBoundingClientRect();
    const [cx, cy] = [x + width / 2, y + Math.min(height / 2, 12)];
    if (cx < 0 || cy < 0 || cx > innerWidth || cy > innerHeight) return false;
    const top = document.elementFromPoint(cx, cy);
    return !!top && (e.contains(top) || top.contains(e));
}"""
DRAWN = "() => (window.hullchange?.describe?.()?.pieces.length ?? 0) > 8"
SPOT = """() => {
    const { left, top } = document.querySelector('.three canvas').getBoundingClientRect();
    const { view } = window.hullchange;
    const [x, y] = view.spot(view.middle('house', 'house.front'));
    return [left + x, top + y];
}"""


class Hand:
    """A hand on the page that counts what it does."""

    def __init__(self, page):
        self.page = page
        self.presses = 0

    def see(self, what):
        what.wait_for(state="attached", timeout=90_000)
        if not what.evaluate(IN_SIGHT):
            self.presses += 1
            what.scroll_into_view_if_needed()

    def press(self, what):
        self.see(what)
        self.presses += 1
        what.click()

    def key(self, key):
        self.presses += 1
        self.page.keyboard.press(key)

    def type(self, what, text):
        self.see(what)
        self.presses += 1
        what.fill(text)

    def to(self, name):
        self.press(
            self.page.get_by_role("navigation", name="Pages").get_by_role("link", name=name)
        )


def targets(hand):
    """See whether the targets are met."""
    hand.see(hand.page.locator(".answer-figure .verdict").first)


def raised(hand):
    """Raise the house by 100 mm and read GM."""
    page = hand.page
    gm = page.locator(".answer-figure", has_text="GM").first
    before = gm.inner_text()
    hand.press(page.get_by_role("slider", name="side height").first)
    hand.key("Shift+ArrowUp")
    page.wait_for_function(
        "([old]) => !document.querySelector('.answer').innerText.includes(old)", arg=[before]
    )
    hand.see(gm)


def vent(hand):
    """Find the open vent that lets water in first."""
    hand.to("Stability")
    hand.see(hand.page.locator(".stability-answer", has_text="motor room vent"))


def sent(hand):
    """Send a revision: freeze it, and have its link copied."""
    hand.to("Review")
    hand.press(hand.page.get_by_role("button", name="Freeze and make a link"))
    hand.page.locator(".made").wait_for(timeout=90_000)
    hand.page.wait_for_timeout(500)
    by_hand = hand.page.get_by_role("button", name="Copy the link")
    if by_hand.count() > 0:  # browsers copy by themselves only right after a press
        hand.press(by_hand)


def weight(hand):
    """Enter a weight."""
    hand.to("Ledger")
    box = hand.page.get_by_role("textbox", name="Enter or paste weights")
    hand.type(box, "winch; 14; 8.2; 0.6; 1.9")
    hand.press(hand.page.get_by_role("button", name="Add", exact=True))
    hand.page.locator("tr", has_text="winch").first.wait_for()


def plate(hand):
    """Find the mass of a plate."""
    hand.presses += 1
    hand.page.mouse.click(*hand.page.evaluate(SPOT))
    hand.see(hand.page.locator(".spot b"))


TASKS = {"targets": targets, "raise": raised, "vent": vent, "send": sent, "weight": weight}
TASKS |= {"plate": plate}


def main():
    """A table of the tasks."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path="/usr/bin/chromium", args=["--no-sandbox", "--disable-quic"]
        )
        for name, task in TASKS.items():
            seconds, presses = [], []
            for _ in range(ROUNDS):
                with tempfile.TemporaryDirectory() as folder:
                    presses.append(done(browser, Path(folder), task, seconds))
            least, middle = min(presses), statistics.median(seconds)
            words = f"{task.__doc__:58} presses {BEFORE[name]} before, {least} now"
            sys.stdout.write(f"{words}; {middle:5.1f} s\n")
        browser.close()


def done(browser, folder, task, seconds):
    """The presses of a task on a server of its own; its seconds are noted."""
    for name in ("saltmarrow.yaml", "saltmarrow-lines.csv"):
        shutil.copy(EXAMPLES / name, folder)
    command = [sys.executable, "-m", "hullchange_api", "serve", str(folder / "saltmarrow.yaml")]
    command += ["--port", "0", "--no-browser", "--data", str(folder / "data")]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
        address = next(line.strip() for line in server.stdout if line.startswith("http"))
        context = browser.new_context(viewport=SIZE, reduced_motion="reduce")
        context.grant_permissions(["clipboard-read", "clipboard-write"])
        page = context.new_page()
        page.goto(address)
        page.wait_for_function(DRAWN, timeout=90_000)
        page.wait_for_timeout(4_000)
        hand, begun = Hand(page), time.perf_counter()
        try:
            task(hand)
        finally:
            seconds.append(time.perf_counter() - begun)
            context.close()
            server.terminate()
    return hand.presses


if __name__ == "__main__":
    main()
