/** A short video of what a canvas shows while something plays on it. */

/** Kinds of video a browser may write, the best one first. */
const KINDS = ['video/webm;codecs=vp9', 'video/webm;codecs=vp8', 'video/webm', 'video/mp4'];
const FRAMES_PER_SECOND = 30;
const STILL_MS = 400;
const BITS_PER_SECOND = 6_000_000;

/** Why no video can be made here; empty where one can. */
function whyNoClip(canvas: HTMLCanvasElement): string {
  const canRecord = typeof MediaRecorder !== 'undefined' && 'captureStream' in canvas;
  return canRecord && clipKind() !== undefined
    ? ''
    : 'This browser cannot record a video. Save a still picture instead, or use a current Chrome, Edge or Firefox.';
}

/** The first kind that the recorder here can write. */
export const clipKind = (
  can: (kind: string) => boolean = (kind) => MediaRecorder.isTypeSupported(kind),
): string | undefined => KINDS.find(can);

/** The end of the file's name for a kind of video. */
export const endingOf = (kind: string): string => (kind.startsWith('video/mp4') ? 'mp4' : 'webm');

/**
 * Records a canvas while `play` runs, and a little before and after it.
 *
 * Rejects with a sentence where the browser cannot record, or nothing was drawn.
 */
export async function recordedClip(
  canvas: HTMLCanvasElement,
  play: () => Promise<void>,
): Promise<Blob> {
  const why = whyNoClip(canvas);
  const kind = why ? undefined : clipKind();
  if (kind === undefined) throw new Error(why);
  const stream = canvas.captureStream(FRAMES_PER_SECOND);
  const recorder = new MediaRecorder(stream, {
    mimeType: kind,
    videoBitsPerSecond: BITS_PER_SECOND,
  });
  const pieces: Blob[] = [];
  recorder.ondataavailable = (e) => pieces.push(e.data);
  const ended = new Promise<void>((resolve, reject) => {
    recorder.onstop = () => resolve();
    recorder.onerror = () => reject(new Error('The browser stopped recording the video.'));
  });
  recorder.start();
  try {
    await pause(STILL_MS);
    await play();
    await pause(STILL_MS);
  } finally {
    recorder.stop();
    for (const track of stream.getTracks()) track.stop();
  }
  await ended;
  const clip = new Blob(pieces, { type: kind });
  if (clip.size === 0) throw new Error('Nothing was drawn while the video was recorded.');
  return clip;
}

const pause = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));
