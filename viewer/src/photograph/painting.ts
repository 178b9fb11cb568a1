/** What is painted over a photograph: new parts from far to near, hidden by the boat, and waterlines. */
import type { PhotographResult } from '../contract.ts';

/** Colours of the paint: steel lit and in shade, and the two waterlines. */
const STEEL = [206, 200, 190] as const;
const NOW = '#ffffff';
const BEFORE = '#ffd24a';
const EDGE = 'rgba(20, 28, 36, 0.9)';

/** A canvas as large as the photograph with the parts on it, the photograph showing elsewhere. */
export function overlayOf(seen: PhotographResult, width: number, height: number) {
  const canvas = document.createElement('canvas');
  Object.assign(canvas, { width, height });
  const pen = canvas.getContext('2d');
  if (!pen) return canvas;
  pen.lineWidth = 1;
  pen.lineJoin = 'round';
  for (const { role, light, points_px: points } of seen.faces) {
    pen.globalCompositeOperation = role === 'hides' ? 'destination-out' : 'source-over';
    const paint = `rgb(${STEEL.map((c) => Math.round(c * light)).join(' ')})`;
    pen.fillStyle = paint;
    pen.strokeStyle = paint; // closes the seams between triangles
    trace(pen, points);
    pen.closePath();
    pen.fill();
    pen.stroke();
  }
  pen.globalCompositeOperation = 'source-over';
  for (const line of seen.waterlines) waterline(pen, line, Math.max(2, width / 700));
  return canvas;
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

/** The photograph left of a share of its width, with the refit right of it, on one canvas. */
export function composed(
  photograph: CanvasImageSource,
  overlay: HTMLCanvasElement,
  share: number,
): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  const { width, height } = overlay;
  Object.assign(canvas, { width, height });
  const pen = canvas.getContext('2d');
  if (!pen) return canvas;
  pen.drawImage(photograph, 0, 0, width, height);
  const from = Math.round(width * share);
  if (from < width)
    pen.drawImage(overlay, from, 0, width - from, height, from, 0, width - from, height);
  return canvas;
}
