"""What an owner sees: from the input event of a dragged slider to numbers and meshes in place.

A real Chromium on a real server. Drawing is left out (it is a matter of the graphics processor,
and here there may be none): the scene is told to be still, everything else runs. Prints the
median and the 95th percentile of wall time on this machine; it judges nothing.
"""

import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

FIELD = '[data-path="changes.deckhouse.parts.house.side_height_m"] input[type=range]'
EXAMPLE = Path(__file__).parents[2] / "examples/saltmarrow.yaml"
DRAGS, STEPS, STEP_MS = 3, 40, 120


def main():
    """The waiting times of three drags."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as server:
        address = next(line.strip() for line in server.stdout if line.startswith("http"))
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(
                executable_path="/usr/bin/chromium", args=["--no-sandbox", "--disable-quic"]
            )
            page = browser.new_page(viewport={"width": 1440, "height": 900})
            page.goto(f"{address}#/float")
            page.locator(FIELD).scroll_into_view_if_needed()
            page.wait_for_timeout(15_000)  # until the first CAD record is done
            page.evaluate("() => { window.hullchange.view.still = true; }")
            drag(page)
            page.evaluate("() => { window.hullchange.marks.length = 0; }")
            for _ in range(DRAGS):
                drag(page)
            waits = sorted(mark["ms"] for mark in page.evaluate("window.hullchange.marks"))
            browser.close()
        server.terminate()
    late = waits[int(0.95 * len(waits))]
    print(f"{'drag: input event to numbers and meshes, drawing left out':60}", end=" ")
    print(f"{statistics.median(waits):8.0f} ms   95 % {late:8.0f} ms   of {len(waits)}")


def served(folder):
    """A server of a copy of the demo boat."""
    file = folder / EXAMPLE.name
    file.write_bytes(EXAMPLE.read_bytes())
    command = [sys.executable, "-m", "hullchange_api.cli", "serve", str(file)]
    command += ["--port", "0", "--data", str(folder / "data")]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def drag(page):
    """The slider back and forth, once."""
    box = page.locator(FIELD).bounding_box()
    x, y = box["x"] + 0.44 * box["width"], box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(STEPS):
        page.mouse.move(x + 6 * (step % 16 - 8), y)
        page.wait_for_timeout(STEP_MS)
    page.mouse.up()
    page.wait_for_timeout(4_000)


if __name__ == "__main__":
    main()
