"""What an owner sees: from the input event of a dragged slider to numbers and meshes in place.

A real Chromium on a real server. Drawing in three dimensions is left out, since it is a matter
of the graphics processor and here there may be none: the view is told to be still, everything
else runs, meshes are read and put in place. Time ends when the numbers stand in the page,
before the frame is painted. Prints medians and 95th percentiles of wall time on this machine;
it judges nothing.
"""

import json
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

from playwright.sync_api import sync_playwright

FIELD = '[data-path="changes.deckhouse.parts.house.side_height_m"] input[type=range]'
EXAMPLE = Path(__file__).parents[2] / "examples/saltmarrow.yaml"
RECORD = "api/refits/saltmarrow/revisions/working/record"
STEPS, STEP_MS, QUIET_MS = 50, 120, 2_500
PAGES = (
    ("float", "Float page, the chosen condition upright"),
    ("stability", "Stability page, her righting levers too"),
)
NOTED = """() => {
    performance.setResourceTimingBufferSize(5000);
    window.inputs = [];
    addEventListener('input', (e) => inputs.push(e.timeStamp), true);
}"""
FORGET = (
    "() => { hullchange.marks.length = 0; performance.clearMeasures(); inputs.length = 0; }"
)
WAITS = """() => {
    const edits = performance.getEntriesByType('resource').filter(
        (r) => r.initiatorType === 'fetch' && /working(\\?(?!.*full)|$)/.test(r.name));
    const begun = new Map(performance.getEntriesByType('measure').map(
        (m) => [m.name.split(' ').at(-1), m.startTime]));
    return hullchange.marks.map(({ edit, numbers, meshes }) => {
        const sent = begun.get(String(edit));
        const input = inputs.findLast((t) => t <= sent);
        const answer = edits.findLast(
            (r) => r.startTime >= sent - 1 && r.responseEnd <= sent + numbers);
        const queue = answer.startTime - sent;
        const server = answer.responseEnd - answer.startTime;
        const all = sent - input + numbers;
        const own = all - queue - server;
        return { all, queue, server, own, meshes: sent - input + meshes };
    });
}"""
OPENED = """() => new Promise((done) => {
    const painted = () => requestAnimationFrame(() => done(performance.now()));
    const look = () => (window.hullchange?.describe?.()?.pieces.length ?? 0) > 8
        ? requestAnimationFrame(painted) : setTimeout(look, 10);
    look();
})"""
OPENINGS = 7
ROWS = (
    ("all", "input event to numbers in the page"),
    ("queue", "  of that behind the answer before it"),
    ("server", "  of that from sending to the last byte of the answer"),
    ("own", "  of that the page's own"),
    ("meshes", "input event to meshes in place, drawing left out"),
)


def main():
    """The waiting times of a drag on either page, and of opening the first."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as server:
        address = next(line.strip() for line in server.stdout if line.startswith("http"))
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(
                executable_path="/usr/bin/chromium", args=["--no-sandbox", "--disable-quic"]
            )
            for place, words in PAGES:
                page = browser.new_page(viewport={"width": 1440, "height": 900})
                page.goto(f"{address}#/{place}")
                page.locator(FIELD).scroll_into_view_if_needed()
                recorded(address)
                page.evaluate("() => { window.hullchange.view.still = true; }")
                page.evaluate(NOTED)
                drag(page, 10)
                page.evaluate(FORGET)
                drag(page, STEPS)
                report(words, page.evaluate(WAITS))
                page.close()
            opened(browser, address)
            browser.close()
        server.terminate()


def served(folder):
    """A server of a copy of the demo boat."""
    file = folder / EXAMPLE.name
    file.write_bytes(EXAMPLE.read_bytes())
    command = [sys.executable, "-m", "hullchange_api", "serve", str(file)]
    command += ["--port", "0", "--data", str(folder / "data")]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def recorded(address):
    """Wait until the CAD record is done, so that it does not run beside the drag."""
    while True:
        with urllib.request.urlopen(f"{address}{RECORD}") as answer:
            if json.load(answer)["record"]["state"] != "pending":
                return
        time.sleep(0.2)


def drag(page, steps):
    """The slider along, each value a new one, and the quiet after it."""
    box = page.locator(FIELD).bounding_box()
    x, y = box["x"] + 0.3 * box["width"], box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(steps):
        page.mouse.move(x + (step + 1) * 0.5 * box["width"] / steps, y)
        page.wait_for_timeout(STEP_MS)
    page.mouse.up()
    page.wait_for_timeout(QUIET_MS)


def opened(browser, address):
    """How long a page takes that was never opened before, from a server that is warm."""
    waits = []
    for _ in range(OPENINGS):
        context = browser.new_context(viewport={"width": 1440, "height": 900})
        page = context.new_page()
        page.goto(f"{address}#/float")
        waits.append(page.evaluate(OPENED))
        context.close()
    middle, worst = statistics.median(waits), max(waits)
    print(f"from the address to the first 3D frame {middle:8.0f} ms   worst {worst:8.0f} ms")


def report(words, waits):
    """A table of one page."""
    print(f"{words}: {len(waits)} answers to {STEPS} steps of {STEP_MS} ms")
    for key, what in ROWS:
        each = sorted(wait[key] for wait in waits)
        late = each[int(0.95 * len(each))]
        print(f"  {what:58} {statistics.median(each):6.0f} ms   95 % {late:6.0f} ms")


if __name__ == "__main__":
    main()
