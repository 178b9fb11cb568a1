"""What an owner sees: from the input event of what is dragged to numbers and meshes in place.

Dragged are a slider of the form, the roof by its handle in the side view and in three
dimensions, and a weight on the beam.

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
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import sync_playwright

FIELD = '[data-path="changes.deckhouse.parts.house.side_height_m"] input[type=range]'
EXAMPLE = Path(__file__).parents[2] / "examples/saltmarrow.yaml"
RECORD = "api/refits/saltmarrow/revisions/working/record"
STEPS, STEP_MS, QUIET_MS = 50, 120, 2_500
HANDLE = '.handle-grip[data-grip="changes.{}"]'
ROOF = HANDLE.format("deckhouse.parts.house.side_height_m")
BATTERY = HANDLE.format("electric-drive.adds.battery.at_m")
PICKED = "float?picked=deckhouse/house"
DRAGS = (
    (PICKED, "Float page, a slider of the form", FIELD, None),
    ("float", "Float page, the roof in the side view", f".sheet {ROOF}", (0, -40)),
    ("float", "Float page, the roof in three dimensions", f".handles-3d {ROOF}", (0, -40)),
    ("float", "Float page, a weight on the beam", f".beam {BATTERY}", (90, 0)),
    (
        PICKED.replace("float", "stability"),
        "Stability page, a slider",
        FIELD,
        None,
    ),
)
NOTED = """() => {
    performance.setResourceTimingBufferSize(5000);
    window.inputs = [];
    addEventListener('input', (e) => inputs.push(e.timeStamp), true);
    addEventListener('pointermove', (e) => e.buttons && inputs.push(e.timeStamp), true);
}"""
STILL = "() => { if (window.hullchange.view) window.hullchange.view.still = true; }"
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
            for place, words, what, by in DRAGS:
                page = browser.new_page(viewport={"width": 1440, "height": 900})
                page.goto(f"{address}#/{place}")
                page.locator(what).first.scroll_into_view_if_needed()
                recorded(address)
                page.evaluate(
                    "() => { if (window.hullchange.view) window.hullchange.view.still = true; }"
                )
                page.evaluate(NOTED)
                drag(page, what, by, 10)
                page.evaluate(FORGET)
                drag(page, what, by, STEPS)
                report(words, page.evaluate(WAITS))
                page.close()
            opened(browser, address)
            browser.close()


@contextmanager
def served(folder):
    """A server of a copy of the demo boat."""
    file = folder / EXAMPLE.name
    file.write_bytes(EXAMPLE.read_bytes())
    command = [sys.executable, "-m", "hullchange_api", "serve", str(file)]
    command += ["--port", "0", "--no-browser", "--data", str(folder / "data")]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
        try:
            yield server
        finally:
            server.terminate()


def recorded(address):
    """Wait until the CAD record is done, so that it does not run beside the drag."""
    while True:
        with urllib.request.urlopen(f"{address}{RECORD}") as answer:
            if json.load(answer)["record"]["state"] != "pending":
                return
        time.sleep(0.2)


def drag(page, what, by, steps):
    """A slider along half its way, or a handle there and back, and the quiet after it."""
    box = page.locator(what).first.bounding_box()
    y = box["y"] + box["height"] / 2
    x = box["x"] + (0.5 if by else 0.3) * box["width"]
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, steps + 1):
        share = step / steps
        if by:
            there = 1 - abs(2 * share - 1)
            page.mouse.move(x + there * by[0], y + there * by[1])
        else:
            page.mouse.move(x + share * 0.5 * box["width"], y)
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
