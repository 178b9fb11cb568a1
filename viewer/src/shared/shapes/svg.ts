/** A view as a drawing in lines and faces (SVG): what is hidden is left out. */
import { chainsOf } from './chains.ts';
import { backToFront, type Deep, DepthBuffer } from './depth-buffer.ts';

/** A flat convex face on the sheet. */
interface SheetFace {
  readonly corners: readonly Deep[];
  readonly fill: string;
  readonly opacity: number;
  readonly isUnder: boolean;
}

/** A straight line on the sheet, [from, to]. */
type SheetLine = readonly [Deep, Deep];

/** Lines of one ink. */
export interface SheetStroke {
  readonly under: readonly SheetLine[];
  readonly over: readonly SheetLine[];
  readonly ink: string;
  /** [px] on the sheet. */
  readonly width: number;
  readonly opacity: number;
  /** Dash and gap [px]. */
  readonly dash: readonly [number, number] | undefined;
  /** Seen through everything. */
  readonly isThrough: boolean;
  /** So much it lies behind where it is drawn. */
  readonly behind: number;
}

/** A sea that fades from its middle to its rim, open where the hull is. */
export interface SheetSea {
  readonly colour: string;
  readonly middle: readonly number[];
  readonly axes: readonly [readonly number[], readonly number[]];
  readonly outlines: readonly (readonly (readonly number[])[])[];
}

interface VectorSheet {
  readonly width: number;
  readonly height: number;
  readonly paper?: string | undefined;
  readonly caption?: string;
  readonly ink: string;
  /** Whether all lines are seen, as through glass. */
  readonly isThrough: boolean;
  /** Whether the eye is under the water's level. */
  readonly isFromBelow: boolean;
  readonly faces: readonly SheetFace[];
  readonly strokes: readonly SheetStroke[];
  readonly sea: SheetSea | undefined;
}

/** Between places where it is asked whether a line is seen [px]. */
const STEP_PX = 1.4;
/** Ends of runs nearer than this are one [px]. */
const TOGETHER_PX = 0.3;
/** Size of the caption's type, of the sheet's width. */
const CAPTION = 1 / 62;

export function svgOf(sheet: VectorSheet): string {
  const { width, height, paper, caption = '', ink } = sheet;
  const buffer = new DepthBuffer(Math.ceil(width), Math.ceil(height));
  for (const [i, { corners }] of sheet.faces.entries()) buffer.draw(corners, i);
  const size = width * CAPTION;
  const whole = height + (caption ? 2 * size : 0);
  const order = orderOf(sheet, buffer);
  const layer = (isUnder: boolean) => [
    filled(order.filter((face) => face.isUnder === isUnder)),
    ...sheet.strokes.map((stroke) => ruled(stroke, isUnder, sheet.isThrough ? undefined : buffer)),
  ];
  const layers = [layer(true), [sheet.sea ? seaOf(sheet.sea) : ''], layer(false)];
  const words = `x="${n(size)}" y="${n(whole - 0.7 * size)}" font-family="sans-serif" font-size="${n(size)}" fill="${ink}"`;
  const box = `viewBox="0 0 ${n(width)} ${n(whole)}" width="${n(width)}" height="${n(whole)}"`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" ${box}>`,
    caption && `<title>${escaped(caption)}</title>`,
    paper && `<rect width="100%" height="100%" fill="${paper}"/>`,
    '<g stroke-linejoin="round" stroke-linecap="round">',
    ...(sheet.isFromBelow ? layers.toReversed() : layers).flat(),
    '</g>',
    caption && `<text ${words}>${escaped(caption)}</text>`,
    '</svg>',
  ]
    .filter((line) => line)
    .join('\n');
}

const NONE: ReadonlyMap<number, number> = new Map();

/** Faces that are seen, from the back to the front. */
function orderOf({ faces, isThrough }: VectorSheet, buffer: DepthBuffer): readonly SheetFace[] {
  const seen = isThrough ? new Set(faces.keys()) : buffer.seen();
  const wanted = new Map(
    [...seen].map((i) => {
      const corners = faces[i]?.corners ?? [];
      const depth = corners.reduce((sum, [, , z]) => sum + z, 0) / Math.max(1, corners.length);
      return [i, { over: isThrough ? NONE : buffer.over(corners, i), depth }] as const;
    }),
  );
  return backToFront(wanted).flatMap((i) => faces[i] ?? []);
}

/** Neighbours of one colour are one path; a hair of it hides the seams between them. */
function filled(faces: readonly SheetFace[]): string {
  const paths: (Omit<SheetFace, 'corners'> & { readonly d: string })[] = [];
  for (const { corners, ...face } of faces) {
    const last = paths.at(-1);
    const d = pathOf(corners, true);
    if (last?.fill === face.fill && last.opacity === face.opacity)
      paths[paths.length - 1] = { ...last, d: last.d + d };
    else paths.push({ ...face, d });
  }
  return paths
    .map(({ fill, opacity, d }) =>
      opacity < 1
        ? `<path d="${d}" fill="${fill}" fill-opacity="${opacity}"/>`
        : `<path d="${d}" fill="${fill}" stroke="${fill}" stroke-width=".6"/>`,
    )
    .join('\n');
}

/** What is seen of lines of one ink, joined so that dashes run on. */
function ruled(stroke: SheetStroke, isUnder: boolean, buffer: DepthBuffer | undefined): string {
  const isSeen = ([x, y, z]: Deep) =>
    !buffer ||
    stroke.isThrough ||
    buffer.isSeen([x, y, z + stroke.behind], stroke.behind > 0 ? 0 : 1);
  const lines = isUnder ? stroke.under : stroke.over;
  const segments = lines.flatMap((line) => seenRuns(line, isSeen));
  if (segments.length === 0) return '';
  const d = chainsOf(segments, TOGETHER_PX)
    .map(({ points, isClosed }) => pathOf(points, isClosed))
    .join('');
  const { dash, ink, width, opacity } = stroke;
  const dashed = dash && ` stroke-dasharray="${dash.map(n).join(' ')}" stroke-linecap="butt"`;
  const faint = opacity < 1 ? ` stroke-opacity="${opacity}"` : '';
  return `<path d="${d}" fill="none" stroke="${ink}" stroke-width="${n(width)}"${dashed ?? ''}${faint}/>`;
}

/** What is seen of a straight line, as segments, four numbers each. */
export function seenRuns([a, b]: SheetLine, isSeen: (at: Deep) => boolean): readonly number[] {
  const steps = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / STEP_PX));
  const at = (share: number): Deep => [
    a[0] + (b[0] - a[0]) * share,
    a[1] + (b[1] - a[1]) * share,
    a[2] + (b[2] - a[2]) * share,
  ];
  const runs: number[] = [];
  let from: Deep | undefined;
  for (let i = 0; i <= steps; i += 1) {
    const isHere = i < steps && isSeen(at((i + 0.5) / steps));
    if (isHere) from ??= at(i / steps);
    if (isHere || !from) continue;
    const to = at(i / steps);
    runs.push(from[0], from[1], to[0], to[1]);
    from = undefined;
  }
  return runs;
}

const FADES = 8;
const FADES_FROM = 0.3;
const DENSEST = 0.5;

function seaOf({ colour, middle: [x = 0, y = 0], axes: [a, b], outlines }: SheetSea): string {
  const [ax = 0, ay = 0, bx = 0, by = 0] = [...a, ...b];
  if (Math.abs(ax * by - ay * bx) < 1) return ''; // seen edge on
  const stops = Array.from({ length: FADES + 1 }, (_, i) => {
    const share = Math.max(0, (i / FADES - FADES_FROM) / (1 - FADES_FROM));
    const opacity = DENSEST * (1 - share * share * (3 - 2 * share));
    return `<stop offset="${i / FADES}" stop-color="${colour}" stop-opacity="${opacity.toFixed(3)}"/>`;
  });
  const place = `gradientTransform="matrix(${[ax, ay, bx, by, x, y].map(n).join(' ')})"`;
  const d = outlines.map((loop) => pathOf(loop, true)).join('');
  return `<radialGradient id="sea" gradientUnits="userSpaceOnUse" cx="0" cy="0" r="1" ${place}>${stops.join('')}</radialGradient>
<path d="${d}" fill="url(#sea)" fill-rule="evenodd"/>`;
}

const n = (value: number): string => String(Math.round(value * 10) / 10);

const pathOf = (points: readonly (readonly number[])[], isClosed: boolean): string =>
  `M${points.map(([x = 0, y = 0]) => `${n(x)} ${n(y)}`).join('L')}${isClosed ? 'Z' : ''}`;

const escaped = (words: string): string =>
  words.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');
