/** The view as a picture at print size, averaged as at rest, with a line of words below. */
import {
  type OrthographicCamera,
  PCFShadowMap,
  type Plane,
  type Scene,
  WebGLRenderer,
} from 'three';
import { Average, type Samples } from '../look/average.ts';
import type { Lamps } from '../look/lamps.ts';

interface Studio {
  readonly scene: Scene;
  readonly lamps: Lamps;
  readonly camera: OrthographicCamera;
  readonly cuts: readonly Plane[];
  readonly samples: Samples;
  readonly antialias: boolean;
  /** Called before each sample, since the view may be drawn in between. */
  readonly prepare: () => void;
  readonly restore: () => void;
  readonly signal: AbortSignal | undefined;
}

interface PngSheet {
  readonly width: number;
  readonly height: number;
  readonly paper: string | undefined;
  readonly caption: string;
  readonly ink: string;
}

/** Size of the caption's type, of the sheet's width. */
const CAPTION_SHARE = 1 / 62;

/** A canvas with the picture alone; the page may go on meanwhile. */
async function drawn(studio: Studio, width: number, height: number): Promise<HTMLCanvasElement> {
  const canvas = document.createElement('canvas');
  const renderer = new WebGLRenderer({
    canvas,
    antialias: studio.antialias,
    alpha: true,
    preserveDrawingBuffer: true,
  });
  renderer.setPixelRatio(1);
  renderer.setSize(width, height, false);
  Object.assign(renderer.shadowMap, { enabled: true, type: PCFShadowMap, autoUpdate: false });
  renderer.clippingPlanes = [...studio.cuts];
  const average = new Average(renderer, studio.scene, studio.lamps);
  try {
    for (let i = 0; i < studio.samples.wanted; i += 1) {
      studio.prepare();
      if (i === 0) average.begin(studio.camera);
      average.step(studio.camera, studio.samples);
      studio.restore();
      await new Promise((done) => setTimeout(done, 0));
      studio.signal?.throwIfAborted();
    }
    const copy = document.createElement('canvas');
    [copy.width, copy.height] = [width, height];
    copy.getContext('2d')?.drawImage(canvas, 0, 0);
    return copy;
  } finally {
    average.dispose();
    renderer.dispose();
    renderer.forceContextLoss();
  }
}

/** The picture as a PNG. */
export async function pngOf(
  studio: Studio,
  { width, height, paper, caption, ink }: PngSheet,
): Promise<Blob> {
  const picture = await drawn(studio, width, height);
  const size = width * CAPTION_SHARE;
  const sheet = document.createElement('canvas');
  [sheet.width, sheet.height] = [width, Math.round(height + (caption ? size * 2 : 0))];
  const pen = sheet.getContext('2d');
  if (!pen) throw new Error('This browser draws no flat pictures.');
  if (paper) {
    pen.fillStyle = paper;
    pen.fillRect(0, 0, sheet.width, sheet.height);
  }
  pen.drawImage(picture, 0, 0);
  if (caption) {
    pen.fillStyle = ink;
    pen.font = `${size}px sans-serif`;
    pen.fillText(caption, size, sheet.height - size * 0.7);
  }
  return new Promise((done, fail) =>
    sheet.toBlob(
      (blob) => (blob ? done(blob) : fail(new Error('No picture was made.'))),
      'image/png',
    ),
  );
}
