"""What a moving frame of the 3D view costs in two versions of the viewer, in one paired run.

Two servers of the same boat, each with the viewer of its version, are looked at in one
browser on canvases of one size. She is turned a little and drawn, here and there in turn, and
the time ends when the pixels have been read: all of it is the renderer's, here mostly the
machine's own. Give the addresses, the older one first:

    python tests/bench/bench_frames.py http://127.0.0.1:8001 http://127.0.0.1:8002
"""

import os
import statistics
import sys

from playwright.sync_api import sync_playwright

FRAMES, WARMING = 30, 6
SIZES = ((915, 424), (1440, 900))
SIZED = """([width, height]) => {
    const canvas = document.querySelector('.three canvas');
    canvas.style.cssText = `position: fixed; inset: 0 auto auto 0; z-index: 9; flex: none;
        width: ${width}px; height: ${height}px`;
}"""
DRAWN = """(step) => {
    const view = window.hullchange.view;
    const gl = document.querySelector('.three canvas').getContext('webgl2');
    const pixel = new Uint8Array(4);
    (view.camera?.turn ? view.camera : view).turn(step % 2 ? 7 : -7, 0);
    gl.finish();
    const began = performance.now();
    (view.drawing ?? view).draw();
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
    return performance.now() - began;
}"""
RENDERER = """() => {
    const gl = document.querySelector('.three canvas').getContext('webgl2');
    const known = gl.getExtension('WEBGL_debug_renderer_info');
    return known ? gl.getParameter(known.UNMASKED_RENDERER_WEBGL) : '?';
}"""
THERE = "() => (window.hullchange?.describe?.()?.pieces.length ?? 0) > 8"


def main(older, newer):
    """Medians of both on each canvas, and their ratio."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path="/usr/bin/chromium", args=["--no-sandbox", "--disable-quic"]
        )
        pages = [opened(browser, address) for address in (older, newer)]
        print(pages[0].evaluate(RENDERER), f"load {os.getloadavg()[0]:.1f}")
        for size in SIZES:
            took = paired(pages, size)
            middles = [statistics.median(one) for one in took]
            words = ", ".join(
                f"{name} {middle:.0f} ms (least {min(one):.0f})"
                for name, middle, one in zip(("older", "newer"), middles, took, strict=True)
            )
            pairs = statistics.median(new / old for old, new in zip(*took, strict=True))
            print(
                f"{size[0]}x{size[1]}, median of {FRAMES}: {words}; "
                f"{middles[1] / middles[0]:.2f} times, pair by pair {pairs:.2f}"
            )
        browser.close()


def opened(browser, address):
    """The Float page, all of the boat drawn."""
    page = browser.new_page(viewport={"width": 1440, "height": 900}, reduced_motion="reduce")
    page.goto(f"{address}#/float")
    page.wait_for_function(THERE)
    return page


def paired(pages, size):
    """Milliseconds of each frame on either page, taken in turn."""
    for page in pages:
        page.evaluate(SIZED, list(size))
        page.wait_for_timeout(1500)
    took = [[], []]
    for step in range(WARMING + FRAMES):
        for page, times in zip(pages, took, strict=True):
            times.append(page.evaluate(DRAWN, step))
    return [times[WARMING:] for times in took]


if __name__ == "__main__":
    main(*sys.argv[1:])
