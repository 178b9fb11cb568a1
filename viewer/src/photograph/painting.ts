/** What is painted over a photograph: new parts from far to near, hidden by the boat, and waterlines. */
import type { PhotographResult } from '../contract.ts';

/** Colours of the paint: steel and glass, lit and in shade, and the two waterlines. */
const STEEL = [206, 200, 190] as const;
const GLASS = [57, 71, 79] as const;
const NOW = '#ffffff';
const BEFORE = '#ffd24a';
const EDGE = 'rgba(20, 28, 36, 0.9)';

interface Size {
  readonly width: number;
  readonly height: number;
  /** Height of the letters at the rings [px of the picture]. */
  readonly letter: number;
}

/** What a ring at a weight is called: A, B and so on. */
export const letterOf = (i: number): string => String.fromCharCode(65 + (i % 26));

/** A canvas as large as the photograph with the parts on it, the photograph showing elsewhere. */
export function overlayOf(seen: PhotographResult, { width, height, letter }: Size) {
  const canvas = document.createElement('canvas');
  Object.assign(canvas, { width, height });
  const pen = canvas.getContext('2d');
  if (!pen) return canvas;
  pen.lineWidth = 1;
  pen.lineJoin = 'round';
  for (const { role, light, points_px: points } of seen.faces) {
    pen.globalCompositeOperation = role === 'hides' ? 'destination-out' : 'source-over';
    const paint = `rgb(${(role === 'glass' ? GLASS : STEEL).map((c) => Math.round(c * light)).join(' ')})`;
    pen.fillStyle = paint;
    pen.strokeStyle = paint; // closes the seams between triangles
    trace(pen, points);
    pen.closePath();
    pen.fill();
    pen.stroke();
  }
  pen.globalCompositeOperation = 'source-over';
  for (const line of seen.waterlines) waterline(pen, line, Math.max(2, width / 700));
  for (const [i, one] of seen.weights.entries()) ring(pen, one.at_px, letterOf(i), letter);
  return canvas;
}

/** A dashed ring at a weight, with its letter, light over a dark edge. */
function ring(pen: Brush, [x, y]: readonly [number, number], words: string, letter: number): void {
  pen.font = `600 ${letter}px sans-serif`;
  pen.textBaseline = 'middle';
  for (const [ink, thick] of [
    [EDGE, letter / 3],
    [NOW, letter / 8],
  ] as const) {
    pen.strokeStyle = ink;
    pen.lineWidth = thick;
    pen.setLineDash(ink === NOW ? [letter / 3, letter / 6] : []);
    pen.beginPath();
    pen.arc(x, y, letter * 0.8, 0, 2 * Math.PI);
    pen.stroke();
  }
  pen.setLineDash([]);
  pen.lineWidth = letter / 4;
  pen.strokeStyle = EDGE;
  pen.strokeText(words, x + letter * 1.1, y);
  pen.fillStyle = NOW;
  pen.fillText(words, x + letter * 1.1, y);
}

type Brush = CanvasRenderingContext2D;
type Points = readonly (readonly [number, number])[];

function trace(pen: Brush, points: Points): void {
  pen.beginPath();
  for (const [i, [x, y]] of points.entries()) {
    if (i === 0) pen.moveTo(x, y);
    else pen.lineTo(x, y);
  }
}

/** The new waterline whole, the old one dashed, both over a dark edge. */
function waterline(pen: Brush, line: PhotographResult['waterlines'][number], wide: number): void {
  pen.setLineDash([]);
  const inks = [
    [EDGE, wide * 2],
    [line.id === 'refit' ? NOW : BEFORE, wide],
  ] as const;
  for (const [ink, thick] of inks) {
    pen.strokeStyle = ink;
    pen.lineWidth = thick;
    // pieces are short, so dashes are whole pieces, by where they lie across the picture
    for (const piece of line.pieces_px) {
      const [[x]] = piece;
      const gap = line.id === 'as_found' && Math.floor(x / (wide * 8)) % 2 === 0;
      if (gap) continue;
      trace(pen, piece);
      pen.stroke();
    }
  }
}

/** Paints the photograph left of a share of its width, with the refit right of it. */
export function compose(
  on: HTMLCanvasElement,
  photograph: CanvasImageSource,
  overlay: HTMLCanvasElement,
  share: number,
): void {
  const { width, height } = overlay;
  const pen = on.getContext('2d');
  if (!pen) return;
  pen.drawImage(photograph, 0, 0, width, height);
  const from = Math.round(width * share);
  if (from < width)
    pen.drawImage(overlay, from, 0, width - from, height, from, 0, width - from, height);
}
